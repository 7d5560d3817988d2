package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// Carry is how places cool over days without sun.
type Carry struct {
	Title      string    // "Carry-through: no sun from 4 January"
	Conditions string    // what "no sun" is here, a sentence: cold, cloud, wind, day-night swing, snow
	StepH      float64   // hours from value to value, above 0
	Lines      []Series  // all of the same length, from the first hour without sun
	LimitC     float64   // the limit that must not be crossed [°C]
	LimitName  string    // "limit for the leaves"
	LoC, HiC   []float64 // band about the last line, from its first value on, of the same length and at most that of the lines; nil: none [°C]
	BandName   string    // what the band is, a sentence
}

// crossing is where a line first falls below the limit.
type crossing struct {
	series int
	step   float64 // may lie between two values
}

// DrawCarry draws the lines over days, the limit, and where each line first
// falls below it; about the last line a pale band, where it has one.
//
// Errors: those of DrawSpell; a step that is not above 0; a limit not finite; a band that is no band.
func DrawCarry(in Carry, f Frame) (*draw.List, error) {
	p, err := newPage("carry", f)
	if err != nil {
		return nil, err
	}
	if !(in.StepH > 0) || math.IsInf(in.StepH, 0) {
		return nil, fmt.Errorf("carry: step %g h, must be above 0", in.StepH)
	}
	if math.IsNaN(in.LimitC) || math.IsInf(in.LimitC, 0) {
		return nil, fmt.Errorf("carry: limit %g °C, must be finite", in.LimitC)
	}
	if err := (Spell{Lines: in.Lines}).check(); err != nil {
		return nil, fmt.Errorf("carry: %w", err)
	}
	if err := checkBand(in.LoC, in.HiC, len(in.Lines[0].TempC)); err != nil {
		return nil, fmt.Errorf("carry: %w", err)
	}
	cross := in.crossings()
	p.heading(in.Title, in.sentence(cross, p.u), in.Conditions+in.bandWords())
	names := make([]string, len(in.Lines))
	series := [][]float64{{in.LimitC}, in.LoC, in.HiC}
	for i, s := range in.Lines {
		names[i] = s.Name
		series = append(series, s.TempC)
	}
	c := &chart{p: p, n: len(in.Lines[0].TempC), x0: 40, y0: p.y + 20}
	c.x1 = p.w - margin - p.labelRoom(names, 0.24)
	c.y1 = c.y0 + max(260, p.labelHeight(names, c.x1))
	c.fit(series...)
	c.carryPlot(in, cross)
	return p.finish(), nil
}

func (in Carry) crossings() []crossing {
	var out []crossing
	for k, s := range in.Lines {
		if s.Kind == Outside {
			continue
		}
		for i, v := range s.TempC {
			if math.IsNaN(v) || v >= in.LimitC {
				continue
			}
			at := float64(i)
			if i > 0 && s.TempC[i-1] >= in.LimitC {
				at -= (in.LimitC - v) / (s.TempC[i-1] - v)
			}
			out = append(out, crossing{k, at})
			break
		}
	}
	return out
}

func (in Carry) days(step float64) float64 { return step * in.StepH / 24 }

func (in Carry) limitWords(u Units) string {
	if in.LimitName == "" {
		return "limit " + u.temp(in.LimitC)
	}
	return in.LimitName + " " + u.temp(in.LimitC)
}

func (in Carry) sentence(cross []crossing, u Units) string {
	if len(cross) == 0 {
		last := in.days(float64(len(in.Lines[0].TempC) - 1))
		return fmt.Sprintf("No place falls below the %s within the %s days computed.", in.limitWords(u), figure(last, 1))
	}
	first := cross[0]
	for _, c := range cross {
		if c.step < first.step {
			first = c
		}
	}
	return fmt.Sprintf("First below the %s: %s, after %s days.", in.limitWords(u), in.Lines[first.series].Name, figure(in.days(first.step), 1))
}

func (c *chart) carryPlot(in Carry, cross []crossing) {
	p := c.p
	axes := &draw.Group{Class: "axes"}
	c.frame(axes)
	foot := c.y1 + 18
	if rows := p.crossingRows(in, cross); len(rows) > 0 {
		foot += float64(len(rows))*lineText + 4
	}
	perDay := 24 / in.StepH
	every := math.Max(1, math.Ceil(24/(c.x(perDay)-c.x0)))
	for d := 0.0; d*perDay <= float64(c.n-1)+1e-9; d += every {
		x := c.x(d * perDay)
		axes.Add(p.line(hairline(), x, c.y0, x, c.y1+5), p.text(x, foot, figure(d, 0), words{anchor: draw.Middle, ink: draw.Ink2}))
	}
	axes.Add(p.text(c.x0, foot+lineText, "days without sun", words{ink: draw.Ink2}))
	lines, labels := &draw.Group{Class: "lines"}, &draw.Group{Class: "names"}
	room := &placer{room: draw.Rect{Min: draw.Point{X: c.x0, Y: c.y0}, Max: draw.Point{X: c.x1, Y: c.y1}}}
	c.avoidLines(room, in.Lines)
	c.band(lines, in)
	var ends []endLabel
	for _, s := range in.Lines {
		c.draw(lines, s.TempC, s.Kind.pen(), s.Name)
		ends = append(ends, endLabel{s.Name, textInk(s.Kind), c.y(lastValue(s.TempC))})
	}
	c.endLabels(labels, ends)
	y := c.y(in.LimitC)
	lines.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5, Dash: []float64{12, 4}}, c.x0, y, c.x1, y))
	room.take(draw.Rect{Min: draw.Point{X: c.x0, Y: y - 1}, Max: draw.Point{X: c.x1, Y: y + 1}})
	marks := c.markCrossings(in, cross)
	c.nameLimit(marks, in, room)
	p.l.Add(axes, lines, labels, marks)
	p.y = foot + lineText
}

func (in Carry) dayWords(c crossing) string { return "day " + figure(in.days(c.step), 1) }

// crossingRows parts the crossings, in order of time, into rows of words that
// fit side by side.
func (p *page) crossingRows(in Carry, cross []crossing) [][]crossing {
	sorted := slices.Clone(cross)
	slices.SortStableFunc(sorted, func(a, b crossing) int { return cmp.Compare(a.step, b.step) })
	var rows [][]crossing
	used := math.Inf(1)
	for _, c := range sorted {
		w := draw.TextWidth(in.dayWords(c), sizeText, true) + 8
		if used+w > p.w-8 {
			rows, used = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], c)
		used += w
	}
	return rows
}

// markCrossings rings each crossing and drops a line from it to its day, in
// the ink of the place that crosses.
func (c *chart) markCrossings(in Carry, cross []crossing) *draw.Group {
	p, y := c.p, c.y(in.LimitC)
	g := &draw.Group{Class: "crossings"}
	for k, row := range p.crossingRows(in, cross) {
		want, width := make([]float64, len(row)), make([]float64, len(row))
		for i, cr := range row {
			want[i], width[i] = c.x(cr.step), draw.TextWidth(in.dayWords(cr), sizeText, true)+8
		}
		for i, x := range spread(want, width, 4, p.w-4) {
			cr := row[i]
			ink := textInk(in.Lines[cr.series].Kind)
			drop := p.line(draw.Pen{Ink: ink, Width: 1, Dash: []float64{2, 2}}, want[i], y, want[i], c.y1)
			if k == 0 {
				drop.Points = append(drop.Points, p.at(x, c.y1+8))
			}
			g.Add(drop, &draw.Circle{Center: p.at(want[i], y), Radius: 4.5, Fill: draw.Ground, Pen: draw.Pen{Ink: ink, Width: 2},
				Tip: fmt.Sprintf("%s below %s after %s days", in.Lines[cr.series].Name, p.u.temp(in.LimitC), figure(in.days(cr.step), 2))})
			g.Add(p.text(x, c.y1+20+float64(k)*lineText, in.dayWords(cr), words{anchor: draw.Middle, bold: true, ink: ink}))
		}
	}
	return g
}

// nameLimit writes the limit's name where there is room along its line; where
// there is none, the heading has named it.
func (c *chart) nameLimit(g *draw.Group, in Carry, room *placer) {
	p, y := c.p, c.y(in.LimitC)
	name := in.limitWords(p.u)
	w := draw.TextWidth(name, sizeText, false)
	for _, x := range []float64{c.x0 + 4, c.x1 - w - 4, (c.x0 + c.x1 - w) / 2} {
		for _, dy := range []float64{-10, 11, -26, 27, -42, 43} {
			box := draw.Rect{Min: draw.Point{X: x, Y: y + dy - 7}, Max: draw.Point{X: x + w, Y: y + dy + 7}}
			if room.free(box) {
				g.Add(p.text(x, y+dy, name, words{lift: draw.Center, halo: draw.Ground}))
				return
			}
		}
	}
}
