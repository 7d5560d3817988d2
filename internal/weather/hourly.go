package weather

import (
	"math"
	"slices"
	"time"
)

// temperatureShape is where air stands between the day's lowest (0) and highest (1) temperature at a solar hour, 0 to 24:
//
//	Γ = 0.44 - 0.46 sin(ω t + 0.9) + 0.11 sin(2 ω t + 0.9), ω = π/12
//
// Source: Campbell and Norman, An Introduction to Environmental Biophysics, 1998, eq. 2.2.
func temperatureShape(solarHour float64) float64 {
	w := math.Pi / 12 * solarHour
	return 0.44 - 0.46*math.Sin(w+0.9) + 0.11*math.Sin(2*w+0.9)
}

// airAt is the air [°C] at a solar hour of day d: until 5 h between the highest of the day before and today's lowest, from 14 h
// between today's highest and tomorrow's lowest. Campbell and Norman 1998, eq. 2.3. The shape g becomes g + bend g (1-g), which lifts (above 0) or lowers
// the mean and leaves lowest and highest where they are.
func airAt(days []dayWeather, d int, solarHour, bend float64) float64 {
	n := len(days)
	if solarHour < 0 {
		d, solarHour = (d+n-1)%n, solarHour+24
	}
	if solarHour >= 24 {
		d, solarHour = (d+1)%n, solarHour-24
	}
	high, low := days[d].highC, days[d].lowC
	if solarHour < 5 {
		high = days[(d+n-1)%n].highC
	}
	if solarHour > 14 {
		low = days[(d+1)%n].lowC
	}
	g := clamp(temperatureShape(solarHour), 0, 1)
	g += bend * g * (1 - g)
	return high*g + low*(1-g)
}

// finalRounds bring monthly means to the normals within some hundredths of a kelvin.
const finalRounds = 16

// air fills the air temperature. Where the lowest of the year is given, the days' distances from their month's mean are stretched until it is met.
func (m maker) air(n Normals) {
	if !n.YearLowestKnown {
		m.meetMonths(n, finalRounds)
		m.series.note(Flagged, "air temperature", -1, len(m.series.Hours), "the lowest of the year is not given: cold spells of such years are too mild")
		return
	}
	drawn := slices.Clone(m.days) // beyond four times the generator's spread the days are no weather any more
	least, most := 0.2, 4.0
	for range 12 {
		factor := (least + most) / 2
		copy(m.days, stretched(drawn, n, factor))
		m.meetMonths(n, 4)
		if m.lowest() > n.YearLowestC {
			least = factor
		} else {
			most = factor
		}
	}
	m.meetMonths(n, finalRounds)
	m.series.note(Made, "air temperature", -1, len(m.series.Hours), "days of the coldest month stretched %.2f times about their mean, lowest of the year %.1f °C for %.1f",
		most, m.lowest(), n.YearLowestC)
}

// stretched are the days with their distances from the month's mean times factor in the coldest month, once in the warmest, between by
// how cold the month is.
func stretched(days []dayWeather, n Normals, factor float64) []dayWeather {
	coldest, warmest := slices.Min(n.MeanLowC[:]), slices.Max(n.MeanLowC[:])
	out := slices.Clone(days)
	first := 0
	for m, length := range daysIn {
		month := out[first : first+length]
		first += length
		f := 1 + (factor-1)*(warmest-n.MeanLowC[m])/max(0.1, warmest-coldest)
		low, high := 0.0, 0.0
		for _, d := range month {
			low, high = low+d.lowC/float64(length), high+d.highC/float64(length)
		}
		for i := range month {
			month[i].lowC = low + f*(month[i].lowC-low)
			month[i].highC = max(month[i].lowC+1, high+f*(month[i].highC-high))
		}
	}
	return out
}

func (m maker) lowest() float64 {
	low := math.Inf(1)
	for _, h := range m.series.Hours {
		low = min(low, h.AirC)
	}
	return low
}

// meetMonths sets the hours from the days and corrects the days, and the bend of the day's shape, until the months' mean lows and highs, counted over the
// hours as a station's log would be, and the means meet the normals.
func (m maker) meetMonths(n Normals, rounds int) {
	const perBend = 0.16 // how far the mean rises by a bend of 1, as a share of the day's range, and some more; only sets the pace
	const pace = 0.8
	shift, month := m.solarShift(), monthOf()
	var bend [12]float64
	for range rounds {
		for i := range m.series.Hours {
			d := i / 24
			m.series.Hours[i].AirC = airAt(m.days, d, float64(i%24+1)+shift[d], bend[month[d]])
		}
		for k, got := range m.series.Months() {
			mean := (n.MeanLowC[k] + n.MeanHighC[k]) / 2
			if len(n.MeanC) == 12 {
				mean = n.MeanC[k]
			}
			bend[k] = clamp(bend[k]+(mean-got.MeanC)/(perBend*(n.MeanHighC[k]-n.MeanLowC[k])), -0.95, 0.95)
			for d := range m.days {
				if month[d] == k {
					// never a low above its high: then the lowest hour would follow the high, and the corrections run away
					m.days[d].lowC += pace * (n.MeanLowC[k] - got.MeanLowC)
					m.days[d].highC = max(m.days[d].lowC+1, m.days[d].highC+pace*(n.MeanHighC[k]-got.MeanHighC))
				}
			}
		}
	}
}

// solarShift is by how many hours the sun's clock is ahead of the zone's on each day.
func (m maker) solarShift() []float64 {
	out := make([]float64, len(m.days))
	_, offset := m.series.Start.Zone()
	meridian := m.series.Place.LongitudeDeg/15 - float64(offset)/3600
	for d := range out {
		out[d] = meridian + m.suns[d*24+12].EquationOfTime.Hours()
	}
	return out
}

// dryDewStepK is how far the dew point of a dry day lies below its lowest air [K]; from memory (1 to 2 K).
const dryDewStepK = 1.5

// dewPoint fills the dew point: the lowest temperature of a wet day, 1.5 K less on a dry one, on straight lines between the days' noons, moved by month to
// the normals where they give it, and nowhere above the air.
// The lowest temperature as dew point: FAO paper 56, eq. 48; the dry day's step from memory (1 to 2 K).
func (m maker) dewPoint(n Normals) {
	var dew [365]float64
	for d, day := range m.days {
		dew[d] = day.lowC
		if !day.wet {
			dew[d] -= dryDewStepK
		}
	}
	month := monthOf()
	if len(n.DewPointC) == 12 {
		means := monthMeans(dew)
		for d := range dew {
			dew[d] += n.DewPointC[month[d]] - means[month[d]]
		}
	}
	for i := range m.series.Hours {
		h := &m.series.Hours[i]
		h.DewPointC = min(h.AirC, overNoons(dew[:], i))
	}
	if len(n.DewPointC) == 0 {
		m.series.note(Assumed, "dew point", 0, int(m.series.End().Sub(m.series.Start)/time.Hour), "near the lowest air temperature of the day")
	}
}
