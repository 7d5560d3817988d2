package weather

import (
	"fmt"
	"math"

	moist "suncellar/internal/air"
	"suncellar/internal/sun"
)

// Defaults of Complete, each told in the notes when it is used.
const (
	// assumedWindMS is the wind where nothing is known of it [m/s]; the value FAO paper 56 (Allen et al. 1998, ch. 3)
	// takes for want of data, the mean of 2,000 stations.
	assumedWindMS = 2.0
	// assumedTurbidity is the Linke turbidity of the cloudless sky that clearness is held against:
	// between clean winter air (2) and rural summer (3); values from memory.
	assumedTurbidity = 2.5
	// assumedCloud is the cloud where the sun never says anything (polar night); no source.
	assumedCloud = 0.5
	// interiorRange is k of Hargreaves for places away from coasts, FAO paper 56, eq. 50 [K^-0.5].
	interiorRange = 0.16
)

// Complete derives what s lacks and says so in the notes; what the place of s lacks is taken from site. Nothing that s
// knows is changed. After it no value is NaN except snow and ground albedo.
//
//   - pressure: standard atmosphere at the elevation (air.StandardPressure)
//   - wind: 2 m/s
//   - dew point: the lowest air temperature of the calendar day (FAO paper 56, eq. 48)
//   - global: beam sin h + diffuse; else from cloud (Kasten and Czeplak 1980); else from the day's range of
//     temperature (Hargreaves, FAO paper 56, eq. 50)
//   - beam and diffuse: from global by Erbs (sun.Split), or one from the other two
//   - cloud: what global lacks to a cloudless sky (sun.CloudShare), carried through the night from evening to morning
//   - sky longwave: Prata 1996 with that cloud (sun.SkyLongwaveWM2)
//   - rain: none
//
// It fails when the place is not known, or air temperature is not.
func Complete(s Series, site Place) (Series, error) {
	s = s.Clone()
	s.Place = s.Place.filledFrom(site)
	if !s.Place.PositionKnown || !s.Place.ElevationKnown {
		return Series{}, fmt.Errorf("completing weather %s: latitude, longitude and elevation must be known", s.Name)
	}
	for i, h := range s.Hours {
		if math.IsNaN(h.AirC) {
			return Series{}, fmt.Errorf("completing weather %s: air temperature of the hour from %s is not known", s.Name, stamp(s.HourStart(i)))
		}
	}
	if s.lacks() {
		completion{&s, sunHours(s), nil}.all()
	}
	return s, nil
}

// lacks tells whether anything that Complete gives is unknown in any hour.
func (s *Series) lacks() bool {
	for i := range s.Hours {
		h := &s.Hours[i]
		sum := h.DewPointC + h.PressurePa + h.WindMS + h.GlobalWM2 + h.BeamWM2 + h.DiffuseWM2 + h.SkyLongwaveWM2 + h.CloudShare + h.RainMM
		if sum != sum {
			return true
		}
	}
	return false
}

// completion is a series under way to being complete.
type completion struct {
	*Series
	suns  []sun.Span
	clear []float64 // global of the cloudless sky [W/m2], where it is known beforehand
}

// all fills what the series lacks, in the order in which one thing follows from another.
func (c completion) all() {
	c.setPressure()
	c.fill(wind, Assumed, "2 m/s", func(int) float64 { return assumedWindMS })
	lows := c.dailyLows()
	c.fill(dewPoint, Assumed, "the lowest air temperature of the day", func(i int) float64 { return min(lows[i], c.Hours[i].AirC) })
	c.sun()
	c.cloud()
	c.fill(skyLongwave, Derived, "Prata's clear sky with cloud, from air, dew point and cloud", c.longwave)
	c.fill(rain, Assumed, "none", func(int) float64 { return 0 })
}

func (c completion) setPressure() {
	c.fill(pressure, Derived, "standard atmosphere at the elevation", func(int) float64 { return moist.StandardPressure(c.Place.ElevationM) })
}

// fill sets the hours in which q is not known and notes how many.
func (c completion) fill(q quantity, kind NoteKind, how string, value func(i int) float64) {
	first, count := -1, 0
	for i := range c.Hours {
		v := c.Hours[i].value(q)
		if !math.IsNaN(*v) {
			continue
		}
		if *v = value(i); math.IsNaN(*v) {
			continue
		}
		if count == 0 {
			first = i
		}
		count++
	}
	if count > 0 {
		c.note(kind, facts[q].name, first, count, "%s", how)
	}
}

// dailyLows is the lowest air temperature of the calendar day of each hour [°C].
func (c completion) dailyLows() []float64 {
	lows := make([]float64, len(c.Hours))
	for _, d := range c.days() {
		low := math.Inf(1)
		for i := d.first; i < d.after; i++ {
			low = min(low, c.Hours[i].AirC)
		}
		for i := d.first; i < d.after; i++ {
			lows[i] = low
		}
	}
	return lows
}

// sun fills global, then splits it.
func (c completion) sun() {
	c.fill(global, Derived, "beam times the sine of the sun's elevation, and diffuse", func(i int) float64 {
		h := c.Hours[i]
		return h.BeamWM2*max(0, c.suns[i].Elevation.Sin()) + h.DiffuseWM2
	})
	c.fill(global, Assumed, "from cloud, Kasten and Czeplak 1980", func(i int) float64 {
		// G = G_clear (1 - 0.75 N^3.4); Kasten and Czeplak, Solar Energy 24:177, 1980, eq. 4
		return c.clearGlobal(i) * (1 - 0.75*math.Pow(c.Hours[i].CloudShare, 3.4))
	})
	clearness := c.rangeClearness()
	c.fill(global, Assumed, "from the day's range of temperature, Hargreaves", func(i int) float64 {
		return clearness[i] * extraLevelWM2(c.suns[i])
	})
	c.fill(diffuse, Derived, "global less beam", func(i int) float64 {
		h := c.Hours[i]
		return max(0, h.GlobalWM2-h.BeamWM2*max(0, c.suns[i].Elevation.Sin()))
	})
	c.fill(beam, Derived, "global less diffuse", func(i int) float64 {
		return c.beamOf(i, c.Hours[i].GlobalWM2-c.Hours[i].DiffuseWM2)
	})
	// the split sets both, so the order beam, diffuse does not count
	c.fill(beam, Derived, "from global, Erbs", func(i int) float64 { return sun.Split(c.Hours[i].GlobalWM2, c.suns[i]).BeamNormalWM2 })
	c.fill(diffuse, Derived, "from global, Erbs", func(i int) float64 { return sun.Split(c.Hours[i].GlobalWM2, c.suns[i]).DiffuseWM2 })
}

// beamOf is the beam whose level part is given [W/m2], no more than outside the air; none below 3°, where the ratio says nothing.
func (c completion) beamOf(i int, levelWM2 float64) float64 {
	if math.IsNaN(levelWM2) {
		return levelWM2
	}
	s := c.suns[i]
	if s.UpShare == 0 || s.Elevation < sun.Degrees(3) {
		return 0
	}
	return min(max(0, levelWM2)/s.Elevation.Sin(), s.UpShare*s.ExtraterrestrialWM2())
}

// clearGlobal is the global of the cloudless sky over hour i [W/m2].
func (c completion) clearGlobal(i int) float64 {
	if c.clear != nil {
		return c.clear[i]
	}
	haze := sun.Haze{LinkeTurbidity: assumedTurbidity, ElevationM: c.Place.ElevationM, PressurePa: c.Hours[i].PressurePa}
	return sun.ClearSky(haze, c.suns[i]).GlobalWM2(c.suns[i])
}

// rangeClearnessOf is a day's clearness from its range of air temperature [K]: 0.16 sqrt(Tmax - Tmin), 0.05 to 0.75.
//
// Source: Hargreaves and Samani 1982, in Allen et al., FAO paper 56, 1998, eq. 50.
func rangeClearnessOf(rangeK float64) float64 {
	return min(0.75, max(0.05, interiorRange*math.Sqrt(rangeK)))
}

// rangeClearness is the clearness of the day of each hour (rangeClearnessOf).
func (c completion) rangeClearness() []float64 {
	out := make([]float64, len(c.Hours))
	for _, d := range c.days() {
		low, high := math.Inf(1), math.Inf(-1)
		for i := d.first; i < d.after; i++ {
			low, high = min(low, c.Hours[i].AirC), max(high, c.Hours[i].AirC)
		}
		k := rangeClearnessOf(high - low)
		for i := d.first; i < d.after; i++ {
			out[i] = k
		}
	}
	return out
}

// longwave is the sky's longwave over hour i, from the mean of the states at its two ends [W/m2].
func (c completion) longwave(i int) float64 {
	h, before := c.Hours[i], c.Hours[max(0, i-1)]
	return sun.SkyLongwaveWM2(sun.SkyState{
		AirC:       (h.AirC + before.AirC) / 2,
		DewPointC:  (h.DewPointC + before.DewPointC) / 2,
		CloudShare: h.CloudShare,
	})
}
