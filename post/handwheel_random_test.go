package post

import (
	"fmt"
	"math/big"
	"strings"

	"pgregory.net/rapid"
)

// dials are screws and dials as they are met (from memory), and odd ones: lead as a
// file says it, its size by hand, lines.
var dials = []struct {
	lead        string
	size        *big.Rat // millimetres a turn
	lines       string
	linesOnDial *big.Rat
}{
	{"0.100 in", big.NewRat(254, 100), "100", big.NewRat(100, 1)},
	{"0.200 in", big.NewRat(508, 100), "200", big.NewRat(200, 1)},
	{"16 TPI", big.NewRat(254, 160), "62.5", big.NewRat(125, 2)},
	{"8 TPI", big.NewRat(254, 80), "125", big.NewRat(125, 1)},
	{"20 TPI", big.NewRat(254, 200), "50", big.NewRat(50, 1)},
	{"14/11 mm", big.NewRat(14, 11), "50", big.NewRat(50, 1)},
	{"1 mm", big.NewRat(1, 1), "20", big.NewRat(20, 1)},
	{"1.5 mm", big.NewRat(3, 2), "60", big.NewRat(60, 1)},
	{"2 mm", big.NewRat(2, 1), "100", big.NewRat(100, 1)},
	{"2.5 mm", big.NewRat(5, 2), "125", big.NewRat(125, 1)},
	{"3 mm", big.NewRat(3, 1), "60", big.NewRat(60, 1)},
	{"4 mm", big.NewRat(4, 1), "80", big.NewRat(80, 1)},
	{"5 mm", big.NewRat(5, 1), "250", big.NewRat(250, 1)},
}

// drawScrew is a screw of any kind with the keys that say it in a machine file.
func drawScrew(t *rapid.T, label string) (*screw, string) {
	d := rapid.SampledFrom(dials).Draw(t, label+" dial")
	play := rapid.Int64Range(0, 900).Draw(t, label+" backlash, um")
	s := &screw{
		label: label, lines: d.linesOnDial, play: big.NewRat(play*10_000, 1),
		lead:          new(big.Rat).Mul(d.size, big.NewRat(10_000_000, 1)),
		clockwisePlus: rapid.Bool().Draw(t, label+" clockwise plus"),
		falls:         rapid.Bool().Draw(t, label+" numbers fall"),
		half:          rapid.Bool().Draw(t, label+" half lines"),
	}
	sign := map[bool]string{true: "+", false: "-"}
	keys := fmt.Sprintf("wheel = \"wheel\"\ntravel = 300\nlead = %q\nlines = %s\nclockwise = %q\nbacklash = \"%d um\"\nhalf_lines = %v\n",
		d.lead, d.lines, sign[s.clockwisePlus], play, s.half)
	if s.falls {
		keys += "numbers = \"fall\"\n"
	}
	if label[0] != 'Z' && rapid.Bool().Draw(t, label+" approach said") {
		keys += fmt.Sprintf("approach = %q\n", sign[rapid.Bool().Draw(t, label+" approach")])
	}
	return s, keys
}

// drawMachine is a machine file and the screws that it describes.
func drawMachine(t *rapid.T) (string, []*screw, *worm) {
	two := rapid.Bool().Draw(t, "two wheels set Z")
	text := "kind = \"mill\"\nunits = \"mm\"\ndepth_by = \"head\"\n"
	if two {
		text += "mill_by = \"head\"\ndrill_by = \"quill\"\n"
	}
	var screws []*screw
	for _, l := range []string{"X", "Y", "Z head"} {
		s, keys := drawScrew(t, l)
		screws = append(screws, s)
		text += "[" + strings.ToLower(l[:1]) + "]\n" + keys
	}
	if two {
		s, keys := drawScrew(t, "Z quill")
		screws = append(screws, s)
		text += "[second_z]\nby = \"quill\"\n" + keys
	}
	repeat := "0"
	if rapid.Bool().Draw(t, "a nut") {
		text += fmt.Sprintf("[stop]\nkind = \"nut\"\nstep = \"%d um\"\n", rapid.Int64Range(5, 100).Draw(t, "nut's step, um"))
		repeat = "0.01"
	}
	text += "[spindle]\nlow = 40\nhigh = 6000\n[feeds]\nlow = 1\nhigh = 300\ndown = 150\n[errors]\n" +
		"touch_z = 0.01\ntouch_xy = 0.01\nsetting = 0.01\nstop = " + repeat + "\nplay = 0.01\nlead = \"0.01 mm in 100 mm\"\n" +
		"tilt = \"0.01 mm in 100 mm\"\nrun_out = 0.01\nbend = 0.01\nplace = 0.01\ndiameter = 0.01\n"
	if !rapid.Bool().Draw(t, "a rotary table") {
		return text, screws, nil
	}
	table, keys := drawRotary(t)
	return text + keys, screws, table
}

// drawJob is a job with slots, faces and holes in a block of 60 by 40 by 20.
func drawJob(t *rapid.T, rotary bool) string {
	um := func(n int64) string { return fmt.Sprintf("\"%d um\"", n) }
	draw := func(lo, hi int64, what string) string { return um(rapid.Int64Range(lo, hi).Draw(t, what)) }
	var zero [3]int64 // in the part's frame, whose zero is on the block's top, in its middle
	for i, reach := range []int64{40_000, 30_000, 3_000} {
		zero[i] = rapid.Int64Range(-reach, reach).Draw(t, "zero")
	}
	at := func(axis int, lo, hi int64, what string) string {
		return um(rapid.Int64Range(lo, hi).Draw(t, what) - zero[axis])
	}
	text := "units = \"mm\"\nmaterial = \"brass\"\nstock = { low = [-30, -20, -20], size = [60, 40, 20] }\n" +
		"[[tool]]\nnumber = 1\nkind = \"slot drill\"\ndiameter = 4\nflute_length = 12\nstick_out = 30\nholder = 20\n" +
		"[[tool]]\nnumber = 2\nkind = \"spot drill\"\ndiameter = 3\nflute_length = 10\nstick_out = 30\nholder = 16\n" +
		"[[tool]]\nnumber = 3\nkind = \"drill\"\ndiameter = 2.5\nflute_length = 26\nstick_out = 35\nholder = 16\n" +
		""
	if rapid.IntRange(0, 5).Draw(t, "a profile") <= 1 {
		return text + drawOutline(t, um, zero, rotary)
	}
	text += fmt.Sprintf("[[setup]]\ntouch_at = [%s, %s]\nzero = [%s, %s, %s]\n", um(28_000-zero[0]), um(18_000-zero[1]), um(zero[0]), um(zero[1]), um(zero[2]))
	cuts := rapid.IntRange(1, 3).Draw(t, "cuts")
	for i := range cuts {
		// Each cut has a part of the block to itself, so that most jobs keep their walls.
		low, high := int64(-24_000), int64(22_000)
		if cuts > 1 {
			low = -26_000 + int64(i)*17_000
			high = low + 12_000
		}
		mid := (low + high) / 2
		text += fmt.Sprintf("[[setup.cut]]\nname = \"c%d\"\n", i)
		pair := func() string {
			return fmt.Sprintf("points = [%s, %s, %s, %s]\n", at(0, low, mid-4_000, "x1"), at(1, -12_000, 12_000, "y1"),
				at(0, mid+4_000, high, "x2"), at(1, -12_000, 12_000, "y2"))
		}
		// a depth is from the zero
		deep := func(lo, hi int64) string {
			return um(max(rapid.Int64Range(lo, hi).Draw(t, "deep")+zero[2], 1))
		}
		switch rapid.IntRange(0, 2).Draw(t, "recipe") {
		case 0:
			a, b, c := at(0, low, mid-2_000, "from"), at(0, mid+2_000, high, "to"), at(1, -14_000, 12_000, "aside")
			from, to := "["+a+", "+c+"]", "["+b+", "+c+"]"
			ends := rapid.SampledFrom([]string{"open", "closed", "open at from", "open at to"}).Draw(t, "ends")
			if rapid.Bool().Draw(t, "along y") {
				a, b, c = at(1, -16_000, -4_000, "from"), at(1, 4_000, 14_000, "to"), at(0, low, high, "aside")
				from, to = "["+c+", "+a+"]", "["+c+", "+b+"]"
			} else if cuts > 1 {
				ends = "closed"
			}
			text += fmt.Sprintf("recipe = \"slot\"\ntool = 1\nfrom = %s\nto = %s\nends = %q\nwidth = %s\ndepth = %s\nstep = %s\n",
				from, to, ends, um(2*rapid.Int64Range(2_000, 3_500).Draw(t, "half the width")), deep(200, 6_000), draw(300, 2_000, "step"))
		case 1:
			text += fmt.Sprintf("recipe = \"spot face\"\ntool = 1\ndiameter = 4\ndeep = %s\n", draw(200, 3_000, "face")) + pair()
		case 2:
			text += fmt.Sprintf("recipe = \"bolt holes\"\nscrew = \"M3\"\nhole = \"tapped\"\ndepth = %s\nspot = 2\ndrill = 3\n", draw(3_000, 9_000, "thread")) + pair()
		}
	}
	return text
}

// drawOutline is a profile in the block about a bore, no deep one. zero is the set-up's.
func drawOutline(t *rapid.T, um func(int64) string, zero [3]int64, rotary bool) string {
	x, y := rapid.Int64Range(-6_000, 6_000).Draw(t, "bore x"), rapid.Int64Range(-4_000, 4_000).Draw(t, "bore y")
	bore, wall := rapid.Int64Range(3_000, 8_000).Draw(t, "half the bore"), rapid.Int64Range(1_000, 4_000).Draw(t, "wall")
	by := ""
	if rotary && rapid.Bool().Draw(t, "by rotary table") {
		zero[0], zero[1] = x, y
		by = "profile_by = \"rotary table\"\n"
	}
	text := fmt.Sprintf("[[bore]]\nname = \"b\"\ndiameter = %s\nalong = \"z\"\nat = [%s, %s]\n", um(2*bore), um(x), um(y)) +
		fmt.Sprintf("[[setup]]\ntouch_at = [%s, %s]\nzero = [%s, %s, %s]\n", um(x+bore+wall/2-zero[0]), um(y-zero[1]), um(zero[0]), um(zero[1]), um(zero[2])) +
		fmt.Sprintf("[[setup.cut]]\nname = \"o\"\nrecipe = \"profile\"\ntool = 1\nbore = \"b\"\nwall = %s\nnever_less = 0\nwall_never_less = 0\n", um(wall)) +
		fmt.Sprintf("depth = %s\nstep = %s\nfile_off = %s\n", um(max(rapid.Int64Range(200, 3_000).Draw(t, "deep")+zero[2], 1)),
			um(rapid.Int64Range(400, 2_000).Draw(t, "step")), um(rapid.Int64Range(60, 300).Draw(t, "file off"))) + by
	for range rapid.IntRange(0, 3).Draw(t, "lugs") {
		text += fmt.Sprintf("[[setup.cut.%s]]\ntowards = %q\nreach = %s\nacross = %s\n", rapid.SampledFrom([]string{"lug", "pad"}).Draw(t, "kind"),
			rapid.SampledFrom([]string{"+x", "-x", "+y", "-y"}).Draw(t, "towards"),
			um(bore+wall+rapid.Int64Range(500, 4_000).Draw(t, "stands out")), um(2*rapid.Int64Range(1_500, 7_000).Draw(t, "half across")))
	}
	return text
}
