package thermal

import "fmt"

type work struct {
	m       *matrix
	rhs     []float64
	x       []float64 // stage temperatures of state nodes by row
	x1      []float64 // after stage 1
	start   []float64 // at begin of step
	guess   []float64 // by node: temperatures for the coefficients of the stage
	heat    []float64 // heat held at begin of step [J]
	now     []float64 // by node: temperatures of the stage as solved last
	booked  []float64 // by node, since the day was opened [J]
	ports   []float64
	replies []*reply   // by block, of the present stage
	joins   [][4]int32 // by join: entries a a, b b, a b, b a; -1 where none
	carries [][2]int32 // by carry: entries from from, to from
	own     []int32    // by row: its diagonal
	injects []int      // by source: its row
	columns [][]int    // by block and column: its row
	// what comes from given nodes
	drawJoins, drawCarries []gift
	drawReplies            [][]gift  // by block
	entries                [][]int32 // by block: entries of its ports, by columns
	saveT                  []float64
	holds                  []float64  // by row: heat capacity over the step in the diagonal, 0 for what follows at once, near 1 for what is slow
	saveB                  []float64  // booked heat, for a step taken back
	perStep                float64    // 1/(gamma h) [1/s]
	h                      float64    // length of the step [s]
	error                  float64    // of the step judged last, see stepError [K]
	foreseen               bool       // guess is that of a step that was not begun: its half takes it over
	fresh                  bool       // the factored matrix is that of the present coefficients
	factored               float64    // perStep of the factored matrix
	made                   []int      // by block: version of the reply in the matrix
	time                   [2]float64 // of the two stages within the hour [s]
}

func (n *Network) prepare() {
	if n.ready {
		return
	}
	n.ready = true
	m := len(n.rows)
	w := &n.w
	n.lay()
	n.layDraws()
	for _, p := range []*[]float64{&w.rhs, &w.x, &w.x1, &w.start, &w.heat, &w.holds, &w.saveT} {
		*p = make([]float64, m)
	}
	for _, p := range []*[]float64{&w.now, &w.guess, &w.booked} {
		*p = make([]float64, len(n.nodes))
	}
	most := 0
	for _, b := range n.blocks {
		most = max(most, len(b.nodesAt()))
	}
	w.ports = make([]float64, most)
	w.replies, w.made = make([]*reply, len(n.blocks)), make([]int, len(n.blocks))
}

// maxBranches is how often branches may be moved in one stage.
const maxBranches = 40

// solve finishes one implicit stage: nodes are in w.x; cells go into their block. What nodes and blocks hold at its begin stands in w.rhs and in the blocks' base
// [J]. Where branches were wrong they are moved and the stage is solved again; false when they did not settle.
func (n *Network) solve() bool {
	w := &n.w
	for range maxBranches {
		settled := true
		for r, id := range n.rows {
			nd := &n.nodes[id]
			if nd.law.Latent == 0 {
				continue
			}
			if nb := nd.law.nextBranch(nd.branch, w.x[r]); nb != nd.branch {
				nd.branch, settled, w.fresh = nb, false, false
			}
		}
		for _, b := range n.blocks {
			nodes := b.nodesAt()
			for c, id := range nodes {
				w.ports[c] = w.now[id]
			}
			if !b.finish(w.ports[:len(nodes)]) {
				settled, w.fresh = false, false
			}
		}
		if settled {
			return true
		}
		n.solveNodes()
	}
	return false
}

// solveNodes solves the nodes of one stage.
func (n *Network) solveNodes() {
	w := &n.w
	n.Stats.Solves++
	if !n.matrix() {
		panic("thermal: a node is joined to nothing")
	}
	n.assembleRight()
	w.m.solve(w.x)
	for r, id := range n.rows {
		w.now[id] = w.x[r]
	}
}

// matrix makes and factors the matrix of the present stage, unless coefficients, branches and bodies are those that it was made of; false when a node
// is joined to nothing.
func (n *Network) matrix() bool {
	w := &n.w
	for i, b := range n.blocks {
		r := b.reply(w.perStep, &n.Stats)
		if w.replies[i] != r || w.made[i] != r.version {
			w.replies[i], w.made[i], w.fresh = r, r.version, false
		}
	}
	if w.fresh && w.factored == w.perStep {
		return true
	}
	n.Stats.Factors++
	n.assembleMatrix()
	w.fresh, w.factored = w.m.factor(), w.perStep
	return w.fresh
}

// lay makes the matrix with all entries that joins, carries and bodies may have.
func (n *Network) lay() {
	w := &n.w
	var joined [][2]int
	pair := func(a, b Node) {
		if r, c := n.nodes[a].row, n.nodes[b].row; r >= 0 && c >= 0 {
			joined = append(joined, [2]int{r, c})
		}
	}
	for i := range n.joins {
		pair(n.joins[i].from, n.joins[i].to)
	}
	for i := range n.carries {
		pair(n.carries[i].from, n.carries[i].to)
	}
	for _, b := range n.blocks {
		nodes := b.nodesAt()
		for i, x := range nodes {
			for _, y := range nodes[:i] {
				pair(x, y)
			}
		}
	}
	for _, x := range n.exchanges {
		for i, a := range x.nodes {
			for _, b := range x.nodes[:i] {
				pair(a, b)
			}
		}
	}
	w.m = newMatrix(len(n.rows), joined)
	entry := func(a, b Node) int32 { return w.m.entry(n.nodes[a].row, n.nodes[b].row) }
	for i := range n.joins {
		j := &n.joins[i]
		w.joins = append(w.joins, [4]int32{entry(j.from, j.from), entry(j.to, j.to), entry(j.from, j.to), entry(j.to, j.from)})
	}
	for i := range n.carries {
		c := &n.carries[i]
		w.carries = append(w.carries, [2]int32{entry(c.from, c.from), entry(c.to, c.from)})
	}
	for r := range n.rows {
		w.own = append(w.own, w.m.entry(r, r))
	}
	for _, x := range n.exchanges {
		for _, a := range x.nodes {
			for _, b := range x.nodes {
				x.entries = append(x.entries, entry(a, b))
			}
		}
	}
	for _, b := range n.blocks {
		var list []int32
		for _, x := range b.nodesAt() {
			for _, y := range b.nodesAt() {
				list = append(list, entry(x, y))
			}
		}
		w.entries = append(w.entries, list)
	}
}

// assembleMatrix makes the matrix of one stage.
func (n *Network) assembleMatrix() {
	w := &n.w
	a := w.m.a
	clear(a)
	for r, id := range n.rows {
		nd := &n.nodes[id]
		c, _ := nd.law.line(nd.branch)
		a[w.own[r]] = c * w.perStep
		w.holds[r] = c * w.perStep
	}
	for i, at := range w.joins {
		g := n.joins[i].g
		if g == 0 {
			continue
		}
		if at[0] >= 0 {
			a[at[0]] += g
		}
		if at[1] >= 0 {
			a[at[1]] += g
		}
		if at[2] >= 0 {
			a[at[2]] -= g
			a[at[3]] -= g
		}
	}
	for i, at := range w.carries {
		v := n.carries[i].w
		if at[0] >= 0 {
			a[at[0]] += v
		}
		if at[1] >= 0 {
			a[at[1]] -= v
		}
	}
	for _, x := range n.exchanges {
		x.assemble(a)
	}
	for i, b := range n.blocks {
		entries, totals := w.entries[i], b.totals()
		for k, v := range w.replies[i].resp {
			if at := entries[k]; at >= 0 {
				a[at] -= v
			}
		}
		for c, v := range totals {
			if at := entries[c*(len(totals)+1)]; at >= 0 {
				a[at] += v
			}
		}
	}
	for r, at := range w.own {
		w.holds[r] /= a[at]
	}
}

// assembleRight makes the right side of one stage in w.x: what nodes held, sources, given nodes, and the blocks' replies.
func (n *Network) assembleRight() {
	w := &n.w
	for r, id := range n.rows {
		nd := &n.nodes[id]
		_, d := nd.law.line(nd.branch)
		w.x[r] = (w.rhs[r] - d) * w.perStep
	}
	for _, d := range w.drawJoins {
		w.x[d.row] += n.joins[d.of].g * w.now[d.from]
	}
	for _, d := range w.drawCarries {
		w.x[d.row] += n.carries[d.of].w * w.now[d.from]
	}
	for i := range n.injects {
		w.x[w.injects[i]] += n.injects[i].q
	}
	for _, x := range n.exchanges {
		for i, r := range x.rows {
			w.x[r] -= x.fixed[i]
		}
	}
	for i, b := range n.blocks {
		s := b.stage()
		for c, r := range w.columns[i] {
			if r >= 0 {
				w.x[r] += s[c]
			}
		}
		for _, d := range w.drawReplies[i] {
			w.x[d.row] += w.replies[i].resp[d.of] * w.now[d.from]
		}
	}
}

// gift is a flow into the balance of a row from a given node.
type gift struct {
	row  int
	from Node
	of   int // the join, the carry, or the entry of a reply
}

// layDraws finds what comes from given nodes.
func (n *Network) layDraws() {
	w := &n.w
	add := func(list *[]gift, to, from Node, of int) {
		if r := n.nodes[to].row; r >= 0 && n.nodes[from].given {
			*list = append(*list, gift{r, from, of})
		}
	}
	for i := range n.joins {
		j := &n.joins[i]
		add(&w.drawJoins, j.from, j.to, i)
		add(&w.drawJoins, j.to, j.from, i)
	}
	for i := range n.carries {
		add(&w.drawCarries, n.carries[i].to, n.carries[i].from, i)
	}
	for i := range n.injects {
		w.injects = append(w.injects, n.nodes[n.injects[i].to].row)
	}
	for _, b := range n.blocks {
		var replies []gift
		var rows []int
		nodes := b.nodesAt()
		for c, id := range nodes {
			rows = append(rows, n.nodes[id].row)
			for k, other := range nodes {
				add(&replies, id, other, c*len(nodes)+k)
			}
		}
		w.columns, w.drawReplies = append(w.columns, rows), append(w.drawReplies, replies)
	}
}

// givenAt puts the given nodes at their temperature at time t within the hour [s].
func (n *Network) givenAt(t float64) {
	for i := range n.nodes {
		nd := &n.nodes[i]
		if nd.given {
			n.w.now[i] = nd.t0 + (nd.t1-nd.t0)*t/HourS
			n.w.guess[i] = n.w.now[i]
		}
	}
}

// Steady puts all nodes and bodies into the steady state under the present coefficients and given temperatures: heat capacities
// count for nothing. It fails when freezing and thawing do not settle.
func (n *Network) Steady() error {
	n.prepare()
	w := &n.w
	w.perStep = 0
	clear(w.rhs)
	w.fresh = false
	for _, b := range n.blocks {
		b.still()
	}
	n.givenAt(0)
	n.solveNodes()
	if !n.solve() {
		return fmt.Errorf("thermal: the steady state did not settle")
	}
	for r, id := range n.rows {
		n.SetTemperature(id, w.x[r])
	}
	for _, b := range n.blocks {
		b.settle()
	}
	return nil
}

// Watts is the heat that goes from node id into the body at this moment [W]; after Steady, the steady flow.
func (b *Body) Watts(n *Network, id Node) float64 {
	sum := 0.0
	for i := range b.ports {
		if p := &b.ports[i]; p.Node == id {
			sum += p.g * (n.T(id) - b.t[p.Cell])
		}
	}
	return sum
}
