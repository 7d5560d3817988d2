package thermal

import (
	"cmp"
	"math"
	"slices"

	"suncellar/internal/thermal/lanes"
)

// Cell is one cell of a Body: its enthalpy law and its temperature [°C].
type Cell struct {
	Law Law
	T   float64
}

// Edge conducts between two cells I > J of a body. Each side is a resistance that may depend on whether its cell is frozen.
type Edge struct {
	I, J     int
	RI, RJ   float64 // thawed: resistance from the cell's middle to the common face [K/W]
	RIfrozen float64 // the same when frozen; 0 means as when thawed
	RJfrozen float64
	g        float64
}

// Port joins a cell to a node of the network.
type Port struct {
	Cell    int
	Node    Node
	R       float64 // thawed: from the cell's middle to the node, all included [K/W]
	RFrozen float64 // the same when the cell is frozen; 0 means as when thawed
	Flow    string  // flow's name; heat from the node into the body is positive
	g       float64
	column  int
	flow    int
}

// Body is a conducting body of many cells, in an order in which neighbours are near (small bandwidth), behind ports.
// It is eliminated before the nodes are solved: to the network it is the reply of its ports, s - S T.
type Body struct {
	name  string
	laws  []Law
	edges []Edge
	ports []Port
	band  int

	nodes   []Node // one per column: the distinct nodes at its ports
	columns []int  // by cell: how many leading columns reach it
	narrow  int    // how many leading cells count as reached by few columns, those of the last of them
	booked  float64

	cells // as they now are
	kept  cells
	lines []line // by cell: that of its branch

	version int // counts changes of branches and conductances, see change
	slots   []*factor
	now     *factor // of the present stage
	// per stage
	heat, base, z, y, t1 []float64
	s, u                 []float64 // by column: what comes back, and the nodes' temperatures
	out                  []float64 // by cell: sum of its conductances [W/K]
	total                []float64 // by column: sum of the port's conductances [W/K]
	staged               bool      // z and s belong to base and to the factor made last
	stagedVersion        int
	stagedFor            float64
	saveVersion          int
}

// cells is the state of a body.
type cells struct {
	t      []float64 // [°C]
	ice    []float64 // frozen share that the conductances were made with
	branch []branch
}

func newCells(n int) cells {
	return cells{t: make([]float64, n), ice: make([]float64, n), branch: make([]branch, n)}
}

func (c *cells) copy(from cells) {
	copy(c.t, from.t)
	copy(c.ice, from.ice)
	copy(c.branch, from.branch)
}

// AddBody adds a body; its ports name the nodes of the network that they join.
func (n *Network) AddBody(name string, of []Cell, edges []Edge, ports []Port) *Body {
	n.mustBuild(name)
	k := len(of)
	b := &Body{name: name, edges: edges, ports: ports, cells: newCells(k), kept: newCells(k), lines: make([]line, k)}
	for i, c := range of {
		b.laws = append(b.laws, c.Law)
		b.put(i, c.T)
	}
	for i := range b.edges {
		e := &b.edges[i]
		if e.I < e.J {
			e.I, e.J = e.J, e.I
			e.RI, e.RJ, e.RIfrozen, e.RJfrozen = e.RJ, e.RI, e.RJfrozen, e.RIfrozen
		}
		b.band = max(b.band, e.I-e.J)
	}
	b.order()
	for i := range b.ports {
		b.ports[i].flow = n.bodyFlow(b.ports[i].Flow, b.ports[i].Node)
	}
	p := len(b.nodes)
	for _, s := range []*[]float64{&b.heat, &b.base, &b.z, &b.y, &b.t1, &b.out} {
		*s = lanes.Make(k)
	}
	b.s, b.u, b.total = lanes.Make(p), lanes.Make(p), make([]float64, p)
	b.conduct()
	n.blocks = append(n.blocks, b)
	return b
}

// order gives the nodes at the ports their columns, in order of the first cell that they touch: the reply of a port begins there,
// so that in every row only a leading part of the columns counts.
func (b *Body) order() {
	first := map[Node]int{}
	for i := range b.ports {
		p := &b.ports[i]
		if cell, ok := first[p.Node]; !ok {
			b.nodes = append(b.nodes, p.Node)
			first[p.Node] = p.Cell
		} else {
			first[p.Node] = min(cell, p.Cell)
		}
	}
	slices.SortStableFunc(b.nodes, func(x, y Node) int { return cmp.Compare(first[x], first[y]) })
	column := map[Node]int{}
	for c, id := range b.nodes {
		column[id] = c
	}
	for i := range b.ports {
		b.ports[i].column = column[b.ports[i].Node]
	}
	b.columns = make([]int, len(b.t))
	c := 0
	for i := range b.columns {
		for c < len(b.nodes) && first[b.nodes[c]] <= i {
			c++
		}
		b.columns[i] = c
	}
	least := len(b.t) * len(b.nodes)
	for i, c := range b.columns {
		if size := (i+1)*c + (len(b.t)-i-1)*len(b.nodes); size < least {
			b.narrow, least = i+1, size
		}
	}
}

// bodyFlow names the flow at a port: it crosses the boundary only when the node is given.
func (n *Network) bodyFlow(name string, at Node) int { return n.flow(name, at, at) }

// T is the temperature of a cell [°C].
func (b *Body) T(cell int) float64 { return b.t[cell] }

// IceShare is the frozen share of a cell, 0..1.
func (b *Body) IceShare(cell int) float64 { return b.laws[cell].IceShare(b.t[cell]) }

// Name is the name it was added under.
func (b *Body) Name() string { return b.name }

// Len is the number of cells.
func (b *Body) Len() int { return len(b.t) }

// State is the temperature of every cell [°C].
func (b *Body) State() []float64 { return slices.Clone(b.t) }

// SetState puts all cells at a new state [°C], between runs.
func (b *Body) SetState(t []float64) {
	for i := range b.t {
		b.put(i, t[i])
	}
	b.change(0)
	b.conduct()
}

// put puts a cell at t, whatever it was.
func (b *Body) put(i int, t float64) {
	b.t[i], b.ice[i] = t, b.laws[i].IceShare(t)
	b.branch[i] = b.laws[i].branchAt(t)
	b.lines[i] = b.laws[i].on(b.branch[i])
}

// move moves a cell to another branch.
func (b *Body) move(i int, to branch) {
	b.branch[i], b.lines[i] = to, b.laws[i].on(to)
	b.change(i)
}

// Stored is the heat its cells hold now, counted from thawed at 0 °C [J].
func (b *Body) Stored() float64 {
	sum := 0.0
	for i, t := range b.t {
		sum += b.laws[i].Heat(t)
	}
	return sum
}

// conduct makes all conductances anew from the frozen shares kept with the cells.
func (b *Body) conduct() {
	mix := func(r, frozen, ice float64) float64 {
		if frozen == 0 {
			return r
		}
		return r + ice*(frozen-r)
	}
	clear(b.out)
	clear(b.total)
	first := len(b.t)
	for i := range b.edges {
		e := &b.edges[i]
		before := e.g
		e.g = 1 / (mix(e.RI, e.RIfrozen, b.ice[e.I]) + mix(e.RJ, e.RJfrozen, b.ice[e.J]))
		if e.g != before {
			first = min(first, e.J)
		}
		b.out[e.I] += e.g
		b.out[e.J] += e.g
	}
	for i := range b.ports {
		p := &b.ports[i]
		before := p.g
		p.g = 1 / mix(p.R, p.RFrozen, b.ice[p.Cell])
		b.out[p.Cell] += p.g
		b.total[p.column] += p.g
		if p.g != before {
			first = min(first, p.Cell)
		}
	}
	if first < len(b.t) {
		b.change(first)
	}
}

// iceStep is how far a cell's frozen share may move before its conductance follows. Between, the conductance is that of
// the last change: an error of at most half the difference between frozen and thawed soil in one cell, and none once it is through.
const iceStep = 0.5

// follow renews conductances where the frozen share of a cell has moved by more than iceStep, or has ended.
func (b *Body) follow() {
	changed := false
	for i, was := range b.ice {
		if b.branch[i] == liquid && was == 0 {
			continue
		}
		ice := b.laws[i].IceShare(b.t[i])
		if math.Abs(ice-was) > iceStep || math.Abs(ice-was) > 0.05 && (ice == 0 || ice == 1) {
			b.ice[i], changed = ice, true
		}
	}
	if changed {
		b.conduct()
	}
}

// open takes down what the cells hold at the begin of a step.
func (b *Body) open() {
	b.follow()
	for i, t := range b.t {
		l := &b.lines[i]
		b.heat[i] = float64(l.c*t) + l.d
	}
	copy(b.base, b.heat)
	b.staged = false
}

// second prepares the second stage of a step of h seconds from the first, which is kept in t1.
func (b *Body) second(perStep, h float64) {
	copy(b.t1, b.y)
	for i, y := range b.y {
		l := &b.lines[i]
		q := (float64(l.c*y) + l.d - b.heat[i]) * perStep
		b.base[i] = b.heat[i] + h*(1-gamma)*q
	}
	b.staged = false
}

// stepError is that of Network.stepError for the cells [K].
func (b *Body) stepError(perStep float64) float64 {
	worst := 0.0
	for i, t := range b.t {
		holds := b.lines[i].c * perStep
		e := math.Abs(b.y[i] - t - (b.t1[i]-t)/gamma)
		worst = max(worst, e*holds/(holds+b.out[i]))
	}
	return worst
}

// foretold is nothing: what cells do is known only when they are solved.
func (b *Body) foretold([]float64) float64 { return 0 }

// stage prepares one implicit stage: what the cells hold at its begin is in base [J].
func (b *Body) stage() []float64 {
	f := b.now
	if b.staged && b.stagedVersion == f.version && b.stagedFor == f.perStep {
		return b.s
	}
	b.staged, b.stagedVersion, b.stagedFor = true, f.version, f.perStep
	for i, held := range b.base {
		b.z[i] = (held - b.lines[i].d) * f.perStep
	}
	forward(f.l, b.z, len(b.t), b.band)
	s := lanes.Made(b.s)
	clear(s)
	if b.narrow > 0 {
		lanes.Add(s[:lanes.Whole(b.columns[b.narrow-1])], f.v, len(s), b.z[:b.narrow])
	}
	lanes.Add(s, f.v[b.narrow*len(s):], len(s), b.z[b.narrow:])
	return b.s
}

// branchSlack is how far a cell's temperature may differ from the one that belongs to the heat it holds, when a step ends with
// it on the wrong branch [K]. Its heat is exact in any case, and its temperature is set by it; only the flows of that one step were
// reckoned with the other. A factor costs as much as twenty stages, so it is not made anew for less.
const branchSlack = 0.1

// finish solves the cells once the port temperatures are known, and tells whether all branches were right, or near enough. Where they
// were not, they are moved and the stage has to be made again.
func (b *Body) finish(ports []float64) (settled bool) {
	f := b.now
	copy(b.y, b.z)
	copy(b.u, ports)
	u, wide, narrow := lanes.Made(b.u), lanes.Whole(len(b.u)), b.narrow&^3
	if narrow > 0 {
		lanes.AddDots(b.y[:narrow], f.v, wide, u[:lanes.Whole(b.columns[b.narrow-1])])
	}
	lanes.AddDots(lanes.Made(b.y)[narrow:], f.v[narrow*wide:], wide, u)
	backward(f.l, b.y, len(b.t), b.band)
	settled = true
	for i, y := range b.y {
		if l := &b.lines[i]; !l.has(y) && math.Abs(b.laws[i].Temperature(float64(l.c*y)+l.d)-y) > branchSlack {
			settled = false
		}
	}
	if settled {
		return true
	}
	for i, y := range b.y {
		if !b.lines[i].has(y) {
			b.move(i, b.laws[i].nextBranch(b.branch[i], y))
		}
	}
	return false
}

// accept takes the end of a step as the state: the heat that each cell holds is that of its branch's line, and its temperature is the
// one that belongs to that heat.
func (b *Body) accept() {
	copy(b.t, b.y)
	for i, y := range b.y {
		l := &b.lines[i]
		if l.has(y) {
			continue
		}
		b.t[i] = b.laws[i].Temperature(float64(l.c*y) + l.d)
		if now := b.laws[i].branchAt(b.t[i]); now != b.branch[i] {
			b.move(i, now)
		}
	}
}

// book books the ports' flows of one stage at the temperatures of the stage.
func (b *Body) book(n *Network, weight float64) {
	sum := 0.0
	for i := range b.ports {
		p := &b.ports[i]
		e := weight * p.g * (n.w.now[p.Node] - b.y[p.Cell])
		n.flows[p.flow].HourJ += e
		n.w.booked[p.Node] -= e
		sum += e
	}
	b.booked += sum
}

func (b *Body) nodesAt() []Node   { return b.nodes }
func (b *Body) totals() []float64 { return b.total }
func (b *Body) bookedJ() *float64 { return &b.booked }

func (b *Body) still() {
	clear(b.base)
	b.staged = false
}

func (b *Body) settle() {
	copy(b.t, b.y)
}

func (b *Body) save() {
	b.kept.copy(b.cells)
	b.saveVersion = b.version
}

func (b *Body) recall() {
	if b.saveVersion == b.version {
		b.cells.copy(b.kept)
		return
	}
	for i, was := range b.kept.branch {
		if b.branch[i] != was {
			b.move(i, was)
		}
	}
	b.cells.copy(b.kept)
	b.conduct()
}
