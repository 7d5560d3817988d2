package worth

import (
	"context"
	"math"

	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// Band is how far the worst night may lie from the middle for what is not known of the house, to first order: each unknown moves it
// alone, and their moves are added as independent ones are. It says nothing of other winters.
type Band struct {
	Middle Measures // lowests of the plan's own winter; of Measures only the temperatures are known here
	Lo, Hi Measures // ends of the 80 % band
}

// eightInTen is the standard normal deviate that 8 of 10 lie within.
const eightInTen = unknown.EightInTen

// BandOf computes the band of a winter, so many runs at once, 0 for as many as there are cores. Where WhyNoBand says why there is none it is not to be asked.
func BandOf(ctx context.Context, first *winter.Answer, atOnce int, progress winter.Progress) (*UnitAnswer, error) {
	return PerUnit(ctx, UnitRequest{Plan: first.Plan, First: first, Kinds: []Kind{Unknown}, NoHalves: true, AtOnce: atOnce}, progress)
}

// bandOf adds the rows of what is not known:
//
//	Lo = middle - 1.2816 sqrt(sum of d_i²),  d_i = the colder of the two moves by one standard deviation
//
// and so Hi with the warmer ones: a house that is as likely to leak twice as half as much loses more than it gains. Where only one side could be
// run the other is taken as its mirror. nil where no row is of what is not known, or one could not be computed.
func bandOf(a *UnitAnswer) *Band {
	b := &Band{}
	at := func(name string) float64 {
		if name == "" {
			return 0
		}
		c, _ := a.First.Result.Trace(name).Lowest()
		return c
	}
	b.Middle = Measures{LeafC: at(a.At.Leaf), AirC: at(a.At.Air), SoilC: at(a.At.Soil)}
	if a.At.Water {
		b.Middle.StoreC = lowestWater(a.First.Result)
	}
	var cold, warm Measures
	some := false
	for i := range a.Rows {
		w := &a.Rows[i]
		if w.Kind != Unknown {
			continue
		}
		if w.Err != nil {
			return nil
		}
		some = true
		lo, hi := w.moves()
		square := func(sum, d float64) float64 { return sum + d*d }
		cold, warm = cold.each(lo, square), warm.each(hi, square)
	}
	if !some {
		return nil
	}
	ends := func(k float64) func(middle, sum float64) float64 {
		return func(middle, sum float64) float64 { return middle + k*math.Sqrt(sum) }
	}
	b.Lo, b.Hi = b.Middle.each(cold, ends(-eightInTen)), b.Middle.each(warm, ends(eightInTen))
	for _, m := range []*Measures{&b.Middle, &b.Lo, &b.Hi} {
		m.ColdKh, m.LightMol, m.ReserveJ, m.NightC = 0, 0, 0, 0
	}
	return b
}

// Move is what one step up and one down do; a side that could not be run is the mirror of the other.
func (w *Worth) Move() (more, less Measures) {
	more, less = w.More, w.Less
	if !w.HasMore {
		more = less.Times(-1)
	}
	if !w.HasLess {
		less = more.Times(-1)
	}
	return more, less
}

// moves are the colder and the warmer of what one standard deviation either way does, nothing where both lie on one side.
func (w *Worth) moves() (lo, hi Measures) {
	more, less := w.Move()
	lo = more.each(less, func(a, b float64) float64 { return math.Min(0, math.Min(a, b)) })
	hi = more.each(less, func(a, b float64) float64 { return math.Max(0, math.Max(a, b)) })
	return lo, hi
}
