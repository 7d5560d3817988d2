package plan

import (
	"slices"
	"strings"
)

// add writes a key or an item that is not there yet.
func (s *sheet) add(at trail, c Change) []splice {
	n, inline := at.end, at.inline
	var ways []splice
	if n.shape == list {
		for _, text := range wrapped(at.rest[1:], c, inline) {
			ways = append(ways, s.append(n, n.size()-1, "- ", text)...)
		}
		return ways
	}
	key := keyText(at.rest[0].name, inline) + ":"
	after := s.before(at)
	if inner := compound(at.path, c); inner != nil && !inline {
		if lines := s.lines(n, at.rest[1:], inner); lines != "" {
			ways = s.append(n, after, key, lines)
		}
	}
	texts := wrapped(at.rest[1:], c, inline)
	if len(at.rest) == 1 && !inline {
		texts = append(s.blockTexts(c.Value, n.at.column-1, s.offset(n.at)), texts...)
	}
	for _, text := range texts {
		ways = append(ways, s.append(n, after, key+" ", text)...)
	}
	return ways
}

// lines writes a new list of parts, or the first part of one, each part on a line of its own under the key; "" for anything else.
func (s *sheet) lines(n *node, rest []step, inner *sheet) string {
	items := inner.root.items
	switch {
	case len(rest) == 1 && rest[0].number >= 0:
		items = []*node{inner.root}
	case len(rest) > 0:
		return ""
	}
	if slices.ContainsFunc(items, func(it *node) bool { return it.shape != mapping }) {
		return ""
	}
	pad := s.newline(s.offset(n.at)) + strings.Repeat(" ", n.at.column+1) + "- "
	var b strings.Builder
	for _, it := range items {
		b.WriteString(pad + inner.oneLine(it))
	}
	return b.String()
}

// before is the entry after which a new key comes: the nearest of those that precede it in the table, else the last.
func (s *sheet) before(at trail) int {
	n := at.end
	_, t := at.row()
	order := keys(theTable()[t])
	mine := slices.Index(order, at.rest[0].name)
	nearest, after := -1, n.size()-1
	for i, e := range n.entries {
		if other := slices.Index(order, e.key); other < mine && other > nearest {
			nearest, after = other, i
		}
	}
	return after
}

// append writes an entry or an item after another, on a line of its own or in the same brackets. after is -1 in empty brackets.
func (s *sheet) append(n *node, after int, key, text string) []splice {
	if s.inBrackets(n) {
		if n.shape == list {
			key = ""
		}
		if after < 0 {
			at := s.offset(n.at) + 1
			return []splice{{extent{at, at}, key + text}}
		}
		e, ok := s.element(n, after)
		if !ok {
			return nil
		}
		return []splice{{extent{e.to, e.to}, ", " + key + text}}
	}
	if after < 0 {
		return nil
	}
	e, ok := s.element(n, after)
	if !ok {
		return nil
	}
	end := s.lineEnd(e.to)
	if !idle(s.text[e.to:end]) {
		return nil
	}
	for next := s.nextLine(end); s.commented(next, n.at.column); next = s.nextLine(next) { // what is said within the entry before
		end = s.lineEnd(next)
	}
	return []splice{{extent{end, end}, s.newline(e.to) + strings.Repeat(" ", n.at.column-1) + key + text}}
}

// commented tells whether a line is a comment that begins behind so many columns.
func (s *sheet) commented(at, columns int) bool {
	line := s.text[at:s.lineEnd(at)]
	inner := strings.TrimLeft(line, " ")
	return strings.HasPrefix(inner, "#") && len(line)-len(inner) >= columns
}

// takeOut takes an entry or an item out.
func (s *sheet) takeOut(at trail) []splice {
	h := at.last()
	n := h.node
	e, ok := s.element(n, h.index)
	if !ok {
		return nil
	}
	if s.inBrackets(n) {
		return s.takeOutOfBrackets(n, h.index, e)
	}
	end := s.lineEnd(e.to)
	if !idle(s.text[e.to:end]) {
		return nil
	}
	if n.size() == 1 {
		return s.emptied(at, extent{e.from, end})
	}
	start := s.lineStart(e.from)
	if strings.TrimLeft(s.text[start:e.from], " ") == "" {
		return []splice{{extent{start, s.nextLine(end)}, ""}}
	}
	// What follows the dash of an item: the next key takes its place, or a line of its own where a comment stands between.
	var ways []splice
	if next := s.nextLine(end); h.index+1 < n.size() {
		if f, ok := s.element(n, h.index+1); ok && f.from >= next && strings.TrimLeft(s.text[next:f.from], " ") == "" {
			ways = append(ways, splice{extent{e.from, f.from}, ""})
		}
	}
	return append(ways, splice{extent{start + len(strings.TrimRight(s.text[start:e.from], " ")), end}, ""})
}

// emptied leaves empty brackets where the last entry or item was.
func (s *sheet) emptied(at trail, e extent) []splice {
	text := "{}"
	if at.last().node.shape == list {
		text = "[]"
	}
	ways := []splice{{e, text}}
	if len(at.holders) > 1 {
		up := at.holders[len(at.holders)-2]
		if behind, ok := s.behind(up.node, up.index); ok && behind <= e.from && strings.TrimSpace(s.text[behind:e.from]) == "" {
			ways = append([]splice{{extent{behind, e.to}, " " + text}}, ways...)
		}
	}
	return ways
}

// takeOutOfBrackets takes a line where an element has one of its own, else the element with one comma.
func (s *sheet) takeOutOfBrackets(n *node, i int, e extent) []splice {
	behind := e.to + len(s.text[e.to:]) - len(strings.TrimLeft(s.text[e.to:], " \t"))
	comma := strings.HasPrefix(s.text[behind:], ",")
	if comma {
		behind++
	}
	start, end := s.lineStart(e.from), s.lineEnd(behind)
	if strings.TrimLeft(s.text[start:e.from], " \t") == "" && idle(s.text[behind:end]) {
		return []splice{{extent{start, s.nextLine(end)}, ""}}
	}
	if comma {
		for strings.HasPrefix(s.text[behind:], " ") {
			behind++
		}
		return []splice{{extent{e.from, behind}, ""}}
	}
	if i > 0 {
		if before, ok := s.element(n, i-1); ok && !strings.Contains(s.text[before.to:e.from], "\n") {
			return []splice{{extent{before.to, e.to}, ""}}
		}
	}
	return []splice{{e, ""}}
}
