package trade_test

import (
	"testing"

	"github.com/BurntSushi/toml"

	"stopshort/toolpath/measure"
)

// Printed holes on a circle, worked out with the sines that plans are made with.
func TestPublishedBoltCircles(t *testing.T) {
	var f struct {
		Hole []struct {
			Circle, Start, X, Y, Tolerance, Source, Why string
			Holes, Hole                                 int
		}
	}
	if _, err := toml.DecodeFile(publishedDir+"/bolt-circles.toml", &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Hole) < 6 {
		t.Errorf("%d holes", len(f.Hole))
	}
	for _, h := range f.Hole {
		read := func(text string) measure.Length {
			l, err := measure.ParseLength(text, measure.NoUnit)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		start, err := measure.ParseAngle(h.Start)
		if err != nil || h.Source == "" || h.Why == "" {
			t.Fatalf("%+v: %v", h, err)
		}
		radius := read(h.Circle).Half(measure.Nearest)
		sin, cos := (start + measure.FullTurn/measure.Angle(h.Holes)*measure.Angle(h.Hole-1)).SinCos()
		for _, c := range []struct {
			got     measure.Length
			printed string
		}{{cos.Of(radius), h.X}, {sin.Of(radius), h.Y}} {
			if off := (c.got - read(c.printed)).Abs(); off > read(h.Tolerance) {
				t.Errorf("%s, hole %d: %s, printed %s", h.Source, h.Hole, c.got, c.printed)
			}
		}
	}
}

// Printed divisions: a worm's turns for one of them, by exact ratios.
func TestPublishedDivisions(t *testing.T) {
	var f struct {
		Division []struct {
			Ratio, Divisions, Turns, Spaces, Circle int64
			Source, Why                             string
		}
	}
	if _, err := toml.DecodeFile(publishedDir+"/dividing.toml", &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Division) < 10 {
		t.Errorf("%d divisions", len(f.Division))
	}
	for _, d := range f.Division {
		turns, err := measure.NewRatio(d.Ratio, 1).Over(measure.NewRatio(d.Divisions, 1))
		if want := measure.NewRatio(d.Turns*d.Circle+d.Spaces, d.Circle); err != nil || turns != want || d.Source == "" || d.Why == "" {
			t.Errorf("%+v: %s turns, printed %s, %v", d, turns, want, err)
		}
	}
}
