package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// The quick way reads the lines that a program is mostly made of, and only where
// [state.full] would find nothing to say of them: G0 to G3 with X Y Z I J F, all
// modes said, all places known. At anything else it stops before the line and
// leaves it to full. It must do exactly what full does; a test reads every text
// both ways.

const (
	// maxTens is the most decimals that a unit may be divided by.
	maxTens = 7
	// longestQuick keeps a line clear of every length that a class refuses.
	longestQuick = 77
	// notQuick is the kind of a byte that begins no quick word.
	notQuick = 0xff
)

// Kinds of words of the quick way, and the bits of what was seen.
const (
	quickX = iota
	quickY
	quickZ
	quickI
	quickJ
	quickF
)

var quickKinds = func() (k [256]uint8) {
	for i := range k {
		k[i] = notQuick
	}
	for i, c := range "XYZIJF" {
		k[c] = uint8(i)
	}
	return k
}()

// quickModes are the modes that must be known and said.
const quickModes = 1<<rs274.Plane | 1<<rs274.Distance | 1<<rs274.FeedMode | 1<<rs274.Units |
	1<<rs274.RadiusComp | 1<<rs274.LengthOffset | 1<<rs274.WorkSystem

// plain tells whether the next lines may be read the quick way.
func (s *state) plain() bool {
	return s.err == nil && s.said&s.clear&quickModes == quickModes && s.motion != unclear && s.motion < 40 &&
		!s.ended && !s.closed && s.plane == toolpath.PlaneXY && !s.relative && !s.centresAbs && !s.byTime && !s.comp &&
		s.framed() && (s.offset || !s.offsetSeen) && s.feed > 0 && s.unit != 0 &&
		s.at.AllKnown() && s.off == [3]measure.Length{}
}

// quickly reads lines, each of which must end with LF, until one is not plain,
// and gives how many bytes that was.
func (s *state) quickly(b []byte) int {
	p := 0
	scale, most := &s.scale, &s.most
	o := &s.out
	*o = toolpath.Step{Op: -1, Tool: s.tool, Offset: s.lengths, Coolant: s.coolant, To: s.at}
	if s.turning {
		o.Speed = s.speed
	}
	var value [6]int64
	for p < len(b) {
		start := p
		motion := s.motion
		c := b[p]
		if c == 'N' {
			for p++; b[p]-'0' <= 9; p++ {
			}
			if p-start < 2 || p-start > 6 {
				return start
			}
			if c = b[p]; c == ' ' {
				p++
				c = b[p]
			}
		}
		if c == 'G' && len(b)-p > 3 {
			c = b[p+1]
			if c == '0' && b[p+2]-'0' <= 3 {
				p++
				c = b[p+1]
			}
			if c -= '0'; c > 3 {
				return start
			}
			motion = int16(c) * 10
			p += 2
			if c = b[p]; c == ' ' {
				p++
				c = b[p]
			} else if c == '.' || c-'0' <= 9 {
				return start
			}
		}
		seen := uint32(0)
		var feed number
		for c != '\n' {
			k := quickKinds[c]
			if k == notQuick {
				if c == '\r' && b[p+1] == '\n' {
					p++
					break
				}
				return start
			}
			p++
			c = b[p]
			neg := c == '-'
			if neg {
				p++
				c = b[p]
			}
			digits, from := uint64(0), p
			for ; c-'0' <= 9; c = b[p] {
				digits = digits*10 + uint64(c-'0')
				p++
			}
			any := p - from
			tens := 0
			if c == '.' {
				p++
				from = p
				for c = b[p]; c-'0' <= 9; c = b[p] {
					digits = digits*10 + uint64(c-'0')
					p++
				}
				tens = p - from
				any += tens
			}
			// 18 digits do not run over; scale is nought where a step is not whole.
			if any == 0 || any > maxDigits || tens > maxTens || digits > most[tens] || scale[tens] == 0 || seen&(1<<k) != 0 {
				return start
			}
			seen |= 1 << k
			v := int64(digits) * scale[tens]
			if k == quickF {
				feed = number{digits: digits, tens: uint8(tens)}
				if neg || digits == 0 {
					return start
				}
			} else if neg {
				v = -v
			}
			value[k] = v
			if c == ' ' {
				p++
				c = b[p]
			}
		}
		p++
		if p-start > longestQuick || seen&(1<<quickX|1<<quickY|1<<quickZ) == 0 || motion < 0 {
			return start
		}
		o.From = o.To
		if seen&(1<<quickX) != 0 {
			o.To.X = measure.Length(value[quickX])
		}
		if seen&(1<<quickY) != 0 {
			o.To.Y = measure.Length(value[quickY])
		}
		if seen&(1<<quickZ) != 0 {
			o.To.Z = measure.Length(value[quickZ])
		}
		if motion >= 20 {
			if !quickArc(o, seen, &value, s.unit) {
				o.To = o.From
				return start
			}
			o.Kind, o.Sense = toolpath.Arc, toolpath.Sense(motion/10-2)
		} else {
			if seen&(1<<quickI|1<<quickJ) != 0 {
				o.To = o.From
				return start
			}
			o.Kind = toolpath.Motion(motion / 10)
			o.Centre.X, o.Centre.Y, o.Sense = 0, 0, 0
		}
		if seen&(1<<quickF) != 0 {
			s.feedNo = feed
			s.feed = measure.Feed(value[quickF])
		}
		o.Feed = s.feed
		if motion == 0 {
			o.Feed = 0
		}
		s.motion = motion
		s.line++
		o.Line = s.line
		s.at = o.To
		if s.err = s.give(o); s.err != nil {
			return p
		}
	}
	return p
}

// quickArc puts the centre where the arc is right beyond doubt.
//
// The radii differ by |D| over their sum, D the difference of their squares, and
// the sum is at least m, the larger of |i| and |j|; so they differ by at most half
// of what R forgives where |D| is at most half of that times m. In float64 D is out
// by less than 2^-50 of the squares' sum; where D passes, that sum is under 5mm,
// and m under 2e12, so by less than 0.01 m: nothing beside the half that is left.
func quickArc(o *toolpath.Step, seen uint32, value *[6]int64, unit measure.Length) bool {
	if seen&(1<<quickX|1<<quickY) == 0 {
		return false
	}
	var i, j int64
	switch seen & (1<<quickI | 1<<quickJ) {
	case 0:
		return false
	case 1 << quickI:
		i = value[quickI]
	case 1 << quickJ:
		j = value[quickJ]
	default:
		i, j = value[quickI], value[quickJ]
	}
	cx, cy := o.From.X+measure.Length(i), o.From.Y+measure.Length(j)
	k, l := cx-o.To.X, cy-o.To.Y
	a, b, c, d := float64(i), float64(j), float64(k), float64(l)
	m := max(a, -a, b, -b)
	diff := float64(a*a) + float64(b*b) - float64(c*c) - float64(d*d)
	apart := float64(10_000) // half of 0.002 mm; half of 0.0002 in is more
	if m == 0 || k == 0 && l == 0 || max(diff, -diff) > apart*m {
		return false
	}
	if a, b := a-c, b-d; max(a, -a, b, -b) < 2e-6*m && (a != 0 || b != 0) {
		return false // perhaps too short an arc
	}
	o.Centre.X, o.Centre.Y = cx, cy
	return true
}
