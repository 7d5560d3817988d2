package plan

import (
	"fmt"
	"reflect"
	"strings"

	"suncellar/internal/unit"
)

// TableRow tells about one key of the plan file.
type TableRow struct {
	Path     string // such as store.rows[].drums or builds.<name>.r_value
	Part     string // the path of the part it belongs to; "" for the document
	Kind     string // what is written there: "length", "text", "date", a list of words
	Example  string // how a number is written
	Default  string // as it would be written; "" for none
	Allowed  string // limits or words; "" for any
	Source   string // of the default
	Must     bool
	Doc      string
	Optional bool // a part that is not there when it is left out
	IsPart   bool // the key holds keys of its own, which follow
}

// Table lists every key of the plan file in the order of the structs.
func Table() []TableRow {
	return rows(reflect.TypeFor[Plan](), "", nil)
}

func rows(t reflect.Type, part string, list []TableRow) []TableRow {
	for _, f := range theTable()[t] {
		row := TableRow{Path: f.key, Part: part, Default: f.def, Source: f.source, Must: f.must, Doc: f.doc}
		if part != "" {
			row.Path = part + "." + f.key
		}
		inner, suffix := f.describe(&row, t.Field(f.at).Type)
		list = append(list, row)
		if inner != nil {
			list = rows(inner, row.Path+suffix, list)
		}
	}
	return list
}

// describe fills in what a value of a type is. inner is the struct that holds the keys of a part.
func (f *field) describe(row *TableRow, t reflect.Type) (inner reflect.Type, suffix string) {
	row.Optional = !f.must && f.measure == nil && (t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map)
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if f.measure != nil {
		row.Kind, row.Example = f.measure.kind.String(), f.measure.kind.Example()
		if f.ranged {
			row.Allowed = f.limits.told(f.measure, unit.Quantity{})
		}
	}
	switch t.Kind() {
	case reflect.Array:
		row.Kind = fmt.Sprintf("list of %d: %s", t.Len(), row.Kind)
	case reflect.Map:
		suffix = ".<name>"
		if t.Elem().Kind() != reflect.Struct {
			row.Path += suffix
			return nil, ""
		}
		row.Kind, row.IsPart = "keys by name", true
		return t.Elem(), suffix
	case reflect.Slice:
		row.Kind, row.IsPart = "list", true
		return t.Elem(), "[]"
	case reflect.Struct:
		if _, single := reflect.New(t).Interface().(word); !single {
			row.Kind, row.IsPart = "keys", true
			return t, ""
		}
		row.Kind = map[string]string{"Date": "date", "Hours": "hours", "TimeZone": "time zone", "Behind": "words", "Spread": "spread"}[t.Name()]
		if row.Kind == "spread" {
			row.Example, row.Allowed = spreadExample, f.spreadAllowed()
		}
	case reflect.String:
		row.Kind = "text"
		if f.enum != nil {
			row.Kind, row.Allowed = "word", strings.Join(f.enum, ", ")
		}
	}
	return nil, ""
}

// Markdown writes the table for docs/plan-file.md: one heading for each part.
func Markdown() string {
	table := Table()
	var b strings.Builder
	parts := []string{""}
	for _, r := range table {
		if r.IsPart {
			suffix := map[string]string{"list": "[]", "keys by name": ".<name>"}[r.Kind]
			parts = append(parts, r.Path+suffix)
		}
	}
	for _, part := range parts {
		title := "The document"
		if part != "" {
			title = "`" + part + "`"
		}
		fmt.Fprintf(&b, "\n### %s\n\n| key | written as | left out | allowed | what it is |\n| --- | --- | --- | --- | --- |\n", title)
		for _, r := range table {
			if r.Part == part {
				r.markdown(&b)
			}
		}
	}
	return b.String()
}

func (r TableRow) markdown(b *strings.Builder) {
	key := strings.TrimPrefix(strings.TrimPrefix(r.Path, r.Part), ".")
	kind := r.Kind
	if r.Example != "" {
		kind += ", " + strings.ReplaceAll(r.Example, "'", "`")
	}
	out := "nothing is assumed"
	switch {
	case r.Must:
		out = "**needed**"
	case r.Default != "":
		out = "`" + r.Default + "` (" + r.Source + ")"
	case r.Optional:
		out = "none"
	case r.Kind == "keys":
		out = "its keys are assumed"
	}
	fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s |\n", key, kind, cell(out), cell(r.Allowed), cell(r.Doc))
}

// cell keeps a text from ending its cell of a table.
func cell(text string) string { return strings.ReplaceAll(text, "|", "\\|") }
