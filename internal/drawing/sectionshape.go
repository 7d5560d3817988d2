package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// sectionSheet is a section under way: paper measures beside the input.
type sectionSheet struct {
	p        *page
	in       Section
	ccw      float64       // +1: faces run counter-clockwise, -1: clockwise
	min, max Point         // what is shown of the model [m]
	frame    draw.Rect     // the same on paper [px]
	names    *draw.Group   // labels, added last
	room     *placer       // where labels may stand
	numbered []numberedRow // rows below the picture, for what has a number in it
}

type numberedRow struct{ mark, text string }

// Room beside the section [px]: levels at the right, upright dimensions left.
const (
	spanStep  = 26.0
	skyHeight = 84.0
)

func newSectionSheet(p *page, in Section) *sectionSheet {
	s := measured(p, in)
	left, right := s.sides()
	s.layOut(left, right, skyHeight)
	return s
}

// measured is a section whose extent is known, before it is laid out.
func measured(p *page, in Section) *sectionSheet {
	s := &sectionSheet{p: p, in: in, names: &draw.Group{Class: "names"}}
	s.min, s.max = bounds(in.corners())
	for _, f := range in.Faces {
		t := f.thickness()
		s.min = Point{min(s.min.X, f.A.X-t), min(s.min.Z, f.A.Z-t)}
		s.max = Point{max(s.max.X, f.A.X+t), max(s.max.Z, f.A.Z)}
	}
	s.ccw = orientation(in.Faces)
	s.min.Z -= 0.35
	return s
}

// sides returns the room beside the section for upright dimensions and levels [px].
func (s *sectionSheet) sides() (left, right float64) {
	left, right = margin, margin
	for _, sp := range s.in.Spans {
		if sp.Upright {
			left += spanStep
		}
	}
	for _, l := range s.in.Levels {
		right = max(right, 26+widest(s.levelWords(l), sizeText))
	}
	return left, right
}

// layOut sets the scale and the sheet for room beside the section and sky above it [px].
func (s *sectionSheet) layOut(left, right, sky float64) {
	p, in := s.p, s.in
	p.heading(in.Title, s.sentence())
	p.l.Scale = (p.w - left - right) / (s.max.X - s.min.X)
	p.l.Up = true
	// The heading was laid out at one pixel to a unit, y downward: set it anew.
	top := p.y + sky
	p.l.Sheet = draw.Rect{
		Min: draw.Point{X: s.min.X - left/p.l.Scale},
		Max: draw.Point{X: s.min.X - left/p.l.Scale + p.w/p.l.Scale, Y: s.max.Z + top/p.l.Scale},
	}
	p.l.Items = nil
	y := p.y
	p.heading(in.Title, s.sentence())
	s.frame = draw.Rect{Min: draw.Point{X: left, Y: y}, Max: draw.Point{X: p.w - right, Y: top + (s.max.Z-s.min.Z)*p.l.Scale}}
	s.room = &placer{room: draw.Rect{Min: draw.Point{X: left, Y: y}, Max: draw.Point{X: s.frame.Max.X, Y: s.frame.Max.Y}}}
	p.y = s.frame.Max.Y
}

// sentence says what the picture shows, with the lowest place if it is known.
func (s *sectionSheet) sentence() string {
	if len(s.in.Warm) > 0 {
		return s.warmSentence()
	}
	out, low := s.in.Sentence, -1
	for i, pl := range s.in.Places {
		if !math.IsNaN(pl.LowestC) && (low < 0 || pl.LowestC < s.in.Places[low].LowestC) {
			low = i
		}
	}
	if low < 0 {
		return out
	}
	if out != "" {
		out += " "
	}
	return out + "Lowest " + s.p.u.temp(s.in.Places[low].LowestC) + ", " + s.in.Places[low].Label + "."
}

func bounds(ps []Point) (lo, hi Point) {
	lo, hi = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, q := range ps {
		lo, hi = Point{min(lo.X, q.X), min(lo.Z, q.Z)}, Point{max(hi.X, q.X), max(hi.Z, q.Z)}
	}
	return lo, hi
}

// orientation returns +1 for faces that run counter-clockwise, -1 for
// clockwise, by the sign of the shoelace sum.
func orientation(faces []Face) float64 {
	sum := 0.0
	for _, f := range faces {
		sum += f.A.X*f.B.Z - f.B.X*f.A.Z
	}
	return math.Copysign(1, sum)
}

func (f Face) thickness() float64 {
	t := 0.0
	for _, l := range f.Build {
		t += l.Thickness
	}
	return t
}

// outward returns the unit normal of a face away from the inside.
func (s *sectionSheet) outward(f Face) Point {
	dx, dz := f.B.X-f.A.X, f.B.Z-f.A.Z
	n := math.Hypot(dx, dz)
	return Point{s.ccw * dz / n, -s.ccw * dx / n}
}

// model turns section points into list points: the list is in metres.
func model(ps []Point) []draw.Point {
	out := make([]draw.Point, len(ps))
	for i, q := range ps {
		out[i] = draw.Point{X: q.X, Y: q.Z}
	}
	return out
}

func (s *sectionSheet) paper(q Point) draw.Point { return s.p.l.Paper(draw.Point{X: q.X, Y: q.Z}) }

func (s *sectionSheet) insideOutline() []Point {
	ps := make([]Point, len(s.in.Faces))
	for i, f := range s.in.Faces {
		ps[i] = f.A
	}
	return ps
}

// ground draws the earth below grade, from edge to edge.
func (s *sectionSheet) ground() {
	if len(s.in.Grade) < 2 {
		return
	}
	first, last := s.in.Grade[0], s.in.Grade[len(s.in.Grade)-1]
	ring := append([]Point{{s.min.X, first.Z}}, s.in.Grade...)
	ring = append(ring, Point{s.max.X, last.Z}, Point{s.max.X, s.min.Z}, Point{s.min.X, s.min.Z})
	surface := ring[:len(ring)-2]
	g := &draw.Group{Class: "ground"}
	g.Add(&draw.Area{Rings: [][]draw.Point{model(ring)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Earth},
		&draw.Line{Points: model(surface), Pen: draw.Pen{Ink: draw.Earth, Width: 2}})
	for _, l := range s.in.Seams {
		if l.Z > s.min.Z {
			g.Add(&draw.Line{Points: model([]Point{{s.min.X, l.Z}, {s.max.X, l.Z}}), Pen: draw.Pen{Ink: draw.Earth, Width: 1, Dash: []float64{6, 4}}, Tip: "soil above: " + l.Name})
		}
	}
	s.p.l.Add(g)
}

// footings draws boards in the ground and the strips under walls and drums; what lies over them is drawn later.
func (s *sectionSheet) footings() {
	if len(s.in.Footings)+len(s.in.Boards) == 0 {
		return
	}
	g := &draw.Group{Class: "footings"}
	for _, f := range append(append([]Strip{}, s.in.Boards...), s.in.Footings...) {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(f.Outline)}, Fill: draw.Ground, Hatch: f.Hatch, HatchInk: draw.Ink2, Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: f.Name})
	}
	s.p.l.Add(g)
}

// builds draws the layers of every face. All layers of a face end on the line
// from the inner corner to the corner of the outer sides, so neighbours meet
// without gap whatever their thickness.
func (s *sectionSheet) builds() {
	g := &draw.Group{Class: "builds"}
	n := len(s.in.Faces)
	for i, f := range s.in.Faces {
		t := f.thickness()
		if t == 0 {
			continue
		}
		a := s.corner(s.in.Faces[(i+n-1)%n], f, f.A, f)
		b := s.corner(f, s.in.Faces[(i+1)%n], f.B, f)
		from := 0.0
		for _, l := range f.Build {
			to := from + l.Thickness
			told := l.Told
			if told == "" {
				told = s.p.u.Length(l.Thickness)
			}
			ring := []Point{along(f.A, a, from/t), along(f.B, b, from/t), along(f.B, b, to/t), along(f.A, a, to/t)}
			g.Add(&draw.Area{
				Rings: [][]draw.Point{model(ring)}, Fill: draw.Ground, Hatch: l.Hatch, HatchInk: draw.Ink2,
				Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: f.Name + ": " + l.Name + ", " + told,
			})
			from = to
		}
	}
	s.p.l.Add(g)
}

func along(a, b Point, t float64) Point { return Point{a.X + t*(b.X-a.X), a.Z + t*(b.Z-a.Z)} }

// corner returns the outer corner of face own at the inner corner v between
// two faces: where their outer sides cross. Sides that run on in line, or
// would cross far out, are cut square.
func (s *sectionSheet) corner(before, after Face, v Point, own Face) Point {
	n, m, t, u := s.outward(before), s.outward(after), before.thickness(), after.thickness()
	square := s.outward(own)
	d := own.thickness()
	out := Point{v.X + square.X*d, v.Z + square.Z*d}
	if bare := func(f Face) bool { return !f.Glazing && f.thickness() == 0 }; bare(before) || bare(after) {
		return out // bare earth has no outer face to meet
	}
	// q with q·n = t and q·m = u, q from v.
	det := n.X*m.Z - n.Z*m.X
	if math.Abs(det) < 0.2 {
		return out
	}
	q := Point{(t*m.Z - u*n.Z) / det, (u*n.X - t*m.X) / det}
	if math.Hypot(q.X, q.Z) > 2.5*max(t, u) {
		return out
	}
	return Point{v.X + q.X, v.Z + q.Z}
}

// inside draws the open room, sinks, beds, drums, and the cut line round it.
func (s *sectionSheet) inside() {
	g := &draw.Group{Class: "inside"}
	g.Add(&draw.Area{Rings: [][]draw.Point{model(s.insideOutline())}, Fill: draw.Ground})
	for _, k := range s.in.Sinks {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(k.Outline)}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Frost, Width: 1, Dash: []float64{3, 3}}, Tip: k.Name})
	}
	for _, b := range s.in.Beds {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(b.Outline)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Leaf, Pen: draw.Pen{Ink: draw.Leaf, Width: 2}, Tip: b.Name})
	}
	for _, d := range s.in.Drums {
		s.drum(g, d)
	}
	s.insideLines(g)
	s.p.l.Add(g)
}

// insideLines draws the faces as the room ends at them: panes as glazing, all else as a cut line.
func (s *sectionSheet) insideLines(g *draw.Group) {
	for _, f := range s.in.Faces {
		if f.Glazing {
			s.glazing(g, f)
			continue
		}
		g.Add(&draw.Line{Points: model([]Point{f.A, f.B}), Pen: draw.Pen{Ink: draw.Ink, Width: 2}, Tip: f.Name})
	}
}

func (s *sectionSheet) drum(g *draw.Group, d Drum) {
	tip := d.Name + ", filled to " + figure(d.Filled*100, 0) + " %"
	if w := d.water(); w != nil {
		g.Add(&draw.Area{Rings: [][]draw.Point{model(w)}, Fill: draw.Ground2, Hatch: draw.WaterHatch, HatchInk: draw.Water, Pen: draw.Pen{Ink: draw.Water, Width: 1}})
	}
	pen := draw.Pen{Ink: draw.Water, Width: 2}
	if d.Radius > 0 {
		g.Add(&draw.Circle{Center: draw.Point{X: d.Center.X, Y: d.Center.Z}, Radius: d.Radius, Pen: pen, Tip: tip})
		return
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{model(d.outline())}, Pen: pen, Tip: tip})
}

// glazing draws a sheet as two lines, the outer one a little off the face.
func (s *sectionSheet) glazing(g *draw.Group, f Face) {
	off := s.paneDepth()
	n := s.outward(f)
	shift := func(q Point) Point { return Point{q.X + n.X*off, q.Z + n.Z*off} }
	g.Add(&draw.Area{Rings: [][]draw.Point{model([]Point{f.A, f.B, shift(f.B), shift(f.A)})}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1.25}, Tip: f.Name})
}
