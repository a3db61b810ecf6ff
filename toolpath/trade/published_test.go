package trade_test

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

const publishedDir = "../../testdata/published"

// check is one published value: kind says what is worked out, by the keys beside
// it; value is what is printed.
type check map[string]string

// published are the kinds, each with the figure that the code gives. Two figures
// of a kind are in one unit.
var published = map[string]func(c check) (got, value, tolerance int64, err error){
	"spindle speed": func(c check) (int64, int64, int64, error) {
		return rates(c, measure.ParseSpeed, func(r *reader) measure.Speed {
			return trade.SpindleSpeed(r.surface("surface"), r.length("diameter"))
		})
	},
	"edge speed": func(c check) (int64, int64, int64, error) {
		return rates(c, measure.ParseSurface, func(r *reader) measure.SurfaceSpeed {
			return trade.EdgeSpeed(r.speed("speed"), r.length("diameter"))
		})
	},
	"feed": func(c check) (int64, int64, int64, error) {
		return rates(c, feed, func(r *reader) measure.Feed {
			return trade.FeedRate(r.length("tooth"), r.count("flutes"), r.speed("speed"))
		})
	},
	"tooth feed": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length {
			f, err := feed(c["feed"])
			r.fault(err)
			return trade.ToothFeed(f, r.count("flutes"), r.speed("speed"))
		})
	},
	"bite": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length {
			m, err := trade.Milling(c["material"], "carbide", r.length("diameter"))
			r.fault(err)
			return m.PerTooth.Value
		})
	},
	"BA pitch": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.ba().Pitch })
	},
	"BA outside": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.ba().Major })
	},
	"outside": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.thread().Major })
	},
	"minor": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.thread().Minor })
	},
	"tapping drill": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.thread().Tap.Value })
	},
	"tough tapping drill": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.thread().TapTough.Value })
	},
	"clearance": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length {
			t := r.thread()
			return map[string]*measure.Figure[measure.Length]{"close": t.ClearClose, "medium": t.ClearMedium, "free": t.ClearFree}[c["fit"]].Value
		})
	},
	"drill": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.drill("name") })
	},
	"flats": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.hexagon().Across })
	},
	"corners": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length { return r.hexagon().Corners })
	},
	"point": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length {
			a, err := measure.ParseAngle(c["included"])
			r.fault(err)
			return solid.PointLength(r.length("diameter"), a, measure.Nearest)
		})
	},
	"tapped edge": func(c check) (int64, int64, int64, error) {
		return lengths(c, func(r *reader) measure.Length {
			t := r.thread()
			return trade.TappedEdge(t.Major, t.Pitch).Value
		})
	},
}

// TestPublished holds the code against every value of testdata/published. One
// with a key "not" is a misprint: ours must lie off it.
func TestPublished(t *testing.T) {
	files, err := filepath.Glob(publishedDir + "/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	all, wrong := 0, 0
	for _, file := range files {
		var f struct{ Check []check }
		if _, err := toml.DecodeFile(file, &f); err != nil {
			t.Fatal(err)
		}
		for i, c := range f.Check {
			all++
			if c["source"] == "" || c["why"] == "" || c["value"] == "" || c["tolerance"] == "" {
				t.Errorf("%s: check %d has no source, why, value or tolerance", filepath.Base(file), i+1)
				continue
			}
			run := published[c["kind"]]
			if run == nil {
				t.Errorf("%s: check %d: nothing works out %q", filepath.Base(file), i+1, c["kind"])
				continue
			}
			got, value, tolerance, err := run(c)
			if err != nil {
				t.Errorf("%s: check %d: %v", filepath.Base(file), i+1, err)
				continue
			}
			off := got - value
			if off < 0 {
				off = -off
			}
			if c["not"] != "" {
				wrong++
			}
			if within := off <= tolerance; within == (c["not"] != "") {
				t.Errorf("%s: %v: ours is %d off, in the smallest steps (tolerance %d)", filepath.Base(file), c, off, tolerance)
			}
		}
	}
	t.Logf("%d published values, %d of them misprints that ours must not be", all, wrong)
	if all < 60 || wrong < 10 {
		t.Errorf("%d published values and %d misprints, want 60 and 10 at least", all, wrong)
	}
}

// reader takes the figures of one check; its first fault is kept.
type reader struct {
	check
	err error
}

func (r *reader) fault(err error) {
	if r.err == nil {
		r.err = err
	}
}

func (r *reader) length(key string) measure.Length {
	l, err := measure.ParseLength(r.check[key], measure.NoUnit)
	r.fault(err)
	return l
}

func (r *reader) surface(key string) measure.SurfaceSpeed {
	v, err := measure.ParseSurface(r.check[key])
	r.fault(err)
	return v
}

func (r *reader) speed(key string) measure.Speed {
	n, err := measure.ParseSpeed(r.check[key])
	r.fault(err)
	return n
}

func (r *reader) count(key string) int {
	n, err := strconv.Atoi(r.check[key])
	r.fault(err)
	return n
}

func (r *reader) drill(key string) measure.Length {
	d, err := trade.DrillNamed(r.check[key])
	r.fault(err)
	return d.Diameter
}

func (r *reader) thread() trade.Thread {
	t, err := trade.ThreadNamed(r.check["thread"])
	r.fault(err)
	return t
}

// ba is the BA thread of a number, whose pitch and diameter are by the rule.
func (r *reader) ba() trade.Thread {
	t, err := trade.ThreadNamed(r.check["number"] + "BA")
	r.fault(err)
	return t
}

func (r *reader) hexagon() trade.Head {
	h, err := r.thread().HeadShaped(trade.Hexagon)
	r.fault(err)
	return h
}

func feed(text string) (measure.Feed, error) { return measure.ParseFeed(text, measure.NoUnit) }

// lengths reads a check whose value is a length or a drill by its name.
func lengths(c check, of func(*reader) measure.Length) (got, value, tolerance int64, err error) {
	r := &reader{check: c}
	got = int64(of(r))
	if strings.HasPrefix(c["value"], "#") || len(c["value"]) == 1 {
		value = int64(r.drill("value"))
	} else {
		value = int64(r.length("value"))
	}
	return got, value, int64(r.length("tolerance")), r.err
}

// rates reads a check whose value is a feed or a speed.
func rates[T ~int64](c check, read func(string) (T, error), of func(*reader) T) (got, value, tolerance int64, err error) {
	r := &reader{check: c}
	got = int64(of(r))
	v, err := read(c["value"])
	r.fault(err)
	tol, err := read(c["tolerance"])
	r.fault(err)
	return got, int64(v), int64(tol), r.err
}
