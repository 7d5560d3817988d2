package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// SunHours is the direct sun of one day on chosen points or strips.
type SunHours struct {
	Title    string   // "Direct sun on 21 December"
	Sentence string   // sky, snow, cover: what was taken; may be empty
	Clock    string   // "standard time, UTC-7", named at the axis; may be empty
	Rise     float64  // of the sun over the skyline [h of the day]; NaN: not known
	Set      float64  // [h of the day]
	Rows     []SunRow // from the front to the back, or as they are to be read
}

// SunRow is one point or strip of a bed.
type SunRow struct {
	Name  string
	Share []float64 // of each of equal steps from midnight to midnight: the part of the step, and of the strip, in direct sun, 0 to 1; NaN a gap
}

// Hours is how long the sun lies on it [h]; a gap counts as none.
func (r SunRow) Hours() float64 {
	sum := 0.0
	for _, s := range r.Share {
		if !math.IsNaN(s) {
			sum += s
		}
	}
	return sum * 24 / float64(max(1, len(r.Share)))
}

// DrawSunHours draws a row for each point: the day as a strip, filled where and as far as the sun reaches it, with its hours in figures.
// What lies outside sunrise and sunset is shaded.
//
// Errors: no row, a row without steps or with more than 1440, a share outside 0 to 1, a sunrise after sunset.
func DrawSunHours(in SunHours, f Frame) (*draw.List, error) {
	p, err := newPage("sun-hours", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	p.heading(in.Title, in.sentence(), in.Sentence)
	newDayStrips(p, in).draw()
	return p.finish(), nil
}

func (in SunHours) check() error {
	if len(in.Rows) == 0 {
		return fmt.Errorf("sun hours: no row, must have one or more")
	}
	if in.Rise > in.Set || in.Rise < 0 || in.Set > 24 {
		return fmt.Errorf("sun hours: sunrise %g h, sunset %g h, must be within 0 to 24 in that order", in.Rise, in.Set)
	}
	for _, r := range in.Rows {
		if len(r.Share) == 0 || len(r.Share) > 1440 {
			return fmt.Errorf("sun hours: %q has %d steps, must be 1 to 1440", r.Name, len(r.Share))
		}
		for i, s := range r.Share {
			if s < 0 || s > 1 {
				return fmt.Errorf("sun hours: %q, step %d: %g, must be 0 to 1", r.Name, i, s)
			}
		}
	}
	return nil
}

// sentence tells the rows with the most and the least sun.
func (in SunHours) sentence() string {
	most, least := in.Rows[0], in.Rows[0]
	for _, r := range in.Rows {
		if r.Hours() > most.Hours() {
			most = r
		}
		if r.Hours() < least.Hours() {
			least = r
		}
	}
	if most.Hours() < 0.05 {
		return "No direct sun on any of them."
	}
	if len(in.Rows) == 1 {
		return fmt.Sprintf("%s has %s h of direct sun.", most.Name, figure(most.Hours(), 1))
	}
	return fmt.Sprintf("Most: %s, %s h of direct sun. Least: %s, %s h.", most.Name, figure(most.Hours(), 1), least.Name, figure(least.Hours(), 1))
}

// dayStrips is the layout: names at the left of the strips, above them on a narrow sheet.
type dayStrips struct {
	p      *page
	in     SunHours
	nameW  float64 // 0: names stand above
	x0, x1 float64
	lo, hi float64 // hours shown
}

func newDayStrips(p *page, in SunHours) *dayStrips {
	d := &dayStrips{p: p, in: in, x0: margin + 8, x1: p.w - margin - 52}
	if !p.narrow {
		for _, r := range in.Rows {
			d.nameW = max(d.nameW, draw.TextWidth(r.Name, sizeText, false))
		}
		d.nameW = min(d.nameW, p.w*0.34)
		d.x0 = margin + d.nameW + 18
	}
	d.lo, d.hi = 7, 17
	if in.Set > in.Rise {
		d.lo, d.hi = min(d.lo, math.Floor(in.Rise)), max(d.hi, math.Ceil(in.Set))
	}
	for _, r := range in.Rows {
		for i, s := range r.Share {
			if s > 0 {
				n := float64(len(r.Share))
				d.lo, d.hi = min(d.lo, math.Floor(float64(i)/n*24)), max(d.hi, math.Ceil(float64(i+1)/n*24))
			}
		}
	}
	return d
}

func (d *dayStrips) x(hour float64) float64 {
	return d.x0 + (hour-d.lo)/(d.hi-d.lo)*(d.x1-d.x0)
}

const stripHigh = 24.0

func (d *dayStrips) draw() {
	p := d.p
	rows, axis := &draw.Group{Class: "rows"}, &draw.Group{Class: "axes"}
	top := p.y + 4
	p.y = top
	for _, r := range d.in.Rows {
		d.row(rows, r)
	}
	every := 1.0
	for every*(d.x1-d.x0)/(d.hi-d.lo) < 44 {
		every++
	}
	for h := math.Ceil(d.lo/every) * every; h <= d.hi; h += every {
		axis.Add(p.line(hairline(), d.x(h), top, d.x(h), p.y))
		axis.Add(p.text(d.x(h), p.y+15, fmt.Sprintf("%g h", h), words{anchor: draw.Middle, ink: draw.Ink2}))
	}
	p.y += 18
	if d.in.Clock != "" {
		for _, line := range wrap(d.in.Clock, sizeText, false, p.w-2*margin) {
			p.y += lineText
			axis.Add(p.text(margin, p.y, line, words{ink: draw.Ink2}))
		}
	}
	p.l.Add(axis, rows)
}

// row draws one strip and moves below it.
func (d *dayStrips) row(g *draw.Group, r SunRow) {
	p := d.p
	width := d.nameW
	if width == 0 {
		width = p.w - 2*margin
	}
	lines := wrap(r.Name, sizeText, false, width)
	y := p.y
	if d.nameW == 0 {
		for _, s := range lines {
			y += lineText
			g.Add(p.text(margin, y-5, s, words{halo: draw.Ground}))
		}
	} else {
		y += max(0, float64(len(lines))*15-stripHigh) / 2
		for k, s := range lines {
			g.Add(p.text(margin, y+stripHigh/2+(float64(k)-float64(len(lines)-1)/2)*15, s, words{lift: draw.Center}))
		}
	}
	tip := fmt.Sprintf("%s: %s h of direct sun", r.Name, figure(r.Hours(), 1))
	g.Add(&draw.Area{Rings: [][]draw.Point{p.box(d.x0, y, d.x1-d.x0, stripHigh)}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75}, Tip: tip})
	d.night(g, y)
	d.fill(g, r, y, tip)
	g.Add(p.text(d.x1+8, y+stripHigh/2, figure(r.Hours(), 1)+" h", words{bold: true, lift: draw.Center}))
	p.y = max(y+stripHigh, p.y+float64(len(lines))*15) + 9
}

// night shades what lies before sunrise and after sunset.
func (d *dayStrips) night(g *draw.Group, y float64) {
	if math.IsNaN(d.in.Rise) || math.IsNaN(d.in.Set) {
		return
	}
	for _, x := range [][2]float64{{d.x0, d.x(math.Max(d.in.Rise, d.lo))}, {d.x(math.Min(d.in.Set, d.hi)), d.x1}} {
		if x[1] > x[0] {
			g.Add(&draw.Area{Rings: [][]draw.Point{d.p.box(x[0], y, x[1]-x[0], stripHigh)}, Fill: draw.Ground2, Hatch: draw.GlassHatch, HatchInk: draw.Rule, Tip: "the sun is down or behind the skyline"})
		}
	}
}

// fill draws the sun of a row from the lower edge, one stepped area for each time without a break; gaps as a dashed line.
func (d *dayStrips) fill(g *draw.Group, r SunRow, y float64, tip string) {
	n := float64(len(r.Share))
	x := func(i int) float64 { return max(d.x0, min(d.x1, d.x(float64(i)/n*24))) }
	base := y + stripHigh
	eachRun(len(r.Share), func(i int) bool { return r.Share[i] > 0 }, func(a, b int) {
		ring := []draw.Point{d.p.at(x(a), base)}
		for i := a; i < b; i++ {
			ring = append(ring, d.p.at(x(i), base-stripHigh*r.Share[i]), d.p.at(x(i+1), base-stripHigh*r.Share[i]))
		}
		g.Add(&draw.Area{Rings: [][]draw.Point{append(ring, d.p.at(x(b), base))}, Fill: draw.Sun, Tip: tip})
	})
	eachRun(len(r.Share), func(i int) bool { return math.IsNaN(r.Share[i]) }, func(a, b int) {
		if x(b) > x(a) {
			g.Add(d.p.line(draw.Pen{Ink: draw.Ink2, Width: 1, Dash: []float64{2, 3}}, x(a), y+stripHigh/2, x(b), y+stripHigh/2))
		}
	})
}
