package ground

import (
	"fmt"

	"suncellar/internal/thermal"
)

// law is the enthalpy law of a cell.
func (c *Cell) law() thermal.Law { return c.Medium.Law(c.Volume()) }

// Law is the enthalpy law of a volume v of the medium [m³].
func (m *Medium) Law(v float64) thermal.Law {
	if m.Latent == 0 {
		return thermal.Sensible(m.C * v)
	}
	frozen := m.CFrozen
	if frozen == 0 {
		frozen = m.C
	}
	return thermal.Law{Liquid: m.C * v, Frozen: frozen * v, Latent: m.Latent * v, Lower: m.Lower, Upper: m.Upper}
}

// AddTo adds the mesh as a body to the network, each cell at temperature t0 of its middle [°C]. Port i of the rims is the node
// ports[i], and heat from the node into the body flows under the name flows[i].
func (m *Mesh) AddTo(net *thermal.Network, name string, t0 func(x, z float64) float64, ports []thermal.Node, flows []string) *thermal.Body {
	if len(ports) != len(flows) {
		panic(fmt.Sprintf("ground: %s has %d ports and %d flows", name, len(ports), len(flows)))
	}
	cells := make([]thermal.Cell, len(m.Cells))
	for i := range cells {
		cells[i] = thermal.Cell{Law: m.Cells[i].law(), T: t0(m.Cells[i].Middle())}
	}
	joined := make([]thermal.Port, len(m.Faces))
	for i := range m.Faces {
		f := &m.Faces[i]
		if f.Port >= len(ports) {
			panic(fmt.Sprintf("ground: %s has a rim at port %d, but only %d ports", name, f.Port, len(ports)))
		}
		thawed, frozen := m.faceResistance(f, &m.Cells[f.Cell])
		joined[i] = thermal.Port{Cell: f.Cell, Node: ports[f.Port], R: thawed, RFrozen: frozen, Flow: flows[f.Port]}
	}
	joined = append(joined, m.innerPorts(ports, flows)...)
	return net.AddBody(name, cells, m.conduction(), joined)
}

// conduction are the edges between neighbours: the two half cells in series, each over its own cell's width.
func (m *Mesh) conduction() []thermal.Edge {
	edges := make([]thermal.Edge, 0, 2*len(m.Cells))
	for i := range m.Cells {
		for _, s := range []side{right, above} {
			j := m.beside[i][s]
			if j < 0 {
				continue
			}
			edges = append(edges, m.edge(i, j, s))
		}
	}
	return edges
}

// edge is that of cell i and cell j at its side s.
func (m *Mesh) edge(i, j int, s side) thermal.Edge {
	e := thermal.Edge{I: i, J: j}
	e.RI, e.RIfrozen = m.Cells[i].resistance(s, m.Cells[i].span(s))
	e.RJ, e.RJfrozen = m.Cells[j].resistance(s^1, m.Cells[j].span(s^1))
	return e
}

// faceResistance is that from the middle of c, the cell at the face or one that it is part of, to the port [K/W].
func (m *Mesh) faceResistance(f *Face, c *Cell) (thawed, frozen float64) {
	thawed, frozen = c.resistance(f.side, f.step)
	film := m.rims[f.Rim].R / (f.Length * c.Width)
	return thawed + film, frozen + film
}
