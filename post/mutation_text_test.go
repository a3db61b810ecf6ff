package post

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"
)

// mutant is a kind of fault in a text: what it does to the lines at i, or nil where
// it does not fit there.
type mutant struct {
	name string
	at   func(lines []string, i int) []string
	head bool // it changes what the head tells, and no step
}

// replaced is the lines with those from i to before j replaced.
func replaced(lines []string, i, j int, by ...string) []string {
	return append(append(append([]string(nil), lines[:i]...), by...), lines[j:]...)
}

// inLine is a mutant that replaces the first match of a pattern in a line.
func inLine(name, pattern, by string) mutant {
	re := regexp.MustCompile(pattern)
	return mutant{name: name, at: func(l []string, i int) []string {
		if !re.MatchString(l[i]) {
			return nil
		}
		m := re.FindStringSubmatchIndex(l[i])
		return replaced(l, i, i+1, l[i][:m[0]]+string(re.ExpandString(nil, by, l[i], m))+l[i][m[1]:])
	}}
}

// byStep is a mutant that moves a number by one step of its last place.
func byStep(name, letter string, way int) mutant {
	re := regexp.MustCompile(`^(G[0-3]\b.*? ` + letter + `)(-?[0-9]+)\.([0-9]+)`)
	return mutant{name: name, at: func(l []string, i int) []string {
		m := re.FindStringSubmatch(l[i])
		if m == nil {
			return nil
		}
		n, _ := strconv.Atoi(m[2] + m[3])
		n += way
		sign := ""
		if n < 0 {
			n, sign = -n, "-"
		}
		digits := fmt.Sprintf("%0*d", len(m[3])+1, n)
		at := len(digits) - len(m[3])
		return replaced(l, i, i+1, m[1]+sign+digits[:at]+"."+digits[at:]+l[i][len(m[0]):])
	}}
}

// isMotion tells whether a line is one of the program's moves.
func isMotion(line string) bool { return regexp.MustCompile(`^G[0-3] `).MatchString(line) }

// before is a mutant that puts a line in front of every so many moves.
func before(name, line string) mutant {
	return mutant{name: name, at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i, line)
	}}
}

// textMutants are the kinds of fault in a text.
var textMutants = []mutant{
	byStep("Z one step of the output up", "Z", 1),
	byStep("Z one step of the output down", "Z", -1),
	byStep("X one step off", "X", 1),
	byStep("Y one step off", "Y", -1),
	byStep("an arc's centre one step off", "I", 1),
	byStep("a feed one step faster", "F", 1),
	inLine("a sign lost", `^(G[0-3].*?[XYZIJ])-(0\.0*[1-9]|[1-9])`, "${1}${2}"),
	inLine("a sign that was not there", `^(G[0-3].*?[XYZIJ])(0\.0*[1-9]|[1-9])`, "${1}-${2}"),
	inLine("a decimal point lost", `^(G[0-3].*?[XYZIJ]-?[0-9]*)\.([0-9]*[1-9])`, "${1}${2}"),
	inLine("a decimal point a place on", `^(G[0-3].*?[XYZIJ]-?[0-9]*)\.([0-9])([0-9]*[1-9])`, "${1}${2}.${3}"),
	inLine("an exponent", `^(G1 [XYZ]-?[0-9.]+)`, "${1}E1"),
	inLine("an arc the other way", `^G2 `, "G3 "),
	inLine("an arc the other way, the other one", `^G3 `, "G2 "),
	inLine("an arc made straight", `^G[23] (.*?) I\S+ J\S+`, "G1 $1"),
	inLine("an arc's centre lost", `^(G[23].*?) I\S+ J\S+`, "${1}"),
	inLine("a feed made a rapid", `^G1 `, "G0 "),
	inLine("a rapid made a feed", `^G0 (.*)`, "G1 $1 F50.0"),
	{name: "a motion word lost", at: func(l []string, i int) []string {
		if i == 0 || !isMotion(l[i]) || !isMotion(l[i-1]) || l[i][:2] == l[i-1][:2] {
			return nil // the same would be in force
		}
		return replaced(l, i, i+1, l[i][3:])
	}},
	{name: "a feed lost", at: func(l []string, i int) []string {
		at := strings.Index(l[i], " F")
		if !isMotion(l[i]) || at < 0 {
			return nil
		}
		for k := i - 1; k >= 0; k-- {
			if was := strings.Index(l[k], " F"); isMotion(l[k]) && was > 0 {
				if l[k][was:] == l[i][at:] {
					return nil // the same is in force
				}
				break
			}
		}
		return replaced(l, i, i+1, l[i][:at])
	}},
	inLine("a feed in inches taken for mm", `F[0-9.]+`, "F2007.0"),
	inLine("axes exchanged, X for Y", `^(G[01] )X(\S+)$`, "${1}Y${2}"),
	inLine("Z together with a crossing", `^(G0 X\S+.*)`, "${1} Z-1.0000"),
	inLine("an axis twice", `^(G[01] )(X\S+)`, "${1}${2} ${2}"),
	inLine("a letter lost", `^(G[01] )X(\S+)`, "${1}${2}"),
	inLine("millimetres taken for inches", ` G21 `, " G20 "),
	inLine("inches taken for millimetres", ` G20 `, " G21 "),
	inLine("the plane changed", `^G17 `, "G18 "),
	inLine("the plane lost", `^G17 `, ""),
	inLine("increments", ` G90 `, " G91 "),
	inLine("G90 lost", ` G90`, ""),
	inLine("compensation on", ` G40 `, " G41 D1 "),
	inLine("G40 lost", ` G40`, ""),
	inLine("a length offset", ` G49 `, " G43 H1 "),
	inLine("G49 lost", ` G49`, ""),
	inLine("another zero", ` G54 `, " G55 "),
	inLine("G54 lost", ` G54`, ""),
	inLine("feeds as times", ` G94`, " G93"),
	inLine("G94 lost", ` G94`, ""),
	inLine("the units lost", ` G2[01]`, ""),
	inLine("the spindle's word lost", `^M3 S`, "S"),
	inLine("the spindle turns backwards", `^M3 `, "M4 "),
	{name: "the speed lost", at: func(l []string, i int) []string {
		// After a stop the speed of before would still be in force.
		if !strings.HasPrefix(l[i], "M3 S") || slices.ContainsFunc(l[:i], func(s string) bool { return strings.HasPrefix(s, "M3 S") }) {
			return nil
		}
		return replaced(l, i, i+1, "M3")
	}},
	inLine("the speed ten times", `^(M3 S.*)`, "${1}0"),
	inLine("the speed one off", `^(M3 S[0-9]*)[0-8]$`, "${1}9"),
	inLine("the dwell in the wrong unit", `^G4 P([0-9]+)\.([0-9]+)`, "G4 P${1}000.${2}"),
	inLine("the dwell lost", `^G4 P.*`, ""),
	inLine("the dwell's time lost", `^G4 P.*`, "G4"),
	inLine("the spindle's stop lost", `^M5$`, ""),
	inLine("the end lost", `^M2$`, ""),
	inLine("a pause for an end", `^M2$`, "M0"),
	inLine("a stray move behind the last", `^M5$`, "M5\nG0 Z-1."),
	inLine("a stray move in front of the end", `^M2$`, "G1 X0. Y0. Z-1. F50.\nM2"),
	inLine("a move behind the end", `^M2$`, "M2\nG1 Z-1. F50."),
	inLine("a comment that swallows a word", `^(G[0-3].*) ([XYZ]\S+ ?[^XYZ]*)$`, "${1} (${2})"),
	inLine("a comment that swallows the line", `^(G[0-3].*)`, "(${1})"),
	inLine("a comment that is not closed", `^(G[0-3].*)`, "( ${1}"),
	inLine("a switch may leave a line out", `^(G[0-3].*)`, "/${1}"),
	inLine("an expression", `^(G[01] [XYZ])-?([0-9.]+)`, "${1}[0-${2}]"),
	before("a pause", "M0"),
	before("coolant", "M8"),
	before("another tool", "T9 M6"),
	before("a shift of the zero", "G92 Z0."),
	before("home", "G28 Z0."),
	before("an early end", "M2"),
	before("a stray plunge", "G1 Z-50. F50."),
	before("another offset", "G43 H2"),
	{name: "a line lost", at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i+1)
	}},
	{name: "a line twice", at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i, l[i])
	}},
	{name: "two lines exchanged", at: func(l []string, i int) []string {
		if i == 0 || !isMotion(l[i]) || !isMotion(l[i-1]) || l[i] == l[i-1] {
			return nil
		}
		return replaced(l, i-1, i+1, l[i], l[i-1])
	}},
	{name: "a retract dropped", at: func(l []string, i int) []string {
		if i+1 >= len(l) || !regexp.MustCompile(`^G0 Z[0-9]`).MatchString(l[i]) || l[i+1] == "" {
			return nil
		}
		return replaced(l, i, i+1)
	}},
	{name: "a hole or a pass missing", at: func(l []string, i int) []string {
		if !strings.HasPrefix(l[i], "(") || i+1 >= len(l) || !isMotion(l[i+1]) {
			return nil
		}
		to := i + 1
		for to < len(l) && isMotion(l[to]) {
			to++
		}
		return replaced(l, i, to)
	}},
	{name: "the head tells another cutter", head: true, at: inLine("", `^(\(TOOL [0-9]+ .*?)([0-9])(\.[0-9]+ (MM|IN))`, "${1}${2}1${3}").at},
	{name: "the head tells another tool", head: true, at: inLine("", `^\(TOOL [0-9]+ `, "(TOOL 99 ").at},
	{name: "the head tells another speed", head: true, at: inLine("", `^(\(.*SPINDLE.* )([0-9]+) RPM`, "${1}9${2} RPM").at},
	{name: "the head tells another height to start from", head: true, at: inLine("", `^(\(START WITH THE CUTTER )`, "${1}9").at},
	{name: "the head tells another top of what holds the part", head: true, at: inLine("", `^(\(.* TOPS? )([0-9]+\.[0-9]+) `, "${1}9${2} ").at},
	{name: "the head tells a top on the other side of zero", head: true, at: inLine("", `^(\(.* TOPS? [0-9.]+) BELOW`, "${1} ABOVE").at},
	{name: "the head tells another place to touch off", head: true, at: inLine("", `^(\(TOUCH OFF ON METAL [0-9.]+ )RIGHT`, "${1}LEFT").at},
	{name: "the head tells another height of the touched face", head: true, at: inLine("", `^\(THE TOUCHED FACE IS HEIGHT ZERO`, "(THE TOUCHED FACE IS NOT ZERO SET HEIGHT 1.000 THERE").at},
	{name: "the head tells another bore for the zero", head: true, at: inLine("", `^\(ZERO IS THE CENTRE OF BORE `, "(ZERO IS THE CENTRE OF BORE UP").at},
	{name: "the head tells another reason of what is accepted", head: true, at: inLine("", `^\(ACCEPTED - `, "(ACCEPTED - NOT ").at},
	{name: "a stop tells something else to look at", head: true, at: inLine("", `^\(LOOK THE `, "(LOOK WHETHER THE ").at},
	{name: "the head tells another zero", head: true, at: inLine("", `^(\(ZERO IS )([0-9])`, "${1}9${2}").at},
	{name: "the head tells other units", head: true, at: func(l []string, i int) []string {
		switch l[i] {
		case "(UNITS ARE MM)":
			return replaced(l, i, i+1, "(UNITS ARE INCHES)")
		case "(UNITS ARE INCHES)":
			return replaced(l, i, i+1, "(UNITS ARE MM)")
		}
		return nil
	}},
	{name: "the head tells another job", head: true, at: inLine("", `^\(JOB [0-9]`, "(JOB ").at},
	{name: "the head tells another set-up", head: true, at: inLine("", `^\(SET-UP [0-9]+`, "(SET-UP 77").at},
	{name: "the head lost", head: true, at: func(l []string, i int) []string {
		if i > 0 {
			return nil
		}
		to := slices.IndexFunc(l, func(s string) bool { return !strings.HasPrefix(s, "(") })
		return replaced(l, 0, to, make([]string, to)...)
	}},
}
