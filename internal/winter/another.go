package winter

import (
	"fmt"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// In is the prepared plan in another winter: a whole year of weather, or at least the hours from the day the house is built to the last that counts. The
// ground without the house, and the years in which an older one has warmed it, stay those of the year that was prepared: what one year's ground differs by from the
// mean of many is not in it. It is called name, and number tells winters with made snowfalls apart.
//
// It fails where the weather does not fit the site or does not hold the hours.
func (p *Prepared) In(w weather.Series, name string, number uint64) (*Prepared, error) {
	if p.Plan.Run.Span == "whole year" {
		return nil, fmt.Errorf("run.span: another winter needs a span from run.from to run.until, the plan has the whole year")
	}
	q := *p
	q.Name, q.Number, q.SnowKnown = name, number, false
	if err := q.near(w.Place); err != nil {
		return nil, err
	}
	s, err := weather.Complete(w, PlaceOf(p.Plan))
	if err != nil {
		return nil, err
	}
	if q.Year, err = q.snow(s); err != nil {
		return nil, err
	}
	if err := q.span(q.req); err != nil {
		return nil, err
	}
	if !q.Span.Start.Equal(p.Span.Start) || len(q.Span.Hours) != len(p.Span.Hours) {
		q.Sun = greenhouse.Spans(p.Plan, &q.Span)
	}
	return &q, nil
}

// Drawn is the same winter for a changed plan whose snowfall may differ too: it is laid anew. It fails where In and ToPutInto do.
func (p *Prepared) Drawn(changed *plan.Plan) (*Prepared, error) {
	q, err := p.ToPutInto(changed)
	if err != nil {
		return nil, err
	}
	return q.In(p.Year, p.Name, p.Number)
}
