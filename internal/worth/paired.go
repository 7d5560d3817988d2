package worth

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// How far a comparison may lie off for what is not known of the house, in pairs: a house that leaks twice as much as its plan is compared with the changed
// house that leaks twice as much as its own. What both have in common falls out of the difference.

// Pairs is what is not known of the house in a comparison: of each lowest, and of each difference.
type Pairs struct {
	Why    string    // why there is no band, a sentence; "": there is one
	Drawn  int       // houses that were drawn; 0: to first order
	Failed int       // of them, left out
	Built  time.Time // of the first order: day on which the houses of its runs are set into the ground
	Whole  bool      // its runs go through the whole winter
	Base   Ends      // the first plan's own lowest [°C]
	Rows   []PairRow // one a variant, in their order
}

// PairRow is that of one variant.
type PairRow struct {
	Why                string // why it has no band; "": it has
	HasNight           bool   // false: the variant does not run through the first plan's worst night
	Own, Lowest, Night Ends   // of its own lowest [°C]; of the difference of the lowests, and of that on the worst night [K]
}

// Ends are the middle of a band and the ends that 8 in 10 houses lie between.
type Ends struct{ Lo, Middle, Hi float64 }

// FirstOrder moves each unknown alone by one standard deviation either way, in the plan and in each variant, and takes what that moves the difference by:
//
//	d+ = (V(+1) - V(0)) - (P(+1) - P(0)),  d- alike;  Lo = D - 1.2816 sqrt(sum of min(0, d+, d-)²),  Hi = D + 1.2816 sqrt(sum of max(0, d+, d-)²)
//
// P and V are the lowests of plan and variant, D their difference as compared. What only one of both has moves that one alone. All runs go through the same weeks, 38 days
// before the first of the worst nights of all to a week after the last, in the way of PerUnit: each plan with its own snow, whichever house is run. A variant equal
// to the plan has a band of no width, and the number of runs at once changes nothing.
func FirstOrder(ctx context.Context, a *Answer, atOnce int, progress winter.Progress) (*Pairs, error) {
	p := &Pairs{Why: WhyNoBand(a.First), Rows: make([]PairRow, len(a.Rows))}
	if p.Why != "" {
		return p, nil
	}
	all := a.comparable(p)
	moved := make([]*UnitAnswer, len(all))
	errs := make([]error, len(all))
	count := newCounter(len(all), progress)
	err := winter.AtOnce(ctx, len(all), atOnce, func(i int) {
		w := a.winterOf(all[i])
		moved[i], errs[i] = PerUnit(ctx, UnitRequest{Plan: w.Plan, First: w, Kinds: []Kind{Unknown}, NoHalves: true, Place: a.Place, Nights: a.nights(), Night: a.Night, AtOnce: 1}, count.of(i))
	})
	if err != nil {
		return nil, err
	}
	if errs[0] == nil {
		errs[0] = moved[0].failed()
	}
	if errs[0] != nil {
		p.Why = fmt.Sprintf("The plan could not be run otherwise: there is no band (%v).", errs[0])
		return p, nil
	}
	p.Built, p.Whole = moved[0].Built, moved[0].Whole
	p.Base = moved[0].ends(a.Base.LowestC)
	for i := 1; i < len(all); i++ {
		row, r := &p.Rows[all[i]], &a.Rows[all[i]]
		if errs[i] == nil {
			errs[i] = moved[i].failed()
		}
		if errs[i] != nil {
			row.Why = fmt.Sprintf("it could not be run otherwise: %v", errs[i])
			continue
		}
		row.HasNight = r.HasNight
		row.Own = moved[i].ends(r.Figures.LowestC)
		row.pair(r.By, moved[0], moved[i])
	}
	return p, nil
}

// WhyNoBand says why a winter has no band over what is not known of the house, "" where it has one.
func WhyNoBand(a *winter.Answer) string {
	if a.Watched < 0 {
		return "No place inside is watched: there is no band over what is not known of the house."
	}
	inputs := unknown.Of(a.Plan, a.House)
	on, snow := 0, false
	for _, in := range inputs {
		switch {
		case in.On && in.Snow:
			snow = true
		case in.On:
			on++
		}
	}
	switch {
	case on > 0:
		return ""
	case snow:
		return "The plan takes all but the depth of snowfalls as known (key unknown), and all runs here have the plan's snow: there is no band to first order."
	case len(inputs) == 0:
		return "This house has nothing of what is reckoned as not known of a house: there is no band."
	}
	return "The plan takes all of it as known (key unknown): there is no band. No house is known so well before it has been measured."
}

// comparable are the winters that a band can be told of: -1 for the first plan, then variants by their number. The others are told why not.
func (a *Answer) comparable(p *Pairs) []int {
	list := []int{-1}
	for i := range a.Rows {
		switch r := &a.Rows[i]; {
		case r.Err != nil:
			p.Rows[i].Why = "it could not be computed"
		case !r.HasPlace:
			p.Rows[i].Why = "it does not have the place"
		default:
			list = append(list, i)
		}
	}
	return list
}

func (a *Answer) winterOf(i int) *winter.Answer {
	if i < 0 {
		return a.First
	}
	return a.Rows[i].Winter
}

// nights are when each plan is lowest.
func (a *Answer) nights() []time.Time {
	list := []time.Time{a.Base.LowestAt}
	for i := range a.Rows {
		if r := &a.Rows[i]; r.Err == nil && r.HasPlace {
			list = append(list, r.Figures.LowestAt)
		}
	}
	return list
}

// failed is what went wrong in the first row that could not be computed.
func (a *UnitAnswer) failed() error {
	for i := range a.Rows {
		if w := &a.Rows[i]; w.Err != nil {
			return fmt.Errorf("%s: %w", w.Label, w.Err)
		}
	}
	return nil
}

// ends is the band of one plan's lowest about its middle.
func (a *UnitAnswer) ends(middle float64) Ends {
	var s sides
	for i := range a.Rows {
		more, less := a.Rows[i].Move()
		s.add(more.LeafC, less.LeafC)
	}
	return s.about(middle)
}

// pair takes the moves of plan and variant from each other, thing by thing.
func (row *PairRow) pair(by Difference, first, other *UnitAnswer) {
	var lowest, night sides
	for _, key := range keysOf(first, other) {
		more, less := first.moveOf(key)
		m, l := other.moveOf(key)
		more, less = m.plus(-1, more), l.plus(-1, less)
		lowest.add(more.LeafC, less.LeafC)
		night.add(more.NightC, less.NightC)
	}
	row.Lowest, row.Night = lowest.about(by.LowestK), night.about(by.NightK)
}

// keysOf are the things that either does not know, in the order of the first.
func keysOf(first, other *UnitAnswer) []string {
	var list []string
	for _, a := range []*UnitAnswer{first, other} {
		for i := range a.Rows {
			if key := a.Rows[i].Of; !slices.Contains(list, key) {
				list = append(list, key)
			}
		}
	}
	return list
}

// moveOf is what one standard deviation up and one down of a thing do; nothing where the house does not have it.
func (a *UnitAnswer) moveOf(key string) (more, less Measures) {
	for i := range a.Rows {
		if a.Rows[i].Of == key {
			return a.Rows[i].Move()
		}
	}
	return more, less
}

// sides gathers the squares of independent moves, to the cold side and to the warm.
type sides struct{ cold, warm float64 }

// add takes what one standard deviation either way does; where both lie on one side the other gets nothing.
func (s *sides) add(more, less float64) {
	s.cold += square(math.Min(0, math.Min(more, less)))
	s.warm += square(math.Max(0, math.Max(more, less)))
}

// about is the band of 8 in 10 about a middle.
func (s sides) about(middle float64) Ends {
	return Ends{middle - eightInTen*math.Sqrt(s.cold), middle, middle + eightInTen*math.Sqrt(s.warm)}
}

func square(x float64) float64 { return x * x }
