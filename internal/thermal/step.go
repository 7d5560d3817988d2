package thermal

import (
	"fmt"
	"math"
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
		n.flows[i].HourJ, n.flows[i].nextJ = n.flows[i].nextJ, 0
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
	for _, b := range n.blocks {
		b.open()
	}
}

// middle renews the temperatures from which coefficients are made, between the first stage and the end of the step, and
// tells how far they moved [K].
func (n *Network) middle() (change float64, err error) {
	w := &n.w
	share := (0.5 - gamma) / (1 - gamma) // of the way from stage 1 (at gamma h) to the end
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
	for _, b := range n.blocks {
		worst = max(worst, b.stepError(w.perStep))
	}
	return worst
}

// stages solves both stages of a step; false when branches did not settle.
func (n *Network) stages() bool {
	w := &n.w
	copy(w.rhs, w.heat)
	for _, b := range n.blocks {
		b.begin()
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
	for _, b := range n.blocks {
		b.second(w.perStep, w.h)
	}
	return n.solve(w.time[1])
}
