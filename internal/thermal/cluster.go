package thermal

import "suncellar/internal/thermal/lanes"

// Cluster is blocks that are joined to each other at inner nodes: nodes without heat that nothing else touches. It is a block itself: its
// inner nodes are eliminated when one of its blocks has changed, which is seldom, and not each time the network is solved.
type Cluster struct {
	name   string
	net    *Network
	blocks []Block
	inner  []Node
	outer  []Node
	joins  []innerJoin
	index  [][]int // by block and column: place among inner nodes and, after them, outer ones

	total  []float64 // by outer node
	slots  []*clusterReply
	now    *clusterReply
	side   []float64 // by inner node, then outer: what comes back from the blocks [W]
	s, u   []float64 // by outer node: what comes back, and their temperatures
	z      []float64 // L^-1 of the inner nodes' side
	v      []float64 // inner temperatures of the stage solved last
	whole  []int     // as Body.columns: every outer node from the first row on
	ports  []float64 // of one block
	booked float64

	staged        bool // s and z belong to what the blocks hold and to the reply of this version
	stagedVersion int
	stagedReply   *clusterReply
}

// innerJoin conducts between two inner nodes; it may be negative where it takes back what a pair of others conducts too much.
type innerJoin struct {
	a, b int
	g    float64
}

type clusterReply struct {
	reply
	system
	perStep float64
	parts   []*reply
	made    []int // by block: version of its reply that is in this one
	still   *stillPart
}

// Inner adds a node that only the blocks of one cluster touch.
func (n *Network) Inner(name string, t float64) Node {
	n.mustBuild(name)
	n.nodes = append(n.nodes, node{name: name, inner: true, row: -1, t: t})
	return Node(len(n.nodes) - 1)
}

// InnerJoin is a conductance between two inner nodes of a cluster [W/K].
type InnerJoin struct {
	A, B Node
	G    float64
}

// AddCluster takes the blocks that were added last, as many as are named, together.
func (n *Network) AddCluster(name string, blocks []Block, joins []InnerJoin) *Cluster {
	n.mustBuild(name)
	n.blocks = n.blocks[:len(n.blocks)-len(blocks)]
	c := &Cluster{name: name, net: n, blocks: blocks}
	place := map[Node]int{}
	for _, b := range blocks {
		for _, id := range b.nodesAt() {
			if _, ok := place[id]; !ok && n.nodes[id].inner {
				place[id] = len(c.inner)
				c.inner = append(c.inner, id)
			}
		}
	}
	most := 0
	for _, b := range blocks {
		most = max(most, len(b.nodesAt()))
		for _, id := range b.nodesAt() {
			if _, ok := place[id]; !ok {
				place[id] = len(c.inner) + len(c.outer)
				c.outer = append(c.outer, id)
			}
		}
	}
	for _, b := range blocks {
		var list []int
		for _, id := range b.nodesAt() {
			list = append(list, place[id])
		}
		c.index = append(c.index, list)
	}
	for _, j := range joins {
		c.joins = append(c.joins, innerJoin{place[j.A], place[j.B], j.G})
	}
	in, out := len(c.inner), len(c.outer)
	c.total, c.s, c.u = make([]float64, out), lanes.Make(out), lanes.Make(out)
	c.side, c.ports = make([]float64, in+out), make([]float64, most)
	c.z, c.v, c.whole = make([]float64, in), lanes.Make(in), make([]int, in)
	for k := range c.whole {
		c.whole[k] = out
	}
	n.blocks = append(n.blocks, c)
	return c
}

// Name is the name it was added under.
func (c *Cluster) Name() string { return c.name }

// Len is the number of states of its blocks.
func (c *Cluster) Len() int {
	sum := 0
	for _, b := range c.blocks {
		sum += b.Len()
	}
	return sum
}

// State is the states of its blocks, one after the other.
func (c *Cluster) State() []float64 {
	var all []float64
	for _, b := range c.blocks {
		all = append(all, b.State()...)
	}
	return all
}

// SetState puts its blocks into the states that State gave.
func (c *Cluster) SetState(s []float64) {
	for _, b := range c.blocks {
		b.SetState(s[:b.Len()])
		s = s[b.Len():]
	}
}

// Stored is the heat its blocks hold [J].
func (c *Cluster) Stored() float64 {
	sum := 0.0
	for _, b := range c.blocks {
		sum += b.Stored()
	}
	return sum
}

func (c *Cluster) nodesAt() []Node   { return c.outer }
func (c *Cluster) bookedJ() *float64 { return &c.booked }

func (c *Cluster) totals() []float64 { return c.total }

func (c *Cluster) each(do func(b Block)) {
	for _, b := range c.blocks {
		do(b)
	}
}

func (c *Cluster) open()   { c.staged = false; c.each(Block.open) }
func (c *Cluster) still()  { c.staged = false; c.each(Block.still) }
func (c *Cluster) settle() { c.each(Block.settle); c.keepInner() }
func (c *Cluster) accept() { c.each(Block.accept); c.keepInner() }
func (c *Cluster) save()   { c.each(Block.save) }
func (c *Cluster) recall() { c.each(Block.recall) }

func (c *Cluster) keepInner() {
	for k, id := range c.inner {
		c.net.nodes[id].t = c.v[k]
	}
}

func (c *Cluster) second(perStep, h float64) {
	c.staged = false
	for _, b := range c.blocks {
		b.second(perStep, h)
	}
}

func (c *Cluster) stepError(perStep float64) float64 {
	worst := 0.0
	for _, b := range c.blocks {
		worst = max(worst, b.stepError(perStep))
	}
	return worst
}

// foretold is nothing: inner nodes are not foreseen.
func (c *Cluster) foretold([]float64) float64 { return 0 }

// reply condenses the replies of the blocks as a body does its cells: with inner temperatures v and outer ones u,
//
//	M v = side + E u,    M = L L',    V = L^-1 E,    S = S_oo + V'V
func (c *Cluster) reply(perStep float64, st *Stats) *reply {
	r := c.slot(perStep)
	c.now = r
	changed := false
	for i, b := range c.blocks {
		part := b.reply(perStep, st)
		if r.parts[i] != part || r.made[i] != part.version {
			r.parts[i], r.made[i], changed = part, part.version, true
		}
	}
	if changed {
		c.condense(r)
		r.version++
	}
	return &r.reply
}

func (c *Cluster) slot(perStep float64) *clusterReply {
	for _, r := range c.slots {
		if r.perStep == perStep {
			return r
		}
	}
	in, out, k := len(c.inner), len(c.outer), len(c.blocks)
	r := &clusterReply{perStep: perStep, parts: make([]*reply, k), made: make([]int, k), system: newSystem(in, out)}
	r.resp = r.outer
	c.slots = append(c.slots, r)
	return r
}

func (c *Cluster) condense(r *clusterReply) {
	in, out := len(c.inner), len(c.outer)
	band, wide := in-1, lanes.Whole(out)
	if r.still == nil {
		r.still = c.stillPart(r)
	}
	copy(r.inner, r.still.inner)
	copy(r.pull, r.still.pull)
	copy(r.outer, r.still.outer)
	copy(c.total, r.still.total)
	for i, b := range c.blocks {
		if !still(b) {
			c.gather(&r.system, c.total, i, r.parts[i].resp)
		}
	}
	m := r.inner
	choleskyBand(m, 0, in, band)
	forwardMany(m, r.pull, 0, in, band, wide, c.whole)
	respond(r.pull, r.resp, 0, in, out, c.whole)
	mirror(r.resp, out)
}

// system is the balances of a cluster's nodes, as gathered from its blocks and then condensed in place.
type system struct {
	inner []float64 // M, then L with M = L L', inner x inner, as a band that is as wide as the matrix
	pull  []float64 // E, then L^-1 E, inner x outer, rows kept in whole fours
	outer []float64 // S, outer x outer
}

func newSystem(in, out int) system {
	return system{inner: make([]float64, in*in), pull: make([]float64, lanes.Whole(in)*lanes.Whole(out)), outer: make([]float64, out*out)}
}

// stillPart is the part that is the same for every step of one length: joins and modes.
type stillPart struct {
	system
	total []float64
}

// still tells that a block answers every step of one length alike.
func still(b Block) bool { _, ok := b.(*Modes); return ok }

func (c *Cluster) stillPart(r *clusterReply) *stillPart {
	in, out := len(c.inner), len(c.outer)
	s := &stillPart{system: newSystem(in, out), total: make([]float64, out)}
	band := in - 1
	for _, j := range c.joins {
		s.inner[j.a*in+band] += j.g
		s.inner[j.b*in+band] += j.g
		s.inner[max(j.a, j.b)*in+band-max(j.a-j.b, j.b-j.a)] -= j.g
	}
	for i, b := range c.blocks {
		if still(b) {
			c.gather(&s.system, s.total, i, r.parts[i].resp)
		}
	}
	return s
}

// gather adds the reply of one block.
func (c *Cluster) gather(to *system, total []float64, block int, resp []float64) {
	in, out := len(c.inner), len(c.outer)
	band, wide := in-1, lanes.Whole(out)
	at, totals := c.index[block], c.blocks[block].totals()
	for x, row := range at {
		if row < in {
			to.inner[row*in+band] += totals[x]
		} else {
			total[row-in] += totals[x]
		}
		for y, column := range at {
			v := resp[x*len(at)+y]
			switch {
			case column <= row && row < in:
				to.inner[row*in+band-row+column] -= v
			case row < in && column >= in:
				to.pull[row*wide+column-in] += v
			case row >= in && column >= row:
				to.outer[(row-in)*out+column-in] += v
			}
		}
	}
}

func (c *Cluster) stage() []float64 {
	if c.staged && c.stagedReply == c.now && c.stagedVersion == c.now.version {
		return c.s
	}
	c.staged, c.stagedReply, c.stagedVersion = true, c.now, c.now.version
	in := len(c.inner)
	clear(c.side)
	for i, b := range c.blocks {
		s := b.stage()
		for x, at := range c.index[i] {
			c.side[at] += s[x]
		}
	}
	copy(c.s, c.side[in:])
	copy(c.z, c.side[:in])
	forward(c.now.inner, c.z, in, in-1)
	s := lanes.Made(c.s)
	lanes.Add(s, c.now.pull, len(s), c.z)
	return c.s
}

func (c *Cluster) finish(ports []float64) bool {
	in := len(c.inner)
	copy(c.v, c.z)
	copy(c.u, ports)
	u := lanes.Made(c.u)
	lanes.AddDots(lanes.Made(c.v), c.now.pull, len(u), u)
	backward(c.now.inner, c.v, in, in-1)
	settled := true
	for i, b := range c.blocks {
		at := c.index[i]
		for x, k := range at {
			if k < in {
				c.ports[x] = c.v[k]
			} else {
				c.ports[x] = ports[k-in]
			}
		}
		if !b.finish(c.ports[:len(at)]) {
			settled = false
		}
	}
	return settled
}

func (c *Cluster) book(n *Network, weight float64) {
	before := 0.0
	for _, b := range c.blocks {
		before += *b.bookedJ()
	}
	for k, id := range c.inner {
		n.w.now[id] = c.v[k]
	}
	for _, j := range c.joins {
		q := weight * j.g * (c.v[j.a] - c.v[j.b])
		n.w.booked[c.inner[j.a]] -= q
		n.w.booked[c.inner[j.b]] += q
	}
	for _, b := range c.blocks {
		b.book(n, weight)
		before -= *b.bookedJ()
	}
	c.booked -= before
}
