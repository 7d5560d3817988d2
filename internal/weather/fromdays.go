package weather

import (
	"fmt"
	"math"
	"time"

	"suncellar/internal/sun"
)

// Day is one day of a daily record. An unknown value is NaN.
type Day struct {
	LowC, HighC float64 // lowest and highest air temperature [°C]
	SunWhM2     float64 // global sun on level ground, sum of the day [Wh/m2]
	DewPointC   float64 // mean of the day [°C]
	RainMM      float64 // precipitation as liquid, sum of the day [mm]
	WindMS      float64 // mean of the day [m/s]; 0 as well as NaN is not known: no day passes without a breath of wind
	Snow        DaySnow // the zero value is not known
}

// DaySnow is the snow of one day of a daily record.
type DaySnow struct {
	Known  bool    // of what stands below at least one is a number
	FallM  float64 // fresh snow of the day, depth as it falls [m]
	LyingM float64 // snow on level ground about noon [m]
}

// windMS is the wind of the day, NaN where it is not known.
func (d Day) windMS() float64 {
	if d.WindMS == 0 {
		return math.NaN()
	}
	return d.WindMS
}

// snow is what fell and what lies, NaN where it is not known.
func (d Day) snow() (fallM, lyingM float64) {
	if !d.Snow.Known {
		return math.NaN(), math.NaN()
	}
	return d.Snow.FallM, d.Snow.LyingM
}

// rainHoursOfDay is how long the precipitation of a day falls [h], round its middle; no source.
const rainHoursOfDay = 6

// FromDays makes hours of a daily record that begins at midnight of start. Lowest, highest and sums of a day are kept; when in the day they
// come is made:
//
//   - air: the shape of Campbell and Norman 1998 (airAt)
//   - sun: r = (a + b cos w) times what arrives outside the air, scaled to the day's sum; a = 0.409 + 0.5016 sin(ws - 60°),
//     b = 0.6609 - 0.4767 sin(ws - 60°), w the hour angle, ws that of sunset
//   - dew point: straight lines between the days' noons, nowhere above the air
//   - wind and snow lying: straight lines between the days' noons, so that calm nights and gusty noons are not made
//   - precipitation and fresh snow: evenly over six hours round noon
//
// A gap of up to three days in lows, highs, dew points and wind is bridged by straight lines and told; other values stay unknown, wind and snow too where
// days do not know them: see Complete. It fails where a longer gap in lows or highs is found.
//
// Source of the sun's share: Collares-Pereira and Rabl, Solar Energy 22:155, 1979, eq. 19.
func FromDays(start time.Time, place Place, days []Day) (Series, error) {
	if !place.PositionKnown {
		return Series{}, fmt.Errorf("hours from days: latitude and longitude must be known")
	}
	s := emptySeries(start, 24*len(days))
	s.Place = place
	list := make([]dayWeather, len(days))
	held := heldDays{make([]float64, len(days)), make([]float64, len(days)), make([]float64, len(days))}
	fresh := make([]float64, len(days))
	for d, day := range days {
		list[d] = dayWeather{lowC: day.LowC, highC: day.HighC}
		held.dew[d], held.wind[d] = day.DewPointC, day.windMS()
		fresh[d], held.lying[d] = day.snow()
	}
	if err := bridgeDays(&s, list, held); err != nil {
		return Series{}, err
	}
	suns := sunHours(s)
	for i := range s.Hours {
		h, d := &s.Hours[i], i/24
		solar := float64(i%24+1) + solarAhead(s, suns[d*24+12])
		h.AirC = airAt(list, d, solar, 0)
		h.DewPointC = min(h.AirC, overNoons(held.dew, i))
		h.WindMS, h.SnowDepthM = overNoons(held.wind, i), overNoons(held.lying, i)
		h.RainMM, h.SnowfallM = 0, 0*fresh[d]
		if k := i % 24; k >= 12-rainHoursOfDay/2 && k < 12+rainHoursOfDay/2 {
			h.RainMM, h.SnowfallM = days[d].RainMM/rainHoursOfDay, fresh[d]/rainHoursOfDay
		}
	}
	for d := range days {
		sunOfDay(s.Hours[d*24:d*24+24], suns[d*24:d*24+24], solarAhead(s, suns[d*24+12]), days[d].SunWhM2, place)
	}
	s.note(Made, "hours", 0, len(s.Hours), "from %d days: lowest, highest and sums are observed, the course of the day is not", len(days))
	return s, nil
}

// solarAhead is by how many hours the sun's clock is ahead of the zone's.
func solarAhead(s Series, noon sun.Span) float64 {
	_, offset := s.Start.Zone()
	return s.Place.LongitudeDeg/15 - float64(offset)/3600 + noon.EquationOfTime.Hours()
}

// sunOfDay shares out the sum of a day [Wh/m2] over its hours.
func sunOfDay(hours []Hour, suns []sun.Span, ahead, sum float64, place Place) {
	sunset := math.Acos(clamp(-math.Tan(place.LatitudeDeg*math.Pi/180)*math.Tan(float64(suns[12].Declination)), -1, 1))
	turn := math.Sin(sunset - math.Pi/3)
	a, b := 0.409+0.5016*turn, 0.6609-0.4767*turn
	weight, all := make([]float64, len(hours)), 0.0
	for i := range hours {
		w := (float64(i) + 0.5 + ahead - 12) * math.Pi / 12
		weight[i] = max(0, a+b*math.Cos(w)) * extraLevelWM2(suns[i])
		all += weight[i]
	}
	for i := range hours {
		if all > 0 {
			hours[i].GlobalWM2 = sum * weight[i] / all
		} else {
			hours[i].GlobalWM2 = 0
		}
	}
}

// heldDays are values that run on straight lines between the days' noons.
type heldDays struct{ dew, wind, lying []float64 }

// bridgeDays fills gaps of up to three days.
func bridgeDays(s *Series, list []dayWeather, held heldDays) error {
	for _, q := range []struct {
		name string
		at   func(d int) *float64
		must bool
	}{
		{"lowest air temperature", func(d int) *float64 { return &list[d].lowC }, true},
		{"highest air temperature", func(d int) *float64 { return &list[d].highC }, true},
		{"dew point", func(d int) *float64 { return &held.dew[d] }, false},
		{"wind", func(d int) *float64 { return &held.wind[d] }, false},
	} {
		for first := 0; first < len(list); first++ {
			if !math.IsNaN(*q.at(first)) {
				continue
			}
			after := first
			for after < len(list) && math.IsNaN(*q.at(after)) {
				after++
			}
			if first == 0 || after == len(list) || after-first > 3 {
				if q.must {
					return fmt.Errorf("hours from days: %s is missing for %d days from %s; at most 3 between known ones are bridged", q.name, after-first, s.HourStart(24*first).Format("2006-01-02"))
				}
				first = after
				continue
			}
			a, b := *q.at(first - 1), *q.at(after)
			for d := first; d < after; d++ {
				*q.at(d) = a + (b-a)*float64(d-first+1)/float64(after-first+1)
			}
			s.note(Filled, q.name, 24*first, 24*(after-first), "between the days beside it")
			first = after
		}
	}
	return nil
}

// WithSnowFromRain returns s with the precipitation of hours whose air is below +1 °C fallen as snow, and the snow lying and albedo that follow
// (Pack). Precipitation that is not known counts as none. A gauge that is not heated or shielded catches less than falls.
func (s Series) WithSnowFromRain() Series {
	s = s.Clone()
	total := 0.0
	for i := range s.Hours {
		h := &s.Hours[i]
		h.SnowfallM = 0
		if p := known(h.RainMM); p > 0 && h.AirC < warmestSnowC {
			h.SnowfallM = p / FreshDensity(h.AirC)
			total += h.SnowfallM
		}
	}
	s.note(Derived, "snowfall", -1, len(s.Hours), "precipitation in air below %g °C, %.2f m in all", warmestSnowC, total)
	return s.WithPack(GroundUnderSnow{})
}
