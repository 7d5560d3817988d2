package drawing

import (
	"cmp"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// rays draws the sun through the glazing on the given days: from the sky to
// where the beam first meets bed, drum or face.
func (s *sectionSheet) rays() {
	g := &draw.Group{Class: "rays"}
	for _, r := range s.in.Rays {
		sin, cos := math.Sincos(r.Degrees * math.Pi / 180)
		d := Point{cos, -sin}
		if s.in.SunRight {
			d.X = -cos
		}
		pen := draw.Pen{Ink: draw.Sun, Width: 1.5}
		if r.Dashed {
			pen.Dash = []float64{7, 4}
		}
		var starts []draw.Point
		for _, f := range s.lets() {
			n := s.outward(f)
			if n.X*d.X+n.Z*d.Z > -0.02 {
				continue
			}
			shares := []float64{0.12, 0.5, 0.88}
			if s.p.narrow && len(s.in.Windows) > 0 { // there are more of them, and smaller
				shares = shares[1:2]
			}
			for _, t := range shares {
				start, end, ok := s.beam(along(f.A, f.B, t), d)
				if !ok {
					continue
				}
				starts = append(starts, start)
				g.Add(&draw.Line{Points: []draw.Point{s.p.l.Model(start), s.p.l.Model(end)}, Pen: pen, Tip: r.words()})
				g.Add(s.arrow(end, d))
			}
		}
		if len(s.in.Windows) > 0 { // named over the house, where no wall is in the way
			slices.SortStableFunc(starts, func(a, b draw.Point) int { return cmp.Compare(a.Y, b.Y) })
		}
		s.nameRay(r, starts, d)
	}
	s.p.l.Add(g)
}

func (r Ray) words() string { return r.Name + ", noon, " + figure(r.Degrees, 0) + "°" }

// beam returns both ends of the ray through q on paper; false where something
// stands between q and the sky.
func (s *sectionSheet) beam(q, d Point) (start, end draw.Point, ok bool) {
	back := Point{-d.X, -d.Z}
	if !math.IsInf(s.firstHit(q, back, s.obstacles(true)), 1) {
		return start, end, false
	}
	reach := s.firstHit(q, d, s.obstacles(false))
	if math.IsInf(reach, 1) {
		return start, end, false
	}
	a, b := s.paper(q), s.paper(Point{q.X + d.X*reach, q.Z + d.Z*reach})
	return s.toSky(a, draw.Point{X: -d.X, Y: d.Z}), b, true
}

// toSky runs from a point on paper along u to a little within the frame, but
// no further than 110 px.
func (s *sectionSheet) toSky(a, u draw.Point) draw.Point {
	t := 110.0
	if u.Y < 0 {
		t = min(t, (s.frame.Min.Y+22-a.Y)/u.Y)
	}
	if u.X < 0 {
		t = min(t, (s.frame.Min.X-a.X)/u.X)
	} else if u.X > 0 {
		t = min(t, (s.frame.Max.X-a.X)/u.X)
	}
	t = max(t, 0)
	return draw.Point{X: a.X + t*u.X, Y: a.Y + t*u.Y}
}

// obstacles returns the segments that stop a ray: outside the house its faces
// and the ground, inside it faces, beds and drums.
func (s *sectionSheet) obstacles(out bool) [][2]Point {
	var segs [][2]Point
	for _, f := range s.in.Faces {
		segs = append(segs, [2]Point{f.A, f.B})
	}
	if out {
		for i := 0; i+1 < len(s.in.Grade); i++ {
			segs = append(segs, [2]Point{s.in.Grade[i], s.in.Grade[i+1]})
		}
		return segs
	}
	rings := make([][]Point, 0, len(s.in.Beds)+len(s.in.Drums))
	for _, b := range s.in.Beds {
		rings = append(rings, b.Outline)
	}
	for _, d := range s.in.Drums {
		rings = append(rings, d.outline())
	}
	for _, r := range rings {
		for i := range r {
			segs = append(segs, [2]Point{r[i], r[(i+1)%len(r)]})
		}
	}
	return segs
}

// firstHit returns how far the ray from q along the unit vector d runs to the
// first segment [m]; +Inf where it meets none. The face q lies on is passed.
func (s *sectionSheet) firstHit(q, d Point, segs [][2]Point) float64 {
	best := math.Inf(1)
	for _, seg := range segs {
		e := Point{seg[1].X - seg[0].X, seg[1].Z - seg[0].Z}
		det := e.X*d.Z - e.Z*d.X
		if math.Abs(det) < 1e-12 {
			continue
		}
		w := Point{q.X - seg[0].X, q.Z - seg[0].Z}
		along := (w.X*d.Z - w.Z*d.X) / det
		t := (e.Z*w.X - e.X*w.Z) / det
		if along >= 0 && along <= 1 && t > 1e-6 && t < best {
			best = t
		}
	}
	return best
}

// arrow draws the head of a ray.
func (s *sectionSheet) arrow(tip draw.Point, d Point) *draw.Area {
	u := draw.Point{X: d.X, Y: -d.Z}
	at := func(back, side float64) draw.Point {
		return s.p.l.Model(draw.Point{X: tip.X - back*u.X - side*u.Y, Y: tip.Y - back*u.Y + side*u.X})
	}
	return &draw.Area{Rings: [][]draw.Point{{at(0, 0), at(8, 3), at(8, -3)}}, Fill: draw.Sun}
}

// nameRay writes day and angle at the outer end of one of its rays.
func (s *sectionSheet) nameRay(r Ray, starts []draw.Point, d Point) {
	lines := []string{r.Name, "noon " + figure(r.Degrees, 0) + "°"}
	w, h := widest(lines, sizeText)+4, 2*lineText
	for _, a := range starts {
		if box, ok := s.room.find(a.X, a.Y, 2, w, h, 50); ok {
			s.write(box, lines, words{ink: draw.Ink2})
			return
		}
	}
	if len(starts) > 0 {
		s.numbered = append(s.numbered, numberedRow{"", "sun, " + r.words()})
	}
}

// write sets lines of text into a box, centred.
func (s *sectionSheet) write(box draw.Rect, lines []string, w words) {
	w.anchor, w.lift, w.halo = draw.Middle, draw.Center, draw.Ground
	step := box.Height() / float64(len(lines))
	for i, line := range lines {
		w.bold = w.boldLast && i > 0 && i == len(lines)-1
		s.names.Add(s.p.text((box.Min.X+box.Max.X)/2, box.Min.Y+(float64(i)+0.5)*step, line, w))
	}
}
