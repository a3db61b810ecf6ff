package write

import (
	"fmt"
	"strconv"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// head writes what the operator must know before the start, one fact a line:
// what it is, how the part is held and where its zero is, the tool, the
// cautions.
func (w *writer) head(p toolpath.Program, m *machines.Machine) error {
	facts := []string{
		p.Title,
		"JOB " + p.Digest,
		fmt.Sprintf("SET-UP %d %s", p.Setup.Number, p.Setup.Name),
		"UNITS ARE " + w.unitName(),
	}
	facts = append(facts, p.Head...)
	facts = append(facts, w.tools(p)...)
	facts = append(facts, w.speeds(p, m), w.startHeight(p.Setup.Clearance),
		"GO BY THE MACHINE MANUAL AND LOCAL RULES.",
		"IF IN DOUBT ASK SOMEONE COMPETENT.",
		"DRY RUN ABOVE THE WORK FIRST. GUARD ON. EYES PROTECTED.")
	facts = append(facts, w.whence(p)...)
	for _, f := range facts {
		if err := w.comment(f); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) unitName() string {
	if w.unit == measure.In {
		return "INCHES"
	}
	return "MM"
}

// cutter is the tool as it is to be mounted. The path is for the measured
// diameter, so that one is told where it is another.
func (w *writer) cutter(c toolpath.Cutter) []string {
	unit := strings.ToUpper(w.unit.String())
	s := fmt.Sprintf("TOOL %d %s %s %s %s", c.Number, c.Kind, w.figure(c.Diameter), unit, c.MadeOf)
	if c.Flutes > 0 {
		s += fmt.Sprintf(" %d FLUTES", c.Flutes)
	}
	out := []string{s}
	if c.Measured != 0 && c.Measured != c.Diameter {
		out = append(out, "THE CUTTER MEASURES "+w.figure(c.Measured)+" "+unit)
	}
	if c.StickOut > 0 {
		out = append(out, "THE CUTTER STICKS OUT "+w.figure(c.StickOut)+" "+unit)
	}
	return out
}

// speeds is the spindle's speeds in the order of the cuts.
func (w *writer) speeds(p toolpath.Program, m *machines.Machine) string {
	if p.Change != toolpath.ByFile && !m.Controller.SetsSpindle {
		p.Operations = p.Operations[:1] // each change of tool says its own
	}
	var rpm []string
	for i, op := range p.Operations {
		if i == 0 || op.Speed != p.Operations[i-1].Speed {
			rpm = append(rpm, strconv.FormatInt(int64(op.Speed/measure.RPM), 10))
		}
	}
	if !m.Controller.SetsSpindle {
		return "SET THE SPINDLE BY HAND TO " + rpm[0] + " RPM"
	}
	return "SPINDLE " + strings.Join(rpm, " THEN ") + " RPM"
}

// startHeight is where the cutter must stand at the start. The first move goes to
// the clearance height wherever the cutter is, so it must not be among clamps.
func (w *writer) startHeight(clearance measure.Length) string {
	if clearance < 0 {
		return "START WITH THE CUTTER NO LOWER THAN " + w.figure(-clearance) + " " + strings.ToUpper(w.unit.String()) + " BELOW ZERO"
	}
	return "START WITH THE CUTTER " + w.figure(clearance) + " " + strings.ToUpper(w.unit.String()) + " OR MORE ABOVE ZERO"
}

// start states every mode, rises and starts the spindle.
func (w *writer) start(p toolpath.Program, m *machines.Machine) error {
	modes := "G17 G21 G40 G49 G54 G80 G90 G94"
	if w.unit == measure.In {
		modes = "G17 G20 G40 G49 G54 G80 G90 G94"
	}
	rise, err := w.rise(p.Setup.Clearance)
	if err != nil {
		return err
	}
	// The tool comes in before a coolant flows, and with its length, if any, after
	// all modes.
	lines := append([]string{modes + w.level()}, w.modeWords()...)
	lines = append(lines, w.firstTool(p)...)
	lines = append(lines, w.coolants()...)
	if err := w.putAll(append(lines, rise)...); err != nil {
		return err
	}
	w.at.Z = p.Setup.Clearance
	return w.spindle(p.Operations[0].Speed, p.SpinUp, m)
}

// rise is the line that lifts to the clearance height, Z alone.
func (w *writer) rise(clearance measure.Length) (string, error) {
	b, err := w.word([]byte("G0"), 'Z', clearance)
	if err != nil {
		return "", fmt.Errorf("the clearance height: %w", err)
	}
	return string(b), nil
}

// spindle starts the spindle or changes its speed, and waits.
func (w *writer) spindle(s measure.Speed, spinUp measure.Time, m *machines.Machine) error {
	if s <= 0 || s%measure.RPM != 0 {
		return fmt.Errorf("%d thousandths of a turn a minute: the spindle's speed must be whole turns above nought", s)
	}
	if err := w.put("M3 S" + strconv.FormatInt(int64(s/measure.RPM), 10)); err != nil {
		return err
	}
	if spinUp == 0 {
		return nil
	}
	said, ok := seconds(spinUp)
	if spinUp < 0 || !ok {
		return fmt.Errorf("%v to wait for the spindle: write whole hundredths of a second", spinUp)
	}
	p, err := w.dwell(spinUp)
	if err != nil {
		return err
	}
	if err := w.comment(said + " SECONDS FOR THE SPINDLE TO GET UP TO SPEED"); err != nil {
		return err
	}
	return w.put("G4 " + p)
}
