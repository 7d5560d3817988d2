package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// scaleBounds are the temperatures where the colour changes [°C]: fine near
// freezing, where a degree decides, coarse far from it. The colours between
// them are Cold6..Cold1 and Warm1..Warm6.
func scaleBounds() [11]float64 { return [...]float64{-20, -10, -5, -2, -1, 0, 2, 5, 10, 15, 25} }

// scaleToken returns the colour of a temperature: exactly 0 °C is above the
// break, as water there is not yet frozen; None for a gap.
func scaleToken(c float64) draw.Token {
	if math.IsNaN(c) {
		return draw.None
	}
	t := draw.Cold6
	for _, b := range scaleBounds() {
		if c >= b {
			t++
		}
	}
	return t
}

// paintOf returns fill, hatch and hatch ink of a temperature: hatched below
// 0 °C.
func paintOf(c float64) (draw.Token, draw.Hatch, draw.Token) {
	t := scaleToken(c)
	if t >= draw.Cold6 && t <= draw.Cold1 {
		return t, draw.FrostHatch, draw.MarkOn(t)
	}
	return t, draw.Plain, draw.None
}

// scaleKey draws the temperature scale with its bounds and a longer stroke at
// 0 °C, at the current height, and moves below it.
func (p *page) scaleKey(x, width float64) {
	g := &draw.Group{Class: "key"}
	bounds := scaleBounds()
	step := math.Floor(width / 12)
	for i := range 12 {
		c := bounds[min(i, 10)] - 0.5
		if i == 11 {
			c = bounds[10] + 0.5
		}
		fill, hatch, ink := paintOf(c)
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x+float64(i)*step, p.y, step, 12)}, Fill: fill, Hatch: hatch, HatchInk: ink})
	}
	zero := x + 6*step
	g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 2}, zero, p.y-5, zero, p.y+17))
	base := p.y + 30
	taken := &placer{room: draw.Rect{Min: draw.Point{X: 0, Y: -1e9}, Max: draw.Point{X: p.w, Y: 1e9}}}
	for _, i := range []int{5, 0, 10, 2, 8, 7, 4, 9, 1, 6, 3} {
		label := words{anchor: draw.Middle, ink: draw.Ink2}
		s := p.u.tick(bounds[i])
		if i == 5 {
			label.ink, label.bold = draw.Ink, true
			s += " " + p.u.Degree
		}
		t := p.text(x+float64(i+1)*step, base, s, label)
		if box := p.l.TextBox(t); taken.free(box.Grow(5)) {
			taken.take(box)
			g.Add(t)
		}
	}
	g.Add(p.text(x, base+lineText, "hatched: below freezing", words{ink: draw.Ink2}))
	p.l.Add(g)
	p.y = base + lineText + 6
}
