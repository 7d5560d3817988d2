package drawing

import (
	"cmp"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// warmLabels names every place with its value: in columns at both sides of a wide sheet, each joined to its spot, by number on a narrow one.
func (s *sectionSheet) warmLabels() {
	g := &draw.Group{Class: "places"}
	if s.p.narrow {
		for i, pl := range s.in.Places {
			s.number(g, pl, i+1)
		}
		s.p.l.Add(g, s.names)
		return
	}
	left, right := s.shared()
	bottom := max(s.column(g, left, margin, s.frame.Min.X-14, draw.End), s.column(g, right, s.frame.Max.X+14, s.p.w-margin, draw.Start))
	s.p.l.Add(g, s.names)
	s.p.y = max(s.p.y, bottom)
}

// shared parts the places between the columns: by side, but so that neither has two more than the other.
func (s *sectionSheet) shared() (left, right []Place) {
	all := slices.Clone(s.in.Places)
	slices.SortStableFunc(all, func(a, b Place) int { return cmp.Compare(a.At.X, b.At.X) })
	half := (len(all) + 1) / 2
	return all[:half], all[half:]
}

// column writes labels between x0 and x1 [px], in the order of their heights, and returns where it ends.
func (s *sectionSheet) column(g *draw.Group, places []Place, x0, x1 float64, anchor draw.Anchor) float64 {
	edge, x := x1+4, x1
	if anchor == draw.Start {
		edge, x = x0-4, x0
	}
	slices.SortStableFunc(places, func(a, b Place) int { return cmp.Compare(b.At.Z, a.At.Z) })
	ys, lines := s.stacked(places, x1-x0)
	for range places {
		if !s.untangle(places, ys, edge) {
			break
		}
		ys, lines = s.stacked(places, x1-x0)
	}
	bottom := 0.0
	for i, y := range ys {
		pl, q := places[i], s.paper(places[i].At)
		value := y + (float64(len(lines[i]))/2-0.5)*15
		if len(s.values(pl)) == 0 {
			value = y
		}
		s.leader(g, edge, value, q)
		s.dot(g, pl, q)
		for k, line := range lines[i] {
			w := words{anchor: anchor, lift: draw.Center, ink: draw.Ink2}
			if k == len(lines[i])-1 && len(s.values(pl)) > 0 {
				w.ink, w.bold = draw.Ink, true
			}
			s.names.Add(s.p.text(x, y+(float64(k)-float64(len(lines[i])-1)/2)*15, line, w))
		}
		bottom = max(bottom, y+float64(len(lines[i]))*7.5+5)
	}
	return bottom
}

// stacked gives the words of places and the heights of their middles in a column, in their order, near where they lie.
func (s *sectionSheet) stacked(places []Place, width float64) (ys []float64, lines [][]string) {
	lines = make([][]string, len(places))
	want, height := make([]float64, len(places)), make([]float64, len(places))
	for i, pl := range places {
		lines[i] = append(wrap(pl.Label, sizeText, false, width), s.values(pl)...)
		want[i], height[i] = s.paper(pl.At).Y, float64(len(lines[i]))*15+9
	}
	slices.Sort(want) // the order is that of the places, whatever their heights
	return spread(want, height, s.frame.Min.Y, s.frame.Max.Y), lines
}

// untangle lets neighbours whose leaders would cross change places, and tells whether any did.
func (s *sectionSheet) untangle(places []Place, ys []float64, edge float64) bool {
	any := false
	for i := 1; i < len(places); i++ {
		if crossed(draw.Point{X: edge, Y: ys[i-1]}, s.paper(places[i-1].At), draw.Point{X: edge, Y: ys[i]}, s.paper(places[i].At)) {
			places[i-1], places[i] = places[i], places[i-1]
			any = true
		}
	}
	return any
}

// crossed tells whether the lines from a to b and from c to d cross.
func crossed(a, b, c, d draw.Point) bool {
	side := func(p, q, r draw.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// leader joins a label to its spot: level out of the column, then straight; a rim keeps it off what it crosses.
func (s *sectionSheet) leader(g *draw.Group, x, y float64, q draw.Point) {
	knee := x + math.Copysign(10, q.X-x)
	for _, pen := range []draw.Pen{{Ink: draw.Ground, Width: 3}, {Ink: draw.Ink, Width: 0.75}} {
		g.Add(s.p.line(pen, x, y, knee, y, q.X, q.Y))
	}
}

// dot marks the spot of a place in its colour.
func (s *sectionSheet) dot(g *draw.Group, pl Place, q draw.Point) {
	fill, hatch, ink := paintOf(pl.LowestC)
	if fill == draw.None {
		fill = draw.Ground
	}
	c := s.p.l.Model(q)
	g.Add(&draw.Circle{Center: c, Radius: 6 / s.p.l.Scale, Fill: draw.Ground},
		&draw.Circle{Center: c, Radius: 4.5 / s.p.l.Scale, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: draw.Ink, Width: 1.25}, Tip: s.said(pl)})
}
