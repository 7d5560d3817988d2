package ground

import (
	"fmt"

	"suncellar/internal/thermal"
)

// Layer is a sheet of one medium.
type Layer struct {
	Thickness float64 // [m]
	Medium    Medium
}

// Strata is undisturbed ground from its surface down: layers, and below the last the fill, to a depth.
type Strata struct {
	Layers   []Layer
	Fill     Medium
	Depth    float64 // of the whole [m]; yearly waves want 15 m or more
	Area     float64 // of the surface [m²]
	Finest   float64 // cell at the surface [m]
	Growth   float64 // growth of the cell per metre of depth; 0 means 0.25
	Coarsest float64 // 0 means 1 m
	Parts    int     // cuts every cell into so many; 0 means 1
}

// Column is a stack of cells behind its surface.
type Column struct {
	mesh *Mesh
}

// Column cuts the strata.
func (s Strata) Column() (*Column, error) {
	if !(s.Area > 0) || !(s.Depth > 0) || !finite(s.Area, s.Depth) {
		return nil, fmt.Errorf("column of ground: area is %g m² and depth %g m, must be above 0", s.Area, s.Depth)
	}
	// one cell across: the slice is as thin as its finest cell
	side := s.Finest
	slice := Slice{X1: side, Z0: -s.Depth, Fill: s.Fill, Width: s.Area / side,
		Finest: s.Finest, Growth: s.Growth, Coarsest: s.Coarsest, FineX: []float64{0}, FineZ: []float64{0},
		Rims: []Rim{
			{A: Point{0, 0}, B: Point{side, 0}, Port: 0},
			{A: Point{0, -s.Depth}, B: Point{side, -s.Depth}, Port: 1},
		}}
	top := 0.0
	for i, l := range s.Layers {
		if !(l.Thickness > 0) || !finite(l.Thickness) {
			return nil, fmt.Errorf("column of ground: layer %d is %g m thick, must be above 0", i, l.Thickness)
		}
		slice.Rects = append(slice.Rects, Rect{X0: 0, X1: side, Z0: top - l.Thickness, Z1: top, Medium: l.Medium})
		top -= l.Thickness
	}
	m, err := slice.mesh(1, max(1, s.Parts))
	if err != nil {
		return nil, fmt.Errorf("column of ground: %w", err)
	}
	return &Column{m}, nil
}

// Len is the number of cells.
func (c *Column) Len() int { return len(c.mesh.Cells) }

// AddTo adds the column as a body, each cell at temperature t0 of its depth [°C]. ports[0] is its surface; with a second port the
// bottom stands at that node's temperature, without one it lets no heat through.
func (c *Column) AddTo(net *thermal.Network, name string, t0 func(depth float64) float64, ports []thermal.Node, flows []string) *thermal.Body {
	if len(ports) < 1 || len(ports) > 2 {
		panic(fmt.Sprintf("ground: column %s has %d ports", name, len(ports)))
	}
	m := *c.mesh
	if len(ports) == 1 {
		m.Faces = nil
		for _, f := range c.mesh.Faces {
			if f.Port == 0 {
				m.Faces = append(m.Faces, f)
			}
		}
	}
	return m.AddTo(net, name, func(_, z float64) float64 { return t0(-z) }, ports, flows)
}

// Profile is the temperature by depth [°C] as the body now is; later steps of the body do not change it. Above the middle of the
// first cell and below that of the last it is as they are.
func (c *Column) Profile(b *thermal.Body) func(depth float64) float64 {
	m := c.mesh
	x, at := (m.x[0]+m.x[1])/2, m.Held(b)
	return func(depth float64) float64 { return at(x, min(0, max(m.z[0], -depth))) }
}

// Depth is the depth of the middle of a cell [m].
func (c *Column) Depth(cell int) float64 {
	_, z := c.mesh.Cells[cell].Middle()
	return -z
}

// Foot is the depth of the lower edge of a cell [m].
func (c *Column) Foot(cell int) float64 { return -c.mesh.Cells[cell].Z0 }
