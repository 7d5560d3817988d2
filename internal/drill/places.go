package drill

import "slices"

// Placement is so many more valves, where they save most.
type Placement struct {
	Pipes      []int   // that get one; none in the first
	ExpectedM3 float64 // lost in one winter: the sum over the joints of their odds times what is lost with every valve shut
}

// mostMore is how many valves more are looked for.
const mostMore = 3

// mostPairs is the number of pipes up to which two valves are exchanged at once: beyond it that takes too long, and one is.
const mostPairs = 80

// places looks for the pipes without a valve in which one, two, three more save most.
//
// Every valve, old or new, counts as shut: kept so through the frosts, or shut before the water has run out. One that stands open while nobody is there saves nothing. Valves are
// added one by one, each where it saves most with those before, and then exchanged, one and two at a time, until none is better: with up to mostPairs pipes one and two are the
// best there are (two that part a ring save nothing alone), three nearly always.
func (t *Table) places(g *graph, valved []bool) {
	p := &placer{t: t, g: g, cut: slices.Clone(valved), known: map[string]float64{}, at: map[int]*JointLoss{}}
	for i := range t.Joints {
		p.at[t.Joints[i].Point] = &t.Joints[i]
	}
	for i, has := range valved {
		if !has {
			p.free = append(p.free, i)
		}
	}
	best := Placement{ExpectedM3: p.expected()}
	t.Places = []Placement{best}
	for more := 1; more <= min(mostMore, len(p.free)); more++ {
		next := p.add(best.Pipes)
		for better := true; better; {
			next, better = p.exchange(next)
		}
		best = next
		t.Places = append(t.Places, best)
	}
}

// placer reckons the expected loss for any valves.
type placer struct {
	t     *Table
	g     *graph
	at    map[int]*JointLoss // by point
	free  []int              // pipes without a valve
	cut   []bool             // by pipe: a valve is on it
	known map[string]float64 // expected loss of the joints of a part, by its open pipes
}

// gain is what has to be saved for a placement to count as better [m³]: less is rounding.
const gain = 1e-12

// with is the expected loss with more valves.
func (p *placer) with(pipes ...int) Placement {
	for _, i := range pipes {
		p.cut[i] = true
	}
	out := Placement{slices.Clone(pipes), p.expected()}
	for _, i := range pipes {
		p.cut[i] = false
	}
	return out
}

// add puts one valve more where it saves most.
func (p *placer) add(pipes []int) Placement {
	var best Placement
	for _, i := range p.free {
		if slices.Contains(pipes, i) {
			continue
		}
		if try := p.with(append(pipes[:len(pipes):len(pipes)], i)...); best.Pipes == nil || try.ExpectedM3 < best.ExpectedM3-gain {
			best = try
		}
	}
	return best
}

// exchange looks for a better place for one of the valves, and for two at once; it tells whether there is one.
func (p *placer) exchange(from Placement) (best Placement, better bool) {
	best = from
	hold := func(try Placement) {
		if try.ExpectedM3 < best.ExpectedM3-gain {
			best, better = try, true
		}
	}
	for a := range from.Pipes {
		rest := without(from.Pipes, a)
		hold(p.add(rest))
		if len(p.free) > mostPairs {
			continue
		}
		for b := a; b < len(rest); b++ {
			fewer := without(rest, b)
			for _, i := range p.free {
				if !slices.Contains(fewer, i) {
					hold(p.add(append(fewer[:len(fewer):len(fewer)], i)))
				}
			}
		}
	}
	return best, better
}

func without(list []int, at int) []int {
	return slices.Delete(slices.Clone(list), at, at+1)
}

// expected is the expected loss of a winter with the pipes cut that are: part by part, each known from before where it was met.
func (p *placer) expected() float64 {
	open := func(i int) bool { return !p.cut[i] }
	done := make([]bool, len(p.g.w.Points))
	sum := 0.0
	for point := range done {
		if done[point] {
			continue
		}
		in := p.g.part(point, open)
		key := make([]byte, len(p.cut)+2)
		for q, of := range in {
			if !of {
				continue
			}
			done[q] = true
			for _, i := range p.g.pipes[q] {
				if open(i) {
					key[i] = 1
				}
			}
		}
		key[len(p.cut)], key[len(p.cut)+1] = byte(point), byte(point>>8) // its first point: parts without a pipe differ by it alone
		loss, ok := p.known[string(key)]
		if !ok {
			loss = p.partLoss(in, open)
			p.known[string(key)] = loss
		}
		sum += loss
	}
	return sum
}

// partLoss is the expected loss of the joints of a part.
func (p *placer) partLoss(in []bool, open func(int) bool) float64 {
	sum := 0.0
	for q, of := range in {
		j := p.at[q]
		if !of || j == nil {
			continue
		}
		for _, f := range p.g.falls(q, p.t.HeightsZ, open) {
			sum += j.Odds * f.LostM3
		}
	}
	return sum
}
