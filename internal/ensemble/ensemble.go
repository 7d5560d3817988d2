// Package ensemble runs changed plans through many winters, in process, on all cores, and keeps of every run what is told of it, not its hours.
//
// What it promises: the same answer, bit for bit, whatever the number of workers and the order in which they finish, for every run is made from its plan and its
// winter alone and kept by its place; a run that cannot be computed is told by name and the others are computed all the same; what it holds grows by some kilobytes a run.
package ensemble

import (
	"context"
	"fmt"
	"sync"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Winters are many winters of weather at one place. Both methods are asked by several workers at once, in any order.
type Winters interface {
	// Len is how many there are.
	Len() int
	// Name is what a winter is called, for people: "1983-84" or "made winter 17".
	Name(k int) string
	// Weather is winter k, 0 to Len-1: a whole year, or the hours from the day the house is built to the last that counts.
	Weather(k int) (weather.Series, error)
}

// Request is what is to be run.
type Request struct {
	Base    *winter.Prepared // the plan, its hours and its ground; runs begin on Base.Earth
	Plans   []Plan           // changed plans; none, or nil among them: the plan as it is
	Winters Winters
	Runs    []Run // which of them meet; nil: every changed plan in every winter, plan by plan
	AtOnce  int   // runs at once; 0: as many as there are cores
}

// Plan makes a changed plan when its first run is due, so that many need no room before. It may be asked by any worker, once. Site, climate and hours are those of the
// base; snowfall may differ.
type Plan func() (*plan.Plan, error)

// Changed is a plan with changes.
func Changed(p *plan.Plan, changes ...plan.Change) Plan {
	return func() (*plan.Plan, error) {
		q, findings := p.Apply(changes...)
		return q, plan.AsError(findings)
	}
}

// Run is one changed plan in one winter, by their places in the request.
type Run struct{ Plan, Winter int }

// Each is every changed plan in every winter, plan by plan.
func Each(plans, winters int) []Run {
	list := make([]Run, 0, plans*winters)
	for p := range plans {
		for w := range winters {
			list = append(list, Run{p, w})
		}
	}
	return list
}

// Simulate runs all and gives their summaries in the order of the runs. It fails only when ctx ends or the request makes no sense; a run that fails has
// its error in its summary.
func Simulate(ctx context.Context, req Request, progress winter.Progress) ([]Summary, error) {
	if req.Base == nil || req.Winters == nil {
		panic("ensemble: no plan or no winters")
	}
	if len(req.Plans) == 0 {
		req.Plans = []Plan{nil}
	}
	if req.Runs == nil {
		req.Runs = Each(len(req.Plans), req.Winters.Len())
	}
	for _, r := range req.Runs {
		if r.Plan < 0 || r.Plan >= len(req.Plans) || r.Winter < 0 || r.Winter >= req.Winters.Len() {
			return nil, fmt.Errorf("run of plan %d in winter %d: there are %d plans and %d winters", r.Plan, r.Winter, len(req.Plans), req.Winters.Len())
		}
	}
	e := &ensemble{Request: req, out: make([]Summary, len(req.Runs)), plans: make([]prepared, len(req.Plans))}
	e.count()
	return e.out, e.all(ctx, progress)
}

// ensemble is one request on its way.
type ensemble struct {
	Request
	out   []Summary
	plans []prepared
}

// prepared is a changed plan with its house and its ground, made by the first run that needs it and let go after the last.
type prepared struct {
	mu   sync.Mutex
	left int // runs that still need it
	made bool
	p    *winter.Prepared
	err  error
}

func (e *ensemble) count() {
	for _, r := range e.Runs {
		e.plans[r.Plan].left++
	}
}

// all runs all and tells how many are done.
func (e *ensemble) all(ctx context.Context, progress winter.Progress) error {
	var done sync.Mutex
	finished := 0
	return winter.AtOnce(ctx, len(e.Runs), e.AtOnce, func(i int) {
		e.run(ctx, i)
		done.Lock()
		defer done.Unlock()
		finished++
		if progress != nil {
			progress(finished, len(e.Runs))
		}
	})
}

// run is one run.
func (e *ensemble) run(ctx context.Context, i int) {
	r := e.Runs[i]
	s := &e.out[i]
	s.Run = r
	p, err := e.plan(r.Plan)
	if err == nil {
		p, err = In(p, e.Winters, r.Winter)
	}
	if err == nil {
		err = s.simulate(ctx, p)
	}
	if err != nil {
		s.Err = fmt.Errorf("%s: %w", e.Winters.Name(r.Winter), err)
	}
	e.release(r.Plan)
}

// plan is a changed plan, prepared.
func (e *ensemble) plan(k int) (*winter.Prepared, error) {
	v := &e.plans[k]
	v.mu.Lock()
	defer v.mu.Unlock()
	if !v.made {
		v.made = true
		v.p, v.err = changed(e.Base, e.Plans[k])
	}
	return v.p, v.err
}

func (e *ensemble) release(k int) {
	v := &e.plans[k]
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.left--; v.left == 0 {
		v.p = nil
	}
}

// changed is a changed plan, prepared.
func changed(base *winter.Prepared, make Plan) (*winter.Prepared, error) {
	if make == nil {
		return base, nil
	}
	p, err := make()
	if err != nil {
		return nil, err
	}
	return base.ToPutInto(p)
}

// In is a prepared plan in winter k.
func In(p *winter.Prepared, winters Winters, k int) (*winter.Prepared, error) {
	w, err := winters.Weather(k)
	if err != nil {
		return nil, err
	}
	return p.In(w, winters.Name(k), uint64(k))
}

// simulate runs and sums up. Where snowfall is not known, the house is run bare and with snow lying through the coldest days, and the colder counts.
func (s *Summary) simulate(ctx context.Context, p *winter.Prepared) error {
	cases := []greenhouse.SnowCase{greenhouse.SnowFalls}
	switch {
	case p.SnowKnown:
	case greenhouse.HoldsSnow(p.House):
		cases = []greenhouse.SnowCase{greenhouse.SnowNever, greenhouse.SnowLies}
	default:
		cases = []greenhouse.SnowCase{greenhouse.SnowNever}
	}
	for i, snow := range cases {
		r, err := p.Simulate(ctx, snow, nil)
		if err != nil {
			return err
		}
		if err := r.CheckBooks(); err != nil {
			return err
		}
		other := Summary{Run: s.Run, Snow: snow}
		other.take(r, p.Plan.Run.Limit)
		if i == 0 || other.coldestC() < s.coldestC() {
			*s = other
		}
	}
	return nil
}
