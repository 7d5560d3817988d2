package unknown

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the table of docs/physics/unknown.md anew")

const (
	docsFile  = "../../docs/physics/unknown.md"
	docsBegin = "<!-- spreads: written by go test ./internal/unknown -run Docs -update -->\n"
	docsEnd   = "<!-- end of spreads -->\n"
)

// The page's table is that of the code.
func TestDocs(t *testing.T) {
	text, err := os.ReadFile(docsFile)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, begins := strings.Cut(string(text), docsBegin)
	_, after, ends := strings.Cut(rest, docsEnd)
	if !begins || !ends {
		t.Fatalf("%s has no place for the table", docsFile)
	}
	var b strings.Builder
	b.WriteString("| what | key below `unknown` | distribution | one standard deviation | 8 in 10 houses | where from |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, r := range priors {
		form, low, high := "%+.0f %% to %+.0f %%", 100*r.spread.value(0, -EightInTen), 100*r.spread.value(0, EightInTen)
		if r.spread.log() {
			form, low, high = "%.2f to %.2f times", r.spread.value(1, -EightInTen), r.spread.value(1, EightInTen)
		}
		fmt.Fprintf(&b, "| %s | `%s` | %s | %s | %s | %s |\n", r.label, r.id, r.spread.word(), r.words, fmt.Sprintf(form, low, high), r.source)
	}
	want := before + docsBegin + b.String() + docsEnd + after
	if want == string(text) {
		return
	}
	if !*update {
		t.Fatalf("%s is not up to date; run go test ./internal/unknown -run Docs -update", docsFile)
	}
	if err := os.WriteFile(docsFile, []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}
