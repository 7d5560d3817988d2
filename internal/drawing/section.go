package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Point is a position in the cross-section: X across, Z up, both from the
// same origin as the levels [m].
type Point struct{ X, Z float64 }

// Section is the cross-section of a house, to be drawn to scale.
type Section struct {
	Title    string
	Sentence string // what it is, in one sentence; may be empty
	Faces    []Face // the inside outline, edge by edge, each starting where the last ended
	Grade    []Point
	Seams    []Level // lower edges of the soil's layers, from grade down, each named by what lies above it
	Footings []Strip // in the ground, under walls and drums
	Beds     []Part  // soil to grow in
	Drums    []Drum
	Sinks    []Part // low trenches; drawn as open ground, named
	Spans    []Span
	Levels   []Level
	Rays     []Ray
	SunRight bool // the sun stands at the right of the picture; otherwise at its left
	Places   []Place
	Boards   []Strip // insulation in the ground round the house
	Cover    *Cover  // movable insulation on the glazing; nil: none
	Windows  []Pane

	// Snow as it lay.
	SnowM     float64 // deepest on the glazing [m]
	SnowByM   float64 // deepest on the ground beside the house [m]
	SnowWords string  // "deepest in the winter"; may be empty

	// Of a result, for DrawSectionResult.
	Warm []Warm // what is coloured, drawn in order
}

// Warm is a part of the section with its lowest value, painted in the colours of the temperature scale.
type Warm struct {
	Name    string
	Kind    Kind    // Leaf: plants in the box round the outline; Glazing, Other: the inner side of a face, an outline of two points; else an area
	Outline []Point // [m]
	LowestC float64 // [°C]; NaN: no result, not painted
}

// Face is one edge of the inside outline, from A to B.
type Face struct {
	A, B    Point
	Name    string
	Glazing bool    // let light through: drawn as a sheet
	Build   []Layer // from inside outward; a glazing needs none
}

// Layer is one layer of a face.
type Layer struct {
	Name      string
	Hatch     draw.Hatch // draw.Board, draw.Concrete, draw.Gravel, draw.TimberHatch, draw.Soil
	Thickness float64    // above 0 [m]
	Told      string     // what is said of it in place of its thickness; may be empty
}

// Part is a named polygon.
type Part struct {
	Name    string
	Outline []Point
}

// Strip is a named polygon of one material.
type Strip struct {
	Part
	Hatch draw.Hatch
}

// Drum is a vessel of water seen from its end (Radius) or from its side
// (Width and Height), filled to a share of its height.
type Drum struct {
	Name          string
	Center        Point
	Radius        float64 // [m]; 0: a rectangle
	Width, Height float64 // [m]; of the rectangle
	Filled        float64 // 0 to 1
}

// Span is a dimension from A to B: written below the section where it is
// measured across, at the left where it is measured up.
type Span struct {
	A, B    Point
	Upright bool
}

// Level is a height worth a mark at the right.
type Level struct {
	Z    float64 // [m]
	Name string
}

// Ray is the sun on one day at noon, in the plane of the section.
type Ray struct {
	Name    string  // "21 December"
	Degrees float64 // above the horizon, more than 0 and less than 90
	Dashed  bool
}

// Place is a spot with a name, and with a lowest value when there are results.
type Place struct {
	At      Point
	Label   string
	LowestC float64 // [°C]; NaN: no result
}

// DrawSection draws the section: ground, builds, glazing with its cover and what
// snow lay, beds, drums filled to their level, sun rays as far as they reach, dimensions, levels, and the
// places with their lowest values in the colours of the temperature scale. The
// list is in metres, y up, so that other writers keep the scale.
//
// Errors: fewer than three faces, faces that do not join, a thickness, drum,
// ray or share outside what its field allows, a position not finite.
func DrawSection(in Section, f Frame) (*draw.List, error) {
	p, err := newPage("section", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	s := newSectionSheet(p, in)
	s.ground()
	s.footings()
	s.builds()
	s.windows()
	s.inside()
	s.cover()
	s.snow()
	s.rays()
	s.levels()
	s.spans()
	s.places()
	s.scaleBar()
	s.lists()
	return p.finish(), nil
}

func (in Section) check() error {
	if len(in.Faces) < 3 {
		return fmt.Errorf("section: %d faces, must be 3 or more", len(in.Faces))
	}
	for i, f := range in.Faces {
		next := in.Faces[(i+1)%len(in.Faces)]
		if math.Hypot(f.B.X-next.A.X, f.B.Z-next.A.Z) > 1e-6 || f.A == f.B {
			return fmt.Errorf("section: face %q ends at (%g, %g) m, must end where face %q starts, (%g, %g) m, and have a length",
				f.Name, f.B.X, f.B.Z, next.Name, next.A.X, next.A.Z)
		}
		for _, l := range f.Build {
			if !(l.Thickness > 0) || math.IsInf(l.Thickness, 0) {
				return fmt.Errorf("section: face %q, layer %q: thickness %g m, must be above 0", f.Name, l.Name, l.Thickness)
			}
		}
	}
	for _, d := range in.Drums {
		if !(d.Filled >= 0 && d.Filled <= 1) || !(d.Radius > 0 || d.Width > 0 && d.Height > 0) {
			return fmt.Errorf("section: drum %q: filled %g, radius %g m, %g by %g m, must be 0 to 1 and above 0", d.Name, d.Filled, d.Radius, d.Width, d.Height)
		}
	}
	for _, r := range in.Rays {
		if !(r.Degrees > 0 && r.Degrees < 90) {
			return fmt.Errorf("section: ray %q: %g°, must be more than 0 and less than 90", r.Name, r.Degrees)
		}
	}
	if err := in.Cover.check(); err != nil {
		return err
	}
	for _, w := range in.Windows {
		if err := w.check(); err != nil {
			return err
		}
	}
	return in.checkPoints()
}

func (in Section) checkPoints() error {
	ps := in.corners()
	for _, pl := range in.Places {
		ps = append(ps, pl.At)
		if math.IsInf(pl.LowestC, 0) {
			return fmt.Errorf("section: place %q: lowest is infinite, must be finite or none", pl.Label)
		}
	}
	for _, sp := range in.Spans {
		ps = append(ps, sp.A, sp.B)
	}
	for _, w := range in.Warm {
		ps = append(ps, w.Outline...)
		if math.IsInf(w.LowestC, 0) || len(w.Outline) < 2 {
			return fmt.Errorf("section: %q: lowest %g °C of %d corners, must be finite or none, of 2 or more", w.Name, w.LowestC, len(w.Outline))
		}
	}
	if !(in.SnowM >= 0 && in.SnowM < 20 && in.SnowByM >= 0 && in.SnowByM < 20) {
		return fmt.Errorf("section: snow %g m and %g m, must be 0 to 20", in.SnowM, in.SnowByM)
	}
	for _, l := range append(append([]Level{}, in.Levels...), in.Seams...) {
		ps = append(ps, Point{0, l.Z})
	}
	for _, q := range ps {
		if math.IsNaN(q.X+q.Z) || math.IsInf(q.X+q.Z, 0) {
			return fmt.Errorf("section: position (%g, %g) m, must be finite", q.X, q.Z)
		}
	}
	return nil
}

// corners returns all positions of what is drawn to scale.
func (in Section) corners() []Point {
	var ps []Point
	for _, f := range in.Faces {
		ps = append(ps, f.A)
	}
	ps = append(ps, in.Grade...)
	for _, b := range append(append([]Part{}, in.Beds...), in.Sinks...) {
		ps = append(ps, b.Outline...)
	}
	for _, f := range append(append([]Strip{}, in.Footings...), in.Boards...) {
		ps = append(ps, f.Outline...)
	}
	for _, d := range in.Drums {
		ps = append(ps, d.outline()...)
	}
	return ps
}

// outline returns the corners of a drum, a circle as 32 of them.
func (d Drum) outline() []Point {
	if d.Radius > 0 {
		ps := make([]Point, 32)
		for i := range ps {
			sin, cos := math.Sincos(float64(i) * math.Pi / 16)
			ps[i] = Point{d.Center.X + d.Radius*cos, d.Center.Z + d.Radius*sin}
		}
		return ps
	}
	w, h := d.Width/2, d.Height/2
	return []Point{{d.Center.X - w, d.Center.Z - h}, {d.Center.X + w, d.Center.Z - h}, {d.Center.X + w, d.Center.Z + h}, {d.Center.X - w, d.Center.Z + h}}
}

// water returns the filled part of a drum; nil for an empty one.
func (d Drum) water() []Point {
	half := d.Height / 2
	if d.Radius > 0 {
		half = d.Radius
	}
	top := d.Center.Z - half + 2*half*d.Filled
	return clipBelow(d.outline(), top)
}

// clipBelow returns the part of a convex polygon that lies at or below z.
func clipBelow(ps []Point, z float64) []Point {
	var out []Point
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		if a.Z <= z {
			out = append(out, a)
		}
		if (a.Z < z) != (b.Z < z) && a.Z != b.Z {
			t := (z - a.Z) / (b.Z - a.Z)
			out = append(out, Point{a.X + t*(b.X-a.X), z})
		}
	}
	if len(out) < 3 {
		return nil
	}
	return out
}
