package enclosure

import (
	"fmt"
	"math"
)

// Options of the view factors.
type Options struct {
	Strips int // into which the longest line is cut, others by their length but at least 8, or as many; 0 means 24
}

// Factors is what the pieces of a room see of each other.
type Factors struct {
	Area []float64 // of each piece, as far as it is free [m²]
	// View is area times view factor, the same both ways [m²]: View[i][j] = A_i F_ij = A_j F_ji, and row i adds up to A_i.
	View [][]float64
	// Adjusted is by how much the strips missed reciprocity and closure before they were reconciled, as a share: the largest factor
	// by which a surface's factors were changed, less one. It bounds the error that more strips would take away.
	Adjusted float64

	room *room
	open []float64 // by surface: its area [m²]
}

// F is the view factor from piece i to piece j: the share of what leaves i that lands on j.
func (f *Factors) F(i, j int) float64 {
	if f.Area[i] == 0 {
		return 0
	}
	return f.View[i][j] / f.Area[i]
}

// Factors computes the view factors between all pieces.
//
// From two Gauss points of each strip of a line the section is swept round, corner by corner, which is exact for the point: the infinite
// strip's factor is half the difference of the sines, and of it (2/pi) arctan(L/r) stays within the length. What passes the ends goes to
// their cells; end sees end by what is left of its area. Then both are reconciled, see balance. The error is that of the strips: below 0.002
// of a factor with 24 strips where corners of obstacles throw half shadows, below 2e-5 without.
//
// Source: H. C. Hottel, A. F. Sarofim, Radiative Transfer, 1967, section 2 (infinite strips, the crossed strings); the length by the derivation at
// fromAnywhere.
func (e *Enclosure) Factors(o Options) (*Factors, error) {
	if err := e.Check(); err != nil {
		return nil, err
	}
	if o.Strips == 0 {
		o.Strips = 24
	}
	if o.Strips < 1 {
		return nil, fmt.Errorf("view factors with %d strips, must be at least 1", o.Strips)
	}
	f := &Factors{room: newRoom(e, false)}
	w := f.room.views(o.Strips)
	f.open = f.room.openAreas(w)
	f.room.endToEnd(w, f.open)
	f.Adjusted = balance(w, f.open)
	f.gather(w)
	return f, nil
}

// views are area times factor of all surfaces [m²]: rows of the lines as they were found, made symmetric; rows of the ends from theirs.
func (r *room) views(strips int) [][]float64 {
	n := r.surfaces()
	w := make([][]float64, n)
	for i := range w {
		w[i] = make([]float64, n)
	}
	longest := 0.0
	for i := range r.lines {
		longest = math.Max(longest, r.lines[i].length)
	}
	s := &sweep{r: r, reach: fromAnywhere(r.e.Length)}
	for i := range r.lines {
		count := max(min(8, strips), int(math.Ceil(float64(strips)*r.lines[i].length/longest)))
		s.row = w[i]
		r.overLine(i, count, func(p Point, open float64) {
			l := &r.lines[i]
			s.around(view{p, l.nx, l.nz, i}, -1, 1, open*r.e.Length)
		})
	}
	for i := range r.lines {
		for j := range i {
			m := (w[i][j] + w[j][i]) / 2
			w[i][j], w[j][i] = m, m
		}
		for k := len(r.lines); k < n; k++ {
			w[k][i] = w[i][k]
		}
	}
	return w
}

// overLine goes through two Gauss points of each strip of a line and tells how much free length each stands for [m]. Strips are the finer the nearer
// they are to a corner, by the cosine of even steps.
func (r *room) overLine(i, strips int, do func(p Point, open float64)) {
	cuts := r.cuts(i)
	l := &r.lines[i]
	for k := 1; k < len(cuts); k++ {
		a, b := cuts[k-1], cuts[k]
		n := max(2, int(math.Round(float64(strips)*(b-a))))
		for j := range n {
			from := (1 - math.Cos(math.Pi*float64(j)/float64(n))) / 2
			wide := (1-math.Cos(math.Pi*float64(j+1)/float64(n)))/2 - from
			for _, g := range gauss2 {
				p := l.at(a + (b-a)*(from+wide*(1+g)/2))
				if open := r.open(i, p); open > 0 {
					do(p, open*(b-a)*wide*l.length/2)
				}
			}
		}
	}
}

// openAreas are the areas of all surfaces as far as they are free [m²].
func (r *room) openAreas(w [][]float64) []float64 {
	a := make([]float64, r.surfaces())
	for i := range r.lines {
		r.overLine(i, 1, func(_ Point, open float64) { a[i] += open * r.e.Length })
	}
	for b := range r.e.cells() {
		area := r.e.cellArea(r.outline, b)
		for k := range r.e.Obstacles {
			area -= r.fill[k] * r.e.cellArea(r.e.Obstacles[k].Corners, b)
		}
		a[r.cell(0, b)], a[r.cell(1, b)] = math.Max(0, area), math.Max(0, area)
	}
	return a
}

// endToEnd lets the ends see each other by what the lines leave of them, shared among the cells by what is left of each.
func (r *room) endToEnd(w [][]float64, area []float64) {
	left := make([]float64, r.e.cells())
	sum := 0.0
	for b := range left {
		k := r.cell(0, b)
		left[b] = area[k]
		for i := range r.lines {
			left[b] -= w[k][i]
		}
		left[b] = math.Max(0, left[b])
		sum += left[b]
	}
	for b := range left {
		for c := range left {
			if sum > 0 {
				w[r.cell(0, b)][r.cell(1, c)] = left[b] * left[c] / sum
				w[r.cell(1, c)][r.cell(0, b)] = left[b] * left[c] / sum
			}
		}
	}
}

// gather adds the surfaces up to pieces.
func (f *Factors) gather(w [][]float64) {
	n := f.room.e.Pieces
	f.Area, f.View = make([]float64, n), make([][]float64, n)
	for i := range f.View {
		f.View[i] = make([]float64, n)
	}
	for i := range w {
		for _, p := range f.room.partsOf(i) {
			f.Area[p.Piece] += p.Share * f.open[i]
			for j := range w {
				for _, q := range f.room.partsOf(j) {
					f.View[p.Piece][q.Piece] += p.Share * q.Share * w[i][j]
				}
			}
		}
	}
}

// balance scales a symmetric matrix of areas times factors so that each row adds up to its area and it stays symmetric: w_ij d_i d_j with
//
//	d_i <- sqrt(d_i a_i / sum over j of w_ij d_j)
//
// until nothing moves. What was 0 stays 0, nothing becomes negative. It returns the largest |d_i² - 1|.
//
// Source: R. Sinkhorn, P. Knopp, Concerning nonnegative matrices and doubly stochastic matrices, Pacific J. Math. 21, 1967, in its symmetric
// form; that closure is to be enforced by such scaling: J. van Leersum, A method for determining a consistent set of radiation view
// factors from a set generated by a nonexact method, Int. J. Heat Fluid Flow 10:83, 1989, from memory.
func balance(w [][]float64, area []float64) float64 {
	n := len(w)
	d := make([]float64, n)
	for i := range d {
		d[i] = 1
	}
	for range 10000 {
		moved := 0.0
		for i := range d {
			sum := 0.0
			for j, x := range w[i] {
				sum += x * d[j]
			}
			if sum <= 0 || area[i] <= 0 {
				continue
			}
			next := math.Sqrt(d[i] * area[i] / sum)
			moved = math.Max(moved, math.Abs(next/d[i]-1))
			d[i] = next
		}
		if moved < 2e-14 {
			break
		}
	}
	worst := 0.0
	for i := range w {
		for j := range w {
			w[i][j] *= d[i] * d[j]
		}
		if area[i] > 0 {
			worst = math.Max(worst, math.Abs(d[i]*d[i]-1))
		}
	}
	return worst
}

// RowFill is what a row of upright cylinders, evenly spaced along the room, stops of diffuse radiation that crosses it: the factor from a plane to
// a long row of cylinders, by their diameter over their spacing x (0..1),
//
//	1 - sqrt(1 - x²) + x arctan(sqrt(1/x² - 1))
//
// Of a beam straight across, it stops x.
//
// Source: H. C. Hottel, A. F. Sarofim, Radiative Transfer, 1967, section 2 (first in Hottel 1931), from memory.
func RowFill(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	x = math.Min(x, 1)
	return 1 - math.Sqrt(1-x*x) + x*math.Atan(math.Sqrt(1/x/x-1))
}
