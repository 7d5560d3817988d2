package worth

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// UnitRequest asks what one more unit of each thing is worth.
type UnitRequest struct {
	Plan  *plan.Plan
	Year  *weather.Series // a year of hourly weather as read; nil: one is made from the plan's normals
	From  *plan.Date      // other first day than the plan's
	Until *plan.Date      // other last day
	Whole bool            // every run goes through the whole winter; else through the weeks round the worst night
	Kinds []Kind          // only these; nil: all
	Only  []string        // only the parameters of these IDs; nil: all
	Field string          // only the parameter of this value of the plan (FieldParameter); "": those that are listed
	// NoHalves leaves out the runs at half the step, and with them what is known of noise.
	NoHalves bool
	First    *winter.Answer // the plan's own winter where it was computed before; nil: it is computed
	Place    string         // stands for the leaves; "": the watched place
	Nights   []time.Time    // the weeks go round all of them; nil: round the worst night of the plan's own winter
	Night    [2]time.Time   // the noons of a night whose lowest is measured too; zero: none
	AtOnce   int            // runs at once; 0: as many as there are cores
}

// UnitAnswer is what one more unit of each thing is worth.
type UnitAnswer struct {
	First *winter.Answer // the plan's own winter, as simulate tells it
	At    At
	Base  Measures // of the run that all others are compared with
	From  time.Time
	Until time.Time // of the hours whose lowests are compared
	Built time.Time // day on which the house is set into the ground in these runs
	Whole bool
	Rung  int // all runs go in steps of hour/2^Rung
	Rows  []Worth
	Band  *Band // over what is not known of the house; nil where nothing is asked of it
	Runs  int
}

// Worth is one parameter's.
type Worth struct {
	Parameter
	Per        Measures // change by one unit in the parameter's own measure; of a switch, by having it
	Half       Measures // the same with half the step
	HasHalf    bool
	More, Less Measures // change by one step up and by one down, each scaled to one unit; only where that side was run
	HasMore    bool
	HasLess    bool
	Used       float64 // step that was used
	Notes      []string
	Err        error
}

// Weeks round the worst night that the short runs go through [d]: the house is set into the ground runIn days before the night, and
// the hours from counted days before it to after days after it count. Five weeks is what the store and the upper ground need to forget
// how they began, so that what differs between two runs is what the change did.
const (
	runIn   = 38
	counted = 14
	after   = 7
)

// PerUnit answers. A parameter that cannot be computed has an error in its row; where the plan itself cannot, there is no answer.
//
// All runs take the same steps, whatever a change does to the house: with steps chosen by error, two runs would differ by their steps
// too. And all have the snow on glazing and roof that the plan itself has, but those of switches that act on the glazing: snow that
// slides a day later makes a night colder by more than a centimetre of insulation warms it. Results are kept by index, so that neither the number of runs at once nor their order changes any figure.
func PerUnit(ctx context.Context, req UnitRequest, progress winter.Progress) (*UnitAnswer, error) {
	if req.Plan == nil {
		panic("worth: no plan")
	}
	u := &perUnit{req: req, a: &UnitAnswer{First: req.First, Whole: req.Whole}}
	if err := u.prepare(); err != nil {
		return nil, err
	}
	u.choose()
	count := newCounter(1+len(u.trials), progress)
	count.weight = slices.Repeat([]int{1}, 1+len(u.trials))
	if req.First == nil {
		count.weight[0] = firstWeight
	}
	if err := u.own(ctx, count.of(0)); err != nil {
		return nil, err
	}
	if err := u.run(ctx, count); err != nil {
		return nil, err
	}
	u.rows()
	u.a.Band = bandOf(u.a)
	return u.a, nil
}

// own is what comes before all trials: the plan's own winter, and its run through the weeks that they go through.
func (u *perUnit) own(ctx context.Context, progress winter.Progress) error {
	if err := u.first(ctx, progress); err != nil {
		return err
	}
	if err := u.base(ctx); err != nil {
		return err
	}
	shared := *u.stretch
	shared.Earth, u.stretch = u.earth, &shared // all runs on the ground that the plan's own needed
	return nil
}

// firstWeight is how many of the runs of a stretch the plan's own winter takes as long as, in its finer steps; about, for the bar alone.
const firstWeight = 12

// perUnit is one request on its way.
type perUnit struct {
	req     UnitRequest
	a       *UnitAnswer
	whole   *winter.Prepared
	stretch *winter.Prepared // what every run goes through
	params  []Parameter
	steps   []steps
	trials  []trial
	log     greenhouse.SnowLog // the snow of the plan's own run
	earth   greenhouse.Earth   // the ground that it needed
}

// trial is one run: one parameter at one distance from the plan.
type trial struct {
	of   int // index of the parameter
	dx   float64
	plan *plan.Plan
	m    Measures
	err  error
}

func (u *perUnit) prepare() error {
	if u.a.First != nil {
		u.whole = u.a.First.Prepared
		if !u.whole.Made { // a changed plan needs no normals then
			u.req.Year = &u.whole.Year
		}
		return nil
	}
	var err error
	u.whole, err = winter.Prepare(winter.Request{Plan: u.req.Plan, Year: u.req.Year, From: u.req.From, Until: u.req.Until})
	return err
}

// first is the plan's own winter with the program's own steps.
func (u *perUnit) first(ctx context.Context, progress winter.Progress) error {
	if u.a.First == nil {
		var err error
		if u.a.First, err = u.whole.Answer(ctx, progress); err != nil {
			return err
		}
	}
	if progress != nil {
		progress(1, 1)
	}
	if u.a.First.Watched < 0 {
		return fmt.Errorf("the plan has no place whose worst night could be told")
	}
	u.a.At = placesOf(u.a.First)
	u.a.At.Night = u.req.Night
	if u.req.Place != "" {
		u.a.At.Leaf = u.req.Place
	}
	u.cut()
	return nil
}

// cut chooses the hours that all runs go through: all, where the weeks would be nearly all.
func (u *perUnit) cut() {
	u.stretch = u.whole
	n := len(u.whole.Span.Hours)
	begin, end := u.nights()
	if !u.a.Whole && n > (runIn+after+counted)*24+end-begin {
		from := max(0, min(begin-runIn*24, n-(runIn+after)*24))
		count := max(begin-counted*24, u.whole.Skip, from)
		u.stretch = u.whole.Cut(from, min(n, end+after*24)-from, count-from)
	} else {
		u.a.Whole = true
	}
	s := &u.stretch.Span
	u.a.Built, u.a.From, u.a.Until = s.Start, s.HourStart(u.stretch.Skip), s.End()
}

// nights are the first hours of the days of the first and the last night that the weeks go round, counted in the span.
func (u *perUnit) nights() (first, last int) {
	span := &u.whole.Span
	if u.req.Nights == nil {
		_, at := u.a.First.Result.Trace(u.a.At.Leaf).Lowest()
		night := (u.whole.Skip + at) / 24 * 24
		return night, night
	}
	first, last = len(span.Hours), 0
	for _, t := range u.req.Nights {
		h := int(t.Sub(span.Start).Hours()) - 1 // a figure stands at the end of its hour
		h = min(max(h, u.whole.Skip), len(span.Hours)-1) / 24 * 24
		first, last = min(first, h), max(last, h)
	}
	return first, last
}

// coarsestRung to finestRung are the steps tried for all runs, half an hour first; stillK is how far the lowest leaf of the plan may
// move when they are halved [K]. Heavy houses stand still at once, a light box with lamps and a fan does not.
const (
	coarsestRung = 1
	finestRung   = 4
	stillK       = 0.05
)

// base runs the plan itself in the fixed steps that all runs take: the longest in which it settles and that are fine enough.
func (u *perUnit) base(ctx context.Context) error {
	var failed error
	for rung := coarsestRung; rung <= finestRung; rung++ {
		u.a.Rung = rung
		m, err := u.measure(ctx, u.stretch, u.a.First.Snow())
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if failed = err; err != nil {
			continue
		}
		u.a.Base = m
		u.a.Rung = rung + 1
		finer, err := u.measure(ctx, u.stretch, greenhouse.SnowLogged)
		u.a.Rung = rung
		if rung == finestRung || err == nil && math.Abs(finer.LeafC-m.LeafC) <= stillK {
			break
		}
	}
	return failed
}

// measure runs a prepared plan in fixed steps. The run of the plan itself, which comes first, writes the log of snow.
func (u *perUnit) measure(ctx context.Context, p *winter.Prepared, snow greenhouse.SnowCase) (Measures, error) {
	q := *p
	q.Control = thermal.Control{Coarsest: u.a.Rung, Finest: u.a.Rung}
	log := &u.log
	if p != u.stretch && snow != greenhouse.SnowLogged {
		log = nil
	}
	r, err := q.SimulateLogged(ctx, snow, log, nil)
	if err != nil {
		return Measures{}, err
	}
	if p == u.stretch {
		u.earth = r.Work.Earth
	}
	if err := r.CheckBooks(); err != nil {
		return Measures{}, err
	}
	return u.a.At.measure(r, u.a.First.LimitC)
}

// run runs all trials.
func (u *perUnit) run(ctx context.Context, count *counter) error {
	u.a.Runs = len(u.trials) + 1
	return winter.AtOnce(ctx, len(u.trials), u.req.AtOnce, func(i int) {
		u.try(ctx, &u.trials[i])
		if p := count.of(i + 1); p != nil {
			p(1, 1)
		}
	})
}

func (u *perUnit) try(ctx context.Context, t *trial) {
	p, err := u.stretch.With(t.plan)
	if err == nil {
		q := &u.params[t.of]
		if q.shift != nil {
			p = p.Shifted(func(h *weather.Hour) { q.shift(h, q.At+t.dx) })
		}
		snow := greenhouse.SnowLogged
		if q.Free {
			snow = u.a.First.Snow()
		}
		t.m, err = u.measure(ctx, p, snow)
	}
	t.err = err
}

// rows makes the derivatives.
func (u *perUnit) rows() {
	at := map[int]map[float64]*trial{}
	for i := range u.trials {
		t := &u.trials[i]
		if at[t.of] == nil {
			at[t.of] = map[float64]*trial{}
		}
		at[t.of][t.dx] = t
	}
	for i := range u.params {
		w := Worth{Parameter: u.params[i], Used: u.steps[i].h, Notes: u.steps[i].notes, Err: u.steps[i].err}
		if w.Err == nil {
			w.Err = w.differences(u.a.Base, u.steps[i], at[i])
		}
		u.a.Rows = append(u.a.Rows, w)
	}
}

// differences takes the derivative from the runs of a parameter.
func (w *Worth) differences(base Measures, s steps, at map[float64]*trial) error {
	d := difference{base: base, at: at}
	var ok bool
	if w.Per, ok = d.slope(s.h); !ok {
		return d.failed
	}
	w.More, w.HasMore = d.side(s.h)
	w.Less, w.HasLess = d.side(-s.h)
	w.Less = w.Less.Times(-1)
	if s.half > 0 {
		w.Half, w.HasHalf = d.slope(s.half)
	}
	if w.Away {
		w.Per = w.Per.Times(-1)
	}
	if d.failed != nil {
		w.Notes = append(w.Notes, "one of its runs failed: "+d.failed.Error())
	}
	if noise := w.Noise().LeafC; noise*w.One.SI > unsureK && noise > unsureShare*math.Abs(w.Per.LeafC) {
		w.Notes = append(w.Notes, "half the step gives another figure: the true one is not well known")
	}
	return nil
}

// difference is the runs of one parameter by their distance from the plan.
type difference struct {
	base   Measures
	at     map[float64]*trial
	failed error
}

// side is the slope from the plan to one run.
func (d *difference) side(dx float64) (Measures, bool) {
	t := d.at[dx]
	if t == nil {
		return Measures{}, false
	}
	if t.err != nil {
		if !errors.Is(d.failed, t.err) {
			d.failed = errors.Join(d.failed, t.err)
		}
		return Measures{}, false
	}
	return t.m.plus(-1, d.base).Times(1 / dx), true
}

// slope is the mean of both sides, or the one that there is.
func (d *difference) slope(h float64) (Measures, bool) {
	up, hasUp := d.side(h)
	down, hasDown := d.side(-h)
	switch {
	case hasUp && hasDown:
		return up.plus(1, down).Times(0.5), true
	case hasUp:
		return up, true
	}
	return down, hasDown
}

// Noise is how far Per lies from the same with half the step: what the bend of the answer and the jumps of a simulated winter leave
// open. Zero where the half was not run.
func (w *Worth) Noise() Measures {
	if !w.HasHalf {
		return Measures{}
	}
	return w.Per.distance(w.Half)
}

// unsureK and unsureShare are from where the distance to the half step is told [K of one unit, share of the worth].
const (
	unsureK     = 0.02
	unsureShare = 0.25
)
