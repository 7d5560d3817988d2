package chance

import (
	"fmt"
	"time"

	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/record"
	"suncellar/internal/weather"
)

// Observed are the winters of a record, from the day the house is built to the last that counts.
type Observed struct {
	list    []record.Winter
	LeftOut []record.LeftOut
	Few     string // why a wider band is due; "" where there are enough
}

// Recorded cuts a record into winters for a plan; until is another last day than the plan's, nil for its own.
func Recorded(r *record.Record, p *plan.Plan, until *plan.Date) (*Observed, error) {
	last := p.Run.Until
	if until != nil {
		last = *until
	}
	w, err := r.Winters(monthDay(p.Ground.Built), monthDay(last))
	if err != nil {
		return nil, err
	}
	if len(w.List) == 0 {
		why := ""
		if len(w.LeftOut) > 0 {
			why = fmt.Sprintf(": %s, %s", w.LeftOut[0].Name, w.LeftOut[0].Reason)
		}
		return nil, fmt.Errorf("%s holds no whole winter from %02d-%02d to %02d-%02d%s", r.Name, p.Ground.Built.Month, p.Ground.Built.Day, last.Month, last.Day, why)
	}
	return &Observed{w.List, w.LeftOut, w.Few}, nil
}

func monthDay(d plan.Date) weather.MonthDay {
	return weather.MonthDay{Month: time.Month(d.Month), Day: d.Day}
}

// Len is how many winters there are.
func (o *Observed) Len() int { return len(o.list) }

// Name is the years of a winter.
func (o *Observed) Name(k int) string { return o.list[k].Name }

// Weather is a winter hour by hour.
func (o *Observed) Weather(k int) (weather.Series, error) { return o.list[k].Series() }

var _ ensemble.Winters = (*Observed)(nil)

// YearOf is a typical year made from the climate of a record, for the ground of a plan that has no climate.
func YearOf(r *record.Record, p *plan.Plan, place weather.Place) (*weather.Series, error) {
	c, err := r.Climate()
	if err != nil {
		return nil, fmt.Errorf("the climate of %s: %w", r.Name, err)
	}
	y, err := weather.Typical(c.Normals, place, uint64(p.Run.Seed))
	if err != nil {
		return nil, fmt.Errorf("a year from the climate of %s: %w", r.Name, err)
	}
	return &y, nil
}
