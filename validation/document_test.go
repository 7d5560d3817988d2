package validation

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// page collects the rows of all tests of this package; TestMain writes or compares it when they are through.
var page = newDocument()

const pagePath = "../docs/validation.md"

func TestMain(m *testing.M) {
	code := m.Run()
	if code == 0 {
		code = page.settle()
	}
	os.Exit(code)
}

// settle writes the document with -update, else compares it; it does neither where not all tests ran.
func (d *document) settle() int {
	for _, title := range d.order {
		if !d.by[title].whole {
			fmt.Printf("docs/validation.md is not compared: %q did not run to its end\n", title)
			return 0
		}
	}
	text := d.markdown()
	if *update {
		if err := os.WriteFile(pagePath, []byte(text), 0o644); err != nil {
			fmt.Println(err)
			return 1
		}
		return 0
	}
	old, err := os.ReadFile(pagePath)
	if err != nil {
		fmt.Println(err, "- write it with -update")
		return 1
	}
	if diff := compare(string(old), text); diff != "" {
		fmt.Println("docs/validation.md is not what the tests compute; look why, then write it anew with -update:\n" + diff)
		return 1
	}
	return 0
}

var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)?`)

// compare tells the first lines that differ: words and verdicts exactly, figures by 0.03 or 1 %, whichever is larger, for machines round
// differently; figures below 0.01 are sizes of errors and may be anything up to 0.01.
func compare(old, now string) string {
	a, b := strings.Split(old, "\n"), strings.Split(now, "\n")
	var out []string
	for i := range max(len(a), len(b)) {
		var x, y string
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if !alike(x, y) {
			out = append(out, fmt.Sprintf("line %d\n  written:  %s\n  computed: %s", i+1, x, y))
		}
		if len(out) == 10 {
			break
		}
	}
	return strings.Join(out, "\n")
}

func alike(x, y string) bool {
	if numbers.ReplaceAllString(x, "#") != numbers.ReplaceAllString(y, "#") {
		return false
	}
	p, q := numbers.FindAllString(x, -1), numbers.FindAllString(y, -1)
	for i := range p {
		u, _ := strconv.ParseFloat(p[i], 64)
		v, _ := strconv.ParseFloat(q[i], 64)
		if math.Abs(u-v) > math.Max(0.03, 0.01*math.Abs(u)) {
			return false
		}
	}
	return true
}

func TestCompare(t *testing.T) {
	for _, c := range []struct {
		old, now string
		same     bool
	}{
		{"| a | 20.01 °C | met |", "| a | 20.02 °C | met |", true},
		{"| a | 20.01 °C | met |", "| a | 20.01 °C | MISSED |", false},
		{"| a | 20.0 °C | met |", "| a | 21.0 °C | met |", false},
		{"| a | 0.0003 | met |", "| a | 0.0008 | met |", true},
		{"a\nb", "a", false},
	} {
		if got := compare(c.old, c.now) == ""; got != c.same {
			t.Errorf("%q and %q: alike %t, want %t", c.old, c.now, got, c.same)
		}
	}
}

// markdown is the document.
func (d *document) markdown() string {
	var b strings.Builder
	b.WriteString(opening)
	met, all := map[mark]int{}, map[mark]int{}
	var misses []string
	before := ""
	for _, title := range d.order {
		for _, r := range d.by[title].rows {
			all[r.mark]++
			if r.met {
				met[r.mark]++
			}
			if r.counts() && !r.met {
				why := r.missed
				if why == before {
					why = "As the one before."
				}
				before = r.missed
				misses = append(misses, fmt.Sprintf("- %s: %s: computed %s, published %s. %s", title, r.name, r.computed, r.published, why))
			}
		}
	}
	b.WriteString("\n## In two minutes\n\n| case | source | published or measured | ours | allowed | verdict |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, title := range d.order {
		b.WriteString(d.by[title].lines())
	}
	b.WriteString("\n## In sum\n\n| how sure the published figure is | met | of |\n| --- | --- | --- |\n")
	for _, m := range []mark{seen, recomputed, measured, counted, trade, selfmade} {
		fmt.Fprintf(&b, "| %s | %d | %d |\n", m, met[m], all[m])
	}
	fmt.Fprintf(&b, "\nShown without a verdict: %d from memory alone, %d for information.\n", all[remembered], all[shown])
	if len(misses) > 0 {
		b.WriteString("\nMissed:\n\n" + strings.Join(misses, "\n") + "\n")
	}
	for _, title := range d.order {
		d.by[title].write(&b)
	}
	return b.String()
}

const opening = `# Checks against the outside

Made by the tests of validation/ (go test ./validation -update, with SUNCELLAR_REFERENCE naming the folder of published tables); every run of them
computes it anew and compares: words and verdicts exactly, figures by 0.03 or 1 %.

"Seen or recomputed": the figure was seen in the source or a copy of it, or was recomputed independently from the stated inputs. "Recomputed, print not
seen": the example is known from memory and its figure was recomputed. "From memory" is shown and never counted. "Measured": by instruments outdoors, against which a run with the
inputs stated is held. "Counted in a record": over the winters of a long record, against which made winters of its climate are held. "Machinery, truth made": both sides come from the program, and only what joins
them is tested. No figure or tolerance was changed to meet a row. Where the model was bettered after a first run, by what is published and with no constant
fitted to the record it is held against, the section says so and has the figures of both; such a record is no longer unseen, and what it then shows is weaker proof.
`

func (s *section) write(b *strings.Builder) {
	fmt.Fprintf(b, "\n## %s\n\nSource: %s\n", s.title, s.source)
	if s.inputs != "" {
		fmt.Fprintf(b, "\n%s\n", strings.TrimSpace(s.inputs))
	}
	if len(s.rows) == 0 {
		return
	}
	b.WriteString("\n| case | source | published | computed | allowed | verdict | note |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, r := range s.rows {
		source := r.source
		if source == "" {
			source = "above"
		}
		source += ", " + r.mark.String()
		note := r.note
		if r.counts() && !r.met && r.missed != "" {
			note = strings.TrimSpace(r.missed + " " + note)
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s | %s |\n", r.name, source, r.published, r.computed, r.allowed, r.verdict(), note)
	}
}
