package thermal

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

var gamma = 1 - 1/math.Sqrt2 // Alexander 1977

// HourS is the length of an hour [s].
const HourS = 3600.0

// Control says how finely an hour is cut. The ladder of steps is hour/2^rung.
type Control struct {
	Tolerance float64 // error of one step that is accepted [K]; 0 means 0.15
	Coarsest  int     // lowest rung tried; 0 is a whole hour
	Finest    int     // highest rung; 0 means 7 (28 s)
	Finer     int     // rungs added after the choice: 3 cuts every chosen step into eight, for measuring the step error
}

func (c Control) tolerance() float64 {
	if c.Tolerance == 0 {
		return 0.15
	}
	return c.Tolerance
}

func (c Control) finest() int {
	if c.Finest == 0 {
		return 7
	}
	return c.Finest
}

type work struct {
	a       []float64 // dense matrix, row major
	ipiv    []int
	rhs     []float64
	x       []float64 // stage temperatures of state nodes by row
	x1      []float64 // after stage 1
	start   []float64 // at begin of step
	pass    []float64 // end temperatures of the pass before
	heat    []float64 // heat held at begin of step [J]
	q1      []float64 // net flow of stage 1 [W]
	given   []float64 // by node: temperature of given nodes at the stage
	booked  []float64 // by node, since the day was opened [J]
	ports   []float64
	lu      blas64.General
	b       blas64.General
	factors []*factor
	saveT   []float64
	diag    []float64  // diagonal before factoring
	saveB   []float64  // booked heat, for a step taken back
	perStep float64    // 1/(gamma h)
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
	for _, p := range []*[]float64{&w.rhs, &w.x, &w.x1, &w.start, &w.pass, &w.heat, &w.q1, &w.diag, &w.saveT} {
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
	w.factors = make([]*factor, len(n.bodies))
}

// Moment is where in the hour a step's coefficients are wanted, and for which temperatures.
type Moment struct {
	Begin float64 // begin of the step within the hour [s]
	Step  float64 // its length [s]
	Pass  int     // 0: temperatures are those at the begin; later: those at the middle of the step as solved before
	n     *Network
}

// T is the temperature to make a coefficient from [°C].
func (m Moment) T(id Node) float64 {
	nd := &m.n.nodes[id]
	if nd.given {
		return nd.t0 + (nd.t1-nd.t0)*(m.Begin+m.Step/2)/HourS
	}
	if m.Pass == 0 {
		return nd.t
	}
	return (m.n.w.start[nd.row] + m.n.w.pass[nd.row]) / 2
}

// Advance carries the network through one hour. coefficients is called before each pass of each step and sets joins, carries
// and sources for that moment. It fails when a temperature is not finite or the smallest step does not settle.
func (n *Network) Advance(coefficients func(Moment)) error {
	n.prepare()
	for i := range n.flows {
		n.flows[i].HourJ = 0
	}
	top := n.Control.finest()
	if n.rung > n.Control.Coarsest {
		n.rung--
	}
	n.rung = min(max(n.rung, n.Control.Coarsest), top)
	done, cells := 0, 1<<top // time in cells of the finest step
	for done < cells {
		width := cells >> n.rung
		if done%width != 0 { // a coarser step must begin on its own edge
			n.rung++
			continue
		}
		begin := HourS * float64(done) / float64(cells)
		ok, err := n.try(begin, HourS*float64(width)/float64(cells), n.rung == top, coefficients)
		if err != nil {
			return err
		}
		if !ok {
			n.Stats.Rejected++
			n.rung++
			continue
		}
		done += width
		if n.rung > n.Control.Coarsest && done%(2*width) == 0 {
			n.rung--
		}
	}
	return nil
}

// try makes one step on the ladder; with Finer it is first judged whole, then taken in parts.
func (n *Network) try(begin, h float64, last bool, coefficients func(Moment)) (bool, error) {
	if n.Control.Finer == 0 {
		return n.step(begin, h, last, true, coefficients)
	}
	n.store()
	saved := n.saveBooks()
	ok, err := n.step(begin, h, last, true, coefficients)
	if !ok || err != nil {
		return ok, err
	}
	n.recall()
	n.recallBooks(saved)
	parts := 1 << n.Control.Finer
	for k := 0; k < parts; k++ {
		if ok, err := n.step(begin+h*float64(k)/float64(parts), h/float64(parts), true, false, coefficients); err != nil || !ok {
			return ok, err
		}
	}
	return true, nil
}

func (n *Network) saveBooks() []float64 {
	b := n.w.saveB[:0]
	for i := range n.flows {
		b = append(b, n.flows[i].HourJ)
	}
	b = append(b, n.w.booked...)
	for _, bd := range n.bodies {
		b = append(b, bd.booked)
	}
	n.w.saveB = b
	return b
}

func (n *Network) recallBooks(b []float64) {
	for i := range n.flows {
		n.flows[i].HourJ = b[i]
	}
	b = b[len(n.flows):]
	copy(n.w.booked, b)
	b = b[len(n.nodes):]
	for i, bd := range n.bodies {
		bd.booked = b[i]
	}
}

// maxPasses is how often the coefficients of one step may be renewed before it is called too long.
const maxPasses = 4

// step makes one step of h seconds. Without judge it is accepted whatever its error.
func (n *Network) step(begin, h float64, last, judge bool, coefficients func(Moment)) (bool, error) {
	w := &n.w
	n.store()
	for _, b := range n.bodies {
		b.follow()
	}
	for r, id := range n.rows {
		nd := &n.nodes[id]
		w.start[r], w.heat[r] = nd.t, nd.law.Heat(nd.t)
		w.pass[r] = nd.t
	}
	for _, b := range n.bodies {
		for i := range b.cells {
			b.heat[i] = b.cells[i].Law.Heat(b.cells[i].T)
		}
	}
	m := Moment{Begin: begin, Step: h, n: n}
	for ; ; m.Pass++ {
		coefficients(m)
		if ok := n.stages(begin, h); !ok {
			if !last {
				n.recall()
				return false, nil
			}
			return false, fmt.Errorf("thermal: freezing and thawing did not settle in a step of %g s", h)
		}
		change := 0.0
		for r := range w.x {
			if w.x[r]-w.x[r] != 0 {
				return false, fmt.Errorf("thermal: temperature of %s is not finite", n.nodes[n.rows[r]].name)
			}
			change = max(change, math.Abs(w.x[r]-w.pass[r]))
			w.pass[r] = w.x[r]
		}
		if m.Pass > 0 && (change < n.Control.tolerance() || m.Pass+1 >= maxPasses) {
			if judge && !last && change >= n.Control.tolerance() {
				n.recall()
				return false, nil
			}
			break
		}
	}
	if judge && !last && n.stepError(h) > n.Control.tolerance() {
		n.recall()
		return false, nil
	}
	n.accept(h)
	return true, nil
}

// stepError compares the step with what stage 1 alone would have given, weighted down for nodes that follow their
// surroundings within a fraction of the step [K].
func (n *Network) stepError(h float64) float64 {
	w := &n.w
	worst := 0.0
	for r := range w.x {
		nd := &n.nodes[n.rows[r]]
		c, _ := nd.law.line(nd.branch)
		if c == 0 {
			continue
		}
		e := math.Abs(w.x[r] - w.start[r] - (w.x1[r]-w.start[r])/gamma)
		// diag = c/(gamma h) + sum of conductances; share of the first in the whole is small for a quick node
		slow := c * w.perStep / w.diag[r]
		worst = max(worst, e*slow)
	}
	for _, b := range n.bodies {
		for i := range b.cells {
			c := &b.cells[i]
			capacity, _ := c.Law.line(c.branch)
			e := math.Abs(b.y[i] - c.T - (b.t1[i]-c.T)/gamma)
			worst = max(worst, e*capacity*w.perStep/(capacity*w.perStep+b.out[i]))
		}
	}
	return worst
}

// stages solves both stages of a step; false when branches did not settle.
func (n *Network) stages(begin, h float64) bool {
	w := &n.w
	w.perStep = 1 / (gamma * h)
	w.time = [2]float64{begin + gamma*h, begin + h}
	copy(w.rhs, w.heat)
	for _, b := range n.bodies {
		copy(b.base, b.heat)
	}
	if !n.solve(w.time[0]) {
		return false
	}
	for r, id := range n.rows {
		nd := &n.nodes[id]
		w.x1[r] = w.x[r]
		c, d := nd.law.line(nd.branch)
		w.q1[r] = (c*w.x[r] + d - w.heat[r]) * w.perStep
	}
	for i := range w.rhs {
		w.rhs[i] = w.heat[i] + h*(1-gamma)*w.q1[i]
	}
	for _, b := range n.bodies {
		copy(b.t1, b.y)
		for i := range b.cells {
			c := &b.cells[i]
			capacity, d := c.Law.line(c.branch)
			q := (capacity*b.y[i] + d - b.heat[i]) * w.perStep
			b.base[i] = b.heat[i] + h*(1-gamma)*q
		}
	}
	return n.solve(w.time[1])
}

// maxBranches is how often branches may be moved in one stage.
const maxBranches = 40

// solve makes one implicit stage that ends at time t within the hour: nodes into w.x, cells into their body's y. What nodes
// and cells hold at its begin stands in w.rhs and in the bodies' base [J]. False when the branches did not settle.
func (n *Network) solve(t float64) bool {
	n.givenAt(t)
	w := &n.w
	for range maxBranches {
		n.Stats.Solves++
		n.assemble()
		if ok := lapack64.Getrf(w.lu, w.ipiv); !ok {
			panic("thermal: a node is joined to nothing")
		}
		lapack64.Getrs(blas.NoTrans, w.lu, w.b, w.ipiv)
		settled := true
		for r, id := range n.rows {
			nd := &n.nodes[id]
			if nd.law.Latent == 0 {
				continue
			}
			if nb := nd.law.nextBranch(nd.branch, w.x[r]); nb != nd.branch {
				nd.branch, settled = nb, false
			}
		}
		for i, b := range n.bodies {
			for c, id := range b.nodes {
				w.ports[c] = w.at(n, id)
			}
			if !b.finish(w.factors[i], w.ports[:len(b.nodes)]) {
				settled = false
			}
		}
		if settled {
			return true
		}
	}
	return false
}

// assemble makes the dense system of one stage: matrix w.a, right side w.x.
func (n *Network) assemble() {
	w := &n.w
	m := len(n.rows)
	clear(w.a)
	for r, id := range n.rows {
		nd := &n.nodes[id]
		c, d := nd.law.line(nd.branch)
		w.a[r*m+r] = c * w.perStep
		w.x[r] = (w.rhs[r] - d) * w.perStep
	}
	for i := range n.joins {
		j := &n.joins[i]
		if j.g != 0 {
			n.stamp(j.a, j.b, j.g)
			n.stamp(j.b, j.a, j.g)
		}
	}
	for i := range n.carries {
		c := &n.carries[i]
		if c.w == 0 {
			continue
		}
		if r := n.nodes[c.from].row; r >= 0 {
			w.a[r*m+r] += c.w
		}
		if r := n.nodes[c.to].row; r >= 0 {
			n.draw(r, c.from, c.w)
		}
	}
	for i := range n.injects {
		w.x[n.nodes[n.injects[i].to].row] += n.injects[i].q
	}
	for i, b := range n.bodies {
		n.stampBody(i, b)
	}
	for r := 0; r < m; r++ {
		w.diag[r] = w.a[r*m+r]
	}
}

// stamp adds to node a's balance the flow g (Tb - Ta).
func (n *Network) stamp(a, b Node, g float64) {
	r := n.nodes[a].row
	if r < 0 {
		return
	}
	n.w.a[r*len(n.rows)+r] += g
	n.draw(r, b, g)
}

// draw adds to row r's balance the flow g T(b).
func (n *Network) draw(r int, b Node, g float64) {
	if c := n.nodes[b].row; c >= 0 {
		n.w.a[r*len(n.rows)+c] -= g
	} else {
		n.w.x[r] += g * n.w.given[b]
	}
}

// stampBody adds a body's reply: heat into the body at port p is G_p T_p - s_p - sum_q S_pq T_q.
func (n *Network) stampBody(i int, b *Body) {
	w := &n.w
	f := b.factorFor(w.perStep, &n.Stats)
	w.factors[i] = f
	b.stage(f)
	p, m := len(b.nodes), len(n.rows)
	for c, id := range b.nodes {
		r := n.nodes[id].row
		if r < 0 {
			continue
		}
		w.a[r*m+r] += b.total[c]
		w.x[r] += b.s[c]
		for k, other := range b.nodes {
			n.draw(r, other, f.resp[c*p+k])
		}
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

// accept books both stages and takes the end of the step as the state.
func (n *Network) accept(h float64) {
	w := &n.w
	n.Stats.Steps++
	n.swapStages()
	n.givenAt(w.time[0])
	n.book(h * (1 - gamma))
	n.swapStages()
	n.givenAt(w.time[1])
	n.book(h * gamma)
	for r, id := range n.rows {
		n.nodes[id].t = w.x[r]
	}
	for i := range n.nodes {
		if n.nodes[i].given {
			n.nodes[i].t = w.given[i]
		}
	}
	for _, b := range n.bodies {
		for i := range b.cells {
			b.cells[i].T = b.y[i]
		}
	}
}

// swapStages exchanges the temperatures of the two stages.
func (n *Network) swapStages() {
	w := &n.w
	w.x, w.x1 = w.x1, w.x
	w.b.Data = w.x
	for _, b := range n.bodies {
		b.y, b.t1 = b.t1, b.y
	}
}

// store keeps the state at the begin of a step; recall goes back to it. Branches are kept with temperatures: within a step
// they are moved before it is accepted.
func (n *Network) store() {
	for r, id := range n.rows {
		n.w.saveT[r] = n.nodes[id].t
	}
	for _, b := range n.bodies {
		copy(b.save, b.cells)
		b.saveVersion = b.version
	}
}

func (n *Network) recall() {
	for r, id := range n.rows {
		n.SetTemperature(id, n.w.saveT[r])
	}
	for _, b := range n.bodies {
		if b.saveVersion != b.version {
			copy(b.cells, b.save)
			b.conduct()
		} else {
			copy(b.cells, b.save)
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
	for _, b := range n.bodies {
		clear(b.base)
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
