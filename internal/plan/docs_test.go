package plan

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the tables of docs/plan-file.md anew")

const (
	docsFile = "../../docs/plan-file.md"
	docsMark = "<!-- from here on made by: go test ./internal/plan -run Docs -update -->\n"
)

func TestDocs(t *testing.T) {
	old, err := os.ReadFile(docsFile)
	if err != nil {
		t.Fatal(err)
	}
	introduction, tables, ok := strings.Cut(string(old), docsMark)
	if !ok {
		t.Fatalf("%s has no line %q", docsFile, docsMark)
	}
	if tables == Markdown() {
		return
	}
	if !*update {
		t.Fatalf("%s is not up to date; run go test ./internal/plan -run Docs -update", docsFile)
	}
	if err := os.WriteFile(docsFile, []byte(introduction+docsMark+Markdown()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The example of the introduction is a good plan.
func TestDocsExample(t *testing.T) {
	text, err := os.ReadFile(docsFile)
	if err != nil {
		t.Fatal(err)
	}
	_, example, _ := strings.Cut(string(text), "```yaml\n")
	example, _, ok := strings.Cut(example, "```")
	if !ok {
		t.Fatal("no example found")
	}
	mustLoad(t, example)
}

// Every row of the table can be read by a person: a default has a source, a row a line, and a needed key no default.
func TestTable(t *testing.T) {
	for _, r := range Table() {
		switch {
		case r.Doc == "":
			t.Errorf("%s has no line for people", r.Path)
		case (r.Default == "") != (r.Source == ""):
			t.Errorf("%s: default %q, source %q", r.Path, r.Default, r.Source)
		case r.Must && r.Default != "":
			t.Errorf("%s is needed and has a default", r.Path)
		case r.Kind == "":
			t.Errorf("%s: nothing tells what is written there", r.Path)
		}
	}
}
