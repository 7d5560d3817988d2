package enclosure

import (
	"math"
	"math/rand/v2"
	"testing"
)

// photons follows n particles of diffuse light from one edge of a room through all reflections in three dimensions and counts by what piece they are taken
// up. Nothing of the factors is used but what a ray meets in the section.
func photons(e *Enclosure, edge, n int, back []float64) []float64 {
	r := newRoom(e, false)
	rng := rand.New(rand.NewPCG(1, 2))
	taken := make([]float64, e.Pieces)
	lambert := func(nx, ny, nz float64) (dx, dy, dz float64) {
		s, a := math.Sqrt(rng.Float64()), 2*math.Pi*rng.Float64()
		c := math.Sqrt(1 - s*s)
		tx, ty, tz := nz, 0.0, -nx // across the normal, in the section
		if ny != 0 {
			tx, tz = 1, 0
		}
		bx, by, bz := ny*tz-nz*ty, nz*tx-nx*tz, nx*ty-ny*tx
		u, v := s*math.Cos(a), s*math.Sin(a)
		return c*nx + u*tx + v*bx, c*ny + u*ty + v*by, c*nz + u*tz + v*bz
	}
	choose := func(parts []Part) int {
		x := rng.Float64()
		for _, p := range parts {
			if x -= p.Share; x < 0 {
				return p.Piece
			}
		}
		return parts[len(parts)-1].Piece
	}
	var hits []hit
	for range n {
		from := edge
		l := &r.lines[from]
		p, y := l.at(rng.Float64()), rng.Float64()*e.Length
		dx, dy, dz := lambert(l.nx, 0, l.nz)
		for {
			across := math.Hypot(dx, dz)
			if across < 1e-12 {
				across = 1e-12
			}
			hits = r.cast(hits, p, dx/across, dz/across, from)
			if len(hits) == 0 {
				break
			}
			h := hits[0]
			way := h.distance
			toEnd := math.Inf(1)
			if dy > 0 {
				toEnd = (e.Length - y) / dy * across
			} else if dy < 0 {
				toEnd = y / -dy * across
			}
			var piece int
			var nx, ny, nz float64
			if toEnd < way {
				p = Point{p.X + dx/across*toEnd, p.Z + dz/across*toEnd}
				end := 0
				ny = 1
				y = 0
				if dy > 0 {
					end, ny, y = 1, -1, e.Length
				}
				piece, from = choose(e.Ends[end][e.cellOf(p)]), -1
			} else {
				y += dy / across * way
				p = Point{p.X + dx/across*way, p.Z + dz/across*way}
				from = h.line
				piece = choose(r.lines[from].parts)
				nx, nz = r.lines[from].nx, r.lines[from].nz
			}
			if rng.Float64() >= back[piece] {
				taken[piece] += 1 / float64(n)
				break
			}
			dx, dy, dz = lambert(nx, ny, nz)
		}
	}
	return taken
}

// finely is a room with its edges cut to at most a length [m] and every side of an obstacle a piece of its own; of says which piece of the room each of
// its pieces belongs to.
func finely(e *Enclosure, most float64) (fine *Enclosure, of []int) {
	fine = &Enclosure{Length: e.Length}
	low, high := math.Inf(1), math.Inf(-1)
	for _, d := range e.Edges {
		low, high = math.Min(low, d.A.Z), math.Max(high, d.A.Z)
	}
	left, right := math.Inf(1), math.Inf(-1)
	for _, d := range e.Edges {
		left, right = math.Min(left, d.A.X), math.Max(right, d.A.X)
	}
	for x := left + most; x < right-0.2; x += most {
		fine.Columns = append(fine.Columns, x)
	}
	var bandsOf []int
	for z := low; ; {
		b := e.bandOf(z + 1e-9)
		bandsOf = append(bandsOf, b)
		z += most
		if b < len(e.Levels) {
			z = math.Min(z, e.Levels[b])
		}
		if z >= high-0.2 {
			break
		}
		fine.Levels = append(fine.Levels, z)
	}
	own := func(parts []Part) []Part {
		var out []Part
		for _, p := range parts {
			out = append(out, Part{len(of), p.Share})
			of = append(of, p.Piece)
		}
		return out
	}
	for _, d := range e.Edges {
		n := int(math.Ceil(d.length() / most))
		at := func(k int) Point {
			u := float64(k) / float64(n)
			return Point{d.A.X + u*(d.B.X-d.A.X), d.A.Z + u*(d.B.Z-d.A.Z)}
		}
		for k := range n {
			fine.Edges = append(fine.Edges, Edge{at(k), at(k + 1), own(d.Parts)})
		}
	}
	for _, o := range e.Obstacles {
		c := Obstacle{Corners: o.Corners, Fill: o.Fill, BeamFill: o.BeamFill}
		for _, parts := range o.Sides {
			c.Sides = append(c.Sides, own(parts))
		}
		fine.Obstacles = append(fine.Obstacles, c)
	}
	for k := range e.Ends {
		for _, b := range bandsOf {
			for range len(fine.Columns) + 1 {
				fine.Ends[k] = append(fine.Ends[k], own(e.Ends[k][b]))
			}
		}
	}
	fine.Pieces = len(of)
	return fine, of
}

// Factors, ends and reflections together against particles that are followed one by one: light that comes in evenly by the glazing, in pieces of at most 0.8 m.
func TestLightIsThatOfParticles(t *testing.T) {
	back := []float64{0.15, 0.15, 0.3, 0.3, 0.5, 0.65, 0.2, 0.4, 0.2, 0.08, 0.5, 0.6, 0.5, 0.6}
	for _, length := range []float64{3, 9} {
		e := pit(length, 1)
		fine, of := finely(e, 0.8)
		f := mustFactors(t, fine, 0)
		var reflect []float64
		for _, p := range of {
			reflect = append(reflect, back[p])
		}
		l, err := f.Light(reflect)
		if err != nil {
			t.Fatal(err)
		}
		first, sums := make([]float64, len(of)), make([]float64, e.Pieces)
		area := 0.0
		for i, p := range of {
			if p != 6 {
				continue
			}
			area += f.Area[i]
			for j := range first {
				first[j] += f.View[i][j]
			}
		}
		for j := range first {
			first[j] /= area
		}
		l.Taken(of, e.Pieces).Of(first, sums)
		const n = 200000
		counted := photons(e, 9, n, back)
		for i := range sums {
			// four times the spread of the count, and what a piece loses by its light being taken as even
			if allowed := 4*math.Sqrt(counted[i]/n) + 0.003; math.Abs(sums[i]-counted[i]) > allowed {
				t.Errorf("%g m long, piece %d takes up %.4f, particles %.4f", length, i, sums[i], counted[i])
			} else {
				t.Logf("%g m long, piece %d takes up %.4f, particles %.4f", length, i, sums[i], counted[i])
			}
		}
	}
}
