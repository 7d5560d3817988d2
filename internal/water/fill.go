package water

import (
	"math"
	"slices"

	"suncellar/internal/pipes"
)

// Fill is how the drums fill.
type Fill struct {
	CaughtM3S float64    // off all roofs that run, at the rain asked for, what the narrowest part lets through
	Roofs     []RoofFlow // off each
	FillS     float64    // from empty to full at that rain [s]; infinite where nothing comes
	Limits    []Limit    // which rain makes which part overflow, the least first
	Pipes     []PipeFlow // while it fills, half full, at that rain
	UnevenM   float64    // how far the levels of drums lie apart then
}

// RoofFlow is what comes off one roof.
type RoofFlow struct {
	Name    string
	FlowM3S float64
	Runs    bool // as far as the inlet's end
}

// Limit is the rain at which a part can take no more.
type Limit struct {
	Part    Part
	Name    string  // of the catchment or drum that it belongs to
	RainMS  float64 // [m/s]
	FlowM3S float64
}

// Part is where water overflows.
type Part string

// The parts that can overflow.
const (
	GutterPart   Part = "gutter"
	OutletPart   Part = "gutter outlet"
	InletPart    Part = "inlet"
	ManifoldPart Part = "manifold"
	OverflowPart Part = "overflow"
)

// PipeFlow is the flow in a pipe.
type PipeFlow struct {
	Name    string
	FlowM3S float64 // positive from its beginning to its end
	SpeedMS float64
	LossM   float64
}

// fill finds flows, times and the rain that is too much.
func (a *Answer) fill(rain float64) (Fill, error) {
	var f Fill
	each := 0.0 // flow off all that run, for 1 m/s of rain [m²]
	for c := range a.Scheme.Catchments {
		at := &a.Scheme.Catchments[c]
		catch := at.Area * at.Runoff
		f.Roofs = append(f.Roofs, RoofFlow{at.Name, catch * rain, a.Scheme.Runs(c)})
		f.Limits = append(f.Limits, a.gutterLimits(at.Name, catch)...)
		if a.Scheme.Runs(c) {
			each += catch
		}
	}
	f.FillS = math.Inf(1)
	if each == 0 || a.Levels.FullM3 <= 0 {
		sortLimits(f.Limits)
		return f, nil
	}
	limits, err := a.pipeLimits(each)
	if err != nil {
		return f, err
	}
	f.Limits = append(f.Limits, limits...)
	sortLimits(f.Limits)
	f.CaughtM3S = each * rain
	for _, l := range f.Limits {
		if l.Part == InletPart {
			f.CaughtM3S = min(f.CaughtM3S, l.FlowM3S)
		}
	}
	f.FillS = a.Levels.FullM3 / f.CaughtM3S
	f.Pipes, f.UnevenM, err = a.filling(f.CaughtM3S)
	return f, err
}

func sortLimits(list []Limit) {
	slices.SortStableFunc(list, func(x, y Limit) int {
		switch {
		case x.RainMS < y.RainMS:
			return -1
		case x.RainMS > y.RainMS:
			return 1
		}
		return 0
	})
}

// gutterLimits are what the gutter of a catchment and its outlet carry.
func (a *Answer) gutterLimits(name string, catch float64) []Limit {
	g := &a.Scheme.Plan.Gutter
	carries := pipes.Gutter(g.Width, g.Form == "box")
	outlet := pipes.Orifice(g.Outlet, g.Width/2)
	return []Limit{{GutterPart, name, carries / catch, carries}, {OutletPart, name, outlet / catch, outlet}}
}

// pipeLimits are what inlet, manifold and overflow carry before water stands over a rim.
func (a *Answer) pipeLimits(each float64) ([]Limit, error) {
	w := a.Scheme
	source := math.Inf(1) // the lowest of those that run
	for c := range w.Catchments {
		if a.Scheme.Runs(c) {
			source = min(source, a.Scheme.Source(c))
		}
	}
	rise := w.Plan.Gutter.Width / 2 // up to the brim of gutter or settling drum
	if w.Settling != nil {
		rise = w.Settling.Top - w.SettleOut
	}
	head := source + rise - max(w.Points[w.InletEnd].Z, a.Levels.FullZ)
	inlet := w.Inlet.Under(cold(), max(0, head))
	list := []Limit{{InletPart, "", inlet / each, inlet}}
	if !a.Scheme.Overflows() {
		return list, nil
	}
	last := &w.Vessels[w.Overflow.Vessel]
	over := a.overflowCarries(last.Top)
	list = append(list, Limit{OverflowPart, last.Name, over / each, over})
	manifold, err := a.manifoldCarries()
	if err != nil || math.IsInf(manifold, 1) {
		return list, err
	}
	return append(list, Limit{ManifoldPart, w.Vessels[a.inletVessel()].Name, manifold / each, manifold}), nil
}

// overflowCarries is what the overflow takes when the water of its drum stands at a height [m³/s]: what gets in at its mouth, and what runs through when it is full, whichever is less.
func (a *Answer) overflowCarries(z float64) float64 {
	o := &a.Scheme.Overflow
	mouth := pipes.Orifice(o.Diameter, z-o.Z-o.Diameter/2)
	if z-o.Z < o.Diameter { // a hole that is not drowned: as if all of it had half the water's depth over its lower edge
		mouth = pipes.Orifice(o.Diameter, max(0, z-o.Z)/2) * max(0, z-o.Z) / o.Diameter
	}
	return min(mouth, o.Under(cold(), max(0, z-o.End)))
}

// manifoldCarries is the flow from the drum at the inlet to that of the overflow at which the first one stands to its rim; infinite where they are one.
func (a *Answer) manifoldCarries() (float64, error) {
	w := a.Scheme
	in, out := a.inletVessel(), w.Overflow.Vessel
	rim := w.Vessels[in].Top
	if in == out {
		return math.Inf(1), nil
	}
	if rim <= w.Overflow.Z {
		return 0, nil
	}
	n, index := a.vesselNetwork()
	n.Junctions[index[in]] = pipes.Junction{Kept: true, Head: rim}
	n.Junctions[index[out]] = pipes.Junction{Kept: true, Head: w.Overflow.Z}
	s, err := n.Settle()
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for i, l := range n.Links {
		switch index[in] {
		case l.From:
			sum += s.Flows[i]
		case l.To:
			sum -= s.Flows[i]
		}
	}
	return sum, nil
}

// vesselNetwork is the pipes with a junction for each drum and each joint; index finds that of a drum.
func (a *Answer) vesselNetwork() (*pipes.Network, []int) {
	w := a.Scheme
	n := &pipes.Network{Fluid: cold()}
	index := make([]int, len(w.Vessels))
	for v := range w.Vessels {
		index[v] = len(n.Junctions)
		n.Junctions = append(n.Junctions, pipes.Junction{})
	}
	at := make([]int, len(w.Points))
	for i, p := range w.Points {
		if p.Vessel >= 0 {
			at[i] = index[p.Vessel]
			continue
		}
		at[i] = len(n.Junctions)
		n.Junctions = append(n.Junctions, pipes.Junction{Z: p.Z})
	}
	for i := range w.Pipes {
		if p := &w.Pipes[i]; !p.Shut && at[p.From] != at[p.To] {
			n.Links = append(n.Links, pipes.Link{Tube: p.Tube, From: at[p.From], To: at[p.To], OneWay: p.OneWay})
		}
	}
	return n, index
}

// filling is the flow in each pipe while all drums rise together, half full, and how far their levels lie apart for it.
func (a *Answer) filling(flow float64) ([]PipeFlow, float64, error) {
	w := a.Scheme
	n, index := a.vesselNetwork()
	if !a.shareOut(n, index, flow) {
		return nil, 0, nil
	}
	s, err := n.Settle()
	if err != nil {
		return nil, 0, err
	}
	list := []PipeFlow{pipeFlow(w.Inlet.Name, w.Inlet.Tube, flow)}
	k := 0
	for i := range w.Pipes {
		p := &w.Pipes[i]
		q := 0.0
		if same := w.Points[p.From].Vessel >= 0 && w.Points[p.From].Vessel == w.Points[p.To].Vessel; !p.Shut && !same {
			q = s.Flows[k]
			k++
		}
		list = append(list, pipeFlow(p.Name, p.Tube, q))
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range w.Fed {
		low, high = min(low, s.Heads[index[v]]), max(high, s.Heads[index[v]])
	}
	return list, high - low, nil
}

// shareOut lets a flow in at the end of the inlet, and out into each drum by its area at half full; it tells whether any drum stands there.
func (a *Answer) shareOut(n *pipes.Network, index []int, flow float64) bool {
	w := a.Scheme
	z, sum := a.height(a.Levels.FullM3/2), 0.0
	share := make([]float64, len(w.Vessels))
	for _, v := range w.Fed {
		if at := &w.Vessels[v]; at.Bottom < z && at.Top > z {
			share[v] = at.Volume / (at.Top - at.Bottom)
			sum += share[v]
		}
	}
	if sum == 0 {
		return false
	}
	for _, v := range w.Fed {
		n.Junctions[index[v]].In = -flow * share[v] / sum
	}
	in := &n.Junctions[a.inletJunction(index)]
	in.Kept, in.Head = true, z // what is let in there is what the others take
	return true
}

// inletJunction is where the inlet ends in the network of vesselNetwork: at a drum, or at one of the points after them.
func (a *Answer) inletJunction(index []int) int {
	w := a.Scheme
	if v := w.Points[w.InletEnd].Vessel; v >= 0 {
		return index[v]
	}
	at := len(w.Vessels)
	for i := range w.InletEnd {
		if w.Points[i].Vessel < 0 {
			at++
		}
	}
	return at
}

func pipeFlow(name string, t pipes.Tube, flow float64) PipeFlow {
	return PipeFlow{name, flow, math.Abs(flow) / t.Section(), math.Abs(t.HeadOf(cold(), flow))}
}
