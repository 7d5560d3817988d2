package drawing

import (
	"math"
	"strings"

	"suncellar/internal/draw"
)

// Kind is what a line, a bar or a share belongs to; it chooses ink and dash.
type Kind int

// Kinds.
const (
	Other   Kind = iota
	Outside      // outdoor air
	Air          // air inside
	Leaf         // leaves, beds, crops
	Soil         // bed soil, ground
	Sink         // the low trench where cold air pools
	Store        // drums, all water that holds heat
	Light        // sun
	Glazing      // glass, film, cover
	Joints       // leakage, vents: air that is exchanged
)

// pen returns how a line of this kind is drawn. Neighbours in a picture
// differ by dash and width as well as by ink, for grey print.
func (k Kind) pen() draw.Pen {
	switch k {
	case Outside:
		return draw.Pen{Ink: draw.Ink2, Width: 1}
	case Air:
		return draw.Pen{Ink: draw.Ink, Width: 1.5}
	case Leaf:
		return draw.Pen{Ink: draw.Leaf, Width: 2.5}
	case Soil:
		return draw.Pen{Ink: draw.Earth, Width: 2, Dash: []float64{9, 3}}
	case Sink:
		return draw.Pen{Ink: draw.Frost, Width: 2, Dash: []float64{2, 2.5}}
	case Store:
		return draw.Pen{Ink: draw.Water, Width: 3}
	case Light:
		return draw.Pen{Ink: draw.Sun, Width: 1.5}
	default:
		return draw.Pen{Ink: draw.Ink2, Width: 1.5, Dash: []float64{6, 3, 1.5, 3}}
	}
}

// fill returns how an area of this kind is painted: a panel with a hatch and
// an outline in its ink, never a flat colour alone.
func (k Kind) fill() (draw.Token, draw.Hatch, draw.Token) {
	switch k {
	case Leaf:
		return draw.Leaf, draw.Plain, draw.None
	case Soil:
		return draw.Ground2, draw.Soil, draw.Earth
	case Store:
		return draw.Ground2, draw.WaterHatch, draw.Water
	case Light:
		return draw.Sun, draw.Plain, draw.None
	case Glazing:
		return draw.Ground2, draw.GlassHatch, draw.Ink2
	case Joints:
		return draw.Ground2, draw.FrostHatch, draw.Ink2
	default:
		return draw.Ground2, draw.Plain, draw.None
	}
}

// outline returns the ink round an area of this kind.
func (k Kind) outline() draw.Token {
	if k == Light || k == Leaf || k == Store || k == Soil {
		return k.pen().Ink
	}
	return draw.Ink2
}

// chart is a plot of temperature over steps 0..n-1 on a rectangle of paper.
type chart struct {
	p              *page
	x0, x1, y0, y1 float64 // y0 is the upper edge [px]
	lo, hi         float64 // [°C]
	n              int
}

func (c *chart) x(i float64) float64 { return c.x0 + i/float64(max(c.n-1, 1))*(c.x1-c.x0) }
func (c *chart) y(v float64) float64 { return c.y1 - (v-c.lo)/(c.hi-c.lo)*(c.y1-c.y0) }

// fit sets the range of temperatures so that all values, 0 °C and some room
// are in it.
func (c *chart) fit(series ...[]float64) {
	c.lo, c.hi = 0, 0
	for _, s := range series {
		for _, v := range s {
			if !math.IsNaN(v) {
				c.lo, c.hi = min(c.lo, v), max(c.hi, v)
			}
		}
	}
	room := max(0.07*(c.hi-c.lo), 0.5)
	c.lo, c.hi = c.lo-room, c.hi+room
}

// frame draws the axis of temperature, what lies below freezing, and the
// frost line.
func (c *chart) frame(g *draw.Group) {
	p, zero := c.p, c.y(0)
	g.Add(&draw.Area{Rings: [][]draw.Point{p.box(c.x0, zero, c.x1-c.x0, c.y1-zero)}, Fill: draw.Ground2})
	for _, t := range p.u.tempTicks(c.lo, c.hi, int((c.y1-c.y0)/34)) {
		y := c.y(t)
		g.Add(p.line(hairline(), c.x0, y, c.x1, y))
		if math.Abs(y-zero) > lineText*0.8 {
			g.Add(p.text(c.x0-6, y, p.u.tick(t), words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
		}
	}
	g.Add(p.text(c.x0-6, zero, p.u.tick(0), words{anchor: draw.End, lift: draw.Center}))
	g.Add(p.text(c.x0-6, c.y0-10, p.u.Degree, words{anchor: draw.End, ink: draw.Ink2}))
	g.Add(p.line(frostPen(), c.x0, zero, c.x1, zero))
}

// draw adds a series as a line that is interrupted at gaps.
func (c *chart) draw(g *draw.Group, s []float64, pen draw.Pen, tip string) {
	eachRun(len(s), func(i int) bool { return !math.IsNaN(s[i]) }, func(a, b int) {
		if b-a < 2 {
			return
		}
		ps := make([]draw.Point, 0, b-a)
		for i := a; i < b; i++ {
			ps = append(ps, c.p.at(c.x(float64(i)), c.y(s[i])))
		}
		g.Add(&draw.Line{Points: ps, Pen: pen, Tip: tip})
	})
}

// endLabel is the name of a line, to stand at its end.
type endLabel struct {
	text string
	ink  draw.Token
	y    float64 // where its line ends [px]
}

// endLabels writes names at the right of the plot, moved apart, each joined
// to the end of its line.
func (c *chart) endLabels(g *draw.Group, labels []endLabel) {
	p := c.p
	left := c.x1 + 20
	lines := make([][]string, len(labels))
	want, height := make([]float64, len(labels)), make([]float64, len(labels))
	for i, l := range labels {
		lines[i] = wrap(l.text, sizeText, false, p.w-left-4)
		want[i], height[i] = l.y, float64(len(lines[i]))*lineText
	}
	for i, y := range spread(want, height, c.y0-4, c.y1+4) {
		pen := draw.Pen{Ink: labels[i].ink, Width: 0.75}
		g.Add(p.line(pen, c.x1+2, labels[i].y, c.x1+8, labels[i].y, left-4, y))
		for k, s := range lines[i] {
			ty := y - height[i]/2 + (float64(k)+0.5)*lineText
			g.Add(p.text(left, ty, s, words{ink: labels[i].ink, lift: draw.Center}))
		}
	}
}

// labelHeight returns the height all names need at the right of a plot that
// ends at x1 [px].
func (p *page) labelHeight(names []string, x1 float64) float64 {
	h := 0.0
	for _, n := range names {
		h += float64(len(wrap(n, sizeText, false, p.w-x1-24))) * lineText
	}
	return h
}

// labelRoom returns the room to keep free at the right for names: what the
// widest needs, but no more than a share of the sheet, where names wrap.
func (p *page) labelRoom(names []string, share float64) float64 {
	longest := 0.0
	for _, n := range names {
		longest = max(longest, widest(strings.Fields(n), sizeText))
	}
	return max(min(widest(names, sizeText), p.w*share), longest) + 26
}

// textInk returns the ink for the name of a line: that of the line, unless it
// is one that text may not have.
func textInk(k Kind) draw.Token {
	if k == Light {
		return draw.Ink2
	}
	return k.pen().Ink
}
