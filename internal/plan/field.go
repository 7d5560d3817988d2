package plan

import (
	"reflect"
	"strings"
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
	short   string
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
		fields = append(fields, f)
	}
	return fields
}

// table keeps the fields of each struct for one walk.
type table map[reflect.Type][]field

func (t table) of(s reflect.Type) []field {
	fields, ok := t[s]
	if !ok {
		fields = fieldsOf(s)
		t[s] = fields
	}
	return fields
}

func keys(fields []field) []string {
	list := make([]string, len(fields))
	for i, f := range fields {
		list[i] = f.key
	}
	return list
}
