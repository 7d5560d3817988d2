package layout

import (
	"flag"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the tables of the documents anew")

// root is the top of the repository, seen from this folder.
const root = "../.."

// module is our own module path.
const module = "suncellar"

// file is the imports of one source file.
type file struct {
	room    string // see room
	name    string
	test    bool
	imports []string
}

// roomOf is the name a folder or import path of ours has in the table.
func roomOf(dir string) string { return strings.TrimPrefix(dir, "internal/") }

// sources reads the imports of every Go file of ours, whatever system it is for.
func sources(t *testing.T) []file {
	t.Helper()
	var files []file
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.IsDir() {
			base := d.Name()
			if rel != "." && (strings.HasPrefix(base, ".") || base == "testdata" || base == "bin" || rel == "cmd/try") {
				return filepath.SkipDir
			}
			return nil
		}
		if path.Ext(rel) != ".go" {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		f := file{room: roomOf(path.Dir(rel)), name: rel, test: strings.HasSuffix(rel, "_test.go")}
		for _, s := range parsed.Imports {
			p, err := strconv.Unquote(s.Path.Value)
			if err != nil {
				return err
			}
			f.imports = append(f.imports, p)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 100 {
		t.Fatalf("only %d source files found from %s: the check looks in the wrong place", len(files), root)
	}
	return files
}

// allowed tells why an import of a file is not in the table, or "".
func allowed(f file, r room, p string) string {
	if own, ours := strings.CutPrefix(p, module+"/"); ours {
		own = roomOf(own)
		list := strings.Fields(r.imports)
		if f.test {
			list = append(list, strings.Fields(r.tests)...)
			if strings.Contains(r.testing, "rapid") {
				list = append(list, "drawn")
			}
			list = append(list, f.room) // a test in a package of its own
		}
		if !slices.Contains(list, own) {
			return "may import only " + strings.Join(list, ", ") + " of ours"
		}
		return ""
	}
	first, _, _ := strings.Cut(p, "/")
	if !strings.Contains(first, ".") {
		if p == "C" || p == "unsafe" {
			return "must do without C and unsafe"
		}
		return "" // the standard library
	}
	list := strings.Fields(r.modules)
	if f.test {
		list = append(list, strings.Fields(r.testing)...)
	}
	for _, m := range list {
		if p == m || strings.HasPrefix(p, m+"/") {
			return ""
		}
	}
	if len(list) == 0 {
		return "may import no module of others"
	}
	return "may import only " + strings.Join(list, ", ") + " of others"
}

func TestImportsAreInTheTable(t *testing.T) {
	for _, f := range sources(t) {
		r, ok := rooms[f.room]
		if !ok {
			t.Errorf("%s: package %s is not in the table of internal/layout", f.name, f.room)
			continue
		}
		for _, p := range f.imports {
			if why := allowed(f, r, p); why != "" {
				t.Errorf("%s imports %s: %s %s", f.name, p, f.room, why)
			}
		}
	}
}

// A check that refuses nothing would pass as well: these must be refused.
func TestTheCheckRefuses(t *testing.T) {
	r := room{imports: "air", modules: "example.org/yaml", tests: "exact", testing: "example.org/rapid"}
	for _, c := range []struct {
		test    bool
		imports string
		ok      bool
	}{
		{false, "math", true},
		{false, "suncellar/internal/air", true},
		{false, "suncellar/internal/airflow", false},
		{false, "suncellar/internal/exact", false},
		{true, "suncellar/internal/exact", true},
		{false, "example.org/yaml/ast", true},
		{false, "example.org/yamlish", false},
		{false, "example.org/rapid", false},
		{true, "example.org/rapid", true},
		{true, "suncellar/internal/other", false},
		{false, "C", false},
		{false, "unsafe", false},
	} {
		why := allowed(file{room: "some", test: c.test}, r, c.imports)
		if (why == "") != c.ok {
			t.Errorf("test file %v importing %s: %q", c.test, c.imports, why)
		}
	}
}

func TestTheTableGoesDown(t *testing.T) {
	exists := map[string]bool{}
	for _, f := range sources(t) {
		exists[f.room] = true
	}
	for name, r := range rooms {
		if !exists[name] {
			t.Errorf("the table has %s, which is no package", name)
		}
		for _, to := range strings.Fields(r.imports) {
			below, ok := rooms[to]
			switch {
			case !ok:
				t.Errorf("%s may import %s, which is not in the table", name, to)
			case below.on >= r.on:
				t.Errorf("%s (%s) may import %s (%s): imports go down", name, floorNames[r.on], to, floorNames[below.on])
			case to == "exact" || to == "layout" || to == "drawn":
				t.Errorf("%s may import %s, which is for tests only", name, to)
			}
		}
		for _, to := range strings.Fields(r.tests) {
			if _, ok := rooms[to]; !ok {
				t.Errorf("tests of %s may import %s, which is not in the table", name, to)
			}
		}
	}
}

// Pure knowledge sees no document, no house and no file: its answers come from its arguments.
func TestKnowledgeReadsNoFiles(t *testing.T) {
	for _, f := range sources(t) {
		if f.test || rooms[f.room].on > knowledge {
			continue
		}
		for _, p := range f.imports {
			switch p {
			case "os", "net", "net/http", "database/sql", "os/exec", "flag", "log", "log/slog", "math/rand", "math/rand/v2":
				t.Errorf("%s imports %s: packages up to the floor of %s take everything from their arguments", f.name, p, floorNames[knowledge])
			}
		}
	}
}

const (
	tableBegin = "<!-- imports: written by go test ./internal/layout -update -->"
	tableEnd   = "<!-- end of imports -->"
)

func TestArchitectureHasTheTable(t *testing.T) {
	var b strings.Builder
	b.WriteString("| package | floor | may import of ours | of others | tests besides |\n| --- | --- | --- | --- | --- |\n")
	names := slices.SortedFunc(maps.Keys(rooms), func(a, b string) int {
		if d := int(rooms[b].on - rooms[a].on); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	for _, n := range names {
		r := rooms[n]
		b.WriteString("| " + strings.Join([]string{"`" + n + "`", floorNames[r.on], list(r.imports), list(r.modules), list(r.tests + " " + r.testing)}, " | ") + " |\n")
	}
	checkBlock(t, "docs/architecture.md", tableBegin, tableEnd, b.String())
}

func list(words string) string { return strings.Join(strings.Fields(words), ", ") }

// checkBlock compares the part of a document between two marks with what the code says, and with -update writes it.
func checkBlock(t *testing.T, document, begin, end, want string) {
	t.Helper()
	name := filepath.Join(root, filepath.FromSlash(document))
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), begin)
	if !ok {
		t.Fatalf("%s has no line %s", document, begin)
	}
	got, after, ok := strings.Cut(rest, end)
	if !ok {
		t.Fatalf("%s has no line %s", document, end)
	}
	want = "\n" + want
	if got == want {
		return
	}
	if !*update {
		t.Fatalf("%s is not what the code says; write it with: go test ./internal/layout -update", document)
	}
	if err := os.WriteFile(name, []byte(before+begin+want+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
