package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Cover is movable insulation on the glazing. It is drawn in its place, dashed, since it is there for a part of the time only.
type Cover struct {
	Name      string     // what it is and when it is drawn: "night cover of R-5, 16:00 to 08:00"
	Outside   bool       // which side of the glazing
	Thickness float64    // as it is drawn, above 0 [m]
	Panes     [][2]Point // what it covers: panes, or parts of a face where windows are; each runs as its face does
}

// leastCover is how thin a cover may be drawn [px].
const leastCover = 6.0

func (c *Cover) check() error {
	if c != nil && !(c.Thickness > 0 && c.Thickness < 5) {
		return fmt.Errorf("section: %q: thickness %g m, must be more than 0 and less than 5", c.Name, c.Thickness)
	}
	if c != nil {
		for _, p := range c.Panes {
			if !finite(p[0].X, p[0].Z, p[1].X, p[1].Z) || p[0] == p[1] {
				return fmt.Errorf("section: %q: a pane from (%g, %g) to (%g, %g) m, must be finite and have a length", c.Name, p[0].X, p[0].Z, p[1].X, p[1].Z)
			}
		}
	}
	return nil
}

// cover draws the cover along every pane, and keeps its name for below the picture.
func (s *sectionSheet) cover() {
	c := s.in.Cover
	if c == nil || len(c.Panes) == 0 {
		return
	}
	g := &draw.Group{Class: "cover"}
	from, to := 0.0, -max(c.Thickness, leastCover/s.p.l.Scale)
	if c.Outside {
		from = s.paneDepth()
		to = from - to
	}
	for _, p := range c.Panes {
		f := Face{A: p[0], B: p[1]}
		n := s.outward(f)
		at := func(p Point, d float64) Point { return Point{p.X + n.X*d, p.Z + n.Z*d} }
		// the ends run in where the cover hangs in the room, so that it does not pass through its neighbours
		in := math.Min(math.Abs(to), math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z)/3) / math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z)
		if c.Outside {
			in = 0
		}
		ring := []Point{at(f.A, from), at(f.B, from), at(along(f.B, f.A, in), to), at(along(f.A, f.B, in), to)}
		g.Add(&draw.Area{Rings: [][]draw.Point{model(ring)}, Fill: draw.Ground, Hatch: draw.Board, HatchInk: draw.Ink2, Pen: draw.Pen{Ink: draw.Ink, Width: 1, Dash: []float64{6, 3}}, Tip: c.Name})
	}
	s.p.l.Add(g)
	s.numbered = append(s.numbered, numberedRow{"", "dashed at the glazing: " + c.Name})
}

// paneDepth is how far off its face a pane's outer line is drawn [m].
func (s *sectionSheet) paneDepth() float64 { return 4 / s.p.l.Scale }

// coverDepth is how far off the glazing what lies on it begins, for a cover outside [m].
func (s *sectionSheet) coverDepth() float64 {
	if c := s.in.Cover; c != nil && c.Outside {
		return max(c.Thickness, leastCover/s.p.l.Scale)
	}
	return 0
}
