package drawing

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/draw"
)

// Compare is what each change does to the worst night of one place.
type Compare struct {
	Title    string   // "What each change is worth on the worst night"
	Sentence string   // place, night and value without any change
	Changes  []Change // one row each, in order
}

// Change is one row.
type Change struct {
	Name   string  // "night cover, tight"
	K      float64 // difference of the lowest temperature, warmer positive [K]
	Lo, Hi float64 // band of K [K]; equal: no band known
	Note   string  // condition; may be empty
	Cost   string  // "140", "60 a year": what stands in the column of costs; may be empty
}

// DrawCompare draws a bar per change from a common zero: warmer to the right,
// colder to the left and hatched, with its band as a whisker and its value in
// figures.
//
// Errors: no change, a value that is not finite, a band that does not hold
// its value.
func DrawCompare(in Compare, f Frame) (*draw.List, error) {
	p, err := newPage("compare", f)
	if err != nil {
		return nil, err
	}
	if len(in.Changes) == 0 {
		return nil, fmt.Errorf("compare: no change, must have one or more")
	}
	for _, c := range in.Changes {
		if err := c.check(); err != nil {
			return nil, err
		}
	}
	p.heading(in.Title, in.Sentence)
	newBars(p, in).draw(in)
	return p.finish(), nil
}

func (c Change) check() error {
	if math.IsNaN(c.K+c.Lo+c.Hi) || math.IsInf(c.K+c.Lo+c.Hi, 0) {
		return fmt.Errorf("compare: %s: %g K (%g to %g), must be finite", c.Name, c.K, c.Lo, c.Hi)
	}
	if c.banded() && (c.K < c.Lo || c.K > c.Hi) {
		return fmt.Errorf("compare: %s: %g K lies outside its band %g to %g K", c.Name, c.K, c.Lo, c.Hi)
	}
	return nil
}

func (c Change) banded() bool { return c.Lo != c.Hi }

// bars is the layout of the rows: names above the bars on a narrow sheet, at
// their left on a wide one.
type bars struct {
	p      *page
	nameW  float64 // 0: names stand above
	x0, x1 float64 // where bars may reach
	lo, hi float64 // [K]
	costX  float64 // right edge of the column of costs; 0: none, or with the names
	costly bool    // some change has a cost
}

func newBars(p *page, in Compare) *bars {
	b := &bars{p: p}
	value := 0.0
	for _, c := range in.Changes {
		b.lo, b.hi = min(b.lo, c.K, c.Lo), max(b.hi, c.K, c.Hi)
		value = max(value, draw.TextWidth(p.u.difference(c.K), sizeText, true))
		b.costly = b.costly || c.Cost != ""
		b.nameW = max(b.nameW, draw.TextWidth(c.Name, sizeText, false), draw.TextWidth(c.Note, sizeText, false))
	}
	b.nameW = min(b.nameW, p.w*0.36)
	if p.narrow {
		b.nameW = 0
	}
	if b.hi == b.lo {
		b.hi = 1
	}
	b.x0, b.x1 = margin+b.nameW, p.w-margin-value-10
	if b.costly && !p.narrow {
		wide := draw.TextWidth("cost", sizeText, false)
		for _, c := range in.Changes {
			wide = max(wide, widest(wrap(c.Cost, sizeText, false, p.w*0.16), sizeText))
		}
		b.costX = p.w - margin
		b.x1 -= wide + 22
	}
	if b.nameW > 0 {
		b.x0 += 16
	}
	if b.lo < 0 {
		b.x0 += value + 10
	}
	return b
}

func (b *bars) x(k float64) float64 { return b.x0 + (k-b.lo)/(b.hi-b.lo)*(b.x1-b.x0) }

func (b *bars) draw(in Compare) {
	p := b.p
	p.y += 14
	top := p.y
	axis := &draw.Group{Class: "axes"}
	rows := &draw.Group{Class: "rows"}
	p.y += lineText
	for _, c := range in.Changes {
		b.row(rows, c)
	}
	for _, t := range p.u.diffTicks(b.lo, b.hi, int((b.x1-b.x0)/48)) {
		axis.Add(p.line(hairline(), b.x(t), top+6, b.x(t), p.y))
		axis.Add(p.text(b.x(t), top, p.u.tick0(t), words{anchor: draw.Middle, ink: draw.Ink2}))
	}
	if b.costX > 0 {
		axis.Add(p.text(b.costX, top, "cost", words{anchor: draw.End, ink: draw.Ink2}))
	}
	zero := p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, b.x(0), top+6, b.x(0), p.y)
	axis.Add(zero)
	note := &draw.Group{Class: "note"}
	for _, s := range wrap("Right of the line warmer, left colder. A thin line is the band.", sizeText, false, p.w-2*margin) {
		p.y += lineText
		note.Add(p.text(margin, p.y, s, words{ink: draw.Ink2}))
	}
	p.l.Add(axis, rows, note)
}

// tick0 returns a round difference without idle decimals; 0 without a sign.
func (u Units) tick0(k float64) string {
	s := u.Difference(k)
	if strings.Contains(s, ".") {
		return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// row draws one change and moves below it.
func (b *bars) row(g *draw.Group, c Change) {
	p := b.p
	var said []*draw.Text
	width := b.nameW
	if width == 0 {
		width = p.w - 2*margin
	}
	y := p.y
	for _, part := range []struct {
		s   string
		ink draw.Token
	}{{c.Name, draw.Ink}, {c.Note, draw.Ink2}, {b.costWithName(c), draw.Ink2}} {
		for _, s := range wrap(part.s, sizeText, false, width) {
			said = append(said, p.text(margin, y+13, s, words{ink: part.ink}))
			y += lineText
		}
	}
	height := 18.0
	barY := p.y + max((y-p.y-height)/2, 0)
	if b.nameW == 0 {
		barY = y + 3
	}
	for _, t := range said {
		t.Halo = draw.Ground
		g.Add(t)
	}
	b.bar(g, c, barY, height)
	end := max(barY+height, y)
	if b.costX > 0 {
		lines := wrap(c.Cost, sizeText, false, p.w*0.16)
		for k, s := range lines {
			g.Add(p.text(b.costX, max(barY+height/2-float64(len(lines)-1)*7.5, p.y+8)+float64(k)*15, s, words{anchor: draw.End, lift: draw.Center}))
		}
		end = max(end, p.y+float64(len(lines))*15)
	}
	p.y = end + 12
}

// costWithName is what a narrow sheet says of the cost, below the name.
func (b *bars) costWithName(c Change) string {
	if c.Cost == "" || b.costX > 0 {
		return ""
	}
	return "cost " + c.Cost
}

func (b *bars) bar(g *draw.Group, c Change, y, h float64) {
	p := b.p
	tip := fmt.Sprintf("%s: %s", c.Name, p.u.difference(c.K))
	if c.banded() {
		tip += fmt.Sprintf(" (%s to %s)", p.u.difference(c.Lo), p.u.difference(c.Hi))
	}
	x0, x1 := b.x(min(c.K, 0)), b.x(max(c.K, 0))
	a := &draw.Area{Rings: [][]draw.Point{p.box(x0, y, x1-x0, h)}, Fill: draw.Sun, Pen: draw.Pen{Ink: draw.Sun, Width: 1}, Tip: tip}
	if c.K < 0 {
		a.Fill, a.Hatch, a.HatchInk, a.Pen.Ink = draw.Ground2, draw.FrostHatch, draw.Frost, draw.Frost
	}
	g.Add(a)
	end, start := max(x1, b.x(max(c.Hi, 0))), min(x0, b.x(min(c.Lo, 0)))
	if c.banded() {
		l, r, m := b.x(c.Lo), b.x(c.Hi), y+h/2
		g.Add(p.line(draw.Pen{Ink: draw.Ground, Width: 4}, l, m, r, m))
		for _, xy := range [][]float64{{l, m, r, m}, {l, m - 5, l, m + 5}, {r, m - 5, r, m + 5}} {
			g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, xy...))
		}
	}
	t := p.text(end+8, y+h/2, p.u.difference(c.K), words{bold: true, lift: draw.Center, halo: draw.Ground})
	if c.K < 0 {
		t.At, t.Anchor = p.at(start-8, y+h/2), draw.End
	}
	g.Add(t)
}
