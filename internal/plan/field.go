package plan

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"suncellar/internal/unit"
)

// field is one row of the table: a struct field with its tags read.
type field struct {
	at      int // index in the struct
	key     string
	measure *measure // nil for what is no number
	limits  limits
	ranged  bool
	enum    []string
	def     string // "" for none
	source  string
	must    bool
	unless  []string // siblings, as key or key=value
	short   string
	of      []string // paths of the values a spread is about
	doc     string
}

// fieldsOf reads the tags of a struct. A fault in them is ours, and panics.
func fieldsOf(t reflect.Type) []field {
	var fields []field
	for i := range t.NumField() {
		tag := t.Field(i).Tag
		key := tag.Get("key")
		if !t.Field(i).IsExported() || key == "-" {
			continue
		}
		if key == "" {
			panic("plan: no key for " + t.Name() + "." + t.Field(i).Name)
		}
		f := field{
			at: i, key: key, def: tag.Get("default"), source: tag.Get("source"), doc: tag.Get("doc"),
			short: tag.Get("short"), must: tag.Get("must") == "yes", ranged: tag.Get("range") != "",
		}
		if kind := tag.Get("kind"); kind != "" {
			f.measure = measureOf(kind)
			f.limits = limitsOf(tag.Get("range"), f.measure)
		}
		if enum := tag.Get("enum"); enum != "" {
			f.enum = strings.Split(enum, "|")
		}
		if of := tag.Get("of"); of != "" {
			f.of = strings.Split(of, "|")
		}
		if unless := tag.Get("unless"); unless != "" {
			f.unless = strings.Split(unless, "|")
		}
		fields = append(fields, f)
	}
	return fields
}

// table holds the fields of every struct of a plan.
type table map[reflect.Type][]field

// theTable is read from the tags once; nothing writes to it afterwards.
var theTable = sync.OnceValue(func() table {
	t := table{}
	t.add(reflect.TypeFor[Plan]())
	return t
})

// add reads the tags of a struct and of all structs within it.
func (t table) add(s reflect.Type) {
	for s.Kind() == reflect.Pointer || s.Kind() == reflect.Slice || s.Kind() == reflect.Map {
		s = s.Elem()
	}
	_, single := reflect.New(s).Interface().(word)
	if _, done := t[s]; done || single || s.Kind() != reflect.Struct {
		return
	}
	t[s] = fieldsOf(s)
	for _, f := range t[s] {
		t.add(s.Field(f.at).Type)
	}
}

// pointless tells whether a sibling stands in the mapping that leaves nothing to assume for the field.
func (f *field) pointless(siblings *node) bool {
	return slices.ContainsFunc(f.unless, func(rule string) bool {
		key, want, valued := strings.Cut(rule, "=")
		n := siblings.get(key)
		return n != nil && (!valued || n.text == want)
	})
}

func keys(fields []field) []string {
	list := make([]string, len(fields))
	for i, f := range fields {
		list[i] = f.key
	}
	return list
}

// fieldAt is the row of a path, nil where there is none. Of a list and of names it is the row of what they hold.
func fieldAt(path string) *field {
	list, err := steps(path)
	if err != nil {
		return nil
	}
	row, _ := rowAt(list)
	return row
}

// rowAt is the row of a path taken apart, with the type of what stands there: a struct, what a list or names hold, or a single value.
func rowAt(list []step) (*field, reflect.Type) {
	at, row := reflect.TypeFor[Plan](), (*field)(nil)
	for _, s := range list {
		for at.Kind() == reflect.Pointer {
			at = at.Elem()
		}
		if at.Kind() == reflect.Slice || at.Kind() == reflect.Map || at.Kind() == reflect.Array {
			at = at.Elem()
			continue
		}
		fields := theTable()[at]
		i := slices.IndexFunc(fields, func(f field) bool { return s.number < 0 && f.key == s.name })
		if i < 0 {
			return nil, nil
		}
		row, at = &fields[i], at.Field(fields[i].at).Type
	}
	for at.Kind() == reflect.Pointer {
		at = at.Elem()
	}
	return row, at
}

// Allowed is the lowest and the highest value that a number of the plan may have, in the unit of its kind, and whether there is such
// a number. An end that the table leaves open is infinite.
func Allowed(path string) (low, high float64, ok bool) {
	f := fieldAt(path)
	if f == nil || f.measure == nil {
		return 0, 0, false
	}
	return f.limits.lowest, f.limits.highest, true
}

// Rule tells what may be written at a path: limits in the unit of its kind, and in that of the value that stands there, or the words there are to choose from. Both are empty where anything goes.
func Rule(path string, in unit.Quantity) (limits string, words []string) {
	f := fieldAt(path)
	switch {
	case f == nil:
		return "", nil
	case f.enum != nil:
		return "", slices.Clone(f.enum)
	case f.measure != nil && f.ranged:
		return f.limits.told(f.measure, in), nil
	}
	return "", nil
}

// Default is what a value is where the plan leaves it out, with the source of that; "" where there is none.
func Default(path string) (text, source string) {
	f := fieldAt(path)
	if f == nil {
		return "", ""
	}
	return f.def, f.source
}
