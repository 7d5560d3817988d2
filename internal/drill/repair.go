package drill

import (
	"math"
	"slices"

	"suncellar/internal/house"
)

// Repair is how to mend a joint: what to shut, what has to run out, and what goes on meanwhile.
type Repair struct {
	House    *house.House
	Scheme   *house.Water
	At       Joint
	HeightsZ []float64
	Shut     []Cut   // open valves round the joint, in the order in which they are to be shut
	Part     []int   // vessels on the joint's side of them
	Drains   []Drain // in order; none where no water comes to the joint
	Tap      *Drain  // what the tap would take off the drains where it sits on this part, which the plan does not tell; nil: it does for sure, and is among Drains, or it does not
	Rain     bool    // rain runs into the part, and no valve keeps it out
	Service  Service
}

// Cut is a valve to be shut.
type Cut struct {
	Valve   int     // of the scheme
	SavesM3 float64 // of the water that would run out at the joint, those before it being shut
}

// Outlet is what water is let out by.
type Outlet string

// The outlets. The overflow is none: it lies at the top.
const (
	ByTap   Outlet = "tap"
	ByDrip  Outlet = "drip line"
	ByJoint Outlet = "joint"
)

// Drain is one outlet and what it takes.
type Drain struct {
	By    Outlet
	Drip  int  // of ByDrip
	Opens bool // a valve of the drip line is shut and has to be opened
	Falls []Fall
	M3    float64
}

// Service is what goes on while the part is shut off.
type Service struct {
	Vessels  []int // outside the part
	Fed      []int // of them those that rain still comes to
	Drips    []int // drip lines that still hang on a vessel outside
	Inlet    bool  // the inlet leads to a vessel outside the part
	Overflow bool  // rain that comes can leave by the overflow
}

// emptied is what is too little to be worth a step [m³]: a glass.
const emptied = 2e-4

// RepairOf reckons the repair of a joint. heights are where the vessels stand [m], nil for full. Water is let out as far as it would run out at the open joint and no further, by
// the outlet that takes most of it first, which is the lowest that all of it comes to; the rest comes out at the joint itself. Outlets are not counted on to siphon, other than
// the joint. The error is that of a plan without water.
func RepairOf(h *house.House, at Joint, heights []float64) (*Repair, error) {
	if h.Scheme == nil {
		return nil, errNoWater
	}
	if heights == nil {
		heights = Full(h)
	}
	w := h.Scheme
	g := newGraph(w)
	valved := Valved(w)
	r := &Repair{House: h, Scheme: w, At: at, HeightsZ: standing(w, heights)}
	in := g.part(at.Point, func(p int) bool { return !valved[p] })
	open := r.cuts(g, in, valved)
	r.Part = r.held(g, in)
	if in[w.InletEnd] && !w.Inlet.Shut {
		r.Rain = !r.shutInlet()
	}
	r.drains(g, in, open)
	r.service(g, in, open)
	return r, nil
}

// held are the vessels of a part.
func (r *Repair) held(g *graph, in []bool) []int {
	var list []int
	for v := range g.w.Vessels {
		if slices.ContainsFunc(g.meets[v], func(p int) bool { return in[p] }) {
			list = append(list, v)
		}
	}
	return list
}

// cuts lists the open valves that part the part from the rest, and those within it that hold water back, as one in the lower of two pipes does: first that which saves most, then what
// saves most beside it. It gives which pipes are open with all of them shut.
func (r *Repair) cuts(g *graph, in []bool, valved []bool) (open func(int) bool) {
	w := g.w
	shut := make([]bool, len(w.Pipes))
	var left []int
	for i := range w.Pipes {
		p := &w.Pipes[i]
		shut[i] = p.Shut
		if valved[i] && !p.Shut && (in[p.From] || in[p.To]) {
			left = append(left, i)
		}
	}
	open = func(i int) bool { return !shut[i] }
	would := lost(g.falls(r.At.Point, r.HeightsZ, open))
	for len(left) > 0 {
		best, least := 0, math.Inf(1)
		for k, i := range left {
			shut[i] = true
			if l := lost(g.falls(r.At.Point, r.HeightsZ, open)); l < least-gain {
				best, least = k, l
			}
			shut[i] = false
		}
		pipe := left[best]
		shut[pipe] = true
		left = slices.Delete(left, best, best+1)
		valve := slices.IndexFunc(w.Valves, func(v house.WaterValve) bool { return v.Pipe == pipe })
		r.Shut = append(r.Shut, Cut{valve, would - least})
		would = least
	}
	r.Shut = slices.DeleteFunc(r.Shut, func(c Cut) bool { // one within the part that nothing hangs on stays as it is
		pipe := &w.Pipes[w.Valves[c.Valve].Pipe]
		if c.SavesM3 > gain || in[pipe.From] != in[pipe.To] {
			return false
		}
		shut[w.Valves[c.Valve].Pipe] = false
		idle := lost(g.falls(r.At.Point, r.HeightsZ, open)) <= would+gain
		shut[w.Valves[c.Valve].Pipe] = !idle
		return idle
	})
	return open
}

func lost(falls []Fall) float64 {
	sum := 0.0
	for _, f := range falls {
		sum += f.LostM3
	}
	return sum
}

// shutInlet adds the valve of the inlet, where there is one.
func (r *Repair) shutInlet() bool {
	v := slices.IndexFunc(r.Scheme.Valves, func(v house.WaterValve) bool { return v.Pipe == house.OnInlet })
	if v >= 0 {
		r.Shut = append(r.Shut, Cut{Valve: v})
	}
	return v >= 0
}

// drains finds by what the water that stands over the joint is let out.
func (r *Repair) drains(g *graph, in []bool, open func(int) bool) {
	w := g.w
	now := slices.Clone(r.HeightsZ)
	goal := slices.Clone(now)
	for _, f := range g.falls(r.At.Point, r.HeightsZ, open) {
		goal[f.Vessel] = f.ToZ
	}
	var outlets []outlet
	for i := range w.Drips {
		if d := &w.Drips[i]; in[d.From] {
			outlets = append(outlets, outlet{Drain{By: ByDrip, Drip: i, Opens: d.Shut}, r.drip(g, i, open)})
		}
	}
	tap := outlet{Drain{By: ByTap}, r.tap(g)}
	if sure := !slices.ContainsFunc(w.Fed, func(v int) bool { return !slices.Contains(r.Part, v) }); sure {
		outlets = append(outlets, tap)
	} else if d := tap.takes(w, now, goal); d.M3 > emptied {
		r.Tap = &d
	}
	for {
		var best Drain
		at := -1
		for k := range outlets {
			if d := outlets[k].takes(w, now, goal); d.M3 > best.M3+gain {
				best, at = d, k
			}
		}
		if at < 0 || best.M3 <= emptied {
			break
		}
		r.drain(best, now)
	}
	last := outlet{Drain{By: ByJoint}, goal}
	if d := last.takes(w, now, goal); d.M3 > 0 {
		r.drain(d, now)
	}
}

func (r *Repair) drain(d Drain, now []float64) {
	r.Drains = append(r.Drains, d)
	for _, f := range d.Falls {
		now[f.Vessel] = f.ToZ
	}
}

// outlet is one with the height to which it lets each vessel fall [m], +Inf for one that it does not reach.
type outlet struct {
	Drain
	low []float64
}

// takes is what an outlet lets out of vessels that stand at `now` and are to fall to `goal`.
func (o *outlet) takes(w *house.Water, now, goal []float64) Drain {
	d := o.Drain
	for v := range now {
		to := max(goal[v], o.low[v])
		if to >= now[v] {
			continue
		}
		vessel := &w.Vessels[v]
		f := Fall{v, to, vessel.Holds(now[v]) - vessel.Holds(to)}
		d.Falls = append(d.Falls, f)
		d.M3 += f.LostM3
	}
	return d
}

// drip is how far a drip line empties each vessel: to its emitters and the head that they want.
func (r *Repair) drip(g *graph, i int, open func(int) bool) []float64 {
	d := &g.w.Drips[i]
	low := unreached(g.w)
	dry := d.Z
	if d.Plan != nil {
		dry += d.Plan.Emitter.LeastHead
	}
	g.lowest(d.From, r.HeightsZ, open, false, func(v int, z float64) { low[v] = max(z, dry) })
	return low
}

// tap is how far the tap empties each fed vessel of the part: not below where the lowest pipe leaves it.
func (r *Repair) tap(g *graph) []float64 {
	w := g.w
	low := unreached(w)
	for _, v := range w.Fed {
		if slices.Contains(r.Part, v) {
			for _, p := range g.meets[v] {
				low[v] = min(low[v], w.Points[p].Z)
			}
			low[v] = max(low[v], w.DrawOff)
		}
	}
	return low
}

func unreached(w *house.Water) []float64 {
	low := make([]float64, len(w.Vessels))
	for v := range low {
		low[v] = math.Inf(1)
	}
	return low
}

// service finds what goes on.
func (r *Repair) service(g *graph, in []bool, open func(int) bool) {
	w, s := g.w, &r.Service
	for v := range w.Vessels {
		if !slices.Contains(r.Part, v) {
			s.Vessels = append(s.Vessels, v)
		}
	}
	if s.Inlet = !in[w.InletEnd] && !w.Inlet.Shut; s.Inlet {
		s.Fed = r.held(g, g.part(w.InletEnd, open))
	}
	s.Overflow = w.Overflows() && slices.Contains(s.Fed, w.Overflow.Vessel)
	for i := range w.Drips {
		if d := &w.Drips[i]; !d.Shut && !in[d.From] && len(r.held(g, g.part(d.From, open))) > 0 {
			s.Drips = append(s.Drips, i)
		}
	}
}
