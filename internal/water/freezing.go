package water

import (
	"math"
	"slices"
	"time"

	"suncellar/internal/greenhouse"
)

// Freezing is what freezes in the simulated winter. It is one winter: a colder one freezes more, and sooner.
type Freezing struct {
	Parts  []FreezePart // that hold water: the first to freeze first, then those that do not, the coldest first
	Drains []string     // that are taken to run empty after a rain
	Drums  []FreezeDrum // by bay
}

// FreezePart is a part that holds water, and what came of it.
type FreezePart struct {
	Kind     FreezeKind
	Name     string
	Others   int    // parts beside it that fare alike
	Outside  bool   // all of it, in outdoor air
	Air      string // name of the air round it
	Still    Still
	First    time.Time // first ice; zero: none
	Solid    time.Time // ice from wall to wall; zero: never
	IceHours int
	MostIce  float64 // share
	LowestC  float64 // of the water, 0 where there was ice
	LowestAt time.Time
}

// FreezeKind tells what a part is.
type FreezeKind string

// The kinds of parts that hold water.
const (
	InletPipe    FreezeKind = "inlet"       // outside, that does not run empty
	InletFoot    FreezeKind = "inlet foot"  // its end, which stands in the water of the drums
	InletMouth   FreezeKind = "inlet mouth" // flap or one-way valve, outdoor air on one side
	FlushVessel  FreezeKind = "first flush"
	SettlingTank FreezeKind = "settling drum"
	OverflowPipe FreezeKind = "overflow" // that does not run empty
	ManifoldPipe FreezeKind = "manifold" // the pipes along a row
	PlainPipe    FreezeKind = "pipe"     // of the long form
	DeadLeg      FreezeKind = "dead leg" // a pipe that leads to nothing open
	ValveBody    FreezeKind = "valve"    // a ball keeps water in its body, open or shut
	DripPipe     FreezeKind = "drip line"
)

// FreezeDrum is the drums of a bay.
type FreezeDrum struct {
	Bay     string
	Fill    float64   // share filled with water, of the fullest drum
	Stacked bool      // drums stand on one another: the lower ones are full to the top and have no room, whatever the upper has
	First   time.Time // first ice; zero: none
	Ice     float64   // most of it, share
	IceAt   time.Time
	Head    float64   // room over the water, share of the drum
	Need    float64   // room that the most ice takes
	TightAt time.Time // from when there is less room than the ice takes; zero: never
	LowestC float64
	LowAt   time.Time
}

// skyK is by how much a thing under a clear sky is colder than outdoor air [K]; own judgement, the cold side, at all hours.
const skyK = 2

// Films of pipes, convection and radiation together [W/m²K].
//
// Source: ISO 6946, which has 25 outside at 4 m/s and 7.7 inside of walls; thin pipes inside lose more by convection: 10, own judgement.
const (
	filmOutside = 25
	filmInside  = 10
)

// iceRoom is how much more room ice takes than its water had: 9 %.
//
// Source: Kell 1975, 999.84 kg/m³ at 0 °C; ice by its own row in package material.
const iceRoom = 999.84/917.0 - 1

// freeze runs every part that holds water through the winter's hours, nil where there is none.
func (a *Answer) freeze() *Freezing {
	if a.Winter == nil || a.Winter.Result.Hours() == 0 {
		return nil
	}
	f := &Freezing{}
	s := &standing{a: a, f: f, r: a.Winter.Result}
	s.outside()
	s.inside()
	slices.SortStableFunc(f.Parts, sooner)
	f.Drums = a.freezeDrums()
	return f
}

// sooner orders parts: those with ice by its begin, then the others by how cold they came.
func sooner(x, y FreezePart) int {
	switch xi, yi := !x.First.IsZero(), !y.First.IsZero(); {
	case xi && yi:
		return x.First.Compare(y.First)
	case xi:
		return -1
	case yi:
		return 1
	case x.LowestC < y.LowestC:
		return -1
	case x.LowestC > y.LowestC:
		return 1
	}
	return 0
}

// standing makes the list of what holds water.
type standing struct {
	a *Answer
	f *Freezing
	r *greenhouse.Result
}

// air is what a part stands in, by hour at its end [°C].
type air struct {
	name string
	c    func(hour int) float64
}

// outdoors is outdoor air under a clear sky.
func (s *standing) outdoors() air {
	for i := range s.r.Traces {
		if t := &s.r.Traces[i]; t.Kind == greenhouse.OutPlace {
			return air{t.Name, func(h int) float64 { return t.C[h] - skyK }}
		}
	}
	panic("water: a winter without outdoor air")
}

// layer is the air that a height lies in, of layers that lie on one another from the bottom of the house up, each with its place in its middle; the lower of two that meet there, which is
// the colder side. Below or above all of them it is the nearest.
func (s *standing) layer(z float64) air {
	low := s.a.House.FloorZ
	if s.a.House.Sink {
		low = s.a.House.SinkZ
	}
	var at *greenhouse.Trace
	for i := range s.r.Traces { // in order, from below
		t := &s.r.Traces[i]
		if t.Kind != greenhouse.AirPlace {
			continue
		}
		at = t
		if low += 2 * (t.Z - low); z <= low+1e-9 {
			break
		}
	}
	return air{at.Name, func(h int) float64 { return at.C[h] }}
}

// between is the mean of two airs.
func between(x, y air) air {
	return air{x.name + " and " + y.name, func(h int) float64 { return (x.c(h) + y.c(h)) / 2 }}
}

// add runs a part through the winter and keeps it. Water that fares just as that of a part of its kind before it is counted there.
func (s *standing) add(p FreezePart, in air) {
	p.Air = in.name
	for i := range s.f.Parts {
		if had := &s.f.Parts[i]; had.Kind == p.Kind && had.Air == p.Air && had.Still == p.Still && p.Kind == ValveBody {
			had.Others++
			return
		}
	}
	p.through(s.r, in)
	s.f.Parts = append(s.f.Parts, p)
}

// through integrates the water by the hour, each with the mean of the air at its ends. It begins as warm as its air.
func (p *FreezePart) through(r *greenhouse.Result, in air) {
	last := in.c(0)
	water := Cold{C: max(0, last)}
	p.LowestC = math.Inf(1)
	for h := range r.Hours() {
		now := in.c(h)
		water = p.Still.After(water, (last+now)/2, 3600)
		last = now
		if water.C < p.LowestC {
			p.LowestC, p.LowestAt = water.C, r.Time(h)
		}
		if water.Ice > 0 {
			p.IceHours++
			if p.First.IsZero() {
				p.First = r.Time(h)
			}
			if water.Ice >= 1 && p.Solid.IsZero() {
				p.Solid = r.Time(h)
			}
		}
		p.MostIce = max(p.MostIce, water.Ice)
	}
}
