package water

import (
	"slices"
	"time"

	"suncellar/internal/greenhouse"
)

// Care is one thing to do, with what it is about. The order is that of the year, from spring on.
type Care struct {
	Kind  CareKind
	Names []string  // of drums or lines
	At    time.Time // by when: the first frost of the simulated winter; zero where none is known or it has no day
}

// CareKind tells what is to be done.
type CareKind string

// What there is to do.
const (
	CleanRoof     CareKind = "clean roof"    // gutter, outlet and roof, after pollen and after the leaves
	ScreenMouths  CareKind = "screen mouths" // every opening that insects get in by
	ScreenRunOut  CareKind = "screen overflow"
	LargerFlush   CareKind = "first flush small" // the plan's first flush lets go of less than most of the dirt comes in
	NoFlush       CareKind = "no first flush"
	KeepDark      CareKind = "keep dark"       // Names: rows that let light through
	KeepLids      CareKind = "keep lids"       // opaque drums: the lids
	LookForGnats  CareKind = "look for larvae" // while the water is warm
	CleanMud      CareKind = "clean mud"
	FlushLines    CareKind = "flush drip lines" // Names: lines
	EmptyFlush    CareKind = "empty first flush"
	EmptySettling CareKind = "empty settling drum"
	DrainOutside  CareKind = "drain outside" // pipes and valves of Freezing that hold water outside
	LookAtMouth   CareKind = "look at mouth" // flap, one-way valve and overflow in frost
)

// FlushEnoughM is the runoff that most of the dirt comes in [m]: 1.2 mm.
//
// Source: Lay and others 2024, abstract: most suspended solids in the first 1.2 mm of runoff.
const FlushEnoughM = 1.2e-3

// MeshM is the widest opening that keeps mosquitoes out [m]: 1 mm.
//
// Source: enHealth 2011, sect. 5.5, which has it of Queensland's rules of 2005.
const MeshM = 1e-3

// BreedingDays is how soon mosquitoes fly that are eggs in warm water; local mosquito services tell 7 to 10 days; from memory.
const BreedingDays = 7

// LookYears is how often tanks should be looked into for mud, the longer of two. Source: enHealth 2011, sect. 5.8: every 2 to 3 years.
const LookYears = 3

// care lists what is to be done with the water of this plan.
func (a *Answer) care() []Care {
	w := a.Scheme
	frost := a.firstFrost()
	list := []Care{{Kind: CleanRoof}}
	switch depth, has := a.flushDepth(); {
	case !has:
		list = append(list, Care{Kind: NoFlush})
	case depth < FlushEnoughM-1e-9:
		list = append(list, Care{Kind: LargerFlush})
	}
	list = append(list, Care{Kind: ScreenMouths})
	if w.Overflow.To == "outside" {
		list = append(list, Care{Kind: ScreenRunOut})
	}
	list = append(list, a.light(), Care{Kind: LookForGnats})
	if a.Settled != nil {
		list = append(list, Care{Kind: CleanMud})
	}
	if lines := a.openLines(); len(lines) > 0 {
		list = append(list, Care{Kind: FlushLines, Names: lines})
	}
	return append(list, a.beforeFrost(frost)...)
}

// beforeFrost is what must not be found full by the first frost.
func (a *Answer) beforeFrost(frost time.Time) []Care {
	w := a.Scheme
	var list []Care
	if _, has := a.flushDepth(); has {
		list = append(list, Care{Kind: EmptyFlush, At: frost})
	}
	if w.Settling != nil && w.Plan.Settling.Stands == "outside" {
		list = append(list, Care{Kind: EmptySettling, At: frost})
	}
	if a.Freezing != nil && slices.ContainsFunc(a.Freezing.Parts, func(p FreezePart) bool { return p.Outside && p.Kind != FlushVessel && p.Kind != SettlingTank }) {
		list = append(list, Care{Kind: DrainOutside, At: frost})
	}
	if w.Plan.Inlet.Mouth != "open pipe" || w.Overflow.To == "outside" {
		list = append(list, Care{Kind: LookAtMouth})
	}
	return list
}

// flushDepth is the first flush over the roofs as seen from above [m], and whether there is one.
func (a *Answer) flushDepth() (float64, bool) {
	f := a.Scheme.Plan.FirstFlush
	if f == nil {
		return 0, false
	}
	if f.Volume == nil {
		return f.Depth, f.Depth > 0
	}
	area := 0.0
	for i := range a.Scheme.Catchments {
		area += a.Scheme.Catchments[i].Area
	}
	return *f.Volume / area, *f.Volume > 0
}

// light names the rows that let light through to the water; where there is none, lids are enough.
func (a *Answer) light() Care {
	c := Care{Kind: KeepDark}
	for i := range a.Plan.Store.Rows {
		if r := &a.Plan.Store.Rows[i]; r.Colour == "clear" || r.Colour == "white" {
			c.Names = append(c.Names, r.Name)
		}
	}
	if len(c.Names) == 0 {
		c.Kind = KeepLids
	}
	return c
}

// openLines are the drip lines that run.
func (a *Answer) openLines() []string {
	var list []string
	for i := range a.Scheme.Drips {
		if a.Scheme.DripRuns(i) && !slices.Contains(list, a.Scheme.Drips[i].Plan.Name) {
			list = append(list, a.Scheme.Drips[i].Plan.Name)
		}
	}
	return list
}

// firstFrost is the first hour of the simulated winter in which a thing under a clear sky comes to 0 °C; zero where there is none.
func (a *Answer) firstFrost() time.Time {
	if a.Winter == nil {
		return time.Time{}
	}
	r := a.Winter.Result
	for i := range r.Traces {
		if t := &r.Traces[i]; t.Kind == greenhouse.OutPlace {
			for h, c := range t.C {
				if c <= skyK {
					return r.Time(h)
				}
			}
		}
	}
	return time.Time{}
}
