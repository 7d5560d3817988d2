package drawing

import (
	"fmt"

	"suncellar/internal/draw"
)

// Pane is a glazed part of an opaque face, seen in the section; it runs as its face does. Where in the face it sits may not be known: it is drawn dashed.
type Pane struct {
	Name  string
	A, B  Point
	Depth float64 // of the wall that it goes through [m]
}

func (w Pane) check() error {
	if !finite(w.A.X, w.A.Z, w.B.X, w.B.Z) || w.A == w.B || !(w.Depth >= 0 && w.Depth < 20) {
		return fmt.Errorf("section: window %q from (%g, %g) to (%g, %g) m, %g m deep, must be finite, have a length and be 0 to 20 m deep", w.Name, w.A.X, w.A.Z, w.B.X, w.B.Z, w.Depth)
	}
	return nil
}

// windows draws openings through the walls, over their layers.
func (s *sectionSheet) windows() {
	if len(s.in.Windows) == 0 {
		return
	}
	g := &draw.Group{Class: "windows"}
	for _, w := range s.in.Windows {
		n := s.outward(Face{A: w.A, B: w.B})
		d := max(w.Depth, s.paneDepth())
		out := func(p Point) Point { return Point{p.X + n.X*d, p.Z + n.Z*d} }
		g.Add(&draw.Area{Rings: [][]draw.Point{model([]Point{w.A, w.B, out(w.B), out(w.A)})}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1, Dash: []float64{4, 3}}, Tip: w.Name})
	}
	s.p.l.Add(g)
}

// lets are the faces that sun comes in by: panes, and windows in others.
func (s *sectionSheet) lets() []Face {
	var list []Face
	for _, f := range s.in.Faces {
		if f.Glazing {
			list = append(list, f)
		}
	}
	for _, w := range s.in.Windows {
		list = append(list, Face{A: w.A, B: w.B, Name: w.Name, Glazing: true})
	}
	return list
}
