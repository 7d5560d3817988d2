package plan

import (
	"fmt"
	"reflect"
	"strings"

	"suncellar/internal/unit"
)

// walker fills the structs from the nodes, driven by the table in the struct tags: no key has code of its own.
type walker struct {
	origins  *Origins
	findings []Finding
}

// walk reads a whole document. The nodes are not changed.
func walk(name string, root *node) (*Plan, []Finding) {
	p := &Plan{file: name, root: root}
	p.Origins = Origins{index: map[string]int{}, places: map[string]place{"": {name, 1, 1}}}
	w := &walker{origins: &p.Origins}
	if root.shape == broken {
		return p, nil
	}
	w.structure(reflect.ValueOf(p).Elem(), root, "", &field{})
	return p, w.findings
}

func (w *walker) report(at place, path, message, hint string) {
	w.findings = append(w.findings, Finding{
		File: at.file, Line: at.line, Column: at.column, Path: path, Message: message, Hint: hint,
	})
}

// structure reads keys into a struct. n is nil where the whole part was left out: then only defaults are set.
func (w *walker) structure(v reflect.Value, n *node, path string, owner *field) {
	if n != nil && n.shape == scalar && owner.short != "" {
		n = &node{shape: mapping, at: n.at, entries: []entry{{owner.short, n.at, n}}}
	}
	if n != nil && n.shape != mapping {
		w.report(n.at, path, fmt.Sprintf("keys with values are wanted here, this is %s", n.shape), "allowed keys: "+strings.Join(keys(theTable()[v.Type()]), ", "))
		return
	}
	fields := theTable()[v.Type()]
	if n != nil {
		w.unknown(n, path, fields)
	}
	for i := range fields {
		f := &fields[i]
		w.keyed(v.Field(f.at), n.get(f.key), join(path, f.key), f, n)
	}
}

// unknown reports keys that are not in the table, and keys that stand twice.
func (w *walker) unknown(n *node, path string, fields []field) {
	w.doubled(n, path)
	allowed := keys(fields)
	for _, e := range n.entries {
		if known(e.key, allowed) {
			continue
		}
		hint := "allowed: " + strings.Join(allowed, ", ")
		if near, ok := unit.Nearest(e.key, allowed); ok {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		w.report(e.at, path, fmt.Sprintf("unknown key %q", e.key), hint)
	}
}

func (w *walker) doubled(n *node, path string) {
	first := map[string]place{}
	for _, e := range n.entries {
		if at, ok := first[e.key]; ok {
			where := fmt.Sprintf("line %d, column %d", at.line, at.column)
			if at.line == 0 {
				where = at.file
			}
			w.report(e.at, join(path, e.key), "the key stands twice, first at "+where, "keep one of them")
			continue
		}
		first[e.key] = e.at
	}
}

func known(word string, words []string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// keyed reads the value of a key, or deals with its absence.
func (w *walker) keyed(v reflect.Value, n *node, path string, f *field, parent *node) {
	switch {
	case n != nil:
		w.value(v, n, path, f)
	case f.must && parent != nil:
		w.report(parent.at, path, "is missing", f.doc)
	case f.def != "" && !f.pointless(parent):
		w.value(v, &node{shape: scalar, text: f.def, origin: Assumed, source: f.source}, path, f)
	case v.Kind() == reflect.Struct && !f.must && !isWord(v):
		w.structure(v, nil, path, f)
	}
}

func isWord(v reflect.Value) bool {
	_, ok := v.Addr().Interface().(word)
	return ok
}

// value reads a node into a value of any type a plan has.
func (w *walker) value(v reflect.Value, n *node, path string, f *field) {
	if n.origin != Assumed {
		w.origins.places[path] = n.at
	}
	if n.shape == broken {
		return
	}
	if n.shape == empty {
		w.report(n.at, path, "has no value", "write one, or leave the key out")
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if isWord(v) {
		w.single(v, n, path, f)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		w.structure(v, n, path, f)
	case reflect.Slice:
		w.slice(v, n, path, f)
	case reflect.Array:
		w.array(v, n, path, f)
	case reflect.Map:
		w.names(v, n, path, f)
	default:
		w.single(v, n, path, f)
	}
}

func (w *walker) slice(v reflect.Value, n *node, path string, f *field) {
	if n.shape != list {
		w.report(n.at, path, fmt.Sprintf("a list is wanted here, this is %s", n.shape), "begin each item with a dash and a blank")
		return
	}
	if f.must && len(n.items) == 0 {
		w.report(n.at, path, "the list is empty, at least one item is wanted", f.doc)
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.items), len(n.items)))
	for i, it := range n.items {
		w.value(v.Index(i), it, item(path, i), &field{doc: f.doc})
	}
}

// array reads a fixed number of values of one kind: twelve months, or the x and z of a corner.
func (w *walker) array(v reflect.Value, n *node, path string, f *field) {
	hint := "write them as [0 m, 1.2 m]: x and z, each with its unit"
	if v.Len() == 12 {
		hint = "twelve values from January to December in brackets, each with its unit"
	}
	if n.shape != list {
		w.report(n.at, path, fmt.Sprintf("a list of %d values is wanted here, this is %s", v.Len(), n.shape), hint)
		return
	}
	for _, it := range n.items {
		// Bare numbers may be listed as 6,6,8: then only their number tells.
		if it.glued && (len(n.items) != v.Len() || f.measure.told != "") {
			comma := it.at
			comma.column--
			w.report(comma, path, commaMessage, commaHint)
			return
		}
	}
	if len(n.items) != v.Len() {
		w.report(n.at, path, fmt.Sprintf("%d values are written, %d are wanted", len(n.items), v.Len()), hint)
		return
	}
	for i, it := range n.items {
		w.value(v.Index(i), it, item(path, i), f)
	}
}

// names reads a map from a name to a part, or to a number.
func (w *walker) names(v reflect.Value, n *node, path string, f *field) {
	if n.shape != mapping {
		w.report(n.at, path, fmt.Sprintf("names with values are wanted here, this is %s", n.shape), "write 'name: value' on lines of their own")
		return
	}
	w.doubled(n, path)
	v.Set(reflect.MakeMap(v.Type()))
	for _, e := range n.entries {
		if trouble := named(e.key); trouble != nil {
			w.report(e.at, path, trouble.message, trouble.hint)
			continue
		}
		key := reflect.ValueOf(e.key)
		if v.MapIndex(key).IsValid() {
			continue // doubled, and reported as that
		}
		part := reflect.New(v.Type().Elem()).Elem()
		w.value(part, e.value, join(path, e.key), f)
		v.SetMapIndex(key, part)
	}
}

// single reads one text.
func (w *walker) single(v reflect.Value, n *node, path string, f *field) {
	if n.shape != scalar {
		w.report(n.at, path, fmt.Sprintf("a single value is wanted here, this is %s", n.shape), f.example())
		return
	}
	q, bad := f.set(v, n.text)
	if bad != nil {
		if n.origin == Assumed {
			panic("plan: default of " + path + ": " + bad.message)
		}
		at := n.at
		if n.plain && at.line > 0 {
			at.column += bad.offset
		}
		w.report(at, path, bad.message, bad.hint)
		return
	}
	known := Value{Path: path, Text: n.text, Origin: n.origin, Source: n.source, Doc: f.doc, Quantity: q}
	if n.origin == Given {
		known.Line, known.Column = n.at.line, n.at.column
	}
	w.origins.add(known)
}

// set reads a text into a value by the rules of its field.
func (f *field) set(v reflect.Value, text string) (q unit.Quantity, bad *trouble) {
	if to, ok := v.Addr().Interface().(word); ok {
		return q, to.read(text, f)
	}
	switch {
	case f.measure != nil:
		if q, bad = f.quantity(text); bad != nil {
			return q, bad
		}
		if v.Kind() == reflect.Int {
			v.SetInt(int64(q.SI))
		} else {
			v.SetFloat(q.SI)
		}
		return q, nil
	case f.enum != nil && !known(text, f.enum):
		bad := &trouble{0, fmt.Sprintf("%q is not known here, allowed: %s", text, strings.Join(f.enum, ", ")), f.doc}
		if near, ok := unit.Nearest(text, f.enum); ok {
			bad.hint = fmt.Sprintf("did you mean %q?", near)
		}
		return q, bad
	case f.key != "notes":
		bad = named(text)
	}
	if bad == nil {
		v.SetString(text)
	}
	return q, bad
}

// maxName is the longest name, in bytes.
const maxName = 200

// named refuses what would be lost or misread where names are told.
func named(text string) *trouble {
	switch {
	case strings.TrimSpace(text) == "":
		return &trouble{0, "nothing is written here", "write a name, or leave the key out"}
	case strings.TrimSpace(text) != text:
		return &trouble{0, fmt.Sprintf("%q begins or ends with a blank", text), "leave the blank out"}
	case strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return &trouble{0, fmt.Sprintf("%q has a line break or a control character", text), "write it in one line"}
	case len(text) > maxName:
		return &trouble{0, fmt.Sprintf("the text is longer than %d bytes", maxName), "what is for people goes to 'notes'"}
	}
	return nil
}

// example says how a single value of the field is written.
func (f *field) example() string {
	switch {
	case f.measure != nil:
		return "such as " + f.measure.kind.Example()
	case f.enum != nil:
		return "allowed: " + strings.Join(f.enum, ", ")
	}
	return f.doc
}
