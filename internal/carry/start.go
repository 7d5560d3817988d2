package carry

import (
	"context"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// passage is the house before and after the moment at which the sun goes and water may be lost.
type passage struct {
	a      *Answer
	before *greenhouse.Greenhouse // through the winter, with all its water
	after  *greenhouse.Greenhouse // through the spell, with what water is left
	last   *greenhouse.Result     // the last hour before the spell
	state  greenhouse.State       // at sunset, all water at the temperature asked for
	filled *float64               // temperature the water was put at [°C], nil: as it was
}

func (a *Answer) start(c Case) (*passage, error) {
	s := &passage{a: a}
	var err error
	if s.before, err = greenhouse.New(a.House, a.setup()); err != nil {
		return nil, err
	}
	s.after, err = a.build(c)
	return s, err
}

// build makes the house of a case.
func (a *Answer) build(c Case) (*greenhouse.Greenhouse, error) {
	h, setup := a.House, a.setup()
	if c.Lose == 1 { // a share of zero would read as all of it
		setup.BaysLost = h.BayNames()
	} else if c.Lose > 0 {
		setup.WaterLeft = 1 - c.Lose
	}
	if c.BayLost != "" {
		setup.BaysLost = append(setup.BaysLost, c.BayLost)
	}
	if c.NoCover && h.Plan.Cover != nil {
		h = uncovered(h)
	}
	return greenhouse.New(h, setup)
}

// uncovered is a house without its cover.
func uncovered(h *house.House) *house.House {
	p := *h.Plan
	p.Cover = nil
	u := *h
	u.Plan = &p
	return &u
}

// toSunset runs the winter up to the spell.
func (s *passage) toSunset(ctx context.Context, first int, progress winter.Progress) error {
	span := s.a.Span
	span.Hours = span.Hours[:first]
	o := greenhouse.Options{Skip: first - 1}
	if progress != nil {
		o.Progress = func(done, _ int) { progress(done, first+MaxDays*24) }
	}
	var err error
	s.last, err = s.before.Run(ctx, &span, o)
	return err
}

// takeOver puts the house of the spell into the state at sunset, and tells what it holds.
func (s *passage) takeOver(req Request) {
	a := s.a
	state := s.before.State()
	s.before.Load(state, req.StoreC)
	s.state = s.before.State()
	s.after.Load(state, req.StoreC)
	s.filled = req.StoreC
	whole, _ := s.before.Reserve()
	a.ReserveJ, a.IceShare = s.after.Reserve()
	a.StoreC, a.HasWater = s.after.StoreC()
	a.LostJ = whole - a.ReserveJ
	a.WaterM3 = s.after.WaterM3()
	a.LostM3 = s.before.WaterM3() - a.WaterM3
	if a.HasWater {
		a.Conditions = append(a.Conditions, Condition{Name: "store, mean", Unit: "°C", Value: a.StoreC, Given: req.StoreC != nil,
			Source: sourceUnless(req.StoreC != nil, "as the winter leaves it at that sunset")})
	}
	if a.House.Water() > 0 {
		a.Conditions = append(a.Conditions, Condition{Name: "share of the water lost", Value: req.Lose, Given: req.Lose > 0,
			Source: sourceUnless(req.Lose > 0, "none is lost unless asked")})
	}
	if req.BayLost != "" {
		a.Conditions = append(a.Conditions, Condition{Name: "bay lost", Words: req.BayLost, Given: true})
	}
	if req.NoCover {
		a.Conditions = append(a.Conditions, Condition{Name: "cover", Words: "left off", Given: true})
	}
}

func sourceUnless(given bool, source string) string {
	if given {
		return ""
	}
	return source
}

// startC is the temperature of a place at the begin of the spell [°C].
func (s *passage) startC(t *greenhouse.Trace) float64 {
	if t.Kind == greenhouse.WaterPlace && s.filled != nil {
		return *s.filled
	}
	return s.last.Trace(t.Name).C[0]
}

// sunless runs the spell, and a day beyond the crossing.
func (s *passage) sunless(ctx context.Context, w *watchers, first int, progress winter.Progress) error {
	a := s.a
	spell, err := weather.Spell(a.Spec, winter.PlaceOf(a.Plan), a.Begin)
	if err != nil {
		return err
	}
	total := first + MaxDays*24
	o := greenhouse.Options{}
	if progress != nil {
		o.Progress = func(done, _ int) { progress(first+done, total) }
	}
	if a.HasWater {
		a.Lines.StoreC = append(a.Lines.StoreC, a.StoreC)
	}
	crossedAt := -1
	o.Stop = func(r *greenhouse.Result) bool {
		if a.HasWater {
			c, _ := s.after.StoreC()
			a.Lines.StoreC = append(a.Lines.StoreC, c)
		}
		if r.Hours() == 1 {
			w.begin(s, r)
		}
		if w.look(r) && crossedAt < 0 {
			crossedAt = r.Hours()
		}
		return crossedAt >= 0 && r.Hours() >= crossedAt+24
	}
	r, err := s.after.Run(ctx, &spell, o)
	if err != nil {
		return err
	}
	w.settle(a, r)
	a.IceAfterHours = iceAfter(a.IceShare, r.IceShare)
	s.lines(r)
	if progress != nil {
		progress(total, total)
	}
	return nil
}

// lines takes the lines of the picture out of the run.
func (s *passage) lines(r *greenhouse.Result) {
	a := s.a
	whole := func(t *greenhouse.Trace) []float64 { return append([]float64{s.startC(t)}, t.C...) }
	a.RanHours = r.Hours()
	a.Lines.PlaceC = whole(r.Trace(a.Place))
	a.Lines.ReserveJ = append([]float64{a.ReserveJ}, r.ReserveJ...)
	a.Lines.IceShare = append([]float64{a.IceShare}, r.IceShare...)
	for i := range r.Traces {
		t := &r.Traces[i]
		if t.Kind == greenhouse.OutPlace {
			a.Lines.OutsideC = whole(t)
		}
		if t.Kind == greenhouse.AirPlace && t.HeightM > 0 && a.Lines.AirC == nil { // the lowest above the floor
			a.Lines.AirName, a.Lines.AirC = t.Name, whole(t)
		}
	}
}
