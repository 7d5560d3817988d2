package thermal

import (
	"fmt"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

type work struct {
	a       []float64 // dense matrix, row major
	ipiv    []int
	rhs     []float64
	x       []float64 // stage temperatures of state nodes by row
	x1      []float64 // after stage 1
	start   []float64 // at begin of step
	mid     []float64 // within the step, for its coefficients
	heat    []float64 // heat held at begin of step [J]
	given   []float64 // by node: temperature of given nodes at the stage
	booked  []float64 // by node, since the day was opened [J]
	ports   []float64
	lu      blas64.General
	b       blas64.General
	factors []*factor
	saveT   []float64
	diag    []float64  // diagonal before factoring
	saveB   []float64  // booked heat, for a step taken back
	perStep float64    // 1/(gamma h) [1/s]
	h       float64    // length of the step [s]
	error   float64    // of the step judged last, see stepError [K]
	fresh   bool       // the factored matrix is that of the present coefficients
	made    []int      // by body: version of the reply in the matrix
	time    [2]float64 // of the two stages within the hour [s]
}

func (w *work) at(n *Network, id Node) float64 {
	nd := &n.nodes[id]
	if nd.given {
		return w.given[id]
	}
	return w.x[nd.row]
}

func (n *Network) prepare() {
	if n.ready {
		return
	}
	n.ready = true
	m := len(n.rows)
	w := &n.w
	w.a, w.ipiv = make([]float64, m*m), make([]int, m)
	for _, p := range []*[]float64{&w.rhs, &w.x, &w.x1, &w.start, &w.mid, &w.heat, &w.diag, &w.saveT} {
		*p = make([]float64, m)
	}
	w.given, w.booked = make([]float64, len(n.nodes)), make([]float64, len(n.nodes))
	w.lu = blas64.General{Rows: m, Cols: m, Stride: m, Data: w.a}
	w.b = blas64.General{Rows: m, Cols: 1, Stride: 1, Data: w.x}
	most := 0
	for _, b := range n.bodies {
		most = max(most, len(b.nodes))
	}
	w.ports = make([]float64, most)
	w.factors, w.made = make([]*factor, len(n.bodies)), make([]int, len(n.bodies))
}

// maxBranches is how often branches may be moved in one stage.
const maxBranches = 40

// solve makes one implicit stage that ends at time t within the hour: nodes into w.x, cells into their body's y. What nodes
// and cells hold at its begin stands in w.rhs and in the bodies' base [J]. False when the branches did not settle.
func (n *Network) solve(t float64) bool {
	n.givenAt(t)
	w := &n.w
	for range maxBranches {
		n.solveNodes()
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
		for i, b := range n.bodies {
			for c, id := range b.nodes {
				w.ports[c] = w.at(n, id)
			}
			if !b.finish(w.factors[i], w.ports[:len(b.nodes)]) {
				settled, w.fresh = false, false
			}
		}
		if settled {
			return true
		}
	}
	return false
}

// solveNodes solves the nodes of one stage; the matrix is made and factored anew only when coefficients, branches or a body
// have changed since.
func (n *Network) solveNodes() {
	w := &n.w
	n.Stats.Solves++
	for i, b := range n.bodies {
		f := b.factorFor(w.perStep, &n.Stats)
		if w.factors[i] != f || w.made[i] != f.version {
			w.factors[i], w.made[i], w.fresh = f, f.version, false
		}
		b.stage(f)
	}
	if !w.fresh {
		n.Stats.Factors++
		n.assembleMatrix()
		if ok := lapack64.Getrf(w.lu, w.ipiv); !ok {
			panic("thermal: a node is joined to nothing")
		}
		w.fresh = true
	}
	n.assembleRight()
	lapack64.Getrs(blas.NoTrans, w.lu, w.b, w.ipiv)
}

// assembleMatrix makes the matrix of one stage.
func (n *Network) assembleMatrix() {
	w := &n.w
	m := len(n.rows)
	clear(w.a)
	for r, id := range n.rows {
		nd := &n.nodes[id]
		c, _ := nd.law.line(nd.branch)
		w.a[r*m+r] = c * w.perStep
	}
	for i := range n.joins {
		j := &n.joins[i]
		if j.g != 0 {
			n.enter(j.a, j.a, j.g)
			n.enter(j.b, j.b, j.g)
			n.enter(j.a, j.b, -j.g)
			n.enter(j.b, j.a, -j.g)
		}
	}
	for i := range n.carries {
		c := &n.carries[i]
		if c.w != 0 {
			n.enter(c.from, c.from, c.w)
			n.enter(c.to, c.from, -c.w)
		}
	}
	for i, b := range n.bodies {
		f, p := w.factors[i], len(b.nodes)
		for c, id := range b.nodes {
			n.enter(id, id, b.total[c])
			for k, other := range b.nodes {
				n.enter(id, other, -f.resp[c*p+k])
			}
		}
	}
	for r := 0; r < m; r++ {
		w.diag[r] = w.a[r*m+r]
	}
}

// enter adds g to the matrix at the balance of node a, temperature of node b; given nodes have neither.
func (n *Network) enter(a, b Node, g float64) {
	if r, c := n.nodes[a].row, n.nodes[b].row; r >= 0 && c >= 0 {
		n.w.a[r*len(n.rows)+c] += g
	}
}

// assembleRight makes the right side of one stage in w.x: what nodes held, sources, given nodes, and the bodies' replies.
func (n *Network) assembleRight() {
	w := &n.w
	for r, id := range n.rows {
		nd := &n.nodes[id]
		_, d := nd.law.line(nd.branch)
		w.x[r] = (w.rhs[r] - d) * w.perStep
	}
	for i := range n.joins {
		j := &n.joins[i]
		n.draw(j.a, j.b, j.g)
		n.draw(j.b, j.a, j.g)
	}
	for i := range n.carries {
		c := &n.carries[i]
		n.draw(c.to, c.from, c.w)
	}
	for i := range n.injects {
		w.x[n.nodes[n.injects[i].to].row] += n.injects[i].q
	}
	for i, b := range n.bodies {
		f, p := w.factors[i], len(b.nodes)
		for c, id := range b.nodes {
			r := n.nodes[id].row
			if r < 0 {
				continue
			}
			w.x[r] += b.s[c]
			for k, other := range b.nodes {
				n.draw(id, other, f.resp[c*p+k])
			}
		}
	}
}

// draw adds to node a's balance the flow g T(b) that comes from a given node b.
func (n *Network) draw(a, b Node, g float64) {
	if r := n.nodes[a].row; r >= 0 && n.nodes[b].given {
		n.w.x[r] += g * n.w.given[b]
	}
}

// givenAt puts the given nodes at their temperature at time t within the hour [s].
func (n *Network) givenAt(t float64) {
	for i := range n.nodes {
		nd := &n.nodes[i]
		if nd.given {
			n.w.given[i] = nd.t0 + (nd.t1-nd.t0)*t/HourS
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
	for _, b := range n.bodies {
		clear(b.base)
		b.staged = false
	}
	if !n.solve(0) {
		return fmt.Errorf("thermal: the steady state did not settle")
	}
	for r, id := range n.rows {
		n.SetTemperature(id, w.x[r])
	}
	for _, b := range n.bodies {
		for i := range b.cells {
			b.cells[i].T = b.y[i]
		}
	}
	return nil
}

// Watts is the heat that goes from node id into the body at this moment [W]; after Steady, the steady flow.
func (b *Body) Watts(n *Network, id Node) float64 {
	sum := 0.0
	for i := range b.ports {
		if p := &b.ports[i]; p.Node == id {
			sum += p.g * (n.T(id) - b.cells[p.Cell].T)
		}
	}
	return sum
}
