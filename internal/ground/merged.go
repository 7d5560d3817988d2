package ground

import (
	"sort"

	"suncellar/internal/thermal"
)

// Where ground may freeze but lies far from the house, the lines of the mesh are closer than its frost needs: they are there for floors, beds and
// walls. Cells of a region between the same two lines of its box are then taken as one, as wide and high as all of them; what it conducts
// to its neighbours goes through its own half. Cells of another medium, or of which no whole rectangle comes about, stay themselves.

// merge puts cells of a region into groups, in the order of the first cell of each, and makes every group one rectangle.
func (r *reducer) merge(region *Region, cells []int) [][]int {
	type key struct {
		box, x, z int
		medium    Medium
		width     float64
	}
	place := map[key]int{}
	var groups [][]int
	for _, i := range cells {
		c := &r.mesh.Cells[i]
		x, z := c.Middle()
		k := key{box: region.mergingBox(c), medium: c.Medium, width: c.Width}
		if k.box < 0 {
			groups = append(groups, []int{i})
			continue
		}
		k.x, k.z = sort.SearchFloat64s(region.Boxes[k.box].LinesX, x), sort.SearchFloat64s(region.Boxes[k.box].LinesZ, z)
		at, ok := place[k]
		if !ok {
			at = len(groups)
			place[k], groups = at, append(groups, nil)
		}
		groups[at] = append(groups[at], i)
	}
	var whole [][]int
	for _, g := range groups {
		whole = append(whole, r.rectangle(g)...)
	}
	return whole
}

// mergingBox is the first box with lines that holds a cell, -1 where none does.
func (r *Region) mergingBox(c *Cell) int {
	for k := range r.Boxes {
		if b := &r.Boxes[k]; len(b.LinesX) > 0 && b.holds(c) {
			return k
		}
	}
	return -1
}

// rectangle makes a group one rectangle; each cell stays itself where the group is none.
func (r *reducer) rectangle(group []int) [][]int {
	all, volume := r.mesh.Cells[group[0]], 0.0
	for _, i := range group {
		c := &r.mesh.Cells[i]
		all.X0, all.X1 = min(all.X0, c.X0), max(all.X1, c.X1)
		all.Z0, all.Z1 = min(all.Z0, c.Z0), max(all.Z1, c.Z1)
		volume += c.Volume()
	}
	if all.Volume() > volume*(1+1e-9) {
		var single [][]int
		for _, i := range group {
			single = append(single, []int{i})
		}
		return single
	}
	for _, i := range group {
		r.merged[i] = all
	}
	return [][]int{group}
}

// mergedEdge is the edge of two cells of a region as far as cells i and j of the mesh touch at side s of i.
func (r *reducer) mergedEdge(i, j int, s side) thermal.Edge {
	span := r.mesh.Cells[i].span(s)
	e := thermal.Edge{I: r.number[i], J: r.number[j]}
	e.RI, e.RIfrozen = r.merged[i].resistance(s, span)
	e.RJ, e.RJfrozen = r.merged[j].resistance(s^1, span)
	return e
}

// part is what a region's body is made of.
type part struct {
	cells []thermal.Cell
	edges []thermal.Edge
	ports []thermal.Port
	edge  map[[2]int]int // by its cells: place among edges
	port  map[[2]int]int // by its cell and node: place among ports
}

// addEdge adds an edge, beside what conducts between the same cells already.
func (p *part) addEdge(e thermal.Edge) {
	key := [2]int{e.I, e.J}
	at, ok := p.edge[key]
	if !ok {
		if p.edge == nil {
			p.edge = map[[2]int]int{}
		}
		p.edge[key] = len(p.edges)
		p.edges = append(p.edges, e)
		return
	}
	o := &p.edges[at]
	o.RI, o.RIfrozen = beside(o.RI, e.RI), beside(o.RIfrozen, e.RIfrozen)
	o.RJ, o.RJfrozen = beside(o.RJ, e.RJ), beside(o.RJfrozen, e.RJfrozen)
}

// addPort adds a port, beside what joins the same cell and node already.
func (p *part) addPort(q thermal.Port) {
	key := [2]int{q.Cell, int(q.Node)}
	at, ok := p.port[key]
	if !ok {
		if p.port == nil {
			p.port = map[[2]int]int{}
		}
		p.port[key] = len(p.ports)
		p.ports = append(p.ports, q)
		return
	}
	o := &p.ports[at]
	if o.RFrozen == 0 {
		o.RFrozen = o.R
	}
	if q.RFrozen == 0 {
		q.RFrozen = q.R
	}
	o.R, o.RFrozen = beside(o.R, q.R), beside(o.RFrozen, q.RFrozen)
}

// beside is two resistances side by side.
func beside(a, b float64) float64 { return a * b / (a + b) }
