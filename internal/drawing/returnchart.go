package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/draw"
)

// returnChart is the plot of DrawReturn: every winter at the left, the points
// right of it, on one axis of temperature. A wide sheet has a strip for the
// winters, a narrow one a tick for each.
type returnChart struct {
	chart
	in    Return
	strip float64 // right edge of the strip; x0: there is none [px]
	left  float64 // where the room of the points begins [px]
	right float64 // room for a value right of the last point [px]
}

const tickReach = 16.0 // of a winter's tick on a narrow sheet [px]

func newReturnChart(p *page, in Return) *returnChart {
	c := &returnChart{in: in, chart: chart{p: p, x0: 46, x1: p.w - margin, y0: p.y + 24}}
	c.strip, c.left = c.x0, c.x0
	switch {
	case len(in.LowestC) == 0:
	case p.narrow:
		c.left = c.x0 + tickReach
	default:
		c.strip = c.x0 + 0.22*(c.x1-c.x0)
		c.left = c.strip + 14
	}
	c.y1 = c.y0 + 260
	var ends []float64
	for _, pt := range in.Points {
		c.right = max(c.right, draw.TextWidth(p.u.Degrees(pt.C), sizeText, true)+14)
		ends = append(ends, pt.LoC, pt.C, pt.HiC)
	}
	c.fit(ends, in.LowestC)
	if in.anyOpen() { // room for the arrows
		c.lo -= 0.1 * (c.hi - c.lo)
	}
	return c
}

// across is where one winter in so many stands [px].
func (c *returnChart) across(oneIn float64) float64 {
	const pad = 22
	first, last := c.in.Points[0].OneIn, c.in.Points[len(c.in.Points)-1].OneIn
	if first == last {
		return (c.left + c.x1 - c.right) / 2
	}
	return c.left + pad + math.Log(oneIn/first)/math.Log(last/first)*(c.x1-c.right-c.left-pad)
}

func (c *returnChart) plot() {
	axes, winters, lines, marks, values := &draw.Group{Class: "axes"}, &draw.Group{Class: "winters"}, &draw.Group{Class: "lines"}, &draw.Group{Class: "points"}, &draw.Group{Class: "values"}
	c.frame(axes)
	c.feet(axes)
	c.winters(winters)
	room := &placer{room: draw.Rect{Min: draw.Point{X: c.left, Y: c.y0 - 6}, Max: draw.Point{X: c.x1, Y: c.y1}}}
	c.line(lines, room)
	for _, pt := range c.in.Points {
		c.whisker(marks, room, pt)
	}
	unsaid := c.values(values, room)
	if !c.arrowWords(values, room) {
		unsaid = append(unsaid, "An arrow: "+colderPossible+".")
	}
	c.zeroWord(values, room)
	c.notes(unsaid)
	c.p.l.Add(axes, winters, lines, marks, values)
}

// feet writes the winters under their points and what both parts show.
func (c *returnChart) feet(g *draw.Group) {
	p := c.p
	foot, end := c.y1+18, math.Inf(-1)
	for _, pt := range c.in.Points {
		x, s := c.across(pt.OneIn), pt.winters()
		g.Add(p.line(hairline(), x, c.y0, x, c.y1+5))
		if half := draw.TextWidth(s, sizeText, false) / 2; x-half > end+6 {
			g.Add(p.text(x, foot, s, words{anchor: draw.Middle, ink: draw.Ink2}))
			end = x + half
		}
	}
	p.y = foot
	from := c.left
	if c.p.narrow {
		from = c.x0
	}
	c.caption(g, foot, from, c.x1, "one winter in so many gets as cold or colder")
	if c.strip > c.x0 {
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(c.strip, c.y0, c.left-c.strip, c.y1-c.y0)}, Fill: draw.Ground})
		c.caption(g, c.y1+1, c.x0, c.strip, fmt.Sprintf("each of %s, warmest first", count(len(c.in.LowestC), "winter")))
	}
}

// caption writes a text between x0 and x1 below y.
func (c *returnChart) caption(g *draw.Group, y, x0, x1 float64, s string) {
	for _, line := range wrap(s, sizeText, false, x1-x0) {
		y += lineText
		g.Add(c.p.text(x0, y, line, words{ink: draw.Ink2}))
	}
	c.p.y = max(c.p.y, y)
}

// winters draws the lowest of every winter.
func (c *returnChart) winters(g *draw.Group) {
	all := c.in.sorted()
	for i, v := range all {
		tip := "lowest of one winter: " + c.p.u.temp(v)
		if c.p.narrow {
			g.Add(&draw.Line{Points: c.p.points(c.x0+1, c.y(v), c.x0+tickReach-4, c.y(v)), Pen: draw.Pen{Ink: c.in.Kind.pen().Ink, Width: 1.5}, Tip: tip})
			continue
		}
		x := c.x0 + 6 + (float64(i)+0.5)/float64(len(all))*(c.strip-c.x0-12)
		dot := &draw.Circle{Center: c.p.at(x, c.y(v)), Radius: 2.2, Fill: c.in.Kind.pen().Ink, Tip: tip}
		if v < 0 {
			dot.Fill = draw.Frost
		}
		g.Add(dot)
	}
}

// line joins the points; broken where they lie beyond the winters.
func (c *returnChart) line(g *draw.Group, room *placer) {
	for i := 1; i < len(c.in.Points); i++ {
		a, b := c.in.Points[i-1], c.in.Points[i]
		pen := draw.Pen{Ink: c.in.Kind.pen().Ink, Width: 1.5}
		if c.in.beyond(i) {
			pen.Dash = []float64{3, 4}
		}
		g.Add(c.p.line(pen, c.across(a.OneIn), c.y(a.C), c.across(b.OneIn), c.y(b.C)))
		take(room, c.across(a.OneIn), c.y(a.C), c.across(b.OneIn), c.y(b.C))
	}
}

// whisker draws a point with its error.
func (c *returnChart) whisker(g *draw.Group, room *placer, pt ReturnPoint) {
	p, x, tip := c.p, c.across(pt.OneIn), pt.tip(c.p.u)
	pen := draw.Pen{Ink: draw.Ink, Width: 1.5}
	top, bottom := c.y(pt.HiC), c.y1-4
	if !pt.open() {
		bottom = c.y(pt.LoC)
	}
	for _, xy := range [][]float64{{x, top, x, bottom}, {x - 5, top, x + 5, top}} {
		g.Add(p.line(pen, xy...))
	}
	if pt.open() {
		g.Add(&draw.Area{Rings: [][]draw.Point{p.points(x, bottom+3, x-5, bottom-7, x+5, bottom-7)}, Fill: draw.Ink, Tip: tip})
	} else {
		g.Add(p.line(pen, x-5, bottom, x+5, bottom))
	}
	g.Add(&draw.Circle{Center: p.at(x, c.y(pt.C)), Radius: 4.5, Fill: draw.Ground, Pen: draw.Pen{Ink: c.in.Kind.pen().Ink, Width: 2.5}, Tip: tip})
	for _, y := range []float64{top, bottom} {
		take(room, x-5, y, x+5, y)
	}
	take(room, x, top, x, bottom)
}

// values writes the temperatures beside their points; those that would stand
// too far off, or nearer another point, come back as sentences.
func (c *returnChart) values(g *draw.Group, room *placer) (unsaid []string) {
	for _, pt := range c.in.Points {
		s := c.p.u.Degrees(pt.C)
		w := draw.TextWidth(s, sizeText, true)
		if at, ok := room.find(c.across(pt.OneIn), c.y(pt.C), 5, w, 14, 15); ok && c.nearest(at) == pt.OneIn {
			c.put(g, at, s, words{bold: true, tip: pt.tip(c.p.u)})
		} else {
			unsaid = append(unsaid, fmt.Sprintf("One winter in %s: %s.", pt.winters(), c.p.u.temp(pt.C)))
		}
	}
	return unsaid
}

// nearest returns which point a label stands nearest to.
func (c *returnChart) nearest(at draw.Rect) float64 {
	x, y := (at.Min.X+at.Max.X)/2, (at.Min.Y+at.Max.Y)/2
	best := slices.MinFunc(c.in.Points, func(a, b ReturnPoint) int {
		return cmp.Compare(math.Hypot(c.across(a.OneIn)-x, c.y(a.C)-y), math.Hypot(c.across(b.OneIn)-x, c.y(b.C)-y))
	})
	return best.OneIn
}

func (c *returnChart) put(g *draw.Group, at draw.Rect, s string, w words) {
	w.anchor, w.lift, w.halo = draw.Middle, draw.Center, draw.Ground
	g.Add(c.p.text((at.Min.X+at.Max.X)/2, (at.Min.Y+at.Max.Y)/2, s, w))
}

// arrowWords says at the rarest open end that colder is possible; false where
// there is no room.
func (c *returnChart) arrowWords(g *draw.Group, room *placer) bool {
	for i := len(c.in.Points) - 1; i >= 0; i-- {
		pt := c.in.Points[i]
		if !pt.open() {
			continue
		}
		w := draw.TextWidth(colderPossible, sizeText, false)
		at, ok := room.find(c.across(pt.OneIn), c.y1-14, 5, w, 14, 24)
		if ok {
			c.put(g, at, colderPossible, words{})
		}
		return ok
	}
	return true
}

// zeroWord names the frost line where there is room.
func (c *returnChart) zeroWord(g *draw.Group, room *placer) {
	const s = "freezing"
	w := draw.TextWidth(s, sizeText, false)
	for _, x := range []float64{c.x1 - w/2 - 4, c.left + w/2 + 4, (c.left + c.x1) / 2} {
		for _, y := range []float64{c.y(0) + 11, c.y(0) - 11} {
			box := draw.Rect{Min: draw.Point{X: x - w/2, Y: y - 7}, Max: draw.Point{X: x + w/2, Y: y + 7}}
			if room.free(box) {
				room.take(box)
				c.put(g, box, s, words{ink: draw.Frost})
				return
			}
		}
	}
}

// notes says below the picture what its marks do not say themselves.
func (c *returnChart) notes(unsaid []string) {
	p, g := c.p, &draw.Group{Class: "note"}
	s := strings.Join(append(unsaid, "A thin upright line is the error of a point."), " ")
	if p.narrow && len(c.in.LowestC) > 0 {
		s += fmt.Sprintf(" Ticks at the left: the lowest of each of %s.", count(len(c.in.LowestC), "winter"))
	}
	if last := len(c.in.Points) - 1; c.in.beyond(last) {
		s += fmt.Sprintf(" A broken line leads beyond what %s show.", count(len(c.in.LowestC), "winter"))
	}
	p.y += 6
	for _, line := range wrap(s, sizeText, false, min(p.w-2*margin, 560)) {
		p.y += lineText
		g.Add(p.text(margin, p.y, line, words{ink: draw.Ink2}))
	}
	p.l.Add(g)
}
