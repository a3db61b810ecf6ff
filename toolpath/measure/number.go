package measure

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode/utf8"
)

// maxText bounds every text that is read, in characters. The longest honest
// one is a sum of some five lengths.
const maxText = 100

// Bounds of [ParseNumber]. They leave a lead that was read over a number that
// was read within 63 bits above and below the line: see [Ratio.Over].
const (
	maxNumber    = 1_000_000
	maxNumberDen = 100_000
)

// ParseNumber reads an exact number without a unit, as "62.5", "125/2" or
// "62-1/2": from 0 to 1 000 000, with at most 100 000 below the line when it is
// in lowest terms.
func ParseNumber(text string) (Ratio, error) {
	const example = "62.5"
	s, err := prepare(text, example)
	if err != nil {
		return Ratio{}, err
	}
	n, rest, err := readNumber(s, example)
	if err != nil {
		return Ratio{}, err
	}
	if rest != "" {
		return Ratio{}, fmt.Errorf("%s is followed by %q: write a number alone, as %s", n, short(rest), example)
	}
	if n.neg && n.mag.Sign() != 0 {
		return Ratio{}, fmt.Errorf("%s is below nought: write %s", n, n.bare())
	}
	if n.mag.Cmp(big.NewRat(maxNumber, 1)) > 0 {
		return Ratio{}, fmt.Errorf("%s is too large: write a number up to %d", n, maxNumber)
	}
	if n.mag.Denom().Cmp(big.NewInt(maxNumberDen)) > 0 {
		return Ratio{}, fmt.Errorf("%s is too fine: write at most %d below the line, or up to 5 decimals", n, maxNumberDen)
	}
	return Ratio{n.mag.Num().Int64(), n.mag.Denom().Int64()}, nil
}

// number is a number as it was written.
type number struct {
	text   string // with its sign
	signed bool   // whether a sign was written
	neg    bool
	mag    *big.Rat // without the sign
}

// String is the number as it was written, cut short.
func (n number) String() string { return short(n.text) }

// bare is the number without its sign, for advice.
func (n number) bare() string { return short(strings.TrimLeft(n.text, "+-")) }

// short cuts a text for an error; one of any size costs no more than a short
// one.
func short(s string) string {
	const most, kept = 28, 24
	count, cut := 0, 0
	for i := range s {
		if count == kept {
			cut = i
		}
		if count++; count > most {
			return s[:cut] + "..."
		}
	}
	return s
}

// advice is what to write instead of a character that is not read.
var advice = map[rune]string{
	'½': "write 1/2", '¼': "write 1/4", '¾': "write 3/4", '⅛': "write 1/8",
	'⅜': "write 3/8", '⅝': "write 5/8", '⅞': "write 7/8", '⅓': "write 1/3", '⅔': "write 2/3",
	'⁄': "write /", '−': "write -", '–': "write -", '—': "write -", '‐': "write -", '‑': "write -",
	'″': `write in or "`, '”': `write in or "`, '“': `write in or "`,
	'′': "write '", '’': "write '", '‘': "write '", '°': "write deg", 'º': "write deg",
	'\u00a0': "write a plain space", '\u202f': "write a plain space", '\u2009': "write a plain space",
	'٫': "write a point", '\n': "write it on one line", '\r': "write it on one line",
}

// prepare bounds a text and takes off the spaces around it. What it gives is
// printable: ASCII and the two letters mu.
func prepare(text, example string) (string, error) {
	if len(text) > maxText*utf8.UTFMax || utf8.RuneCountInString(text) > maxText {
		return "", fmt.Errorf("%q is too long: write at most %d characters, as %s", short(text), maxText, example)
	}
	for _, r := range text {
		if r == 'µ' || r == 'μ' || r == '\t' || (r >= ' ' && r < 0x7f) {
			continue
		}
		do, ok := advice[r]
		if !ok {
			do = "write " + example
		}
		return "", fmt.Errorf("the character %q is not read: %s", r, do)
	}
	s := strings.Trim(strings.ReplaceAll(text, "\t", " "), " ")
	if s == "" {
		return "", errors.New("nothing is written: write " + example)
	}
	return s, nil
}

const (
	digits      = "0123456789"
	numberMarks = digits + ".,_/"
)

// take is the start of s that is made of the given characters only.
func take(s, of string) string { return s[:len(s)-len(strings.TrimLeft(s, of))] }

func isDigit(s string) bool  { return s != "" && s[0] >= '0' && s[0] <= '9' }
func isSign(s string) bool   { return s != "" && (s[0] == '+' || s[0] == '-') }
func isDigits(s string) bool { return s != "" && take(s, digits) == s }

// readNumber reads the number that s begins with: a decimal, a fraction or a
// mixed number ("1-1/2", "1 1/2"), with at most one sign in front. The rest
// keeps its leading space, and never begins with what could belong to the
// number.
func readNumber(s, example string) (n number, rest string, err error) {
	body := s
	if isSign(s) {
		n.signed, n.neg, body = true, s[0] == '-', s[1:]
		if isSign(body) {
			return n, "", fmt.Errorf("%s has two signs: write one", short(s))
		}
		if strings.HasPrefix(body, " ") {
			return n, "", fmt.Errorf("the %c stands away from its number: write it close, as %c%s", s[0], s[0], example)
		}
	}
	run := take(body, numberMarks)
	if run == "" {
		return n, "", fmt.Errorf("%q does not begin with a number: write %s", short(s), example)
	}
	n.mag, err = readRun(run)
	if err != nil {
		return n, "", err
	}
	end := len(run)
	after := body[end:]
	tail := strings.TrimLeft(after, " ")
	spaced := len(tail) < len(after)
	switch {
	case take(tail, numberMarks) != "": // a gap, as run took all it could
		second := take(tail, numberMarks)
		n.mag, err = mixed(run, " ", second)
		end = len(body) - len(tail) + len(second)
	case !spaced && isSign(tail) && len(tail) > 1 && tail[1] != ' ':
		second := take(tail[1:], numberMarks)
		if tail[0] != '-' || !isDigit(second) {
			return n, "", fmt.Errorf("%s has a sign inside: write a mixed number as 1-1/2", short(body))
		}
		n.mag, err = mixed(run, "-", second)
		end += 1 + len(second)
	case spaced && isSign(tail) && len(tail) > 1 && tail[1] != ' ':
		return n, "", fmt.Errorf("%s can be read two ways: write a mixed number as 1-1/2, without spaces", short(body))
	case len(tail) > 1 && !spaced && (tail[0] == 'e' || tail[0] == 'E') && (isDigit(tail[1:]) || isSign(tail[1:])):
		return n, "", fmt.Errorf("%s has an exponent: write the number out", short(body))
	}
	if err != nil {
		return n, "", err
	}
	n.text = s[:len(s)-len(body)+end]
	return n, body[end:], nil
}

// readRun reads a decimal or a fraction without a sign: one run of digits and
// marks.
func readRun(run string) (*big.Rat, error) {
	r := short(run)
	switch {
	case strings.Contains(run, ","):
		whole, part, _ := strings.Cut(run, ",")
		if isDigits(whole) && isDigits(part) {
			if strings.HasPrefix(strings.TrimLeft(whole, "+-"), "0") { // nought thousand is no figure
				return nil, fmt.Errorf("%s has a comma: write %s", r, short(trimZeros(whole+"."+part)))
			}
			return nil, fmt.Errorf("%s has a comma: write %s or %s", r, short(trimZeros(whole+"."+part)), short(whole+part))
		}
		return nil, fmt.Errorf("%s has a comma: write a point before decimals and no mark between thousands", r)
	case strings.Contains(run, "_"):
		return nil, fmt.Errorf("%s has an underscore: write the digits without a mark between them", r)
	}
	above, below, fraction := strings.Cut(run, "/")
	if !fraction {
		return readDecimal(run)
	}
	switch {
	case strings.Contains(below, "/"):
		return nil, fmt.Errorf("%s has two lines: write one fraction, as 3/16", r)
	case above == "":
		return nil, fmt.Errorf("%s has nothing above the line: write a fraction as 3/16", r)
	case below == "":
		return nil, fmt.Errorf("%s has nothing below the line: write a fraction as 3/16", r)
	case !isDigits(above) || !isDigits(below):
		whole, part, _ := strings.Cut(above, ".")
		if isDigits(whole) && isDigits(part) && isDigits(below) {
			return nil, fmt.Errorf("%s has a point in its fraction: did you mean %s?", r, short(whole+"-"+part+"/"+below))
		}
		return nil, fmt.Errorf("%s has a point in its fraction: write whole numbers above and below the line", r)
	}
	a, b := integer(above), integer(below)
	if b.Sign() == 0 {
		return nil, fmt.Errorf("%s divides by nought: write another number below the line", r)
	}
	return new(big.Rat).SetFrac(a, b), nil
}

func readDecimal(run string) (*big.Rat, error) {
	whole, part, point := strings.Cut(run, ".")
	switch {
	case strings.Contains(part, "."):
		return nil, fmt.Errorf("%s has two points: write one", short(run))
	case point && part == "" && whole == "":
		return nil, errors.New("a point alone is no number: write 0")
	case point && part == "":
		return nil, fmt.Errorf("%s has nothing behind its point: write %s or %s0", short(run), short(whole), short(run))
	}
	below := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(part))), nil)
	return new(big.Rat).SetFrac(integer(whole+part), below), nil
}

// integer is the value of a text of digits, of which there is at least one.
func integer(text string) *big.Int {
	n, ok := new(big.Int).SetString(text, 10)
	if !ok {
		panic("measure: not digits: " + text)
	}
	return n
}

// mixed is a whole number and a proper fraction that stand together.
func mixed(first, join, second string) (*big.Rat, error) {
	all := short(first + join + second)
	if !isDigits(first) {
		return nil, fmt.Errorf("%s is two numbers: write one; only a whole number stands before a fraction, as in 1-1/2", all)
	}
	above, below, fraction := strings.Cut(second, "/")
	switch {
	case !fraction && join == " ":
		return nil, fmt.Errorf("%s has a gap: write %s, or a mixed number as 1-1/2", all, short(first+second))
	case !fraction:
		return nil, fmt.Errorf("%s is not a number: write a mixed number as 1-1/2", all)
	}
	part, err := readRun(second)
	if err != nil {
		return nil, err
	}
	whole := integer(first)
	sum := new(big.Rat).Add(new(big.Rat).SetInt(whole), part)
	if a, b := integer(above), integer(below); a.Cmp(b) >= 0 {
		q, m := new(big.Int).QuoRem(a, b, new(big.Int))
		q.Add(q, whole)
		proper := q.String()
		if m.Sign() != 0 {
			proper += "-" + m.String() + "/" + b.String()
		}
		return nil, fmt.Errorf("%s is not proper, as %s is not below 1: write %s", all, short(second), short(proper))
	}
	return sum, nil
}

// trimZeros takes the noughts off the end of a decimal, and its point where
// nothing is left behind it.
func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
