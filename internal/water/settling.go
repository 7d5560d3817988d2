package water

import (
	"math"
	"slices"

	"suncellar/internal/house"
	"suncellar/internal/pipes"
)

// Settled is what of the dirt off the roofs sinks where the water comes to first: the settling drum, else the drum that the inlet ends in, else all that are fed. It is the most that
// such a vessel can do: what stirs it up makes it less.
type Settled struct {
	Name     string // of the vessel
	Drum     bool   // it is the settling drum
	AreaM2   float64
	Rains    []SettledRain // gentle, asked for and hard, the smallest first
	DepthM   float64       // from the bottom to the outlet, or the lowest pipe that leaves
	DrainM   float64       // of it below the drain: mud that does not run out by itself
	MudM     float64       // what may gather above the drain before it stands half as high as the outlet
	InflowM3 float64       // in a year, 0: not known
	Mud      [2]Mud        // with little dirt and with much
}

// SettledRain is what settles at a rain.
type SettledRain struct {
	RainMS    float64
	FlowM3S   float64
	RateMS    float64   // overflow rate: flow over surface
	SmallestM float64   // mineral grain that is caught whole
	Shares    []float64 // of each of Particles
}

// Mud is what gathers in a year.
type Mud struct {
	LoadKgM3 float64 // dirt in the water
	DepthM   float64 // in a year, if all of it settles
	Years    float64 // until MudM is full; infinite where nothing comes, 0 where there is no room
}

// Particle is dirt of one kind.
type Particle struct {
	Name     string
	Diameter float64 // [m]
	Density  float64 // [kg/m³]
}

// mineral is the density of quartz, of which most mineral dust is about [kg/m³]; from memory.
const mineral = 2650

// Particles are the dirt that is told of, by the usual limits of sizes. Pollen that is soaked is 1200 kg/m³, own judgement: fresh maize has 1250 (Aylor 2002).
var Particles = []Particle{{"sand", 200e-6, mineral}, {"coarse silt", 50e-6, mineral}, {"pollen", 28e-6, 1200}, {"fine silt", 10e-6, mineral}, {"clay", 2e-6, mineral}}

// Rains that settling is told for beside the one that is asked for [m/s]: a gentle one of 2 mm/h and a hard one of 50 mm/h; own judgement.
const (
	gentleMS = 2e-3 / 3600
	hardMS   = 50e-3 / 3600
)

// loadKgM3 is the dirt in a roof's runoff, suspended solids: 13 to 120 mg/L.
//
// Source: Göbel, Dierkes and Coldewey 2007, roofs, mean 43 mg/L; from memory.
var loadKgM3 = [2]float64{0.013, 0.120}

// mudKgM3 is the dry dirt in a cubic metre of mud that has always lain under water, that of clay: the loosest, so that the room is soonest full.
//
// Source: Lara and Pemberton 1963, 416 kg/m³; from memory.
const mudKgM3 = 416

// drainOver is how high the drain lies over the bottom where nothing is said [m], as the table of keys has it.
const drainOver = 0.05

// settle finds where the dirt settles, nil where no rain comes.
func (a *Answer) settle() *Settled {
	if a.Fill.CaughtM3S <= 0 {
		return nil
	}
	s := a.basin()
	rains := []float64{gentleMS, a.RainMS, hardMS}
	slices.Sort(rains)
	for _, rain := range slices.Compact(rains) {
		s.Rains = append(s.Rains, s.settles(rain, a.caughtAt(rain)))
	}
	s.MudM = max(0, s.DepthM/2-s.DrainM)
	if a.Rain != nil && a.Rain.Years > 0 {
		s.InflowM3 = a.Rain.Caught / a.Rain.Years
	}
	for i, load := range loadKgM3 {
		s.Mud[i] = Mud{LoadKgM3: load, DepthM: s.InflowM3 * load / mudKgM3 / s.AreaM2}
		s.Mud[i].Years = math.Inf(1)
		if s.Mud[i].DepthM > 0 {
			s.Mud[i].Years = s.MudM / s.Mud[i].DepthM
		}
	}
	return s
}

// caughtAt is the flow that another rain than the one asked for brings [m³/s].
func (a *Answer) caughtAt(rain float64) float64 {
	each, most := 0.0, math.Inf(1)
	for c := range a.Scheme.Catchments {
		if at := &a.Scheme.Catchments[c]; a.Scheme.Runs(c) {
			each += at.Area * at.Runoff
		}
	}
	for _, l := range a.Fill.Limits {
		if l.Part == InletPart {
			most = l.FlowM3S
		}
	}
	return min(each*rain, most)
}

// basin is the vessel that the water comes to first. All of the flow is taken to cross the first drum, though a part of it stays there.
func (a *Answer) basin() *Settled {
	w := a.Scheme
	if v := w.Settling; v != nil {
		s := &Settled{Name: v.Name, Drum: true, AreaM2: surface(v), DepthM: w.SettleOut - v.Bottom, DrainM: drainOver}
		if d := w.Plan.Settling.Drain; d != nil {
			s.DrainM = *d - v.Bottom
		}
		s.DrainM = min(s.DrainM, s.DepthM)
		return s
	}
	list := w.Fed
	s := &Settled{Name: "drums"}
	if v := w.Points[w.InletEnd].Vessel; v >= 0 {
		list, s.Name = []int{v}, w.Vessels[v].Name
	}
	s.DepthM = math.Inf(1)
	for _, v := range list {
		s.AreaM2 += surface(&w.Vessels[v])
		for i, p := range w.Points {
			if p.Vessel == v && i != w.InletEnd {
				s.DepthM = min(s.DepthM, p.Z-w.Vessels[v].Bottom)
			}
		}
	}
	if math.IsInf(s.DepthM, 1) { // no pipe leaves
		s.DepthM = max(0, w.DrawOff-w.Vessels[list[0]].Bottom)
	}
	return s
}

// surface is that of the water in a vessel [m²].
func surface(v *house.Vessel) float64 { return v.Volume / (v.Top - v.Bottom) }

func (s *Settled) settles(rain, flow float64) SettledRain {
	f := cold()
	r := SettledRain{RainMS: rain, FlowM3S: flow, RateMS: flow / s.AreaM2}
	r.SmallestM = f.SinksAt(r.RateMS, mineral)
	for _, p := range Particles {
		r.Shares = append(r.Shares, pipes.Caught(f.Sinks(p.Diameter, p.Density, pipes.DragGrain), s.AreaM2, flow))
	}
	return r
}
