package drawing

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/draw"
)

// CarryCurve is how long a place lasts without sun, over the cold outside.
type CarryCurve struct {
	Title      string
	Conditions string      // what "no sun" is here, and what the place is held to: a sentence
	OutsideC   []float64   // mean outdoor airs, the mildest first, at least two, falling [°C]
	Lines      []CurveLine // the first is the one whose days are written at its points
	MostDays   float64     // how long a run was at most [d], above 0
	BandName   string      // what bands are, a sentence; "": there are none
}

// CurveLine is one case of a carry-through.
type CurveLine struct {
	Name   string
	Kind   Kind
	Days   []float64 // that count, by CarryCurve.OutsideC [d]
	OnIce  []float64 // besides, with ice in the drums, not to be counted [d]; nil: none
	Beyond []bool    // the limit is not met within MostDays: what counts ends there
	// LoDays and HiDays are a band about Days; nil: none [d].
	LoDays, HiDays []float64
}

// DrawCarryCurve draws the days that count as one line for each case, from mild
// to cold; days with ice in the drums as a thin broken line up from its point,
// as far as the picture goes; what counts beyond the longest run in a strip of
// its own.
//
// Errors: fewer than two colds or ones that do not fall; a line of another
// length or without a name; days that are negative or not finite.
func DrawCarryCurve(in CarryCurve, f Frame) (*draw.List, error) {
	p, err := newPage("carry-curve", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, fmt.Errorf("carry curve: %w", err)
	}
	p.heading(in.Title, in.sentence(p.u), strings.TrimSuffix(in.Conditions+" "+in.BandName, " "))
	names := make([]string, len(in.Lines))
	for i, l := range in.Lines {
		names[i] = l.Name
	}
	c := &curveChart{in: in, chart: chart{p: p, n: len(in.OutsideC), x0: 46, y0: p.y + 24}}
	c.x1 = p.w - margin - p.labelRoom(names, 0.24)
	if in.anyBeyond() {
		c.strip, c.y0 = c.y0, c.y0+36
	}
	c.y1 = c.y0 + max(250, p.labelHeight(names, c.x1))
	c.fitDays()
	c.plot()
	return p.finish(), nil
}

func (in CarryCurve) check() error {
	if len(in.OutsideC) < 2 || len(in.Lines) == 0 {
		return fmt.Errorf("%d outdoor temperatures and %d lines, must be at least 2 and 1", len(in.OutsideC), len(in.Lines))
	}
	if !(in.MostDays > 0) || math.IsInf(in.MostDays, 0) {
		return fmt.Errorf("longest run %g days, must be above 0", in.MostDays)
	}
	for i, t := range in.OutsideC {
		if math.IsNaN(t) || math.IsInf(t, 0) || i > 0 && t >= in.OutsideC[i-1] {
			return fmt.Errorf("outdoor temperature %d is %g °C, must be finite and below the one before", i+1, t)
		}
	}
	for _, l := range in.Lines {
		if l.Name == "" {
			return fmt.Errorf("a line has no name")
		}
		if len(l.Days) != len(in.OutsideC) || len(l.Beyond) != len(in.OutsideC) || l.OnIce != nil && len(l.OnIce) != len(in.OutsideC) {
			return fmt.Errorf("%s: %d days, %d beyond, %d on ice, must be %d each", l.Name, len(l.Days), len(l.Beyond), len(l.OnIce), len(in.OutsideC))
		}
		if err := checkBand(l.LoDays, l.HiDays, len(l.Days)); err != nil || l.LoDays != nil && len(l.LoDays) != len(l.Days) {
			return fmt.Errorf("%s: %d ends of a band, must be %d (%v)", l.Name, len(l.LoDays), len(l.Days), err)
		}
		for i, d := range l.Days {
			if ice := l.onIce(i); !(d >= 0 && ice >= 0 && d+ice <= in.MostDays*(1+1e-9)) {
				return fmt.Errorf("%s: %g days and %g on ice, must be 0 to %g together", l.Name, d, ice, in.MostDays)
			}
		}
	}
	return nil
}

func (l CurveLine) onIce(i int) float64 {
	if l.OnIce == nil {
		return 0
	}
	return l.OnIce[i]
}

// above tells that what counts runs on to the end of the longest run.
func (l CurveLine) above(i int) bool { return l.Beyond[i] && l.onIce(i) == 0 }

func (in CarryCurve) anyBeyond() bool {
	for _, l := range in.Lines {
		for i := range l.Beyond {
			if l.above(i) {
				return true
			}
		}
	}
	return false
}

// sentence tells the first line at its ends.
func (in CarryCurve) sentence(u Units) string {
	l, last := in.Lines[0], len(in.OutsideC)-1
	say := func(i int) string {
		return fmt.Sprintf("%s at %s outside", in.daysWords(l, i), u.temp(in.OutsideC[i]))
	}
	return fmt.Sprintf("%s: %s, %s.", strings.ToUpper(l.Name[:1])+l.Name[1:], say(0), say(last))
}

func (in CarryCurve) daysWords(l CurveLine, i int) string {
	if l.above(i) {
		return fmt.Sprintf("more than %s days", figure(in.MostDays, 0))
	}
	s := cutOff(l.Days[i]) + " days"
	switch ice := l.onIce(i); {
	case ice > 0 && l.Beyond[i]:
		s += " before ice"
	case ice > 0:
		s += fmt.Sprintf(" before ice, %s on it", cutOff(ice))
	}
	return s
}

// cutOff writes days with one decimal, cut off and never rounded up.
func cutOff(days float64) string { return figure(math.Floor(days*10+1e-9)/10, 1) }

// curveChart is the plot: outdoor air from mild at the left to cold at the right,
// days upward from 0.
type curveChart struct {
	chart
	in    CarryCurve
	strip float64 // upper edge of the strip for what is beyond; 0: none [px]
}

// fitDays sets the range of days by those that count; the longest have a third of the height above them, where there is ice to show.
func (c *curveChart) fitDays() {
	top := 1.0
	for _, l := range c.in.Lines {
		for i, d := range l.Days {
			if !l.above(i) {
				top = max(top, d)
				if l.HiDays != nil { // as far as half of it again: the late ends of mild colds would press all else flat
					top = max(top, min(l.HiDays[i], 1.5*d))
				}
			}
		}
	}
	c.lo, c.hi = 0, top*1.08
	if c.anyIce() {
		c.hi = top * 1.5
	}
}

// across is where an outdoor temperature stands [px].
func (c *curveChart) across(t float64) float64 {
	first, last := c.in.OutsideC[0], c.in.OutsideC[len(c.in.OutsideC)-1]
	return c.x0 + (first-t)/(first-last)*(c.x1-c.x0)
}

// up is where a point of a line stands: what is beyond, in the strip [px].
func (c *curveChart) up(days float64, beyond bool) float64 {
	if beyond {
		return c.strip + 10
	}
	return c.y(days)
}

func (c *curveChart) plot() {
	p := c.p
	axes, lines, labels, marks := &draw.Group{Class: "axes"}, &draw.Group{Class: "lines"}, &draw.Group{Class: "names"}, &draw.Group{Class: "points"}
	c.axes(axes)
	room := &placer{room: draw.Rect{Min: draw.Point{X: c.x0, Y: c.y0}, Max: draw.Point{X: c.x1, Y: c.y1}}}
	var ends []endLabel
	last := len(c.in.OutsideC) - 1
	for _, l := range c.in.Lines {
		c.band(lines, l)
	}
	for _, l := range c.in.Lines {
		c.line(lines, l)
		ends = append(ends, endLabel{l.Name, textInk(l.Kind), c.up(l.Days[last], l.above(last))})
		c.avoid(room, l)
	}
	for k := len(c.in.Lines) - 1; k >= 0; k-- {
		c.points(marks, c.in.Lines[k])
	}
	c.values(marks, room)
	c.endLabels(labels, ends)
	p.l.Add(axes, lines, labels, marks)
}

// axes draws days, colds and the strip of what is beyond.
func (c *curveChart) axes(g *draw.Group) {
	p := c.p
	for d := 0.0; d <= c.hi; d += dayStep(c.hi, (c.y1-c.y0)/30) {
		y := c.y(d)
		g.Add(p.line(hairline(), c.x0, y, c.x1, y))
		g.Add(p.text(c.x0-6, y, figure(d, decimals(d)), words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
	}
	g.Add(p.line(axisPen(), c.x0, c.y1, c.x1, c.y1))
	top := c.y0
	if c.strip > 0 {
		top = c.strip
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(c.x0, c.strip, c.x1-c.x0, 20)}, Fill: draw.Ground2})
		g.Add(p.text(c.x0-6, c.strip+10, "> "+figure(c.in.MostDays, 0), words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
	}
	g.Add(p.text(4, top-12, "days", words{ink: draw.Ink2}))
	foot, end := c.y1+18, math.Inf(-1)
	for _, t := range c.in.OutsideC {
		x, s := c.across(t), p.u.tick(t)
		g.Add(p.line(hairline(), x, top, x, c.y1+5))
		if half := draw.TextWidth(s, sizeText, false) / 2; x-half > end+6 {
			g.Add(p.text(x, foot, s, words{anchor: draw.Middle, ink: draw.Ink2}))
			end = x + half
		}
	}
	p.y = foot
	for _, s := range wrap(fmt.Sprintf("mean outdoor air, %s", p.u.Degree), sizeText, false, p.w-c.x0-margin) {
		p.y += lineText
		g.Add(p.text(c.x0, p.y, s, words{ink: draw.Ink2}))
	}
	if c.anyIce() {
		for _, s := range wrap("Thin broken line upward: days with ice in the drums, not to be counted; cut off where the picture ends.", sizeText, false, p.w-2*margin) {
			p.y += lineText
			g.Add(p.text(margin, p.y, s, words{ink: draw.Ink2}))
		}
	}
}

func (c *curveChart) anyIce() bool {
	for _, l := range c.in.Lines {
		for i := range l.Days {
			if l.onIce(i) > 0 {
				return true
			}
		}
	}
	return false
}

// dayStep is a round step of days of which at most so many fit below hi.
func dayStep(hi, most float64) float64 {
	for _, s := range []float64{0.25, 0.5, 1, 2, 5, 10, 20, 50} {
		if hi/s <= max(most, 1) {
			return s
		}
	}
	return max(100, math.Ceil(hi/max(most, 1)))
}

// decimals is how many a round number of days needs.
func decimals(d float64) int {
	switch {
	case d == math.Trunc(d):
		return 0
	case 2*d == math.Trunc(2*d):
		return 1
	}
	return 2
}

// line draws what counts of a case.
func (c *curveChart) line(g *draw.Group, l CurveLine) {
	var ps []draw.Point
	for i, t := range c.in.OutsideC {
		ps = append(ps, c.p.at(c.across(t), c.up(l.Days[i], l.above(i))))
	}
	g.Add(&draw.Line{Points: ps, Pen: l.Kind.pen(), Tip: l.Name})
}

// ice is the stretch of days on ice above a point, as far as the picture goes.
func (c *curveChart) ice(l CurveLine, i int) (from, to float64) {
	return c.y(l.Days[i]) - 5, c.y(min(l.Days[i]+l.onIce(i), c.hi))
}

// points rings what was computed.
func (c *curveChart) points(g *draw.Group, l CurveLine) {
	for i, t := range c.in.OutsideC {
		g.Add(&draw.Circle{Center: c.p.at(c.across(t), c.up(l.Days[i], l.above(i))), Radius: 3.5, Fill: draw.Ground, Pen: draw.Pen{Ink: l.Kind.pen().Ink, Width: 1.5},
			Tip: fmt.Sprintf("%s, %s outside: %s", l.Name, c.p.u.temp(t), c.in.daysWords(l, i))})
		if y0, y1 := c.ice(l, i); l.onIce(i) > 0 && y1 < y0 {
			x := c.across(t)
			g.Add(c.p.line(draw.Pen{Ink: l.Kind.pen().Ink, Width: 1.5, Dash: []float64{2, 4}}, x, y0, x, y1))
		}
	}
}

// avoid keeps the values off a line.
func (c *curveChart) avoid(room *placer, l CurveLine) {
	for i := 1; i < len(c.in.OutsideC); i++ {
		xa, xb := c.across(c.in.OutsideC[i-1]), c.across(c.in.OutsideC[i])
		take(room, xa, c.up(l.Days[i-1], l.above(i-1)), xb, c.up(l.Days[i], l.above(i)))
	}
	for i, t := range c.in.OutsideC {
		if y0, y1 := c.ice(l, i); l.onIce(i) > 0 && y1 < y0 {
			take(room, c.across(t), y0, c.across(t), y1)
		}
	}
}

// take keeps labels off a stretch of line.
func take(room *placer, xa, ya, xb, yb float64) {
	n := math.Ceil(math.Hypot(xb-xa, yb-ya) / 6)
	for k := 0.0; k <= n; k++ {
		x, y := xa+(xb-xa)*k/max(n, 1), ya+(yb-ya)*k/max(n, 1)
		room.take(draw.Rect{Min: draw.Point{X: x - 4, Y: y - 4}, Max: draw.Point{X: x + 4, Y: y + 4}})
	}
}

// values writes the days of the first line where there is room near its points.
func (c *curveChart) values(g *draw.Group, room *placer) {
	l := c.in.Lines[0]
	for i, t := range c.in.OutsideC {
		if l.above(i) {
			continue
		}
		s := cutOff(l.Days[i])
		w := draw.TextWidth(s, sizeText, true)
		if at, ok := room.find(c.across(t), c.y(l.Days[i]), 4, w, 14, 30); ok {
			g.Add(c.p.text((at.Min.X+at.Max.X)/2, (at.Min.Y+at.Max.Y)/2, s, words{anchor: draw.Middle, lift: draw.Center, bold: true, ink: textInk(l.Kind), halo: draw.Ground}))
		}
	}
}
