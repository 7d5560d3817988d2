package water

import (
	"math"

	"suncellar/internal/catchment"
	"suncellar/internal/plan"
)

// Balance is the store through the days of rain. Volumes in m³.
type Balance struct {
	Source  string // of the rain
	Made    bool   // its years are made
	Days    int
	Unknown int // days whose rain is not known, counted as dry
	Years   float64

	Caught    float64 // off the roofs that run, first flush taken off
	Flushed   float64
	Shed      float64 // snow that slid off
	Lost      float64 // off roofs that do not run, or that lie below the water in the drums
	SnowShare float64 // of what ran off, that fell as snow
	Spilled   float64
	Wanted    float64
	Given     float64
	Change    float64 // of what is stored, from the first day to the last
	Open      float64 // caught less spilled, given and change: rounding

	Use          bool // the plan uses water
	DaysWanted   int  // days on which water is wanted
	DaysShort    int  // of them, with less than wanted
	DaysNone     int  // of them, with nothing at all
	LongestShort int  // longest run of days with less than wanted
	DaysKept     int  // short because water is kept
	Months       [12]Month
	Curve        []CurvePoint
	Drums        int // of the plan that are fed
}

// Reliability is the share of the days with a wish on which it was met in full.
func (b *Balance) Reliability() float64 {
	if b.DaysWanted == 0 {
		return 1
	}
	return 1 - float64(b.DaysShort)/float64(b.DaysWanted)
}

// Month is what a month comes to, in the mean of the years. Volumes in m³.
type Month struct {
	Caught, Spilled, Wanted, Given float64
	Lowest                         float64 // that the drums held in any year
	DaysShort                      float64
}

// CurvePoint is what another number of drums would come to.
type CurvePoint struct {
	Drums       int
	Reliability float64
	Given       float64 // a year [m³]
	Spilled     float64 // a year [m³]
}

// tank is the drums as one vessel [m³].
type tank struct {
	full, dead float64
	use        [12]float64 // a day
}

// balance runs the days through the store, and through stores of other sizes. The store begins as the first year, run from full, leaves it.
func (a *Answer) balance(days []catchment.Day) *Balance {
	t := a.tank()
	b := a.through(t, days, 1)
	b.Use = a.Plan.Water.Use != nil
	b.Drums = a.fedDrums()
	if b.Use {
		for _, n := range curveDrums(b.Drums) {
			share := float64(n) / float64(b.Drums)
			other := t
			other.full, other.dead = t.full*share, t.dead*share
			o := a.through(other, days, share)
			b.Curve = append(b.Curve, CurvePoint{n, o.Reliability(), o.Given / o.Years, o.Spilled / o.Years})
		}
	}
	return b
}

// tank is the drums that are fed as one vessel.
func (a *Answer) tank() tank {
	l := &a.Levels
	t := tank{full: l.FullM3, dead: l.FullM3 - l.UsableM3}
	if u := a.Plan.Water.Use; u != nil {
		t.use = *u
	}
	return t
}

// fedDrums is the number of drums that water reaches.
func (a *Answer) fedDrums() int {
	n := 0.0
	for _, v := range a.Scheme.Fed {
		at := &a.Scheme.Vessels[v]
		n += at.Volume / a.House.Rows[at.Bay.Row].Volume
	}
	return int(math.Round(n))
}

// curveDrums are the numbers of drums of the curve: shares and multiples of what the plan has.
func curveDrums(drums int) []int {
	var list []int
	for _, share := range []float64{0.1, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 3, 5} {
		if n := int(math.Round(share * float64(drums))); n > 0 && (len(list) == 0 || n > list[len(list)-1]) {
			list = append(list, n)
		}
	}
	return list
}

// through runs the days. share is that of the drums of the plan, by which the height of the water follows from its volume.
//
// Water is used before that of the day comes in, so that a day never lives on its own rain: the rule of yield after spillage, which gives
// the lower reliability. Source: Jenkins et al. 1978, as in Fewkes and Butler, Simulating the performance of rainwater collection systems using behavioural models, 2000, from memory.
func (a *Answer) through(t tank, days []catchment.Day, share float64) *Balance {
	r := a.passageOf(t, days, share)
	b := &Balance{Days: len(days), Years: float64(len(days)) / 365.25}
	for m := range b.Months {
		b.Months[m].Lowest = math.Inf(1)
	}
	r.b, r.short = b, 0
	begin, melted, all := r.held, 0.0, 0.0
	for _, d := range days {
		ran := r.day(d)
		melted += ran.SnowMelted
		all += ran.Flushed
		for _, q := range ran.Off {
			all += q
		}
	}
	b.Change = r.held - begin
	b.Open = b.Caught - b.Spilled - b.Given - b.Change
	if all > 0 {
		b.SnowShare = melted / all
	}
	for m := range b.Months {
		for _, v := range []*float64{&b.Months[m].Caught, &b.Months[m].Spilled, &b.Months[m].Wanted, &b.Months[m].Given, &b.Months[m].DaysShort} {
			*v /= b.Years
		}
	}
	return b
}

// passage is a store on its way through the days.
type passage struct {
	tank
	a     *Answer
	share float64
	held  float64 // [m³]
	roofs *catchment.Roofs
	b     *Balance
	short int // days in a row with less than wanted
}

// passageOf is a store as the first year, run from full, leaves it.
func (a *Answer) passageOf(t tank, days []catchment.Day, share float64) *passage {
	r := &passage{tank: t, a: a, share: share, held: t.full, roofs: a.Scheme.Roofs(), b: &Balance{}}
	for _, d := range days[:min(len(days), leastDays)] {
		r.day(d)
	}
	return r
}

// copy is a store in the same state, to go on apart, with books of its own.
func (r *passage) copy() *passage {
	c := *r
	c.roofs, c.b = r.roofs.Copy(), &Balance{}
	return &c
}

// day uses water, then lets the day's in.
func (r *passage) day(d catchment.Day) catchment.Ran {
	m := &r.b.Months[d.Month-1]
	r.draw(d, m)
	out := r.roofs.Day(d)
	r.b.Flushed += out.Flushed
	r.b.Shed += out.Shed
	at := plan.DayOf(d.Month, d.Day)
	for i, q := range out.Off {
		if !r.a.Scheme.RunsOn(i, at) || r.held >= r.heldAt(r.a.Scheme.Source(i)) {
			r.b.Lost += q
			continue
		}
		r.b.Caught += q
		m.Caught += q
		r.held += q
	}
	if over := r.held - r.full; over > 0 {
		r.held = r.full
		r.b.Spilled += over
		m.Spilled += over
	}
	m.Lowest = min(m.Lowest, r.held)
	return out
}

// heldAt is the water when it stands at a height; infinite where that is the full height or more, since what comes then spills by the overflow [m³].
func (r *passage) heldAt(z float64) float64 {
	if z >= r.a.Levels.FullZ-1e-9 {
		return math.Inf(1)
	}
	return r.share * r.a.Scheme.Holds(z)
}

// draw takes the water of the day, down to what is kept.
func (r *passage) draw(d catchment.Day, m *Month) {
	wanted := r.use[d.Month-1]
	if wanted <= 0 {
		return
	}
	kept := r.a.Plan.Water.Kept(plan.DayOf(d.Month, d.Day))
	given := min(wanted, max(0, r.held-max(r.dead, kept)))
	r.held -= given
	r.b.Wanted += wanted
	r.b.Given += given
	m.Wanted += wanted
	m.Given += given
	r.b.DaysWanted++
	if given >= wanted-1e-12 {
		r.short = 0
		return
	}
	r.b.DaysShort++
	m.DaysShort++
	if given == 0 {
		r.b.DaysNone++
	}
	if kept > r.dead && r.held-r.dead >= wanted-given {
		r.b.DaysKept++
	}
	r.short++
	r.b.LongestShort = max(r.b.LongestShort, r.short)
}
