package drawing

import (
	"suncellar/internal/draw"
)

// anyMonth names the cell of the whole winter.
const anyMonth = "any month"

// chanceCells is the layout of the cells of DrawChance.
type chanceCells struct {
	p         *page
	in        Chance
	cellW     float64 // of a month, where months stand beside each other [px]
	figureW   float64 // widest count [px]
	monthW    float64 // widest word of a month's name [px]
	monthLine float64 // widest name of a month [px]
}

const (
	cellGap  = 6.0   // between months [px]
	anyGap   = 18.0  // before the whole winter [px]
	cellRise = 40.0  // height of a cell [px]
	barRise  = 13.0  // height of a bar where months stand below each other [px]
	barReach = 420.0 // longest bar of a month [px]
)

func newChanceCells(p *page, in Chance) *chanceCells {
	c := &chanceCells{p: p, in: in}
	n := float64(len(in.Months))
	c.cellW = (p.w - 2*margin - anyGap - (n-1)*cellGap) / (n + 1)
	for _, pl := range in.Places {
		for _, s := range append([]FrostShare{pl.Any}, pl.Month...) {
			c.figureW = max(c.figureW, draw.TextWidth(in.figures(s), sizeText, true))
		}
	}
	for _, m := range append([]string{anyMonth}, in.Months...) {
		c.monthW = max(c.monthW, widest(wrap(m, sizeText, true, 1), sizeText)*1.07)
		c.monthLine = max(c.monthLine, draw.TextWidth(m, sizeText, true))
	}
	return c
}

// fits tells whether names and counts have their room beside each other.
func (c *chanceCells) fits() bool { return !c.p.narrow && max(c.figureW, c.monthW)+2 <= c.cellW }

// left is where the cell of a month begins; the whole winter's is the last [px].
func (c *chanceCells) left(i int) float64 {
	x := margin + float64(i)*(c.cellW+cellGap)
	if i == len(c.in.Months) {
		x += anyGap - cellGap
	}
	return x
}

// name writes the name of a place with a piece of its line before it.
func (c *chanceCells) name(g *draw.Group, pl ChancePlace) {
	p := c.p
	g.Add(p.line(pl.Kind.pen(), margin, p.y+12, margin+22, p.y+12))
	for _, s := range wrap(pl.Name, sizeText, true, p.w-2*margin-30) {
		p.y += lineText
		g.Add(p.text(margin+30, p.y, s, words{bold: true}))
	}
}

// columns draws the months beside each other, their names once at the top.
func (c *chanceCells) columns() {
	p, in := c.p, c.in
	head, names, cells := &draw.Group{Class: "months"}, &draw.Group{Class: "names"}, &draw.Group{Class: "cells"}
	top, foot := p.y, p.y
	for i, m := range append(append([]string{}, in.Months...), anyMonth) {
		y := top
		for _, s := range wrap(m, sizeText, true, c.cellW) {
			y += lineText
			head.Add(p.text(c.left(i)+c.cellW/2, y, s, words{anchor: draw.Middle, ink: draw.Ink2, bold: i == len(in.Months)}))
		}
		foot = max(foot, y)
	}
	p.y = foot + 6
	for _, pl := range in.Places {
		c.name(names, pl)
		p.y += 7
		for i := range in.Months {
			c.cell(cells, i, pl.Name, in.Months[i], pl.Month[i])
		}
		c.cell(cells, len(in.Months), pl.Name, anyMonth, pl.Any)
		p.y += cellRise + lineText + 14
	}
	p.l.Add(head, names, cells)
}

// cell draws one month of one place: full height is every winter.
func (c *chanceCells) cell(g *draw.Group, i int, place, month string, s FrostShare) {
	p, x := c.p, c.left(i)
	last := i == len(c.in.Months)
	tip := c.in.tip(place, month, s)
	g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x, p.y, c.cellW, cellRise)}, Fill: draw.Ground2, Tip: tip})
	h := cellRise * c.in.share(s)
	c.hatch(g, x, p.y+cellRise-h, c.cellW, h, last, s, tip)
	base := axisPen()
	if last {
		base.Width = 2
	}
	g.Add(p.line(base, x, p.y+cellRise, x+c.cellW, p.y+cellRise))
	w := c.count(s, last, tip)
	w.anchor = draw.Middle
	g.Add(p.text(x+c.cellW/2, p.y+cellRise+lineText-1, c.in.figures(s), w))
}

// hatch draws the winters with frost; none leaves no mark.
func (c *chanceCells) hatch(g *draw.Group, x, y, w, h float64, bold bool, s FrostShare, tip string) {
	if s.Of == 0 {
		return
	}
	pen := draw.Pen{Ink: draw.Frost, Width: 1}
	if bold {
		pen.Width = 2
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{c.p.box(x, y, w, h)}, Fill: draw.Ground, Hatch: draw.FrostHatch, HatchInk: draw.Frost, Pen: pen, Tip: tip})
}

// count is how a count is set.
func (c *chanceCells) count(s FrostShare, bold bool, tip string) words {
	w := words{bold: bold, tip: tip}
	if s.Of == 0 {
		w.ink = draw.Ink2
	}
	return w
}

// rows draws the months of each place below each other, the whole winter first.
func (c *chanceCells) rows() {
	p, in := c.p, c.in
	names, cells := &draw.Group{Class: "names"}, &draw.Group{Class: "cells"}
	for _, pl := range in.Places {
		c.name(names, pl)
		p.y += 4
		c.row(cells, pl.Name, anyMonth, pl.Any, true)
		for i, m := range in.Months {
			c.row(cells, pl.Name, m, pl.Month[i], false)
		}
		p.y += 12
	}
	p.l.Add(names, cells)
}

// row draws one month of one place and moves below it.
func (c *chanceCells) row(g *draw.Group, place, month string, s FrostShare, whole bool) {
	p := c.p
	tip := c.in.tip(place, month, s)
	nameW := max(c.monthW, min(c.monthLine, p.w*0.3))
	y := p.y
	for _, line := range wrap(month, sizeText, true, nameW) {
		y += lineText
		g.Add(p.text(margin, y-3, line, words{ink: draw.Ink2, bold: whole}))
	}
	x := margin + nameW + 12
	// A long name of a month leaves a short bar, never none.
	w := max(min(p.w-margin-c.figureW-8-x, barReach), 24)
	top := p.y + 3
	g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x, top, w, barRise)}, Fill: draw.Ground2, Tip: tip})
	c.hatch(g, x, top, w*c.in.share(s), barRise, whole, s, tip)
	g.Add(p.line(axisPen(), x, top, x, top+barRise))
	g.Add(p.text(x+w+8, p.y+lineText-3, c.in.figures(s), c.count(s, whole, tip)))
	p.y = y + 3
}

// note closes the picture with how it is read.
func (c *chanceCells) note(s string) {
	g := &draw.Group{Class: "note"}
	for _, line := range wrap(s, sizeText, false, min(c.p.w-2*margin, 560)) {
		c.p.y += lineText
		g.Add(c.p.text(margin, c.p.y, line, words{ink: draw.Ink2}))
	}
	c.p.l.Add(g)
}
