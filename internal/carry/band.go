package carry

import (
	"context"
	"fmt"
	"math"

	"suncellar/internal/greenhouse"
	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// The band of the time for what is not known of the house. The hour at which a limit is crossed leaps from night to night, so that a small move of the house may do
// nothing to it, or a day; temperatures do not leap. To first order it is therefore the temperature of every hour that is moved, and the times are read off the band of
// temperatures:
//
//	Lo(t), Hi(t) = T(t) -/+ 1.2816 sqrt(sum of d_i(t)²),  d_i the colder (or warmer) of what one standard deviation either way does at hour t
//
// The time ends early where the lowest of Lo so far falls below the limit, and late where that of Hi does.

// Band is the time that counts in 8 of 10 houses of the plan.
type Band struct {
	Why    string  // why there is none, a sentence; "": there is one
	Drawn  int     // houses that were drawn; 0: to first order
	Failed int     // of them, left out
	Asked  Times   // of the time that was asked for
	Curve  []Times // of the first case of the curve, by its colds; nil where there is no curve
	// LoC and HiC are the ends about Lines.PlaceC, hour by hour; nil of drawn houses [°C].
	LoC, HiC []float64
}

// firstOrder finds the band to first order. The houses are set into the ground 38 days before the spell, moved one thing at a time, all with the snow of the plan's own; what
// differs between them and the plan's own such run is added to the run of the whole winter.
func (s *passage) firstOrder(ctx context.Context, req Request, first int, progress winter.Progress) (*Band, error) {
	a := s.a
	all := unknown.Of(a.Plan, a.House)
	moves := alone(all)
	if len(moves) == 0 {
		return &Band{Why: "The plan takes all of it as known (key unknown), but for the depth of snowfalls where it says any: there is no band."}, nil
	}
	f := &order{a: a, req: req, all: all, moves: moves, colds: s.colds(req), courses: make([][]course, 1+len(moves))}
	f.cut, f.left = a.cut(first)
	count := &counter{tell: progress, total: 2 + len(moves)}
	own, failed := s.courses(ctx, req, f.colds)
	count.add()
	if failed == nil {
		failed = f.run(ctx, 0) // it writes the log of snow that all others read
		count.add()
	}
	errs := make([]error, len(moves))
	if failed == nil {
		err := winter.AtOnce(ctx, len(moves), req.AtOnce, func(i int) {
			errs[i] = f.run(ctx, i+1)
			count.add()
		})
		if err != nil {
			return nil, err
		}
	}
	for _, err := range append([]error{failed}, errs...) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			return &Band{Why: fmt.Sprintf("The house could not be run otherwise: there is no band (%v).", err)}, nil
		}
	}
	return f.band(own), nil
}

// alone are the moves of one thing at a time: one standard deviation up, then one down, of each that is not known. Snowfall is left out: all houses have the plan's.
func alone(all []unknown.Input) [][]float64 {
	var moves [][]float64
	for i := range all {
		if !all[i].On || all[i].Snow {
			continue
		}
		for _, by := range []float64{1, -1} {
			z := make([]float64, len(all))
			z[i] = by
			moves = append(moves, z)
		}
	}
	return moves
}

// cold is one spell that a band is told of.
type cold struct {
	of    Case
	meanC float64
	hours int // it is run through
}

// colds are the spell that was asked for, then those of the first case of the curve. Each is run for twice the time that the plan's own house lasts and a day, so that the late
// end lies within mostly, and at most for MaxDays; one that is beyond at a greater cold already is not run again.
func (s *passage) colds(req Request) []cold {
	a := s.a
	long := func(hours float64, beyond bool) int {
		if beyond {
			return MaxDays * 24
		}
		return min(MaxDays*24, int(2*hours)+24)
	}
	list := []cold{{asked(req), a.Spec.MeanC, long(a.Hours, a.Beyond)}}
	if a.Curve == nil {
		return list
	}
	c := &a.Curve.Cases[0]
	for i, p := range c.Points {
		k := cold{c.Case, a.Curve.OutsideC[i], long(p.Hours+p.OnIce, p.Beyond)}
		if p.ByLaw {
			k.hours = 0
		}
		list = append(list, k)
	}
	return list
}

// courses runs a house through all colds.
func (s *passage) courses(ctx context.Context, req Request, colds []cold) ([]course, error) {
	list := make([]course, len(colds))
	for i, c := range colds {
		if c.hours == 0 {
			continue
		}
		var err error
		if list[i], err = s.course(ctx, req, c.of, c.meanC, c.hours); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// order is the runs of the first order.
type order struct {
	a       *Answer
	req     Request
	all     []unknown.Input
	moves   [][]float64      // by moved house: standard deviations of each input
	cut     *winter.Prepared // the winter that they go through
	left    int              // hours of it before the spell
	log     greenhouse.SnowLog
	colds   []cold
	courses [][]course // of the plan's own house in the cut winter, then of the moved ones in pairs; by cold
}

// run runs the plan's own house in the cut winter, 0, or a moved one, from 1 on.
func (f *order) run(ctx context.Context, i int) error {
	p := f.cut
	if i > 0 {
		q, err := unknown.Apply(f.a.Plan, f.all, f.moves[i-1])
		if err != nil {
			return err
		}
		if p, err = f.cut.With(q); err != nil {
			return err
		}
	}
	o, err := f.a.atSunset(ctx, f.req, p, f.left, &f.log, i > 0)
	if err == nil {
		f.courses[i], err = o.courses(ctx, f.req, f.colds)
	}
	return err
}

// band reads the times off. own is the plan's own house after its whole winter.
func (f *order) band(own []course) *Band {
	a, b := f.a, &Band{}
	var all []Times
	for k := range f.colds {
		if f.colds[k].hours == 0 {
			all = append(all, Times{}) // set below, from the greater cold
			continue
		}
		lo, hi := f.ends(k, own[k].placeC, func(c *course) []float64 { return c.placeC })
		all = append(all, read(lo, hi, a.LimitC))
		if k == 0 {
			n := len(a.Lines.PlaceC)
			for h := range min(n, len(lo)) {
				off := a.Lines.PlaceC[h] - own[k].placeC[h] // the place that is drawn may not be the coldest of all at that hour
				b.LoC, b.HiC = append(b.LoC, lo[h]+off), append(b.HiC, hi[h]+off)
			}
		}
		if own[k].waterC != nil {
			lo, hi := f.ends(k, own[k].waterC, func(c *course) []float64 { return c.waterC })
			all[k] = earlier(all[k], read(lo, hi, iceLimit(&own[k])))
		}
	}
	b.Asked = all[0]
	if len(all) > 1 {
		b.Curve = all[1:]
		for i := len(b.Curve) - 1; i >= 0; i-- {
			if f.colds[i+1].hours == 0 {
				b.Curve[i] = b.Curve[i+1] // a milder cold does not shorten the time
			}
		}
	}
	return b
}

// iceLimit is the temperature of the coldest water at which ice begins: what it is when it does in the plan's own house, else freezing.
func iceLimit(own *course) float64 {
	if own.iceH < 0 {
		return 0
	}
	return own.waterC[int(own.iceH)]
}

// ends are the band of a temperature, hour by hour, as far as all runs have it.
func (f *order) ends(k int, own []float64, of func(*course) []float64) (lo, hi []float64) {
	n := len(own)
	for i := range f.courses {
		n = min(n, len(of(&f.courses[i][k])))
	}
	base := of(&f.courses[0][k])
	for h := range n {
		cold, warm := 0.0, 0.0
		for i := 1; i+1 < len(f.courses); i += 2 {
			x, y := of(&f.courses[i][k])[h]-base[h], of(&f.courses[i+1][k])[h]-base[h]
			cold += math.Pow(math.Min(0, math.Min(x, y)), 2)
			warm += math.Pow(math.Max(0, math.Max(x, y)), 2)
		}
		lo = append(lo, own[h]-unknown.EightInTen*math.Sqrt(cold))
		hi = append(hi, own[h]+unknown.EightInTen*math.Sqrt(warm))
	}
	return lo, hi
}
