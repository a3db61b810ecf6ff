package main

import (
	"encoding/json"
	"io"
)

// foreignReport is check JOB --program for a program: its limits as of check JOB, and
// what there is to say of lines; line 0 is the whole program.
type foreignReport struct {
	Verdict   string     `json:"verdict"`
	Setup     int        `json:"setup"`
	Lines     int        `json:"lines"`
	Steps     int        `json:"steps"`
	Ended     bool       `json:"ended"`
	Job       string     `json:"job"`       // the digest of the job and the machine
	MadeFrom  *string    `json:"made_from"` // that whose number the program's head tells; null is none
	Limits    []row      `json:"limits"`
	Marks     []mark     `json:"marks"` // of the columns whose figures have no mark of their own
	NotProved []noteJSON `json:"not_proved"`
	Assumed   []noteJSON `json:"assumed"`
	Findings  []noteJSON `json:"findings"`
}

func (f *foreign) json(out io.Writer) error {
	r := foreignReport{
		Verdict: "limits hold", Setup: f.setup.Number, Lines: f.lines, Steps: f.steps, Ended: f.ended, Job: f.Plan.Digest, Limits: f.rows(), Marks: f.columns(),
		NotProved: notesJSON(f.notes.NotProved(), false), Assumed: notesJSON(f.notes.Assumed(), false), Findings: notesJSON(f.notes.Findings(), true),
	}
	r.Marks = append(r.Marks, mark{Name: "lines, steps", From: "derived", Source: "counted in the program as it was read"})
	if len(r.Findings) > 0 {
		r.Marks = append(r.Marks, ruleMark)
	}
	if f.digest != "" {
		r.MadeFrom = &f.digest
	}
	for _, o := range f.open {
		r.NotProved = append(r.NotProved, noteJSON{Line: o.Line, Text: o.Text, Count: o.Count})
	}
	for _, o := range f.assumed {
		r.Assumed = append(r.Assumed, noteJSON{Line: o.Line, Text: o.Text, Count: o.Count})
	}
	switch {
	case len(f.Refused()) > 0:
		r.Verdict = "refused"
	case f.unproved() > 0:
		r.Verdict = "not proved"
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(r)
}
