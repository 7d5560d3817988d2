package ground

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Cell is one cell of a mesh: a rectangle of one medium, Width long along the house.
type Cell struct {
	X0, Z0, X1, Z1 float64 // [m]
	Medium         Medium
	Width          float64 // [m]
}

// Middle is the middle of the cell [m].
func (c *Cell) Middle() (x, z float64) { return (c.X0 + c.X1) / 2, (c.Z0 + c.Z1) / 2 }

// Volume is the volume of the cell [m³].
func (c *Cell) Volume() float64 { return (c.X1 - c.X0) * (c.Z1 - c.Z0) * c.Width }

// side is one of the four sides of a cell; side^1 is the one across.
type side int

const (
	left side = iota
	right
	below
	above
)

// half is the distance from the cell's middle to a side, span the length of that side [m].
func (c *Cell) half(s side) float64 {
	if s < below {
		return (c.X1 - c.X0) / 2
	}
	return (c.Z1 - c.Z0) / 2
}

func (c *Cell) span(s side) float64 {
	if s < below {
		return c.Z1 - c.Z0
	}
	return c.X1 - c.X0
}

// resistance is that of the half cell behind a side, over a length of that side [K/W], thawed and frozen.
func (c *Cell) resistance(s side, length float64) (thawed, frozen float64) {
	r := c.half(s) / (length * c.Width)
	thawed, frozen = r/c.Medium.K, r/c.Medium.K
	if c.Medium.KFrozen != 0 {
		frozen = r / c.Medium.KFrozen
	}
	return thawed, frozen
}

// Mesh is a slice cut into cells. Cells are numbered along the shorter direction; holes have none.
type Mesh struct {
	Cells []Cell
	Faces []Face // where cells touch a rim
	Band  int    // greatest difference between the numbers of two neighbours

	x, z   []float64
	number []int    // by ix*nz+iz: the cell's number, -1 in a hole
	beside [][4]int // by cell and side: the neighbour, or -1
	face   [][4]int // by cell and side: the face, or -1
	rims   []Rim
	inner  []innerPort // of sheets
}

// Mesh cuts the slice. An error names the entry at fault and what is allowed.
func (s Slice) Mesh() (*Mesh, error) { return s.mesh(max(1, s.Parts), max(1, s.Parts)) }

func (s *Slice) mesh(partsX, partsZ int) (*Mesh, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	m := &Mesh{rims: slices.Clone(s.Rims)}
	fx, fz := s.fixed()
	sx, sz := s.sizes()
	sx.parts, sz.parts = partsX, partsZ
	m.x, m.z = sx.lines(fx), sz.lines(fz)
	s.fill(m)
	m.join()
	if len(m.Cells) == 0 {
		return nil, fmt.Errorf("slice: holes leave no cell")
	}
	if err := s.faces(m); err != nil {
		return nil, err
	}
	return m, nil
}

// fixed are the places where lines must lie, by axis.
func (s *Slice) fixed() (x, z []float64) {
	add := func(px, pz float64) { x, z = append(x, px), append(z, pz) }
	for _, r := range s.Rects {
		add(r.X0, r.Z0)
		add(r.X1, r.Z1)
	}
	for _, r := range s.Rims {
		add(r.A.X, r.A.Z)
		add(r.B.X, r.B.Z)
	}
	for _, h := range s.Holes {
		for _, p := range h {
			add(p.X, p.Z)
		}
	}
	z = append(z, s.LinesZ...)
	return distinct(x, s.X0, s.X1), distinct(z, s.Z0, s.Z1)
}

// sizes are the sizings of both axes with defaults filled in.
func (s *Slice) sizes() (x, z sizing) {
	base := sizing{finest: s.Finest, growth: s.Growth, coarsest: s.Coarsest}
	if base.growth == 0 {
		base.growth = 0.25
	}
	if base.coarsest == 0 {
		base.coarsest = 1
	}
	x, z = base, base
	x.fine, z.fine = slices.Clone(s.FineX), slices.Clone(s.FineZ)
	for _, h := range s.Holes {
		for _, p := range h {
			if len(s.FineX) == 0 {
				x.fine = append(x.fine, p.X)
			}
			if len(s.FineZ) == 0 {
				z.fine = append(z.fine, p.Z)
			}
		}
	}
	slices.Sort(x.fine)
	slices.Sort(z.fine)
	return x, z
}

// fill makes the cells in the order with the smaller band.
func (s *Slice) fill(m *Mesh) {
	nx, nz := len(m.x)-1, len(m.z)-1
	solid := make([]bool, nx*nz)
	for i := range solid {
		ix, iz := i/nz, i%nz
		solid[i] = !inHoles(s.Holes, (m.x[ix]+m.x[ix+1])/2, (m.z[iz]+m.z[iz+1])/2)
	}
	byColumn, byRow := numbering(solid, nx, nz, true), numbering(solid, nx, nz, false)
	m.number, m.Band = byColumn, band(byColumn, nx, nz)
	if b := band(byRow, nx, nz); b < m.Band {
		m.number, m.Band = byRow, b
	}
	count := 0
	for _, n := range m.number {
		count = max(count, n+1)
	}
	m.Cells = make([]Cell, count)
	for i, n := range m.number {
		if n >= 0 {
			ix, iz := i/nz, i%nz
			c := Cell{X0: m.x[ix], X1: m.x[ix+1], Z0: m.z[iz], Z1: m.z[iz+1], Width: s.Width}
			x, z := c.Middle()
			c.Medium = s.medium(x, z)
			m.Cells[n] = c
		}
	}
}

func (s *Slice) medium(x, z float64) Medium {
	for i := len(s.Rects) - 1; i >= 0; i-- {
		r := &s.Rects[i]
		if x > r.X0 && x < r.X1 && z > r.Z0 && z < r.Z1 {
			return r.Medium
		}
	}
	return s.Fill
}

func numbering(solid []bool, nx, nz int, byColumn bool) []int {
	number := make([]int, len(solid))
	next := 0
	give := func(i int) {
		number[i] = -1
		if solid[i] {
			number[i] = next
			next++
		}
	}
	if byColumn {
		for i := range solid {
			give(i)
		}
		return number
	}
	for iz := range nz {
		for ix := range nx {
			give(ix*nz + iz)
		}
	}
	return number
}

func band(number []int, nx, nz int) int {
	worst := 0
	for i, n := range number {
		if n < 0 {
			continue
		}
		if i%nz+1 < nz && number[i+1] >= 0 {
			worst = max(worst, number[i+1]-n)
		}
		if i/nz+1 < nx && number[i+nz] >= 0 {
			worst = max(worst, number[i+nz]-n)
		}
	}
	return worst
}

// join finds the neighbours of all cells.
func (m *Mesh) join() {
	nx, nz := len(m.x)-1, len(m.z)-1
	at := func(ix, iz int) int {
		if ix < 0 || ix >= nx || iz < 0 || iz >= nz {
			return -1
		}
		return m.number[ix*nz+iz]
	}
	m.beside, m.face = make([][4]int, len(m.Cells)), make([][4]int, len(m.Cells))
	for i, n := range m.number {
		if n >= 0 {
			ix, iz := i/nz, i%nz
			m.beside[n] = [4]int{left: at(ix-1, iz), right: at(ix+1, iz), below: at(ix, iz-1), above: at(ix, iz+1)}
			m.face[n] = [4]int{-1, -1, -1, -1}
		}
	}
}

// CellAt is the number of the cell at a place, -1 outside the slice and in a hole. On a line between two cells it is one
// of those with matter.
func (m *Mesh) CellAt(x, z float64) int {
	nz := len(m.z) - 1
	for _, ix := range stretches(m.x, x) {
		for _, iz := range stretches(m.z, z) {
			if ix >= 0 && iz >= 0 {
				if n := m.number[ix*nz+iz]; n >= 0 {
					return n
				}
			}
		}
	}
	return -1
}

// stretches are the one or two stretches between lines at v; -1 where there is none.
func stretches(lines []float64, v float64) [2]int {
	last := len(lines) - 2
	i := sort.SearchFloat64s(lines, v) - 1 // lines[i] < v <= lines[i+1]
	out := [2]int{i, -1}
	if i < 0 || i > last {
		out[0] = -1
	}
	if i+1 <= last && math.Abs(lines[i+1]-v) <= near {
		out[1] = i + 1
	} else if i >= 1 && math.Abs(lines[i]-v) <= near {
		out[1] = i - 1
	}
	return out
}

// inHoles tells whether a place is in one of the polygons (rays upward cross an odd number of edges).
func inHoles(holes [][]Point, x, z float64) bool {
	for _, h := range holes {
		in := false
		for i, a := range h {
			b := h[(i+1)%len(h)]
			if (a.X > x) != (b.X > x) && z < a.Z+(b.Z-a.Z)*(x-a.X)/(b.X-a.X) {
				in = !in
			}
		}
		if in {
			return true
		}
	}
	return false
}
