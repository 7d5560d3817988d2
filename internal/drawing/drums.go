package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// DrumsCurve is what so many drums would come to.
type DrumsCurve struct {
	Title     string
	Sentences []string
	Across    string // what is counted along the picture: "drums"
	Points    []DrumsPoint
	Plan      int // index of the plan's own point; -1: none
}

// DrumsPoint is one number of drums.
type DrumsPoint struct {
	Drums int
	Share float64 // reliability, 0 to 1
	Words string  // the share, as told
	Tip   string
}

// DrawDrums draws reliability over the number of drums, with the plan's own marked.
//
// Errors: fewer than two points, numbers of drums that do not rise, shares not 0 to 1.
func DrawDrums(in DrumsCurve, f Frame) (*draw.List, error) {
	p, err := newPage("drums", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, fmt.Errorf("drums: %w", err)
	}
	p.heading(in.Title, in.Sentences...)
	c := &drumsChart{p: p, in: in, x0: 58, x1: p.w - margin - 40, y0: p.y + 44}
	c.y1 = c.y0 + 220
	c.lo = 1
	for _, q := range in.Points {
		c.lo = min(c.lo, math.Floor(q.Share*10-1e-9)/10)
	}
	c.lo = max(0, min(c.lo, 0.9))
	c.draw()
	p.y = c.y1 + 40
	return p.finish(), nil
}

func (in DrumsCurve) check() error {
	if len(in.Points) < 2 || in.Plan < -1 || in.Plan >= len(in.Points) {
		return fmt.Errorf("%d points, the plan's is %d, must be 2 or more and one of them", len(in.Points), in.Plan)
	}
	for i, q := range in.Points {
		if q.Drums < 1 || i > 0 && q.Drums <= in.Points[i-1].Drums || !(q.Share >= 0 && q.Share <= 1) {
			return fmt.Errorf("%d drums with a share of %g, must be more drums than before and 0 to 1", q.Drums, q.Share)
		}
	}
	return nil
}

// drumsChart is the curve under way.
type drumsChart struct {
	p              *page
	in             DrumsCurve
	x0, x1, y0, y1 float64 // [px]
	lo             float64 // share at the lower edge
}

func (c *drumsChart) x(drums int) float64 {
	return c.x0 + float64(drums)/float64(c.in.Points[len(c.in.Points)-1].Drums)*(c.x1-c.x0)
}

func (c *drumsChart) y(share float64) float64 { return c.y1 - (share-c.lo)/(1-c.lo)*(c.y1-c.y0) }

func (c *drumsChart) draw() {
	p := c.p
	axes, line, names := &draw.Group{Class: "axes"}, &draw.Group{Class: "line"}, &draw.Group{Class: "names"}
	for _, s := range roundTicks(c.lo*100, 100, 6) {
		y := c.y(s / 100)
		axes.Add(p.line(hairline(), c.x0, y, c.x1, y), p.text(c.x0-6, y, figure(s, 0)+" %", words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
	}
	axes.Add(p.line(axisPen(), c.x0, c.y1, c.x1, c.y1), p.text(c.x0, c.y1+36, c.in.Across, words{ink: draw.Ink2}))
	room := &placer{room: draw.Rect{Min: draw.Point{X: c.x0, Y: c.y0 - 34}, Max: draw.Point{X: p.w - 4, Y: c.y1}}}
	under := &placer{room: draw.Rect{Min: draw.Point{X: 0, Y: c.y1}, Max: draw.Point{X: p.w, Y: c.y1 + 24}}}
	var curve []draw.Point
	for _, q := range c.in.Points {
		x, y := c.x(q.Drums), c.y(q.Share)
		curve = append(curve, p.at(x, y))
		room.take(rectOf(x, y, x, y).Grow(5))
	}
	for i := 1; i < len(c.in.Points); i++ { // words stay off the line
		a, b := c.in.Points[i-1], c.in.Points[i]
		for k := range 40 {
			part := float64(k) / 40
			x, y := c.x(a.Drums)+part*(c.x(b.Drums)-c.x(a.Drums)), c.y(a.Share)+part*(c.y(b.Share)-c.y(a.Share))
			room.take(rectOf(x, y, x, y).Grow(2))
		}
	}
	line.Add(&draw.Line{Points: curve, Pen: draw.Pen{Ink: draw.Water, Width: 2.5}})
	for _, i := range c.order() {
		c.point(axes, line, names, i, room, under)
	}
	p.l.Add(axes, line, names)
}

// order is the plan's own point, then the ends, then the others: the first have the first choice of room.
func (c *drumsChart) order() []int {
	list := []int{}
	if c.in.Plan >= 0 {
		list = append(list, c.in.Plan)
	}
	last := len(c.in.Points) - 1
	for _, i := range append([]int{0, last}, upTo(last)...) {
		seen := false
		for _, k := range list {
			seen = seen || k == i
		}
		if !seen {
			list = append(list, i)
		}
	}
	return list
}

// upTo are the numbers from 0 to n-1.
func upTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// point draws one with its share beside it and its number below, where there is room.
func (c *drumsChart) point(axes, line, names *draw.Group, i int, room, under *placer) {
	p, q := c.p, c.in.Points[i]
	own := i == c.in.Plan
	x, y := c.x(q.Drums), c.y(q.Share)
	dot := &draw.Circle{Center: p.at(x, y), Radius: 4, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Water, Width: 2}, Tip: q.Tip}
	text := q.Words
	if own {
		dot.Radius, dot.Fill = 6, draw.Water
		text = "the plan, " + text
	}
	line.Add(dot)
	if box, ok := room.find(x, y, 6, draw.TextWidth(text, sizeText, own)+4, 17, 60); ok {
		names.Add(p.text((box.Min.X+box.Max.X)/2, box.Max.Y-4, text, words{bold: own, anchor: draw.Middle, halo: draw.Ground}))
	}
	t := p.text(x, c.y1+17, fmt.Sprint(q.Drums), words{bold: own, anchor: draw.Middle, ink: draw.Ink2})
	if box := p.l.TextBox(t); under.free(box.Grow(3)) {
		under.take(box)
		axes.Add(p.line(axisPen(), x, c.y1, x, c.y1+4), t)
	}
}
