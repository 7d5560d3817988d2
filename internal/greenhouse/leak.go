package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// Leak is the outdoor air that joints, gaps of doors and open inlets of a house let in [m³/s] between an inside and an outside
// temperature [°C] at a wind of the site's station [m/s], as a run computes it.
func Leak(h *house.House, insideC, outsideC, windMS float64) (float64, error) {
	law, err := airflow.NewLeakage(leakageArea(h), 1, shelter[h.Plan.Site.Exposure])
	if err != nil {
		return 0, err
	}
	return leak(h, law, insideC, outsideC, windMS), nil
}

// leak is that flow [m³/s]: what stack and wind drive through the whole leakage area; where the plan gives fixed air changes, these
// and what stack and wind drive through gaps and inlets.
func leak(h *house.House, law airflow.Leakage, insideC, outsideC, windMS float64) float64 {
	q := 0.0
	if n := h.Plan.Leakage.AirChanges; n != nil {
		q = airflow.AirChanges{Still: *n}.Flow(h.Gross, insideC, outsideC, windMS)
	}
	if law.AreaM2 == 0 {
		return q
	}
	return q + law.Flow(insideC, outsideC, windMS)
}

// openShare is the effective leakage area of an open hole over its own: the leakage law counts holes as if they passed all that the
// pressure drives, a sharp hole passes 0.6 of it.
const openShare = 0.6

// leakageArea is the effective leakage area of all that leaks by stack and wind [m²].
func leakageArea(h *house.House) float64 {
	area := 0.0
	for _, s := range leakSites(h) {
		if !s.given {
			area += s.area
		}
	}
	return math.Min(area, mostLeakage)
}

// mostLeakage is up to where the leakage law is used [m²]: beyond it a house stands open.
const mostLeakage = 10.0

// shelter classes of the leakage law by the words of the plan.
var shelter = map[string]int{"open": 1, "scattered": 3, "sheltered": 4}

// leakSite is a piece of leakage at one height.
type leakSite struct {
	z, area float64 // [m above grade], [m²]
	given   bool    // its flow is given as air changes: the area tells only where it is
}

// faceHeights is into how many heights a face's joints are cut.
const faceHeights = 8

// leakSites are the joints, by the area of what touches outdoor air, the gaps of doors and the open inlets.
func leakSites(h *house.House) []leakSite {
	var list []leakSite
	joints, given := jointArea(h.Plan, h.Envelope())
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.Behind != house.Air {
			continue
		}
		for k := range faceHeights {
			z := f.Z0 + (f.Z1-f.Z0)*(float64(k)+0.5)/faceHeights
			list = append(list, leakSite{z, joints * f.Area / h.Envelope() / faceHeights, given})
		}
	}
	for _, d := range h.Plan.Doors {
		sill := doorSill(h, d)
		for k := range faceHeights {
			z := sill + d.Height*(float64(k)+0.5)/faceHeights
			list = append(list, leakSite{z: z, area: openShare * 2 * (d.Width + d.Height) * d.Gap / faceHeights})
		}
	}
	for _, p := range h.Plan.Inlets {
		list = append(list, leakSite{z: h.FloorZ + p.Height, area: openShare * (1 - p.Closed) * math.Pi / 4 * p.Diameter * p.Diameter})
	}
	return list
}

// jointArea is the effective leakage area of the joints [m²]; where air changes are given, any area will do for where they are.
func jointArea(p *plan.Plan, envelope float64) (area float64, given bool) {
	switch {
	case p.Leakage.AirChanges != nil:
		return envelope, true
	case p.Leakage.Area != nil:
		return *p.Leakage.Area, false
	}
	return p.Leakage.PerArea * envelope, false
}

// doorSill is the height of a door's foot [m above grade]: that of the part of its face above grade.
func doorSill(h *house.House, d plan.Door) float64 {
	if f := h.Face(d.Name); f != nil {
		return f.Z0
	}
	return 0
}

// crackExponent is how the flow through joints goes with the pressure across them: 0.6 to 0.7 of most houses, 0.5 of a sharp hole.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, from memory.
const crackExponent = 0.65

// spread is where air comes in and goes out of a house, as shares by layer that add up to 1 each.
type spread struct{ in, out [maxLayers]float64 }

// stackSpread is the spread of what buoyancy drives through joints of a house warmer than outdoors: in below the height of equal pressure, out
// above it, with the height found at which as much goes in as out. A colder house has the two exchanged.
func (g *Greenhouse) stackSpread(list []leakSite) spread {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range list {
		low, high = math.Min(low, s.z), math.Max(high, s.z)
	}
	flow := func(s leakSite, level float64) float64 {
		return s.area * math.Copysign(math.Pow(math.Abs(s.z-level), crackExponent), s.z-level)
	}
	for range 60 {
		mid, out := (low+high)/2, 0.0
		for _, s := range list {
			out += flow(s, mid)
		}
		if out > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	var p spread
	for _, s := range list {
		if q := flow(s, (low+high)/2); q < 0 {
			p.in[g.layerAt(s.z)] -= q
		} else {
			p.out[g.layerAt(s.z)] += q
		}
	}
	return p.whole(len(g.layers))
}

// windSpread is the spread of what wind drives: in on one side and out on the other at all heights alike.
func (g *Greenhouse) windSpread(list []leakSite) spread {
	var p spread
	for _, s := range list {
		p.in[g.layerAt(s.z)] += s.area
		p.out[g.layerAt(s.z)] += s.area
	}
	return p.whole(len(g.layers))
}

// whole makes shares of amounts; where there are none, air comes in and goes out by the highest of n layers.
func (p spread) whole(n int) spread {
	in, out := 0.0, 0.0
	for k := range n {
		in += p.in[k]
		out += p.out[k]
	}
	if !(in > 0) || !(out > 0) {
		p = spread{}
		p.in[n-1], p.out[n-1], in, out = 1, 1, 1, 1
	}
	for k := range n {
		p.in[k] /= in
		p.out[k] /= out
	}
	return p
}

// between is the spread of a flow of which buoyancy drives a share, of a house as much warmer than outdoors as says [K]: smooth where it changes
// to a colder one.
func (p spread) between(wind spread, share, warmerK float64, n int) spread {
	up := airflow.Reach(warmerK)
	var r spread
	for k := range n {
		r.in[k] = share*(up*p.in[k]+(1-up)*p.out[k]) + (1-share)*wind.in[k]
		r.out[k] = share*(up*p.out[k]+(1-up)*p.in[k]) + (1-share)*wind.out[k]
	}
	return r
}
