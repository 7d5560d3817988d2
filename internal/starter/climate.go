package starter

import (
	"fmt"
	"time"

	"suncellar/internal/weather"
)

// FromClimate writes the normals of a long record, named source, as a plan has them.
func FromClimate(c weather.Climate, source string) Normals {
	n := c.Normals
	out := Normals{Source: "monthly figures of " + source, MeanLow: row(n.MeanLowC, "degC", 1), MeanHigh: row(n.MeanHighC, "degC", 1), Sun: row(dailySun(c), "kWh/m2d", 2),
		Precipitation: row(n.PrecipMM, "mm", 0), WetDays: row(n.WetDays, "", 1), Wind: row(n.WindOrAssumed(), "m/s", 1)}
	if len(n.DewPointC) == 12 {
		out.DewPoint = row([12]float64(n.DewPointC), "degC", 1)
	}
	if n.YearLowestKnown {
		out.YearLowest = fmt.Sprintf("%.1f degC", n.YearLowestC)
	}
	for _, known := range []struct {
		to *string
		k  [12]float64
	}{{&out.MonthSpread, c.Spread.MonthK}, {&out.LowSpread, c.Spread.LowK}, {&out.HighSpread, c.Spread.HighK}} {
		if known.k != ([12]float64{}) {
			*known.to = row(known.k, "K", 2)
		}
	}
	for _, note := range c.Notes {
		out.Notes = append(out.Notes, note.What+": "+note.Text)
	}
	if n.WindMS == ([12]float64{}) {
		out.Notes = append(out.Notes, fmt.Sprintf("wind: the record has none, %g m/s is assumed", n.WindOrAssumed()[0]))
	}
	return out
}

// dailySun is the sun of each month's days; where the record gives clearness alone, times what arrives outside the air [kWh/m2].
func dailySun(c weather.Climate) [12]float64 {
	out := c.Normals.DailySunKWhM2
	if out != ([12]float64{}) {
		return out
	}
	for m := range out {
		days := 0
		for date := time.Date(2001, time.Month(m+1), 1, 0, 0, 0, 0, time.UTC); int(date.Month()) == m+1; date = date.AddDate(0, 0, 1) {
			if k := c.Place.Clearness(date, 1000); k > 0 {
				out[m] += c.Normals.Clearness[m] / k // kWh: a clearness of k is 1 kWh
			}
			days++
		}
		out[m] /= float64(days)
	}
	return out
}
