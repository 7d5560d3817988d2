package unit

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// Quantity is a value with the text it was written as.
type Quantity struct {
	Kind Kind
	SI   float64 // in the unit of the kind, see the constants
	Text string  // as written
	Unit string  // the unit it was written in; "ft in" for parts, "R" for R-19, "" for none
}

// Error says what is wrong with a quantity text.
type Error struct {
	Kind   Kind
	Text   string // as written
	Column int    // where in Text, counted in characters from 1
	What   string // the problem with its value and what is known
	Hint   string // how to write it; may be empty
}

// Error gives place, problem and hint in one line.
func (e *Error) Error() string {
	s := fmt.Sprintf("%q, column %d: %s", e.Text, e.Column, e.What)
	if e.Hint != "" {
		s += "; hint: " + e.Hint
	}
	return s
}

// problem is an Error in the making; at is a byte offset.
type problem struct {
	at         int
	what, hint string
}

// Parse reads a quantity of the given kind, such as "12 ft 6 in" or "R-19".
// Its error is always an *Error.
func Parse(kind Kind, text string) (Quantity, error) {
	kind.about()
	si, name, bad := parse(kind, text)
	if bad != nil {
		return Quantity{}, &Error{
			Kind: kind, Text: text, What: bad.what, Hint: bad.hint,
			Column: 1 + utf8.RuneCountInString(text[:bad.at]),
		}
	}
	return Quantity{Kind: kind, SI: si, Text: text, Unit: name}, nil
}

func parse(kind Kind, text string) (si float64, name string, bad *problem) {
	if len(text) > longest {
		return 0, "", &problem{0, fmt.Sprintf("%d bytes are too long for %s, at most %d are read", len(text), kind.about().name, longest), writeHint(kind)}
	}
	at := skip(text, 0)
	body := strings.TrimRight(text, blanks)
	if at >= len(body) {
		return 0, "", &problem{0, "nothing is written here; " + kind.about().name + " is wanted", writeHint(kind)}
	}
	if kind == Resistance {
		if si, name, bad, ok := parseR(body, at); ok {
			return si, name, bad
		}
	}
	negative := strings.HasPrefix(body[at:], "-") || strings.HasPrefix(body[at:], "−")
	var last *entry
	var names []string
	for first := true; at < len(body); first = false {
		value, width, bad := scanNumber(body[at:])
		if bad != nil {
			bad.at += at
			return 0, "", bad
		}
		if width == 0 {
			return 0, "", noNumber(kind, body, at)
		}
		from := skip(body, at+width)
		if from >= len(body) && first {
			return bareNumber(kind, body[at:at+width], value, at)
		}
		unit, to, bad := unitAt(kind, body, from)
		if bad != nil {
			return 0, "", bad
		}
		if bad := follows(last, unit, value, body, at, to); bad != nil {
			return 0, "", bad
		}
		if negative && !first {
			value = -value
		}
		si += unit.toSI(value)
		last, names = unit, append(names, unit.name)
		at = skip(body, to)
		if builders(body, at) {
			at++
		}
	}
	if math.IsInf(si, 0) || math.IsNaN(si) {
		return 0, "", &problem{skip(text, 0), "too large a number", "write fewer digits or a larger unit"}
	}
	if kind == Temperature && si < absoluteZero-1e-9 {
		return 0, "", &problem{skip(text, 0), fmt.Sprintf("%s is below absolute zero, -273.15 degC", body), writeHint(kind)}
	}
	return si, strings.Join(names, " "), nil
}

// builders tells the dash of the drawing office, 12'-6", which is no minus.
func builders(text string, at int) bool {
	return at > 0 && at+1 < len(text) && text[at-1] == '\'' && text[at] == '-' && digit(rune(text[at+1]))
}

// follows checks a later part of 12 ft 6 in: no sign of its own, a smaller
// unit, and less than one of the unit before it.
func follows(before, unit *entry, value float64, text string, at, to int) *problem {
	if before == nil {
		return nil
	}
	part := strings.TrimSpace(text[at:to])
	switch {
	case strings.ContainsAny(part[:1], "+-") || strings.HasPrefix(part, "−"):
		return &problem{at, fmt.Sprintf("%s has a sign of its own", part), "write the sign once, before the first number"}
	case unit.num/unit.den >= before.num/before.den:
		return &problem{at, fmt.Sprintf("%s comes after %s", unit.name, before.name), "write the larger unit first, as '12 ft 6 in'"}
	case unit.toSI(value) >= before.num/before.den*(1-1e-12):
		return &problem{at, fmt.Sprintf("%s is not less than 1 %s", part, before.name), "carry it over to the larger unit"}
	}
	return nil
}

// parseR reads the trade's "R-19" (h ft2 degF/Btu) and "RSI 3.3" (m2 K/W).
func parseR(text string, at int) (si float64, name string, bad *problem, ok bool) {
	rest := text[at:]
	prefix := "R"
	switch {
	case len(rest) > 3 && strings.EqualFold(rest[:3], "RSI"):
		prefix = "RSI"
	case !strings.HasPrefix(rest, "R") && !strings.HasPrefix(rest, "r"):
		return 0, "", nil, false
	}
	from := at + len(prefix)
	if from < len(text) && text[from] == '-' {
		from++
	} else {
		from = skip(text, from)
	}
	if from >= len(text) || !digit(rune(text[from])) && text[from] != '.' {
		return 0, "", nil, false
	}
	value, width, bad := scanNumber(text[from:])
	if bad != nil {
		bad.at += from
		return 0, "", bad, true
	}
	if from+width != len(text) {
		return 0, "", &problem{from + width, fmt.Sprintf("%q after %s", text[from+width:], text[at:from+width]), "write 'R-19' or 'RSI 3.3' alone"}, true
	}
	unit, _ := lookup(Resistance, prefix)
	return unit.toSI(value), unit.name, nil, true
}

// unitAt finds the unit that starts at a byte, and where it ends: the rest of
// the text, or, where the kind comes in parts, the stretch before a further number.
func unitAt(kind Kind, text string, from int) (unit *entry, to int, bad *problem) {
	rest := text[from:]
	found, other := lookup(kind, rest)
	if found != nil {
		return found, len(text), nil
	}
	if other == nil && kind.about().parts { // 6 m2 is an area, not 6 m and a bare 2
		for i := 1; i < len(rest); i++ {
			if !startsNumber(rest[i:]) {
				continue
			}
			if found, _ := lookup(kind, rest[:i]); found != nil {
				return found, from + i, nil
			}
		}
	}
	return nil, 0, wrongUnit(kind, text, from, other)
}

// startsNumber is true at a digit, or at a point or sign right before one.
func startsNumber(text string) bool {
	if strings.ContainsRune(".+-", rune(text[0])) {
		text = text[1:]
	}
	return text != "" && digit(rune(text[0]))
}

func wrongUnit(kind Kind, text string, from int, other *entry) *problem {
	if from >= len(text) {
		return &problem{from, "the last number has no unit; known: " + known(kind), writeHint(kind)}
	}
	written := text[from:]
	if kind.about().parts {
		written = firstUnit(written)
		_, other = lookup(kind, written)
	}
	if other != nil {
		p := &problem{from, fmt.Sprintf("%s is %s, here %s is wanted", written, other.kind.about().name, kind.about().name), writeHint(kind)}
		if kind == TemperatureDifference && other.kind == Temperature {
			p.what = fmt.Sprintf("%s is a level of temperature, here a difference is wanted", written)
			p.hint = fmt.Sprintf("write 'delta_%s', or K", other.name)
		}
		return p
	}
	p := &problem{from, fmt.Sprintf("unknown %s unit %q; known: %s", kind, written, known(kind)), writeHint(kind)}
	if len(kind.Units()) == 1 && kind.Units()[0] == "" {
		p.what = fmt.Sprintf("%q after %s, which has no unit", written, kind.about().name)
	}
	if near, ok := Nearest(written, spellings(kind)); ok {
		if e, _ := lookup(kind, near); e != nil && e.name != "" {
			p.hint = fmt.Sprintf("did you mean %q?", e.name)
		}
	}
	return p
}

// spellings lists what a writer may have meant: the units of a kind, and the words for them.
func spellings(kind Kind) []string {
	var list []string
	for i := range units {
		if units[i].kind != kind {
			continue
		}
		list = append(append(list, units[i].name), units[i].also...)
		for _, w := range words {
			if w.symbol == units[i].name {
				list = append(list, w.others...)
			}
		}
	}
	return list
}

func known(kind Kind) string {
	names := kind.Units()
	if n := len(names); names[n-1] == "" {
		names[n-1] = "no unit"
	}
	return strings.Join(names, ", ")
}

// firstUnit cuts off where a further number starts.
func firstUnit(text string) string {
	for i := 1; i < len(text); i++ {
		if digit(rune(text[i])) && text[i-1] == ' ' {
			return strings.TrimRight(text[:i], blanks)
		}
	}
	return text
}

func noNumber(kind Kind, text string, at int) *problem {
	rest := text[at:]
	lower := strings.ToLower(strings.TrimLeft(rest, "+-."))
	if strings.HasPrefix(lower, "nan") || strings.HasPrefix(lower, "inf") {
		return &problem{at, fmt.Sprintf("%s is not a finite number", rest), writeHint(kind)}
	}
	return &problem{at, fmt.Sprintf("%q is not %s", rest, kind.about().name), writeHint(kind)}
}

// bareNumber settles a number without a unit.
func bareNumber(kind Kind, written string, v float64, at int) (si float64, name string, bad *problem) {
	switch {
	case !kind.about().bare:
		return 0, "", &problem{at, fmt.Sprintf("%s has no unit; known: %s", written, known(kind)), writeHint(kind)}
	case kind == Share && (v < 0 || v > 1):
		return 0, "", &problem{at, fmt.Sprintf("%s is not a share from 0 to 1", written), fmt.Sprintf("write '%s %%' if per cent are meant", written)}
	case kind == Count && (v != math.Trunc(v) || math.Abs(v) > 1e15):
		return 0, "", &problem{at, fmt.Sprintf("%s is not a whole number", written), writeHint(kind)}
	}
	return v, "", nil
}

func writeHint(kind Kind) string {
	if kind.about().bare {
		return "write a number, such as " + kind.about().example
	}
	return "write a number and a unit, such as " + kind.about().example
}

const longest = 200 // bytes of a quantity text; the parts search is quadratic in it

const absoluteZero = -273.15 // [°C], exact

const blanks = " \t\u00a0\u202f"

// skip returns the first byte at or after at that is not blank.
func skip(text string, at int) int {
	return len(text) - len(strings.TrimLeft(text[at:], blanks))
}
