package water

import (
	"math"
	"slices"

	"suncellar/internal/house"
	"suncellar/internal/pipes"
	"suncellar/internal/plan"
)

// Station is a place that water comes by.
type Station struct {
	Name string
	Path string // of the plan
	Z    float64
}

// Path is a way of water, from above to below.
type Path struct {
	Name     string
	Stations []Station
	Broken   int     // the first station that lies higher than the water before it can stand; -1: it runs
	ShortM   float64 // by how much [m]
}

// Kind tells what a finding is about.
type Kind string

// The kinds of findings.
const (
	Uphill      Kind = "uphill"      // a way that is broken: at Name, by HeightM
	RoofLow     Kind = "roof low"    // the drums fill to HeightM below the overflow at most; LiftM and LiftJ tell what a pump would take
	Spills      Kind = "spills"      // the rim of the drum Name lies HeightM below the overflow
	NeverFills  Kind = "never fills" // the bottom of the drum Name lies HeightM above the water at its highest
	NotFed      Kind = "not fed"     // no open pipe leads to the drum Name
	OverflowOff Kind = "no overflow" // the overflow is shut, or its drum Name is not fed
	InletShut   Kind = "inlet shut"  // nothing comes in
	DripShut    Kind = "drip shut"   // the drip line Name is shut
	DripUnfed   Kind = "drip unfed"  // the drip line Name hangs on no drum that is fed
	OverWater   Kind = "over water"  // the pipe point Name lies HeightM above the water at its highest: air stands there
	DeadWater   Kind = "dead water"  // VolumeM3 lie too low for the drip line Name
)

// Finding is one thing that the plan's author should know, with the place in the plan.
type Finding struct {
	plan.Finding // file, line, column and path; Message is empty
	Kind         Kind
	Name         string
	Way          string // the way of water it is about; "" for none
	HeightM      float64
	LiftM        float64
	LiftJ        float64 // work for 1 m³ [J]
	VolumeM3     float64
	Drums        int  // of NotFed, NeverFills and Spills: Name is the first of so many
	Stops        bool // water does not run as the plan means it to
}

func (a *Answer) find(path string, f Finding) {
	f.Finding = a.Plan.Place(plan.Finding{Path: path, Severity: plan.Warning})
	a.Findings = append(a.Findings, f)
}

// findDrum counts drums of which the same is to be told as one finding.
func (a *Answer) findDrum(path string, f Finding) {
	for i := range a.Findings {
		if had := &a.Findings[i]; had.Kind == f.Kind && had.Path == path && had.HeightM == f.HeightM {
			had.Drums++
			return
		}
	}
	f.Drums = 1
	a.find(path, f)
}

// walk finds the first station that lies above the water before it.
func walk(name string, stations []Station) Path {
	p := Path{Name: name, Stations: stations, Broken: -1}
	for i := 1; i < len(stations); i++ {
		if over := stations[i].Z - stations[i-1].Z; over > 1e-9 {
			p.Broken, p.ShortM = i, over
			return p
		}
	}
	return p
}

// gravity walks every way and tells where it breaks.
func (a *Answer) gravity() {
	w := a.Scheme
	for c := range w.Catchments {
		p := a.roofPath(c)
		a.Paths = append(a.Paths, p)
		if p.Broken >= 0 {
			s := p.Stations[p.Broken]
			kind, f := Uphill, Finding{Name: s.Name, Way: p.Name, HeightM: p.ShortM, Stops: true}
			if s.Path == "water.overflow" && s.Z == w.Overflow.Z {
				kind = RoofLow
				f.LiftM = p.ShortM
				f.LiftJ = pipes.Lift(p.ShortM, 1, w.Plan.Pump)
			}
			f.Kind = kind
			a.find(s.Path, f)
		}
	}
	a.overflowPath()
	a.standing()
	a.dripPaths()
}

// roofPath is the way from a catchment to the overflow's height in the drums. Each station of it has to lie below the free water before it.
func (a *Answer) roofPath(c int) Path {
	w := a.Scheme
	at := w.Catchments[c]
	list := []Station{{"eave of " + at.Name, at.Path, at.Eave}, {"outlet of its gutter", "water.gutter", at.Outlet}}
	if w.Settling != nil {
		list = append(list, Station{"outlet of the settling drum", "water.settling_drum.outlet", w.SettleOut})
	}
	head := list[len(list)-1].Z
	p := walk(at.Name, list)
	if p.Broken >= 0 {
		return p
	}
	for _, s := range a.behindSource() {
		p.Stations = append(p.Stations, s)
		if over := s.Z - head; over > 1e-9 && p.Broken < 0 {
			p.Broken, p.ShortM = len(p.Stations)-1, over
		}
	}
	return p
}

// behindSource are the places between the source and the drums at their highest: none may lie above the source.
func (a *Answer) behindSource() []Station {
	w := a.Scheme
	var list []Station
	if !math.IsInf(w.Highest, -1) {
		list = append(list, Station{"highest place of the inlet", "water.inlet.highest", w.Highest})
	}
	list = append(list, Station{"end of the inlet", "water.inlet", w.Points[w.InletEnd].Z})
	return append(list, Station{"overflow of " + w.Vessels[w.Overflow.Vessel].Name, "water.overflow", w.Overflow.Z})
}

// inletVessel is the drum that the inlet falls into or is joined with first.
func (a *Answer) inletVessel() int {
	if v := a.Scheme.Points[a.Scheme.InletEnd].Vessel; v >= 0 {
		return v
	}
	if len(a.Scheme.Fed) > 0 {
		return a.Scheme.Fed[0]
	}
	return 0
}

func (a *Answer) overflowPath() {
	w := a.Scheme
	name := w.Vessels[w.Overflow.Vessel].Name
	p := walk("overflow", []Station{{"overflow of " + name, "water.overflow", w.Overflow.Z}, {"end of the overflow", "water.overflow", w.Overflow.End}})
	a.Paths = append(a.Paths, p)
	switch {
	case w.Overflow.Shut || !slices.Contains(w.Fed, w.Overflow.Vessel):
		a.find("water.overflow", Finding{Kind: OverflowOff, Name: name, Way: p.Name, Stops: true})
	case p.Broken >= 0:
		path := "water.overflow"
		if w.Plan.Overflow.End != nil {
			path += ".end"
		}
		a.find(path, Finding{Kind: Uphill, Name: p.Stations[p.Broken].Name, Way: p.Name, HeightM: p.ShortM, Stops: true})
	}
}

// standing tells of drums that spill over their rims, never fill, or get no water, and of pipes above the water.
func (a *Answer) standing() {
	w := a.Scheme
	if w.Inlet.Shut {
		a.find("water.valves", Finding{Kind: InletShut, Stops: true})
	}
	joined := w.Joined(w.InletEnd, func(p *house.WaterPipe) bool { return true })
	for i := range w.Vessels {
		v := &w.Vessels[i]
		switch {
		case !slices.Contains(joined, i): // told by plan.Check
		case !slices.Contains(w.Fed, i):
			a.findDrum("water.valves", Finding{Kind: NotFed, Name: v.Name})
		case v.Bottom >= w.Overflow.Z:
			a.findDrum(v.Path, Finding{Kind: NeverFills, Name: v.Name, HeightM: v.Bottom - w.Overflow.Z})
		case a.Scheme.Overflows() && v.Top < w.Overflow.Z-1e-9:
			a.findDrum(v.Path, Finding{Kind: Spills, Name: v.Name, HeightM: w.Overflow.Z - v.Top})
		}
	}
	for i, p := range w.Points {
		if over := p.Z - w.Overflow.Z; over > 1e-9 && p.Vessel < 0 && i != w.InletEnd {
			a.find("water.points", Finding{Kind: OverWater, Name: p.Name, HeightM: over})
		}
	}
}
