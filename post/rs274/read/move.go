package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
)

// needed are the modes that any move depends on.
const needed = 1<<rs274.Units | 1<<rs274.Distance | 1<<rs274.RadiusComp | 1<<rs274.LengthOffset | 1<<rs274.WorkSystem

// move does the motion in force to where the line's axis words say.
func (s *state) move(w *words) error {
	switch {
	case s.stated&needed != needed:
		return fault(NotFollowed, "a move before units, G90, G40, G49 and G54 were stated")
	case s.motion == 0:
		return s.rapid(w)
	case s.stated&group(rs274.FeedMode) == 0:
		return fault(NotFollowed, "a feed before G94 was stated")
	case s.motion == 10:
		return s.straight(w)
	}
	return s.arc(w)
}

// target is the place that a line's axis words say; what they leave out stays.
func (s *state) target(w *words) (toolpath.Place, error) {
	to := s.at
	if w.has('X') {
		v, err := w.of('X').length('X', s.unit)
		if err != nil {
			return to, err
		}
		to.X, to.Known[0] = v, true
	}
	if w.has('Y') {
		v, err := w.of('Y').length('Y', s.unit)
		if err != nil {
			return to, err
		}
		to.Y, to.Known[1] = v, true
	}
	if w.has('Z') {
		v, err := w.of('Z').length('Z', s.unit)
		if err != nil {
			return to, err
		}
		to.Z, to.Known[2] = v, true
	}
	return to, nil
}

// rapid is G0.
func (s *state) rapid(w *words) error {
	to, err := s.target(w)
	if err != nil {
		return err
	}
	return s.goTo(toolpath.Step{Kind: toolpath.Rapid, To: to})
}

// straight is G1.
func (s *state) straight(w *words) error {
	if s.feed.digits == 0 {
		return fault(FeedMissing, "G1 without a feed")
	}
	to, err := s.target(w)
	if err != nil {
		return err
	}
	return s.cut(toolpath.Step{Kind: toolpath.Line, To: to})
}

// cut hands on a step at the feed in force.
func (s *state) cut(step toolpath.Step) error {
	f, err := s.feed.feed(s.unit)
	if err != nil {
		return err
	}
	step.Feed = f
	return s.goTo(step)
}

// goTo hands on a step from where the cutter is, and moves it.
func (s *state) goTo(step toolpath.Step) error {
	step.From = s.at
	s.at = step.To
	return s.give(step)
}
