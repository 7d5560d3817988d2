package report

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Width is how wide text is at most [columns].
const Width = 80

// page is a text under way.
type page struct{ b strings.Builder }

func (p *page) String() string { return p.b.String() }

// line writes a line as it is.
func (p *page) line(text string) { p.b.WriteString(strings.TrimRight(text, " ") + "\n") }

// gap leaves one line free.
func (p *page) gap() { p.b.WriteByte('\n') }

// head opens a part of the text.
func (p *page) head(title string) {
	p.gap()
	p.line(title)
	p.line(strings.Repeat("-", utf8.RuneCountInString(title)))
}

// say writes a paragraph.
func (p *page) say(text string) { p.hang("", text) }

// item writes a point of a list.
func (p *page) item(text string) { p.hang("- ", text) }

// hang writes a paragraph whose first line begins with lead and whose others stand under its end.
func (p *page) hang(lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	for i, l := range Wrap(text, Width-len(indent)) {
		if i == 0 {
			p.line(lead + l)
		} else {
			p.line(indent + l)
		}
	}
}

// Wrap breaks a text at its spaces; a word longer than the width stands alone.
func Wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		if used > 0 && used+1+n > width {
			lines, line, used = append(lines, line), "", 0
		}
		if used > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+n
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines
}

// table is rows of cells under heads. The first column is set to the left, the others to the right.
type table struct {
	heads [][]string // one or more lines of heads
	rows  [][]string
	left  map[int]bool // further columns set to the left
	rule  map[int]bool // rows with a rule above them
}

func newTable(heads ...[]string) *table {
	return &table{heads: heads, left: map[int]bool{0: true}, rule: map[int]bool{}}
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// sum writes a row under a rule.
func (t *table) sum(cells ...string) {
	t.rule[len(t.rows)] = true
	t.row(cells...)
}

// write sets the table; a first column that would make it too wide is broken.
func (p *page) table(t *table) {
	widths := t.widths()
	total := 2 * (len(widths) - 1)
	for _, w := range widths {
		total += w
	}
	if over := total - Width; over > 0 {
		if last := len(widths) - 1; t.left[last] && last > 0 { // words at the end break before names do
			give := min(over, max(0, widths[last]-narrowest))
			widths[last] -= give
			over -= give
		}
		widths[0] -= over
		total = Width
	}
	for _, h := range t.heads {
		p.cells(t, h, widths)
	}
	for i, r := range t.rows {
		if t.rule[i] {
			p.line(strings.Repeat("-", total))
		}
		p.cells(t, r, widths)
	}
}

func (t *table) widths() []int {
	var w []int
	for _, rows := range [][][]string{t.heads, t.rows} {
		for _, r := range rows {
			for i, c := range r {
				if i == len(w) {
					w = append(w, 0)
				}
				w[i] = max(w[i], utf8.RuneCountInString(c))
			}
		}
	}
	return w
}

// narrowest is how far a last column of words may be pressed.
const narrowest = 14

func (p *page) cells(t *table, cells []string, widths []int) {
	last := len(widths) - 1
	var rest []string // of words in the last column that find no room in their line
	if last > 0 && t.left[last] && last < len(cells) && utf8.RuneCountInString(cells[last]) > widths[last] {
		words := Wrap(cells[last], widths[last])
		cells = append(slices.Clone(cells[:last]), words[0])
		rest = words[1:]
	}
	names := []string{""}
	if len(cells) > 0 && cells[0] != "" {
		names = Wrap(cells[0], max(8, widths[0]))
		if len(names) > 1 {
			names = Wrap(cells[0], max(6, widths[0]-2))
		}
	}
	for k, name := range names {
		var b strings.Builder
		for i := range widths {
			c := ""
			switch {
			case i == 0 && k == 0:
				c = name
			case i == 0:
				c = "  " + name
			case i < len(cells) && k == len(names)-1:
				c = cells[i]
			}
			pad := strings.Repeat(" ", max(0, widths[i]-utf8.RuneCountInString(c)))
			if i > 0 {
				b.WriteString("  ")
			}
			if t.left[i] {
				b.WriteString(c + pad)
			} else {
				b.WriteString(pad + c)
			}
		}
		p.line(b.String())
	}
	for _, words := range rest {
		at := 2 * last
		for _, w := range widths[:last] {
			at += w
		}
		p.line(strings.Repeat(" ", at) + words)
	}
}
