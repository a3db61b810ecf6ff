package form

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// kinds is how each kind is called, what one looks like in a file, and for a
// list what it is a list of. The examples show the form, not a figure to use.
var kinds = [...]struct {
	name    string
	example string
	of      Kind
}{
	Text:    {"text", `"..."`, Text},
	Word:    {"word", `"..."`, Word},
	Length:  {"length", `"12 mm"`, Length},
	Size:    {"length", `"12 mm"`, Size},
	Angle:   {"angle", `"30 deg"`, Angle},
	Feed:    {"feed", `"150 mm/min"`, Feed},
	Speed:   {"speed", `"1200 rpm"`, Speed},
	Surface: {"cutting speed", `"25 m/min"`, Surface},
	Time:    {"time", `"3 s"`, Time},
	Lead:    {"lead", `"8 TPI"`, Lead},
	Rate:    {"rate", `"0.02 mm in 300 mm"`, Rate},
	Count:   {"whole number", `3`, Count},
	Number:  {"number", `62.5`, Number},
	Flag:    {"flag", `true`, Flag},
	Lengths: {"list of lengths", `["12 mm", "12 mm"]`, Length},
	Speeds:  {"list of speeds", `["1200 rpm", "1200 rpm"]`, Speed},
	Counts:  {"list of whole numbers", `[1, 2]`, Count},
	Sub:     {"table", ``, Sub},
	Subs:    {"list of tables", ``, Subs},
}

// shown is the value as a message names it.
func (v *value) shown() string {
	switch v.shape {
	case isTable:
		return "a table"
	case isTables, isList:
		return "a list"
	case isText:
		return quoted(v.text)
	case isDate:
		return "the date " + cut(v.raw, shownValue)
	}
	return cut(v.raw, shownValue)
}

// single reads one value of the kind (the key's own, or that of its list's
// items) and holds it against the key's bounds.
func (d *document) single(n *Node, k *Key, kind Kind, v *value) (any, error) {
	switch kind {
	case Text:
		if v.shape != isText {
			return nil, v.noText()
		}
		return v.text, nil
	case Word:
		if v.shape != isText {
			return nil, v.noText()
		}
		return v.text, choice(v.text, k.choices(n.table))
	case Flag:
		if v.shape != isFlag {
			return nil, fmt.Errorf("%s is neither true nor false: write one of them, without quotes", v.shown())
		}
		return v.raw == "true", nil
	case Count:
		if err := v.whole(); err != nil {
			return nil, err
		}
	}
	text, err := v.figure(kind)
	if err != nil {
		return nil, err
	}
	x, err := parse(kind, text, d.bare)
	if err != nil {
		return nil, err
	}
	return x, d.bounds(k, kind, v, text, x)
}

func (v *value) noText() error {
	switch v.shape {
	case isInteger, isDecimal, isFlag, isDate:
		return fmt.Errorf("%s is no text: write it in quotes, %q", v.shown(), cut(v.raw, shownValue))
	}
	return fmt.Errorf("%s where text belongs: write it in quotes", v.shown())
}

// whole refuses what is no plain whole number.
func (v *value) whole() error {
	switch v.shape {
	case isInteger:
		return nil
	case isText:
		if _, err := strconv.ParseInt(v.text, 10, 64); err == nil {
			return fmt.Errorf("%s has quotes: write %s without them", quoted(v.text), v.text)
		}
	}
	return fmt.Errorf("%s is no whole number: write one such as 3", v.shown())
}

// figure is the text of a number or a quantity, as a person would write it.
func (v *value) figure(kind Kind) (string, error) {
	switch v.shape {
	case isText:
		return v.text, nil
	case isInteger, isDecimal:
		return plainNumber(v.raw)
	}
	return "", fmt.Errorf("%s is no %s: write one such as %s", v.shown(), kinds[kind].name, kinds[kind].example)
}

// plainNumber is a TOML number without underscores and plus sign. Other bases
// and exponents are refused, so that no figure of a job needs working out.
func plainNumber(raw string) (string, error) {
	s := strings.ReplaceAll(raw, "_", "")
	s = strings.TrimPrefix(s, "+")
	if len(s) > 1 && s[0] == '0' && strings.IndexByte("xob", s[1]) >= 0 {
		if n, err := strconv.ParseInt(s, 0, 64); err == nil {
			return "", fmt.Errorf("%s is not a plain number: write %d", cut(raw, shownValue), n)
		}
	}
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		if plain := expanded(s[:i], s[i+1:]); plain != "" {
			return "", fmt.Errorf("%s has an exponent: write %s", cut(raw, shownValue), plain)
		}
		return "", fmt.Errorf("%s has an exponent: write the number out", cut(raw, shownValue))
	}
	return s, nil
}

// expanded is a number with an exponent written out; "" where it is long.
func expanded(digits, exponent string) string {
	n, err := strconv.Atoi(exponent)
	if err != nil || n < -9 || n > 9 || len(digits) > 20 {
		return ""
	}
	r, ok := new(big.Rat).SetString(digits + "e" + exponent)
	if !ok {
		return ""
	}
	s := r.FloatString(9 + 20) // more places than it can have
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// parse reads the text of one figure.
func parse(kind Kind, text string, bare measure.Unit) (any, error) {
	v, err := figure(kind, text, bare)
	if errors.As(err, new(measure.Unitless)) {
		err = fmt.Errorf(`%w, or give the file units = "mm" or "in"`, err)
	}
	return v, err
}

func figure(kind Kind, text string, bare measure.Unit) (any, error) {
	switch kind {
	case Length:
		return measure.ParseLength(text, bare)
	case Size:
		return measure.ParseSize(text, bare)
	case Angle:
		return measure.ParseAngle(text)
	case Feed:
		return measure.ParseFeed(text, bare)
	case Speed:
		return measure.ParseSpeed(text)
	case Surface:
		return measure.ParseSurface(text)
	case Time:
		return measure.ParseTime(text)
	case Lead:
		return measure.ParseLead(text)
	case Rate:
		return measure.ParseRate(text)
	case Number:
		return measure.ParseNumber(text)
	case Count:
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			return nil, errors.New("the number is too large to hold")
		}
		return n, nil
	}
	panic(fmt.Sprintf("form: kind %d is no figure", kind))
}

// bounds holds a figure against the key's bounds.
func (d *document) bounds(k *Key, kind Kind, v *value, text string, x any) error {
	if d.lost {
		return nil
	}
	shown := v.shown()
	if v.shape != isText && (kind == Length || kind == Size) {
		shown += " " + d.bare.String()
	}
	if k.Above != "" && compare(x, k.bound(kind, k.Above)) <= 0 {
		return fmt.Errorf("%s is too little: write more than %s", shown, k.Above)
	}
	if k.Min != "" && compare(x, k.bound(kind, k.Min)) < 0 {
		return fmt.Errorf("%s is less than %s: write %s or more", shown, k.Min, k.Min)
	}
	if k.Max != "" && compare(x, k.bound(kind, k.Max)) > 0 {
		return fmt.Errorf("%s is more than %s: write %s or less", shown, k.Max, k.Max)
	}
	return nil
}

// bound is a bound of the key; Size bounds need not halve.
func (k *Key) bound(kind Kind, text string) any {
	if kind == Size {
		kind = Length
	}
	x, err := parse(kind, text, measure.NoUnit)
	if err != nil {
		panic(fmt.Sprintf("form: bound %q of %s: %s", text, k.Name, err))
	}
	return x
}

// compare is -1, 0 or 1 for two figures of one kind, exactly.
func compare(a, b any) int {
	switch a := a.(type) {
	case measure.Length:
		return order(a, b.(measure.Length))
	case measure.Angle:
		return order(a, b.(measure.Angle))
	case measure.Feed:
		return order(a, b.(measure.Feed))
	case measure.Speed:
		return order(a, b.(measure.Speed))
	case measure.SurfaceSpeed:
		return order(a, b.(measure.SurfaceSpeed))
	case measure.Time:
		return order(a, b.(measure.Time))
	case int64:
		return order(a, b.(int64))
	case measure.Ratio:
		b := b.(measure.Ratio)
		return big.NewRat(a.Num, a.Den).Cmp(big.NewRat(b.Num, b.Den))
	}
	panic(fmt.Sprintf("form: %T has no order", a))
}

func order[T ~int64](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// together is the items of a list as a slice of their type.
func together(kind Kind, values []any) any {
	switch kind {
	case Length:
		return slice[measure.Length](values)
	case Speed:
		return slice[measure.Speed](values)
	case Count:
		return slice[int64](values)
	}
	panic(fmt.Sprintf("form: no list of kind %d", kind))
}

func slice[T any](values []any) []T {
	s := make([]T, len(values))
	for i, v := range values {
		s[i] = v.(T)
	}
	return s
}

// choices are the words that a Word key of the table takes.
func (k *Key) choices(t *Table) []string {
	if len(k.Choices) > 0 || t == nil || t.By != k.Name {
		return k.Choices
	}
	var names []string
	for name := range t.Variants {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// parseDefault is the default's value.
func (k *Key) parseDefault(bare measure.Unit) (any, error) {
	switch k.Kind {
	case Text, Word:
		return k.Default, nil
	case Flag:
		return strconv.ParseBool(k.Default)
	case Lengths, Speeds, Counts:
		var values []any
		for _, text := range strings.Split(k.Default, ",") {
			x, err := parse(kinds[k.Kind].of, strings.TrimSpace(text), bare)
			if err != nil {
				return nil, err
			}
			values = append(values, x)
		}
		return together(kinds[k.Kind].of, values), nil
	case Sub, Subs:
		return nil, errors.New("a table has no default")
	}
	return parse(k.Kind, k.Default, bare)
}
