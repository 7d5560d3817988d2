package drawing

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// FloorPlan is a house seen from above. Across counts from the inside of the front wall to the back, along from the inside of the left end
// to the right, both at the floor; left is the left hand of somebody inside who looks out through the glazing [m].
type FloorPlan struct {
	Title, Sentence          string
	Length, Width            float64 // inside [m]
	Front, Back, Left, Right []Layer // walls, from inside outward
	Facing                   float64 // compass direction the glazing looks, clockwise from north [degrees]
	Beds                     []PlanBed
	Sinks                    []PlanBed // low trenches
	Drums                    []PlanDrum
	Openings                 []Opening
	Overhead                 []Level  // edges above, such as the ridge; Z is how far across
	Notes                    []string // below the picture
}

// PlanBed is a bed or trench that runs along the whole house.
type PlanBed struct {
	Name     string
	From, To float64   // across [m]
	Strips   []float64 // borders between its strips, across [m]
}

// PlanDrum is a drum, or a stack of drums.
type PlanDrum struct {
	Name          string  // the same of a whole row
	Across, Along float64 // its middle [m]
	Diameter      float64 // [m]
}

// OpeningKind says how an opening is drawn.
type OpeningKind int

// Kinds of openings.
const (
	Door OpeningKind = iota
	Window
	Vent
)

// Opening is a door, window or vent in a wall.
type Opening struct {
	Name  string
	Kind  OpeningKind
	Wall  Wall
	At    float64 // its middle, across in an end wall, along in front or back [m]
	Width float64 // [m]
}

// Wall is one side of the house.
type Wall int

// Walls.
const (
	FrontWall Wall = iota
	BackWall
	LeftEnd
	RightEnd
)

// DrawFloorPlan draws the house from above to scale, its front at the lower side: walls with their layers, beds with their strips, drums, cold
// sink, doors, vents and windows, what lies overhead, dimensions, and where north is.
//
// Errors: a size not above 0 or above 1000 m, a position not finite, a bed that ends before it begins.
func DrawFloorPlan(in FloorPlan, f Frame) (*draw.List, error) {
	p, err := newPage("floor-plan", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	p.heading(in.Title, in.Sentence)
	s := newPlanSheet(p, in)
	s.walls()
	s.floor()
	s.drums()
	s.openings()
	s.overhead()
	s.chain()
	s.lengths()
	s.compass()
	s.names()
	s.notes()
	return p.finish(), nil
}

func (in FloorPlan) check() error {
	if !(in.Length > 0 && in.Length <= 1000 && in.Width > 0 && in.Width <= 1000) || !finite(in.Facing) {
		return fmt.Errorf("floor plan: %g by %g m facing %g°, must be above 0 and at most 1000 m, and finite", in.Length, in.Width, in.Facing)
	}
	for _, w := range [][]Layer{in.Front, in.Back, in.Left, in.Right} {
		for _, l := range w {
			if !(l.Thickness > 0 && l.Thickness < 100) {
				return fmt.Errorf("floor plan: layer %q: thickness %g m, must be above 0 and below 100", l.Name, l.Thickness)
			}
		}
	}
	for _, b := range append(append([]PlanBed{}, in.Beds...), in.Sinks...) {
		if !(b.From < b.To) || !finite(append([]float64{b.From, b.To}, b.Strips...)...) {
			return fmt.Errorf("floor plan: %q from %g to %g m, must be finite and end after it begins", b.Name, b.From, b.To)
		}
	}
	for _, d := range in.Drums {
		if !finite(d.Across, d.Along) || !(d.Diameter > 0 && d.Diameter < 100) {
			return fmt.Errorf("floor plan: drum %q at %g, %g m of %g m, must be finite and above 0", d.Name, d.Across, d.Along, d.Diameter)
		}
	}
	for _, o := range in.Openings {
		if !finite(o.At) || !(o.Width > 0 && o.Width <= 1000) || o.Wall < FrontWall || o.Wall > RightEnd {
			return fmt.Errorf("floor plan: %q at %g m, %g m wide, must be finite and above 0, in one of four walls", o.Name, o.At, o.Width)
		}
	}
	for _, l := range in.Overhead {
		if !finite(l.Z) {
			return fmt.Errorf("floor plan: %q at %g m, must be finite", l.Name, l.Z)
		}
	}
	return nil
}

func thick(layers []Layer) float64 { return Face{Build: layers}.thickness() }

// planSheet is a floor plan under way: paper pixels to a metre, and where the inside of the house lies.
type planSheet struct {
	p        *page
	in       FloorPlan
	scale    float64   // [px/m]
	room     draw.Rect // inside of the walls [px]
	free     *placer
	front    float64 // where the name of the front stands [px]
	labels   *draw.Group
	numbered []string
}

// planAbove is the room above the plan for the north arrow and the name of the back [px].
const planAbove = 62.0

func newPlanSheet(p *page, in FloorPlan) *planSheet {
	s := &planSheet{p: p, in: in, labels: &draw.Group{Class: "names"}}
	var figures []string
	for i, b := range s.borders() {
		if i > 0 {
			figures = append(figures, p.u.Length(b-s.borders()[i-1]))
		}
	}
	left := margin + widest(append(figures, p.u.Length(in.Width)), sizeText) + 30
	right := margin + 30
	long, across := in.Length+thick(in.Left)+thick(in.Right), in.Width+thick(in.Front)+thick(in.Back)
	swingL, swingR := s.swing(RightEnd), s.swing(LeftEnd) // on paper the left end is at the right
	s.scale = min((p.w-left-right)/(long+swingL+swingR), 1.1*p.w/across, 160)
	x0 := left + (thick(in.Right)+swingL)*s.scale + (p.w-left-right-(long+swingL+swingR)*s.scale)/2
	y0 := p.y + planAbove + (thick(in.Back)+s.swing(BackWall))*s.scale
	s.room = draw.Rect{Min: draw.Point{X: x0, Y: y0}, Max: draw.Point{X: x0 + in.Length*s.scale, Y: y0 + in.Width*s.scale}}
	s.free = &placer{room: s.room.Grow(-1)}
	return s
}

// borders are the positions across where something begins or ends, from the front, none twice.
func (s *planSheet) borders() []float64 {
	list := []float64{0, s.in.Width}
	for _, b := range append(append([]PlanBed{}, s.in.Beds...), s.in.Sinks...) {
		list = append(list, b.From, b.To)
	}
	return distinct(list, 0, s.in.Width, 0.005)
}

// x and y are where something lies on paper: the front is below, the left end at the right.
func (s *planSheet) x(along float64) float64  { return s.room.Max.X - along*s.scale }
func (s *planSheet) y(across float64) float64 { return s.room.Max.Y - across*s.scale }

// corners are the inner and outer corners of the house on paper: front right, front left, back left, back right of somebody who looks out.
func (s *planSheet) corners() (inner, outer [4]draw.Point) {
	l, w, k := s.in.Length, s.in.Width, s.scale
	inner = [4]draw.Point{{X: s.x(l), Y: s.y(0)}, {X: s.x(0), Y: s.y(0)}, {X: s.x(0), Y: s.y(w)}, {X: s.x(l), Y: s.y(w)}}
	f, b, e, r := thick(s.in.Front)*k, thick(s.in.Back)*k, thick(s.in.Left)*k, thick(s.in.Right)*k
	outer = [4]draw.Point{{X: inner[0].X - r, Y: inner[0].Y + f}, {X: inner[1].X + e, Y: inner[1].Y + f}, {X: inner[2].X + e, Y: inner[2].Y - b}, {X: inner[3].X - r, Y: inner[3].Y - b}}
	return inner, outer
}

// walls draws the layers of the four walls, mitred, and the line of the room.
func (s *planSheet) walls() {
	g := &draw.Group{Class: "walls"}
	inner, outer := s.corners()
	for i, side := range []struct {
		name   string
		layers []Layer
	}{{"front wall", s.in.Front}, {"left end", s.in.Left}, {"back wall", s.in.Back}, {"right end", s.in.Right}} {
		a, b, c, d := inner[i], inner[(i+1)%4], outer[(i+1)%4], outer[i]
		t, from := thick(side.layers), 0.0
		for _, l := range side.layers {
			to := from + l.Thickness
			g.Add(&draw.Area{Rings: [][]draw.Point{{between(a, d, from/t), between(b, c, from/t), between(b, c, to/t), between(a, d, to/t)}},
				Fill: draw.Ground, Hatch: l.Hatch, HatchInk: draw.Ink2, Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: side.name + ": " + l.Name + ", " + s.p.u.Length(l.Thickness)})
			from = to
		}
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{outer[:]}, Pen: draw.Pen{Ink: draw.Ink, Width: 2}},
		&draw.Area{Rings: [][]draw.Point{inner[:]}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 2}})
	s.p.l.Add(g)
}

func between(a, b draw.Point, t float64) draw.Point {
	return draw.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
}

// floor draws trenches, beds and the borders of their strips.
func (s *planSheet) floor() {
	g := &draw.Group{Class: "floor", Clip: &draw.Rect{Min: s.room.Min, Max: s.room.Max}}
	strip := func(b PlanBed) []draw.Point {
		return s.p.box(s.room.Min.X, s.y(b.To), s.room.Width(), (b.To-b.From)*s.scale)
	}
	said := func(b PlanBed) string {
		return fmt.Sprintf("%s, %s to %s from the front wall", b.Name, s.p.u.Length(b.From), s.p.u.Length(b.To))
	}
	for _, b := range s.in.Sinks {
		g.Add(&draw.Area{Rings: [][]draw.Point{strip(b)}, Fill: draw.Ground2, Pen: draw.Pen{Ink: draw.Frost, Width: 1.25, Dash: []float64{4, 3}}, Tip: said(b)})
	}
	for _, b := range s.in.Beds {
		g.Add(&draw.Area{Rings: [][]draw.Point{strip(b)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Leaf, Pen: draw.Pen{Ink: draw.Leaf, Width: 2}, Tip: said(b)})
		for _, z := range b.Strips {
			g.Add(s.p.line(draw.Pen{Ink: draw.Leaf, Width: 1.25, Dash: []float64{5, 4}}, s.room.Min.X, s.y(z), s.room.Max.X, s.y(z)))
		}
	}
	s.p.l.Add(g)
}

func (s *planSheet) drums() {
	g := &draw.Group{Class: "drums"}
	for _, d := range s.in.Drums {
		c := s.p.at(s.x(d.Along), s.y(d.Across))
		r := d.Diameter / 2 * s.scale
		g.Add(&draw.Circle{Center: c, Radius: r, Fill: draw.Ground, Hatch: draw.WaterHatch, HatchInk: draw.Water, Pen: draw.Pen{Ink: draw.Water, Width: 2}, Tip: d.Name})
		if r > 6 {
			g.Add(&draw.Circle{Center: c, Radius: r * 0.72, Pen: draw.Pen{Ink: draw.Water, Width: 0.75}})
		}
	}
	s.p.l.Add(g)
}

// overhead draws the edges above the room, dashed as what lies over a cut is.
func (s *planSheet) overhead() {
	g := &draw.Group{Class: "overhead"}
	for _, l := range s.in.Overhead {
		if l.Z > 0 && l.Z < s.in.Width {
			g.Add(s.dashed(s.room.Min.X, s.y(l.Z), s.room.Max.X, s.y(l.Z), l.Name+" above"))
		}
	}
	s.p.l.Add(g)
}

func (s *planSheet) dashed(x0, y0, x1, y1 float64, tip string) *draw.Line {
	l := s.p.line(draw.Pen{Ink: draw.Ink2, Width: 1, Dash: []float64{12, 3, 2, 3}}, x0, y0, x1, y1)
	l.Tip = tip
	return l
}

// distinct sorts positions within lo..hi and drops those nearer than so much to one before.
func distinct(list []float64, lo, hi, near float64) []float64 {
	sorted := append([]float64{}, list...)
	for i := range sorted {
		sorted[i] = math.Max(lo, math.Min(hi, sorted[i]))
	}
	slices.Sort(sorted)
	out := sorted[:1]
	for _, v := range sorted[1:] {
		if v-out[len(out)-1] > near {
			out = append(out, v)
		}
	}
	return out
}
