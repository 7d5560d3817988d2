package greenhouse

import (
	"math"

	"suncellar/internal/plan"
)

// How rain and use move the water between the drums that open pipes join.

// comes lets water of a temperature [°C] in: as far as there is room the drums rise, then it passes through them.
func (r *rain) comes(m3, waterC float64) {
	rises := math.Min(m3, math.Max(0, r.upTo(r.levels.FullZ)-r.held()))
	came := r.raise(rises, waterC)
	for left := m3 - rises; left > 0; {
		now := math.Min(left, math.Max(passShare*r.held(), 1e-4))
		left -= now
		came += r.pass(now, waterC)
	}
	r.books.CaughtM3 += came
	r.books.CaughtC += came * waterC
	r.books.PastM3 += math.Max(0, m3-came)
}

// raise lets water into the drums that stand lowest, up to one level.
func (r *rain) raise(m3, waterC float64) float64 {
	n := r.s.g.Net
	z := r.level(func(z float64) float64 {
		sum := 0.0
		for i := range r.bays {
			sum += math.Max(0, r.bays[i].upTo(z)-r.bays[i].holds(n))
		}
		return sum - m3
	})
	came := 0.0
	for i := range r.bays {
		b := &r.bays[i]
		came += b.fillIn(n, &r.in, math.Max(0, b.upTo(z)-b.holds(n)), waterC)
	}
	return came
}

// level is the height at which a function that rises with it is 0, within the drums [m].
func (r *rain) level(f func(z float64) float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range r.bays {
		base := r.bays[i].row.Base
		low, high = math.Min(low, base), math.Max(high, base+r.bays[i].stack)
	}
	for range 60 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// pass drives water out of each bay by its share of the store, and lets as much in; it tells how much [m³].
func (r *rain) pass(m3, waterC float64) float64 {
	n, held, came := r.s.g.Net, r.held(), 0.0
	if held <= 0 {
		return 0
	}
	for i := range r.bays {
		b := &r.bays[i]
		out := b.takeOut(n, &r.over[i], m3*b.holds(n)/held)
		r.books.OverM3 += out
		came += b.fillIn(n, &r.in, out, waterC)
	}
	return came
}

// use waters the beds, out of the drums that stand highest, down to one level, to the lowest that can be used, and to what is kept.
func (r *rain) use(at plan.Date) {
	if r.of.Plan.Use == nil || r.of.Plan.Use[at.Month-1] == 0 {
		return
	}
	n, wanted, kept := r.s.g.Net, r.of.Plan.Use[at.Month-1], r.of.Plan.Kept(at)
	dead := r.upTo(r.levels.LowestZ)
	free := math.Max(0, r.held()-math.Max(dead, kept))
	now := math.Min(wanted, free)
	z := r.level(func(z float64) float64 {
		sum := 0.0
		for i := range r.bays {
			sum += math.Max(0, r.bays[i].holds(n)-r.bays[i].upTo(z))
		}
		return now - sum
	})
	used := 0.0
	for i := range r.bays {
		b := &r.bays[i]
		takes := math.Max(0, b.holds(n)-b.upTo(z))
		for k, bed := range r.beds {
			used += b.takeOut(n, &b.ways[k], takes*bed.share)
		}
	}
	r.books.WantedM3 += wanted
	r.books.UsedM3 += used
	if used < wanted*(1-1e-6) {
		r.books.ShortDays++
		if kept > dead && r.held()-dead >= wanted-used {
			r.books.KeptDays++
		}
	}
}

// account is the books of the run.
func (r *rain) account() RainAccount {
	a := r.books
	a.CaughtC /= a.CaughtM3
	return a
}
