package validation

import (
	"fmt"
	"math"
	"testing"

	"suncellar/internal/ground"
)

// solid is steady conduction in three dimensions, a quarter of a house on or in the ground by finite volumes, written for these tests alone: the program itself
// has slices. x and y run from the middle of the floor outward, z down from grade. Cells of the pit are empty.
type solid struct {
	x, y, z []float64 // edges of cells [m]
	k       float64   // [W/mK]
	empty   func(x, y, z float64) bool
	// floor, wall and open are what the faces of the pit or the slab, and of the ground outdoors, stand behind [m²K/W]; 0 is a given temperature.
	floor, wall, open float64
	above             func(x, y float64) (t float64, joined bool) // temperature over grade; not joined is adiabatic
	deep              bool                                        // the foot stands at 0 °C
}

// graded are edges from 0 to far that are finest at the given places and grow away from them by growth a cell.
func graded(far, finest, growth float64, places ...float64) []float64 {
	at := append([]float64{}, places...)
	at = append(at, far)
	edges, from := []float64{0}, 0.0
	for i, to := range at {
		var left []float64 // cells from both ends, or from the near end alone in the last stretch
		size, sum := finest, 0.0
		fineStart := i > 0
		switch {
		case i == len(at)-1: // grows outward
			for sum < to-from {
				left = append(left, size)
				sum += size
				size *= growth
			}
		case !fineStart: // grows inward from the far end
			for sum < to-from {
				left = append([]float64{size}, left...)
				sum += size
				size *= growth
			}
		default:
			n := int(math.Ceil((to - from) / finest))
			for range n {
				left = append(left, (to-from)/float64(n))
				sum += (to - from) / float64(n)
			}
		}
		for _, s := range left {
			edges = append(edges, edges[len(edges)-1]+s*(to-from)/sum)
		}
		from = to
	}
	return edges
}

// loss is the heat that leaves what stands at 1 °C in the whole house, four quarters, per kelvin [W/K].
func (s *solid) loss(t *testing.T) float64 {
	t.Helper()
	nx, ny, nz := len(s.x)-1, len(s.y)-1, len(s.z)-1
	n := nx * ny * nz
	index := func(i, j, l int) int { return (l*ny+j)*nx + i }
	mid := func(e []float64, i int) float64 { return (e[i] + e[i+1]) / 2 }
	gx, gy, gz := make([]float64, n), make([]float64, n), make([]float64, n) // to the next cell along each axis
	diagonal, source, inside := make([]float64, n), make([]float64, n), make([]float64, n)
	hollow := make([]bool, n)
	for l := range nz {
		for j := range ny {
			for i := range nx {
				hollow[index(i, j, l)] = s.empty != nil && s.empty(mid(s.x, i), mid(s.y, j), mid(s.z, l))
			}
		}
	}
	give := func(c int, g, temperature float64) {
		diagonal[c] += g
		source[c] += g * temperature
		if temperature == 1 {
			inside[c] += g
		}
	}
	for l := range nz {
		for j := range ny {
			for i := range nx {
				c := index(i, j, l)
				if hollow[c] {
					diagonal[c] = 1
					continue
				}
				dx, dy, dz := s.x[i+1]-s.x[i], s.y[j+1]-s.y[j], s.z[l+1]-s.z[l]
				join := func(g []float64, next int, area, own, other, film float64) {
					switch {
					case next < 0:
					case hollow[next]:
						give(c, area/(own/2/s.k+film), 1)
					default:
						g[c] = area * s.k / ((own + other) / 2)
					}
				}
				if i+1 < nx {
					join(gx, index(i+1, j, l), dy*dz, dx, s.x[i+2]-s.x[i+1], s.wall)
				}
				if j+1 < ny {
					join(gy, index(i, j+1, l), dx*dz, dy, s.y[j+2]-s.y[j+1], s.wall)
				}
				if l+1 < nz {
					join(gz, index(i, j, l+1), dx*dy, dz, s.z[l+2]-s.z[l+1], s.floor)
				}
				if i > 0 && hollow[index(i-1, j, l)] {
					give(c, dy*dz/(dx/2/s.k+s.wall), 1)
				}
				if j > 0 && hollow[index(i, j-1, l)] {
					give(c, dx*dz/(dy/2/s.k+s.wall), 1)
				}
				if l > 0 && hollow[index(i, j, l-1)] {
					give(c, dx*dy/(dz/2/s.k+s.floor), 1)
				}
				if s.deep && l+1 == nz {
					give(c, dx*dy/(dz/2/s.k), 0)
				}
				if l == 0 {
					if over, joined := s.above(mid(s.x, i), mid(s.y, j)); joined {
						film := s.open
						if over == 1 {
							film = s.floor
						}
						give(c, dx*dy/(dz/2/s.k+film), over)
					}
				}
			}
		}
	}
	steps := [3]int{1, nx, nx * ny}
	links := [3][]float64{gx, gy, gz}
	for a, g := range links {
		for c, v := range g {
			if v > 0 {
				diagonal[c] += v
				diagonal[c+steps[a]] += v
			}
		}
	}
	temperatures := conjugate(t, diagonal, links, steps, source)
	q := 0.0
	for c, g := range inside {
		q += g * (1 - temperatures[c])
	}
	return 4 * q
}

// conjugate solves the seven-point system by conjugate gradients with the diagonal before it, to a millionth of the source.
func conjugate(t *testing.T, diagonal []float64, links [3][]float64, steps [3]int, source []float64) []float64 {
	t.Helper()
	n := len(diagonal)
	x, r, p, ap := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	copy(r, source)
	size, rho := 0.0, 0.0
	for c := range r {
		size += r[c] * r[c]
		p[c] = r[c] / diagonal[c]
		rho += r[c] * p[c]
	}
	for range 4000 {
		for c := range ap {
			ap[c] = diagonal[c] * p[c]
		}
		for a, g := range links {
			step := steps[a]
			for c, v := range g {
				if v > 0 {
					ap[c] -= v * p[c+step]
					ap[c+step] -= v * p[c]
				}
			}
		}
		pap := 0.0
		for c := range p {
			pap += p[c] * ap[c]
		}
		alpha, rest := rho/pap, 0.0
		for c := range x {
			x[c] += alpha * p[c]
			r[c] -= alpha * ap[c]
			rest += r[c] * r[c]
		}
		if rest < 1e-14*size {
			return x
		}
		next := 0.0
		for c := range r {
			next += r[c] * r[c] / diagonal[c]
		}
		beta := next / rho
		rho = next
		for c := range p {
			p[c] = r[c]/diagonal[c] + beta*p[c]
		}
	}
	t.Fatal("conjugate gradients do not settle")
	return nil
}

// endsAgainstSolid holds the slice widened for the ends against three dimensions: floors on the ground and pits, with the films of ISO 13370.
func endsAgainstSolid(t *testing.T, s *section) {
	pad := &solid{k: 1.9, x: graded(120, 0.03, 1.25, 6, 6.24), above: func(x, y float64) (float64, bool) {
		return math.Min(1, math.Max(0, 1-(math.Max(x, y)-6)/0.24)), true
	}}
	pad.y, pad.z = pad.x, graded(120, 0.015, 1.25)
	s.near(seen, "GC10a, by the three-dimensional volumes that the next rows rest on", 20*pad.loss(t), 2432.597, 0.02*2432.597, " W").source = "Delsante, Stokes and Walsh 1983"
	films := &solid{k: 1.9, floor: 0.01, open: 0.01, deep: true, x: graded(26, 0.03, 1.2, 6, 6.24), z: graded(30, 0.015, 1.2), above: func(x, y float64) (float64, bool) {
		far := math.Max(x, y)
		return map[bool]float64{true: 1}[far < 6], far < 6 || far > 6.24
	}}
	films.y = films.x
	r := s.near(recomputed, "GC30b, by the same volumes: 30 m deep, 20 m out, the wall's foot adiabatic, films of 100 W/m2K", 20*films.loss(t), 2533, 0.01*2533, " W")
	r.source, r.note = "NREL/TP-550-43388, 2008", "the figure is from memory, 2530 W recomputed before"
	for _, c := range []struct{ length, breadth, depth float64 }{{7.3, 3.6, 0}, {7.3, 3.6, 1.2}, {12, 4, 1.2}, {4, 4, 1.2}} {
		const k, wall = 1.5, 0.3
		box := &solid{k: k, floor: 0.17, wall: 0.13, open: 0.04,
			x: graded(25, 0.05, 1.3, c.breadth/2, c.breadth/2+wall), y: graded(25, 0.05, 1.3, c.length/2, c.length/2+wall), z: depths(c.depth),
			above: func(x, y float64) (float64, bool) {
				switch {
				case x < c.breadth/2 && y < c.length/2:
					return 1, true
				case x < c.breadth/2+wall && y < c.length/2+wall:
					return 0, false
				}
				return 0, true
			}}
		if c.depth > 0 {
			box.empty = func(x, y, z float64) bool { return x < c.breadth/2 && y < c.length/2 && z < c.depth }
		}
		want := box.loss(t)
		f := ground.Footprint{Breadth: c.breadth, Length: c.length, Depth: c.depth, Wall: wall, K: k}
		ratio, err := f.SolidRatio()
		if err != nil {
			t.Fatal(err)
		}
		got, endless := widened(t, f, ratio)
		formula, _ := widened(t, f, f.Ratio())
		name := fmt.Sprintf("floor %g by %g m, %g m deep: the slice widened for the ends", c.length, c.breadth, c.depth)
		if c.depth == 0 {
			name = fmt.Sprintf("slab %g by %g m: the slice widened for the ends", c.length, c.breadth)
		}
		r := s.near(recomputed, name, got, want, 0.03*want, " W/K")
		r.source = "three-dimensional volumes of this test"
		r.note = fmt.Sprintf("1.5 W/mK, walls 0.3 m, films of ISO 13370; its formula %.1f W/K; the slice alone %.1f W/K, widened by the formula's ratio, as the program did before, %.1f W/K; 3 %% is the program's own aim", f.Loss(), endless, formula)
	}
}

// depths are the edges of cells from grade down, finest there and at the floor.
func depths(floor float64) []float64 {
	if floor == 0 {
		return graded(25, 0.05, 1.3)
	}
	var out []float64
	for i := range 25 {
		out = append(out, floor*float64(i)/24)
	}
	for size := 0.05; out[len(out)-1] < 25; size *= 1.3 {
		out = append(out, out[len(out)-1]+size)
	}
	return out
}

// widened is the loss of the program's slice of a footprint, widened for the ends and as it is [W/K].
func widened(t *testing.T, f ground.Footprint, ratio float64) (house, slice float64) {
	t.Helper()
	const reach = 25.0
	line := func(x0, z0, x1, z1 float64, port int, r float64) ground.Rim {
		return ground.Rim{A: ground.Point{X: x0, Z: z0}, B: ground.Point{X: x1, Z: z1}, Port: port, R: r}
	}
	b, d, w := f.Breadth, f.Depth, f.Wall
	s := ground.Slice{X0: -reach, X1: b + reach, Z0: -reach, Fill: ground.Medium{K: f.K}, Width: f.Length, Finest: 0.05, Growth: 0.25, Coarsest: 2,
		FineX: []float64{0, b, -w, b + w}, FineZ: []float64{0, -d},
		Rims: []ground.Rim{line(0, -d, b, -d, 0, 0.17), line(-reach, 0, -w, 0, 1, 0.04), line(b+w, 0, b+reach, 0, 1, 0.04)}}
	if d > 0 {
		s.Holes = [][]ground.Point{{{X: 0, Z: 0}, {X: 0, Z: -d}, {X: b, Z: -d}, {X: b, Z: 0}}}
		s.Rims = append(s.Rims, line(0, -d, 0, 0, 2, 0.13), line(b, -d, b, 0, 2, 0.13))
	} else {
		s.Rims = append(s.Rims, line(-w, 0, 0, 0, 2, 1e6))
	}
	trial := []float64{1, 0, 1}
	m := cut(t, s)
	slice = -steady(t, m, trial...).watts(1)
	if _, err := m.Widen(ground.Ends{Footprint: f, Ratio: ratio, X0: 0, X1: b, Trial: trial, Loss: []int{1}}); err != nil {
		t.Fatal(err)
	}
	return -steady(t, m, trial...).watts(1), slice
}
