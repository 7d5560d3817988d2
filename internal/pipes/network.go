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
	OneWay   bool // lets nothing back
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
	networkSteps   = 400
	flowTolerance  = 1e-12 // [m³/s], a few millilitres an hour at a hundred of them
	flowRelative   = 1e-9
	shutResistance = 1e9 // times the loss of a one-way valve the wrong way
	leastSlope     = 1e-3
	hangs          = 1e-14 // conductance to nothing, so that what hangs on nothing has a head [m²/s]
)

// Settle finds heads and flows: at every joint what comes is what goes, and along every link the head falls by its loss. The losses rise
// with the flow and drippers with the head, so there is one answer.
//
// Newton's steps on flows and heads together, each a linear network solved by elimination. Source: Todini and Pilati, A gradient
// algorithm for the analysis of pipe networks, 1988.
func (n *Network) Settle() (Steady, error) {
	s := n.begin()
	unknown, index := n.joints()
	before, damp := math.Inf(1), 1.0
	for step := range networkSteps {
		m := newMatrix(len(unknown))
		right := make([]float64, len(unknown))
		base, slope := n.linear(&s)
		n.assemble(m, right, index, &s, base, slope)
		heads := m.solve(right)
		change, size := n.advance(&s, unknown, heads, base, slope, damp)
		if math.IsNaN(change) {
			break
		}
		if damp == 1 && change <= flowTolerance+flowRelative*size {
			n.drips(&s)
			return s, nil
		}
		if step > 30 && change >= before {
			damp = max(0.1, damp/2)
		} else {
			damp = min(1, 1.5*damp)
		}
		before = change
	}
	return s, fmt.Errorf("the flow in %d pipes did not settle in %d steps", len(n.Links), networkSteps)
}

// begin is still water at the mean of the kept heads, with a trickle in each link so that it has a slope.
func (n *Network) begin() Steady {
	s := Steady{make([]float64, len(n.Junctions)), make([]float64, len(n.Links)), make([]float64, len(n.Junctions))}
	top := math.Inf(-1)
	for _, j := range n.Junctions {
		if j.Kept {
			top = max(top, j.Head)
		}
	}
	for i, j := range n.Junctions {
		switch {
		case j.Kept:
			s.Heads[i] = j.Head
		case math.IsInf(top, -1):
			s.Heads[i] = j.Z + 1
		default:
			s.Heads[i] = top
		}
	}
	for i, l := range n.Links {
		s.Flows[i] = 0.01 * l.Section() // 1 cm/s
	}
	return s
}

// joints are the junctions whose heads are found, and where each stands among them.
func (n *Network) joints() (unknown, index []int) {
	index = make([]int, len(n.Junctions))
	for i, j := range n.Junctions {
		index[i] = -1
		if !j.Kept {
			index[i] = len(unknown)
			unknown = append(unknown, i)
		}
	}
	return unknown, index
}

// linear is the loss of each link at its flow [m], and its slope [m/(m³/s)].
func (n *Network) linear(s *Steady) (base, slope []float64) {
	base, slope = make([]float64, len(n.Links)), make([]float64, len(n.Links))
	for i, l := range n.Links {
		q := s.Flows[i]
		d := max(1e-4*math.Abs(q), 1e-9*l.Section())
		base[i] = l.loss(n.Fluid, q)
		slope[i] = max(leastSlope, (l.loss(n.Fluid, q+d)-l.loss(n.Fluid, q-d))/(2*d))
	}
	return base, slope
}

func (l Link) loss(f Fluid, q float64) float64 {
	h := l.HeadOf(f, q)
	if l.OneWay && q < 0 {
		return shutResistance * h
	}
	return h
}

// assemble writes the balance of each joint: flows linear in heads, drippers linear in their own.
func (n *Network) assemble(m *matrix, right []float64, index []int, s *Steady, base, slope []float64) {
	for i, j := range n.Junctions {
		k := index[i]
		if k < 0 {
			continue
		}
		m.add(k, k, hangs)
		right[k] += j.In + hangs*j.Z
		if j.Dripper != nil {
			q, dq := j.Dripper.Flow(s.Heads[i] - j.Z)
			m.add(k, k, j.Number*dq)
			right[k] += j.Number * (dq*s.Heads[i] - q)
		}
	}
	for i, l := range n.Links {
		p := 1 / slope[i]
		flow := s.Flows[i] - p*base[i]
		a, b := index[l.From], index[l.To]
		for _, end := range []struct {
			own, other, at int
			sign           float64
		}{{a, b, l.To, -1}, {b, a, l.From, 1}} {
			if end.own < 0 {
				continue
			}
			m.add(end.own, end.own, p)
			right[end.own] += end.sign * flow
			if end.other < 0 {
				right[end.own] += p * n.Junctions[end.at].Head
			} else {
				m.add(end.own, end.other, -p)
			}
		}
	}
}

// advance takes the step and returns the largest change of a flow and the largest flow [m³/s]. A head that drives drippers goes at most half the way down to
// them in a step, since their law has a corner there.
func (n *Network) advance(s *Steady, unknown []int, heads, base, slope []float64, damp float64) (change, size float64) {
	for k, i := range unknown {
		j := n.Junctions[i]
		next := s.Heads[i] + damp*(heads[k]-s.Heads[i])
		if over := s.Heads[i] - j.Z; j.Dripper != nil && over > nearDry && next < j.Z+over/10 {
			next = j.Z + over/10
			change = math.Inf(1)
		}
		s.Heads[i] = next
	}
	for i, l := range n.Links {
		fall := s.Heads[l.From] - s.Heads[l.To]
		step := (fall - base[i]) / slope[i] * damp
		s.Flows[i] += step
		change = max(change, math.Abs(step))
		size = max(size, math.Abs(s.Flows[i]))
		if math.IsNaN(step) {
			return math.NaN(), size
		}
	}
	return change, size
}

func (n *Network) drips(s *Steady) {
	for i, j := range n.Junctions {
		if j.Dripper != nil {
			q, _ := j.Dripper.Flow(s.Heads[i] - j.Z)
			s.Drips[i] = j.Number * q
		}
	}
}
