package plan

// nodeShape is what a node of the document is.
type nodeShape int

const (
	scalar  nodeShape = iota // one text
	mapping                  // keys with values
	list                     // items
	empty                    // a key without a value
	broken                   // already reported; neither read nor missed
)

func (s nodeShape) String() string {
	switch s {
	case scalar:
		return "a single value"
	case mapping:
		return "keys with values"
	case list:
		return "a list"
	default:
		return "nothing"
	}
}

// place is where a text stands.
type place struct {
	file         string // the plan's name, or "--set path=value"
	line, column int    // in characters from 1; 0 without a line
}

// node is one value of the document as it was written, apart from any YAML library: texts are kept unread,
// so that 012, 1e3 and 1:30 mean what a person reads there.
type node struct {
	shape   nodeShape
	text    string // of a scalar
	plain   bool   // the text stands in the file letter by letter: no quotes, one line
	glued   bool   // a list item that follows "digit," without a blank: a decimal comma in brackets looks so
	at      place
	entries []entry // of a mapping, in the order of the file
	items   []*node // of a list
	origin  Origin
	source  string // where a value that was not given comes from
}

// entry is one key of a mapping with its value.
type entry struct {
	key   string
	at    place
	value *node
}

// get returns the value of a key, or nil. Of doubled keys it is the first.
func (n *node) get(key string) *node {
	if n == nil || n.shape != mapping {
		return nil
	}
	for i := range n.entries {
		if n.entries[i].key == key {
			return n.entries[i].value
		}
	}
	return nil
}

// clone copies a node and all below it.
func (n *node) clone() *node {
	if n == nil {
		return nil
	}
	c := *n
	c.entries = make([]entry, len(n.entries))
	for i, e := range n.entries {
		c.entries[i] = entry{e.key, e.at, e.value.clone()}
	}
	c.items = make([]*node, len(n.items))
	for i, item := range n.items {
		c.items[i] = item.clone()
	}
	return &c
}
