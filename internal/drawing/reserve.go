package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Reserve is how many days without sun a house still has until a named place meets its limit.
type Reserve struct {
	Title      string
	Place      string     // "bed 1, leaf tips"
	LimitC     float64    // [°C]
	Conditions string     // "No sun: outside −12 °C, overcast, wind 2 m/s"; said under the title
	Days       float64    // days that count, until the limit is met or ice begins, whichever is first
	AtLeast    bool       // the run ended first: there are Days or more
	IceDays    float64    // days more, from when ice begins in the drums until the limit is met: drawn apart, never counted
	Full       float64    // days of the full reserve, so that what is used shows; 0: not known
	Band       [2]float64 // of Days, for what is not known; equal: no band known
}

// DrawReserve draws the reserve as a stack of tiles, one for each day: full ones for whole days, the tile in use drawn as far as it reaches, from
// below; used ones as empty outlines up to the full reserve; days on ice in a stack of their own, hatched. Beyond 30 days the stack is cut
// and says so.
//
// Errors: days that are negative or not finite, a band that does not hold the days.
func DrawReserve(in Reserve, f Frame) (*draw.List, error) {
	p, err := newPage("reserve", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	p.heading(in.Title, in.sentences(p.u)...)
	newTiles(p, in).draw()
	return p.finish(), nil
}

func (in Reserve) check() error {
	for _, d := range []float64{in.Days, in.IceDays, in.Full, in.Band[0], in.Band[1]} {
		if !(d >= 0 && d < 1e6) {
			return fmt.Errorf("reserve: %g days, %g on ice, %g when full, band %g to %g, must be 0 or more and finite", in.Days, in.IceDays, in.Full, in.Band[0], in.Band[1])
		}
	}
	if math.IsNaN(in.LimitC) || math.IsInf(in.LimitC, 0) {
		return fmt.Errorf("reserve: limit %g °C, must be finite", in.LimitC)
	}
	if in.banded() && (in.Days < in.Band[0] || in.Days > in.Band[1]) {
		return fmt.Errorf("reserve: %g days lie outside their band %g to %g", in.Days, in.Band[0], in.Band[1])
	}
	return nil
}

func (in Reserve) banded() bool { return in.Band[0] != in.Band[1] }

// days writes a number of days, to a tenth below ten.
func days(d float64) string {
	if math.Abs(d-1) < 0.05 {
		return "1 day"
	}
	if d < 9.95 {
		return figure(d, 1) + " days"
	}
	return figure(d, 0) + " days"
}

func (in Reserve) sentences(u Units) []string {
	meets := in.Place + " meets " + u.temp(in.LimitC)
	until := meets
	if in.IceDays > 0 {
		until = "ice begins in the drums"
	}
	s := days(in.Days) + " without sun until " + until
	switch {
	case in.AtLeast:
		s = "At least " + s
	case in.banded():
		s += fmt.Sprintf(" (%s to %s)", figure(in.Band[0], 1), days(in.Band[1]))
	}
	s += "."
	if in.Days == 0 {
		s = "None left: " + in.Place + " is at " + u.temp(in.LimitC) + " or below it, or there is ice in the drums."
	}
	out := []string{s}
	if in.IceDays > 0 {
		out = append(out, days(in.IceDays)+" more on ice until "+meets+", which are no days of safety.")
	}
	if max(in.Days, in.Full) > most {
		out = append(out, fmt.Sprintf("The stack is cut at %d days.", most))
	}
	if in.IceDays > in.iceDrawn() {
		out = append(out, "What is on ice is not drawn whole.")
	}
	return append(out, in.Conditions)
}

// iceDrawn is how many days on ice are drawn at most: no more than days that count, so that ice never looks like the larger part, and at least three.
func (in Reserve) iceDrawn() float64 {
	return math.Min(most, math.Max(3, math.Ceil(max(in.Days, in.Full)-1e-9)))
}

// said is what stands at the tile in use.
func (in Reserve) said() string {
	if in.AtLeast {
		return days(in.Days) + " or more"
	}
	return days(in.Days)
}

// most is how many tiles are drawn in a stack.
const most = 30

// tiles is the layout of the stacks.
type tiles struct {
	p            *page
	in           Reserve
	w, h         float64 // of a tile [px]
	x, iceX, top float64
	n, ice       int
}

func newTiles(p *page, in Reserve) *tiles {
	t := &tiles{p: p, in: in, h: 22, x: margin + 62, top: p.y + lineText + 12}
	t.n = int(math.Min(most, math.Ceil(max(in.Days, in.Full, in.Band[1], 1)-1e-9)))
	t.ice = int(math.Min(in.iceDrawn(), math.Ceil(in.IceDays-1e-9)))
	switch rows := max(t.n, t.ice); {
	case rows > 14:
		t.h = 16
	case rows <= 3:
		t.h = 48
	case rows <= 7:
		t.h = 30
	}
	t.w = min(150, (p.w-2*margin-62)*0.36)
	t.iceX = t.x + max(t.w, draw.TextWidth(in.said(), sizeText, true)) + 26
	return t
}

// foot is the lower edge of tile k of a stack, counted from the ground.
func (t *tiles) foot(k int) float64 { return t.top + float64(max(t.n, t.ice)-k)*(t.h+3) }

func (t *tiles) draw() {
	p, in := t.p, t.in
	g := &draw.Group{Class: "tiles"}
	for k := range t.n {
		left := in.Days - float64(k)
		tip := fmt.Sprintf("day %d without sun", k+1)
		box := func(share float64) []draw.Point {
			return p.box(t.x, t.foot(k)-t.h*share, t.w, t.h*share)
		}
		whole := 1.0
		if k == t.n-1 && in.Full > in.Days { // the full reserve ends within its last tile
			whole = math.Max(0.05, math.Min(1, in.Full-float64(k)))
		}
		if float64(k) < max(in.Full, in.Days) { // room above is that of the band
			g.Add(&draw.Area{Rings: [][]draw.Point{box(whole)}, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75, Dash: []float64{3, 3}}, Tip: tip + ", used"})
		}
		if left > 0.005 {
			g.Add(&draw.Area{Rings: [][]draw.Point{box(math.Min(1, left))}, Fill: draw.Ground2, Hatch: draw.WaterHatch, HatchInk: draw.Water, Pen: draw.Pen{Ink: draw.Water, Width: 1.75}, Tip: tip})
		}
	}
	for k := range t.ice {
		share := math.Min(1, in.IceDays-float64(k))
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(t.iceX, t.foot(k)-t.h*share, t.w, t.h*share)}, Fill: draw.Ground, Hatch: draw.FrostHatch, HatchInk: draw.Frost, Pen: draw.Pen{Ink: draw.Frost, Width: 1, Dash: []float64{4, 3}}, Tip: "on ice: no day of safety"})
	}
	t.band(g)
	base := t.foot(0) + 4
	end := t.x + t.w
	if t.ice > 0 {
		end = t.iceX + t.w
	}
	g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, t.x-8, base, end+8, base))
	p.l.Add(g)
	t.labels()
	p.y = base + 2*lineText + 4
}

// y is the height of a number of days on the stack, within it.
func (t *tiles) y(d float64) float64 {
	k := int(math.Min(math.Floor(math.Min(d, most)), float64(t.n-1)))
	return t.foot(k) - t.h*math.Min(1, d-float64(k))
}

// band draws beside the stack how far the days may lie.
func (t *tiles) band(g *draw.Group) {
	if !t.in.banded() {
		return
	}
	x, lo, hi := t.x+t.w+13, t.y(t.in.Band[0]), t.y(t.in.Band[1])
	tip := fmt.Sprintf("%s to %s", days(t.in.Band[0]), days(t.in.Band[1]))
	for _, xy := range [][]float64{{x, lo, x, hi}, {x - 4, lo, x + 4, lo}, {x - 4, hi, x + 4, hi}} {
		l := t.p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, xy...)
		l.Tip = tip
		g.Add(l)
	}
}

// labels writes the scale of days at the left, the value beside the tile in use, what each stack is below it.
func (t *tiles) labels() {
	p, in := t.p, t.in
	g := &draw.Group{Class: "names"}
	step := 1
	for float64(step)*(t.h+3) < 30 {
		step++
	}
	for k := step; k <= t.n; k += step {
		y := t.foot(k - 1)
		g.Add(p.text(t.x-14, y-t.h/2, fmt.Sprint(k), words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
	}
	g.Add(p.text(t.x-14, t.top-10, "days", words{anchor: draw.End, ink: draw.Ink2}))
	y := t.y(in.Days)
	if in.Days > 0 {
		g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, t.x-8, y, t.x+t.w+8, y))
	}
	g.Add(p.text(t.x, y-7, in.said(), words{bold: true, halo: draw.Ground}))
	base := t.foot(0) + 4 + lineText
	for i, line := range wrap("days that count", sizeText, false, t.w+20) {
		g.Add(p.text(t.x+t.w/2, base+float64(i)*lineText, line, words{anchor: draw.Middle}))
	}
	if t.ice > 0 {
		for i, line := range []string{"on ice,", "not counted"} {
			g.Add(p.text(t.iceX+t.w/2, base+float64(i)*lineText, line, words{anchor: draw.Middle, ink: draw.Frost}))
		}
		top := t.foot(t.ice-1) - t.h
		g.Add(p.text(t.iceX+t.w/2, top-7, days(in.IceDays), words{anchor: draw.Middle, ink: draw.Frost, halo: draw.Ground}))
	}
	p.l.Add(g)
}
