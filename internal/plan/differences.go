package plan

import (
	"strings"
)

// Differences are changes that make the second text of a plan of the first, as few and as small as they are found: a value by its path, an item that came or went, a part.
// Made in the first they give what the second says; comments and the order of keys are no difference.
//
// Errors: a *Finding or several where a text is no YAML document; a Finding where the second cannot be made by changes.
func Differences(name string, first, second []byte) ([]Change, error) {
	a, findings := document(name, first)
	b, more := document(name, second)
	if a == nil || b == nil {
		return nil, AsError(append(findings, more...))
	}
	fine, coarse := &differ{}, &differ{parts: true}
	for _, d := range []*differ{fine, coarse} {
		d.node("", a, b)
		e := editor{}
		root := a.clone()
		for _, c := range d.changes {
			root = e.apply(root, c)
		}
		if len(e.findings) == 0 && same(root, b) {
			return d.changes, nil
		}
	}
	return nil, Finding{File: name, Message: "what was changed cannot be told as changes of values", Hint: "write the changes down by their paths, path=value"}
}

// differ gathers changes.
type differ struct {
	parts   bool // whole parts of the document alone
	changes []Change
}

func (d *differ) set(path, value string) {
	d.changes = append(d.changes, Change{Path: path, Value: value, Origin: Changed})
}

func (d *differ) node(path string, a, b *node) {
	switch {
	case same(a, b):
	case b == nil:
		d.set(path, removal)
	case a == nil || a.shape != b.shape || d.parts && path != "":
		d.set(path, asValue(b))
	case a.shape == mapping:
		d.mapping(path, a, b)
	case a.shape == list && path != "":
		d.list(path, a.items, b.items)
	default:
		d.set(path, asValue(b))
	}
}

func (d *differ) mapping(path string, a, b *node) {
	for _, e := range a.entries {
		d.node(join(path, e.key), e.value, b.get(e.key))
	}
	for _, e := range b.entries {
		if a.get(e.key) == nil {
			d.set(join(path, e.key), asValue(e.value))
		}
	}
}

// list takes items out from behind, changes those that stay, and adds at the end.
func (d *differ) list(path string, a, b []*node) {
	if gone := len(a) - len(b); gone > 0 {
		at := 0
		for at < len(b) && same(a[at], b[at]) {
			at++
		}
		for i := at + gone - 1; i >= at; i-- {
			d.set(item(path, i), removal)
		}
		a = append(a[:at:at], a[at+gone:]...)
	}
	for i := range b {
		if i < len(a) {
			d.node(item(path, i), a[i], b[i])
		} else {
			d.set(item(path, i), asValue(b[i]))
		}
	}
}

// asValue is a node as the value of a change.
func asValue(n *node) string {
	if n.shape == scalar {
		return n.text
	}
	return inBrackets(n)
}

// inBrackets is a node in one line, within brackets.
func inBrackets(n *node) string {
	var parts []string
	switch n.shape {
	case mapping:
		for _, e := range n.entries {
			parts = append(parts, keyText(e.key, true)+": "+inBrackets(e.value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case list:
		for _, it := range n.items {
			parts = append(parts, inBrackets(it))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case scalar:
		return keyText(n.text, true)
	}
	return "~"
}
