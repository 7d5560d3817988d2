package validation

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/validation.md anew")

// mark says how sure a published figure is.
type mark int

const (
	seen       mark = iota // seen in the source or a copy of it, or recomputed from its inputs and equal: counts
	recomputed             // statement from memory, figure recomputed independently: counts as "recomputed, print not seen"
	remembered             // from memory alone: shown, never counted
	trade                  // common practice, no source: counted by itself
	shown                  // for information, no verdict
	measured               // measured outdoors: counts
	counted                // counted in a long record of weather, beside made winters: counts
	selfmade               // a truth made by the program itself: counts, for the machinery alone
)

func (m mark) String() string {
	return [...]string{"seen or recomputed", "recomputed, print not seen", "from memory", "common practice, no source", "shown", "measured", "counted in a record", "machinery, truth made"}[m]
}

// row is one figure held against a published one.
type row struct {
	name      string
	source    string // empty: that of the section
	published string
	computed  string
	allowed   string
	mark      mark
	met       bool
	note      string
	missed    string // why it is outside, where it is known to be; a counted miss without it fails the test
}

func (r row) counts() bool {
	return r.mark == seen || r.mark == recomputed || r.mark == trade || r.mark == measured || r.mark == counted || r.mark == selfmade
}

func (r row) verdict() string {
	switch {
	case !r.counts():
		return "-"
	case r.met:
		return "met"
	}
	return "MISSED"
}

// section is one group of cases: a heading, its source and inputs in words, its rows.
type section struct {
	title  string
	source string
	inputs string
	rows   []row
	heads  []headline
	whole  bool // its test ran to the end
}

// headline is a line of the table that opens the document: what a group of rows, those whose names begin with prefix, comes to.
type headline struct {
	name, published, computed, allowed string
	prefix, source                     string // no source: that of the section
}

// head adds a line to the opening table for the rows whose names begin with prefix; a section without any gets one of its own.
func (s *section) head(prefix, name, published, computed, allowed string) *headline {
	s.heads = append(s.heads, headline{name: name, published: published, computed: computed, allowed: allowed, prefix: prefix})
	return &s.heads[len(s.heads)-1]
}

// computed is what the row of a name came to, for a headline.
func (s *section) computed(t *testing.T, name string) string {
	t.Helper()
	for _, r := range s.rows {
		if r.name == name {
			return r.computed
		}
	}
	t.Fatalf("%s has no row %q", s.title, name)
	return ""
}

// lines are those of the opening table.
func (s *section) lines() string {
	heads := s.heads
	if len(heads) == 0 {
		heads = []headline{{allowed: "each row's own"}}
	}
	out := ""
	for _, h := range heads {
		met, all := 0, 0
		for _, r := range s.rows {
			if strings.HasPrefix(r.name, h.prefix) && r.counts() {
				all++
				if r.met {
					met++
				}
			}
		}
		verdict := fmt.Sprintf("met, %d of %d", met, all)
		switch {
		case all == 0:
			verdict = "not judged"
		case met < all:
			verdict = fmt.Sprintf("MISSED, met %d of %d", met, all)
		}
		name, published, computed := s.title, fmt.Sprintf("%d figures", all), fmt.Sprintf("%d within", met)
		if h.name != "" {
			name += ": " + h.name
			published, computed = h.published, h.computed
		} else if all == 0 {
			published, computed = "-", fmt.Sprintf("%d figures told", len(s.rows))
		}
		source := h.source
		if source == "" {
			source, _, _ = strings.Cut(s.source, ";") // up to its first semicolon
		}
		out += fmt.Sprintf("| %s | %s | %s | %s | %s | %s |\n", name, source, published, computed, h.allowed, verdict)
	}
	return out
}

// document holds the sections in the order in which they are printed.
type document struct {
	order []string
	by    map[string]*section
}

// sections are all that the document holds, in its order.
func newDocument() *document {
	d := &document{by: map[string]*section{}}
	for _, t := range []string{"Sun position", "Plane irradiance", "Sky longwave", "Glazing", "Moist air", "Conduction", "Freezing front",
		"Two-dimensional conduction", "Ground under a floor", "Air flow", "View factors", "Pipes and buried tubes", "Water in pipes and off roofs", "Dirt and frost in the water", "What crops drink", "Whole boxes: sun", "Whole boxes: free floating",
		"Whole boxes: night fan", "Soil", "Snow", "Made winters", "Bands", "Measured sky longwave", "Measured houses", "Trade"} {
		d.order = append(d.order, t)
		d.by[t] = &section{title: t}
	}
	return d
}

// begin opens the section of a test; done closes it.
func begin(t *testing.T, title, source, inputs string) *section {
	t.Helper()
	s := page.by[title]
	if s == nil {
		t.Fatalf("the document has no section %q", title)
	}
	s.source, s.inputs = source, inputs
	return s
}

// done closes the section and fails on counted misses that nothing explains.
func (s *section) done(t *testing.T) {
	t.Helper()
	for _, r := range s.rows {
		if !r.counts() || r.met {
			continue
		}
		if r.missed == "" {
			t.Errorf("%s: %s: computed %s, published %s (%s)", s.title, r.name, r.computed, r.published, r.allowed)
		} else {
			t.Logf("known miss: %s: %s: computed %s, published %s: %s", s.title, r.name, r.computed, r.published, r.missed)
		}
	}
	for _, r := range s.rows {
		t.Logf("%s | %s | %s | %s | %s | %s", r.name, r.published, r.computed, r.allowed, r.verdict(), r.note)
	}
	s.whole = true
}

// near is a figure with a tolerance, in a unit.
func (s *section) near(m mark, name string, computed, published, allowed float64, unit string) *row {
	return s.add(row{name: name, published: figure(published, allowed) + unit, computed: figure(computed, allowed/10) + unit,
		allowed: "±" + short(allowed) + unit, mark: m, met: math.Abs(computed-published) <= allowed})
}

// within is a figure with a published range.
func (s *section) within(m mark, name string, computed, low, high float64, unit string) *row {
	return s.add(row{name: name, published: short(low) + " to " + short(high) + unit, computed: short(computed) + unit, allowed: "inside",
		mark: m, met: computed >= low && computed <= high})
}

// worst is a whole table: the largest difference of n figures.
func (s *section) worst(m mark, name string, n int, largest, allowed float64, unit string) *row {
	return s.add(row{name: name, published: fmt.Sprintf("%d figures", n), computed: "apart by at most " + short(largest) + unit,
		allowed: "±" + short(allowed) + unit, mark: m, met: n > 0 && largest <= allowed})
}

// tell is a figure without a verdict.
func (s *section) tell(name, published, computed, note string) *row {
	return s.add(row{name: name, published: published, computed: computed, allowed: "-", mark: shown, note: note})
}

func (s *section) add(r row) *row {
	s.rows = append(s.rows, r)
	return &s.rows[len(s.rows)-1]
}

// figure prints a number with as many digits as its tolerance asks for.
func figure(v, tolerance float64) string {
	digits := 0
	if tolerance > 0 {
		digits = max(0, int(math.Ceil(-math.Log10(tolerance)-1e-9)))
	}
	return zeroless(strconv.FormatFloat(v, 'f', min(digits, 8), 64))
}

// short prints a number with four digits.
func short(v float64) string {
	if v == 0 {
		return "0"
	}
	if a := math.Abs(v); a >= 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	} else if a >= 1 {
		return zeroless(strconv.FormatFloat(v, 'f', 3-int(math.Log10(a)), 64))
	}
	return strconv.FormatFloat(v, 'g', 2, 64)
}

func zeroless(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// reference is a path in the folder of published tables, or the test is skipped.
func reference(t *testing.T, parts ...string) string {
	t.Helper()
	dir := os.Getenv("SUNCELLAR_REFERENCE")
	if dir == "" {
		t.Skipf("SUNCELLAR_REFERENCE is not set: %s is not compared", parts[len(parts)-1])
	}
	return filepath.Join(append([]string{dir}, parts...)...)
}

// table reads a published table without its heading; "#" lines are left out.
func table(t *testing.T, parts ...string) [][]string {
	t.Helper()
	f, err := os.Open(reference(t, parts...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s has %d lines, too few to be whole", parts[len(parts)-1], len(rows))
	}
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
