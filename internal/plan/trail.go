package plan

import (
	"reflect"
	"slices"
)

// Range is where the value of a path stands in the text of a plan: the bytes from the first to before the last. Of keys or a list on
// lines of their own they go from the first key or dash to the end of the last value. ok is false where the path is not written, or
// the text is no YAML document.
func Range(text []byte, path string) (from, to int, ok bool) {
	s, _ := newSheet("", string(text))
	list, err := steps(path)
	if s == nil || err != nil {
		return 0, 0, false
	}
	at := s.resolve(list)
	if len(at.holders) == 0 || len(at.rest) > 0 {
		return 0, 0, false
	}
	last := at.last()
	v, ok := s.value(last.node, last.index)
	return v.from, v.to, ok
}

// holder is a node and the entry or item of it that a path leads through.
type holder struct {
	node  *node
	index int
}

// trail is how far the text has a path.
type trail struct {
	holders []holder // from the document down to what is written
	end     *node    // what stands there: the value itself, or the node that lacks the next step
	rest    []step   // the steps that are not written
	path    []step   // all steps
	inline  bool     // the end is, or lies, within brackets
}

func (p *trail) last() holder { return p.holders[len(p.holders)-1] }

// resolve follows a path as far as the text has it, in the shape that the table wants.
func (s *sheet) resolve(path []step) trail {
	p := trail{end: s.root, rest: path, path: path, inline: s.inBrackets(s.root)}
	where := ""
	for len(p.rest) > 0 && p.holds() {
		at := -1
		switch next := p.rest[0]; p.end.shape {
		case mapping:
			at = slices.IndexFunc(p.end.entries, func(e entry) bool { return next.number < 0 && e.key == next.name })
			where = join(where, next.name)
		case list:
			at, _ = p.end.find(next, where)
			where = item(where, at)
		}
		if at < 0 {
			break
		}
		p.holders = append(p.holders, holder{p.end, at})
		p.end, p.rest = p.end.child(at), p.rest[1:]
		p.inline = p.inline || s.inBrackets(p.end)
	}
	return p
}

// holds tells whether what stands at the end can have the next step: keys for a name, a list for a number, a value written short, or a
// key without a value.
func (p *trail) holds() bool {
	if len(p.rest) == 0 || p.end.shape == empty && len(p.holders) > 0 || p.short() != "" {
		return true
	}
	_, t := p.row()
	if t == nil {
		return false
	}
	switch t.Kind() {
	case reflect.Struct, reflect.Map:
		return p.end.shape == mapping
	case reflect.Slice, reflect.Array:
		return p.end.shape == list
	}
	return false
}

// row is the row of the table for the end, with its type.
func (p *trail) row() (*field, reflect.Type) { return rowAt(p.path[:len(p.path)-len(p.rest)]) }

// short is the key that a single value at the end stands for, "" where it stands for none or is meant itself.
func (p *trail) short() string {
	if f, _ := p.row(); f != nil && len(p.rest) > 0 && p.end.shape == scalar {
		return f.short
	}
	return ""
}

// shortened is a tree in which the part at the end is written short again, where it has that one key.
func (p *trail) shortened(tree *node) *node {
	tree = tree.clone()
	n := tree
	for _, h := range p.holders {
		n = n.child(h.index)
	}
	if n.shape == mapping && len(n.entries) == 1 && n.entries[0].key == p.short() {
		*n = *n.entries[0].value
	}
	return tree
}
