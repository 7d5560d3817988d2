package main

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"suncellar": main}) }

// The scripts in testdata/script run the program as it is typed. Beside what testscript brings they may use
//
//	exits CODE command...         run a command that must end with this code
//	keys FILE PATH...             the JSON file (or stdout) has these keys: a.b, list[0].c, list[name=x].c
//	near FILE PATH WANT ALLOWED   a number of it, within what is allowed
//	text FILE                     fit for people: at most 80 columns, no control characters, none of the words that promise safety
//	unlike FILE PATH FILE PATH LEAST   two numbers that differ by at least so much
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", RequireExplicitExec: true, Cmds: map[string]func(*testscript.TestScript, bool, []string){
		"exits": exits, "keys": keys, "near": near, "text": text, "unlike": unlike,
	}})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE command...")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// value finds a value of a JSON document by its path.
func value(ts *testscript.TestScript, file, path string) any {
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(file)), &v); err != nil {
		ts.Fatalf("%s is no JSON: %v", file, err)
	}
	for rest := path; rest != ""; {
		rest = strings.TrimPrefix(rest, ".")
		if index, after, ok := strings.Cut(strings.TrimPrefix(rest, "["), "]"); ok && rest[0] == '[' {
			v, rest = element(v, index), after
		} else {
			end := strings.IndexAny(rest, ".[")
			if end < 0 {
				end = len(rest)
			}
			m, _ := v.(map[string]any)
			v, rest = m[rest[:end]], rest[end:]
		}
		if v == nil {
			ts.Fatalf("%s has no %s (missing before %q)", file, path, rest)
		}
	}
	return v
}

// element is an element of a list by its number, or by a key and its value; a map's key may stand there too.
func element(v any, index string) any {
	if m, ok := v.(map[string]any); ok {
		return m[index]
	}
	list, _ := v.([]any)
	key, want, named := strings.Cut(index, "=")
	for i, e := range list {
		if m, ok := e.(map[string]any); named && ok && m[key] == want || !named && strconv.Itoa(i) == index {
			return e
		}
	}
	return nil
}

func number(ts *testscript.TestScript, file, path string) float64 {
	n, ok := value(ts, file, path).(float64)
	if !ok {
		ts.Fatalf("%s of %s is no number", path, file)
	}
	return n
}

func parse(ts *testscript.TestScript, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	ts.Check(err)
	return v
}

func keys(ts *testscript.TestScript, neg bool, args []string) {
	for _, path := range args[1:] {
		value(ts, args[0], path)
	}
}

func near(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 4 {
		ts.Fatalf("usage: near FILE PATH WANT ALLOWED")
	}
	got, want, allowed := number(ts, args[0], args[1]), parse(ts, args[2]), parse(ts, args[3])
	if off := math.Abs(got - want); (off <= allowed) == neg {
		ts.Fatalf("%s is %g, want %g within %g (not: %v)", args[1], got, want, allowed, neg)
	}
}

func unlike(ts *testscript.TestScript, neg bool, args []string) {
	a, b, least := number(ts, args[0], args[1]), number(ts, args[2], args[3]), parse(ts, args[4])
	if math.Abs(a-b) < least {
		ts.Fatalf("%g and %g differ by less than %g", a, b, least)
	}
}

// promises are words that this version may not say.
var promises = []string{"stays above freezing", "frost is unlikely", "is safe", "are safe"}

func text(ts *testscript.TestScript, neg bool, args []string) {
	content := ts.ReadFile(args[0])
	for i, line := range strings.Split(content, "\n") {
		// what is to be typed stands on one line, however long
		if n := utf8.RuneCountInString(line); n > 80 && !strings.HasPrefix(line, "  suncellar ") {
			ts.Fatalf("line %d has %d columns: %s", i+1, n, line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			ts.Fatalf("line %d holds a control character: %q", i+1, line)
		}
	}
	for _, p := range promises {
		if strings.Contains(strings.ToLower(content), p) {
			ts.Fatalf("the words %q promise what was not computed", p)
		}
	}
	if os.Getenv("SUNCELLAR_TELL") != "" {
		ts.Logf("%s", content)
	}
}
