package drawing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/draw"
)

// Spell is a run of cold, dull days, hour by hour.
type Spell struct {
	Title  string    // "Worst spell: 4 to 13 January"
	Start  time.Time // of the first hour
	Lines  []Series  // in drawing order; all of the same length
	Sun    []float64 // on level ground [W/m2]; empty: no strip
	Snow   []float64 // depth on the glazing or the ground [m]; empty: no strip
	SnowOn string    // where the snow lies: "on the glazing"
}

// Series is the temperature of one place over time.
type Series struct {
	Name  string    // "leaf, glazing side"
	Kind  Kind      // chooses ink and dash
	TempC []float64 // [°C]; NaN is a gap
}

// DrawSpell draws the spell: the places inside, and on a smaller scale below
// them the outdoor air, which would press them flat on theirs; lines with their names at their ends, the frost
// line, dates, the lowest hour inside and outside marked with its value, and
// below on the same axis strips of sun and snow.
//
// Errors: no line, fewer than two hours, lengths that differ, infinite or
// missing-throughout values.
func DrawSpell(in Spell, f Frame) (*draw.List, error) {
	l, _, err := DrawSpellCells(in, f)
	return l, err
}

// DrawSpellCells is DrawSpell, and where its hours lie: each in a column of its own from the top of the plot to the foot of its strips.
func DrawSpellCells(in Spell, f Frame) (*draw.List, Cells, error) {
	p, err := newPage("spell", f)
	if err != nil {
		return nil, Cells{}, err
	}
	if err := in.check(); err != nil {
		return nil, Cells{}, err
	}
	p.heading(in.Title, spellSentence(in, p.u))
	names := make([]string, len(in.Lines))
	var indoors, outdoors []Series
	for i, s := range in.Lines {
		names[i] = s.Name
		if s.Kind == Outside {
			outdoors = append(outdoors, s)
		} else {
			indoors = append(indoors, s)
		}
	}
	c := &chart{p: p, n: len(in.Lines[0].TempC), x0: 40, x1: p.w - margin - p.labelRoom(names, 0.24)}
	top := p.y + 20
	for _, part := range []struct {
		lines  []Series
		height float64
	}{{indoors, 250}, {outdoors, 110}} {
		if len(part.lines) == 0 {
			continue
		}
		var said []string
		for _, s := range part.lines {
			said = append(said, s.Name)
		}
		c.y0 = p.y + 20
		c.y1 = c.y0 + max(part.height, p.labelHeight(said, c.x1))
		c.spellPlot(part.lines)
		p.y = c.y1 + 12
	}
	c.y0 = top
	c.strip(in.Sun, stripLook{name: "sun", most: wattsPerArea, height: 48, kind: Light})
	c.strip(in.Snow, stripLook{name: strings.TrimSpace("snow " + in.SnowOn), most: p.u.Snow, height: 32, kind: Joints})
	c.days(in.Start, c.y0)
	c.spellTips(in)
	wide := (c.x1 - c.x0) / float64(c.n-1)
	cells := Cells{X: c.x0 - wide/2, Y: c.y0, Width: wide, Height: p.y - 2*lineText - c.y0, Columns: c.n, Hours: c.n}
	return p.finish(), cells, nil
}

func wattsPerArea(w float64) string { return figure(w, 0) + " W/m²" }

func (in Spell) check() error {
	if len(in.Lines) == 0 {
		return fmt.Errorf("spell: no line, must have one or more")
	}
	n := len(in.Lines[0].TempC)
	for _, s := range in.Lines {
		if err := checkSeries("spell: "+s.Name, s.TempC, n); err != nil {
			return err
		}
	}
	for _, s := range []struct {
		name string
		v    []float64
	}{{"sun", in.Sun}, {"snow", in.Snow}} {
		if len(s.v) == 0 {
			continue
		}
		if err := checkSeries("spell: "+s.name, s.v, n); err != nil {
			return err
		}
	}
	return nil
}

// checkSeries wants n values, two or more, finite or gaps, one at least.
func checkSeries(what string, v []float64, n int) error {
	if len(v) != n || n < 2 {
		return fmt.Errorf("%s: %d values, must be %d like the first and 2 or more", what, len(v), n)
	}
	some := false
	for i, x := range v {
		if math.IsInf(x, 0) {
			return fmt.Errorf("%s: value %d is infinite, must be finite or a gap", what, i)
		}
		some = some || !math.IsNaN(x)
	}
	if !some {
		return fmt.Errorf("%s: no value, must have one or more", what)
	}
	return nil
}

// lowestOf returns the series and step with the lowest value among those that
// are asked for; -1 where there is none.
func lowestOf(lines []Series, want func(Kind) bool) (series, step int) {
	series, step = -1, -1
	for k, s := range lines {
		if !want(s.Kind) {
			continue
		}
		for i, v := range s.TempC {
			if !math.IsNaN(v) && (series < 0 || v < lines[series].TempC[step]) {
				series, step = k, i
			}
		}
	}
	return series, step
}

func inside(k Kind) bool  { return k != Outside }
func outside(k Kind) bool { return k == Outside }

// spellSentence says what is lowest, of the plants' places first.
func spellSentence(in Spell, u Units) string {
	out := ""
	if k, i := lowestOf(in.Lines, inside); k >= 0 {
		out = fmt.Sprintf("Lowest inside %s, %s, %s.", u.temp(in.Lines[k].TempC[i]), in.Lines[k].Name, in.time(i).Format("2 January 15:04"))
	}
	if k, i := lowestOf(in.Lines, outside); k >= 0 {
		out += fmt.Sprintf(" Outside down to %s, %s.", u.temp(in.Lines[k].TempC[i]), in.time(i).Format("2 January 15:04"))
	}
	return strings.TrimSpace(out)
}

func (in Spell) time(i int) time.Time { return in.Start.Add(time.Duration(i) * time.Hour) }

func (c *chart) spellPlot(in []Series) {
	series := make([][]float64, len(in))
	for i, s := range in {
		series[i] = s.TempC
	}
	c.fit(series...)
	axes := &draw.Group{Class: "axes"}
	c.frame(axes)
	lines := &draw.Group{Class: "lines"}
	labels := &draw.Group{Class: "names"}
	var ends []endLabel
	for _, s := range in {
		c.draw(lines, s.TempC, s.Kind.pen(), s.Name)
		ends = append(ends, endLabel{s.Name, textInk(s.Kind), c.y(lastValue(s.TempC))})
	}
	c.endLabels(labels, ends)
	c.p.l.Add(axes, lines, labels)
	c.markLowest(in)
}

func lastValue(v []float64) float64 {
	for i := len(v) - 1; i >= 0; i-- {
		if !math.IsNaN(v[i]) {
			return v[i]
		}
	}
	return math.NaN()
}

// markLowest rings the lowest hour of the plot and writes its value where it
// is clear of the lines.
func (c *chart) markLowest(lines []Series) {
	p := c.p
	k, i := lowestOf(lines, func(Kind) bool { return true })
	value := p.u.temp(lines[k].TempC[i])
	x, y := c.x(float64(i)), c.y(lines[k].TempC[i])
	g := &draw.Group{Class: "lowest"}
	g.Add(&draw.Circle{Center: p.at(x, y), Radius: 4.5, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 2}, Tip: lines[k].Name + " " + value})
	room := &placer{room: draw.Rect{Min: draw.Point{X: c.x0, Y: c.y0}, Max: draw.Point{X: c.x1, Y: c.y1}}}
	c.avoidLines(room, lines)
	w := draw.TextWidth(value, sizeText, true)
	if box, ok := room.find(x, y, 5, w+4, 15, 130); ok {
		mx, my := (box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2
		if math.Hypot(mx-x, my-y) > w/2+18 {
			g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 0.75}, x, y, mx, my))
		}
		g.Add(p.text(mx, my, value, words{anchor: draw.Middle, lift: draw.Center, bold: true, halo: draw.Ground}))
	}
	p.l.Add(g)
}

// avoidLines takes the room that lines run through, and the frost line's.
func (c *chart) avoidLines(room *placer, lines []Series) {
	for _, s := range lines {
		for i := 0; i+1 < len(s.TempC); i++ {
			a, b := s.TempC[i], s.TempC[i+1]
			if math.IsNaN(a) || math.IsNaN(b) {
				continue
			}
			ya, yb := c.y(a), c.y(b)
			room.take(draw.Rect{
				Min: draw.Point{X: c.x(float64(i)), Y: min(ya, yb) - 1},
				Max: draw.Point{X: c.x(float64(i + 1)), Y: max(ya, yb) + 1},
			})
		}
	}
	room.take(draw.Rect{Min: draw.Point{X: c.x0, Y: c.y(0) - 1}, Max: draw.Point{X: c.x1, Y: c.y(0) + 1}})
}
