package sun

import (
	"math"
	"time"
)

// HorizonElevation is the geometric elevation of the sun's centre at sunrise and
// sunset, -0.8333°: its radius 0.2667° and the usual bending of light 0.5667°.
// Source: Reda and Andreas 2003, section A.2.
const HorizonElevation Angle = -0.8333 * math.Pi / 180

// Daylight is one day's sun times at a place with a free horizon.
type Daylight struct {
	Rise, Transit, Set time.Time     // Rise and Set are zero where the sun does not cross the horizon
	Length             time.Duration // from rise to set; 0 in polar night, 24 h in polar day
	Noon               Position      // at Transit
}

// Day returns the sun times of a calendar date. The date is read in date's own
// time zone, its hour does not count; times come back in that zone. Of the
// transits the one inside that date is taken, so far from the zone's own
// meridian rise or set may fall on a neighbouring date.
//
// Within some days of the turn from polar day or night the sun's height has more
// than one low in a day; there rise and set may be off by minutes.
// Source: the crossing of HorizonElevation by the height seen from the earth's
// centre, as Reda and Andreas 2003, section A.2; found by bisection.
func Day(p Place, date time.Time) Daylight {
	y, m, d := date.Date()
	transit := transitNear(p, time.Date(y, m, d, 12, 0, 0, 0, date.Location()))
	day := Daylight{Transit: transit, Noon: At(p, transit)}
	up := func(t time.Time) bool { return centreElevation(p, t) > HorizonElevation }
	before, after := transit.Add(-12*time.Hour), transit.Add(12*time.Hour)
	switch {
	case !up(transit):
		return day
	case up(before) || up(after):
		day.Length = 24 * time.Hour
		return day
	}
	day.Rise = crossing(before, transit, up)
	day.Set = crossing(after, transit, up)
	day.Length = day.Set.Sub(day.Rise)
	return day
}

// transitNear returns the sun's passage of the meridian nearest to t.
func transitNear(p Place, t time.Time) time.Time {
	for range 4 { // each turn leaves 1/10000 of the error: two are enough
		s := sphereAt(t)
		hour := (s.sidereal + p.Longitude - s.ascension).HalfTurn()
		t = t.Add(-time.Duration(float64(hour) / (2 * math.Pi) * secondsPerDay * float64(time.Second)))
	}
	return t
}

// centreElevation returns the sun's elevation as seen from the earth's centre.
func centreElevation(p Place, t time.Time) Angle {
	s := sphereAt(t)
	elevation, _ := horizon(p.Latitude, s.declination, s.sidereal+p.Longitude-s.ascension)
	return elevation
}

// crossing returns the instant, to 0.1 s, at which up turns true on the way from
// an instant when it is false to one when it is true (in either order of time).
func crossing(down, up time.Time, isUp func(time.Time) bool) time.Time {
	for up.Sub(down).Abs() > 100*time.Millisecond {
		middle := down.Add(up.Sub(down) / 2)
		if isUp(middle) {
			up = middle
		} else {
			down = middle
		}
	}
	return up
}
