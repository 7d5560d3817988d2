package weather

import (
	"fmt"
	"math"
	"time"
)

// Climate is what a record comes to: the normals of its place and how its years and days lie about them.
type Climate struct {
	Place   Place
	Normals Normals
	Spread  Spread // zeros where the record is too short for it
	Months  [12]int
	Notes   []Note
}

// What a record must hold.
const (
	// mostMissing is how many days of a month may be missing for the month to count. Own judgement; climate services allow 3 to 10, from memory.
	mostMissing = 5
	// fewestYears of a month make a normal; below fewYears they are told as few and give no spread: ten or more are advised as a base for made weather.
	// Source: Soltani and Hoogenboom 2003.
	fewestYears, fewYears = 5, 10
	// wetDayMM is from where on a day is wet [mm]: 0.2 in Richardson 1981.
	wetDayMM = 0.2
	// snowDayM is from where on a day counts as one with snowfall [m]; own judgement.
	snowDayM = 0.001
)

// ClimateOfDays derives the climate of a daily record that begins at midnight of start. Where no sun is in the record, clearness is taken from the days' range of
// temperature; what else is missing stays unknown, and the notes tell it. It fails where a month of the year has fewer than 5 years with lows and highs.
func ClimateOfDays(start time.Time, place Place, days []Day) (Climate, error) {
	list := make([]recordDay, len(days))
	for d, day := range days {
		list[d] = recordDay{Day: day, meanC: math.NaN(), date: start.AddDate(0, 0, d)}
	}
	return climateOf(list, place)
}

// ClimateOfHours derives the climate of an hourly series of some years, wind, dew point, mean air and snowfall included where it has them. A typical year is no record.
func ClimateOfHours(s Series) (Climate, error) {
	if s.TypicalYear {
		return Climate{}, fmt.Errorf("climate of weather %s: a typical year is one year, not a record", s.Name)
	}
	var list []recordDay
	for _, d := range s.days() {
		if d.after-d.first == 24 {
			list = append(list, recordDayOf(s, d))
		}
	}
	return climateOf(list, s.Place)
}

// recordDay is a day of a record; NaN where not known.
type recordDay struct {
	Day
	date  time.Time
	meanC float64 // over the hours; not known of days
}

// fallM is the fresh snow of the day [m], NaN where it is not known.
func (d recordDay) fallM() float64 {
	fall, _ := d.snow()
	return fall
}

// recordDayOf is a whole day of hours; one unknown hour makes its value unknown.
func recordDayOf(s Series, d stretch) recordDay {
	r := recordDay{date: s.HourStart(d.first), Day: Day{LowC: math.Inf(1), HighC: math.Inf(-1)}}
	for _, h := range s.Hours[d.first:d.after] {
		r.LowC, r.HighC = math.Min(r.LowC, h.AirC), math.Max(r.HighC, h.AirC) // these carry NaN on
		r.meanC += h.AirC / 24
		r.SunWhM2 += h.GlobalWM2
		r.DewPointC += h.DewPointC / 24
		r.RainMM += h.RainMM
		r.WindMS += h.WindMS / 24
		r.Snow.FallM += h.SnowfallM
	}
	r.Snow.Known, r.Snow.LyingM = !math.IsNaN(r.Snow.FallM), math.NaN()
	return r
}

// monthly is one quantity of a record: the means of its months by month of the year.
type monthly [12][]float64

// means is the mean over the years, and whether every month has enough of them.
func (m monthly) means() (out [12]float64, ok bool) {
	ok = true
	for k, values := range m {
		ok = ok && len(values) >= fewestYears
		for _, v := range values {
			out[k] += v / float64(len(values))
		}
	}
	return out, ok
}

// deviations is the standard deviation between years, and whether every month has years enough for it.
func (m monthly) deviations() (out [12]float64, ok bool) {
	means, _ := m.means()
	ok = true
	for k, values := range m {
		ok = ok && len(values) >= fewYears
		for _, v := range values {
			out[k] += (v - means[k]) * (v - means[k]) / float64(len(values)-1)
		}
		out[k] = math.Sqrt(out[k])
	}
	return out, ok
}

// span is the days of one calendar month of a record.
type span struct {
	month int
	days  []recordDay
}

func monthsOf(list []recordDay) []span {
	var out []span
	for first := 0; first < len(list); {
		y, m, _ := list[first].date.Date()
		after := first
		for after < len(list) && list[after].date.Month() == m && list[after].date.Year() == y {
			after++
		}
		out = append(out, span{int(m) - 1, list[first:after]})
		first = after
	}
	return out
}

// monthlyOf is the means of months of a quantity; months with more than mostMissing days without it are left out.
func monthlyOf(months []span, value func(recordDay) float64) monthly {
	var out monthly
	for _, s := range months {
		sum, n := 0.0, 0
		for _, d := range s.days {
			if v := value(d); !math.IsNaN(v) {
				sum, n = sum+v, n+1
			}
		}
		if n >= daysIn[s.month]-mostMissing {
			out[s.month] = append(out[s.month], sum/float64(n))
		}
	}
	return out
}

// climateOf derives the climate of days in order.
func climateOf(list []recordDay, place Place) (Climate, error) {
	if !place.PositionKnown {
		return Climate{}, fmt.Errorf("climate of a record: latitude and longitude must be known")
	}
	c := climateMaker{Climate{Place: place}, list, monthsOf(list)}
	if err := c.temperatures(); err != nil {
		return Climate{}, err
	}
	c.spreads()
	c.yearLowest()
	c.sun()
	c.rest()
	return c.Climate, c.Normals.Check()
}
