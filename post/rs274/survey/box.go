package survey

import "stopshort/toolpath/measure"

// Box is the span of known places on each axis; an axis without any has Known
// false.
type Box struct {
	Low, High [3]measure.Length
	Known     [3]bool
}

// span is a box that grows quickly: on an axis without a place low is over high.
type span struct {
	low, high [3]measure.Length
}

func newSpan() span {
	const far = 4 * measure.MaxLength
	return span{[3]measure.Length{far, far, far}, [3]measure.Length{-far, -far, -far}}
}

// add takes in one coordinate.
func (s *span) add(i int, v measure.Length) {
	s.low[i] = min(s.low[i], v)
	s.high[i] = max(s.high[i], v)
}

// box is the span for a person.
func (s *span) box() Box {
	var b Box
	for i := range b.Known {
		if b.Known[i] = s.low[i] <= s.high[i]; b.Known[i] {
			b.Low[i], b.High[i] = s.low[i], s.high[i]
		}
	}
	return b
}
