package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

// free tells whether a path holds text that people choose, where a word of YAML could stand by chance.
func free(path []step) bool {
	f, t := rowAt(path)
	return f != nil && f.measure == nil && f.enum == nil && t.Kind() == reflect.String
}

// valueTexts are the ways to write the value of a change in place of an old one, the best first.
func (s *sheet) valueTexts(at trail, c Change, old string) []string {
	if inner := compound(at.path, c); inner != nil {
		return []string{inner.oneLine(inner.root)}
	}
	texts := scalarTexts(c.Value, old, at.end.text, at.inline, free(at.path))
	if !at.inline && !strings.HasPrefix(old, `"`) {
		texts = append(s.blockTexts(c.Value, at.last().node.at.column-1, s.offset(at.end.at)), texts...)
	}
	return texts
}

// wrapped are the ways to write the value of a change with the keys that lead to it: {r_value: R-4}.
func wrapped(rest []step, c Change, inline bool) []string {
	path, _ := steps(c.Path)
	texts := scalarTexts(c.Value, "", "", inline || len(rest) > 0, free(path))
	if inner := compound(path, c); inner != nil {
		texts = []string{inner.oneLine(inner.root)}
	}
	for i := range texts {
		for k := len(rest) - 1; k >= 0; k-- {
			if rest[k].number >= 0 {
				texts[i] = "[" + texts[i] + "]"
			} else {
				texts[i] = "{" + keyText(rest[k].name, true) + ": " + texts[i] + "}"
			}
		}
	}
	return texts
}

// compound is a value in brackets, read for itself, nil for a single value.
func compound(path []step, c Change) *sheet {
	f, t := rowAt(path)
	if f == nil {
		return nil
	}
	if n, bad := written(t, f, c.Path, c); bad != nil || n == nil || n.shape == scalar {
		return nil
	}
	s, _ := newSheet("", strings.TrimSpace(c.Value))
	return s
}

// oneLine is a node as it was written, or anew where it has several lines, tabs or comments.
func (s *sheet) oneLine(n *node) string {
	from := s.offset(n.at)
	to, ok := s.end(n, 0)
	if ok && !strings.ContainsAny(s.text[from:to], "\n\r\t#") {
		return s.text[from:to]
	}
	var parts []string
	switch n.shape {
	case mapping:
		for _, e := range n.entries {
			parts = append(parts, keyText(e.key, true)+": "+s.oneLine(e.value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case list:
		for _, it := range n.items {
			parts = append(parts, s.oneLine(it))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case scalar:
		return keyText(n.text, true)
	}
	return "~"
}

// scalarTexts are the ways to write a single value, the best first. Quotes that the writer chose are kept: those in single quotes, and
// double ones that the old value did not need. The value alone stands where it can, else double quotes take anything.
func scalarTexts(value, old, oldText string, inline, free bool) []string {
	double := doubleQuoted(value)
	single := "'" + strings.ReplaceAll(value, "'", "''") + "'"
	alone := plainSafe(value, inline) && !(free && misread(value))
	switch {
	case strings.HasPrefix(old, "'") && !strings.ContainsFunc(value, hidden):
		return []string{single, double}
	case strings.HasPrefix(old, `"`) && plainSafe(oldText, inline) && !(free && misread(oldText)):
		return []string{double}
	case alone:
		return []string{value, double}
	}
	return []string{double}
}

// keyText is a key, or a text in brackets, alone or in quotes.
func keyText(key string, inline bool) string {
	if plainSafe(key, inline) && !misread(key) {
		return key
	}
	return doubleQuoted(key)
}

// blockTexts writes several lines behind a |, indented under their key. There is no such way for one line, or for lines whose ends
// would be lost.
func (s *sheet) blockTexts(value string, indent, at int) []string {
	if !strings.Contains(value, "\n") || strings.HasPrefix(value, "\n") || strings.HasSuffix(value, "\n") {
		return nil
	}
	for _, line := range strings.Split(value, "\n") {
		if line != strings.TrimSpace(line) || strings.ContainsFunc(line, unicode.IsControl) {
			return nil
		}
	}
	newline := s.newline(at)
	pad := newline + strings.Repeat(" ", indent+2)
	text := "|" + pad + strings.ReplaceAll(value, "\n", pad)
	return []string{strings.ReplaceAll(text, pad+newline, newline+newline)}
}

// plainSafe tells whether a text can stand without quotes for any reader of YAML; inline is within brackets.
func plainSafe(text string, inline bool) bool {
	if text == "" || strings.TrimSpace(text) != text || strings.Contains(text, ": ") || strings.Contains(text, " #") || strings.HasSuffix(text, ":") {
		return false
	}
	if strings.ContainsFunc(text, hidden) {
		return false
	}
	if strings.HasPrefix(text, "---") || strings.HasPrefix(text, "...") || strings.ContainsRune("!&*?|>@%`\"'#,[]{}:=<", rune(text[0])) {
		return false
	}
	if text[0] == '-' && (len(text) == 1 || text[1] == ' ') || slices.Contains(nothing, text) {
		return false
	}
	return !inline || !strings.ContainsAny(text, ",[]{}")
}

// hidden tells whether a sign cannot be seen as itself, and is written by its number.
func hidden(r rune) bool { return !unicode.IsPrint(r) }

// nothing are the words of YAML for no value.
var nothing = []string{"~", "null", "Null", "NULL"}

// misread tells whether readers of YAML take a text for a number, a date, a yes or no, or nothing.
func misread(text string) bool {
	switch strings.ToLower(text) {
	case "~", "null", "true", "false", "yes", "no", "on", "off", "y", "n", ".nan", ".inf", "-.inf", "+.inf":
		return true
	}
	return strings.Trim(text, "0123456789.+-_:xXobeETZ") == "" && strings.ContainsAny(text, "0123456789")
}

// doubleQuoted writes a text in double quotes, in one line.
func doubleQuoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\U%08x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
