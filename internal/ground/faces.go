package ground

import (
	"fmt"
	"math"
)

// Face is a side of a cell on a rim.
//
// A sloping edge is a flight of steps in the mesh. The lengths of its faces are scaled so that together they are as long as the
// rim, so the rim's resistance acts on its true area; the half cell behind keeps the step's own length.
type Face struct {
	Cell int
	Rim  int
	Port int
	X, Z float64 // its middle [m]
	// Length is the share of the rim's length that the face stands for [m]; times the cell's width it is its area.
	Length float64
	side   side
	step   float64 // its own length [m]
}

func (r *Rim) length() float64 { return math.Hypot(r.B.X-r.A.X, r.B.Z-r.A.Z) }

// edge is a straight piece of the outline of matter.
type edge struct{ a, b Point }

// place gives how far along the edge (0..1, held there) and how far from it [m] a point lies.
func (e edge) place(p Point) (share, off float64) {
	dx, dz := e.b.X-e.a.X, e.b.Z-e.a.Z
	share = ((p.X-e.a.X)*dx + (p.Z-e.a.Z)*dz) / (dx*dx + dz*dz)
	share = min(1, max(0, share))
	return share, math.Hypot(p.X-e.a.X-share*dx, p.Z-e.a.Z-share*dz)
}

func (e edge) slopes() bool {
	return math.Abs(e.a.X-e.b.X) > near && math.Abs(e.a.Z-e.b.Z) > near
}

// onLine is how far a point may be off a line that it lies on [m]: lines are merged within near.
const onLine = 10 * near

// edges are the sides of the box and of the holes.
func (s *Slice) edges() []edge {
	c := []Point{{s.X0, s.Z0}, {s.X1, s.Z0}, {s.X1, s.Z1}, {s.X0, s.Z1}}
	var out []edge
	for _, polygon := range append([][]Point{c}, s.Holes...) {
		for i, a := range polygon {
			if b := polygon[(i+1)%len(polygon)]; math.Hypot(a.X-b.X, a.Z-b.Z) > near {
				out = append(out, edge{a, b})
			}
		}
	}
	return out
}

// owner is the edge that a step or side at p was cut from: the one it lies on, or the nearest sloping one.
func owner(edges []edge, p Point) (edge, bool) {
	best, found := math.Inf(1), false
	var nearest edge
	for _, e := range edges {
		_, off := e.place(p)
		if off <= onLine {
			return e, true
		}
		if e.slopes() && off < best {
			best, nearest, found = off, e, true
		}
	}
	return nearest, found
}

// rimAt is the rim on edge e that covers the place p on it, or -1.
func (s *Slice) rimAt(e edge, p Point) int {
	at, _ := e.place(p)
	for i := range s.Rims {
		r := &s.Rims[i]
		a, offA := e.place(r.A)
		b, offB := e.place(r.B)
		if offA <= onLine && offB <= onLine && at >= min(a, b) && at <= max(a, b) && a != b {
			return i
		}
	}
	return -1
}

// faces finds the sides of cells that lie on rims and gives each its length.
func (s *Slice) faces(m *Mesh) error {
	edges := s.edges()
	sum := make([]float64, len(s.Rims))
	for n := range m.Cells {
		c := &m.Cells[n]
		for sd := left; sd <= above; sd++ {
			if m.beside[n][sd] >= 0 {
				continue
			}
			p := c.sideMiddle(sd)
			e, ok := owner(edges, p)
			if !ok {
				continue
			}
			rim := s.rimAt(e, p)
			if rim < 0 {
				continue
			}
			m.face[n][sd] = len(m.Faces)
			m.Faces = append(m.Faces, Face{Cell: n, Rim: rim, Port: s.Rims[rim].Port, X: p.X, Z: p.Z, side: sd, step: c.span(sd)})
			sum[rim] += c.span(sd)
		}
	}
	for i := range s.Rims {
		r := &s.Rims[i]
		// A flight of steps is at most sqrt 2 times as long as its slope; shorter than the rim it is only where a thin wedge of
		// matter ends on it.
		if length := r.length(); sum[i] < length/2 || sum[i] > 2*length {
			return fmt.Errorf("slice: rim %d from (%g, %g) to (%g, %g) m lies along %.3g m of cells, must lie on the edge of the slice or of a hole",
				i, r.A.X, r.A.Z, r.B.X, r.B.Z, sum[i])
		}
	}
	for i := range m.Faces {
		f := &m.Faces[i]
		f.Length = f.step
		if length := s.Rims[f.Rim].length(); math.Abs(length-sum[f.Rim]) > 1e-6*length {
			f.Length *= length / sum[f.Rim]
		}
	}
	return nil
}

func (c *Cell) sideMiddle(s side) Point {
	x, z := c.Middle()
	switch s {
	case left:
		x = c.X0
	case right:
		x = c.X1
	case below:
		z = c.Z0
	case above:
		z = c.Z1
	}
	return Point{x, z}
}

// Area is the area of a face [m²].
func (m *Mesh) Area(face int) float64 {
	f := &m.Faces[face]
	return f.Length * m.Cells[f.Cell].Width
}

// RimArea is the area of all faces of a rim [m²].
func (m *Mesh) RimArea(rim int) float64 {
	sum := 0.0
	for i := range m.Faces {
		if m.Faces[i].Rim == rim {
			sum += m.Area(i)
		}
	}
	return sum
}
