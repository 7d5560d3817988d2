package ground

import (
	"fmt"
	"math"

	"suncellar/internal/thermal"
)

// cellState is what a mesh is looked at with: the temperature [°C] and the frozen share of each cell.
type cellState interface {
	T(cell int) float64
	IceShare(cell int) float64
}

// held is a state that was kept.
type held struct{ t, ice []float64 }

func (h held) T(cell int) float64        { return h.t[cell] }
func (h held) IceShare(cell int) float64 { return h.ice[cell] }

// halfResistance is that of the half cell behind a side as it now is, by frozen share [K/W].
func (m *Mesh) halfResistance(b cellState, cell int, s side, length float64) float64 {
	thawed, frozen := m.Cells[cell].resistance(s, length)
	return thawed + b.IceShare(cell)*(frozen-thawed)
}

// FaceTemperature is the temperature of a face [°C] while its port stands at port [°C].
func (m *Mesh) FaceTemperature(b *thermal.Body, face int, port float64) float64 {
	return m.faceTemperature(b, face, port)
}

func (m *Mesh) faceTemperature(b cellState, face int, port float64) float64 {
	f := &m.Faces[face]
	t := b.T(f.Cell)
	half := m.halfResistance(b, f.Cell, f.side, f.step)
	film := m.rims[f.Rim].R / m.Area(face)
	return t + (port-t)*half/(half+film)
}

// RimTemperature is the mean, over area, and the least of the face temperatures of a rim [°C] while its port stands at port [°C].
func (m *Mesh) RimTemperature(b *thermal.Body, rim int, port float64) (mean, least float64) {
	area, first := 0.0, true
	for i := range m.Faces {
		if m.Faces[i].Rim != rim {
			continue
		}
		t, a := m.FaceTemperature(b, i, port), m.Area(i)
		mean += a * t
		area += a
		if first || t < least {
			least, first = t, false
		}
	}
	return mean / area, least
}

// TemperatureAt is the temperature at a place [°C], bilinear between the middles of cells, with a kink where the medium
// changes so that heat flow is continuous. It never looks across a hole: beyond the last middle it stays as that cell is.
func (m *Mesh) TemperatureAt(b *thermal.Body, x, z float64) float64 {
	return m.TemperatureWith(b, x, z, nil)
}

// TemperatureWith is TemperatureAt that runs on to the faces, whose ports stand at port(i) [°C]. A place without matter panics.
func (m *Mesh) TemperatureWith(b *thermal.Body, x, z float64, port func(port int) float64) float64 {
	return view{m, b, port}.at(x, z)
}

// Held is the temperature by place as it now is [°C], NaN where there is no matter; later steps of the body do not change it.
func (m *Mesh) Held(b *thermal.Body) func(x, z float64) float64 { return m.hold(b) }

func (m *Mesh) hold(s cellState) func(x, z float64) float64 {
	now := held{make([]float64, len(m.Cells)), make([]float64, len(m.Cells))}
	for i := range m.Cells {
		now.t[i], now.ice[i] = s.T(i), s.IceShare(i)
	}
	v := view{m, now, nil}
	return func(x, z float64) float64 {
		if m.CellAt(x, z) < 0 {
			return math.NaN()
		}
		return v.at(x, z)
	}
}

// view is a mesh, a state of it and the temperatures of its ports.
type view struct {
	*Mesh
	state cellState
	port  func(int) float64
}

func (v view) at(x, z float64) float64 {
	c := v.CellAt(x, z)
	if c < 0 {
		panic(fmt.Sprintf("ground: there is no matter at (%g, %g) m", x, z))
	}
	own := v.inRow(c, x)
	s, d := v.Cells[c].towards(above, z)
	up := v.beside[c][s]
	if up < 0 {
		return own + v.toFace(c, s, d)
	}
	return v.between(c, up, s, d, own, v.inRow(up, x))
}

// towards tells on which side of the middle a place is, of the pair that s belongs to, and how far from it [m].
func (c *Cell) towards(s side, place float64) (side, float64) {
	x, z := c.Middle()
	if s == above {
		x = z
	}
	if place < x {
		return s ^ 1, x - place
	}
	return s, place - x
}

// inRow is the temperature at x at the height of a cell's middle [°C].
func (v view) inRow(c int, x float64) float64 {
	s, d := v.Cells[c].towards(right, x)
	n := v.beside[c][s]
	if n < 0 {
		return v.state.T(c) + v.toFace(c, s, d)
	}
	return v.between(c, n, s, d, v.state.T(c), v.state.T(n))
}

// toFace is what is added at distance d from the middle of a cell towards its face on side s [K].
func (v view) toFace(c int, s side, d float64) float64 {
	f := v.face[c][s]
	if f < 0 || v.port == nil {
		return 0
	}
	return (v.faceTemperature(v.state, f, v.port(v.Faces[f].Port)) - v.state.T(c)) * d / v.Cells[c].half(s)
}

// between is the temperature at distance d from the middle of cell c towards n beyond its side s, whose values are tc and tn.
func (v view) between(c, n int, s side, d, tc, tn float64) float64 {
	rc := v.halfResistance(v.state, c, s, v.Cells[c].span(s))
	rn := v.halfResistance(v.state, n, s^1, v.Cells[n].span(s))
	edge := tc + (tn-tc)*rc/(rc+rn)
	if hc := v.Cells[c].half(s); d <= hc {
		return tc + (edge-tc)*d/hc
	}
	over := (d - v.Cells[c].half(s)) / v.Cells[n].half(s)
	return edge + (tn-edge)*min(1, over)
}
