package layout

import (
	"bufio"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// allowedLicences are the licences whose modules may become part of the program; testLicences may serve tests as well, unmodified.
var (
	allowedLicences = []string{"MIT", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "ISC", "Unlicense", "OFL-1.1"}
	testLicences    = append([]string{"MPL-2.0"}, allowedLicences...)
)

// fingerprints are words that a licence's text has, and words it must not have.
var fingerprints = map[string]struct{ has, not []string }{
	"MIT":          {has: []string{"permission is hereby granted, free of charge, to any person obtaining a copy", "the above copyright notice and this permission notice shall be included"}},
	"BSD-3-Clause": {has: []string{"redistributions in binary form must reproduce the above copyright notice", "endorse or promote products"}},
	"BSD-2-Clause": {has: []string{"redistributions in binary form must reproduce the above copyright notice"}, not: []string{"endorse or promote"}},
	"Apache-2.0":   {has: []string{"apache license version 2.0, january 2004", "terms and conditions for use, reproduction, and distribution"}},
	"ISC":          {has: []string{"permission to use, copy, modify, and/or distribute this software for any purpose"}},
	"Unlicense":    {has: []string{"this is free and unencumbered software released into the public domain"}},
	"MPL-2.0":      {has: []string{"mozilla public license version 2.0"}},
	"OFL-1.1":      {has: []string{"sil open font license version 1.1"}},
}

// carried are the licences of parts that a module took from elsewhere and that reach the program.
var carried = map[string][]string{
	"gonum.org/v1/gonum": {"THIRD_PARTY_LICENSES/Boost-LICENSE", "THIRD_PARTY_LICENSES/Cephes-LICENSE", "THIRD_PARTY_LICENSES/Go-LICENSE"},
}

const (
	textsBegin = "<!-- licence texts: written by go test ./internal/layout -update -->"
	textsEnd   = "<!-- end of licence texts -->"
)

// third is a row of THIRD_PARTY.md.
type third struct{ module, version, licence, use string }

func readDocument(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// cells are the cells of a row of a table, nil for other lines and for rules.
func cells(line string) []string {
	if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| ---") {
		return nil
	}
	list := strings.Split(strings.Trim(line, "| "), " | ")
	for i := range list {
		list[i] = strings.Trim(strings.TrimSpace(list[i]), "`")
	}
	return list
}

func thirdParties(t *testing.T) map[string]third {
	rows := map[string]third{}
	for line := range strings.Lines(readDocument(t, "THIRD_PARTY.md")) {
		if c := cells(strings.TrimSpace(line)); len(c) == 5 && strings.Contains(c[0], "/") {
			if _, twice := rows[c[0]]; twice {
				t.Errorf("THIRD_PARTY.md has %s twice", c[0])
			}
			rows[c[0]] = third{c[0], c[1], c[2], c[3]}
		}
	}
	return rows
}

// required are the modules that go.mod asks for, with their versions: all that any package or test of ours needs on any system.
func required(t *testing.T) map[string]string {
	modules := map[string]string{}
	in := bufio.NewScanner(strings.NewReader(readDocument(t, "go.mod")))
	for within := false; in.Scan(); {
		line, _, _ := strings.Cut(in.Text(), "//")
		words := strings.Fields(line)
		switch {
		case len(words) == 2 && words[0] == "require" && words[1] == "(":
			within = true
		case len(words) == 1 && words[0] == ")":
			within = false
		case len(words) == 3 && words[0] == "require":
			modules[words[1]] = words[2]
		case len(words) == 2 && within:
			modules[words[0]] = words[1]
		}
	}
	if len(modules) == 0 {
		t.Fatal("go.mod asks for no module: the check reads it wrongly")
	}
	return modules
}

// run gives the lines that a go command prints.
func run(t *testing.T, env []string, args ...string) []string {
	t.Helper()
	c := exec.Command("go", args...)
	c.Dir, c.Env = root, append(os.Environ(), env...)
	out, err := c.Output()
	if err != nil {
		why := ""
		if e, ok := err.(*exec.ExitError); ok {
			why = string(e.Stderr)
		}
		t.Fatalf("go %s: %v\n%s", strings.Join(args, " "), err, why)
	}
	return strings.Split(strings.TrimSpace(string(out)), "\n")
}

// inProgram are the modules that are compiled into the program on one of the systems it is released for.
func inProgram(t *testing.T) map[string]bool {
	modules := map[string]bool{}
	for _, system := range [][2]string{{"linux", "amd64"}, {"linux", "arm64"}, {"darwin", "arm64"}, {"windows", "amd64"}} {
		env := []string{"CGO_ENABLED=0", "GOOS=" + system[0], "GOARCH=" + system[1]}
		for _, m := range run(t, env, "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "./cmd/suncellar") {
			if m != "" && m != module {
				modules[m] = true
			}
		}
	}
	return modules
}

func TestEveryModuleIsListed(t *testing.T) {
	rows, wanted := thirdParties(t), required(t)
	for m, v := range wanted {
		row, ok := rows[m]
		if !ok {
			t.Errorf("%s %s is not in THIRD_PARTY.md", m, v)
		} else if row.version != v {
			t.Errorf("THIRD_PARTY.md has %s at %s, go.mod at %s", m, row.version, v)
		}
	}
	for m := range rows {
		if _, ok := wanted[m]; !ok {
			t.Errorf("THIRD_PARTY.md has %s, which go.mod does not ask for", m)
		}
	}
}

func TestLicencesAreAllowed(t *testing.T) {
	program := inProgram(t)
	for m, row := range thirdParties(t) {
		use, list := "tests", testLicences
		if program[m] {
			use, list = "program", allowedLicences
		}
		if row.use != use {
			t.Errorf("THIRD_PARTY.md says %s is part of the %s, it is part of the %s", m, row.use, use)
		}
		if !slices.Contains(list, row.licence) {
			t.Errorf("%s, part of the %s, has licence %q; allowed are %s", m, use, row.licence, strings.Join(list, ", "))
		}
	}
}

// licenceText is the text of a module's licence, "" where the module is not on this machine.
func licenceText(t *testing.T, m string) string {
	dir := run(t, nil, "list", "-m", "-f", "{{.Dir}}", m)[0]
	if dir == "" {
		return ""
	}
	for _, name := range []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "UNLICENSE", "COPYING"} {
		if text, err := os.ReadFile(filepath.Join(dir, name)); err == nil {
			return string(text)
		}
	}
	t.Errorf("%s has no licence file in %s", m, dir)
	return ""
}

func readModuleFile(t *testing.T, m, name string) string {
	dir := run(t, nil, "list", "-m", "-f", "{{.Dir}}", m)[0]
	text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// plainWords is a text in small letters with single blanks, so that line ends and indents do not matter.
func plainWords(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// licenceIs tells whether a licence's text is of a kind.
func licenceIs(kind, text string) bool {
	f, ok := fingerprints[kind]
	text = plainWords(text)
	for _, w := range f.has {
		ok = ok && strings.Contains(text, w)
	}
	for _, w := range f.not {
		ok = ok && !strings.Contains(text, w)
	}
	return ok
}

func TestLicenceTexts(t *testing.T) {
	rows := thirdParties(t)
	var order []string // texts, each once
	sharers := map[string][]string{}
	keep := func(text, of string) {
		text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
		if sharers[text] == nil {
			order = append(order, text)
		}
		sharers[text] = append(sharers[text], of)
	}
	missing := 0
	for _, m := range sorted(rows) {
		text := licenceText(t, m)
		if text == "" {
			missing++
			continue
		}
		if !licenceIs(rows[m].licence, text) {
			t.Errorf("THIRD_PARTY.md says %s has licence %s; its text is of another kind", m, rows[m].licence)
		}
		if rows[m].use != "program" || rows[m].licence == "Apache-2.0" {
			continue // not handed out; or the text of our own LICENSE
		}
		keep(text, m)
		for _, part := range carried[m] {
			keep(readModuleFile(t, m, part), m+" ("+path.Base(part)+")")
		}
	}
	if missing > 0 {
		t.Skipf("%d modules are not on this machine (go mod download fetches them): the texts of their licences are not compared", missing)
	}
	keep(goLicence(t), "the Go standard library and runtime")
	var b strings.Builder
	for _, text := range order {
		b.WriteString("\n### " + strings.Join(sharers[text], ", ") + "\n\n```text\n" + text + "\n```\n")
	}
	b.WriteString("\n")
	checkBlock(t, "THIRD_PARTY.md", textsBegin, textsEnd, b.String())
}

// goLicence is the licence of the Go toolchain that runs the test; its texts are the same in all releases of late.
func goLicence(t *testing.T) string {
	text, err := os.ReadFile(filepath.Join(run(t, nil, "env", "GOROOT")[0], "LICENSE"))
	if err != nil {
		t.Skipf("this Go has no licence file to compare with: %v", err)
	}
	return string(text)
}

func TestOwnLicence(t *testing.T) {
	if !licenceIs("Apache-2.0", readDocument(t, "LICENSE")) {
		t.Error("LICENSE is not the text of Apache-2.0")
	}
}

// The fingerprints tell kinds apart: a text made of one kind's words is of no other kind.
func TestFingerprintsTellKindsApart(t *testing.T) {
	for kind, f := range fingerprints {
		text := strings.Join(f.has, "\n")
		for other := range fingerprints {
			if licenceIs(other, text) != (kind == other) {
				t.Errorf("words of %s pass as %s", kind, other)
			}
		}
	}
	if licenceIs("MIT", "all rights reserved") || licenceIs("none", "") {
		t.Error("an unknown text passes")
	}
}

// No module may ask for a Go that plain builds do not have.
func TestGoVersions(t *testing.T) {
	text := readDocument(t, "go.mod")
	if !strings.Contains(text, "\ngo 1.26.0\n") {
		t.Error("the go line of go.mod is not 1.26.0, which a plain build with Go 1.26 needs")
	}
	for _, m := range run(t, nil, "list", "-m", "-f", "{{.Path}} {{.GoVersion}}", "all") {
		w := strings.Fields(m)
		if len(w) == 2 && w[0] != module && newerThan(w[1], "1.26.8") {
			t.Errorf("%s asks for Go %s, newer than 1.26.8", w[0], w[1])
		}
	}
}

// newerThan compares versions such as 1.26.8 by their numbers.
func newerThan(a, b string) bool {
	number := func(s string) [3]int {
		var n [3]int
		for i, part := range strings.SplitN(s, ".", 3) {
			for _, c := range part {
				if c < '0' || c > '9' {
					break
				}
				n[i] = n[i]*10 + int(c-'0')
			}
		}
		return n
	}
	x, y := number(a), number(b)
	return slices.Compare(x[:], y[:]) > 0
}

func TestNewerThan(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{{"1.26.10", "1.26.8", true}, {"1.26", "1.26.8", false}, {"1.9", "1.26.8", false}, {"1.26.8", "1.26.8", false}, {"2.0", "1.26.8", true}} {
		if newerThan(c.a, c.b) != c.want {
			t.Errorf("newer than: %s, %s", c.a, c.b)
		}
	}
}

func sorted[V any](m map[string]V) []string {
	names := make([]string, 0, len(m))
	for n := range m {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}
