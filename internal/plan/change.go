package plan

import (
	"fmt"
	"reflect"
	"strings"

	"suncellar/internal/unit"
)

// removal is the value of a change that takes a key or an item out of the plan.
const removal = "none"

// Change is one value of the plan set otherwise: a path and a value as it would be written in the file, so
// {"shape.depth", "4 ft", Changed}. The value "none" takes the key or the list item out.
type Change struct {
	Path   string // keys and names joined by points, list items by name or number: store.rows.back.drums, beds[0].level
	Value  string
	Origin Origin // Fitted, or Changed for anything else
}

// ParseChange reads "path=value". Names in the path that hold a point, a bracket or = stand in double quotes.
func ParseChange(text string) (Change, error) {
	quoted := false
	for i, r := range text {
		if r == '"' {
			quoted = !quoted
		}
		if r != '=' || quoted {
			continue
		}
		c := Change{strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:]), Changed}
		if c.Value == "" {
			return Change{}, fmt.Errorf("%q sets nothing; write path=value, or path=none to take it out", text)
		}
		if _, err := steps(c.Path); err != nil {
			return Change{}, err
		}
		return c, nil
	}
	return Change{}, fmt.Errorf("%q is not a change; write path=value, such as shape.depth=1.2 m", text)
}

// String writes the change as ParseChange reads it.
func (c Change) String() string { return c.Path + "=" + c.Value }

func (c Change) label() string {
	if c.Origin == Fitted {
		return "fit " + c.String()
	}
	return "--set " + c.String()
}

// Written makes the change that sets a number of the plan to si (in the unit of its kind, see package unit), written in
// the unit the plan uses there. si has to be finite.
func (p *Plan) Written(path string, si float64) (Change, error) {
	v, ok := p.Origins.At(path)
	if !ok || v.Quantity.Kind == 0 {
		return Change{}, fmt.Errorf("%s is not a number of this plan", path)
	}
	return Change{path, unit.Like(v.Quantity, si), Changed}, nil
}

// Apply reads the plan again with the changes made, in their order; p is left as it is. What is wrong with a
// change is found as it would be in the file. The result is as whole as that of Read: nil is never returned.
func (p *Plan) Apply(changes ...Change) (*Plan, []Finding) {
	root := p.root.clone()
	e := editor{}
	for _, c := range changes {
		root = e.apply(root, c)
	}
	changed, findings := walk(p.file, root)
	return changed, sorted(append(e.findings, findings...))
}

// Apply reads the text of a plan with changes made. The plan is nil where the text is no YAML document.
func Apply(name string, text []byte, changes ...Change) (*Plan, []Finding) {
	root, findings := document(name, text)
	if root == nil {
		return nil, sorted(findings)
	}
	p, more := (&Plan{file: name, root: root}).Apply(changes...)
	return p, sorted(append(findings, more...))
}

// editor makes changes in a tree of nodes, guided by the table.
type editor struct {
	findings []Finding
}

func (e *editor) apply(root *node, c Change) *node {
	if c.Origin != Fitted {
		c.Origin = Changed
	}
	path, err := steps(c.Path)
	if err != nil {
		e.findings = append(e.findings, Finding{File: c.label(), Message: err.Error()})
		return root
	}
	changed, bad := e.set(reflect.TypeFor[Plan](), &field{must: true}, root, path, "", c)
	if bad != nil {
		e.findings = append(e.findings, Finding{File: c.label(), Message: bad.message, Hint: bad.hint})
		return root
	}
	return changed
}

// set returns what stands in place of n once the change is made in it. n and the result are nil where nothing is written.
func (e *editor) set(t reflect.Type, f *field, n *node, rest []step, path string, c Change) (*node, *trouble) {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if len(rest) == 0 {
		return written(t, f, path, c)
	}
	if n != nil && n.shape == empty {
		n = nil
	}
	if _, single := reflect.New(t).Interface().(word); !single {
		switch t.Kind() {
		case reflect.Struct:
			return e.setKey(t, f, n, rest, path, c)
		case reflect.Slice:
			return e.setItem(t, n, rest, path, c)
		case reflect.Map:
			return e.setName(t, n, rest, path, c)
		case reflect.Array:
			return e.setElement(t, f, n, rest, path, c)
		}
	}
	return nil, &trouble{message: fmt.Sprintf("%s is a single value and has no part %s", path, rest[0]), hint: fmt.Sprintf("set %s itself", path)}
}

// String writes a step for a message.
func (s step) String() string {
	if s.number >= 0 {
		return fmt.Sprintf("[%d]", s.number)
	}
	return fmt.Sprintf("%q", s.name)
}

// written is the node of a new value, or nil where it is taken out.
func written(t reflect.Type, f *field, path string, c Change) (*node, *trouble) {
	if c.Value == removal {
		if f.must {
			return nil, &trouble{message: fmt.Sprintf("%s is needed and cannot be taken out", path), hint: f.doc}
		}
		return nil, nil
	}
	at := place{file: c.label()}
	compound := t.Kind() == reflect.Struct || t.Kind() == reflect.Slice || t.Kind() == reflect.Map || t.Kind() == reflect.Array
	if !compound || !strings.HasPrefix(c.Value, "[") && !strings.HasPrefix(c.Value, "{") {
		return &node{shape: scalar, text: c.Value, at: at, origin: c.Origin}, nil
	}
	root, findings := document("", []byte(c.Value))
	if root == nil || len(findings) > 0 {
		return nil, &trouble{message: fmt.Sprintf("%s: %s", path, findings[0].Message), hint: findings[0].Hint}
	}
	root.moved(at, c.Origin)
	return root, nil
}

// moved gives a node and all below it a place and an origin.
func (n *node) moved(at place, origin Origin) {
	n.at, n.origin, n.plain = at, origin, false
	for i := range n.entries {
		n.entries[i].at = at
		n.entries[i].value.moved(at, origin)
	}
	for _, it := range n.items {
		it.moved(at, origin)
	}
}

func (e *editor) setKey(t reflect.Type, owner *field, n *node, rest []step, path string, c Change) (*node, *trouble) {
	fields := theTable()[t]
	for i := range fields {
		f := &fields[i]
		if rest[0].number >= 0 || f.key != rest[0].name {
			continue
		}
		fresh := n == nil
		switch {
		case fresh:
			n = &node{shape: mapping, at: place{file: c.label()}, origin: c.Origin}
		case n.shape == scalar && owner.short != "":
			n = &node{shape: mapping, at: n.at, entries: []entry{{owner.short, n.at, n}}}
		case n.shape != mapping:
			return n, nil // reported when it is read
		}
		value, bad := e.set(t.Field(f.at).Type, f, n.get(f.key), rest[1:], join(path, f.key), c)
		if bad != nil {
			return nil, bad
		}
		if fresh && value == nil {
			return nil, nil
		}
		n.put(f.key, value, place{file: c.label()})
		return n, nil
	}
	return nil, unknownStep(rest[0], path, keys(fields), "key")
}

func unknownStep(s step, path string, allowed []string, what string) *trouble {
	where := ""
	if path != "" {
		where = " in " + path
	}
	bad := &trouble{message: fmt.Sprintf("unknown %s %s%s", what, s, where), hint: "allowed: " + strings.Join(allowed, ", ")}
	if len(allowed) == 0 {
		bad.hint = fmt.Sprintf("the plan has no %s", path)
	}
	if near, ok := unit.Nearest(s.name, allowed); ok && s.number < 0 {
		bad.hint = fmt.Sprintf("did you mean %q?", near)
	}
	return bad
}

// put sets, adds or (with nil) takes out a key.
func (n *node) put(key string, value *node, at place) {
	for i := range n.entries {
		if n.entries[i].key != key {
			continue
		}
		if value == nil {
			n.entries = append(n.entries[:i], n.entries[i+1:]...)
		} else {
			n.entries[i].value = value
		}
		return
	}
	if value != nil {
		n.entries = append(n.entries, entry{key, at, value})
	}
}

func (e *editor) setItem(t reflect.Type, n *node, rest []step, path string, c Change) (*node, *trouble) {
	if n != nil && n.shape != list {
		return n, nil // reported when it is read
	}
	var items []*node
	if n != nil {
		items = n.items
	}
	at, names := n.find(rest[0], path)
	if at < 0 {
		if rest[0].number == len(items) && len(rest) == 1 && c.Value != removal {
			return e.addItem(t, n, path, c)
		}
		return nil, unknownStep(rest[0], path, names, "item")
	}
	value, bad := e.set(t.Elem(), &field{}, items[at], rest[1:], item(path, at), c)
	if bad != nil {
		return nil, bad
	}
	if value == nil {
		n.items = append(n.items[:at], n.items[at+1:]...)
	} else {
		n.items[at] = value
	}
	return n, nil
}

// find is the number of the item that a step names, -1 for none, and the names passed on the way.
func (n *node) find(s step, path string) (at int, names []string) {
	if n == nil {
		return -1, nil
	}
	for i, it := range n.items {
		name := item(path, i)
		if given := it.get("name"); given != nil {
			name = given.text
		}
		names = append(names, name)
		if i == s.number || s.number < 0 && name == s.name {
			return i, names
		}
	}
	return -1, names
}

// addItem sets the item that follows the last one. n is nil where the list is not written yet.
func (e *editor) addItem(t reflect.Type, n *node, path string, c Change) (*node, *trouble) {
	if n == nil {
		n = &node{shape: list, at: place{file: c.label()}, origin: c.Origin}
	}
	value, bad := e.set(t.Elem(), &field{}, nil, nil, item(path, len(n.items)), c)
	if bad != nil {
		return nil, bad
	}
	n.items = append(n.items, value)
	return n, nil
}

// setName goes to a named part. A new name can be given to a number, and to a part that is written whole, with its keys: half a part would be one that
// was misspelt.
func (e *editor) setName(t reflect.Type, n *node, rest []step, path string, c Change) (*node, *trouble) {
	if n != nil && n.shape != mapping {
		return n, nil // reported when it is read
	}
	var names []string
	if n != nil {
		for _, entry := range n.entries {
			names = append(names, entry.key)
		}
	}
	whole := t.Elem().Kind() != reflect.Struct || len(rest) == 1 && strings.HasPrefix(c.Value, "{")
	if rest[0].number >= 0 || !whole && !known(rest[0].name, names) {
		bad := unknownStep(rest[0], path, names, "name")
		if rest[0].number < 0 {
			bad.hint += fmt.Sprintf("; a new one is written whole: %s={...}", join(path, rest[0].name))
		}
		return nil, bad
	}
	fresh := n == nil
	if fresh {
		n = &node{shape: mapping, at: place{file: c.label()}, origin: c.Origin}
	}
	value, bad := e.set(t.Elem(), &field{}, n.get(rest[0].name), rest[1:], join(path, rest[0].name), c)
	if bad != nil {
		return nil, bad
	}
	n.put(rest[0].name, value, place{file: c.label()})
	if fresh && value == nil {
		return nil, nil
	}
	return n, nil
}

func (e *editor) setElement(t reflect.Type, f *field, n *node, rest []step, path string, c Change) (*node, *trouble) {
	i := rest[0].number
	if i < 0 || i >= t.Len() {
		return nil, &trouble{message: fmt.Sprintf("%s has no part %s, only [0] to [%d]", path, rest[0], t.Len()-1)}
	}
	if n == nil || n.shape != list || i >= len(n.items) {
		return nil, &trouble{message: fmt.Sprintf("%s is not written in the plan as %d values", path, t.Len()), hint: "set all of them, as [..., ...]"}
	}
	value, bad := e.set(t.Elem(), &field{must: true, doc: f.doc}, n.items[i], rest[1:], item(path, i), c)
	if bad != nil {
		return nil, bad
	}
	// What was glued to the old value is not to a new one: edits write a blank there.
	was := n.items[i]
	if n.items[i] = value; same(was, value) {
		value.glued = was.glued
	} else if i+1 < len(n.items) {
		n.items[i+1].glued = false
	}
	return n, nil
}
