package enclosure

import (
	"math"
	"slices"
)

// sweep looks round from one point of the section and finds, direction by direction, what is met. Between two corners it is always the same
// lines, so nothing is missed however thin it is.
type sweep struct {
	r     *room
	s     []float64
	hits  []hit
	way   []float64
	reach reach
	row   []float64 // by surface: share of what leaves the point
}

// reach is the share of what goes out across the section, in all directions along the house, that lands within the length at a distance in the
// section [m]. It is 1 at distance 0 and falls.
type reach func(distance float64) float64

// fromAnywhere is the reach for an emitter that runs the whole length L of the house, as the lines of the section do:
//
//	(2/pi) arctan(L/r)
//
// Two strips of the section at distance r see each other by cos a cos b r²/(pi (r² + s²)²), s the distance along. Its integral over both lengths is
// cos a cos b L arctan(L/r)/(pi r); without end it is cos a cos b L/(2 r).
func fromAnywhere(length float64) reach {
	return func(r float64) float64 {
		if r == 0 {
			return 1
		}
		return math.Atan(length/r) * (2 / math.Pi)
	}
}

// fromMiddle is the reach for a small emitter in the middle of the length: (2/pi)(arctan x + x/(1 + x²)), x = L/(2 r); the same law,
// integrated over one length only.
func fromMiddle(length float64) reach {
	return func(r float64) float64 {
		if r == 0 {
			return 1
		}
		x := length / 2 / r
		return (2 / math.Pi) * (math.Atan(x) + x/(1+x*x))
	}
}

// view is a point with its normal and the line it lies on (-1: none).
type view struct {
	p      Point
	nx, nz float64
	from   int
}

// around adds to the row what a diffuse emitter at the point sends to each surface, weight in all, in directions whose sine from the normal is
// lo to hi (-1..1, positive to the right of the normal): energy goes evenly with the sine, d(sin)/2.
func (w *sweep) around(v view, lo, hi, weight float64) {
	tx, tz := v.nz, -v.nx
	w.s = append(w.s[:0], lo, hi)
	add := func(x, z float64) {
		if c := x*v.nx + z*v.nz; c > 0 {
			if s := (x*tx + z*tz) / math.Hypot(x, z); s > lo && s < hi {
				w.s = append(w.s, s)
			}
		}
	}
	for _, c := range w.r.corners {
		add(c.X-v.p.X, c.Z-v.p.Z)
	}
	w.s = rising(w.s, 1e-12)
	for i := 1; i < len(w.s); i++ {
		a, b := w.s[i-1], w.s[i]
		m := (a + b) / 2
		c := math.Sqrt(1 - m*m)
		w.hits = w.r.cast(w.hits, v.p, m*tx+c*v.nx, m*tz+c*v.nz, v.from)
		if len(w.hits) > 0 {
			w.between(v, a, b, weight, 8)
		}
	}
}

// narrow is the range of sines in which two Gauss places do.
const narrow = 0.06

// The Gauss rules of two and four places on -1..1, weights halved; read only. Source: Abramowitz and I. A. Stegun, table 25.4.
var (
	gauss2  = [2]float64{-0.5773502691896258, 0.5773502691896258}
	gauss4  = [4]float64{-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526}
	weight4 = [4]float64{0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269}
)

// between integrates over sines a to b, in which the same lines are met, by Gauss places; where the last line is much nearer at one end than at the
// other, in parts, cut near the near end.
func (w *sweep) between(v view, a, b, weight float64, deeper int) {
	tx, tz := v.nz, -v.nx
	toward := func(s float64) (dx, dz float64) {
		c := math.Sqrt(math.Max(0, 1-s*s))
		return s*tx + c*v.nx, s*tz + c*v.nz
	}
	if b-a > 0.5 {
		m := (a + b) / 2
		w.between(v, a, m, weight, deeper)
		w.between(v, m, b, weight, deeper)
		return
	}
	if deeper > 0 {
		wall := &w.r.lines[w.hits[len(w.hits)-1].line]
		dx, dz := toward(a)
		ra, ua := wall.meet(v.p, dx, dz)
		dx, dz = toward(b)
		rb, ub := wall.meet(v.p, dx, dz)
		if ra, rb = math.Abs(ra), math.Abs(rb); math.Max(ra, rb) > 1.5*math.Min(ra, rb) && ra+rb < math.Inf(1) {
			q := wall.at(ua + (ub-ua)*ra/(ra+rb))
			x, z := q.X-v.p.X, q.Z-v.p.Z
			if s := (x*tx + z*tz) / math.Hypot(x, z); s > a && s < b {
				w.between(v, a, s, weight, deeper-1)
				w.between(v, s, b, weight, deeper-1)
				return
			}
		}
	}
	if b-a < narrow {
		for _, g := range gauss2 {
			dx, dz := toward((a + b + g*(b-a)) / 2)
			w.land(v.p, dx, dz, weight*(b-a)/4)
		}
		return
	}
	for k, g := range gauss4 {
		dx, dz := toward((a + b + g*(b-a)) / 2)
		w.land(v.p, dx, dz, weight*(b-a)/2*weight4[k])
	}
}

// land follows a ray along the hits of its neighbourhood.
func (w *sweep) land(p Point, dx, dz, energy float64) {
	before, near := 0.0, 1.0
	for _, h := range w.hits {
		at, _ := w.r.lines[h.line].meet(p, dx, dz)
		at = math.Max(at, before)
		far := w.reach(at)
		w.ends(p, dx, dz, before, at, near, far, energy)
		w.row[h.line] += energy * h.stopped * far
		energy *= 1 - h.stopped
		before, near = at, far
	}
}

// ends gives both ends what passes them between two distances of a ray, by cell: the way is cut where it passes from cell to cell.
func (w *sweep) ends(p Point, dx, dz, from, to, near, far, energy float64) {
	if to <= from {
		return
	}
	w.way = crossings(w.way[:0], w.r.e.Levels, p.Z, dz, from, to)
	w.way = crossings(w.way, w.r.e.Columns, p.X, dx, from, to)
	for i := 1; i < len(w.way); i++ {
		for k := i; k > 0 && w.way[k] < w.way[k-1]; k-- {
			w.way[k], w.way[k-1] = w.way[k-1], w.way[k]
		}
	}
	before, x := from, near
	for i := range len(w.way) + 1 {
		at, y := to, far
		if i < len(w.way) {
			at = w.way[i]
			y = w.reach(at)
		}
		m := (before + at) / 2
		b := w.r.e.cellOf(Point{p.X + m*dx, p.Z + m*dz})
		q := energy * (x - y) / 2
		w.row[w.r.cell(0, b)] += q
		w.row[w.r.cell(1, b)] += q
		before, x = at, y
	}
}

// crossings adds the distances between from and to at which a coordinate that is at `at` and rises by `rise` passes the cuts.
func crossings(list, cuts []float64, at, rise, from, to float64) []float64 {
	for _, c := range cuts {
		if d := (c - at) / rise; d > from && d < to {
			list = append(list, d)
		}
	}
	return list
}

// rising sorts a list and takes out what is nearer than tolerance to the one before.
func rising(list []float64, tolerance float64) []float64 {
	slices.Sort(list)
	out := list[:1]
	for _, x := range list[1:] {
		if x-out[len(out)-1] > tolerance {
			out = append(out, x)
		}
	}
	return out
}
