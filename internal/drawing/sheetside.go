package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// sheetSide draws each day's lowest to highest beside its row.
func (p *page) sheetSide(s *sheetGrid, at sheetPlace, x0, x1 float64) {
	lows, highs := make([]float64, s.days), make([]float64, s.days)
	lo, hi := 0.0, 0.0
	for d := range s.days {
		lows[d], highs[d] = math.NaN(), math.NaN()
		for h := range 24 {
			if c := s.at(d, h); !math.IsNaN(c) {
				lows[d], highs[d] = least(lows[d], c), -least(-highs[d], -c)
				lo, hi = min(lo, c), max(hi, c)
			}
		}
	}
	hi = max(hi, lo+1)
	px := func(c float64) float64 { return x0 + (c-lo)/(hi-lo)*(x1-x0) }
	bottom := at.y + float64(s.days)*at.row
	g := &draw.Group{Class: "days"}
	if lo < 0 {
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x0, at.y, px(0)-x0, bottom-at.y)}, Fill: draw.Ground2})
	}
	taken := &placer{room: draw.Rect{Min: draw.Point{X: x0 - 16, Y: -1e9}, Max: draw.Point{X: p.w, Y: 1e9}}}
	for _, c := range append([]float64{0}, p.u.tempTicks(lo, hi, 5)...) {
		t := p.text(px(c), at.y-8, p.u.tick(c)+"°", words{anchor: draw.Middle, ink: draw.Ink2})
		if box := p.l.TextBox(t); taken.free(box) {
			taken.take(box.Grow(2))
			g.Add(t, p.line(hairline(), px(c), at.y-4, px(c), bottom))
		}
	}
	var low []draw.Point
	for d := range s.days {
		y := at.y + (float64(d)+0.5)*at.row
		if math.IsNaN(lows[d]) {
			continue
		}
		g.Add(p.line(draw.Pen{Ink: draw.Rule, Width: max(at.row-1, 1)}, px(lows[d]), y, px(highs[d]), y))
		low = append(low, p.at(px(lows[d]), y))
	}
	g.Add(p.line(frostPen(), px(0), at.y-4, px(0), bottom))
	if len(low) > 1 {
		g.Add(&draw.Line{Points: low, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}})
	}
	g.Add(p.text(x1, bottom+14, "each day: line lowest, bar to highest", words{anchor: draw.End, ink: draw.Ink2}))
	p.l.Add(g)
}

// least returns the smaller of two; a gap does not count.
func least(a, b float64) float64 {
	if math.IsNaN(a) {
		return b
	}
	return min(a, b)
}
