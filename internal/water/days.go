package water

import (
	"context"
	"fmt"
	"math"

	"suncellar/internal/catchment"
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
func madeDays(ctx context.Context, req Request, progress winter.Progress) ([]catchment.Day, error) {
	years, err := winter.Years(req.Plan)
	if err != nil {
		return nil, err
	}
	var list []catchment.Day
	for k := range req.Years {
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
			progress(k+1, req.Years)
		}
	}
	return list, nil
}

// leastDays is the shortest record that a balance is told of: one year.
const leastDays = 365

// rain finds the days and runs the balance through them.
func (a *Answer) rain(ctx context.Context, req Request, progress winter.Progress) error {
	var days []catchment.Day
	var err error
	source, unknown := "", 0
	switch {
	case req.Record != nil:
		days, unknown = daysOfRecord(req.Record)
		source = "the record " + req.Record.Name
	case req.Plan.Climate != nil:
		if req.Years == 0 {
			req.Years = usualYears
		}
		days, err = madeDays(ctx, req, progress)
		source = fmt.Sprintf("%d years made from the plan's normals", req.Years)
	default:
		a.NoRain = "the plan has no climate and no record is named: add --record, or climate to the plan"
		return nil
	}
	if err != nil {
		return err
	}
	if len(days) < leastDays {
		return fmt.Errorf("the rain of %s has %d days, must be %d at least\nhint: a year is the shortest that the seasons can be told of", source, len(days), leastDays)
	}
	if unknown == len(days) {
		return fmt.Errorf("the rain of %s is not known on any day\nhint: name a record that holds precipitation", source)
	}
	a.days = days
	a.Rain = a.balance(days)
	a.Rain.Source, a.Rain.Unknown, a.Rain.Made = source, unknown, req.Record == nil || req.Record.Hourly != nil && req.Record.Hourly.TypicalYear
	return nil
}
