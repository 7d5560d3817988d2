package enclosure

import "math"

// line is a straight piece of the section that a ray can meet: an edge of the outline or a side of an obstacle.
type line struct {
	a        Point
	dx, dz   float64 // to its other end
	length   float64
	nx, nz   float64 // unit normal to where rays come from
	obstacle int     // -1 for an edge
	parts    []Part
}

// room is an enclosure made ready for rays. Its surfaces are numbered: lines first, then the cells of the left end, then those of the right.
type room struct {
	e       *Enclosure
	lines   []line
	edges   int     // the first so many lines are the outline
	corners []Point // where what is seen may change
	outline []Point
	first   []int   // by obstacle: its first line
	eps     float64 // [m]
	fill    []float64
	cells   []int // of an end that have any area
}

// newRoom makes the lines, with the fill of obstacles for diffuse radiation or for a beam.
func newRoom(e *Enclosure, beam bool) *room {
	r := &room{e: e, edges: len(e.Edges), outline: e.outline(), eps: 1e-9 * e.extent()}
	for _, d := range e.Edges {
		l := makeLine(d.A, d.B, -1, d.Parts)
		r.lines = append(r.lines, l)
		r.corners = append(r.corners, d.A)
	}
	for k := range e.Obstacles {
		o := &e.Obstacles[k]
		r.first = append(r.first, len(r.lines))
		f := o.Fill
		if beam {
			f = o.BeamFill
		}
		r.fill = append(r.fill, f)
		for i, a := range o.Corners {
			l := makeLine(a, o.Corners[(i+1)%len(o.Corners)], k, o.Sides[i])
			l.nx, l.nz = -l.nx, -l.nz // rays come from outside it
			r.lines = append(r.lines, l)
			r.corners = append(r.corners, a)
		}
	}
	r.first = append(r.first, len(r.lines))
	for k := range e.cells() {
		if e.cellArea(r.outline, k) > 0 {
			r.cells = append(r.cells, k)
		}
	}
	for i := range r.lines { // what reaches the ends changes where a line passes from cell to cell
		l := &r.lines[i]
		for _, z := range e.Levels {
			r.cut(l, (z-l.a.Z)/l.dz)
		}
		for _, x := range e.Columns {
			r.cut(l, (x-l.a.X)/l.dx)
		}
	}
	return r
}

func (r *room) cut(l *line, u float64) {
	if u > 0 && u < 1 {
		r.corners = append(r.corners, l.at(u))
	}
}

func makeLine(a, b Point, obstacle int, parts []Part) line {
	l := line{a: a, dx: b.X - a.X, dz: b.Z - a.Z, obstacle: obstacle, parts: parts}
	l.length = math.Hypot(l.dx, l.dz)
	l.nx, l.nz = -l.dz/l.length, l.dx/l.length
	return l
}

func (l *line) at(u float64) Point { return Point{l.a.X + u*l.dx, l.a.Z + u*l.dz} }

// surfaces is how many surfaces there are, cells of the ends counted in.
func (r *room) surfaces() int { return len(r.lines) + 2*r.e.cells() }

// cell is the number of a cell of an end among the surfaces.
func (r *room) cell(end, cell int) int { return len(r.lines) + end*r.e.cells() + cell }

// partsOf are the pieces that share a surface.
func (r *room) partsOf(surface int) []Part {
	if k := surface - len(r.lines); k >= 0 {
		return r.e.Ends[k/r.e.cells()][k%r.e.cells()]
	}
	return r.lines[surface].parts
}

// meet is the distance [m] at which a ray from p in direction (dx, dz) meets the line's straight, and where on it (0..1).
func (l *line) meet(p Point, dx, dz float64) (distance, u float64) {
	det := l.dx*dz - l.dz*dx
	rx, rz := l.a.X-p.X, l.a.Z-p.Z
	return (l.dx*rz - l.dz*rx) / det, (dx*rz - dz*rx) / det
}

// hit is a line that a ray meets.
type hit struct {
	line     int
	distance float64 // [m]
	stopped  float64 // share of what arrives that stays there
}

// cast finds all that a ray meets, the nearest first, up to the outline, which stops it. It skips the line or obstacle from which it
// starts (-1 for none). Nothing is found only where a ray slips through a corner.
func (r *room) cast(hits []hit, p Point, dx, dz float64, from int) []hit {
	hits = hits[:0]
	const slack = 1e-9
	wall := hit{line: -1, distance: math.Inf(1), stopped: 1}
	for i := range r.edges {
		l := &r.lines[i]
		if i == from || l.nx*dx+l.nz*dz >= 0 {
			continue
		}
		if d, u := l.meet(p, dx, dz); d > r.eps && u >= -slack && u <= 1+slack && d < wall.distance {
			wall.line, wall.distance = i, d
		}
	}
	if wall.line < 0 {
		return hits
	}
	own := -1
	if from >= 0 {
		own = r.lines[from].obstacle
	}
	for i := r.edges; i < len(r.lines); i++ {
		l := &r.lines[i]
		if l.obstacle == own || l.nx*dx+l.nz*dz >= 0 {
			continue
		}
		if d, u := l.meet(p, dx, dz); d > r.eps && u >= 0 && u < 1 && d < wall.distance {
			hits = append(hits, hit{i, d, r.fill[l.obstacle]})
			for k := len(hits) - 1; k > 0 && hits[k].distance < hits[k-1].distance; k-- {
				hits[k], hits[k-1] = hits[k-1], hits[k]
			}
		}
	}
	return append(hits, wall)
}

// open is the share of a line's spot that is free: part of it is hidden under or behind an obstacle that it touches, all of it
// outside the outline.
func (r *room) open(i int, p Point) float64 {
	l := &r.lines[i]
	q := Point{p.X + 1e3*r.eps*l.nx, p.Z + 1e3*r.eps*l.nz}
	if l.obstacle >= 0 && !inside(r.outline, q) {
		return 0
	}
	share := 1.0
	if l.obstacle >= 0 {
		share = r.fill[l.obstacle]
	}
	for k := range r.e.Obstacles {
		if k != l.obstacle && r.within(k, q) {
			share *= 1 - r.fill[k]
		}
	}
	return share
}

// within tells whether a point lies in an obstacle.
func (r *room) within(obstacle int, p Point) bool {
	for i := r.first[obstacle]; i < r.first[obstacle+1]; i++ {
		l := &r.lines[i]
		if (p.X-l.a.X)*l.nx+(p.Z-l.a.Z)*l.nz > 0 {
			return false
		}
	}
	return true
}

func inside(outline []Point, at Point) bool {
	in := false
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if (p.Z > at.Z) != (q.Z > at.Z) && at.X < p.X+(q.X-p.X)*(at.Z-p.Z)/(q.Z-p.Z) {
			in = !in
		}
	}
	return in
}

// cuts are the places on a line (0..1) at which corners of other lines touch it, both ends counted in, rising.
func (r *room) cuts(i int) []float64 {
	l := &r.lines[i]
	list := []float64{0, 1}
	for _, c := range r.corners {
		u := ((c.X-l.a.X)*l.dx + (c.Z-l.a.Z)*l.dz) / (l.length * l.length)
		off := math.Abs((c.X-l.a.X)*l.dz-(c.Z-l.a.Z)*l.dx) / l.length
		if off < 1e3*r.eps && u > 1e-9 && u < 1-1e-9 {
			list = append(list, u)
		}
	}
	return rising(list, 1e-9)
}
