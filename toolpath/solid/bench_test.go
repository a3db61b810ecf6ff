package solid

import (
	"math"
	"testing"
)

var sink Gap

// benchSlot is the demo part's slot over its bore, benchSkew the same cut over
// an oil hole at an angle, benchDrill a drill's tip beside that hole.
var (
	benchSlot  = Sweep{flatPart(2, 8), mmPoint(0, -9.35, -5.959), mmPoint(0, 9.35, -5.959)}
	benchDrill = Sweep{Part{0, um(751), 0, um(1250)}, mmPoint(5, 2, 5), mmPoint(5, 2, -5)}
	benchRound = Sweep{flatPart(3.175, 16), mmPoint(12.7, 9.525, -13), mmPoint(12.2, 10.1, -13)}

	lying     Body = Cylinder{mmPoint(0, -6.35, -16.5), mmPoint(0, 6.35, -16.5), um(9525)}
	standing  Body = Cylinder{mmPoint(0, 0, 0), mmPoint(0, 0, -12.7), um(9525)}
	atAnAngle Body = Cylinder{mmPoint(-9, 3, -22), mmPoint(11, -6, -14), um(1500)}
	clamp     Body = Box{mmPoint(9, 9, -12), mmPoint(30, 22, 6)}
)

func bench(b *testing.B, a Sweep, c Body) {
	b.ReportAllocs()
	for b.Loop() {
		sink = Between(a, c, Far)
	}
	b.ReportMetric(float64(sink.High-sink.Low), "0.1nm-wide")
}

func BenchmarkBetweenExact(b *testing.B)      { bench(b, benchSlot, lying) }
func BenchmarkBetweenExactRound(b *testing.B) { bench(b, benchRound, standing) }
func BenchmarkBetweenSkew(b *testing.B)       { bench(b, benchSlot, atAnAngle) }
func BenchmarkBetweenDrill(b *testing.B)      { bench(b, benchDrill, atAnAngle) }
func BenchmarkBetweenCorner(b *testing.B)     { bench(b, benchSlot, clamp) }

// BenchmarkPlain is what an answer of no proof costs: the distance of one line
// from another in floating point, less the radii.
func BenchmarkPlain(b *testing.B) {
	c := atAnAngle.(Cylinder)
	var d float64
	for b.Loop() {
		p, q := benchSlot.From.vector(), c.From.vector()
		u := benchSlot.To.vector().minus(p)
		v := c.To.vector().minus(q)
		w := p.minus(q)
		a, e, f, g, h := u.dot(u), v.dot(v), v.dot(w), u.dot(v), u.dot(w)
		s := min(max((g*f-h*e)/(a*e-g*g), 0), 1)
		t := min(max((g*s+f)/e, 0), 1)
		s = min(max((g*t-h)/a, 0), 1)
		d += w.plus(u.times(s)).minus(v.times(t)).length() - float64(c.Radius) - float64(benchSlot.Part.LowRadius)
	}
	if math.IsNaN(d) {
		b.Fatal(d)
	}
}
