package water

import (
	"context"
	"fmt"
	"math"

	"suncellar/internal/catchment"
	"suncellar/internal/plan"
	"suncellar/internal/record"
	"suncellar/internal/winter"
)

// daysOfRecord takes the days of a record.
func daysOfRecord(r *record.Record) (list []catchment.Day, unknown int) {
	if r.Hourly != nil {
		return catchment.Days(r.Hourly)
	}
	for i, of := range r.Days {
		at := r.Date(i)
		d := catchment.Day{Month: at.Month(), Day: at.Day(), MeltKD: above(of.LowC, of.HighC)}
		if math.IsNaN(of.RainMM) {
			unknown++
		} else {
			d.Fall(of.RainMM, (of.LowC+of.HighC)/2)
		}
		list = append(list, d)
	}
	return list, unknown
}

// above is the mean above 0 °C of air that is spread evenly between its lowest and highest [K]; 0 where they are not known.
func above(low, high float64) float64 {
	switch {
	case !(high > 0):
		return 0
	case low >= 0:
		return (low + high) / 2
	case math.IsNaN(low):
		return 0
	}
	return high * high / (2 * (high - low))
}

// madeDays are the days of so many years made from the plan's normals.
func madeDays(ctx context.Context, p *plan.Plan, n int, progress winter.Progress) ([]catchment.Day, error) {
	years, err := winter.Years(p)
	if err != nil {
		return nil, err
	}
	var list []catchment.Day
	for k := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, err := years.Year(k)
		if err != nil {
			return nil, err
		}
		year, _ := catchment.Days(&s)
		list = append(list, year...)
		if progress != nil {
			progress(k+1, n)
		}
	}
	return list, nil
}

// leastDays is the shortest record that a balance is told of: one year.
const leastDays = 365

// RainDays are the days of a record, or of so many years made from the plan's normals (0: usualYears), with what they are of; how many of them are not known; and why there are none.
func RainDays(ctx context.Context, p *plan.Plan, r *record.Record, years int, progress winter.Progress) (days []catchment.Day, source string, unknown int, err error) {
	switch {
	case r != nil:
		days, unknown = daysOfRecord(r)
		source = "the record " + r.Name
	case p.Climate != nil:
		if years == 0 {
			years = usualYears
		}
		days, err = madeDays(ctx, p, years, progress)
		source = fmt.Sprintf("%d years made from the plan's normals", years)
	default:
		return nil, "", 0, nil
	}
	switch {
	case err != nil:
		return nil, "", 0, err
	case len(days) < leastDays:
		return nil, "", 0, fmt.Errorf("the rain of %s has %d days, must be %d at least\nhint: a year is the shortest that the seasons can be told of", source, len(days), leastDays)
	case unknown == len(days):
		return nil, "", 0, fmt.Errorf("the rain of %s is not known on any day\nhint: name a record that holds precipitation", source)
	}
	return days, source, unknown, nil
}

// rain runs the balance through the days.
func (a *Answer) rain(ctx context.Context, req Request, progress winter.Progress) error {
	days, source, unknown, err := RainDays(ctx, req.Plan, req.Record, req.Years, progress)
	if err != nil {
		return err
	}
	if days == nil {
		a.NoRain = "the plan has no climate and no record is named: add --record, or climate to the plan"
		return nil
	}
	a.days = days
	a.Rain = a.balance(days)
	a.Rain.Source, a.Rain.Unknown, a.Rain.Made = source, unknown, req.Record == nil || req.Record.Hourly != nil && req.Record.Hourly.TypicalYear
	return nil
}
