package cli

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

var update = flag.Bool("update", false, "write docs/commands.md anew")

func TestCommandsDocument(t *testing.T) {
	want, err := Commands()
	if err != nil {
		t.Fatal(err)
	}
	const path = "../../docs/commands.md"
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not what the commands say; 'go test ./internal/cli -update' writes it anew", path)
	}
	for _, c := range []string{"demo", "new", "check", "simulate", "compare", "worth", "carry", "weather show", "weather make", "version"} {
		if !strings.Contains(want, "## suncellar "+c+"\n") {
			t.Errorf("command %s is not told", c)
		}
	}
}

func TestHelpFitsAPage(t *testing.T) {
	doc, err := Commands()
	if err != nil {
		t.Fatal(err)
	}
	_, help, _ := strings.Cut(doc, "```text\n")
	for i, line := range strings.Split(help, "\n") {
		if n := utf8.RuneCountInString(line); n > 80 && !strings.HasPrefix(line, "  suncellar ") && !strings.HasPrefix(strings.TrimSpace(line), "-") {
			t.Errorf("line %d has %d columns: %s", i+1, n, line)
		}
	}
}

func TestExitCodes(t *testing.T) {
	finding := plan.AsError([]plan.Finding{{File: "p.yaml", Line: 3, Column: 4, Message: "x"}})
	for _, c := range []struct {
		name string
		err  error
		want int
	}{
		{"done", nil, 0},
		{"a file that is not there", fmt.Errorf("reading: %w", os.ErrNotExist), 1},
		{"wrong use", usage("hint", "wrong"), 2},
		{"a finding of a plan", fmt.Errorf("around: %w", finding), 2},
		{"a finding of a weather file", &weather.FileError{Total: 1}, 2},
		{"the computation", internal(errors.New("books")), 3},
		{"a run that names its hour", ranAway(errors.New("2001-12-24 05:00: air would be at 400.0 °C")), 3},
		{"a run within a longer error", ranAway(errors.New("the sunless spell: 2001-12-24 05:00: no")), 3},
		{"what was asked of a use case", ranAway(errors.New("from: 06-01 is no day of the winter")), 2},
		{"interrupted, whatever it was wrapped in", internal(fmt.Errorf("run: %w", context.Canceled)), 130},
	} {
		if got := ExitCode(c.err); got != c.want {
			t.Errorf("%s: exit code %d, want %d", c.name, got, c.want)
		}
	}
}

// An answer whose books do not close is not told.
func TestOpenBooksAreRefused(t *testing.T) {
	for _, c := range []struct {
		rel  float64
		want int
	}{{0, 0}, {9e-7, 0}, {1.1e-6, 3}, {math.NaN(), 3}, {math.Inf(1), 3}} {
		a := &winter.Answer{Result: &greenhouse.Result{Heat: greenhouse.Account{ImbalanceRel: c.rel, WorstPart: "ground", WorstJ: 7}}}
		err := checkBooks(a)
		if ExitCode(err) != c.want {
			t.Errorf("imbalance %g: %v, want exit code %d", c.rel, err, c.want)
		}
		if err != nil && !strings.Contains(err.Error(), "ground") {
			t.Errorf("imbalance %g: %q does not name the part", c.rel, err)
		}
	}
}

func TestErrorsAreTold(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{nil, ""},
		{usage("do that", "wrong %d", 3), "suncellar: wrong 3\nhint: do that\n"},
		{input(plan.AsError([]plan.Finding{{File: "p.yaml", Line: 3, Column: 4, Message: "is wrong", Hint: "right"}})), "p.yaml:3:4: is wrong\nhint: right\n"},
		{fmt.Errorf("run: %w", context.Canceled), "suncellar: interrupted\n"},
	} {
		var b bytes.Buffer
		TellError(&b, c.err)
		if b.String() != c.want {
			t.Errorf("told %q, want %q", b.String(), c.want)
		}
	}
}

// run runs the program in a folder of its own, with somebody at the keyboard.
func run(t *testing.T, keys string, args ...string) (out, errs string, err error) {
	t.Helper()
	var o, e bytes.Buffer
	err = Run(context.Background(), args, Surroundings{In: strings.NewReader(keys), Out: &o, Err: &e, InTerminal: true})
	return o.String(), e.String(), err
}

func TestNewAsks(t *testing.T) {
	dir := t.TempDir()
	months := func(v string) string { return strings.TrimSuffix(strings.Repeat(v+", ", 12), ", ") + "\n" }
	keys := "Our house\n\n46.9 deg\n-110.7 deg\n1240 m\nUTC-7\n8 m\n\n\n\n" +
		months("-5 degC") + months("8 degC") + months("3 kWh/m2d") + months("30 mm") + months("8") + months("3 m/s") + "-20 degC\n"
	path := filepath.Join(dir, "plan.yaml")
	out, _, err := run(t, keys, "new", path)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if !strings.Contains(out, "Length inside [9 m]: ") || !strings.Contains(out, "suncellar check ") {
		t.Errorf("asked and told:\n%s", out)
	}
	out, errs, err := run(t, "", "check", path)
	if err != nil || errs != "" || !strings.HasPrefix(out, "Our house: nothing in this plan keeps it from being computed.\n") {
		t.Errorf("the plan that was asked for: %v\n%s%s", err, errs, out)
	}
	if !strings.Contains(out, "length inside                          8.00 m") {
		t.Errorf("the length that was typed is not in the plan:\n%s", out)
	}
}

func TestNewStopsWhenNobodyAnswers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.yaml")
	_, _, err := run(t, "Our house\n", "new", path)
	if ExitCode(err) != 2 {
		t.Errorf("error %v, want one of use", err)
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Errorf("a plan was written all the same: %v", err)
	}
}

func TestNewFoldersAreNew(t *testing.T) {
	base := filepath.Join(t.TempDir(), "demo")
	for _, want := range []string{base, base + "-2", base + "-3"} {
		if got, err := newFolder(base); err != nil || got != want {
			t.Errorf("folder %q, %v, want %q", got, err, want)
		}
	}
	if _, err := newFolder(filepath.Join(base, "no", "parent")); ExitCode(err) != 1 {
		t.Errorf("error %v, want one of the world", err)
	}
}

func TestFilesAreWholeOrNotThere(t *testing.T) {
	dir := t.TempDir()
	bad := errors.New("no picture")
	err := writeFiles(dir, []file{
		{"good.txt", func(b *bytes.Buffer) error { b.WriteString("whole"); return nil }},
		{"bad.txt", func(b *bytes.Buffer) error { b.WriteString("half"); return bad }},
	})
	if !errors.Is(err, bad) {
		t.Errorf("error %v, want %v", err, bad)
	}
	entries, _ := os.ReadDir(dir)
	if len(entries) != 1 || entries[0].Name() != "good.txt" {
		t.Errorf("in the folder: %v, want good.txt alone", entries)
	}
}

func TestProgressIsQuietAtFirst(t *testing.T) {
	var e bytes.Buffer
	a := &app{Surroundings: Surroundings{Err: &e}, logFormat: "text"}
	p := a.progress("computing")
	p.at(1, 10)
	if e.Len() != 0 {
		t.Errorf("told at once: %q", e.String())
	}
	p.last = p.last.Add(-2 * lineEvery)
	p.at(5, 10)
	if want := "computing: 50 %\n"; e.String() != want {
		t.Errorf("told %q, want %q", e.String(), want)
	}
	p.close()
}

func TestProgressBarOnATerminal(t *testing.T) {
	var e bytes.Buffer
	a := &app{Surroundings: Surroundings{Err: &e, ErrTerminal: true, ErrColumns: 60}, logFormat: "text"}
	p := a.progress("computing")
	p.at(1, 10)
	if p.bar != nil {
		t.Error("a bar is shown before a second is over")
	}
	p.begin = p.begin.Add(-2 * barAfter)
	p.at(5, 10)
	if p.bar == nil {
		t.Fatal("no bar is shown after a second")
	}
	time.Sleep(200 * time.Millisecond)
	p.at(10, 10)
	p.close()
	if p.bar != nil || !strings.Contains(e.String(), "computing") {
		t.Errorf("shown: %q", e.String())
	}
}

func TestNotesAsJSON(t *testing.T) {
	var e bytes.Buffer
	a := &app{Surroundings: Surroundings{Err: &e}, logFormat: "json"}
	a.note("warning", "a \"quoted\" thing")
	if want := `{"level":"warning","text":"a \"quoted\" thing"}` + "\n"; e.String() != want {
		t.Errorf("told %q, want %q", e.String(), want)
	}
}
