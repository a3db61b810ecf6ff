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
	Limits   []row       `json:"limits"`
	Measures []measuring `json:"measures"`
}

// measuring is what is measured before a cut's last pass.
type measuring struct {
	Setup string          `json:"setup"`
	Cut   string          `json:"cut"`
	Limit string          `json:"limit"`
	What  string          `json:"what"`
	Reads json.RawMessage `json:"reads"`
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
	From        string          `json:"from"`
	Verdict     string          `json:"verdict"`
	Accepted    bool            `json:"accepted"`
	Reason      string          `json:"reason"`
}

type share struct {
	Name string          `json:"name"`
	Of   json.RawMessage `json:"of"`
}

func (w *work) json(out io.Writer) error {
	r := report{Limits: []row{}, Measures: []measuring{}}
	for _, v := range w.Verdicts {
		exact := v.Planned == v.High
		row := row{
			Setup: v.Setup, Cut: v.Cut, Limit: v.Limit, Unit: v.Unit.String(),
			Planned: decimal(v.Planned, v.Unit, exact), NeverLess: decimal(v.NeverLess, v.Unit, true),
			Margin: decimal(v.Margin, v.Unit, exact), MarginWorst: decimal(v.MarginWorst, v.Unit, exact),
			Shares: []share{}, From: v.From.String(), Verdict: v.State.String(),
			Accepted: v.Accepted, Reason: v.Reason,
		}
		if v.NeverLess <= -int64(solid.Far) { // told, not held: there is no never-less
			row.NeverLess, row.Margin, row.MarginWorst = null, null, null
		}
		for _, s := range v.Shares {
			row.Shares = append(row.Shares, share{s.Name, decimal(int64(s.Of), limit.Length, true)})
		}
		row.Where = where(v)
		if v.File != "" && v.Where > 0 {
			row.Where = v.File + " " + row.Where
		}
		r.Limits = append(r.Limits, row)
	}
	for _, s := range w.Plan.Setups {
		for _, op := range s.Operations {
			if l := op.Look; op.Part == toolpath.Rough {
				r.Measures = append(r.Measures, measuring{s.Name, op.Of, l.Limit, l.What, decimal(int64(l.Reads), limit.Length, true)})
			}
		}
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(r)
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
