package weather

import (
	"fmt"
	"math"
	"time"
)

// MonthDay is a day of any year.
type MonthDay struct {
	Month time.Month
	Day   int
}

// Check tells what is wrong with the day; 29 February is no day of every year.
func (d MonthDay) Check() error {
	if d.Month < 1 || d.Month > 12 || d.Day < 1 || d.Day > daysIn[d.Month-1] {
		return fmt.Errorf("day is %d-%d, must be a month and day of a year without 29 February", d.Month, d.Day)
	}
	return nil
}

// before tells whether d comes before other within a year.
func (d MonthDay) before(other MonthDay) bool {
	return d.Month < other.Month || (d.Month == other.Month && d.Day < other.Day)
}

// Winter returns the first whole stretch from 00:00 of the day from to 24:00 of the day to, which may lie in the next year.
//
// Where the series does not run on into the next year but holds both ends of one (a typical year, or one
// calendar year), the months after the year's end are taken from its beginning, 29 February is
// left out, and the whole is dated from 2001 to 2002; a note tells it.
func (s Series) Winter(from, to MonthDay) (Series, error) {
	if err := from.Check(); err != nil {
		return Series{}, fmt.Errorf("first day of the winter: %w", err)
	}
	if err := to.Check(); err != nil {
		return Series{}, fmt.Errorf("last day of the winter: %w", err)
	}
	if all := s.Winters(from, to); len(all) > 0 {
		return all[0], nil
	}
	if to.before(from) {
		return s.joined(from, to)
	}
	return Series{}, fmt.Errorf("weather %s, %s to %s, does not cover %s %d to %s %d", s.Name, stamp(s.Start), stamp(s.End()),
		from.Month, from.Day, to.Month, to.Day)
}

// Winters returns all whole stretches from one day to another that the series runs through, each with its own dates.
// A typical year has none across its end.
func (s Series) Winters(from, to MonthDay) []Series {
	var out []Series
	for year := s.Start.Year(); year <= s.End().Year(); year++ {
		begin := s.date(year, from)
		lastYear := year
		if to.before(from) {
			lastYear++
		}
		end := s.date(lastYear, to).AddDate(0, 0, 1)
		if !begin.Before(s.Start) && !end.After(s.End()) && begin.Before(end) {
			out = append(out, s.Between(begin, end))
		}
	}
	return out
}

func (s Series) date(year int, d MonthDay) time.Time {
	return time.Date(year, d.Month, d.Day, 0, 0, 0, 0, s.Start.Location())
}

// Between returns the hours from begin to end, cut to what the series covers. Both are taken
// down to whole hours of the series.
func (s Series) Between(begin, end time.Time) Series {
	first := min(max(0, int(begin.Sub(s.Start)/time.Hour)), len(s.Hours))
	after := min(max(first, int(end.Sub(s.Start)/time.Hour)), len(s.Hours))
	out := s.Clone()
	out.Start, out.Hours = s.HourStart(first), out.Hours[first:after]
	return out
}

// joined takes the part after the year's end from the year's beginning.
func (s Series) joined(from, to MonthDay) (Series, error) {
	year := s.Start.Year()
	yearEnd := time.Date(year+1, 1, 1, 0, 0, 0, 0, s.Start.Location())
	yearBegin := time.Date(year, 1, 1, 0, 0, 0, 0, s.Start.Location())
	end := s.date(year, to).AddDate(0, 0, 1)
	if s.Start.After(yearBegin) || s.End().Before(yearEnd) {
		return Series{}, fmt.Errorf("weather %s, %s to %s, neither runs from %s %d to %s %d nor holds a whole calendar year to join",
			s.Name, stamp(s.Start), stamp(s.End()), from.Month, from.Day, to.Month, to.Day)
	}
	autumn, spring := s.Between(s.date(year, from), yearEnd), s.Between(yearBegin, end)
	out := autumn
	seam := len(autumn.Hours)
	for i := range spring.Hours {
		if at := spring.HourStart(i); at.Month() != time.February || at.Day() != 29 {
			out.Hours = append(out.Hours, spring.Hours[i])
		}
	}
	out.Start = s.date(nominalYear, from)
	out.note(Dated, "calendar", seam, len(out.Hours)-seam, "%d ends and the same year begins here; dated %d and %d", year, nominalYear, nominalYear+1)
	return out, nil
}

// Warmer returns s with the air k kelvin warmer (colder when negative). The dew point moves along, so relative humidity nearly
// stays; sky longwave follows the fourth power of the air's kelvin, so the sky keeps its emissivity.
func (s Series) Warmer(k float64) Series {
	s = s.Clone()
	for i := range s.Hours {
		h := &s.Hours[i]
		h.SkyLongwaveWM2 *= math.Pow((h.AirC+k+kelvin)/(h.AirC+kelvin), 4)
		h.AirC += k
		h.DewPointC += k
	}
	s.note(Changed, "air temperature", -1, len(s.Hours), "%+.2f K, dew point and sky alike", k)
	return s
}

// kelvin is 0 °C [K].
const kelvin = 273.15

// Sunnier returns s with global, beam and diffuse sun times factor, at least 0. Cloud and sky longwave stay.
func (s Series) Sunnier(factor float64) (Series, error) {
	if !(factor >= 0 && factor <= 2) {
		return Series{}, fmt.Errorf("factor of the sun is %g, must be 0 to 2", factor)
	}
	s = s.Clone()
	for i := range s.Hours {
		h := &s.Hours[i]
		h.GlobalWM2 *= factor
		h.BeamWM2 *= factor
		h.DiffuseWM2 *= factor
	}
	s.note(Changed, "sun", -1, len(s.Hours), "times %g", factor)
	return s, nil
}

// Replace returns s with the hours of other in place of its own from other.Start on; other must lie within s, hour on hour.
func (s Series) Replace(other Series) (Series, error) {
	first := other.Start.Sub(s.Start)
	if first < 0 || first%time.Hour != 0 || other.End().After(s.End()) {
		return Series{}, fmt.Errorf("weather %s, %s to %s, does not hold %s to %s hour on hour", s.Name, stamp(s.Start), stamp(s.End()),
			stamp(other.Start), stamp(other.End()))
	}
	s = s.Clone()
	i := int(first / time.Hour)
	copy(s.Hours[i:], other.Hours)
	s.note(Changed, "all", i, len(other.Hours), "replaced by %s", other.Name)
	return s, nil
}
