package weather

import (
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/sun"
)

// climateMaker derives a climate, quantity by quantity.
type climateMaker struct {
	Climate
	list   []recordDay
	months []span
}

func (c *climateMaker) note(kind NoteKind, what, format string, args ...any) {
	c.Notes = append(c.Notes, Note{Kind: kind, What: what, Hours: 24 * len(c.list), Text: fmt.Sprintf(format, args...)})
}

// temperatures sets mean lows and highs, and the mean where hours gave it.
func (c *climateMaker) temperatures() error {
	lows, highs := monthlyOf(c.months, func(d recordDay) float64 { return d.LowC }), monthlyOf(c.months, func(d recordDay) float64 { return d.HighC })
	for m := range 12 {
		c.Months[m] = min(len(lows[m]), len(highs[m]))
		if c.Months[m] < fewestYears {
			return fmt.Errorf("climate of a record: %s has lows and highs in %d years, must be %d or more with at most %d days missing",
				time.Month(m+1), c.Months[m], fewestYears, mostMissing)
		}
	}
	if least := slices.Min(c.Months[:]); least < fewYears {
		c.note(Flagged, "all", "a month has %d years only; ten or more are advised", least)
	}
	c.Normals.MeanLowC, _ = lows.means()
	c.Normals.MeanHighC, _ = highs.means()
	if means, ok := monthlyOf(c.months, func(d recordDay) float64 { return d.meanC }).means(); ok {
		c.Normals.MeanC = means[:]
	}
	return nil
}

// spreads sets how years and days lie about the normals. A trend of the record is in it.
func (c *climateMaker) spreads() {
	mid := monthlyOf(c.months, func(d recordDay) float64 { return (d.LowC + d.HighC) / 2 })
	between, ok := mid.deviations()
	if !ok {
		c.note(Missing, "spread", "fewer than %d years: what years differ is taken from published relations", fewYears)
		return
	}
	c.Spread.MonthK = between
	c.Spread.LowK = c.within(c.Normals.MeanLowC, func(d recordDay) float64 { return d.LowC })
	c.Spread.HighK = c.within(c.Normals.MeanHighC, func(d recordDay) float64 { return d.HighC })
}

// within is the deviation of the days about the mean of their own month, the season's course taken off.
func (c *climateMaker) within(normals [12]float64, value func(recordDay) float64) (out [12]float64) {
	course := daily(normals)
	var squares, free [12]float64
	for _, s := range c.months {
		var off []float64
		mean := 0.0
		for _, d := range s.days {
			day := d.date.YearDay() - 1
			if leap(d.date.Year()) && day > 58 {
				day--
			}
			if v := value(d) - course[day]; !math.IsNaN(v) {
				off, mean = append(off, v), mean+v
			}
		}
		if len(off) < daysIn[s.month]-mostMissing {
			continue
		}
		mean /= float64(len(off))
		for _, v := range off {
			squares[s.month] += (v - mean) * (v - mean)
		}
		free[s.month] += float64(len(off) - 1)
	}
	for m := range out {
		out[m] = math.Sqrt(squares[m] / free[m])
	}
	return out
}

func leap(year int) bool { return time.Date(year, 12, 31, 0, 0, 0, 0, time.UTC).YearDay() == 366 }

// yearLowest sets the mean of the lowest temperatures of the years, July to June, of those whose five months round the coldest are known.
func (c *climateMaker) yearLowest() {
	type winter struct {
		months int
		low    float64
	}
	winters := map[int]winter{}
	coldest := 0
	for m := range 12 {
		if c.Normals.MeanLowC[m] < c.Normals.MeanLowC[coldest] {
			coldest = m
		}
	}
	for _, s := range c.months {
		since := (s.month - coldest + 18) % 12 // 6 for the coldest
		if since < 4 || since > 8 {
			continue
		}
		year := s.days[0].date.AddDate(0, 6-since, 0).Year() // that of its coldest month
		w, ok := winters[year]
		if !ok {
			w.low = math.Inf(1)
		}
		n := 0
		for _, d := range s.days {
			if !math.IsNaN(d.LowC) {
				w.low, n = min(w.low, d.LowC), n+1
			}
		}
		if n >= daysIn[s.month]-mostMissing {
			w.months++
		}
		winters[year] = w
	}
	sum, n := 0.0, 0
	years := make([]int, 0, len(winters))
	for year := range winters {
		years = append(years, year)
	}
	slices.Sort(years) // sums in one order
	for _, year := range years {
		if w := winters[year]; w.months == 5 {
			sum, n = sum+w.low, n+1
		}
	}
	lowest := sum / float64(n)
	if n < fewestYears || !(lowest <= c.Normals.MeanLowC[coldest]-3) {
		c.note(Missing, "lowest of the year", "%d whole winters", n)
		return
	}
	c.Normals.YearLowestC, c.Normals.YearLowestKnown = lowest, true
}

// sun sets daily sun, or clearness from the days' range of temperature.
func (c *climateMaker) sun() {
	if means, ok := monthlyOf(c.months, func(d recordDay) float64 { return d.SunWhM2 / 1e3 }).means(); ok {
		c.Normals.DailySunKWhM2 = means
		return
	}
	clearness, _ := monthlyOf(c.months, func(d recordDay) float64 { return rangeClearnessOf(d.HighC - d.LowC) }).means()
	c.Normals.Clearness = clearness
	c.note(Assumed, "sun", "clearness from the days' range of temperature, Hargreaves: the record has no sun in every month")
}

// rest sets wet days, precipitation, dew point, wind and snowfall where the record has them.
func (c *climateMaker) rest() {
	scaled := func(value func(recordDay) float64) ([12]float64, bool) {
		means, ok := monthlyOf(c.months, value).means()
		for m := range means {
			means[m] *= float64(daysIn[m])
		}
		return means, ok
	}
	share := func(value float64, limit float64) float64 {
		switch {
		case math.IsNaN(value):
			return value
		case value >= limit:
			return 1
		}
		return 0
	}
	wet, ok := scaled(func(d recordDay) float64 { return share(d.RainMM, wetDayMM-1e-9) })
	sum, _ := scaled(func(d recordDay) float64 {
		if d.RainMM < wetDayMM-1e-9 { // six equal hours of it sum up to a little less
			return 0
		}
		return d.RainMM
	})
	if ok {
		c.Normals.WetDays, c.Normals.PrecipMM = wet, sum
	} else {
		c.note(Missing, "precipitation", "not in every month of %d years: no day is wet", fewestYears)
	}
	if means, ok := monthlyOf(c.months, func(d recordDay) float64 { return d.DewPointC }).means(); ok {
		c.Normals.DewPointC = means[:]
	}
	if means, ok := monthlyOf(c.months, func(d recordDay) float64 { return d.windMS() }).means(); ok {
		c.Normals.WindMS = means
	}
	fresh, ok := scaled(func(d recordDay) float64 {
		if d.fallM() < snowDayM {
			return 0
		}
		return d.fallM()
	})
	if days, _ := scaled(func(d recordDay) float64 { return share(d.fallM(), snowDayM) }); ok {
		c.Normals.SnowfallM, c.Normals.SnowDays = fresh, days
	}
}

// Clearness is the global of a day over what arrives outside the air, from its sum [Wh/m2]; NaN where nothing arrives. date is any instant of the day.
func (p Place) Clearness(date time.Time, sumWhM2 float64) float64 {
	zone := Zone(time.Duration(math.Round(p.LongitudeDeg/15)) * time.Hour)
	y, m, d := date.Date()
	midnight := time.Date(y, m, d, 0, 0, 0, 0, zone)
	extra := 0.0
	for h := range 24 {
		extra += extraLevelWM2(sun.OverHour(p.sun(), midnight.Add(time.Duration(h+1)*time.Hour)))
	}
	if extra < leastExtra {
		return math.NaN()
	}
	return sumWhM2 / extra
}
