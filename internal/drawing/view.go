package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// View is a house as a block cut out of the ground, seen from a side and from above. Positions across and up are those of the section; along
// counts from the left end, the left hand of somebody inside who looks out through the glazing [m].
type View struct {
	Title, Sentence string
	Faces           []Face  // the inside outline, as of a Section
	Length          float64 // inside [m]
	Beds            []Part  // their outlines in the section; each runs along the house
	Drums           []ViewDrum
	GroundZ         float64 // height of the ground round it [m]
	Facing          float64 // compass direction the glazing looks, clockwise from north [degrees]
	Azimuth         float64 // from where it is seen, clockwise from straight before the glazing [degrees]; 0: from the front
	Elevation       float64 // how high the eye stands over the level [degrees], 5 to 85; 0 means 28
}

// ViewDrum is one upright drum.
type ViewDrum struct {
	Name          string
	Across, Along float64 // its middle [m]
	Base          float64 // its lower end, as heights of the section [m]
	Height        float64 // [m]
	Diameter      float64 // [m]
	Filled        float64 // 0 to 1
}

// DrawView draws the block in parallel projection: the earth and the house cut through at the nearer end and along the nearer side, so that
// one sees in; far walls, beds, drums with their water, glazing as the lines of its panes. What is cut away is dashed.
//
// Errors: as the faces of a section, a length not above 0 or above 1000 m, an angle or position not finite, a drum without size.
func DrawView(in View, f Frame) (*draw.List, error) {
	p, err := newPage("view", f)
	if err != nil {
		return nil, err
	}
	if in.Elevation == 0 {
		in.Elevation = 28
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	p.heading(in.Title, in.Sentence)
	v := newBlockView(p, in)
	v.surface()
	v.farFaces()
	v.contents()
	v.nearFaces()
	v.cutSide()
	v.cutEnd()
	v.north()
	v.names()
	return p.finish(), nil
}

func (in View) check() error {
	if err := (Section{Faces: in.Faces, Beds: in.Beds}).check(); err != nil {
		return fmt.Errorf("view: %w", err)
	}
	if !(in.Length > 0 && in.Length <= 1000) || !finite(in.GroundZ, in.Facing, in.Azimuth) || !(in.Elevation >= 5 && in.Elevation <= 85) {
		return fmt.Errorf("view: %g m long, ground at %g m, facing %g°, seen from %g° at %g°, must be finite, up to 1000 m long and seen at 5° to 85°", in.Length, in.GroundZ, in.Facing, in.Azimuth, in.Elevation)
	}
	for _, d := range in.Drums {
		if !finite(d.Across, d.Along, d.Base) || !(d.Height > 0 && d.Height < 100 && d.Diameter > 0 && d.Diameter < 100 && d.Filled >= 0 && d.Filled <= 1) {
			return fmt.Errorf("view: drum %q: %g by %g m, filled %g, must be above 0 and 0 to 1", d.Name, d.Diameter, d.Height, d.Filled)
		}
	}
	return nil
}

// space is a position: across, along, up [m].
type space struct{ x, y, z float64 }

// blockView is a view under way.
type blockView struct {
	p      *page
	in     View
	s      *sectionSheet // for what faces know of each other
	eye    space         // unit vector to the eye
	scale  float64       // [px/m]
	off    draw.Point    // where the origin falls on paper [px]
	min    Point         // of the room [m]
	max    Point
	low    float64 // underside of the block [m]
	out    float64 // how far the ground reaches beyond the house [m]
	nearY  float64 // the end that is cut [m]
	farY   float64
	frame  draw.Rect
	labels []blockLabel
	dashed bool // something is drawn as cut away
}

// blockLabel is a name and the spot that it belongs to.
type blockLabel struct {
	text string
	at   draw.Point
}

func newBlockView(p *page, in View) *blockView {
	v := &blockView{p: p, in: in}
	v.s = measured(p, Section{Faces: in.Faces, Beds: in.Beds})
	sinA, cosA := math.Sincos(in.Azimuth * math.Pi / 180)
	sinE, cosE := math.Sincos(in.Elevation * math.Pi / 180)
	v.eye = space{-cosA * cosE, sinA * cosE, sinE}
	v.min, v.max = bounds(v.s.insideOutline())
	v.low = min(v.min.Z, in.GroundZ) - 0.5
	v.out = max(0.5, 0.22*(v.max.X-v.min.X))
	v.farY = in.Length
	if v.eye.y >= 0 {
		v.nearY, v.farY = in.Length, 0
	}
	v.fit()
	return v
}

// fit sets scale and origin so that the whole block fills the sheet, no higher than it is wide.
func (v *blockView) fit() {
	v.scale = 1
	lo, hi := draw.Point{X: math.Inf(1), Y: math.Inf(1)}, draw.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	over := v.s.overhead()
	for _, x := range []float64{v.min.X - v.out, v.max.X + v.out} {
		for _, y := range []float64{-v.out, v.in.Length + v.out} {
			for _, z := range []float64{v.low, v.in.GroundZ} {
				q := v.at(x, y, z)
				lo, hi = draw.Point{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, draw.Point{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
			}
		}
	}
	for _, f := range v.in.Faces {
		for _, y := range []float64{0, v.in.Length} {
			q := v.at(f.A.X, y, f.A.Z+over)
			lo, hi = draw.Point{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, draw.Point{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
		}
	}
	room := v.p.w - 2*margin
	v.scale = min(room/(hi.X-lo.X), 0.8*v.p.w/(hi.Y-lo.Y))
	v.off = draw.Point{X: margin + (room-(hi.X-lo.X)*v.scale)/2 - lo.X*v.scale, Y: v.p.y + 18 - lo.Y*v.scale}
	bottom := v.off.Y + hi.Y*v.scale
	v.frame = draw.Rect{Min: draw.Point{X: margin, Y: v.p.y}, Max: draw.Point{X: v.p.w - margin, Y: bottom - 14}}
	v.p.y = bottom
}

// at is where a position falls on paper.
func (v *blockView) at(x, y, z float64) draw.Point {
	flat := math.Hypot(v.eye.x, v.eye.y)
	right := (-v.eye.y*x + v.eye.x*y) / flat
	up := -v.eye.z*(v.eye.x*x+v.eye.y*y)/flat + flat*z
	return draw.Point{X: v.off.X + right*v.scale, Y: v.off.Y - up*v.scale}
}

// quad is the rectangle of an edge of the section drawn along the house.
func (v *blockView) quad(a, b Point, y0, y1 float64) []draw.Point {
	return []draw.Point{v.at(a.X, y0, a.Z), v.at(b.X, y0, b.Z), v.at(b.X, y1, b.Z), v.at(a.X, y1, a.Z)}
}

// seenInside tells whether the inner side of a face looks to the eye.
func (v *blockView) seenInside(f Face) bool {
	n := v.s.outward(f)
	return n.X*v.eye.x+n.Z*v.eye.z < -1e-9
}

// surface draws the ground beyond the far side and the far end.
func (v *blockView) surface() {
	g := &draw.Group{Class: "ground"}
	lo, hi := v.s.outerSides()
	z := v.in.GroundZ
	beyond := v.farY + math.Copysign(v.out, v.farY-v.nearY)
	x0, x1, near := hi, v.max.X+v.out+(hi-v.max.X), v.min.X
	if v.eye.x > 0 {
		x0, x1, near = lo, v.min.X-v.out-(v.min.X-lo), v.max.X
	}
	if z <= v.min.Z+1e-9 { // a house on the ground or above it hides none
		x0 = near
	}
	pen := draw.Pen{Ink: draw.Earth, Width: 1.25}
	ring := []draw.Point{v.at(x0, v.nearY, z), v.at(x1, v.nearY, z), v.at(x1, beyond, z), v.at(near, beyond, z), v.at(near, v.farY, z), v.at(x0, v.farY, z)}
	g.Add(&draw.Area{Rings: [][]draw.Point{ring}, Fill: draw.Ground2, Pen: pen, Tip: "ground"})
	v.p.l.Add(g)
}

// farFaces draws the far end wall and every face whose inner side is seen, the lowest first.
func (v *blockView) farFaces() {
	g := &draw.Group{Class: "far"}
	thin := draw.Pen{Ink: draw.Ink, Width: 1}
	end := make([]draw.Point, len(v.in.Faces))
	for i, f := range v.in.Faces {
		end[i] = v.at(f.A.X, v.farY, f.A.Z)
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{end}, Fill: draw.Ground2, Pen: thin, Tip: "end wall"})
	faces := slices.Clone(v.in.Faces)
	slices.SortStableFunc(faces, func(a, b Face) int { return cmp.Compare(a.A.Z+a.B.Z, b.A.Z+b.B.Z) })
	for _, f := range faces {
		if !v.seenInside(f) {
			continue
		}
		q := v.quad(f.A, f.B, v.nearY, v.farY)
		area := &draw.Area{Rings: [][]draw.Point{q}, Fill: draw.Ground, Pen: thin, Tip: f.Name}
		if !f.Glazing && len(f.Build) > 0 {
			area.Hatch, area.HatchInk = f.Build[0].Hatch, draw.Rule
		} else if !f.Glazing {
			area.Hatch, area.HatchInk = draw.Soil, draw.Rule
		}
		g.Add(area)
		if f.Glazing {
			v.panes(g, f)
		}
	}
	v.p.l.Add(g)
}

// panes draws a glazing as the lines between its sheets, a sheet about 1.2 m wide.
func (v *blockView) panes(g *draw.Group, f Face) {
	n := int(math.Max(1, math.Min(40, math.Round(v.in.Length/1.2))))
	for k := 1; k < n; k++ {
		y := v.in.Length * float64(k) / float64(n)
		g.Add(&draw.Line{Points: []draw.Point{v.at(f.A.X, y, f.A.Z), v.at(f.B.X, y, f.B.Z)}, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75}})
	}
}

// nearFaces draws what stands between the eye and the room: glazing as lines, all else dashed, since it is cut away.
func (v *blockView) nearFaces() {
	g := &draw.Group{Class: "near"}
	for _, f := range v.in.Faces {
		if v.seenInside(f) {
			continue
		}
		q := v.quad(f.A, f.B, v.nearY, v.farY)
		if !f.Glazing {
			if f.A.Z > v.in.GroundZ+1e-9 || f.B.Z > v.in.GroundZ+1e-9 {
				v.dashed = true
				g.Add(&draw.Area{Rings: [][]draw.Point{q}, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75, Dash: []float64{5, 4}}, Tip: f.Name + ", cut away"})
			}
			continue
		}
		v.panes(g, f)
		g.Add(&draw.Area{Rings: [][]draw.Point{q}, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}, Tip: f.Name})
	}
	v.p.l.Add(g)
}
