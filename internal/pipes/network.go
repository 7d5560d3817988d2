package pipes

import (
	"fmt"
	"math"
)

// Junction is a point of a network of pipes that run full: a water surface whose height is kept, or a joint whose head is found.
type Junction struct {
	Kept    bool    // its head is Head, whatever flows
	Head    float64 // height of the water that would stand there above the datum [m]
	In      float64 // flow put in from outside [m³/s]
	Z       float64 // height of its drippers [m]
	Dripper *Dripper
	Number  float64 // of drippers there
}

// Link is a pipe of a network, from one junction to another.
type Link struct {
	Tube
	From, To int
	OneWay   bool    // lets nothing back
	Number   float64 // of such pipes side by side; 0 is one
}

// loss is the head that a flow through all of them takes [m].
func (l *Link) loss(f Fluid, q float64) float64 {
	if l.Number > 1 {
		q /= l.Number
	}
	h := l.HeadOf(f, q)
	if l.OneWay && q < 0 {
		return shutResistance * h
	}
	return h
}

// Network is pipes that run full, in one fluid.
type Network struct {
	Fluid     Fluid
	Junctions []Junction
	Links     []Link
}

// Steady is how a network settles.
type Steady struct {
	Heads []float64 // of the junctions [m]
	Flows []float64 // of the links, positive from From to To [m³/s]
	Drips []float64 // of the drippers of each junction together [m³/s]
}

const (
	networkSteps   = 500
	flowTolerance  = 1e-10 // [m³/s]: a third of a millilitre an hour; heads have sixteen digits, and fat pipes need no more to pass that
	flowRelative   = 1e-9
	shutResistance = 1e6   // times the loss of a one-way valve the wrong way
	shutDripper    = 1e4   // times the rated head over the rated flow: what sucks at a dripper
	leastSlope     = 0.05  // [m/(m³/s)]
	hangs          = 1e-13 // conductance to nothing, so that what hangs on nothing has a head; far enough above the rounding of the fattest pipes [m²/s]
)

// element is a link, or the drippers of a junction: they lead to a head that is kept.
type element struct {
	from, to int     // to is -1 of drippers
	out      float64 // head behind drippers [m]
	loss     func(q float64) float64
	begin    float64                    // a flow to begin from [m³/s]
	under    func(head float64) float64 // of drippers: the flow under a head [m³/s]
}

func (n *Network) elements() []element {
	var list []element
	for i := range n.Links {
		l := &n.Links[i]
		list = append(list, element{from: l.From, to: l.To, begin: 0.01 * l.Section(), loss: func(q float64) float64 {
			return l.loss(n.Fluid, q)
		}})
	}
	for i, j := range n.Junctions {
		if j.Dripper != nil {
			list = append(list, element{from: i, to: -1, out: j.Z, begin: j.Number * j.Dripper.Rated / 3, loss: func(q float64) float64 { return j.Dripper.head(q / j.Number) },
				under: func(head float64) float64 { return j.Number * j.Dripper.Flow(head) }})
		}
	}
	return list
}

// Settle finds heads and flows: at every joint what comes is what goes, and along every link the head falls by its loss. Losses rise
// with the flow, and so does the head that a dripper takes, so there is one answer: of all flows that balance, those whose losses, summed over the flow
// as it grows, come to least.
//
// Newton's steps on flows and heads together, each a linear network solved by elimination; of each step as much is taken as still makes
// that sum less, so that it arrives from anywhere. Source: Todini and Pilati, A gradient algorithm for the analysis of pipe networks, 1988.
func (n *Network) Settle() (Steady, error) {
	s := Steady{make([]float64, len(n.Junctions)), make([]float64, len(n.Links)), make([]float64, len(n.Junctions))}
	all := n.elements()
	flows := make([]float64, len(all))
	for i, e := range all {
		flows[i] = e.begin
	}
	unknown, index := n.joints(s.Heads)
	for step := range networkSteps {
		base, slope := linear(all, flows)
		if step > 0 {
			chord(all, s.Heads, flows, base, slope)
		}
		m, right := newMatrix(len(unknown)), make([]float64, len(unknown))
		n.assemble(m, right, index, all, flows, base, slope)
		for k, h := range m.solve(right) {
			s.Heads[unknown[k]] = h
		}
		steps, change, size := n.steps(all, s.Heads, flows, base, slope)
		if math.IsNaN(change) {
			break
		}
		share := 1.0
		if step > 0 { // the first brings the flows into balance
			share = reach(all, s.Heads, flows, steps)
		}
		for i := range flows {
			flows[i] += share * steps[i]
		}
		if change <= flowTolerance+flowRelative*size {
			n.keep(&s, all, flows)
			return s, nil
		}
	}
	return s, fmt.Errorf("the flow in %d pipes did not settle in %d steps", len(n.Links), networkSteps)
}

// keep writes flows and drips down.
func (n *Network) keep(s *Steady, all []element, flows []float64) {
	copy(s.Flows, flows)
	for i, e := range all[len(n.Links):] {
		s.Drips[e.from] = max(0, flows[len(n.Links)+i])
	}
}

// joints are the junctions whose heads are found, and where each stands among them; heads that are kept are set.
func (n *Network) joints(heads []float64) (unknown, index []int) {
	index = make([]int, len(n.Junctions))
	for i, j := range n.Junctions {
		index[i], heads[i] = -1, j.Head
		if !j.Kept {
			index[i] = len(unknown)
			unknown = append(unknown, i)
		}
	}
	return unknown, index
}

// linear is the loss of each element at its flow [m], and its slope [m/(m³/s)].
func linear(all []element, flows []float64) (base, slope []float64) {
	base, slope = make([]float64, len(all)), make([]float64, len(all))
	for i, e := range all {
		q := flows[i]
		d := max(1e-4*math.Abs(q), 1e-7*e.begin)
		base[i] = e.loss(q)
		slope[i] = max(leastSlope, (e.loss(q+d)-e.loss(q-d))/(2*d))
	}
	return base, slope
}

// chord gives drippers the slope from their flow to that which the last heads would drive, in place of the slope at their flow: their law is so flat at small flows
// and so steep at large ones that the step would lead far beyond, or hardly on.
func chord(all []element, heads, flows, base, slope []float64) {
	for i, e := range all {
		if e.under == nil {
			continue
		}
		fall := e.fall(heads)
		if q := e.under(fall); math.Abs(q-flows[i]) > 1e-6*e.begin && fall > 0 {
			slope[i] = max(leastSlope, (fall-base[i])/(q-flows[i]))
		}
	}
}

// assemble writes the balance of each joint, with flows linear in heads.
func (n *Network) assemble(m *matrix, right []float64, index []int, all []element, flows, base, slope []float64) {
	for i, j := range n.Junctions {
		if k := index[i]; k >= 0 {
			m.add(k, k, hangs)
			right[k] += j.In + hangs*j.Z
		}
	}
	for i, e := range all {
		p := 1 / slope[i]
		flow := flows[i] - p*base[i] // where both ends are at one head
		a, b, behind := index[e.from], -1, e.out
		if e.to >= 0 {
			b, behind = index[e.to], n.Junctions[e.to].Head
		}
		if a >= 0 {
			m.add(a, a, p)
			right[a] -= flow
		}
		if b >= 0 {
			m.add(b, b, p)
			right[b] += flow
		}
		switch {
		case a >= 0 && b >= 0:
			m.add(a, b, -p)
			m.add(b, a, -p)
		case a >= 0:
			right[a] += p * behind
		case b >= 0:
			right[b] += p * n.Junctions[e.from].Head
		}
	}
}

func (e element) fall(heads []float64) float64 {
	if e.to < 0 {
		return heads[e.from] - e.out
	}
	return heads[e.from] - heads[e.to]
}

// steps is the whole step of each flow, the largest of them and the largest flow [m³/s].
func (n *Network) steps(all []element, heads, flows, base, slope []float64) (steps []float64, change, size float64) {
	steps = make([]float64, len(all))
	for i, e := range all {
		steps[i] = (e.fall(heads) - base[i]) / slope[i]
		if math.IsNaN(steps[i]) {
			return nil, math.NaN(), size
		}
		change, size = max(change, math.Abs(steps[i])), max(size, math.Abs(flows[i]))
	}
	return steps, change, size
}

// reach is the share of a step up to which the sum of losses falls: all of it, or where its slope along the step is nil. The slope rises along it, since every
// loss rises with its flow.
func reach(all []element, heads, flows, steps []float64) float64 {
	along := func(share float64) float64 {
		sum := 0.0
		for i, e := range all {
			sum += (e.loss(flows[i]+share*steps[i]) - e.fall(heads)) * steps[i]
		}
		return sum
	}
	if along(1) <= 0 {
		return 1
	}
	lo, hi := 0.0, 1.0
	for range 12 {
		mid := (lo + hi) / 2
		if along(mid) <= 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return max(lo, 1e-4)
}
