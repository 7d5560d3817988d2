package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// snow draws what lay on glazing and ground at the deepest: to scale, but never too thin to see.
func (s *sectionSheet) snow() {
	if s.in.SnowM <= 0 && s.in.SnowByM <= 0 {
		return
	}
	g := &draw.Group{Class: "snow"}
	lay := func(ring []Point, tip string) {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(ring)}, Fill: draw.OnDark, Hatch: draw.SnowHatch, HatchInk: draw.Cold3, Pen: draw.Pen{Ink: draw.Cold3, Width: 1, Dash: []float64{1.5, 2.5}}, Tip: tip})
	}
	words := ""
	if s.in.SnowWords != "" {
		words = ", " + s.in.SnowWords
	}
	if s.in.SnowM > 0 {
		d, off := max(s.in.SnowM, 5/s.p.l.Scale), 5/s.p.l.Scale+s.coverDepth()
		for _, f := range s.in.Faces {
			n := s.outward(f)
			if !f.Glazing || n.Z < 0.05 {
				continue
			}
			at := func(p Point, h float64) Point { return Point{p.X + n.X*h, p.Z + n.Z*h} }
			lay([]Point{at(f.A, off), at(f.B, off), at(along(f.B, f.A, 0.02), off+d), at(along(f.A, f.B, 0.02), off+d)},
				"snow on the glazing, "+s.p.u.Snow(s.in.SnowM)+words)
		}
	}
	if s.in.SnowByM > 0 && len(s.in.Grade) > 1 {
		d := max(s.in.SnowByM, 5/s.p.l.Scale)
		lo, hi := s.outerSides()
		for _, side := range [][]Point{s.gradeFrom(s.min.X, lo), s.gradeFrom(hi, s.max.X)} {
			if len(side) < 2 {
				continue
			}
			ring := append([]Point{}, side...)
			for i := len(side) - 1; i >= 0; i-- {
				ring = append(ring, Point{side[i].X, side[i].Z + d})
			}
			lay(ring, "snow on the ground, "+s.p.u.Snow(s.in.SnowByM)+words)
		}
	}
	s.p.l.Add(g)
}

// outerSides are the outer sides of the house at its widest [m].
func (s *sectionSheet) outerSides() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, f := range s.in.Faces {
		n, t := s.outward(f), f.thickness()
		for _, p := range []Point{f.A, f.B} {
			lo, hi = min(lo, p.X+min(0, n.X*t)), max(hi, p.X+max(0, n.X*t))
		}
	}
	return lo, hi
}

// gradeFrom is the surface of the ground between two positions across.
func (s *sectionSheet) gradeFrom(x0, x1 float64) []Point {
	if x1 <= x0 {
		return nil
	}
	ps := []Point{{x0, s.gradeAt(x0)}}
	for _, q := range s.in.Grade {
		if q.X > x0 && q.X < x1 {
			ps = append(ps, q)
		}
	}
	return append(ps, Point{x1, s.gradeAt(x1)})
}

// gradeAt is the height of the ground at a position across, level beyond its ends.
func (s *sectionSheet) gradeAt(x float64) float64 {
	g := s.in.Grade
	for i := 1; i < len(g); i++ {
		if a, b := g[i-1], g[i]; x >= a.X && x <= b.X && b.X > a.X {
			return along(a, b, (x-a.X)/(b.X-a.X)).Z
		}
	}
	if x < g[0].X {
		return g[0].Z
	}
	return g[len(g)-1].Z
}
