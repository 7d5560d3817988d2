package drill

import (
	"math"
	"slices"

	"suncellar/internal/house"
)

// Fall is what a vessel loses.
type Fall struct {
	Vessel int
	ToZ    float64 // where its water stands at the end
	LostM3 float64
}

// Full are the heights at which the vessels of a house stand full: fed ones as high as rain fills them, no less than their row's fill, which a hose can have brought; others at
// the fill. h.Scheme must not be nil.
func Full(h *house.House) []float64 {
	w := h.Scheme
	full := w.Levels().FullZ
	list := make([]float64, len(w.Vessels))
	for i := range w.Vessels {
		v := &w.Vessels[i]
		list[i] = v.Bottom + h.Rows[v.Bay.Row].Fill*(v.Top-v.Bottom)
		if slices.Contains(w.Fed, i) {
			list[i] = min(v.Top, max(full, list[i]))
		}
	}
	return list
}

// standing holds given heights between bottom and rim; one that is missing or no number is the rim.
func standing(w *house.Water, heights []float64) []float64 {
	list := make([]float64, len(w.Vessels))
	for i := range list {
		v := &w.Vessels[i]
		list[i] = v.Top
		if i < len(heights) && !math.IsNaN(heights[i]) {
			list[i] = min(v.Top, max(v.Bottom, heights[i]))
		}
	}
	return list
}

// Falls finds which vessels run out by a failed joint, and how far; those that lose nothing are left out. heights are where the vessels stand [m], water at rest: vessels that open
// pipes join stand alike; one above its rim or below its bottom counts as there, and one that is missing as the rim. open tells of a pipe of the scheme whether water passes.
//
// The joint is open to the air. A vessel falls along the way to it that lets it fall furthest, to the highest of: the joint, and each place on the way where a pipe meets a vessel,
// for there air comes in. A place above its water lets nothing pass. A pipe that climbs and comes down again under the water is full of it and is taken to go on as a siphon: its
// crest holds nothing back. That is the bad side; air may break it sooner, which nobody can count on. At the joint itself air comes in, so that no siphon draws beyond it. What
// stands in the pipes themselves is not counted, nor what rain brings meanwhile.
func Falls(w *house.Water, at Joint, heights []float64, open func(pipe int) bool) []Fall {
	return newGraph(w).falls(at.Point, standing(w, heights), open)
}

// graph is the points of a scheme and what ends at each.
type graph struct {
	w     *house.Water
	pipes [][]int // by point
	meets [][]int // points by vessel
}

func newGraph(w *house.Water) *graph {
	g := &graph{w: w, pipes: make([][]int, len(w.Points)), meets: make([][]int, len(w.Vessels))}
	for i := range w.Pipes {
		for _, end := range [2]int{w.Pipes[i].From, w.Pipes[i].To} {
			g.pipes[end] = append(g.pipes[end], i)
		}
	}
	for p := range w.Points {
		if v := w.Points[p].Vessel; v >= 0 {
			g.meets[v] = append(g.meets[v], p)
		}
	}
	return g
}

// other is the far end of a pipe.
func (g *graph) other(pipe, end int) int {
	p := &g.w.Pipes[pipe]
	if p.From == end {
		return p.To
	}
	return p.From
}

// falls are those of Falls, heights held.
func (g *graph) falls(to int, heights []float64, open func(int) bool) []Fall {
	var list []Fall
	g.lowest(to, heights, open, true, func(v int, z float64) {
		vessel := &g.w.Vessels[v]
		if lost := vessel.Holds(heights[v]) - vessel.Holds(z); lost > 0 {
			list = append(list, Fall{v, max(z, vessel.Bottom), lost})
		}
	})
	return list
}

// lowest tells, for each vessel whose water comes to a point, how far the vessel falls, in the order of the vessels. siphons tells whether a crest lets water pass once it ran over.
func (g *graph) lowest(to int, heights []float64, open func(int) bool, siphons bool, tell func(vessel int, z float64)) {
	known := map[float64][]float64{} // by height of the water
	for v, h := range heights {
		ways, ok := known[h]
		if !ok {
			ways = g.ways(to, h, open, siphons)
			known[h] = ways
		}
		low := math.Inf(1)
		for _, p := range g.meets[v] {
			low = min(low, ways[p])
		}
		if low < h {
			tell(v, low)
		}
	}
}

// ways finds for each point how far water that stands at a height and comes by it falls, until no more of it runs to the point `to`; +Inf where none does.
func (g *graph) ways(to int, height float64, open func(int) bool, siphons bool) []float64 {
	w := g.w
	low := make([]float64, len(w.Points))
	for i := range low {
		low[i] = math.Inf(1)
	}
	if w.Points[to].Z >= height {
		return low
	}
	low[to] = w.Points[to].Z
	queue := []int{to}
	reach := func(from, p int) {
		at := &w.Points[p]
		if at.Z >= height {
			return
		}
		z := low[from]
		if at.Vessel >= 0 || !siphons {
			z = max(z, at.Z)
		}
		if z < low[p] {
			low[p] = z
			queue = append(queue, p)
		}
	}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, i := range g.pipes[p] {
			pipe := &w.Pipes[i]
			if open(i) && (!pipe.OneWay || pipe.To == p) {
				reach(p, g.other(i, p))
			}
		}
		if v := w.Points[p].Vessel; v >= 0 {
			for _, q := range g.meets[v] {
				reach(p, q)
			}
		}
	}
	return low
}

// part are the points that hang together with one, whichever way water may run.
func (g *graph) part(from int, open func(int) bool) []bool {
	in := make([]bool, len(g.w.Points))
	in[from] = true
	queue := []int{from}
	reach := func(p int) {
		if !in[p] {
			in[p] = true
			queue = append(queue, p)
		}
	}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, i := range g.pipes[p] {
			if open(i) {
				reach(g.other(i, p))
			}
		}
		if v := g.w.Points[p].Vessel; v >= 0 {
			for _, q := range g.meets[v] {
				reach(q)
			}
		}
	}
	return in
}
