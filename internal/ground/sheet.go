package ground

import (
	"fmt"
	"math"

	"suncellar/internal/thermal"
)

// Sheet is a level strip within the slice through which a port gives heat to the cells that it lies in and takes heat from them, such as
// the plane of buried tubes.
//
// Between port and cell lies thickness/(12 k) of the cell: what its mean is behind its middle while it takes up heat from there. Steady
// flow would have none; it errs to less heat, and less so in finer cells. A strip acts from the middle of the cells that it lies in: let
// lines of the slice (LinesZ) lie as far above it as below. Soil that somebody else counts the heat of, Area of it a
// metre, is taken out of the cells round the strip: they conduct as before and hold that much less.
type Sheet struct {
	X0, X1, Z float64 // [m]
	Length    float64 // along the house [m]
	Port      int
	Area      float64 // section of soil whose heat is counted elsewhere [m²]
}

// innerPort is where a sheet lies in a cell.
type innerPort struct {
	cell, port      int
	thawed, frozenR float64 // resistance from the port to the cell's middle [K/W]
}

// AddSheets lays sheets that do not overlap into the mesh, after Widen and before AddTo. It fails where part of one has no matter.
func (m *Mesh) AddSheets(sheets ...Sheet) error {
	taken := make([]float64, len(m.Cells))
	for i := range sheets {
		s := &sheets[i]
		if !(s.X1 > s.X0) || !(s.Length > 0) || !(s.Area >= 0) || !finite(s.X0, s.X1, s.Z, s.Length, s.Area) {
			return fmt.Errorf("sheet from %g to %g m at %g m, %g m long with %g m² of soil: must have length and finite measures", s.X0, s.X1, s.Z, s.Length, s.Area)
		}
		if s.X0 < m.x[0]-near || s.X1 > m.x[len(m.x)-1]+near {
			return fmt.Errorf("sheet from %g to %g m lies outside the slice, %g to %g m", s.X0, s.X1, m.x[0], m.x[len(m.x)-1])
		}
		if err := m.lay(s); err != nil {
			return err
		}
		m.take(s, taken)
	}
	for i, share := range taken {
		left := math.Max(leastHeat, 1-share)
		c := &m.Cells[i].Medium
		c.C, c.CFrozen, c.Latent = left*c.C, left*c.CFrozen, left*c.Latent
	}
	return nil
}

// leastHeat is the least share of its heat that a cell keeps: one whose soil is all counted elsewhere still has a temperature.
const leastHeat = 1e-3

// lay joins the cells along a sheet to its port.
func (m *Mesh) lay(s *Sheet) error {
	for ix := 0; ix+1 < len(m.x); ix++ {
		over := math.Min(s.X1, m.x[ix+1]) - math.Max(s.X0, m.x[ix])
		if over <= near {
			continue
		}
		n := m.CellAt((m.x[ix]+m.x[ix+1])/2, s.Z)
		if n < 0 {
			return fmt.Errorf("sheet from %g to %g m at %g m has no matter at %g m", s.X0, s.X1, s.Z, (m.x[ix]+m.x[ix+1])/2)
		}
		c := &m.Cells[n]
		r := (c.Z1 - c.Z0) / (12 * over * s.Length)
		p := innerPort{cell: n, port: s.Port, thawed: r / c.Medium.K, frozenR: r / c.Medium.K}
		if c.Medium.KFrozen != 0 {
			p.frozenR = r / c.Medium.KFrozen
		}
		m.inner = append(m.inner, p)
	}
	return nil
}

// take adds up, by cell, the share of its soil that a strip of the sheet's Area, the sheet in its middle, takes out.
func (m *Mesh) take(s *Sheet, taken []float64) {
	half := s.Area / (s.X1 - s.X0) / 2
	for i := range m.Cells {
		c := &m.Cells[i]
		wide := math.Min(c.X1, s.X1) - math.Max(c.X0, s.X0)
		high := math.Min(c.Z1, s.Z+half) - math.Max(c.Z0, s.Z-half)
		if wide > 0 && high > 0 {
			taken[i] += wide * high / ((c.X1 - c.X0) * (c.Z1 - c.Z0)) * math.Min(1, s.Length/c.Width)
		}
	}
}

// innerPorts are the ports of the sheets.
func (m *Mesh) innerPorts(ports []thermal.Node, flows []string) []thermal.Port {
	list := make([]thermal.Port, 0, len(m.inner))
	for _, p := range m.inner {
		list = append(list, thermal.Port{Cell: p.cell, Node: ports[p.port], R: p.thawed, RFrozen: p.frozenR, Flow: flows[p.port]})
	}
	return list
}
