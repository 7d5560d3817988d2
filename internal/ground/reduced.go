package ground

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"suncellar/internal/thermal"
	"suncellar/internal/thermal/modal"
)

// A slice is reduced so: cells that may freeze stay cells, each region of them a body of its own; all others are thawed for good and
// become modes (package modal). Where the two meet, the temperature is taken as linear between a few knots along the side, fine near the
// house and coarse far from it: a side of a region is as many inner nodes as it has knots (the mortar of Bernardi, Maday and
// Patera 1994, with the knots as its functions). All of it together is one block behind the ports of the slice.
//
// What is promised: cells near a surface are those of the mesh; heat is neither lost nor made where the two meet; a steady state of thawed
// ground differs from that of the mesh by the knots alone. Left out: the freezing of what is no region.

// Region is a part of the slice near a surface whose cells may freeze. Two regions do not touch.
type Region struct {
	Name   string
	Boxes  []Box
	KnotsX []float64 // where along x its foot keeps the temperature; its ends are knots too [m]
}

// Box is a rectangle [m].
type Box struct {
	X0, Z0, X1, Z1 float64
	LinesX, LinesZ []float64 // cells between the same lines are taken as one; none: every cell stays itself
}

func (b *Box) holds(c *Cell) bool {
	x, z := c.Middle()
	return x > b.X0 && x < b.X1 && z > b.Z0 && z < b.Z1
}

func (r *Region) holds(c *Cell) bool {
	return slices.ContainsFunc(r.Boxes, func(b Box) bool { return b.holds(c) })
}

// Reduced is a reduced slice in a network.
type Reduced struct {
	mesh   *Mesh
	modes  *thermal.Modes
	deep   *modal.Reduced
	bodies []*thermal.Body
	region []int // by cell: its region, -1 for the modes
	number []int // by cell: its number there
	watch  []int // cells of the modes that would freeze, beside a region or a face

	watched *thermal.Readings // the temperatures of watch [°C]
}

// AddReduced adds the mesh reduced. Its arguments are those of AddTo, and the regions that may freeze.
func (m *Mesh) AddReduced(net *thermal.Network, name string, t0 func(x, z float64) float64, ports []thermal.Node, flows []string, regions []Region) (*Reduced, error) {
	if len(ports) != len(flows) {
		panic(fmt.Sprintf("ground: %s has %d ports and %d flows", name, len(ports), len(flows)))
	}
	r := &reducer{Reduced: &Reduced{mesh: m}, net: net, name: name, t0: t0, ports: ports, flows: flows, regions: regions, portOf: map[thermal.Node]int{}}
	r.share()
	r.meet()
	blocks, err := r.blocks()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	net.AddCluster(name, blocks, r.joins)
	return r.Reduced, nil
}

// reducer makes a Reduced.
type reducer struct {
	*Reduced
	net     *thermal.Network
	name    string
	t0      func(x, z float64) float64
	ports   []thermal.Node
	flows   []string
	regions []Region

	merged    []Cell // by cell of the mesh: the cell that it is part of
	parts     []part // by region
	body      modal.Body
	portNodes []thermal.Node // of the modes
	portFlows []string
	portOf    map[thermal.Node]int
	ownPorts  int // those of the slice, which come before the knots
	joins     []thermal.InnerJoin
}

// share gives every cell its region and its number there.
func (r *reducer) share() {
	m := r.mesh
	r.region, r.number = make([]int, len(m.Cells)), make([]int, len(m.Cells))
	r.merged = slices.Clone(m.Cells)
	r.parts = make([]part, len(r.regions))
	for k := range r.regions {
		cells := r.fromBelow(&r.regions[k])
		for _, i := range cells {
			r.region[i] = k + 1
		}
		for _, group := range r.merge(&r.regions[k], cells) {
			c := &r.merged[group[0]]
			for _, i := range group {
				r.number[i] = len(r.parts[k].cells)
			}
			r.parts[k].cells = append(r.parts[k].cells, thermal.Cell{Law: c.law(), T: r.t0(c.Middle())})
		}
	}
	for i := range m.Cells {
		r.region[i]--
		if r.region[i] >= 0 {
			continue
		}
		c := &m.Cells[i]
		r.number[i] = len(r.body.Capacity)
		r.body.Capacity = append(r.body.Capacity, c.Medium.C*c.Volume())
		r.body.Start = append(r.body.Start, r.t0(c.Middle()))
	}
}

// fromBelow is the cells of a region that no region before has, row by row from its foot up, so that what freezes most often is last; one half as wide again as high
// column by column, so that the band stays small.
func (r *reducer) fromBelow(region *Region) []int {
	var list []int
	for i := range r.mesh.Cells {
		if c := &r.mesh.Cells[i]; r.region[i] == 0 && region.holds(c) {
			list = append(list, i)
		}
	}
	xs, zs := map[float64]bool{}, map[float64]bool{}
	for _, i := range list {
		x, z := r.mesh.Cells[i].Middle()
		xs[x], zs[z] = true, true
	}
	byRow := len(xs) <= len(zs)*3/2
	sort.Slice(list, func(a, b int) bool {
		xa, za := r.mesh.Cells[list[a]].Middle()
		xb, zb := r.mesh.Cells[list[b]].Middle()
		if !byRow {
			xa, za, xb, zb = za, xa, zb, xb
		}
		if za != zb {
			return za < zb
		}
		return xa < xb
	})
	return list
}

// mortar is a side of a region that meets the modes: its foot at one height, or a flank at one x.
type mortar struct {
	region int
	side   side
	line   float64 // z of a foot, x of a flank [m]
	pairs  []meeting
}

// meeting is a cell of a region and one of the modes beside it.
type meeting struct {
	near, deep int
	at         float64 // along the side [m]
}

// meet goes through all sides of all cells: who touches whom.
func (r *reducer) meet() {
	m := r.mesh
	var mortars []*mortar
	for i := range m.Cells {
		for s := left; s <= above; s++ {
			if f := m.face[i][s]; f >= 0 {
				r.touchFace(i, &m.Faces[f])
			}
			j := m.beside[i][s]
			switch {
			case j < 0:
			case r.region[i] == r.region[j]:
				if s == right || s == above {
					r.touchCells(i, j, s)
				}
			case r.region[i] >= 0 && r.region[j] >= 0:
				panic("ground: two regions of a reduced slice touch")
			case r.region[i] >= 0:
				mortars = r.touchDeep(mortars, i, j, s)
			}
		}
	}
	for _, p := range m.inner {
		r.touchSheet(&p)
	}
	r.ownPorts = len(r.portNodes)
	for _, o := range mortars {
		r.join(o)
	}
	sheeted := map[int]bool{}
	for _, p := range m.inner {
		sheeted[p.cell] = true
	}
	for i := range m.Cells {
		if r.region[i] < 0 && m.Cells[i].Medium.Latent > 0 && (sheeted[i] || r.isNear(i)) {
			r.watch = append(r.watch, i)
		}
	}
}

// touchSheet makes the port of a sheet.
func (r *reducer) touchSheet(p *innerPort) {
	node, flow := r.ports[p.port], r.flows[p.port]
	if k := r.region[p.cell]; k >= 0 {
		r.parts[k].ports = append(r.parts[k].ports, thermal.Port{Cell: r.number[p.cell], Node: node, R: p.thawed, RFrozen: p.frozenR, Flow: flow})
		return
	}
	r.body.Ports = append(r.body.Ports, modal.Port{Cell: r.number[p.cell], Port: r.port(node, flow), R: p.thawed})
}

// isNear tells whether a cell lies beside another part or at a face.
func (r *reducer) isNear(i int) bool {
	for s := left; s <= above; s++ {
		if j := r.mesh.beside[i][s]; r.mesh.face[i][s] >= 0 || j >= 0 && (r.region[j] >= 0 || r.mesh.Cells[j].Medium.Latent == 0) {
			return true
		}
	}
	return false
}

// touchDeep notes a cell of a region beside one of the modes.
func (r *reducer) touchDeep(mortars []*mortar, near, deep int, s side) []*mortar {
	p := r.mesh.Cells[near].sideMiddle(s)
	key, at := mortar{region: r.region[near], side: s, line: p.Z}, p.X
	if s == left || s == right {
		key.line, at = p.X, p.Z
	}
	for _, o := range mortars {
		if o.region == key.region && o.side == s && o.line == key.line {
			o.pairs = append(o.pairs, meeting{near, deep, at})
			return mortars
		}
	}
	key.pairs = []meeting{{near, deep, at}}
	return append(mortars, &key)
}

// join puts the knots of a side between its cells and the modes. A temperature between two knots is shared by them; what the pair of knots
// would conduct to each other through the cells' halves is taken back by a negative join, so that it is the linear temperature that counts.
func (r *reducer) join(o *mortar) {
	knots := r.knots(o)
	nodes := make([]thermal.Node, len(knots))
	for k, at := range knots {
		p := o.pairs[0].near
		x, z := r.mesh.Cells[p].Middle()
		if o.side == left || o.side == right {
			z = at
		} else {
			x = at
		}
		nodes[k] = r.net.Inner(fmt.Sprintf("%s meets the deep at %.2f %.2f m", r.regions[o.region].Name, x, z), r.t0(x, z))
	}
	within := "within the " + r.name
	back := make([]float64, len(knots)) // between a knot and the next
	p := &r.parts[o.region]
	for _, pair := range o.pairs {
		near, deep := &r.merged[pair.near], &r.mesh.Cells[pair.deep]
		span := deep.span(o.side)
		rn, _ := near.resistance(o.side, span)
		rd, _ := deep.resistance(o.side^1, span)
		k, f := between(knots, pair.at)
		for i, share := range []float64{1 - f, f} {
			if share == 0 {
				continue
			}
			p.addPort(thermal.Port{Cell: r.number[pair.near], Node: nodes[k+i], R: rn / share, Flow: within})
			r.body.Ports = append(r.body.Ports, modal.Port{Cell: r.number[pair.deep], Port: r.port(nodes[k+i], within), R: rd / share})
		}
		back[k] += (1 - f) * f * (1/rn + 1/rd)
	}
	for k, g := range back {
		if g > 0 {
			r.joins = append(r.joins, thermal.InnerJoin{A: nodes[k], B: nodes[k+1], G: -g})
		}
	}
}

// between tells between which knots a place lies, and how far from the first to the second.
func between(knots []float64, at float64) (k int, share float64) {
	if len(knots) == 1 {
		return 0, 0
	}
	k = min(max(sort.SearchFloat64s(knots, at)-1, 0), len(knots)-2)
	return k, min(1, max(0, (at-knots[k])/(knots[k+1]-knots[k])))
}

// flankKnots is how far apart the knots of a flank may be [m].
const flankKnots = 0.15

// knots of a side, sorted: its ends and those between.
func (r *reducer) knots(o *mortar) []float64 {
	first, last := math.Inf(1), math.Inf(-1)
	for _, p := range o.pairs {
		half := r.mesh.Cells[p.near].span(o.side) / 2
		first, last = min(first, p.at-half), max(last, p.at+half)
	}
	var inside []float64
	if o.side == below || o.side == above {
		inside = r.regions[o.region].KnotsX
	} else {
		for n, k := int(math.Ceil((last-first)/flankKnots)), 1; k < n; k++ {
			inside = append(inside, first+(last-first)*float64(k)/float64(n))
		}
	}
	return r.supported(o, distinct(inside, first, last))
}

// supported drops knots until each has a cell of its own: two in the first stretch, one in every other.
func (r *reducer) supported(o *mortar, all []float64) []float64 {
	kept := []float64{all[0]}
	for _, k := range all[1:] {
		cells := 0
		for _, p := range o.pairs {
			if p.at > kept[len(kept)-1] && p.at < k {
				cells++
			}
		}
		if cells > 1 || cells == 1 && len(kept) > 1 {
			kept = append(kept, k)
		}
	}
	if last := all[len(all)-1]; len(kept) > 1 {
		kept[len(kept)-1] = last
	}
	return kept
}

// touchCells makes the edge of two cells of the same part.
func (r *reducer) touchCells(i, j int, s side) {
	if k := r.region[i]; k >= 0 {
		if r.number[i] != r.number[j] {
			r.parts[k].addEdge(r.mergedEdge(i, j, s))
		}
		return
	}
	e := r.mesh.edge(i, j, s)
	r.body.Edges = append(r.body.Edges, modal.Edge{I: r.number[i], J: r.number[j], G: 1 / (e.RI + e.RJ)})
}

func (r *reducer) touchFace(i int, f *Face) {
	thawed, frozen := r.mesh.faceResistance(f, &r.merged[i])
	node, flow := r.ports[f.Port], r.flows[f.Port]
	if k := r.region[i]; k >= 0 {
		r.parts[k].addPort(thermal.Port{Cell: r.number[i], Node: node, R: thawed, RFrozen: frozen, Flow: flow})
		return
	}
	r.body.Ports = append(r.body.Ports, modal.Port{Cell: r.number[i], Port: r.port(node, flow), R: thawed})
}

// port is the place of a node among the ports of the modes.
func (r *reducer) port(node thermal.Node, flow string) int {
	k, ok := r.portOf[node]
	if !ok {
		k = len(r.portNodes)
		r.portOf[node] = k
		r.portNodes, r.portFlows = append(r.portNodes, node), append(r.portFlows, flow)
	}
	return k
}

// blocks makes the bodies of the regions and the modes.
func (r *reducer) blocks() ([]thermal.Block, error) {
	var blocks []thermal.Block
	for k, p := range r.parts {
		b := r.net.AddBody(r.name+", "+r.regions[k].Name, p.cells, p.edges, p.ports)
		r.bodies, blocks = append(r.bodies, b), append(blocks, b)
	}
	r.body.Count = len(r.portNodes)
	deep, err := modal.Reduce(r.body)
	if err != nil {
		return nil, err
	}
	r.deep = deep
	r.modes = r.net.AddModes(r.name+", deep", &deep.Model, deep.Start, r.portNodes, r.portFlows)
	r.modes.JudgeFirst(r.ownPorts)
	var rows [][]float64
	for _, i := range r.watch {
		rows = append(rows, deep.Read(r.number[i]))
	}
	r.watched = r.modes.Readings(rows)
	return append(blocks, r.modes), nil
}

// T is the temperature of a cell [°C].
func (r *Reduced) T(cell int) float64 {
	if k := r.region[cell]; k >= 0 {
		return r.bodies[k].T(r.number[cell])
	}
	return r.modes.Read(r.deep.Read(r.number[cell]))
}

// IceShare is the frozen share of a cell; what is in the modes is thawed.
func (r *Reduced) IceShare(cell int) float64 {
	if k := r.region[cell]; k >= 0 {
		return r.bodies[k].IceShare(r.number[cell])
	}
	return 0
}

// TemperatureAt is the temperature at a place [°C], as Mesh.TemperatureAt has it.
func (r *Reduced) TemperatureAt(x, z float64) float64 { return view{r.mesh, r, nil}.at(x, z) }

// Reading gives the temperature at a place [°C] again and again, as TemperatureAt does. Where all cells about it are in the modes it is one row of them.
func (r *Reduced) Reading(x, z float64) func() float64 {
	look := &oneCell{of: -1}
	view{r.mesh, look, nil}.at(x, z)
	row := make([]float64, r.modes.Len())
	for _, cell := range look.asked {
		if r.region[cell] >= 0 {
			return func() float64 { return r.TemperatureAt(x, z) }
		}
		w := view{r.mesh, &oneCell{of: cell}, nil}.at(x, z)
		for i, v := range r.deep.Read(r.number[cell]) {
			row[i] += w * v
		}
	}
	return func() float64 { return r.modes.Read(row) }
}

// Held is the temperature by place as it now is [°C], NaN where there is no matter; later steps do not change it.
func (r *Reduced) Held() func(x, z float64) float64 { return r.mesh.hold(r) }

// oneCell is a thawed state in which one cell is at 1 °C and all others at 0; it takes down which are asked for.
type oneCell struct {
	of    int
	asked []int
}

func (s *oneCell) T(cell int) float64 {
	if !slices.Contains(s.asked, cell) {
		s.asked = append(s.asked, cell)
	}
	if cell == s.of {
		return 1
	}
	return 0
}

func (s *oneCell) IceShare(int) float64 { return 0 }

// ColdestThawedC is the lowest temperature of earth that would freeze but is held for thawed, where frost comes to it first [°C]: well
// below 0 the reduction is not to be trusted. +Inf when there is none.
func (r *Reduced) ColdestThawedC() float64 {
	low := math.Inf(1)
	for _, t := range r.watched.Now() {
		low = min(low, t)
	}
	return low
}
