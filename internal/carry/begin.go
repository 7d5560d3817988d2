package carry

import (
	"fmt"
	"time"

	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// coldHours is the length of the winter's cold spell at whose first day the sunless one begins [h], and meanHours that whose mean
// is the default outdoor cold: 72 h is what a heavy house feels.
const (
	coldHours = 240
	meanHours = 72
)

// noSunsetHour is the local standard hour at which the spell begins where the sun does not set or rise [h].
const noSunsetHour = 16

// counted is the hours of the winter that count.
func (a *Answer) counted() weather.Series {
	s := a.Span
	s.Start, s.Hours = s.HourStart(a.Skip), s.Hours[a.Skip:]
	return s
}

// begin finds the hour of the span at which the spell begins.
func (a *Answer) begin(from *plan.Date) (int, error) {
	day, err := a.day(from)
	if err != nil {
		return 0, err
	}
	site := winter.PlaceOf(a.Plan)
	set := sun.Day(sun.Place{Latitude: sun.Degrees(site.LatitudeDeg), Longitude: sun.Degrees(site.LongitudeDeg), ElevationM: site.ElevationM}, day).Set
	a.Sunset = set
	if set.IsZero() {
		set = time.Date(day.Year(), day.Month(), day.Day(), noSunsetHour, 0, 0, 0, day.Location())
	}
	for i := range a.Span.Hours {
		if at := a.Span.HourStart(i); i > 0 && !at.Before(set) {
			a.Begin = at
			return i, nil
		}
	}
	return 0, fmt.Errorf("from: the sun sets on %s after the weather ends, %s", day.Format("01-02"), a.Span.End().Format("01-02 15:04"))
}

// day is the day asked for within the hours that are run, those that count first.
func (a *Answer) day(from *plan.Date) (time.Time, error) {
	s := a.counted()
	if from == nil {
		at, _, ok := s.Coldest(min(coldHours, len(s.Hours)))
		if !ok {
			return time.Time{}, fmt.Errorf("from: the winter has no hours")
		}
		return at, nil
	}
	for _, span := range []weather.Series{s, a.Span} {
		for i := range span.Hours {
			at := span.HourStart(i)
			if int(at.Month()) == from.Month && at.Day() == from.Day && (from.Year == 0 || from.Year == at.Year()) {
				return at, nil
			}
		}
	}
	const layout = "2006-01-02"
	return time.Time{}, fmt.Errorf("from: %02d-%02d is no day of the winter that is run, %s to %s", from.Month, from.Day,
		a.Span.Start.Format(layout), a.Span.HourStart(len(a.Span.Hours)-1).Format(layout))
}
