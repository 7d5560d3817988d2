package validation

import (
	"math"
	"slices"
	"time"

	records "suncellar/internal/record"
	"suncellar/internal/weather"
)

// coldDays is one winter, 1 October to 30 April without 29 February: what the figures of made winters are counted on, in records and in made years alike.
type coldDays struct {
	low, high []float64 // [°C], no gaps
	clear     []float64 // clearness, NaN where not known
	month     []int     // 0 for January
	year      int       // of its October, in a record
	dark      bool      // sun is known well enough for runs of dull days
}

const coldLength = 212

func (c coldDays) mean(d int) float64 { return (c.low[d] + c.high[d]) / 2 }

// clearTable is what arrives outside the air on each day of the winter [Wh/m2].
func clearTable(place weather.Place) []float64 {
	out := make([]float64, coldLength)
	for d := range out {
		out[d] = 1 / place.Clearness(time.Date(2001, 10, 1+d, 12, 0, 0, 0, time.UTC), 1)
	}
	return out
}

// recordWinters are those of a record with no gap of more than longestBridge days in lows and highs.
func recordWinters(r *records.Record) []coldDays {
	extra := clearTable(r.Place)
	var out []coldDays
	for first := range r.Days {
		if date := r.Date(first); date.Month() != time.October || date.Day() != 1 || first+coldLength+1 > len(r.Days) {
			continue
		}
		c := coldDays{year: r.Date(first).Year()}
		for d := first; len(c.low) < coldLength; d++ {
			date := r.Date(d)
			if date.Month() == time.February && date.Day() == 29 {
				continue
			}
			day := r.Days[d]
			c.low, c.high, c.month = append(c.low, day.LowC), append(c.high, day.HighC), append(c.month, int(date.Month())-1)
			c.clear = append(c.clear, day.SunWhM2/extra[len(c.clear)])
		}
		gaps := 0
		for _, k := range c.clear {
			if math.IsNaN(k) {
				gaps++
			}
		}
		c.dark = gaps <= mostDarkGaps
		if bridged(c.low) && bridged(c.high) {
			out = append(out, c)
		}
	}
	return out
}

// bridged fills gaps of up to longestBridge days between known ones; false where there is another.
func bridged(v []float64) bool {
	for first := 0; first < len(v); first++ {
		if !math.IsNaN(v[first]) {
			continue
		}
		after := first
		for after < len(v) && math.IsNaN(v[after]) {
			after++
		}
		if first == 0 || after == len(v) || after-first > longestBridge {
			return false
		}
		a, b := v[first-1], v[after]
		for d := first; d < after; d++ {
			v[d] = a + (b-a)*float64(d-first+1)/float64(after-first+1)
		}
	}
	return true
}

// madeWinter is that of a made year.
func madeWinter(s weather.Series, extra []float64) coldDays {
	const autumn = 31 + 31 + 30 // days from 1 July to 1 October
	c := coldDays{dark: true}
	for d := range coldLength {
		hours := s.Hours[24*(autumn+d) : 24*(autumn+d+1)]
		low, high, sun := math.Inf(1), math.Inf(-1), 0.0
		for _, h := range hours {
			low, high, sun = min(low, h.AirC), max(high, h.AirC), sun+h.GlobalWM2
		}
		c.low, c.high, c.clear = append(c.low, low), append(c.high, high), append(c.clear, sun/extra[d])
		c.month = append(c.month, int(s.HourStart(24*(autumn+d)).Month())-1)
	}
	return c
}

// monthMean is the mean air of a month of the winter [°C].
func monthMean(month int) func(coldDays) float64 {
	return func(c coldDays) float64 {
		sum, n := 0.0, 0
		for d, m := range c.month {
			if m == month {
				sum, n = sum+c.mean(d), n+1
			}
		}
		return sum / float64(n)
	}
}

// coldest is the lowest mean of n days in a row [°C].
func coldest(n int) func(coldDays) float64 {
	return func(c coldDays) float64 {
		least := math.Inf(1)
		for first := 0; first+n <= len(c.low); first++ {
			sum := 0.0
			for d := first; d < first+n; d++ {
				sum += c.mean(d) / float64(n)
			}
			least = min(least, sum)
		}
		return least
	}
}

// runsOf are the lengths of runs of days for which is holds.
func runsOf(n int, is func(d int) bool) []float64 {
	var out []float64
	run := 0
	for d := range n + 1 {
		if d < n && is(d) {
			run++
			continue
		}
		if run > 0 {
			out = append(out, float64(run))
		}
		run = 0
	}
	return out
}

func longestOf(runs []float64) float64 {
	if len(runs) == 0 {
		return 0
	}
	return slices.Max(runs)
}

func lowFrost(c coldDays) []float64 {
	return runsOf(len(c.low), func(d int) bool { return c.low[d] < 0 })
}
func highFrost(c coldDays) []float64 {
	return runsOf(len(c.low), func(d int) bool { return c.high[d] < 0 })
}
func dullRuns(c coldDays) []float64 {
	return runsOf(len(c.low), func(d int) bool { return c.clear[d] < dullLimit })
}

// joint is 100 where a winter has that many dull days in a row with their mean air below a limit, else 0.
func joint(days int, belowC float64) func(coldDays) float64 {
	return func(c coldDays) float64 {
		for first := 0; first+days <= len(c.low); first++ {
			sum, dull := 0.0, true
			for d := first; d < first+days; d++ {
				sum += c.mean(d) / float64(days)
				dull = dull && c.clear[d] < dullLimit
			}
			if dull && sum < belowC {
				return 100
			}
		}
		return 0
	}
}

// statistic is a figure of many winters.
type statistic func([]coldDays) float64

func overWinters(of func(coldDays) float64) statistic {
	return func(list []coldDays) float64 {
		sum := 0.0
		for _, c := range list {
			sum += of(c)
		}
		return sum / float64(len(list))
	}
}

func deviationOf(of func(coldDays) float64) statistic {
	return func(list []coldDays) float64 {
		mean, squares := overWinters(of)(list), 0.0
		for _, c := range list {
			squares += (of(c) - mean) * (of(c) - mean)
		}
		return math.Sqrt(squares / float64(len(list)-1))
	}
}

// quantileOf is what a share of winters stays below, on straight lines between them.
func quantileOf(share float64, of func(coldDays) float64) statistic {
	return func(list []coldDays) float64 {
		values := make([]float64, len(list))
		for i, c := range list {
			values[i] = of(c)
		}
		slices.Sort(values)
		at := share * float64(len(values)-1)
		i := min(int(at), len(values)-2)
		return values[i] + (at-float64(i))*(values[i+1]-values[i])
	}
}

// meanRun is the mean length of all runs of all winters [d].
func meanRun(runs func(coldDays) []float64) statistic {
	return func(list []coldDays) float64 {
		sum, n := 0.0, 0.0
		for _, c := range list {
			for _, r := range runs(c) {
				sum, n = sum+r, n+1
			}
		}
		return sum / math.Max(1, n)
	}
}

// together is the correlation, December to February, of a on a day with b some days later, both less their mean of all winters on their day.
func together(a, b func(c coldDays, d int) float64, later int) statistic {
	const from, to = 61, 151 // 1 December, 1 March
	return func(list []coldDays) float64 {
		var ab, aa, bb float64
		for d := from; d < to-later; d++ {
			var ma, mb, n float64
			for _, c := range list {
				if x, y := a(c, d), b(c, d+later); !math.IsNaN(x + y) {
					ma, mb, n = ma+x, mb+y, n+1
				}
			}
			for _, c := range list {
				if x, y := a(c, d)-ma/n, b(c, d+later)-mb/n; !math.IsNaN(x + y) {
					ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
				}
			}
		}
		return ab / math.Sqrt(aa*bb)
	}
}

func dayLow(c coldDays, d int) float64   { return c.low[d] }
func dayHigh(c coldDays, d int) float64  { return c.high[d] }
func dayClear(c coldDays, d int) float64 { return c.clear[d] }
