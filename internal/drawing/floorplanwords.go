package drawing

import (
	"math"
	"strconv"

	"suncellar/internal/draw"
)

// openings draws doors with the way they swing, windows as panes, vents as crossed boxes, each in its wall.
func (s *planSheet) openings() {
	g := &draw.Group{Class: "openings"}
	for _, o := range s.in.Openings {
		w := s.wallOf(o)
		half := min(o.Width, w.length) / 2
		at := math.Max(half, math.Min(w.length-half, o.At))
		p := func(along, out float64) draw.Point {
			return draw.Point{X: w.foot.X + w.along.X*(at+along)*s.scale + w.out.X*out, Y: w.foot.Y + w.along.Y*(at+along)*s.scale + w.out.Y*out}
		}
		t := max(w.thick*s.scale, 3)
		box := []draw.Point{p(-half, 0), p(half, 0), p(half, t), p(-half, t)}
		pen := draw.Pen{Ink: draw.Ink, Width: 1.25}
		g.Add(&draw.Area{Rings: [][]draw.Point{box}, Fill: draw.Ground, Pen: pen, Tip: o.Name + ", " + s.p.u.Length(o.Width) + " wide"})
		switch o.Kind {
		case Door:
			s.leaf(g, p, half, t)
		case Window:
			for _, k := range []float64{0.35, 0.65} {
				g.Add(&draw.Line{Points: []draw.Point{p(-half, k*t), p(half, k*t)}, Pen: pen})
			}
		default:
			g.Add(&draw.Line{Points: []draw.Point{box[0], box[2]}, Pen: pen}, &draw.Line{Points: []draw.Point{box[1], box[3]}, Pen: pen})
		}
	}
	s.p.l.Add(g)
}

// leaf draws the leaf of a door that opens outward, and its way.
func (s *planSheet) leaf(g *draw.Group, p func(along, out float64) draw.Point, half, t float64) {
	r := 2 * half
	arc := make([]draw.Point, 13)
	for i := range arc {
		sin, cos := math.Sincos(float64(i) / 12 * math.Pi / 2)
		arc[i] = p(-half+r*cos, t+r*s.scale*sin)
	}
	g.Add(&draw.Line{Points: []draw.Point{p(-half, t), p(-half, t+r*s.scale)}, Pen: draw.Pen{Ink: draw.Ink, Width: 2}},
		&draw.Line{Points: arc, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75, Dash: []float64{4, 3}}})
}

// planWall is a wall on paper: where its inner side begins, along which unit vector it runs, which way is out.
type planWall struct {
	foot, along, out draw.Point
	length, thick    float64 // [m]
}

func (s *planSheet) wallOf(o Opening) planWall {
	l, w := s.in.Length, s.in.Width
	at := func(along, across float64) draw.Point { return draw.Point{X: s.x(along), Y: s.y(across)} }
	switch o.Wall {
	case FrontWall:
		return planWall{at(0, 0), draw.Point{X: -1}, draw.Point{Y: 1}, l, thick(s.in.Front)}
	case BackWall:
		return planWall{at(0, w), draw.Point{X: -1}, draw.Point{Y: -1}, l, thick(s.in.Back)}
	case LeftEnd:
		return planWall{at(0, 0), draw.Point{Y: -1}, draw.Point{X: 1}, w, thick(s.in.Left)}
	default:
		return planWall{at(l, 0), draw.Point{Y: -1}, draw.Point{X: -1}, w, thick(s.in.Right)}
	}
}

// swing is how far doors swing out of a wall [m].
func (s *planSheet) swing(w Wall) float64 {
	out := 0.0
	for _, o := range s.in.Openings {
		if o.Wall == w && o.Kind == Door {
			out = max(out, min(o.Width, s.wallOf(o).length))
		}
	}
	return out
}

// chain writes how wide beds and paths are at the left, level figures beside their pieces.
func (s *planSheet) chain() {
	g := &draw.Group{Class: "dimensions"}
	borders := s.borders()
	_, outer := s.corners()
	x := outer[0].X - 14 - s.swing(RightEnd)*s.scale
	thin := draw.Pen{Ink: draw.Ink2, Width: 0.75}
	g.Add(s.p.line(thin, x, s.y(0), x, s.y(s.in.Width)))
	var want, height []float64
	for i, b := range borders {
		y := s.y(b)
		g.Add(s.p.line(thin, x-5, y, s.room.Min.X-2, y), s.p.line(draw.Pen{Ink: draw.Ink, Width: 1.25}, x-4, y+4, x+4, y-4))
		if i > 0 {
			want, height = append(want, (s.y(borders[i-1])+y)/2), append(height, lineText)
		}
	}
	bottom := 0.0
	for i, y := range spread(want, height, outer[3].Y, math.Max(outer[0].Y, s.room.Max.Y+8)) {
		g.Add(s.p.line(thin, x, want[i], x-6, want[i], x-14, y))
		g.Add(s.p.text(x-17, y, s.p.u.Length(borders[i+1]-borders[i]), words{anchor: draw.End, lift: draw.Center}))
		bottom = max(bottom, y+lineText/2)
	}
	s.p.l.Add(g)
	s.front = outer[0].Y + 16 + s.swing(FrontWall)*s.scale
	if bottom > s.front-12 && draw.TextWidth(frontWords, sizeText, false) > s.room.Width()-20 {
		s.front = bottom + 16
	}
	s.p.y = max(s.p.y, bottom, s.front)
}

const frontWords = "front, to the sun"

// lengths writes the length inside and outside below, the width inside at the right where there is room for the figure.
func (s *planSheet) lengths() {
	g := &draw.Group{Class: "lengths"}
	_, outer := s.corners()
	y := s.p.y + 28
	p := s.p
	for _, d := range []struct {
		a, b float64
		m    float64
	}{{s.room.Min.X, s.room.Max.X, s.in.Length}, {outer[0].X, outer[1].X, s.in.Length + thick(s.in.Left) + thick(s.in.Right)}} {
		if d.b-d.a < 8 {
			continue
		}
		from := p.at(d.a, outer[0].Y)
		dim := &draw.Dimension{A: from, B: p.at(d.b, outer[0].Y), Text: p.u.Length(d.m)}
		dim.Offset = -(y - outer[0].Y)
		g.Add(dim)
		y += spanStep
	}
	if tall := s.room.Height(); tall > draw.TextWidth(p.u.Length(s.in.Width), sizeText, false)+12 {
		x := p.w - margin - 2
		g.Add(&draw.Dimension{A: p.at(outer[1].X, s.room.Max.Y), B: p.at(outer[1].X, s.room.Min.Y), Offset: -(x - outer[1].X), Text: p.u.Length(s.in.Width)})
	}
	p.l.Add(g)
	p.y = y - spanStep + 6
}

// compass draws north over the right end: the front, below, looks to Facing.
func (s *planSheet) compass() {
	g := &draw.Group{Class: "north"}
	const r = 17.0
	c := draw.Point{X: s.p.w - margin - r - 12, Y: s.room.Min.Y - (thick(s.in.Back)+s.swing(BackWall))*s.scale - planAbove/2 - 4}
	sin, cos := math.Sincos(-(s.in.Facing + 180) * math.Pi / 180)
	at := func(ahead, right float64) draw.Point {
		return draw.Point{X: c.X + ahead*sin + right*cos, Y: c.Y - ahead*cos + right*sin}
	}
	g.Add(&draw.Circle{Center: c, Radius: r, Pen: draw.Pen{Ink: draw.Ink2, Width: 0.75}, Tip: "north; the glazing looks to " + figure(s.in.Facing, 0) + "°"},
		&draw.Area{Rings: [][]draw.Point{{at(r, 0), at(-r*0.75, r*0.5), at(-r*0.4, 0)}}, Fill: draw.Ink, Pen: draw.Pen{Ink: draw.Ink, Width: 1}},
		&draw.Area{Rings: [][]draw.Point{{at(r, 0), at(-r*0.75, -r*0.5), at(-r*0.4, 0)}}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1}})
	n := at(r+9, 0)
	g.Add(s.p.text(n.X, n.Y, "N", words{bold: true, anchor: draw.Middle, lift: draw.Center}))
	s.p.l.Add(g)
}

// names writes the sides of the house round it, and what stands in it where there is room; the rest gets numbers.
func (s *planSheet) names() {
	_, outer := s.corners()
	mid := (s.room.Min.X + s.room.Max.X) / 2
	side := words{anchor: draw.Middle, ink: draw.Ink2}
	g := s.labels
	g.Add(s.p.text(min(mid, s.p.w-100), outer[3].Y-8-s.swing(BackWall)*s.scale, "back", side), s.p.text(mid, s.front, frontWords, side))
	for _, b := range s.in.Beds {
		s.label(b.Name, (s.y(b.From)+s.y(b.To))/2, draw.Ink)
	}
	for _, b := range s.in.Sinks {
		s.label(b.Name, (s.y(b.From)+s.y(b.To))/2, draw.Ink)
	}
	seen := map[string]bool{}
	for _, d := range s.in.Drums {
		if !seen[d.Name] {
			seen[d.Name] = true
			s.drumLabel(d)
		}
	}
	for _, l := range s.in.Overhead {
		if l.Z > 0 && l.Z < s.in.Width {
			s.label(l.Name+" above", s.y(l.Z)-9, draw.Ink2)
		}
	}
	for _, o := range s.in.Openings {
		s.openingLabel(o)
	}
	s.p.l.Add(g)
}

// drumLabel writes the name of a row before it, to the front, where that is free.
func (s *planSheet) drumLabel(d PlanDrum) {
	y := s.y(d.Across) + d.Diameter/2*s.scale + 11
	for _, b := range append(append([]PlanBed{}, s.in.Beds...), s.in.Sinks...) {
		if y > s.y(b.To)-10 && y < s.y(b.From)+10 {
			y = s.y(d.Across)
			break
		}
	}
	if y > s.room.Max.Y-10 {
		y = s.y(d.Across)
	}
	s.label(d.Name, y, draw.Ink)
}

// label writes a name at a height within the room, at the first of three positions along it that is free; else in the list below.
func (s *planSheet) label(name string, y float64, ink draw.Token) {
	w := draw.TextWidth(name, sizeText, false) + 6
	for _, share := range []float64{0.5, 0.26, 0.74} {
		x := s.room.Min.X + share*s.room.Width()
		box := draw.Rect{Min: draw.Point{X: x - w/2, Y: y - 8}, Max: draw.Point{X: x + w/2, Y: y + 8}}
		if s.free.free(box) {
			s.free.take(box)
			s.labels.Add(s.p.text(x, y, name, words{anchor: draw.Middle, lift: draw.Center, ink: ink, halo: draw.Ground}))
			return
		}
	}
	s.mark(name, s.room.Max.X-14, y)
}

// mark puts a number where something lies and its name in the list below.
func (s *planSheet) mark(name string, x, y float64) {
	n := strconv.Itoa(len(s.numbered) + 1)
	s.numbered = append(s.numbered, name)
	box := draw.Rect{Min: draw.Point{X: x - 9, Y: y - 9}, Max: draw.Point{X: x + 9, Y: y + 9}}
	if !s.free.free(box) {
		found, ok := s.free.find(x, y, 0, 18, 18, 400)
		if !ok {
			return
		}
		box = found
	} else {
		s.free.take(box)
	}
	s.labels.Add(s.p.text((box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2, n, words{anchor: draw.Middle, lift: draw.Center, bold: true, halo: draw.Ground, tip: name}))
}

// openingLabel numbers an opening just inside its wall.
func (s *planSheet) openingLabel(o Opening) {
	w := s.wallOf(o)
	half := min(o.Width, w.length) / 2
	at := math.Max(half, math.Min(w.length-half, o.At))
	s.mark(o.Name+", "+s.p.u.Length(o.Width)+" wide", w.foot.X+w.along.X*at*s.scale-w.out.X*14, w.foot.Y+w.along.Y*at*s.scale-w.out.Y*14)
}

// notes lists what has a number, then what else is to be said.
func (s *planSheet) notes() {
	p := s.p
	g := &draw.Group{Class: "list"}
	p.y += 8
	for i, text := range s.numbered {
		for k, line := range wrap(text, sizeText, false, p.w-2*margin-24) {
			p.y += lineText
			if k == 0 {
				g.Add(p.text(margin, p.y, strconv.Itoa(i+1), words{bold: true}))
			}
			g.Add(p.text(margin+24, p.y, line, words{}))
		}
	}
	for _, text := range s.in.Notes {
		for _, line := range wrap(text, sizeText, false, min(p.w-2*margin, 560)) {
			p.y += lineText
			g.Add(p.text(margin, p.y, line, words{ink: draw.Ink2}))
		}
	}
	p.l.Add(g)
}
