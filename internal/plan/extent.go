package plan

import (
	"strings"
	"unicode/utf8"
)

// sheet is the text of a plan with the nodes read from it. It finds the bytes that a value takes in the text: the nodes know where
// a value begins, its end is looked for here. What cannot be found with certainty is told as such, never guessed.
type sheet struct {
	name     string
	text     string // as it is in the file: with a byte order mark and any line ends
	starts   []int  // where each line begins [B]
	root     *node
	findings []Finding
}

// extent is a stretch of the text, from the first byte to behind the last.
type extent struct{ from, to int }

// newSheet reads a text. The sheet is nil where that is no YAML document.
func newSheet(name, text string) (*sheet, []Finding) {
	root, findings := document(name, []byte(text))
	if root == nil {
		return nil, findings
	}
	s := &sheet{name: name, text: text, root: root, findings: findings, starts: []int{0}}
	for i := range len(text) {
		if text[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	return s, findings
}

// byteOrderMark may begin a file; it counts as no character.
const byteOrderMark = "\ufeff"

// offset is the byte of a place.
func (s *sheet) offset(p place) int {
	at := s.starts[min(max(p.line, 1), len(s.starts))-1]
	if at == 0 && strings.HasPrefix(s.text, byteOrderMark) {
		at = len(byteOrderMark)
	}
	for range p.column - 1 {
		_, size := utf8.DecodeRuneInString(s.text[at:])
		at += size
	}
	return min(at, len(s.text))
}

// lineStart is where the line of a byte begins, behind a byte order mark.
func (s *sheet) lineStart(at int) int {
	start := strings.LastIndexByte(s.text[:at], '\n') + 1
	if start == 0 && strings.HasPrefix(s.text, byteOrderMark) {
		return len(byteOrderMark)
	}
	return start
}

// lineEnd is where the line of a byte ends, before its line end.
func (s *sheet) lineEnd(at int) int {
	n := strings.IndexByte(s.text[at:], '\n')
	if n < 0 {
		return len(s.text)
	}
	if n > 0 && s.text[at+n-1] == '\r' {
		n--
	}
	return at + n
}

// nextLine is where the line after that of a byte begins, or the end of the text.
func (s *sheet) nextLine(at int) int {
	n := strings.IndexByte(s.text[at:], '\n')
	if n < 0 {
		return len(s.text)
	}
	return at + n + 1
}

// newline is the line end in use at a byte.
func (s *sheet) newline(at int) string {
	end := s.lineEnd(at)
	if end == len(s.text) { // the last line has none: as in the first
		end = s.lineEnd(0)
	}
	if strings.HasPrefix(s.text[end:], "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// idle tells whether the rest of a line says nothing: blanks and a comment.
func idle(text string) bool {
	rest := strings.TrimLeft(text, " \t")
	return rest == "" || rest[0] == '#'
}

// inBrackets tells whether keys or a list are written in brackets.
func (s *sheet) inBrackets(n *node) bool {
	at := s.offset(n.at)
	return (n.shape == mapping || n.shape == list) && at < len(s.text) && (s.text[at] == '{' || s.text[at] == '[')
}

// size is how many entries or items a node has.
func (n *node) size() int { return len(n.entries) + len(n.items) }

// child is the value of an entry or an item.
func (n *node) child(i int) *node {
	if n.shape == mapping {
		return n.entries[i].value
	}
	return n.items[i]
}

// element is what an entry with its key or an item with its dash takes.
func (s *sheet) element(n *node, i int) (extent, bool) {
	v, ok := s.value(n, i)
	switch {
	case !ok:
		return v, false
	case n.shape == mapping:
		v.from = s.offset(n.entries[i].at)
	case !s.inBrackets(n):
		v.from, ok = s.dash(n, i)
	}
	return v, ok
}

// value is what the value of an entry or an item takes; nothing, behind the colon or the dash, where it is empty.
func (s *sheet) value(n *node, i int) (extent, bool) {
	v, indent := n.child(i), n.at.column-1
	if v.shape != empty {
		from := s.offset(v.at)
		to, ok := s.end(v, indent)
		return extent{from, to}, ok && from < to
	}
	behind, ok := s.behind(n, i)
	if !ok {
		return extent{}, false
	}
	from := behind + len(s.text[behind:]) - len(strings.TrimLeft(s.text[behind:], " \t"))
	for _, word := range nothing {
		if strings.HasPrefix(s.text[from:], word) {
			return extent{from, from + len(word)}, true
		}
	}
	return extent{behind, behind}, true
}

// behind is where the value of an entry or an item may begin: after the colon, the dash, or a key in brackets that has no colon.
func (s *sheet) behind(n *node, i int) (int, bool) {
	if n.shape == list {
		if s.inBrackets(n) {
			return s.offset(n.items[i].at), true
		}
		at, ok := s.dash(n, i)
		return at + 1, ok
	}
	e := n.entries[i]
	at := s.offset(e.at)
	switch {
	case at < len(s.text) && (s.text[at] == '"' || s.text[at] == '\''):
		end, ok := quotedEnd(s.text, at)
		if !ok {
			return 0, false
		}
		at = end
	case strings.HasPrefix(s.text[at:], e.key):
		at += len(e.key)
	default:
		return 0, false
	}
	rest := strings.TrimLeft(s.text[at:], " \t")
	if strings.HasPrefix(rest, ":") {
		return len(s.text) - len(rest) + 1, true
	}
	return at, s.inBrackets(n) && e.value.shape == empty
}

// dash is where the dash of an item stands: in the column of the list, in the line of the item or above it.
func (s *sheet) dash(n *node, i int) (int, bool) {
	for line := n.items[i].at.line; line >= n.at.line; line-- {
		at := s.offset(place{line: line, column: n.at.column})
		before := s.text[s.lineStart(s.offset(place{line: line, column: 1})):at]
		after := s.text[min(at+1, len(s.text)):]
		if strings.HasPrefix(s.text[at:], "-") && strings.Trim(before, " -") == "" && (after == "" || strings.ContainsRune(" \t\r\n", rune(after[0]))) {
			return at, true
		}
	}
	return 0, false
}

// end is where a value ends that is not empty. indent is the column before which its holder's keys or dashes stand.
func (s *sheet) end(n *node, indent int) (int, bool) {
	at := s.offset(n.at)
	if at >= len(s.text) {
		return 0, false
	}
	switch n.shape {
	case scalar:
		return s.scalarEnd(n, at, indent)
	case mapping, list:
		if s.inBrackets(n) {
			return bracketEnd(s.text, at)
		}
		if n.size() > 0 {
			last, ok := s.element(n, n.size()-1)
			return last.to, ok
		}
	}
	return 0, false
}

func (s *sheet) scalarEnd(n *node, at, indent int) (int, bool) {
	switch c := s.text[at]; {
	case c == '"' || c == '\'':
		return quotedEnd(s.text, at)
	case !n.plain && (c == '|' || c == '>'):
		return s.blockEnd(at, indent), true
	case n.plain && n.text != "" && strings.HasPrefix(s.text[at:], n.text):
		return at + len(n.text), true
	}
	// A plain text over several lines: its words in their order, with any blanks and line ends between.
	end := at
	for _, word := range strings.Fields(n.text) {
		at = len(s.text) - len(strings.TrimLeft(s.text[at:], " \t\r\n"))
		if !strings.HasPrefix(s.text[at:], word) {
			return 0, false
		}
		at += len(word)
		end = at
	}
	return end, n.text != ""
}

// blockEnd is where a text behind | or > ends: with its last line that is indented further than its key.
func (s *sheet) blockEnd(at, indent int) int {
	end := s.lineEnd(at)
	for next := s.nextLine(at); next < len(s.text); next = s.nextLine(next) {
		line := s.text[next:s.lineEnd(next)]
		inner := strings.TrimLeft(line, " ")
		if inner == "" {
			continue
		}
		if len(line)-len(inner) <= indent {
			break
		}
		end = s.lineEnd(next)
	}
	return end
}

// quotedEnd is behind the quotes that close what opens at a byte.
func quotedEnd(text string, at int) (int, bool) {
	quote := text[at]
	for i := at + 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && quote == '"':
			i++
		case text[i] != quote:
		case quote == '\'' && strings.HasPrefix(text[i+1:], "'"):
			i++
		default:
			return i + 1, true
		}
	}
	return 0, false
}

// bracketEnd is behind the bracket that closes what opens at a byte. Quotes count where a value can begin, # after a blank.
func bracketEnd(text string, at int) (int, bool) {
	var open []byte
	begins := true // a value may begin here
	for i := at; i < len(text); i++ {
		c := text[i]
		switch {
		case begins && (c == '"' || c == '\''):
			end, ok := quotedEnd(text, i)
			if !ok {
				return 0, false
			}
			i, begins = end-1, false
		case c == '{' || c == '[':
			open, begins = append(open, c), true
		case c == '}' || c == ']':
			if open[len(open)-1] != c-2 { // ASCII has one sign between the brackets of a pair
				return 0, false
			}
			if open = open[:len(open)-1]; len(open) == 0 {
				return i + 1, true
			}
			begins = false
		case c == '#' && i > 0 && strings.IndexByte(" \t\n", text[i-1]) >= 0:
			n := strings.IndexByte(text[i:], '\n')
			if n < 0 {
				return 0, false
			}
			i += n
		case c == ',' || c == ':':
			begins = true
		case c != ' ' && c != '\t' && c != '\r' && c != '\n':
			begins = false
		}
	}
	return 0, false
}
