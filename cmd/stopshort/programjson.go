package main

import (
	"encoding/json"
	"io"
	"strings"

	"stopshort/post/rs274/survey"
	"stopshort/toolpath/measure"
)

// programReport is check --program for a program: lengths in mm as exact
// decimals. A place, a plane or an axis that there is not is null.
type programReport struct {
	Verdict   string          `json:"verdict"`
	Stop      json.RawMessage `json:"stop"`
	Clear     json.RawMessage `json:"clear"`
	Lines     int             `json:"lines"`
	Steps     int             `json:"steps"`
	Cutting   int             `json:"cutting_steps"`
	Ended     bool            `json:"ended"`
	Lowest    *stepPlace      `json:"lowest"`
	Crossing  *stepPlace      `json:"crossing"`
	Down      *stepPlace      `json:"rapid_down"`
	First     *stepPlace      `json:"first_move"`
	Standing  *stepPlace      `json:"spindle_standing"`
	Cuts      boxJSON         `json:"cuts"`
	Rapids    boxJSON         `json:"rapids"`
	NotProved []noteJSON      `json:"not_proved"`
	Assumed   []noteJSON      `json:"assumed"`
	Findings  []noteJSON      `json:"findings"`
	Marks     []mark          `json:"marks"` // where the figures come from
}

// stepPlace is the first step of its kind: its line, its lowest height, where it
// goes to, and how many there are.
type stepPlace struct {
	Line  int                `json:"line"`
	Kind  string             `json:"kind"`
	Z     json.RawMessage    `json:"lowest_z"`
	Exact bool               `json:"exact"`
	To    [3]json.RawMessage `json:"to"`
	Count int                `json:"count"`
}

type boxJSON struct {
	X *[2]json.RawMessage `json:"x"`
	Y *[2]json.RawMessage `json:"y"`
	Z *[2]json.RawMessage `json:"z"`
}

type noteJSON struct {
	Line    int      `json:"line"`
	Classes []string `json:"classes,omitempty"`
	Rule    string   `json:"rule,omitempty"`
	Text    string   `json:"text"`
	Count   int      `json:"count"`
}

func (p *programCall) json(out io.Writer, r *survey.Report) error {
	j := programReport{
		Verdict: r.Verdict().String(), Stop: mm(r.Stop), Clear: null,
		Lines: r.Lines, Steps: r.Steps, Cutting: r.CutSteps, Ended: r.Ended,
		Lowest: placeJSON(r.Lowest), Crossing: placeJSON(r.Crossing), Down: placeJSON(r.Down),
		First: placeJSON(r.First), Standing: placeJSON(r.Standing),
		Cuts: spanJSON(r.Cuts), Rapids: spanJSON(r.Rapids),
		NotProved: notesJSON(r.NotProved, false), Assumed: notesJSON(r.Assumed, false), Findings: notesJSON(r.Findings, true),
		Marks: p.marks(r),
	}
	if r.Clear != nil {
		j.Clear = mm(*r.Clear)
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(j)
}

// mm is a length as an exact decimal.
func mm(l measure.Length) json.RawMessage { return json.RawMessage(l.MM()) }

func placeJSON(p survey.Place) *stepPlace {
	if p.Line == 0 {
		return nil
	}
	s := &stepPlace{Line: p.Line, Kind: p.Step.Kind.String(), Z: mm(p.Z), Exact: p.Exact, Count: p.Count}
	for i, l := range [3]measure.Length{p.Step.To.X, p.Step.To.Y, p.Step.To.Z} {
		if s.To[i] = null; p.Step.To.Known[i] {
			s.To[i] = mm(l)
		}
	}
	if !p.Step.To.Known[2] {
		s.Z = null
	}
	return s
}

func spanJSON(b survey.Box) boxJSON {
	axis := func(i int) *[2]json.RawMessage {
		if !b.Known[i] {
			return nil
		}
		return &[2]json.RawMessage{mm(b.Low[i]), mm(b.High[i])}
	}
	return boxJSON{axis(0), axis(1), axis(2)}
}

func notesJSON(tallies []survey.Tally, finding bool) []noteJSON {
	out := []noteJSON{}
	for _, t := range tallies {
		n := noteJSON{Line: t.First.Line, Text: t.Text(), Count: t.Count}
		if finding {
			n.Rule, n.Classes = t.First.ID(), strings.Split(t.First.Classes().String(), ", ")
		}
		out = append(out, n)
	}
	return out
}
