package unit

import (
	"slices"
	"strings"
	"sync"
)

// canonical reduces the ways one unit is written to a single spelling: factors
// in alphabetical order, those under the stroke after "/". So "W/(m K)", "W/m·K",
// "W m-1 K-1" and "watts per metre kelvin" are one. It returns false for text that
// is not made of unit symbols, or has brackets that do not match.
//
// As the trade writes it, everything after a stroke is below it: W/m K is W/(m K).
func canonical(text string) (string, bool) {
	var top, bottom []string
	below, power, open := false, "", 0
	add := func(symbol string) {
		if symbol == "" || symbol == "1" {
			return
		}
		switch lower := strings.ToLower(symbol); lower {
		case "per":
			below = true
			return
		case "sq", "square":
			power = "2"
			return
		case "cu", "cubic":
			power = "3"
			return
		}
		symbol, negative := exponent(symbol)
		symbol = spelled(symbol) + power
		power = ""
		if below != negative {
			bottom = append(bottom, symbol)
		} else {
			top = append(top, symbol)
		}
	}
	var b strings.Builder
	flush := func() { add(b.String()); b.Reset() }
	runes := []rune(plain.Replace(text))
	for i, r := range runes {
		switch {
		case r == '/':
			flush()
			below = true
		case r == '(':
			flush()
			open++
		case r == ')':
			flush()
			if open--; open < 0 {
				return "", false
			}
		case r == ' ' || r == '*' || r == '.':
			flush()
		case r == '-' && (i+1 == len(runes) || !digit(runes[i+1])):
			flush()
		case r == '\'' || r == '"' || r == '%':
			flush()
			add(string(r))
		case r == '-' || r == '_' || digit(r) || letter(r):
			b.WriteRune(r)
		default:
			return "", false
		}
	}
	flush()
	if open != 0 || power != "" || len(top)+len(bottom) == 0 {
		return "", false
	}
	if len(top)+len(bottom) > 1 {
		differences(top)
		differences(bottom)
	}
	slices.Sort(top)
	slices.Sort(bottom)
	key := strings.Join(top, " ")
	if len(bottom) > 0 {
		key += "/" + strings.Join(bottom, " ")
	}
	return key, true
}

// plain turns typographic signs into the ones on a keyboard.
var plain = strings.NewReplacer(
	"²", "2", "³", "3", "⁻¹", "-1", "⁻²", "-2", "⁻³", "-3", "^", "", "−", "-",
	"°", "deg", "·", " ", "⋅", " ", "×", " ", "\t", " ", "\u00a0", " ", "\u202f", " ",
	"′", "'", "’", "'", "″", `"`, "”", `"`)

func digit(r rune) bool  { return r >= '0' && r <= '9' }
func letter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }

// exponent splits the sign off a power: "m-2" is m2 below the stroke.
func exponent(symbol string) (string, bool) {
	base, power, negative := strings.Cut(symbol, "-")
	if !negative {
		return symbol, false
	}
	if power == "1" {
		power = ""
	}
	return base + power, true
}

// differences replaces the levels of temperature inside a compound by steps:
// there W/(m degC) is W/(m K).
func differences(symbols []string) {
	for i, s := range symbols {
		switch s {
		case "degC", "delta_degC":
			symbols[i] = "K"
		case "delta_degF":
			symbols[i] = "degF"
		}
	}
}

// spelled gives the symbol of a word: "feet" is ft. A trailing power is kept.
func spelled(symbol string) string {
	known := dictionary()
	if s, ok := known[symbol]; ok {
		return s
	}
	base := strings.TrimRight(symbol, "23")
	power := symbol[len(base):]
	if s, ok := known[base]; ok {
		return s + power
	}
	if len(base) >= 3 {
		if s, ok := known[strings.ToLower(base)]; ok {
			return s + power
		}
	}
	return symbol
}

// dictionary maps every written word to its symbol; long words also in lower case.
var dictionary = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, w := range words {
		for _, o := range append([]string{w.symbol}, w.others...) {
			m[o] = w.symbol
			if len(o) >= 3 {
				m[strings.ToLower(o)] = w.symbol
			}
		}
	}
	return m
})

// index maps a canonical spelling to the rows of units that bear it.
var index = sync.OnceValue(func() map[string][]int {
	m := map[string][]int{}
	for i := range units {
		for _, s := range append([]string{units[i].name}, units[i].also...) {
			if key, ok := canonical(s); ok {
				m[key] = append(m[key], i)
			}
		}
	}
	return m
})

// lookup finds the unit of a kind by any of its spellings. other is a unit of
// another kind with that spelling, where the kind itself has none.
func lookup(kind Kind, text string) (found, other *entry) {
	key, ok := canonical(text)
	if !ok {
		return nil, nil
	}
	for _, i := range index()[key] {
		if units[i].kind == kind {
			return &units[i], nil
		}
		if other == nil {
			other = &units[i]
		}
	}
	return nil, other
}
