package worth

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"suncellar/internal/numeric"
	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// Drawn draws n houses, 0 for the usual number, for the plan and for each variant with the same dice, and runs each through its whole winter with the snow that falls and
// slides on it. The bands are of the sample: a tenth of the houses lies below Lo, a tenth above Hi. It fails when more than a tenth of the plan's own houses cannot be
// computed; a house that cannot is left out of its row.
func Drawn(ctx context.Context, a *Answer, n, atOnce int, progress winter.Progress) (*Pairs, error) {
	p := &Pairs{Why: WhyNotDrawn(a.First), Rows: make([]PairRow, len(a.Rows))}
	if p.Why != "" {
		return p, nil
	}
	if n == 0 {
		n = unknown.UsualHouses
	}
	all := a.comparable(p)
	out := make([][]drawnFigures, len(all))
	for i := range out {
		out[i] = make([]drawnFigures, n)
	}
	houses := a.draw(all, n)
	var told sync.Mutex
	done := 0
	err := winter.AtOnce(ctx, n*len(all), atOnce, func(job int) {
		k, i := job/len(all), job%len(all)
		f := &out[i][k]
		f.Figures, f.hasNight, f.err = a.runDrawn(ctx, a.winterOf(all[i]), houses[i], k)
		told.Lock()
		defer told.Unlock()
		if done++; progress != nil {
			progress(done, n*len(all))
		}
	})
	if err != nil {
		return nil, err
	}
	return p, a.gather(p, all, out)
}

// drawnFigures are one drawn house's.
type drawnFigures struct {
	Figures
	hasNight bool
	err      error
}

// drawnHouses are the houses drawn of one plan.
type drawnHouses struct {
	inputs []unknown.Input
	z      [][]float64 // nil: nothing is unknown of it, all are as planned
}

// WhyNotDrawn says why no houses can be drawn of a plan that was run, "" where they can.
func WhyNotDrawn(a *winter.Answer) string {
	if a.Plan.Run.Span == "whole year" {
		return "Houses are drawn for a winter, from run.from to run.until; this plan runs a whole year: no house was drawn."
	}
	if !slices.ContainsFunc(unknown.Of(a.Plan, a.House), func(in unknown.Input) bool { return in.On }) {
		return "The plan takes everything as known: no house was drawn."
	}
	return ""
}

func (a *Answer) draw(all []int, n int) []drawnHouses {
	list := make([]drawnHouses, len(all))
	for i, k := range all {
		w := a.winterOf(k)
		list[i].inputs = unknown.Of(w.Plan, w.House)
		list[i].z = unknown.Houses(list[i].inputs, uint64(a.First.Plan.Run.Seed), n) // the first plan's dice for all
	}
	return list
}

// runDrawn is house k of a plan through that plan's winter.
func (a *Answer) runDrawn(ctx context.Context, w *winter.Answer, houses drawnHouses, k int) (Figures, bool, error) {
	q := w.Prepared
	if houses.z != nil {
		house, err := unknown.Apply(w.Plan, houses.inputs, houses.z[k])
		if err != nil {
			return Figures{}, false, err
		}
		if q, err = q.Drawn(house); err != nil {
			return Figures{}, false, err
		}
	}
	own, err := q.Answer(ctx, nil)
	if err != nil {
		return Figures{}, false, err
	}
	if err := own.Result.CheckBooks(); err != nil {
		return Figures{}, false, err
	}
	r, _ := sameCase(own, a.First.SnowCase)
	f, night := a.figures(own, r)
	return f, night, nil
}

// gather makes the bands of all drawn houses.
func (a *Answer) gather(p *Pairs, all []int, out [][]drawnFigures) error {
	base := out[0]
	var lows []float64
	var bad error
	for k := range base {
		if base[k].err != nil {
			p.Failed++
			bad = base[k].err
			continue
		}
		lows = append(lows, base[k].LowestC)
	}
	if p.Failed > len(base)/10 {
		return fmt.Errorf("%d of %d drawn houses could not be computed, the last: %w", p.Failed, len(base), bad)
	}
	p.Drawn, p.Base = len(lows), endsOf(lows)
	for i := 1; i < len(all); i++ {
		row := &p.Rows[all[i]]
		var own, lowest, night []float64
		for k, f := range out[i] {
			if err := errors.Join(base[k].err, f.err); err != nil {
				bad = err
				continue
			}
			own, lowest = append(own, f.LowestC), append(lowest, f.LowestC-base[k].LowestC)
			if f.hasNight && base[k].hasNight {
				night = append(night, f.NightC-base[k].NightC)
			}
		}
		if len(own) < len(base)-len(base)/10 {
			row.Why = fmt.Sprintf("%d of %d drawn houses could not be computed, the last: %v", len(base)-len(own), len(base), bad)
			continue
		}
		row.Own, row.Lowest = endsOf(own), endsOf(lowest)
		if row.HasNight = len(night) == len(own); row.HasNight {
			row.Night = endsOf(night)
		}
	}
	return nil
}

// endsOf is the band of a sample.
func endsOf(sample []float64) Ends {
	s := slices.Sorted(slices.Values(sample))
	return Ends{numeric.Quantile(s, 0.1), numeric.Quantile(s, 0.5), numeric.Quantile(s, 0.9)}
}
