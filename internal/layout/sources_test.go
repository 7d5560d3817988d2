package layout

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// citation is what stands after "Source:" in a comment.
type citation struct {
	where, room, text string
}

var sourceMark = regexp.MustCompile(`\bSources?(?:, [a-z ]+)?:`)

// citations are all of the code outside tests.
func citations(t *testing.T) []citation {
	t.Helper()
	var list []citation
	for _, f := range sources(t) {
		if f.test || !strings.HasPrefix(f.name, "internal/") || f.room == "layout" {
			continue
		}
		files := token.NewFileSet()
		parsed, err := parser.ParseFile(files, filepath.Join(root, filepath.FromSlash(f.name)), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, group := range parsed.Comments {
			list = append(list, cited(f, files, group)...)
		}
	}
	if len(list) < 50 {
		t.Fatalf("only %d citations found: the check looks in the wrong place", len(list))
	}
	return list
}

// cited are the citations of one comment: from each mark to the end of its paragraph.
func cited(f file, files *token.FileSet, group *ast.CommentGroup) []citation {
	var list []citation
	for paragraph := range strings.SplitSeq(group.Text(), "\n\n") {
		marks := sourceMark.FindAllStringIndex(paragraph, -1)
		for i, m := range marks {
			end := len(paragraph)
			if i+1 < len(marks) {
				end = marks[i+1][0]
			}
			where := files.Position(group.Pos())
			list = append(list, citation{f.name + " (comment at line " + strconv.Itoa(where.Line) + ")", f.room, strings.Join(strings.Fields(paragraph[m[1]:end]), " ")})
		}
	}
	return list
}

// work is a row of docs/sources.md: the words the code cites it by, and what it is.
type work struct {
	keys  []string // any of them
	title string
}

// cites tells whether a text has one of the words of a work.
func (w work) cites(text string) bool {
	return slices.ContainsFunc(w.keys, func(k string) bool { return strings.Contains(text, k) })
}

const (
	worksBegin = "<!-- works: first two columns by hand, the third by go test ./internal/layout -update -->"
	worksEnd   = "<!-- end of works -->"
)

func works(t *testing.T) []work {
	_, rest, ok := strings.Cut(readDocument(t, "docs/sources.md"), worksBegin)
	rest, _, ok2 := strings.Cut(rest, worksEnd)
	if !ok || !ok2 {
		t.Fatalf("docs/sources.md has no part between %s and %s", worksBegin, worksEnd)
	}
	var list []work
	for line := range strings.Lines(rest) {
		c := cells(strings.TrimSpace(line))
		if len(c) < 2 || c[0] == "cited as" {
			continue
		}
		list = append(list, work{keys: strings.Split(c[0], " / "), title: c[1]})
	}
	return list
}

// Who cites a work puts it into docs/sources.md; who takes the last citation out takes the row out.
func TestEveryCitedWorkIsListed(t *testing.T) {
	list, cs := works(t), citations(t)
	for _, c := range cs {
		if !slices.ContainsFunc(list, func(w work) bool { return w.cites(c.text) }) {
			t.Errorf("%s cites a work that docs/sources.md does not have: %q", c.where, c.text)
		}
	}
	var b strings.Builder
	b.WriteString("| cited as | work | in |\n| --- | --- | --- |\n")
	for _, w := range list {
		var rooms []string
		for _, c := range cs {
			if w.cites(c.text) && !slices.Contains(rooms, c.room) {
				rooms = append(rooms, c.room)
			}
		}
		if rooms == nil {
			t.Errorf("docs/sources.md has %q, which no code cites", strings.Join(w.keys, " / "))
		}
		slices.Sort(rooms)
		b.WriteString("| " + strings.Join(w.keys, " / ") + " | " + w.title + " | " + strings.Join(rooms, ", ") + " |\n")
	}
	if !t.Failed() {
		checkBlock(t, "docs/sources.md", worksBegin, worksEnd, b.String())
	}
}

// Every package of physics has its page with the symbols and equation numbers of its code, and no page is left over.
func TestEveryPhysicsPackageHasItsPage(t *testing.T) {
	physics := []string{"air", "airflow", "cropwater", "enclosure", "glazing", "ground", "material", "pipes", "sun", "thermal"}
	for _, p := range physics {
		if _, ok := rooms[p]; !ok {
			t.Errorf("%s is not in the table of packages", p)
		}
		if text := readDocument(t, "docs/physics/"+p+".md"); len(text) < 500 {
			t.Errorf("docs/physics/%s.md has %d bytes, which tells nothing", p, len(text))
		}
	}
	pages, err := filepath.Glob(filepath.Join(root, "docs", "physics", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		name := strings.TrimSuffix(filepath.Base(p), ".md")
		_, isPackage := rooms[name]
		_, err := os.Stat(filepath.Join(root, "internal", "greenhouse", name+".go")) // a large part of the assembly has a page too
		if !isPackage && err != nil {
			t.Errorf("docs/physics/%s.md is about no package and no part of the assembly", name)
		}
	}
	for name, r := range rooms {
		if r.on == knowledge && name != "draw" && !slices.Contains(physics, name) {
			t.Errorf("%s is on the floor of knowledge and has no page in docs/physics", name)
		}
	}
}

var linkMark = regexp.MustCompile(`\]\(([^)#\s]+)(?:#[^)]*)?\)`)

// A link between documents leads somewhere.
func TestLinksOfDocumentsLeadSomewhere(t *testing.T) {
	var pages []string
	for _, pattern := range []string{"*.md", "docs/*.md", "docs/*/*.md", "examples/*.md"} {
		found, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(pattern)))
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, found...)
	}
	links := 0
	for _, p := range pages {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range linkMark.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], "://") || strings.HasPrefix(m[1], "mailto:") {
				continue
			}
			links++
			if _, err := os.Stat(filepath.Join(filepath.Dir(p), path.Clean(m[1]))); err != nil {
				t.Errorf("%s has a link to %s, which is not there", p, m[1])
			}
		}
	}
	if links < 10 {
		t.Errorf("only %d links found in %d documents: the check looks in the wrong place", links, len(pages))
	}
}
