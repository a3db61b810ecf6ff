package main

import (
	"encoding/json"
	"io"
	"strconv"

	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// report is the check for a program: lengths in mm, speeds in rpm, feeds in
// mm/min, as exact decimals; what is known by bounds only is rounded down at the
// fourth place.
type report struct {
	Figures  []setupFigures `json:"figures"`
	Limits   []row          `json:"limits"`
	Warnings []string       `json:"warnings"`
	Measures []measuring    `json:"measures"`
	Marks    []mark         `json:"marks"` // of the columns whose figures have no mark of their own
}

// mark is where a figure comes from.
type mark struct {
	Name   string `json:"name"`
	Value  string `json:"value,omitempty"`
	From   string `json:"from"`
	Source string `json:"source"`
}

// setupFigures is what a set-up and its cuts were planned from.
type setupFigures struct {
	Setup   string       `json:"setup"`
	Figures []mark       `json:"figures"`
	Cuts    []cutFigures `json:"cuts"`
}

type cutFigures struct {
	Cut     string `json:"cut"`
	Figures []mark `json:"figures"`
}

func marksOf(facts []toolpath.Fact) []mark {
	out := []mark{}
	for _, f := range facts {
		out = append(out, mark{f.Name, f.Value, f.From.String(), f.Source})
	}
	return out
}

// measuring is what is measured before a cut's last pass.
type measuring struct {
	Setup  string          `json:"setup"`
	Cut    string          `json:"cut"`
	Limit  string          `json:"limit"`
	What   string          `json:"what"`
	Reads  json.RawMessage `json:"reads"`
	From   string          `json:"from"`   // of the reading
	Source string          `json:"source"` // of the reading
}

type row struct {
	Setup       string          `json:"setup"`
	Cut         string          `json:"cut"`
	Limit       string          `json:"limit"`
	Unit        string          `json:"unit"`
	Planned     json.RawMessage `json:"planned"`
	NeverLess   json.RawMessage `json:"never_less"`
	Margin      json.RawMessage `json:"margin"`
	MarginWorst json.RawMessage `json:"margin_worst"`
	Shares      []share         `json:"shares"`
	Where       string          `json:"where"`
	From        string          `json:"from"`   // of never_less
	Source      string          `json:"source"` // of never_less
	Verdict     string          `json:"verdict"`
	Accepted    bool            `json:"accepted"`
	Reason      string          `json:"reason"`
}

type share struct {
	Name   string          `json:"name"`
	Of     json.RawMessage `json:"of"`
	From   string          `json:"from"`
	Source string          `json:"source"`
}

// figures is what each cut was planned from, for a program.
func (w *work) figures() []setupFigures {
	out := []setupFigures{}
	for _, s := range w.Plan.Setups {
		f := setupFigures{Setup: s.Name, Figures: marksOf(s.Facts), Cuts: []cutFigures{}}
		for _, op := range s.Operations {
			f.Cuts = append(f.Cuts, cutFigures{op.Name, marksOf(factsOf(op, w.units()))})
		}
		out = append(out, f)
	}
	return out
}

func (w *work) json(out io.Writer) error {
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(report{Figures: w.figures(), Limits: w.rows(), Warnings: append([]string{}, w.warnings(everySetup)...), Measures: w.measures(), Marks: w.columns()})
}

// measures is what is measured before a last pass.
func (w *work) measures() []measuring {
	out := []measuring{}
	for _, s := range w.Plan.Setups {
		for _, op := range s.Operations {
			if l := op.Look; op.Part == toolpath.Rough {
				out = append(out, measuring{s.Name, op.Of, l.Limit, l.What, decimal(int64(l.Reads), limit.Length, true),
					measure.Derived.String(), "the planned floor after the rough, to what is measured"})
			}
		}
	}
	return out
}

// columns is where the figures of each row come from.
func (w *work) columns() []mark {
	return []mark{
		{Name: "planned", From: "derived", Source: w.readFrom()},
		{Name: "margin", From: "derived", Source: "planned less never_less"},
		{Name: "margin_worst", From: "derived", Source: "margin less the shares"},
	}
}

// rows is the verdicts for a program.
func (w *work) rows() []row {
	rows := []row{}
	for _, v := range w.Verdicts {
		exact := v.Planned == v.High
		row := row{
			Setup: v.Setup, Cut: v.Cut, Limit: v.Limit, Unit: v.Unit.String(),
			Planned: decimal(v.Planned, v.Unit, exact), NeverLess: decimal(v.NeverLess, v.Unit, true),
			Margin: decimal(v.Margin, v.Unit, exact), MarginWorst: decimal(v.MarginWorst, v.Unit, exact),
			Shares: []share{}, From: v.From.String(), Source: v.Source, Verdict: v.State.String(),
			Accepted: v.Accepted, Reason: v.Reason,
		}
		if v.NeverLess <= -int64(solid.Far) { // told, not held: there is no never-less
			row.NeverLess, row.Margin, row.MarginWorst = null, null, null
		}
		for _, s := range v.Shares {
			source := s.Source
			if source == "" {
				source = "errors of the machine " + w.machine.Name
			}
			row.Shares = append(row.Shares, share{s.Name, decimal(int64(s.Of), limit.Length, true), s.From.String(), source})
		}
		row.Where = where(v)
		if v.File != "" && v.Where > 0 {
			row.Where = v.File + " " + row.Where
		}
		rows = append(rows, row)
	}
	return rows
}

// null stands where a figure has no meaning.
var null = json.RawMessage("null")

// decimal is a figure as an exact decimal, or rounded down at the fourth place
// where it is a bound.
func decimal(n int64, u limit.Unit, exact bool) json.RawMessage {
	switch {
	case u == limit.Count:
		return json.RawMessage(strconv.FormatInt(n, 10))
	case u == limit.Speed:
		return json.RawMessage(rpm(n))
	case exact:
		return json.RawMessage(measure.Length(n).MM())
	}
	return json.RawMessage(measure.Length(n).Format(measure.MM, 4, measure.Floor))
}
