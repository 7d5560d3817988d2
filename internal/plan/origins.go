package plan

import (
	"iter"
	"slices"

	"suncellar/internal/unit"
)

// Origin tells where a value comes from.
type Origin int

// The origins.
const (
	Given   Origin = iota // written in the plan
	Assumed               // left out: the default of the table
	Fitted                // found from readings and laid over the plan
	Changed               // set otherwise by a change
)

// String is the word for people.
func (o Origin) String() string {
	return [...]string{"given", "assumed", "fitted", "changed"}[o]
}

// Value is what is known of one value of the plan beside the number itself.
type Value struct {
	Path         string // such as "store.rows[0].drums": a Change of this path sets it
	Text         string // as written, or as the default is written
	Line, Column int    // of what was written; 0 for what was not in the file
	Origin       Origin
	Source       string        // of an assumed value
	Doc          string        // the line for people
	Quantity     unit.Quantity // of a number with a kind; otherwise zero
}

// Origins tells for every value of a plan what was written, where, and where it comes from. The zero Origins is empty.
type Origins struct {
	values []Value
	index  map[string]int
	places map[string]place
}

// At returns what is known of the value with this path, and whether there is one. A value that was left out
// and has no default is not there.
func (o *Origins) At(path string) (Value, bool) {
	i, ok := o.index[path]
	if !ok {
		return Value{}, false
	}
	return o.values[i], true
}

// Given tells whether a value was written, fitted or changed, not assumed or left out.
func (o *Origins) Given(path string) bool {
	v, ok := o.At(path)
	return ok && v.Origin != Assumed
}

// All goes through the values in the order of the table, names in the order of the file.
func (o *Origins) All() iter.Seq[Value] { return slices.Values(o.values) }

// Assumed lists the values that were left out and have a default, in the order of the table. What belongs to a part
// that the plan does not have is not listed.
func (p *Plan) Assumed() []Value {
	var assumed []Value
	for _, v := range p.Origins.values {
		if v.Origin == Assumed {
			assumed = append(assumed, v)
		}
	}
	return assumed
}

func (o *Origins) add(v Value) {
	o.index[v.Path] = len(o.values)
	o.values = append(o.values, v)
}

// place is where a path is written, or the nearest part above it that is.
func (o *Origins) place(path string) place {
	for {
		if at, ok := o.places[path]; ok || path == "" {
			return at
		}
		path = above(path)
	}
}
