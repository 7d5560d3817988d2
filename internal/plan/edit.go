package plan

import (
	"fmt"
	"strings"
)

// Edit makes changes in the text of a plan, in their order, and leaves every other byte as it is: comments, blank lines, order,
// quotes, line ends, brackets or lines. The paths and values are those of Apply, and the edited text reads as what Apply gives.
//
//   - A value that is there is written in its place, in the quotes it had.
//   - A key or a part that is not there comes after the key that precedes it in the table, else at the end of its part; a name at the end.
//   - "none" takes a key or an item out, with its line and the comment on that line.
//   - The item that follows the last one is added: beds[2]={...} where there are two. So is a named part that is written whole: builds.thin wall={...}.
//   - The value that is there already changes nothing.
//
// A value that is wrong is written all the same, and found when the text is read. What cannot be written without changing more than
// the value is refused with a Finding that says where and why, as is a text that is no YAML document. The text then comes back as it was.
func Edit(name string, text []byte, changes ...Change) ([]byte, error) {
	edited := string(text)
	for _, c := range changes {
		s, findings := newSheet(name, edited)
		if s == nil {
			return text, findings[0]
		}
		next, err := s.edit(c)
		if err != nil {
			return text, err
		}
		edited = next
	}
	return []byte(edited), nil
}

// splice is new text in place of a stretch of the old.
type splice struct {
	extent
	text string
}

func (s *sheet) with(p splice) string { return s.text[:p.from] + p.text + s.text[p.to:] }

// edit makes one change. What is tried is read again and held against the tree that Apply makes, so that nothing else changes unseen.
func (s *sheet) edit(c Change) (string, error) {
	path, err := steps(c.Path)
	if err != nil {
		return "", s.refusal(c, s.root, err.Error(), "")
	}
	at := s.resolve(path)
	e := editor{}
	want := e.apply(s.root.clone(), c)
	if len(e.findings) > 0 {
		return "", s.refusal(c, at.end, e.findings[0].Message, e.findings[0].Hint)
	}
	switch {
	case at.end.shape == broken || s.root.brokens() != len(s.findings):
		return "", s.brokenRefusal(c, at.end)
	case !at.holds():
		return "", s.refusal(c, at.end, fmt.Sprintf("%s stands here, which has no part %s", at.end.shape, at.rest[0]), "set the whole of it")
	case same(s.root, want), c.Value == removal && at.short() != "" && at.rest[0].name != at.short():
		return s.text, nil
	}
	for _, p := range s.ways(at, c) {
		if edited := s.with(p); s.reads(edited, want) || at.short() != "" && s.reads(edited, at.shortened(want)) {
			return edited, nil
		}
	}
	return "", s.refusal(c, at.end, "this cannot be written without changing more than the value", "edit the text by hand")
}

// reads tells whether an edited text is read to a tree, and nothing more is wrong with it than was.
func (s *sheet) reads(edited string, want *node) bool {
	root, findings := document(s.name, []byte(edited))
	return len(findings) == len(s.findings) && root != nil && same(root, want)
}

func (s *sheet) refusal(c Change, n *node, message, hint string) error {
	return Finding{File: s.name, Line: n.at.line, Column: n.at.column, Path: c.Path, Message: message, Hint: hint}
}

// brokenRefusal tells what keeps the reader from a value, and so the editor: what is not in the tree would not be missed.
func (s *sheet) brokenRefusal(c Change, n *node) error {
	why := s.findings[0]
	for _, f := range s.findings {
		if f.Line == n.at.line {
			why = f
		}
	}
	return Finding{File: s.name, Line: why.Line, Column: why.Column, Path: c.Path, Message: why.Message, Hint: why.Hint}
}

// brokens counts the nodes that were reported and not read.
func (n *node) brokens() int {
	count := 0
	if n.shape == broken {
		count = 1
	}
	for i := range n.size() {
		count += n.child(i).brokens()
	}
	return count
}

// same tells whether two trees say the same, wherever it is written. The order of keys says nothing.
func same(a, b *node) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a.shape != b.shape || a.text != b.text || len(a.entries) != len(b.entries) || len(a.items) != len(b.items) {
		return false
	}
	values := map[string][]*node{}
	for _, e := range b.entries {
		values[e.key] = append(values[e.key], e.value)
	}
	for _, e := range a.entries {
		left := values[e.key]
		if len(left) == 0 || !same(e.value, left[0]) {
			return false
		}
		values[e.key] = left[1:]
	}
	for i := range a.items {
		if !same(a.items[i], b.items[i]) {
			return false
		}
	}
	return true
}

// ways are the ways to write a change, the best first.
func (s *sheet) ways(at trail, c Change) []splice {
	switch short := at.short() != ""; {
	case c.Value == removal && !short:
		return s.takeOut(at)
	case short, len(at.rest) == 0, at.end.shape == empty:
		return s.replace(at, c)
	}
	return s.add(at, c)
}

// replace writes a value where one is, or where a key has none.
func (s *sheet) replace(at trail, c Change) []splice {
	h := at.last()
	value, ok := s.value(h.node, h.index)
	if !ok {
		return nil
	}
	old := s.text[value.from:value.to]
	var texts []string
	switch key := at.short(); {
	case key == "" && len(at.rest) > 0:
		texts = wrapped(at.rest, c, at.inline)
	case key == "":
		texts = s.valueTexts(at, c, old)
	case c.Value == removal:
		texts = []string{"{}"}
	case at.rest[0].name == key: // run.span beside `run: winter`
		texts = scalarTexts(c.Value, old, at.end.text, at.inline, false)
	default:
		for _, text := range wrapped(at.rest, c, true) {
			texts = append(texts, "{"+key+": "+old+", "+text[1:])
		}
	}
	var ways []splice
	for _, text := range texts {
		ways = append(ways, s.over(h, value, text))
	}
	return ways
}

// over lays a text over a value. Where the value is keys or a list on lines of their own, the text moves up to the key, unless a
// comment stands between.
func (s *sheet) over(h holder, value extent, text string) splice {
	n := h.node.child(h.index)
	if n.shape == empty && value.from == value.to {
		return splice{value, " " + text}
	}
	behind, ok := s.behind(h.node, h.index)
	if ok && (n.shape == mapping || n.shape == list) && !s.inBrackets(n) && strings.TrimSpace(s.text[behind:value.from]) == "" {
		return splice{extent{behind, value.to}, " " + text}
	}
	return s.apart(value, text)
}

// apart lays a text over a value, with a blank before it where the comma there looks like a decimal comma, as between the two of [1,.2] when the second becomes 22, and one behind it where
// the comma there does.
func (s *sheet) apart(value extent, text string) splice {
	digit := func(text string, i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	comma := func(i int) bool { return i >= 0 && i < len(s.text) && s.text[i] == ',' }
	p := splice{value, text}
	if comma(value.to) && digit(s.text, value.to+1) && digit(text, len(text)-1) {
		p.text += " "
	}
	if comma(value.from-1) && digit(s.text, value.from-2) && digit(text, 0) {
		p.text = " " + p.text
	}
	return p
}
