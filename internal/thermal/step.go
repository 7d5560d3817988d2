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
	Tolerance float64 // first-order error of one step that is accepted [K]; 0 means 0.75, see stepError
	Coarsest  int     // lowest rung tried; 0 is a whole hour
	Finest    int     // highest rung; 0 means 7 (28 s)
	Finer     int     // rungs added after the choice: 3 cuts every chosen step into eight, for measuring the step error
}

func (c Control) tolerance() float64 {
	if c.Tolerance == 0 {
		return 0.75
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
	Pass  int     // counts the times that coefficients are asked for in this step, from 0
	at    float64 // the time that they are for [s]
	guess []float64
}

// T is the temperature to make a coefficient from [°C].
func (m Moment) T(id Node) float64 { return m.guess[id] }

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

// maxPasses is how often the coefficients of one stage are made at most.
const maxPasses = 3

// settledK is when the coefficients of a stage stand still: no node moved by more from one pass to the next [K]. What the first stage finds is only a flow of the
// step, in which quick nodes have little part; what the second finds is what is told.
var settledK = [2]float64{1.5, 0.15}

// step makes one step of h seconds. Without judge it is accepted whatever its error.
//
// Each stage has coefficients of its own, made from the temperatures that are foreseen for it and then from those that were found, until
// these stand still.
func (n *Network) step(begin, h float64, last, judge bool, coefficients func(Moment)) (bool, error) {
	n.store()
	n.open(begin, h)
	w := &n.w
	books := n.saveBooks()
	m := Moment{Begin: begin, Step: h, guess: w.guess}
	if !w.foreseen {
		for _, id := range n.rows {
			w.guess[id] = n.nodes[id].t
		}
	}
	for stage := range 2 {
		if stage == 1 {
			n.second()
		}
		m.at = w.time[stage]
		n.givenAt(m.at)
		foreseen := w.foreseen
		w.foreseen = false
		if !foreseen {
			n.foresee()
			if stage == 0 && judge && !last && n.foretold() > foretoldTimes*n.Control.tolerance() {
				n.takeBack(books)
				w.foreseen = true
				return false, nil
			}
		}
		settled, err := n.stage(&m, settledK[stage], coefficients)
		if err != nil {
			return false, err
		}
		if !settled {
			n.takeBack(books)
			if !last {
				return false, nil
			}
			return false, fmt.Errorf("thermal: freezing and thawing did not settle in a step of %g s", h)
		}
		n.book(h * [2]float64{1 - gamma, gamma}[stage])
	}
	if judge {
		w.error = n.stepError()
		if !last && w.error > n.Control.tolerance() {
			n.takeBack(books)
			return false, nil
		}
	}
	n.accept()
	return true, nil
}

// stage solves one stage, with coefficients that belong to it to within nodes' moving by stillK; false when branches did not settle.
func (n *Network) stage(m *Moment, stillK float64, coefficients func(Moment)) (bool, error) {
	for pass := 1; ; pass++ {
		coefficients(*m)
		m.Pass++
		n.w.fresh = false
		n.solveNodes()
		change, err := n.moved()
		if err != nil {
			return false, err
		}
		if change < stillK || pass == maxPasses {
			return n.solve(), nil
		}
	}
}

// foresee finds the temperatures from which the stage's first coefficients are made: those to which the coefficients of the stage before lead, with the sources
// and given temperatures of this one. The matrix of that stage is still factored, and good enough where only a block has changed since; after a step of another length
// it is made anew, which costs a third of a pass. In the first stage of all there are no coefficients yet.
func (n *Network) foresee() {
	w := &n.w
	if n.Stats.Solves == 0 {
		return
	}
	if w.fresh && w.factored == w.perStep {
		for _, b := range n.blocks {
			b.reply(w.perStep, &n.Stats)
		}
	} else if !n.matrix() {
		return
	}
	n.assembleRight()
	w.m.solve(w.x)
	for r, id := range n.rows {
		w.guess[id] = w.x[r]
	}
}

// moved renews the temperatures from which coefficients are made, and tells by how much they moved [K].
func (n *Network) moved() (change float64, err error) {
	w := &n.w
	for r, t := range w.x {
		id := n.rows[r]
		if t-t != 0 {
			return 0, fmt.Errorf("thermal: temperature of %s is not finite", n.nodes[id].name)
		}
		change = max(change, math.Abs(t-w.guess[id]))
		w.guess[id] = t
	}
	return change, nil
}

// second prepares the second stage from the first, which is kept.
func (n *Network) second() {
	w := &n.w
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

// foretoldTimes is by how much the error that is foretold of a step may be above the tolerance before it is given up unmade: what is foretold is about twice
// what is found in the end. A leap of the sun is told thus, and judged a little more strictly than what else a step may do: it is what quick faces follow worst.
const foretoldTimes = 1.5

// foretold is the error that a step will have as far as its begin tells, with temperatures as foreseen for its first stage [K]: mostly that of sources that leap at a
// full hour.
func (n *Network) foretold() float64 {
	worst := 0.0
	for _, b := range n.blocks {
		worst = max(worst, b.foretold(n.w.guess))
	}
	return worst
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
		worst = max(worst, e*w.holds[r])
	}
	for _, b := range n.blocks {
		worst = max(worst, b.stepError(w.perStep))
	}
	return worst
}
