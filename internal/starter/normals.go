package starter

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/weather"
)

// Normals are twelve monthly values each, January first, as they are written in a plan: values with units, parted by commas.
type Normals struct {
	Source                                                         string
	MeanLow, MeanHigh, Sun, Precipitation, WetDays, Wind, DewPoint string
	YearLowest                                                     string
	MonthSpread, LowSpread, HighSpread                             string   // "": not known
	Notes                                                          []string // what of them is not from the source, for people
}

// wetMM is the rain from which a day counts as wet [mm], as the plan's key says.
const wetMM = 0.2

// What stands in where a file has no rain: a day is wet where clouds cover most of it, with as much rain as cold, dry places have on
// a wet day. Own judgement.
const (
	wetCloud   = 0.85
	assumedMM  = 3.0
	driestYear = 30.0 // less than this in a whole year is no record of rain [mm]
)

// FromYear sums a complete year of hourly weather up to monthly normals. Errors: a series that is not twelve whole months.
func FromYear(s weather.Series) (Normals, error) {
	months := s.Months()
	if len(months) != 12 || len(s.Hours) < 8760 {
		return Normals{}, fmt.Errorf("weather %s has %d months and %d hours, must be one whole year to give normals", s.Name, len(months), len(s.Hours))
	}
	n := Normals{Source: "monthly figures of " + s.Name}
	lowest, rain := math.Inf(1), 0.0
	var low, high, sun, fall, wet, wind, dew [12]float64
	for _, m := range months {
		k := int(m.Month) - 1
		low[k], high[k], wind[k] = m.MeanLowC, m.MeanHighC, m.WindMS
		sun[k] = m.GlobalKWhM2 / float64(m.Hours) * 24
		fall[k] = m.RainMM
		rain += m.RainMM
		lowest = math.Min(lowest, m.LowestC)
	}
	var hours [12]float64
	var dayRain, dayCloud float64
	dry := rain < driestYear || doubted(s.Notes)
	for i, h := range s.Hours {
		k := int(s.HourStart(i).Month()) - 1
		dew[k] += h.DewPointC
		hours[k]++
		dayRain += nought(h.RainMM)
		dayCloud += h.CloudShare / 24
		if s.HourStart(i+1).Hour() != 0 {
			continue
		}
		if dry && dayCloud > wetCloud || !dry && dayRain >= wetMM {
			wet[k]++
		}
		dayRain, dayCloud = 0, 0
	}
	for k := range dew {
		dew[k] /= hours[k]
		if dry {
			fall[k] = wet[k] * assumedMM
		}
		if fall[k] > 0 && wet[k] == 0 {
			wet[k] = 1
		}
	}
	n.MeanLow, n.MeanHigh, n.DewPoint = row(low, "degC", 1), row(high, "degC", 1), row(dew, "degC", 1)
	n.Sun, n.Precipitation, n.WetDays, n.Wind = row(sun, "kWh/m2d", 2), row(fall, "mm", 0), row(wet, "", 0), row(wind, "m/s", 1)
	n.YearLowest = fmt.Sprintf("%.1f degC", lowest)
	n.Notes = append(n.Notes, "year_lowest is the lowest hour of this one year; the mean of many years is better")
	if dry {
		n.Notes = append(n.Notes, "the file holds no rain to rely on: a day counts as wet where clouds cover it, with 3 mm (own judgement)")
	}
	return n, nil
}

// doubted tells whether the reader itself doubts the rain of the file, as it does for typical years.
func doubted(notes []weather.Note) bool {
	for _, n := range notes {
		if n.Kind == weather.Flagged && n.What == "rain" {
			return true
		}
	}
	return false
}

func nought(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// row writes twelve values with their unit.
func row(v [12]float64, unit string, decimals int) string {
	cells := make([]string, 12)
	for k, x := range v {
		cells[k] = strings.TrimSpace(fmt.Sprintf("%.*f %s", decimals, x+0, unit))
		if strings.HasPrefix(cells[k], "-0") && strings.Trim(cells[k][:2+decimals], "-0.") == "" && x > -math.Pow(10, float64(-decimals))/2 {
			cells[k] = cells[k][1:]
		}
	}
	return strings.Join(cells, ", ")
}
