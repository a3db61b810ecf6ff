package handwheel

import (
	"bytes"
	"encoding/json"

	"stopshort/machines"
)

type jsonTable struct {
	Title    string    `json:"title"`
	Job      string    `json:"job"`
	Machine  string    `json:"machine"`
	Unit     string    `json:"unit"`
	GoOn     int       `json:"go_on,omitempty"` // the row to go on at, after a measuring
	Head     []string  `json:"head"`
	Warnings []string  `json:"warnings"`
	Reading  []string  `json:"reading"`
	Cautions []string  `json:"cautions"`
	Measures []string  `json:"measures"`
	Whence   []string  `json:"whence"` // where the figures come from, a sentence each
	Rows     []jsonRow `json:"rows"`
}

// jsonRow holds lines as text, since they need not be decimals: "20 1/3".
type jsonRow struct {
	Row     int             `json:"row"`
	Setup   int             `json:"setup"`
	Cut     string          `json:"cut"`
	Pass    string          `json:"pass"`
	Wheel   string          `json:"wheel"`
	Turn    string          `json:"turn"`
	Turns   int64           `json:"turns"`
	Lines   string          `json:"lines"`
	Reading string          `json:"reading"`
	Total   string          `json:"total"`
	Target  json.RawMessage `json:"target"`
	ToStop  json.RawMessage `json:"to_stop"`
	Note    string          `json:"note"`
}

// JSON is the table for a program, with exact decimals in the machine's unit.
func (t *Table) JSON() ([]byte, error) {
	null := json.RawMessage("null")
	out := jsonTable{
		Title: t.Title, Job: t.Digest, Machine: t.Machine.Name, Unit: t.Machine.Units.String(),
		GoOn: t.GoOn, Head: t.Head, Reading: t.Reading, Warnings: append([]string{}, t.Warnings...), Cautions: t.Cautions, Measures: append([]string{}, t.Measures...), Whence: append([]string{}, t.Whence...), Rows: []jsonRow{},
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		j := jsonRow{Row: r.Number, Setup: r.Setup, Cut: r.Cut, Pass: r.Pass, Wheel: r.Wheel, Turn: r.Turn,
			Turns: r.Turns, Total: r.Total, Target: null, ToStop: null, Note: r.note()}
		if r.angle != nil {
			j.Reading, j.Target = machines.AngleText(r.angle.reading), json.RawMessage(`"`+angleTarget(r.angle.target)+`"`)
			if r.Turn != "" {
				j.Lines = machines.AngleText(r.angle.rest)
			}
			out.Rows = append(out.Rows, j)
			continue
		}
		if r.Wheel != "" {
			j.Reading = machines.LinesText(r.Reading)
			j.Target = json.RawMessage(t.exact(r.Target))
		}
		if r.Turn != "" {
			j.Lines = machines.LinesText(r.Lines)
		}
		if r.ToStop != nil {
			j.ToStop = json.RawMessage(t.exact(*r.ToStop))
		}
		out.Rows = append(out.Rows, j)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	err := e.Encode(out)
	return b.Bytes(), err
}
