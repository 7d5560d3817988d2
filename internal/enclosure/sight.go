package enclosure

import "math"

// Sight follows a beam back from points of the room to where it came in.
type Sight struct {
	r *room
	e *Enclosure
}

// Sight makes a room ready to be looked out of.
func (e *Enclosure) Sight() (*Sight, error) {
	if err := e.Check(); err != nil {
		return nil, err
	}
	return &Sight{newRoom(e, true), e}, nil
}

// In tells whether a point lies in the room, and in which obstacle, -1 for none.
func (s *Sight) In(p Point) (room bool, obstacle int) {
	for k := range s.e.Obstacles {
		if s.r.within(k, p) {
			return inside(s.r.outline, p), k
		}
	}
	return inside(s.r.outline, p), -1
}

// Entry is where a beam comes in: by the pieces of an edge or of a cell of an end.
type Entry struct {
	Parts []Part
	At    Point   // in the section
	Along float64 // from the left end [m]
	Let   float64 // share of the beam that the obstacles on its way let by
}

// From follows the beam of the sun back from a point of the room that is so far from the left end [m]. false: it slips through a corner, or the sun stands level in the plane of the ends.
func (s *Sight) From(p Point, along float64, sun Sun) (Entry, bool) {
	dx, dz := -math.Cos(float64(sun.Profile)), math.Sin(float64(sun.Profile))
	hits := s.r.cast(nil, p, dx, dz, -1)
	if len(hits) == 0 {
		return Entry{}, false
	}
	way, end := math.Inf(1), 0 // to the end that the beam comes from, in the section [m]
	switch {
	case sun.Along > 0:
		way = along / sun.Along
	case sun.Along < 0:
		way, end = (s.e.Length-along)/-sun.Along, 1
	}
	in := Entry{Let: 1}
	for _, h := range hits {
		if h.distance > way {
			break
		}
		if h.line < s.r.edges {
			in.Parts = s.r.lines[h.line].parts
			way = h.distance
			break
		}
		in.Let *= 1 - h.stopped
	}
	in.At, in.Along = Point{p.X + dx*way, p.Z + dz*way}, along-sun.Along*way
	if in.Parts == nil {
		in.Parts = s.e.Ends[end][s.e.cellOf(in.At)]
	}
	return in, true
}

// Clear tells whether a beam of the sun that comes in at a point of an edge passes no other edge on its way there from the sky.
func (s *Sight) Clear(at Point, sun Sun) bool {
	dx, dz := -math.Cos(float64(sun.Profile)), math.Sin(float64(sun.Profile))
	for i := range s.r.edges {
		l := &s.r.lines[i]
		if d, u := l.meet(at, dx, dz); d > 1e3*s.r.eps && u >= 0 && u <= 1 {
			return false
		}
	}
	return true
}
