package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Handle is something of a section that can be taken hold of and moved, so that a value of the plan changes.
type Handle struct {
	Kind string // "corner", "edge", "bed", "row", "sink", "board", "layer", "cover"
	Name string // in words: "front bed, its top"
	Part string // path of the part of the plan that it belongs to: "beds[0]"
	At   Point  // [m]
	Ways []Way  // in which it can be moved; none: it can be taken hold of, but has no place of its own in the plan
}

// Way is a straight line along which a handle moves when values of the plan change.
type Way struct {
	Along Point // unit vector: the way the handle goes for a drag of more than 0
	Sets  []Set // what changes with it, all at once
}

// Set is one value of the plan and how it follows a drag.
//
// Either it is a length or a resistance that follows in proportion, or, with About, the slope of the line from there to the handle [rad].
type Set struct {
	Path       string
	Value      float64 // now [m, rad or m²K/W]
	PerMetre   float64 // what it gains for a drag of a metre; of a slope at the start
	About      *Point  // nil: a length or a resistance
	Resistance bool    // a thermal resistance, drawn as thick as a common insulation of it would be
	Lo, Hi     float64 // allowed [m, rad or m²K/W]
}

// Setting is one value of the plan set otherwise.
type Setting struct {
	Path       string
	Value      float64 // [m, rad or m²K/W]
	Slope      bool    // an angle [rad]
	Resistance bool    // [m²K/W]; neither: a length [m]
}

// Drag returns what the plan has to say for the handle to be d metres further along the way. What is allowed is not asked.
func (h Handle) Drag(w Way, d float64) []Setting {
	out := make([]Setting, len(w.Sets))
	for i, s := range w.Sets {
		out[i] = Setting{Path: s.Path, Value: s.Value + s.PerMetre*d, Resistance: s.Resistance}
		if s.About != nil {
			out[i].Value, out[i].Slope = slopeFrom(*s.About, Point{h.At.X + w.Along.X*d, h.At.Z + w.Along.Z*d}), true
		}
	}
	return out
}

// slopeFrom is the angle from level of the line from a to b, whichever way it runs [rad].
func slopeFrom(a, b Point) float64 { return math.Atan2(b.Z-a.Z, math.Abs(b.X-a.X)) }

// Slope returns the set of a slope about a point, with what it gains at the start. A handle on the point itself has none.
func (h Handle) Slope(path string, about, along Point, lo, hi float64) Set {
	dx, dz := math.Abs(h.At.X-about.X), h.At.Z-about.Z
	out := math.Copysign(1, h.At.X-about.X)
	return Set{Path: path, Value: slopeFrom(about, h.At), About: &about, Lo: lo, Hi: hi,
		PerMetre: (along.Z*dx - along.X*out*dz) / (dx*dx + dz*dz)}
}

// String writes the setting as a change of a plan: "shape.depth=1.25 m". It is written in full, so that nothing is lost; a reader
// may want it rounded first.
func (s Setting) String() string {
	if s.Slope {
		return fmt.Sprintf("%s=%s deg", s.Path, plainNumber(s.Value*180/math.Pi))
	}
	unit := "m"
	if s.Resistance {
		unit = "m2K/W"
	}
	return fmt.Sprintf("%s=%s %s", s.Path, plainNumber(s.Value), unit)
}

// plainNumber writes a number without an exponent, as a plan reads it.
func plainNumber(v float64) string {
	if v == 0 {
		return "0"
	}
	return trimmed(fmt.Sprintf("%.12f", v))
}

// Grips are the handles of a section at their places on its picture.
type Grips struct {
	MetresPerPixel float64    // of the picture as it was laid out, both ways
	Origin         draw.Point // where x = 0, z = 0 lies [px, y downward]
	Grips          []Grip
}

// Grip is a handle on a picture.
type Grip struct {
	Handle
	Px draw.Point // [px, y downward]
}

// GripsOn finds handles on the picture of their section, which DrawSection or DrawSectionResult made. A pixel (x, y) lies at
// ((x - Origin.X), (Origin.Y - y)) times MetresPerPixel. A drag of (dx, dy) pixels is, along a way, (dx Along.X - dy Along.Z) times
// MetresPerPixel metres; where a handle has two ways a free drag is (a, b) metres along them, by solving a w1 + b w2 = drag.
//
// Errors: a handle whose place or way is not finite, or whose way is no unit vector.
func GripsOn(l *draw.List, handles []Handle) (Grips, error) {
	zero, one := l.Paper(draw.Point{}), l.Paper(draw.Point{X: 1})
	g := Grips{MetresPerPixel: 1 / (one.X - zero.X), Origin: zero}
	for _, h := range handles {
		if !finite(h.At.X, h.At.Z) {
			return Grips{}, fmt.Errorf("handle %q: position (%g, %g) m, must be finite", h.Name, h.At.X, h.At.Z)
		}
		for _, w := range h.Ways {
			if n := math.Hypot(w.Along.X, w.Along.Z); !(math.Abs(n-1) < 1e-9) || len(w.Sets) == 0 {
				return Grips{}, fmt.Errorf("handle %q: way (%g, %g) with %d values, must be of length 1 with one or more", h.Name, w.Along.X, w.Along.Z, len(w.Sets))
			}
		}
		g.Grips = append(g.Grips, Grip{h, l.Paper(draw.Point{X: h.At.X, Y: h.At.Z})})
	}
	return g, nil
}

// Metres returns how far a drag on paper goes along a way [m].
func (g Grips) Metres(w Way, dx, dy float64) float64 {
	return (dx*w.Along.X - dy*w.Along.Z) * g.MetresPerPixel
}

// AddGrips draws handles over their section: a small square, with a stroke to each way it can be moved. A page that draws its own
// leaves them out.
func AddGrips(l *draw.List, g Grips) {
	group := &draw.Group{Class: "handles"}
	for _, h := range g.Grips {
		at := func(x, y float64) draw.Point { return l.Model(draw.Point{X: h.Px.X + x, Y: h.Px.Y + y}) }
		for _, w := range h.Ways {
			for _, sign := range []float64{-1, 1} {
				ux, uy := sign*w.Along.X, -sign*w.Along.Z
				group.Add(&draw.Line{Points: []draw.Point{at(5*ux, 5*uy), at(13*ux, 13*uy)}, Pen: draw.Pen{Ink: draw.Ground, Width: 4}},
					&draw.Line{Points: []draw.Point{at(5*ux, 5*uy), at(13*ux, 13*uy)}, Pen: draw.Pen{Ink: draw.Ink, Width: 1.25}},
					&draw.Area{Rings: [][]draw.Point{{at(15*ux, 15*uy), at(10*ux-3*uy, 10*uy+3*ux), at(10*ux+3*uy, 10*uy-3*ux)}}, Fill: draw.Ink})
			}
		}
		group.Add(&draw.Area{Rings: [][]draw.Point{{at(-4, -4), at(4, -4), at(4, 4), at(-4, 4)}}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}, Tip: h.Name})
	}
	l.Add(group)
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
