// Package modal reduces a linear body of many cells to independent modes behind the same ports.
//
// The cells' equations C dT/dt = -K T + B u are projected onto a space that is spanned by the body's own replies: for a few rates s
// the temperatures (s C + K)^-1 B that its ports bring about (block rational Krylov; Ruhe 1984, Linear Algebra Appl. 58:391-405;
// Grimme 1997), the same for the state it begins from, that state itself, and the state in which all cells are equally warm. Because the last is
// among them and the projection is symmetric, the heat that enters at the ports is exactly the heat that is stored more; because s = 0 is
// among the rates, every steady state is exact. The small symmetric problem is then brought to its own axes: the modes.
package modal

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// Port joins a cell to port Port through a resistance [K/W].
type Port struct {
	Cell, Port int
	R          float64
}

// Edge conducts between two cells [W/K].
type Edge struct {
	I, J int
	G    float64
}

// Body is what is to be reduced: cells in an order in which neighbours are near.
type Body struct {
	Capacity []float64 // by cell, above 0 [J/K]
	Edges    []Edge
	Ports    []Port
	Count    int       // of ports
	Start    []float64 // by cell: the state that it begins from [°C]
}

// Model is a linear body as independent modes,
//
//	dq/dt = -Rate q + Shape u,    heat into the body at port j = Total_j u_j - sum_i Shape_ij q_i
//
// with port temperatures u [°C]. What it holds is sum Weight q.
type Model struct {
	Rate   []float64 // by mode [1/s]
	Shape  []float64 // by mode and port (m x p); a mode counts in sqrt(J K)
	Total  []float64 // by port: what the port conducts into the body [W/K]
	Weight []float64 // by mode
}

// Reduced is a body as modes.
type Reduced struct {
	Model
	Start []float64 // modes' coordinates of Body.Start
	read  []float64 // by cell and mode
}

// Read is the row that gives a cell's temperature from the modes.
func (r *Reduced) Read(cell int) []float64 {
	m := len(r.Rate)
	return r.read[cell*m : cell*m+m]
}

// Rates at which the replies are matched [1/s]: none at all, that of a year, and from weeks to an hour, closest about that of a day.
var rates = [...]float64{0, 2e-7, 3e-6, 3e-5, 1e-4, 4e-4}

// When a direction is one that is there already: what is left of it, over what it was. The state that a body begins from
// and the steady replies of its ports are promised, so they are there only to about the last digit that a solution of the cells has.
const (
	same         = 0.05
	samePromised = 1e-8
)

// Reduce makes modes of a body. An error says what is wrong with it.
func Reduce(b Body) (*Reduced, error) {
	n := len(b.Capacity)
	for i, c := range b.Capacity {
		if !(c > 0) {
			return nil, fmt.Errorf("reduction of a body: cell %d holds %g J/K, must be above 0", i, c)
		}
	}
	if len(b.Start) != n {
		return nil, fmt.Errorf("reduction of a body: %d temperatures for %d cells", len(b.Start), n)
	}
	s := newSpace(b.Capacity)
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	s.add(ones, same)
	s.add(b.Start, samePromised)
	for _, rate := range rates {
		if err := b.replies(rate, s); err != nil {
			return nil, err
		}
	}
	return b.project(s)
}

// Whole makes modes of a body of few cells, as many as cells: nothing is left out.
func Whole(b Body) (*Reduced, error) {
	s := newSpace(b.Capacity)
	for i, c := range b.Capacity {
		if !(c > 0) {
			return nil, fmt.Errorf("modes of a body: cell %d holds %g J/K, must be above 0", i, c)
		}
		v := make([]float64, len(b.Capacity))
		v[i] = 1
		s.vectors = append(s.vectors, v...)
	}
	return b.project(s)
}

// replies adds what the ports and the begin bring about at a rate.
func (b *Body) replies(rate float64, s *space) error {
	factor, ok := lapack64.Pbtrf(b.matrix(rate))
	if !ok {
		return fmt.Errorf("reduction of a body: its cells are not all joined to a port")
	}
	x := make([]float64, len(b.Capacity))
	solve := func(floor float64) {
		v := blas64.Vector{N: len(x), Inc: 1, Data: x}
		blas64.Tbsv(blas.Trans, factor, v)
		blas64.Tbsv(blas.NoTrans, factor, v)
		s.add(x, floor)
		clear(x)
	}
	floor := same
	if rate == 0 {
		floor = samePromised
	}
	of := make([][]Port, b.Count)
	for _, p := range b.Ports {
		of[p.Port] = append(of[p.Port], p)
	}
	for _, ports := range of {
		for _, p := range ports {
			x[p.Cell] += 1 / p.R
		}
		solve(floor)
	}
	for i, t := range b.Start {
		x[i] = b.Capacity[i] * t
	}
	solve(same)
	return nil
}

// matrix is rate C + K, its upper band.
func (b *Body) matrix(rate float64) blas64.SymmetricBand {
	band := 0
	for _, e := range b.Edges {
		band = max(band, e.I-e.J, e.J-e.I)
	}
	n, w := len(b.Capacity), band+1
	a := make([]float64, n*w)
	for i, c := range b.Capacity {
		a[i*w] = rate * c
	}
	for _, e := range b.Edges {
		a[e.I*w] += e.G
		a[e.J*w] += e.G
		low, high := min(e.I, e.J), max(e.I, e.J)
		a[low*w+high-low] -= e.G
	}
	for _, p := range b.Ports {
		a[p.Cell*w] += 1 / p.R
	}
	return blas64.SymmetricBand{Uplo: blas.Upper, N: n, K: band, Stride: w, Data: a}
}

// space is directions v by rows, each times the root of the capacities, so that they are orthonormal in the heat that they hold: v' C w is 1 or 0.
type space struct {
	root    []float64 // of the cells' capacities
	vectors []float64
	share   []float64 // of a new direction in each of them
}

func newSpace(capacity []float64) *space {
	s := &space{root: make([]float64, len(capacity))}
	for i, c := range capacity {
		s.root[i] = math.Sqrt(c)
	}
	return s
}

func (s *space) count() int { return len(s.vectors) / len(s.root) }

// matrix is the directions, times the roots, by rows.
func (s *space) matrix() blas64.General {
	return blas64.General{Rows: s.count(), Cols: len(s.root), Stride: len(s.root), Data: s.vectors}
}

// add takes in a direction, unless less than floor of it is new.
func (s *space) add(direction []float64, floor float64) {
	v := blas64.Vector{N: len(s.root), Inc: 1, Data: make([]float64, len(s.root))}
	for i, t := range direction {
		v.Data[i] = s.root[i] * t
	}
	whole := blas64.Nrm2(v)
	if whole == 0 {
		return
	}
	if m := s.count(); m > 0 {
		s.share = append(s.share, make([]float64, m-len(s.share))...)
		share := blas64.Vector{N: m, Inc: 1, Data: s.share}
		for range 2 { // twice is enough (Giraud and others 2005)
			blas64.Gemv(blas.NoTrans, 1, s.matrix(), v, 0, share)
			blas64.Gemv(blas.Trans, -1, s.matrix(), share, 1, v)
		}
	}
	left := blas64.Nrm2(v)
	if left < floor*whole {
		return
	}
	blas64.Scal(1/left, v)
	s.vectors = append(s.vectors, v.Data...)
}

// project writes the body's equations in the space and brings them to their own axes.
func (b *Body) project(s *space) (*Reduced, error) {
	n, m := len(b.Capacity), s.count()
	basis, flows := mat.NewDense(m, n, s.vectors), mat.NewDense(m, n, nil)
	for i := range m {
		v := basis.RawRowView(i)
		for c := range v {
			v[c] /= s.root[c]
		}
		b.conduct(v, flows.RawRowView(i))
	}
	var whole mat.Dense
	whole.Mul(basis, flows.T())
	small := mat.NewSymDense(m, nil)
	for i := range m {
		for j := range i + 1 {
			small.SetSym(i, j, whole.At(i, j))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(small, true) {
		return nil, fmt.Errorf("reduction of a body: its modes were not found")
	}
	var turn mat.Dense
	eigen.VectorsTo(&turn)
	r := &Reduced{read: make([]float64, n*m), Start: make([]float64, m)}
	r.Rate, r.Weight = eigen.Values(nil), make([]float64, m)
	r.Shape, r.Total = make([]float64, m*b.Count), make([]float64, b.Count)
	for i := range r.Rate {
		r.Rate[i] = max(0, r.Rate[i])
	}
	mat.NewDense(n, m, r.read).Mul(basis.T(), &turn)
	for c, capacity := range b.Capacity {
		row := r.Read(c)
		for i, v := range row {
			r.Weight[i] += capacity * v
			r.Start[i] += capacity * v * b.Start[c]
		}
	}
	for _, p := range b.Ports {
		g := 1 / p.R
		r.Total[p.Port] += g
		for i, v := range r.Read(p.Cell) {
			r.Shape[i*b.Count+p.Port] += g * v
		}
	}
	return r, nil
}

// conduct is K v.
func (b *Body) conduct(v, out []float64) {
	clear(out)
	for _, e := range b.Edges {
		q := e.G * (v[e.I] - v[e.J])
		out[e.I] += q
		out[e.J] -= q
	}
	for _, p := range b.Ports {
		out[p.Cell] += v[p.Cell] / p.R
	}
}
