package weather

import (
	"time"

	"suncellar/internal/sun"
)

// sunHours returns the sun over every hour; nil when the position of the place is not known.
func sunHours(s Series) []sun.Span {
	if !s.Place.PositionKnown {
		return nil
	}
	place := s.Place.sun()
	out := make([]sun.Span, len(s.Hours))
	for i := range out {
		out[i] = sun.OverHour(place, s.HourStart(i+1))
	}
	return out
}

// sun is the place as the sun package takes it; an unknown elevation is sea level.
func (p Place) sun() sun.Place {
	return sun.Place{Latitude: sun.Degrees(p.LatitudeDeg), Longitude: sun.Degrees(p.LongitudeDeg), ElevationM: p.ElevationM}
}

// levelShare is what a level plane gets of a beam of one as a mean over the hour: the share of the hour
// the sun is up times the sine of its elevation.
func levelShare(s sun.Span) float64 { return s.UpShare * max(0, s.Elevation.Sin()) }

// extraLevelWM2 is the mean of the hour on a level plane outside the air [W/m2].
func extraLevelWM2(s sun.Span) float64 { return s.ExtraterrestrialWM2() * levelShare(s) }

// allDark tells whether the sun is known to be down in all hours first to after-1.
func (s Series) allDark(first, after int) bool {
	if !s.Place.PositionKnown {
		return false
	}
	for i := first; i < after; i++ {
		if sun.OverHour(s.Place.sun(), s.HourStart(i+1)).UpShare > 0 {
			return false
		}
	}
	return true
}

// Limits above which sun is flagged. Cloud edges can lift an hour's global a little above the clear sky, never
// far above what arrives outside the air; the fixed part allows for sunrise hours and rounding.
const (
	overExtra     = 1.2    // times what arrives outside the air
	overExtraWM2  = 25.0   // [W/m2]
	leastExtraWM2 = 1300.0 // what a beam may always have: the least of the year outside the air is 1316 [W/m2]
)

// flagSun notes sun that the sky cannot have sent: it is kept, since a file's clock running against
// the sun shows in the same way and cannot be told from it by the hour.
func flagSun(s *Series) {
	if !s.Place.PositionKnown {
		return
	}
	place := s.Place.sun()
	count, first, worst := 0, -1, 0.0
	for i, h := range s.Hours {
		if !(h.GlobalWM2 > overExtraWM2 || h.BeamWM2 > leastExtraWM2) {
			continue
		}
		end := s.HourStart(i + 1)
		if ok, _ := possible(h, sun.Instant(place, end.Add(-30*time.Minute))); ok {
			continue // the middle of the hour is enough to clear it, and a quarter of the work
		}
		ok, over := possible(h, sun.OverHour(place, end))
		if ok {
			continue
		}
		if count == 0 {
			first = i
		}
		count++
		worst = max(worst, over)
	}
	if count > 0 {
		s.note(Flagged, "sun", first, count, "above 1.2 times what arrives outside the air, by up to %.0f W/m2; the file's clock or place may be wrong", worst)
	}
}

// possible tells whether the hour's sun lies within the limits, and how far it is above 1.2 times what arrives outside the air [W/m2].
func possible(h Hour, span sun.Span) (ok bool, overWM2 float64) {
	globalOver := h.GlobalWM2 - overExtra*extraLevelWM2(span)
	beamOver := h.BeamWM2 - span.ExtraterrestrialWM2()
	return !(globalOver > overExtraWM2 || beamOver > 0), max(globalOver, beamOver)
}
