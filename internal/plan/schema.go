package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"suncellar/internal/unit"
)

// Schema is the JSON Schema (draft 2020-12) of the plan file, for editors: keys with what they mean, units, ranges and defaults, words,
// lengths of lists, and no other keys. It is made from the table. A plan that Read takes passes it; what only Read and Check can find
// (the unit's kind, limits in the unit that was written, rules between keys) passes it too.
func Schema() ([]byte, error) {
	m := schemaMaker{}
	root := m.keys(reflect.TypeFor[Plan]())
	root.Version, root.ID = "https://json-schema.org/draft/2020-12/schema", "urn:suncellar:plan:1"
	root.Title, root.Description = "Suncellar plan", "One house, its site and how it is run. Every number has its unit."
	root.Defs = m.defs
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(root)
	return b.Bytes(), err
}

// schema is one schema; only what the plan needs.
type schema struct {
	Version     string     `json:"$schema,omitempty"`
	ID          string     `json:"$id,omitempty"`
	Ref         string     `json:"$ref,omitempty"`
	Title       string     `json:"title,omitempty"`
	Description string     `json:"description,omitempty"`
	Type        any        `json:"type,omitempty"` // a word or a list of words
	Enum        []string   `json:"enum,omitempty"`
	Pattern     string     `json:"pattern,omitempty"`
	MinLength   int        `json:"minLength,omitempty"`
	MaxLength   int        `json:"maxLength,omitempty"`
	Minimum     *float64   `json:"minimum,omitempty"`
	Maximum     *float64   `json:"maximum,omitempty"`
	AnyOf       []*schema  `json:"anyOf,omitempty"`
	Items       *schema    `json:"items,omitempty"`
	MinItems    int        `json:"minItems,omitempty"`
	MaxItems    int        `json:"maxItems,omitempty"`
	Required    []string   `json:"required,omitempty"`
	Properties  properties `json:"properties,omitempty"`
	Names       *schema    `json:"propertyNames,omitempty"`
	Others      any        `json:"additionalProperties,omitempty"` // false, or a schema
	Default     any        `json:"default,omitempty"`
	Examples    []string   `json:"examples,omitempty"`
	Defs        properties `json:"$defs,omitempty"`
}

// properties are schemas by name, in an order that is kept.
type properties []property

type property struct {
	name string
	*schema
}

// MarshalJSON writes an object.
func (p properties) MarshalJSON() ([]byte, error) {
	b := []byte("{")
	for i, one := range p {
		if i > 0 {
			b = append(b, ',')
		}
		name, err := json.Marshal(one.name)
		if err != nil {
			return nil, err
		}
		var value bytes.Buffer
		e := json.NewEncoder(&value)
		e.SetEscapeHTML(false)
		if err := e.Encode(one.schema); err != nil {
			return nil, err
		}
		b = append(append(append(b, name...), ':'), value.Bytes()...)
	}
	return append(b, '}'), nil
}

// schemaMaker collects the parts that schemas refer to.
type schemaMaker struct{ defs properties }

// keys is the schema of a struct.
func (m *schemaMaker) keys(t reflect.Type) *schema {
	s := &schema{Type: "object", Others: false}
	fields := theTable()[t]
	for i := range fields {
		f := &fields[i]
		if f.must {
			s.Required = append(s.Required, f.key)
		}
		s.Properties = append(s.Properties, property{f.key, m.field(f, t.Field(f.at).Type)})
	}
	return s
}

// field is the schema of a key, with what people are to know of it.
func (m *schemaMaker) field(f *field, t reflect.Type) *schema {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	s := m.value(f, t)
	s.Description = f.told(t)
	if f.def != "" {
		s.Default = f.def
		if number, err := strconv.ParseFloat(f.def, 64); err == nil && f.measure != nil {
			s.Default = number
		}
	}
	return s
}

// value is the schema of what is written for a type.
func (m *schemaMaker) value(f *field, t reflect.Type) *schema {
	if t == reflect.TypeFor[Spread]() {
		return &schema{Type: "string", Pattern: `^off$|^[^,]*[0-9][^,]* to [^,]*[0-9]`, Examples: examples(spreadExample)}
	}
	switch t.Kind() {
	case reflect.Struct:
		if words, ok := wordSchemas[t]; ok {
			return &schema{Type: "string", Pattern: words}
		}
		return m.part(f, t)
	case reflect.Slice:
		s := &schema{Type: "array", Items: m.value(&field{}, t.Elem())}
		if f.must {
			s.MinItems = 1
		}
		return s
	case reflect.Array:
		return &schema{Type: "array", Items: f.single(), MinItems: t.Len(), MaxItems: t.Len()}
	case reflect.Map:
		return &schema{Type: "object", Names: &schema{MinLength: 1, MaxLength: maxName}, Others: m.value(f, t.Elem())}
	}
	return f.single()
}

// part refers to the schema of a struct, which is made once. A part with a short form may be the value of one key instead.
func (m *schemaMaker) part(f *field, t reflect.Type) *schema {
	runes := []rune(t.Name())
	name := string(unicode.ToLower(runes[0])) + string(runes[1:])
	at := len(m.defs)
	for i, d := range m.defs {
		if d.name == name {
			at = i
		}
	}
	if at == len(m.defs) {
		m.defs = append(m.defs, property{name, &schema{}}) // first, so that parts stand in the order of the table
		*m.defs[at].schema = *m.keys(t)
	}
	ref := &schema{Ref: "#/$defs/" + name}
	if f.short == "" {
		return ref
	}
	fields := theTable()[t]
	for i := range fields {
		if fields[i].key == f.short {
			return &schema{AnyOf: []*schema{fields[i].single(), ref}}
		}
	}
	panic("plan: no key " + f.short)
}

// wordSchemas are the patterns of values with a writing of their own.
var wordSchemas = map[reflect.Type]string{
	reflect.TypeFor[Date]():     `^([0-9]{4}-)?[0-9]{1,2}-[0-9]{1,2}$`,
	reflect.TypeFor[Hours]():    `^(always|[0-9 ]+:[0-9 ]+-[0-9 ]+:[0-9 ]+)$`,
	reflect.TypeFor[TimeZone](): `^[A-Za-z][A-Za-z0-9_+:/−-]*$`,
	reflect.TypeFor[Behind]():   `^(air|soil|adiabatic|fixed [^,]+)$`,
}

// The patterns of a number, alone and with a unit before or behind it. Which unit it is, only the reader knows: there are too many
// ways to write one.
const (
	numberPattern   = `^ *[-+−]?(\.[0-9]|[0-9])[0-9./eE +-]*$`
	quantityPattern = `^ *[-+−]?[.0-9][^,]*[A-DF-Za-df-z°%'"′″’”][^,]*$`
	rValuePattern   = `|^ *[Rr]([Ss][Ii])?[ -]*[.0-9][^,]*$`
)

// single is the schema of a number, a word or a text.
func (f *field) single() *schema {
	switch {
	case f.measure == nil && f.enum != nil:
		return &schema{Enum: f.enum}
	case f.measure == nil && f.key == "notes":
		return &schema{Type: "string"}
	case f.measure == nil: // a name may look like a number, or like a yes or no
		return &schema{Type: []string{"string", "number", "boolean"}, MinLength: 1, MaxLength: maxName}
	}
	kind := f.measure.kind
	s := &schema{Type: "string", Pattern: quantityPattern}
	for _, text := range examples(kind.Example()) {
		if _, bad := f.quantity(text); bad == nil && kind != unit.Count {
			s.Examples = append(s.Examples, text)
		}
	}
	switch kind {
	case unit.Resistance:
		s.Pattern += rValuePattern
	case unit.Count:
		s.Type, s.Pattern = []string{"integer", "string"}, numberPattern
	case unit.Ratio:
		s.Type, s.Pattern = []string{"number", "string"}, numberPattern
	case unit.Share:
		s.Type, s.Pattern = []string{"number", "string"}, numberPattern+"|"+quantityPattern
	}
	if s.Type != "string" && f.ranged {
		s.Minimum, s.Maximum = finite(f.limits.lowest), finite(f.limits.highest)
	}
	return s
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// examples takes the examples out of a line such as '12 ft 6 in' or '3.8 m'.
func examples(line string) []string {
	var list []string
	for i, part := range strings.Split(line, "'") {
		if i%2 == 1 {
			list = append(list, part)
		}
	}
	return list
}

// told is the description of a key: what it is, what is written, what is allowed, and what is assumed without it.
func (f *field) told(t reflect.Type) string {
	row := TableRow{}
	f.describe(&row, t)
	text := f.doc
	if row.Example != "" {
		text += fmt.Sprintf(". Written as %s: %s", row.Kind, row.Example)
	}
	if row.Allowed != "" && f.enum == nil {
		text += ". Allowed: " + row.Allowed
	}
	if f.def != "" {
		text += fmt.Sprintf(". Left out: %s (%s)", f.def, f.source)
	}
	return text
}
