package carry

import (
	"context"
	"fmt"
	"math"

	"suncellar/internal/greenhouse"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Other houses of the same plan, in the same spell: moved or drawn by what is not known of a house.

// runIn is how long before the spell a moved house is set into the ground [d]: what store and upper ground need to forget how they began (docs/physics/worth.md).
const runIn = 38

// atSunset runs a prepared plan through its last hours before the spell, and puts its water where the request has it.
func (a *Answer) atSunset(ctx context.Context, req Request, p *winter.Prepared, first int, snow *greenhouse.SnowLog, replay bool) (*passage, error) {
	b := *a
	b.Prepared, b.Conditions, b.Curve = p, nil, nil
	o := &passage{a: &b}
	setup := b.setup()
	if p.SnowKnown {
		if setup.Log = snow; replay {
			setup.Snow = greenhouse.SnowLogged
		}
	}
	var err error
	if o.before, err = greenhouse.New(p.House, setup); err != nil {
		return nil, err
	}
	if err := o.toSunset(ctx, first, nil); err != nil {
		return nil, fmt.Errorf("the winter up to the spell: %w", err)
	}
	o.before.Load(o.before.State(), req.StoreC)
	o.state, o.filled = o.before.State(), req.StoreC
	return o, nil
}

// cut is the winter of the answer from runIn before the spell on, and the hours before the spell that are left of it.
func (a *Answer) cut(first int) (*winter.Prepared, int) {
	from := max(0, first-runIn*24)
	return a.Prepared.Cut(from, len(a.Span.Hours)-from, max(0, a.Skip-from)), first - from
}

// course is how a house goes through a spell, hour by hour from its begin: the lowest of the places that end the time, and the coldest water.
type course struct {
	placeC, waterC []float64 // waterC nil where there is none
	iceH           float64   // from when on there is ice in the drums; -1: none while it was run
}

// course runs a case in a cold for so many hours.
func (s *passage) course(ctx context.Context, req Request, k Case, outsideC float64, hours int) (course, error) {
	c := course{}
	g, err := s.a.build(k)
	if err != nil {
		return c, err
	}
	g.Load(s.state, nil)
	_, ice0 := g.Reserve()
	w, err := s.a.watchers(req, k, g)
	if err != nil {
		return c, err
	}
	spec := s.a.Spec
	spec.MeanC = outsideC
	spell, err := weather.Spell(spec, winter.PlaceOf(s.a.Plan), s.a.Begin)
	if err != nil {
		return c, err
	}
	var water []*greenhouse.Trace
	r, err := g.Run(ctx, &spell, greenhouse.Options{Stop: func(r *greenhouse.Result) bool {
		if r.Hours() == 1 {
			w.begin(s, r)
			c.placeC = append(c.placeC, coldestOf(w.start))
			water = waterOf(r)
			if len(water) > 0 {
				c.waterC = append(c.waterC, s.coldestStart(water))
			}
		}
		c.placeC = append(c.placeC, coldestNow(w.traces))
		if len(water) > 0 {
			c.waterC = append(c.waterC, coldestNow(water))
		}
		return r.Hours() >= hours
	}})
	if err != nil {
		return c, err
	}
	if err := r.CheckBooks(); err != nil {
		return c, err
	}
	c.iceH = iceAfter(ice0, r.IceShare)
	return c, nil
}

func waterOf(r *greenhouse.Result) []*greenhouse.Trace {
	var list []*greenhouse.Trace
	for i := range r.Traces {
		if t := &r.Traces[i]; t.Kind == greenhouse.WaterPlace {
			list = append(list, t)
		}
	}
	return list
}

func (s *passage) coldestStart(list []*greenhouse.Trace) float64 {
	low := math.Inf(1)
	for _, t := range list {
		low = math.Min(low, s.startC(t))
	}
	return low
}

// coldestNow is the lowest of places at the hour that was recorded last.
func coldestNow(list []*greenhouse.Trace) float64 {
	low := math.Inf(1)
	for _, t := range list {
		low = math.Min(low, t.C[len(t.C)-1])
	}
	return low
}
