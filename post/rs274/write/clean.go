package write

import (
	"strings"
	"unicode"
)

// Clean makes text fit for a comment: capitals, digits, spaces, full stops and
// minus signs, and nothing that reads like a word of the language. A controller
// may act on a sign, and a sender on a code, even inside a comment.
//
// No letter stands right before a number, and no letter stands alone: M3 becomes
// METRIC 3, T-SLOT becomes TSLOT, an X between two figures BY, an article is
// left out, and any other lone letter is doubled (BORE A is BORE AA), so that
// two names stay two. A fraction 3/16 becomes 3 OVER 16. Cleaning twice changes
// nothing more.
func Clean(text string) string {
	return join(spell(tidy(scan(plain(text)))))
}

// accented letters, by the plain letter that stands for them.
var accents = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'µ': "u", 'μ': "u", '×': "x"}
	for plain, letters := range map[string]string{
		"a": "àáâãäåā", "c": "çćč", "e": "èéêëēę", "i": "ìíîïī", "l": "ł", "n": "ñńň",
		"o": "òóôõöōő", "s": "śš", "u": "ùúûüūű", "y": "ýÿ", "z": "źżž",
	} {
		for _, r := range letters {
			m[r] = plain
		}
	}
	return m
}()

// plain maps text to letters, digits, spaces, full stops and minus signs.
func plain(text string) string {
	runes := []rune(text)
	at := func(i int) rune {
		if i < 0 || i >= len(runes) {
			return ' '
		}
		return runes[i]
	}
	var b strings.Builder
	for i, r := range runes {
		switch {
		case isLetter(r) || isDigit(r) || r == '.' || r == '-':
			b.WriteRune(r)
		case r == '−' || r == '–' || r == '—' || r == '‐' || r == '‑':
			b.WriteByte('-')
		case r == '/' && isDigit(at(i-1)) && isDigit(at(i+1)):
			b.WriteString(" OVER ")
		case r == '%' && isDigit(at(i-1)):
			b.WriteString(" PERCENT ")
		case r == '°':
			b.WriteString(" DEG ")
		case r == 'ø' || r == 'Ø' || r == '⌀':
			b.WriteString(" DIA ")
		case (r == '\'' || r == '’') && isLetter(at(i-1)) && isLetter(at(i+1)):
			// the two halves of DON'T stay together
		default:
			p, ok := accents[unicode.ToLower(r)]
			switch {
			case !ok:
				p = " "
			case unicode.IsUpper(r):
				p = strings.ToUpper(p)
			}
			b.WriteString(p)
		}
	}
	return b.String()
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }
func isDigit(r rune) bool  { return r >= '0' && r <= '9' }

// token is a run of letters, a number, a full stop or a minus sign.
type token struct {
	kind byte // 'a', '0', '.' or '-'
	text string
	gap  bool // a space stands before it
}

func (t token) letters() bool { return t.kind == 'a' }
func (t token) number() bool  { return t.kind == '0' }
func (t token) lone() bool    { return t.kind == 'a' && len(t.text) == 1 }

// scan cuts plain text into tokens. A number has at most one point, and digits
// on both sides of it: .5 becomes 0.5.
func scan(s string) []token {
	at := func(i int) rune {
		if i < 0 || i >= len(s) {
			return ' '
		}
		return rune(s[i])
	}
	var out []token
	gap := false
	for i := 0; i < len(s); {
		from, t := i, token{gap: gap}
		switch c := at(i); {
		case c == ' ':
			gap = true
			i++
			continue
		case isLetter(c):
			for isLetter(at(i)) {
				i++
			}
			t.kind, t.text = 'a', s[from:i]
		case isDigit(c), c == '.' && isDigit(at(i+1)) && !isLetter(at(i-1)) && !isDigit(at(i-1)):
			for isDigit(at(i)) {
				i++
			}
			if at(i) == '.' && isDigit(at(i+1)) {
				for i++; isDigit(at(i)); i++ {
				}
			}
			t.kind, t.text = '0', s[from:i]
			if c == '.' {
				t.text = "0" + t.text
			}
		default:
			t.kind, t.text = byte(c), s[i:i+1]
			i++
		}
		gap = false
		out = append(out, t)
	}
	return out
}

// tidy drops full stops that end nothing and repeated minus signs, and puts
// spaces where a letter would touch a number or a full stop what follows it.
func tidy(in []token) []token {
	var out []token
	gap := false // a space is owed by what was dropped
	for _, t := range in {
		t.gap = t.gap || gap
		gap = false
		var last token
		if len(out) > 0 {
			last = out[len(out)-1]
		}
		switch {
		case t.kind == '.' && !last.letters() && !last.number():
			gap = true
			continue
		case t.kind == '.':
			t.gap = false
		case last.kind == '.':
			t.gap = true
		case t.kind == '-' && last.kind == '-':
			gap = t.gap
			continue
		case t.number() && last.letters():
			t.gap = true
		case t.number() && !t.gap && last.kind == '-' && !last.gap && len(out) > 1 && out[len(out)-2].letters():
			out = out[:len(out)-1] // UP-1 is UP 1
			t.gap = true
		}
		out = append(out, t)
	}
	return out
}

// spell turns letters into capitals and words that read like code into others.
func spell(in []token) []token {
	// T-SLOT first: it makes one word of three tokens.
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		glued := i > 0 && in[i-1].number() && !t.gap
		if t.lone() && !glued && i+2 < len(in) && in[i+1].kind == '-' && !in[i+1].gap &&
			in[i+2].letters() && !in[i+2].lone() && !in[i+2].gap {
			t.text += in[i+2].text
			i += 2
		}
		out = append(out, t)
	}
	in, out = out, nil
	for i, t := range in {
		var last, next token
		if i > 0 {
			last = in[i-1]
		}
		if i+1 < len(in) {
			next = in[i+1]
		}
		if !t.letters() {
			out = append(out, t)
			continue
		}
		article := t.text == "a" && next.letters() && next.gap && (t.gap || i == 0)
		t.text = strings.ToUpper(t.text)
		glued := last.number() && !t.gap
		switch {
		case t.text == "MSG": // a message to the operator in some readers
			t.text = "MESSAGE"
		case !t.lone() || glued && !numberAhead(in[i+1:]):
		case article:
			continue
		case t.text == "X" && next.number() && isFigure(last):
			t.text, t.gap = "BY", true
		case t.text == "M" && next.number() && !glued:
			t.text, t.gap = "METRIC", true
		default:
			t.text += t.text
		}
		out = append(out, t)
	}
	return out
}

// isFigure tells whether a token ends a figure, as 20 or 20 mm do.
func isFigure(t token) bool {
	if t.number() {
		return true
	}
	switch strings.ToUpper(t.text) {
	case "MM", "IN", "THOU", "UM":
		return true
	}
	return false
}

// numberAhead tells whether a number comes next, signs and stops passed over.
func numberAhead(in []token) bool {
	for _, t := range in {
		if t.number() || t.letters() {
			return t.number()
		}
	}
	return false
}

func join(in []token) string {
	var b strings.Builder
	said := false
	for _, t := range in {
		if t.gap && b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
		said = said || t.letters() || t.number()
	}
	if !said {
		return ""
	}
	return b.String()
}
