package thermal

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
	s      []float64
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
	perStep float64
	parts   []*reply
	made    []int     // by block: version of its reply that is in this one
	inner   []float64 // M = L L', inner x inner, as a band that is as wide as the matrix
	pull    []float64 // L^-1 E, inner x outer
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
	c.total, c.s = make([]float64, out), make([]float64, out)
	c.side, c.ports = make([]float64, in+out), make([]float64, most)
	c.z, c.v, c.whole = make([]float64, in), make([]float64, in), make([]int, in)
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
	r := &clusterReply{reply: reply{resp: make([]float64, out*out)}, perStep: perStep, parts: make([]*reply, k), made: make([]int, k),
		inner: make([]float64, in*in), pull: make([]float64, in*out)}
	c.slots = append(c.slots, r)
	return r
}

func (c *Cluster) condense(r *clusterReply) {
	in, out := len(c.inner), len(c.outer)
	band := in - 1
	m := r.inner
	clear(m)
	clear(r.pull)
	clear(r.resp)
	clear(c.total)
	for _, j := range c.joins {
		m[j.a*in+band] += j.g
		m[j.b*in+band] += j.g
		m[max(j.a, j.b)*in+band-max(j.a-j.b, j.b-j.a)] -= j.g
	}
	for i, b := range c.blocks {
		at, totals, resp := c.index[i], b.totals(), r.parts[i].resp
		for x, row := range at {
			if row < in {
				m[row*in+band] += totals[x]
			} else {
				c.total[row-in] += totals[x]
			}
			for y, column := range at {
				v := resp[x*len(at)+y]
				switch {
				case column <= row && row < in:
					m[row*in+band-row+column] -= v
				case row < in && column >= in:
					r.pull[row*out+column-in] += v
				case row >= in && column >= row:
					r.resp[(row-in)*out+column-in] += v
				}
			}
		}
	}
	choleskyBand(m, 0, in, band)
	forwardMany(m, r.pull, 0, in, band, out, c.whole)
	respond(r.pull, r.resp, 0, in, out, c.whole)
	mirror(r.resp, out)
}

func (c *Cluster) stage() []float64 {
	if c.staged && c.stagedReply == c.now && c.stagedVersion == c.now.version {
		return c.s
	}
	c.staged, c.stagedReply, c.stagedVersion = true, c.now, c.now.version
	in, out := len(c.inner), len(c.outer)
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
	for k, z := range c.z {
		addTo(c.s, c.now.pull[k*out:k*out+out], z)
	}
	return c.s
}

func (c *Cluster) finish(ports []float64) bool {
	in, out := len(c.inner), len(c.outer)
	for k, z := range c.z {
		c.v[k] = z + dot(c.now.pull[k*out:k*out+out], ports)
	}
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
