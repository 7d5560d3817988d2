package water

import (
	"context"
	"fmt"
	"math"
	"time"

	"suncellar/internal/record"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Day is the rain of one day.
type Day struct {
	Month  time.Month
	Day    int     // of the month
	RainMM float64 // that falls as rain [mm]
	SnowMM float64 // that falls as snow, its water [mm]
	MeltKD float64 // mean of the air above 0 °C over the day [K d]
}

// warmestSnowC is the air below which what falls is snow [°C]; about half of it is at +1. Source: US Army Corps of Engineers, Snow Hydrology, 1956.
const warmestSnowC = 1.0

// sort puts what falls in a mean air into rain or snow.
func (d *Day) sort(mm, airC float64) {
	if airC < warmestSnowC {
		d.SnowMM += mm
	} else {
		d.RainMM += mm
	}
}

// daysOfHours sums the hours of each whole day. What is not known counts as nothing; unknown is how many days lack it.
func daysOfHours(s *weather.Series) (list []Day, unknown int) {
	for i := range s.Hours {
		at := s.HourStart(i)
		if at.Hour() == 0 || len(list) == 0 {
			if len(s.Hours)-i < 24 {
				break
			}
			list = append(list, Day{Month: at.Month(), Day: at.Day()})
		}
		d, h := &list[len(list)-1], s.Hours[i]
		if math.IsNaN(h.RainMM) {
			if at.Hour() == 12 {
				unknown++
			}
		} else {
			d.sort(h.RainMM, h.AirC)
		}
		if h.AirC > 0 {
			d.MeltKD += h.AirC / 24
		}
	}
	return list, unknown
}

// daysOfRecord takes the days of a record.
func daysOfRecord(r *record.Record) (list []Day, unknown int) {
	if r.Hourly != nil {
		return daysOfHours(r.Hourly)
	}
	for i, of := range r.Days {
		at := r.Date(i)
		d := Day{Month: at.Month(), Day: at.Day(), MeltKD: above(of.LowC, of.HighC)}
		if math.IsNaN(of.RainMM) {
			unknown++
		} else {
			d.sort(of.RainMM, (of.LowC+of.HighC)/2)
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
func madeDays(ctx context.Context, req Request, progress winter.Progress) ([]Day, error) {
	years, err := winter.Years(req.Plan)
	if err != nil {
		return nil, err
	}
	var list []Day
	for k := range req.Years {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, err := years.Year(k)
		if err != nil {
			return nil, err
		}
		year, _ := daysOfHours(&s)
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
	var days []Day
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
	a.Rain = a.balance(days)
	a.Rain.Source, a.Rain.Unknown, a.Rain.Made = source, unknown, req.Record == nil || req.Record.Hourly != nil && req.Record.Hourly.TypicalYear
	return nil
}
