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
	Tolerance float64 // first-order error of one step that is accepted [K]; 0 means 1, see stepError
	Coarsest  int     // lowest rung tried; 0 is a whole hour
	Finest    int     // highest rung; 0 means 7 (28 s)
	Finer     int     // rungs added after the choice: 3 cuts every chosen step into eight, for measuring the step error
}

func (c Control) tolerance() float64 {
	if c.Tolerance == 0 {
		return 1
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

// Moment is where in the hour a step's coefficients are wanted, and for which temperatures.
type Moment struct {
	Begin float64 // begin of the step within the hour [s]
	Step  float64 // its length [s]
	Pass  int     // 0: temperatures are those at the begin; later: those within the step, as found so far
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
	return m.n.w.mid[nd.row]
}

// Advance carries the network through one hour. coefficients is called before each pass of each step and sets joins, carries
// and sources for that moment. It fails when a temperature is not finite or the smallest step does not settle.
func (n *Network) Advance(coefficients func(Moment)) error {
	n.prepare()
	for i := range n.flows {
		n.flows[i].HourJ = 0
	}
	top := n.Control.finest()
	if n.rung > n.Control.Coarsest && n.mayCoarsen() {
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
		if n.rung > n.Control.Coarsest && done%(2*width) == 0 && n.mayCoarsen() {
			n.rung--
		}
	}
	return nil
}

// mayCoarsen tells whether a step twice as long is worth trying: its error is about four times that of the last.
func (n *Network) mayCoarsen() bool { return 3*n.w.error < n.Control.tolerance() }

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

// maxPasses is how often the coefficients of one step may be renewed before it is called too long, and settledK when they stand
// still: no node moved by more from one pass to the next [K].
const (
	maxPasses = 8
	settledK  = 0.2
)

// step makes one step of h seconds. Without judge it is accepted whatever its error.
//
// The coefficients are first made from the temperatures at the begin, for one solve of the first stage that tells where the step is
// going; then from the temperatures found within the step, until these stand still.
func (n *Network) step(begin, h float64, last, judge bool, coefficients func(Moment)) (bool, error) {
	n.store()
	n.open(begin, h)
	w := &n.w
	m := Moment{Begin: begin, Step: h, n: n}
	coefficients(m)
	w.fresh = false
	n.givenAt(w.time[0])
	n.solveNodes()
	copy(w.mid, w.x)
	for m.Pass = 1; ; m.Pass++ {
		coefficients(m)
		w.fresh = false
		if !n.stages() {
			n.recall()
			if !last {
				return false, nil
			}
			return false, fmt.Errorf("thermal: freezing and thawing did not settle in a step of %g s", h)
		}
		change, err := n.middle()
		if err != nil {
			return false, err
		}
		if change < settledK {
			break
		}
		if m.Pass+1 == maxPasses {
			if judge && !last {
				n.recall()
				return false, nil
			}
			break
		}
	}
	if judge {
		w.error = n.stepError()
		if !last && w.error > n.Control.tolerance() {
			n.recall()
			return false, nil
		}
	}
	n.accept(h)
	return true, nil
}

// open takes down what nodes and cells hold at the begin of a step.
func (n *Network) open(begin, h float64) {
	w := &n.w
	w.perStep = 1 / (gamma * h)
	w.time = [2]float64{begin + gamma*h, begin + h}
	w.h = h
	for r, id := range n.rows {
		nd := &n.nodes[id]
		w.start[r], w.heat[r] = nd.t, nd.law.Heat(nd.t)
	}
	copy(w.rhs, w.heat)
	for _, b := range n.bodies {
		b.follow()
		for i := range b.cells {
			b.heat[i] = b.cells[i].Law.Heat(b.cells[i].T)
		}
		copy(b.base, b.heat)
		b.staged, b.isFirst = false, true
	}
}

// middle renews the temperatures from which coefficients are made, between the first stage and the end of the step, and
// tells how far they moved [K].
func (n *Network) middle() (change float64, err error) {
	w := &n.w
	const share = (0.5 - 0.2928932188134524) / (1 - 0.2928932188134524) // of the way from stage 1 (at gamma h) to the end
	for r := range w.x {
		t := w.x1[r] + share*(w.x[r]-w.x1[r])
		if t-t != 0 {
			return 0, fmt.Errorf("thermal: temperature of %s is not finite", n.nodes[n.rows[r]].name)
		}
		change = max(change, math.Abs(t-w.mid[r]))
		w.mid[r] = t
	}
	return change, nil
}

// stepError compares the step with what its first stage alone would have led to, weighted down for what follows its
// surroundings within a fraction of the step [K]. It is the error of a first-order step: many times that of the two stages.
func (n *Network) stepError() float64 {
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
		worst = max(worst, e*c*w.perStep/w.diag[r])
	}
	for _, b := range n.bodies {
		worst = max(worst, b.stepError(w.perStep))
	}
	return worst
}

// stages solves both stages of a step; false when branches did not settle.
func (n *Network) stages() bool {
	w := &n.w
	copy(w.rhs, w.heat)
	for _, b := range n.bodies {
		b.begin(b.heat)
	}
	if !n.solve(w.time[0]) {
		return false
	}
	for r, id := range n.rows {
		nd := &n.nodes[id]
		w.x1[r] = w.x[r]
		c, d := nd.law.line(nd.branch)
		q := (c*w.x[r] + d - w.heat[r]) * w.perStep
		w.rhs[r] = w.heat[r] + w.h*(1-gamma)*q
	}
	for _, b := range n.bodies {
		b.second(w.perStep, w.h)
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
		b.accept()
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
