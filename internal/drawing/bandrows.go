package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// bandRows is the layout of the bars of DrawBands: names above them on a
// narrow sheet, at their left on a wide one.
type bandRows struct {
	p      *page
	in     Bands
	nameW  float64 // 0: names stand above [px]
	endW   float64 // widest figure at an end [px]
	x0, x1 float64 // where bars may reach [px]
	lo, hi float64 // [°C]
	reach  []reach // where the axis runs, downward
}

// reach is a stretch of the sheet, downward [px].
type reach struct{ top, foot float64 }

const bandRise = 18.0 // height of a bar [px]

func newBandRows(p *page, in Bands) *bandRows {
	r := &bandRows{p: p, in: in}
	for _, b := range in.bands() {
		r.lo, r.hi = min(r.lo, b.LoC), max(r.hi, b.HiC)
		r.endW = max(r.endW, widest([]string{p.u.Degrees(b.LoC), p.u.Degrees(b.HiC)}, sizeText))
		r.nameW = max(r.nameW, draw.TextWidth(b.name, sizeText, true), draw.TextWidth(b.Note, sizeText, false))
	}
	room := max(0.04*(r.hi-r.lo), 0.25)
	r.lo, r.hi = r.lo-room, r.hi+room
	r.nameW = min(r.nameW, p.w*0.32)
	r.x0, r.x1 = margin+r.nameW+16+r.endW+8, p.w-margin-r.endW-8
	if p.narrow {
		r.nameW, r.x0 = 0, margin+r.endW+8
	}
	return r
}

func (r *bandRows) x(c float64) float64 { return r.x0 + (c-r.lo)/(r.hi-r.lo)*(r.x1-r.x0) }

func (r *bandRows) draw() {
	p := r.p
	ground, axis, rows := &draw.Group{Class: "freezing"}, &draw.Group{Class: "axes"}, &draw.Group{Class: "bands"}
	for _, s := range wrap("lowest of "+r.in.Place+", "+p.u.Degree, sizeText, false, p.w-2*margin) {
		p.y += lineText
		axis.Add(p.text(margin, p.y, s, words{ink: draw.Ink2}))
	}
	p.y += 20
	r.figures(axis, p.y)
	top := p.y + 6
	p.y += 10
	for _, b := range r.in.bands() {
		r.row(rows, b)
	}
	if !p.narrow {
		r.reach = []reach{{top, p.y}}
	}
	for _, s := range r.reach {
		r.lines(ground, axis, s)
	}
	p.l.Add(ground, axis, rows)
}

// figures writes the temperatures of the axis, freezing always.
func (r *bandRows) figures(g *draw.Group, base float64) {
	p := r.p
	frost := p.u.tick(0) + " freezing"
	half := draw.TextWidth(frost, sizeText, false) / 2
	at := max(min(r.x(0), p.w-4-half), 4+half)
	g.Add(p.text(at, base, frost, words{anchor: draw.Middle}))
	for _, t := range r.ticks() {
		if w := draw.TextWidth(p.u.tick(t), sizeText, false) / 2; math.Abs(r.x(t)-at) > half+w+6 {
			g.Add(p.text(r.x(t), base, p.u.tick(t), words{anchor: draw.Middle, ink: draw.Ink2}))
		}
	}
}

func (r *bandRows) ticks() []float64 { return r.p.u.tempTicks(r.lo, r.hi, int((r.x1-r.x0)/48)) }

// lines draws the axis and what is below freezing; on a narrow sheet beside
// each bar alone, so that names stand on clear ground.
func (r *bandRows) lines(ground, g *draw.Group, s reach) {
	p, zero := r.p, r.x(0)
	left := r.x0 - r.endW - 8
	ground.Add(&draw.Area{Rings: [][]draw.Point{p.box(left, s.top, zero-left, s.foot-s.top)}, Fill: draw.Ground2})
	for _, t := range r.ticks() {
		g.Add(p.line(hairline(), r.x(t), s.top, r.x(t), s.foot))
	}
	g.Add(p.line(frostPen(), zero, s.top, zero, s.foot))
}

// row draws one band and moves below it: its middle is written above the bar,
// its ends beside it.
func (r *bandRows) row(g *draw.Group, b namedBand) {
	p := r.p
	width := r.nameW
	if width == 0 {
		width = p.w - 2*margin
	}
	y := p.y
	for _, part := range []struct {
		s string
		w words
	}{{b.name, words{bold: true}}, {b.Note, words{ink: draw.Ink2}}} {
		for _, s := range wrap(part.s, sizeText, part.w.bold, width) {
			y += lineText
			g.Add(p.text(margin, y, s, part.w))
		}
	}
	line := p.y + lineText
	if r.nameW == 0 {
		line = y + lineText + 4
		r.reach = append(r.reach, reach{y + 5, line + 6 + bandRise + 5})
	}
	tip := b.tip(r.in.Place, p.u)
	half := draw.TextWidth(p.u.Degrees(b.MidC), sizeText, true) / 2
	mid := max(min(r.x(b.MidC), r.x1+r.endW+8-half), r.x0-r.endW-8+half)
	g.Add(p.text(mid, line, p.u.Degrees(b.MidC), words{bold: true, anchor: draw.Middle, halo: draw.Ground, tip: tip}))
	r.bar(g, b, line+6, tip)
	p.y = max(line+6+bandRise, y) + 14
}

// bar draws what is above freezing plain, what is below hatched, the middle as a thick line.
func (r *bandRows) bar(g *draw.Group, b namedBand, y float64, tip string) {
	p := r.p
	part := func(from, to float64, a draw.Area) {
		if to > from {
			a.Rings, a.Tip = [][]draw.Point{p.box(r.x(from), y, r.x(to)-r.x(from), bandRise)}, tip
			g.Add(&a)
		}
	}
	part(b.LoC, min(b.HiC, 0), draw.Area{Fill: draw.Ground, Hatch: draw.FrostHatch, HatchInk: draw.Frost, Pen: draw.Pen{Ink: draw.Frost, Width: 1.5}})
	part(max(b.LoC, 0), b.HiC, draw.Area{Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}})
	g.Add(p.line(draw.Pen{Ink: draw.Ground, Width: 7}, r.x(b.MidC), y, r.x(b.MidC), y+bandRise))
	g.Add(&draw.Line{Points: p.points(r.x(b.MidC), y-3, r.x(b.MidC), y+bandRise+3), Pen: draw.Pen{Ink: draw.Ink, Width: 3.5}, Tip: tip})
	m := y + bandRise/2
	g.Add(p.text(r.x(b.LoC)-8, m, p.u.Degrees(b.LoC), words{anchor: draw.End, lift: draw.Center, halo: draw.Ground}))
	g.Add(p.text(r.x(b.HiC)+8, m, p.u.Degrees(b.HiC), words{lift: draw.Center, halo: draw.Ground}))
}
