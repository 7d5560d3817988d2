package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Sizes of the section with results [px].
const (
	faceBand  = 7.0   // the coloured inner side of a face
	sideWidth = 150.0 // a column of labels
)

// DrawSectionResult draws the section of a house with the lowest of a winter: air, soil, water, leaves and inner faces in the colours of
// the temperature scale, hatched below freezing; snow as deep as it lay; every place named at the side of the section with its value, or
// by number on a narrow sheet. Spans, levels, rays and the cover are left to DrawSection.
//
// Errors: as DrawSection, and nothing that has a value.
func DrawSectionResult(in Section, f Frame) (*draw.List, error) {
	p, err := newPage("section-lowest", f)
	if err != nil {
		return nil, err
	}
	in.Spans, in.Levels, in.Rays, in.Cover = nil, nil, nil, nil // a cover would hide how cold the glazing was
	if err := in.check(); err != nil {
		return nil, err
	}
	valued := false
	for _, w := range in.Warm {
		valued = valued || !math.IsNaN(w.LowestC)
	}
	if !valued {
		return nil, fmt.Errorf("section: no part has a lowest value, must be one or more")
	}
	s := measured(p, in)
	side := margin
	if !p.narrow {
		side += min(sideWidth, p.w*0.19)
	}
	over := min(120, max(in.SnowM, s.overhead())*(p.w-2*side)/(s.max.X-s.min.X))
	s.layOut(side, side, 20+over)
	s.ground()
	s.footings()
	s.builds()
	s.windows()
	s.warmth()
	s.snow()
	s.warmLabels()
	s.scaleBar()
	s.lists()
	return p.finish(), nil
}

// overhead is how far builds reach above the highest corner of the room [m].
func (s *sectionSheet) overhead() float64 {
	over := 0.0
	for _, f := range s.in.Faces {
		over = max(over, max(f.A.Z, f.B.Z)+s.outward(f).Z*f.thickness()*1.3-s.max.Z)
	}
	return over
}

// warmSentence says what the colours are, and the coldest leaves where there are any.
func (s *sectionSheet) warmSentence() string {
	low := Warm{LowestC: math.NaN()}
	for _, w := range s.in.Warm {
		if w.Kind == Leaf && !(w.LowestC >= low.LowestC) && !math.IsNaN(w.LowestC) {
			low = w
		}
	}
	out := "Each place at its own coldest hour."
	if !math.IsNaN(low.LowestC) {
		out = "Lowest leaf " + s.p.u.temp(low.LowestC) + ", " + low.Name + ". " + out
	}
	if s.in.Sentence != "" {
		out = s.in.Sentence + " " + out
	}
	return out
}

// warmth paints the room, then draws what stands in it and its edge.
func (s *sectionSheet) warmth() {
	g := &draw.Group{Class: "warmth"}
	room := s.insideOutline()
	g.Add(&draw.Area{Rings: [][]draw.Point{model(room)}, Fill: draw.Ground})
	for _, w := range s.in.Warm {
		if w.Kind == Air || w.Kind == Sink {
			s.band(g, w, room)
		}
	}
	for _, w := range s.in.Warm {
		if w.Kind == Glazing || w.Kind == Other {
			s.faceBand(g, w)
		}
	}
	for _, b := range s.in.Beds {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(b.Outline)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Earth, Tip: b.Name})
	}
	for _, w := range s.in.Warm {
		if w.Kind == Soil {
			s.paint(g, w, w.Outline)
		}
	}
	for _, b := range s.in.Beds {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(b.Outline)}, Pen: draw.Pen{Ink: draw.Ink, Width: 1.25}})
	}
	for _, w := range s.in.Warm {
		if w.Kind == Leaf {
			s.plants(g, w)
		}
	}
	for _, d := range s.in.Drums {
		s.warmDrum(g, d)
	}
	s.insideLines(g)
	s.p.l.Add(g)
}

// paint fills a ring in the colour of a lowest value.
func (s *sectionSheet) paint(g *draw.Group, w Warm, ring []Point) {
	fill, hatch, ink := paintOf(w.LowestC)
	if fill == draw.None || len(ring) < 3 {
		return
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{model(ring)}, Fill: fill, Hatch: hatch, HatchInk: ink, Tip: w.Name + ", lowest " + s.p.u.temp(w.LowestC)})
}

// band paints a layer of air: the part of the room between the heights of its outline, with a hairline where it begins.
func (s *sectionSheet) band(g *draw.Group, w Warm, room []Point) {
	lo, hi := bounds(w.Outline)
	ring := clipAbove(clipBelow(room, hi.Z), lo.Z)
	s.paint(g, w, ring)
	if len(ring) >= 3 {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(ring)}, Pen: draw.Pen{Ink: draw.Ground, Width: 1}})
	}
}

// clipAbove returns the part of a polygon that lies at or above z.
func clipAbove(ps []Point, z float64) []Point {
	turned := make([]Point, len(ps))
	for i, p := range ps {
		turned[i] = Point{p.X, -p.Z}
	}
	out := clipBelow(turned, -z)
	for i := range out {
		out[i].Z = -out[i].Z
	}
	return out
}

// warmDrum draws a drum, its water in layers of what is painted over it, its head space empty.
func (s *sectionSheet) warmDrum(g *draw.Group, d Drum) {
	g.Add(&draw.Area{Rings: [][]draw.Point{model(d.outline())}, Fill: draw.Ground})
	water := d.water()
	lo, hi := bounds(d.outline())
	for _, w := range s.in.Warm {
		if w.Kind != Store || water == nil {
			continue
		}
		a, b := bounds(w.Outline)
		if b.X <= lo.X || a.X >= hi.X {
			continue
		}
		s.paint(g, w, clipAbove(clipBelow(water, b.Z), a.Z))
	}
	if water != nil {
		_, top := bounds(water)
		g.Add(&draw.Line{Points: model([]Point{{lo.X, top.Z}, {hi.X, top.Z}}), Pen: draw.Pen{Ink: draw.Ink, Width: 1}})
	}
	tip := d.Name + ", filled to " + figure(d.Filled*100, 0) + " %"
	pen := draw.Pen{Ink: draw.Water, Width: 2}
	if d.Radius > 0 {
		g.Add(&draw.Circle{Center: draw.Point{X: d.Center.X, Y: d.Center.Z}, Radius: d.Radius, Pen: pen, Tip: tip})
		return
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{model(d.outline())}, Pen: pen, Tip: tip})
}

// plants draws leaves from the soil to their tips within the outline's box.
func (s *sectionSheet) plants(g *draw.Group, w Warm) {
	fill, hatch, ink := paintOf(w.LowestC)
	if fill == draw.None {
		return
	}
	lo, hi := bounds(w.Outline)
	height := hi.Z - lo.Z
	n := max(1, int(math.Round((hi.X-lo.X)/(height*1.1+1e-9))))
	n = min(n, 8)
	tip := w.Name + ", lowest " + s.p.u.temp(w.LowestC)
	for k := range n {
		step := (hi.X - lo.X) / float64(n)
		foot := Point{lo.X + (float64(k)+0.5)*step, lo.Z}
		reach := min(step*0.42, height*0.7)
		for _, lean := range []float64{-1, 1, 0} {
			top := Point{foot.X + lean*reach, lo.Z + height*(1-0.28*math.Abs(lean))}
			g.Add(&draw.Area{Rings: [][]draw.Point{model(leafShape(foot, top, 0.3))}, Pen: draw.Pen{Ink: draw.Ground, Width: 4}},
				&draw.Area{Rings: [][]draw.Point{model(leafShape(foot, top, 0.3))}, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: draw.Leaf, Width: 1.25}, Tip: tip},
				&draw.Line{Points: model([]Point{foot, along(foot, top, 0.75)}), Pen: draw.Pen{Ink: draw.Leaf, Width: 0.75}})
		}
	}
}

// leafShape is a leaf from foot to tip, as wide as a share of its length, bent a little outward.
func leafShape(foot, tip Point, wide float64) []Point {
	dx, dz := tip.X-foot.X, tip.Z-foot.Z
	var left, right []Point
	for i := range 9 {
		t := float64(i) / 8
		half := wide / 2 * math.Sin(math.Pi*math.Pow(t, 0.8))
		bend := -0.12 * math.Copysign(1, dx) * math.Sin(math.Pi*t)
		if dx == 0 {
			bend = 0
		}
		c := Point{foot.X + t*dx - bend*dz, foot.Z + t*dz + bend*dx*0.3}
		left, right = append(left, Point{c.X - half*dz, c.Z + half*dx}), append(right, Point{c.X + half*dz, c.Z - half*dx})
	}
	for i := len(right) - 2; i > 0; i-- {
		left = append(left, right[i])
	}
	return left
}

// faceBand paints the inner side of a face as a band along it, within the room.
func (s *sectionSheet) faceBand(g *draw.Group, w Warm) {
	a, b := w.Outline[0], w.Outline[1]
	l := math.Hypot(b.X-a.X, b.Z-a.Z)
	if l == 0 {
		return
	}
	n := s.outward(Face{A: a, B: b}) // the outline runs as its face does
	d := -faceBand / s.p.l.Scale
	in := min(faceBand/s.p.l.Scale, l/3) / l // the ends run in, so that neighbours meet at a mitre
	p, q := along(a, b, in), along(a, b, 1-in)
	s.paint(g, w, []Point{a, b, {q.X + n.X*d, q.Z + n.Z*d}, {p.X + n.X*d, p.Z + n.Z*d}})
}
