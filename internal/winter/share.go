package winter

import (
	"errors"
	"reflect"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// With is the same winter for a changed plan: year, hours, the time in which snow lies, and the ground without the house where the
// soil is the same. A change of anything that weather or hours are made from is prepared anew by Prepare, never here: it panics.
func (p *Prepared) With(changed *plan.Plan) (*Prepared, error) {
	if !p.Same(changed) {
		panic("winter: a plan with another climate, site or run does not share its winter")
	}
	return p.with(changed)
}

// ToPutInto is the prepared plan for a changed one, to be put into other winters (In): snowfall may differ too, for it is laid there.
func (p *Prepared) ToPutInto(changed *plan.Plan) (*Prepared, error) {
	snowless := func(q *plan.Plan) *plan.Plan {
		r := *q
		r.Snow = p.Plan.Snow
		return &r
	}
	if !p.Same(snowless(changed)) {
		return nil, errors.New("a change of site, climate or hours makes other winters, it has no place here")
	}
	return p.with(changed)
}

// with is the prepared plan for a changed one.
func (p *Prepared) with(changed *plan.Plan) (*Prepared, error) {
	h, bad := house.Resolve(changed)
	if err := plan.AsError(bad); err != nil {
		return nil, err
	}
	q := *p
	q.Plan, q.House = changed, h
	switch {
	case !hasSoil(h):
		q.Ground = nil
	case p.Ground == nil || !sameSoil(changed.Site, p.Plan.Site):
		u, err := greenhouse.UndisturbedGround(changed, &p.ring)
		if err != nil {
			return nil, err
		}
		q.Ground = u
	}
	return &q, nil
}

func sameSoil(a, b plan.Site) bool {
	return reflect.DeepEqual(a.Soil, b.Soil) && reflect.DeepEqual(a.SoilLayers, b.SoilLayers)
}

// Same tells whether a changed plan runs through the same hours of the same weather.
func (p *Prepared) Same(changed *plan.Plan) bool {
	return reflect.DeepEqual(weatherOf(p.Plan), weatherOf(changed))
}

// weatherOf is all of a plan that weather, snowfall and hours come from.
func weatherOf(p *plan.Plan) []any {
	site := p.Site
	site.Soil, site.SoilLayers = plan.Soil{}, nil
	snow := plan.Snow{}
	if p.Snow != nil {
		snow = *p.Snow
		snow.Brushed = ""
	}
	run := p.Run
	run.Limit, run.Place = 0, ""
	return []any{site, p.Climate, p.Snow == nil, snow, run, p.Ground.Built, p.Ground.Age}
}

// Cut is a stretch of the hours that are run: from hour from of Span, n of them, the first skip of which do not count. The house is
// set into undisturbed ground at its begin. Snow that lies by rule lies when it does in the whole.
func (p *Prepared) Cut(from, n, skip int) *Prepared {
	q := *p
	q.lying = p.Lying()
	q.Span.Start = p.Span.HourStart(from)
	q.Span.Hours = p.Span.Hours[from : from+n]
	q.Sun = p.Sun[from : from+n]
	q.Skip = skip
	return &q
}

// From is the hours that count alone, begun in the warmth that a house much like this one stood in when they began, of a result for which Keep was set: what the
// house does to its ground and water before then is that house's. Where water moves before, or there are buried tubes, whose soil has a memory of its own, p itself.
func (p *Prepared) From(r *greenhouse.Result) *Prepared {
	if r.Begun == nil || p.Skip == 0 || len(p.House.Events) > 0 || len(p.Plan.Tubes) > 0 {
		return p
	}
	q := p.Cut(p.Skip, len(p.Span.Hours)-p.Skip, 0)
	q.begun, q.Earth = r.Begun, max(p.Earth, r.Work.Earth)
	return q
}

// Rough is p with steps judged by toleranceK and the finest cell of the ground as many times as wide: for an answer that is wanted at once.
func (p *Prepared) Rough(toleranceK, wider float64) *Prepared {
	q, h, planned := *p, *p.House, *p.Plan
	planned.Ground.Cell *= wider
	h.Plan = &planned
	q.House = &h
	q.Control.Tolerance = toleranceK
	return &q
}

// Carried tells whether runs begin in the warmth of another house.
func (p *Prepared) Carried() bool { return p.begun != nil }

// Shifted is the same hours in other weather; the ground without the house, and when snow lies by rule, are as they were.
func (p *Prepared) Shifted(move func(h *weather.Hour)) *Prepared {
	q := *p
	q.lying = p.Lying()
	q.Span = p.Span.Clone()
	for i := range q.Span.Hours {
		move(&q.Span.Hours[i])
	}
	return &q
}

// fixed tells whether the time in which snow lies was taken over from a longer run.
func fixed(lying [2]time.Time) bool { return !lying[0].IsZero() }
