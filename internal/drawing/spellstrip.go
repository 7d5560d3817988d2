package drawing

import (
	"math"
	"strings"
	"time"

	"suncellar/internal/draw"
)

// stripLook is how a strip below the plot is drawn.
type stripLook struct {
	name   string
	most   func(float64) string // figure and unit of its highest value
	height float64              // [px]
	kind   Kind
}

// strip draws a series that starts at zero as an area below what is there.
func (c *chart) strip(v []float64, look stripLook) {
	if len(v) == 0 {
		return
	}
	p, top := c.p, 0.0
	for _, x := range v {
		if !math.IsNaN(x) {
			top = max(top, x)
		}
	}
	g := &draw.Group{Class: "strip"}
	said := look.name + ", highest " + look.most(top)
	if top == 0 {
		said = look.name + ": none"
	}
	g.Add(p.text(c.x0, p.y+12, said, words{ink: draw.Ink2}))
	y0, y1 := p.y+20, p.y+20+look.height
	if top == 0 {
		y1 = y0 + 6
	}
	fill, hatch, ink := look.kind.fill()
	eachRun(len(v), func(i int) bool { return v[i] > 0 }, func(a, b int) {
		ring := p.points(c.x(float64(max(a-1, 0))), y1)
		for i := a; i < b; i++ {
			ring = append(ring, p.at(c.x(float64(i)), y1-v[i]/top*look.height))
		}
		ring = append(ring, p.at(c.x(float64(min(b, c.n-1))), y1))
		g.Add(&draw.Area{Rings: [][]draw.Point{ring}, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: look.kind.outline(), Width: 1}})
	})
	g.Add(p.line(axisPen(), c.x0, y1, c.x1, y1))
	p.l.Add(g)
	p.y = y1 + 8
}

// days rules the midnights from the top of the plot to the current height and
// writes day and month below.
func (c *chart) days(start time.Time, top float64) {
	p := c.p
	g := &draw.Group{Class: "dates"}
	first := (24 - start.Hour()) % 24
	perDay := 24 * (c.x1 - c.x0) / float64(c.n-1)
	every := int(math.Ceil(20 / perDay))
	lastMonth, monthEnd := time.Month(0), 0.0
	for k, i := 0, first-24; i < c.n; k, i = k+1, i+24 {
		if i >= 0 {
			g.Add(p.line(hairline(), c.x(float64(i)), top, c.x(float64(i)), p.y))
		}
		noon := i + 12
		if noon < 0 || noon >= c.n || k%every != 0 {
			continue
		}
		d := start.Add(time.Duration(noon) * time.Hour)
		g.Add(p.text(c.x(float64(noon)), p.y+14, d.Format("2"), words{anchor: draw.Middle, ink: draw.Ink2}))
		// A month that finds no room under its first day stands under a later one.
		x, w := max(c.x(float64(noon))-8, c.x0), draw.TextWidth(d.Format("January"), sizeText, false)
		if d.Month() != lastMonth && x > monthEnd && x+w < p.w-4 {
			g.Add(p.text(x, p.y+14+lineText, d.Format("January"), words{ink: draw.Ink2}))
			lastMonth, monthEnd = d.Month(), x+w+6
		}
	}
	p.l.Items = append([]draw.Item{g}, p.l.Items...)
	p.y += 14 + lineText
}

// spellTips lets every hour (on a narrow sheet every few) answer with all its
// values.
func (c *chart) spellTips(in Spell) {
	p := c.p
	perHour := (c.x1 - c.x0) / float64(c.n-1)
	step := max(1, int(math.Ceil(3/perHour)))
	g := &draw.Group{Class: "values"}
	for i := 0; i < c.n; i += step {
		tip := []string{in.time(i).Format("2 January 15:04")}
		for _, s := range in.Lines {
			tip = append(tip, s.Name+" "+p.u.temp(s.TempC[i]))
		}
		if len(in.Sun) > 0 && !math.IsNaN(in.Sun[i]) {
			tip = append(tip, "sun "+wattsPerArea(in.Sun[i]))
		}
		if len(in.Snow) > 0 && !math.IsNaN(in.Snow[i]) {
			tip = append(tip, "snow "+p.u.Snow(in.Snow[i]))
		}
		x := max(c.x(float64(i)-float64(step)/2), c.x0)
		w := min(c.x(float64(i)+float64(step)/2), c.x1) - x
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x, c.y0, w, p.y-2*lineText-c.y0)}, Tip: strings.Join(tip, "\n")})
	}
	p.l.Add(g)
}
