package thermal

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// Cell is one cell of a Body: its enthalpy law and its temperature [°C].
type Cell struct {
	Law    Law
	T      float64
	branch branch
	ice    float64 // frozen share that the conductances were made with
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
	cells []Cell
	edges []Edge
	ports []Port
	band  int

	nodes   []Node // one per column: the distinct nodes at its ports
	columns []int  // by cell: how many leading columns reach it
	narrow  int    // how many leading cells count as reached by few columns, those of the last of them
	booked  float64

	version int // counts changes of branches and conductances, see change
	slots   []*factor
	now     *factor // of the present stage
	// per stage
	heat, base, z, y, t1 []float64
	s                    []float64
	out                  []float64 // by cell: sum of its conductances [W/K]
	total                []float64 // by column: sum of the port's conductances [W/K]
	kept                 []Cell
	staged               bool // z and s belong to base and to the factor made last
	stagedVersion        int
	stagedFor            float64
	saveVersion          int
}

// AddBody adds a body; its ports name the nodes of the network that they join.
func (n *Network) AddBody(name string, cells []Cell, edges []Edge, ports []Port) *Body {
	n.mustBuild(name)
	b := &Body{name: name, cells: cells, edges: edges, ports: ports}
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
	for i := range b.cells {
		c := &b.cells[i]
		c.branch = c.Law.branchAt(c.T)
		c.ice = c.Law.IceShare(c.T)
	}
	k, p := len(cells), len(b.nodes)
	for _, s := range []*[]float64{&b.heat, &b.base, &b.z, &b.y, &b.t1, &b.out} {
		*s = make([]float64, k)
	}
	b.s, b.total = make([]float64, p), make([]float64, p)
	b.kept = make([]Cell, k)
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
	b.columns = make([]int, len(b.cells))
	c := 0
	for i := range b.columns {
		for c < len(b.nodes) && first[b.nodes[c]] <= i {
			c++
		}
		b.columns[i] = c
	}
	least := len(b.cells) * len(b.nodes)
	for i, c := range b.columns {
		if size := (i+1)*c + (len(b.cells)-i-1)*len(b.nodes); size < least {
			b.narrow, least = i+1, size
		}
	}
}

// bodyFlow names the flow at a port: it crosses the boundary only when the node is given.
func (n *Network) bodyFlow(name string, at Node) int { return n.flow(name, at, at) }

// T is the temperature of a cell [°C].
func (b *Body) T(cell int) float64 { return b.cells[cell].T }

// IceShare is the frozen share of a cell, 0..1.
func (b *Body) IceShare(cell int) float64 { c := &b.cells[cell]; return c.Law.IceShare(c.T) }

// Name is the name it was added under.
func (b *Body) Name() string { return b.name }

// Len is the number of cells.
func (b *Body) Len() int { return len(b.cells) }

// State is the temperature of every cell [°C].
func (b *Body) State() []float64 {
	t := make([]float64, len(b.cells))
	for i := range t {
		t[i] = b.cells[i].T
	}
	return t
}

// SetState puts all cells at a new state [°C], between runs.
func (b *Body) SetState(t []float64) {
	for i := range b.cells {
		c := &b.cells[i]
		c.T = t[i]
		c.branch = c.Law.branchAt(c.T)
		c.ice = c.Law.IceShare(c.T)
	}
	b.change(0)
	b.conduct()
}

// Stored is the heat its cells hold now, counted from thawed at 0 °C [J].
func (b *Body) Stored() float64 {
	sum := 0.0
	for i := range b.cells {
		sum += b.cells[i].Law.Heat(b.cells[i].T)
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
	first := len(b.cells)
	for i := range b.edges {
		e := &b.edges[i]
		before := e.g
		e.g = 1 / (mix(e.RI, e.RIfrozen, b.cells[e.I].ice) + mix(e.RJ, e.RJfrozen, b.cells[e.J].ice))
		if e.g != before {
			first = min(first, e.J)
		}
		b.out[e.I] += e.g
		b.out[e.J] += e.g
	}
	for i := range b.ports {
		p := &b.ports[i]
		before := p.g
		p.g = 1 / mix(p.R, p.RFrozen, b.cells[p.Cell].ice)
		b.out[p.Cell] += p.g
		b.total[p.column] += p.g
		if p.g != before {
			first = min(first, p.Cell)
		}
	}
	if first < len(b.cells) {
		b.change(first)
	}
}

// iceStep is how far a cell's frozen share may move before its conductance follows. Between, the conductance is that of
// the last change: an error of at most half the difference between frozen and thawed soil in one cell, and none once it is through.
const iceStep = 0.5

// follow renews conductances where the frozen share of a cell has moved by more than iceStep, or has ended.
func (b *Body) follow() {
	changed := false
	for i := range b.cells {
		c := &b.cells[i]
		if c.Law.Latent == 0 {
			continue
		}
		ice := c.Law.IceShare(c.T)
		if math.Abs(ice-c.ice) > iceStep || math.Abs(ice-c.ice) > 0.05 && (ice == 0 || ice == 1) {
			c.ice, changed = ice, true
		}
	}
	if changed {
		b.conduct()
	}
}

// open takes down what the cells hold at the begin of a step.
func (b *Body) open() {
	b.follow()
	for i := range b.cells {
		b.heat[i] = b.cells[i].Law.Heat(b.cells[i].T)
	}
	copy(b.base, b.heat)
	b.staged = false
}

// second prepares the second stage of a step of h seconds from the first, which is kept in t1.
func (b *Body) second(perStep, h float64) {
	copy(b.t1, b.y)
	for i := range b.cells {
		c := &b.cells[i]
		capacity, d := c.Law.line(c.branch)
		q := (capacity*b.y[i] + d - b.heat[i]) * perStep
		b.base[i] = b.heat[i] + h*(1-gamma)*q
	}
	b.staged = false
}

// stepError is that of Network.stepError for the cells [K].
func (b *Body) stepError(perStep float64) float64 {
	worst := 0.0
	for i := range b.cells {
		c := &b.cells[i]
		capacity, _ := c.Law.line(c.branch)
		e := math.Abs(b.y[i] - c.T - (b.t1[i]-c.T)/gamma)
		worst = max(worst, e*capacity*perStep/(capacity*perStep+b.out[i]))
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
	for i := range b.cells {
		c := &b.cells[i]
		_, d := c.Law.line(c.branch)
		b.z[i] = (b.base[i] - d) * f.perStep
	}
	forward(f.l, b.z, len(b.cells), b.band)
	narrow, wide := b.replies(f)
	blas64.Gemv(blas.Trans, 1, wide, vector(b.z[b.narrow:]), 0, vector(b.s))
	if b.narrow > 0 {
		blas64.Gemv(blas.Trans, 1, narrow, vector(b.z[:b.narrow]), 1, vector(b.s[:narrow.Cols]))
	}
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
	narrow, wide := b.replies(f)
	blas64.Gemv(blas.NoTrans, 1, wide, vector(ports), 1, vector(b.y[b.narrow:]))
	if b.narrow > 0 {
		blas64.Gemv(blas.NoTrans, 1, narrow, vector(ports[:narrow.Cols]), 1, vector(b.y[:b.narrow]))
	}
	backward(f.l, b.y, len(b.cells), b.band)
	settled = true
	for i := range b.cells {
		c := &b.cells[i]
		if c.Law.Latent == 0 {
			continue
		}
		if nb := c.Law.nextBranch(c.branch, b.y[i]); nb != c.branch {
			capacity, d := c.Law.line(c.branch)
			if math.Abs(c.Law.Temperature(capacity*b.y[i]+d)-b.y[i]) > branchSlack {
				settled = false
			}
		}
	}
	if settled {
		return true
	}
	for i := range b.cells {
		c := &b.cells[i]
		if c.Law.Latent == 0 {
			continue
		}
		if nb := c.Law.nextBranch(c.branch, b.y[i]); nb != c.branch {
			c.branch = nb
			b.change(i)
		}
	}
	return false
}

// accept takes the end of a step as the state: the heat that each cell holds is that of its branch's line, and its temperature is the
// one that belongs to that heat.
func (b *Body) accept() {
	for i := range b.cells {
		c := &b.cells[i]
		c.T = b.y[i]
		if c.Law.Latent == 0 || c.Law.nextBranch(c.branch, c.T) == c.branch {
			continue
		}
		capacity, d := c.Law.line(c.branch)
		c.T = c.Law.Temperature(capacity*c.T + d)
		if now := c.Law.branchAt(c.T); now != c.branch {
			c.branch = now
			b.change(i)
		}
	}
}

// book books the ports' flows of one stage at the temperatures of the stage.
func (b *Body) book(n *Network, weight float64) {
	for i := range b.ports {
		p := &b.ports[i]
		e := weight * p.g * (n.w.now[p.Node] - b.y[p.Cell])
		n.flows[p.flow].HourJ += e
		n.w.booked[p.Node] -= e
		b.booked += e
	}
}

func (b *Body) nodesAt() []Node   { return b.nodes }
func (b *Body) totals() []float64 { return b.total }
func (b *Body) bookedJ() *float64 { return &b.booked }

func (b *Body) still() {
	clear(b.base)
	b.staged = false
}

func (b *Body) settle() {
	for i := range b.cells {
		b.cells[i].T = b.y[i]
	}
}

func (b *Body) save() {
	copy(b.kept, b.cells)
	b.saveVersion = b.version
}

func (b *Body) recall() {
	if b.saveVersion == b.version {
		copy(b.cells, b.kept)
		return
	}
	for i := range b.cells {
		if b.cells[i].branch != b.kept[i].branch {
			b.change(i)
			break
		}
	}
	copy(b.cells, b.kept)
	b.conduct()
}
