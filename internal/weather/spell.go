package weather

import (
	"fmt"
	"math"
	"time"

	moist "suncellar/internal/air"
	"suncellar/internal/sun"
)

// SpellSpec states a spell of steady weather: what a bare "no sun" leaves open.
type SpellSpec struct {
	Days      int
	MeanC     float64 // mean air temperature [°C]
	SwingK    float64 // highest less lowest air temperature of each day [K]
	Clearness float64 // global over what arrives outside the air, 0 (no sun at all) to 0.8
	Cloud     float64 // share of the sky under cloud, 0 to 1, day and night
	WindMS    float64 // steady [m/s]
	// DewPointBelowK is how far the dew point lies below the lowest air temperature [K]; steady.
	DewPointBelowK float64
	SnowDepthM     float64 // lying all the time on level ground [m]
}

// Check tells what is wrong with the numbers.
func (c SpellSpec) Check() error {
	for _, f := range []struct {
		what             string
		value, low, high float64
	}{
		{"days", float64(c.Days), 1, 400}, {"mean air temperature", c.MeanC, -70, 45}, {"day-night swing", c.SwingK, 0, 40},
		{"clearness", c.Clearness, 0, 0.8}, {"cloud", c.Cloud, 0, 1}, {"wind", c.WindMS, 0, 50},
		{"dew point below the lowest air", c.DewPointBelowK, 0, 30}, {"snow depth", c.SnowDepthM, 0, 10},
	} {
		if !(f.value >= f.low && f.value <= f.high) {
			return fmt.Errorf("spell: %s is %g, must be %g to %g", f.what, f.value, f.low, f.high)
		}
	}
	return nil
}

// hottestClock is the local standard hour of the day's highest temperature in a spell; common practice, no source.
const hottestClock = 15.0

// Spell returns the hours of a spell from the instant start, in start's zone; the same for the same input.
//
// Air is a sine, highest at 15:00, so its mean is exact. Each hour's global is the clearness times what arrives outside
// the air, split by Erbs; sky longwave is Prata's clear sky with the stated cloud.
func Spell(spec SpellSpec, place Place, start time.Time) (Series, error) {
	if err := spec.Check(); err != nil {
		return Series{}, err
	}
	if !place.PositionKnown || !place.ElevationKnown {
		return Series{}, fmt.Errorf("spell: latitude, longitude and elevation must be known")
	}
	_, offset := start.Zone()
	s := emptySeries(start.In(Zone(time.Duration(offset)*time.Second)), spec.Days*24)
	s.Name, s.Place = fmt.Sprintf("spell of %d days at %g °C", spec.Days, spec.MeanC), place
	where := place.sun()
	for i := range s.Hours {
		end := s.HourStart(i + 1)
		s.Hours[i] = spec.hour(end, sun.OverHour(where, end), place.ElevationM)
	}
	s.note(Made, "all", 0, len(s.Hours), "mean %g °C, swing %g K, clearness %g, cloud %g, wind %g m/s", spec.MeanC, spec.SwingK, spec.Clearness, spec.Cloud, spec.WindMS)
	return s, nil
}

// hour is the hour that ends at end.
func (c SpellSpec) hour(end time.Time, span sun.Span, elevationM float64) Hour {
	clock := float64(end.Hour()) + float64(end.Minute())/60
	phase := func(hours float64) float64 { return c.MeanC + c.SwingK/2*math.Cos(2*math.Pi*(hours-hottestClock)/24) }
	dew := c.MeanC - c.SwingK/2 - c.DewPointBelowK
	got := c.Clearness * extraLevelWM2(span)
	light := sun.Split(got, span)
	return Hour{
		AirC: phase(clock), DewPointC: dew, PressurePa: moist.StandardPressure(elevationM), WindMS: c.WindMS,
		GlobalWM2: got, BeamWM2: light.BeamNormalWM2, DiffuseWM2: light.DiffuseWM2,
		SkyLongwaveWM2: sun.SkyLongwaveWM2(sun.SkyState{AirC: phase(clock - 0.5), DewPointC: dew, CloudShare: c.Cloud}),
		CloudShare:     c.Cloud, SnowDepthM: c.SnowDepthM, GroundAlbedo: math.NaN(),
	}
}
