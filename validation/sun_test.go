package validation

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
)

func sunPlace(lat, lon, elevation float64) sun.Place {
	return sun.Place{Latitude: sun.Degrees(lat), Longitude: sun.Degrees(lon), ElevationM: elevation}
}

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	v, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// secondsApart is how far an instant lies from a clock time of its own zone, over midnight if need be [s].
func secondsApart(t *testing.T, got time.Time, want string) float64 {
	t.Helper()
	layout := time.TimeOnly
	if len(want) == 5 {
		layout = "15:04"
	}
	w, err := time.Parse(layout, want)
	if err != nil {
		t.Fatal(err)
	}
	g := float64(got.Hour()*3600+got.Minute()*60+got.Second()) + float64(got.Nanosecond())*1e-9
	d := g - float64(w.Hour()*3600+w.Minute()*60+w.Second())
	return math.Mod(d+36*3600, 24*3600) - 12*3600
}

func TestSunPosition(t *testing.T) {
	s := begin(t, "Sun position", "Reda and Andreas, Solar position algorithm for solar radiation applications, NREL/TP-560-34302, 2003, table A5.1; further as named",
		"Worked example: 2003-10-17 12:30:30 UTC-7, 39.742476 N 105.1786 W, 1830.14 m, 820 mbar, 11 °C, plane tilted 30° facing 170°. The program promises 0.01° and 60 s.")
	golden := sunPlace(39.742476, -105.1786, 1830.14)
	at := instant(t, "2003-10-17T12:30:30-07:00")
	p := sun.At(golden, at)
	air := sun.Air{PressurePa: 82000, AirC: 11}
	seenSun := p
	seenSun.Elevation = p.Apparent(air)
	incidence := math.Acos(sun.Plane{Tilt: sun.Degrees(30), Azimuth: sun.Degrees(170)}.CosIncidence(seenSun)) * 180 / math.Pi
	s.near(seen, "worked example, zenith", 90-seenSun.Elevation.Degrees(), 50.11162, 0.01, "°")
	s.near(seen, "worked example, azimuth", p.Azimuth.Degrees(), 194.340241, 0.01, "°")
	s.near(seen, "worked example, incidence", incidence, 25.187, 0.01, "°")
	s.near(seen, "worked example, elevation without refraction", p.Elevation.Degrees(), 39.872046, 0.01, "°")
	s.near(seen, "worked example, refraction", sun.Refraction(p.Elevation, air).Degrees(), 0.016332, 0.001, "°")
	s.near(seen, "worked example, declination", p.Declination.Degrees(), -9.31434, 0.01, "°")
	s.near(seen, "worked example, hour angle", p.HourAngle.Degrees(), 11.1059, 0.01, "°")
	s.near(seen, "worked example, equation of time", p.EquationOfTime.Minutes(), 14.6415, 0.02, " min")
	s.near(seen, "worked example, apparent zenith at 900 mbar", 90-p.Apparent(sun.Air{PressurePa: 90000, AirC: 11}).Degrees(), 50.11003, 0.01, "°")
	next := sun.At(golden, at.AddDate(0, 0, 1))
	s.near(seen, "next day, elevation", next.Elevation.Degrees(), 39.505196, 0.01, "°")
	s.near(seen, "next day, azimuth", next.Azimuth.Degrees(), 194.311132, 0.01, "°")
	mst := time.FixedZone("", -7*3600)
	s.near(seen, "earth to sun, 2015-01-02", sun.At(sun.Place{}, time.Date(2015, 1, 2, 0, 0, 0, 0, mst)).DistanceAU, 0.983289204601, 1e-6, " AU")
	s.near(seen, "earth to sun, 2015-08-02", sun.At(sun.Place{}, time.Date(2015, 8, 2, 0, 0, 0, 0, mst)).DistanceAU, 1.01486146446, 1e-6, " AU")
	s.near(seen, "extraterrestrial normal, day 300", sun.At(sun.Place{}, time.Date(2016, 10, 26, 0, 0, 0, 0, time.UTC)).ExtraterrestrialWM2(), 1383.636, 10, " W/m2")
	sunTimes(t, s)
	sunTables(t, s)
	textbookSun(s)
	s.done(t)
}

// sunTimes are the rises, transits and sets of cases 1.1 and 1.2.
func sunTimes(t *testing.T, s *section) {
	golden, zone := sunPlace(39.742476, -105.1786, 1830.14), -7
	for _, c := range []struct {
		name, source     string
		p                sun.Place
		zone             int // [h]
		date             string
		rise, noon, sink string
		before           bool // the set is that of the evening before
	}{
		{"Golden", "Reda and Andreas 2003, table A5.1", golden, zone, "2003-10-17", "06:12:43", "11:46:05", "17:20:19", true},
		{"Golden", "NREL calculator of the same algorithm", golden, zone, "2015-01-02", "07:21:55", "12:04:45", "16:47:43", false},
		{"Golden", "NREL calculator of the same algorithm", golden, zone, "2015-08-02", "05:00:27", "12:06:58", "19:13:58", true},
		{"Golden", "US Naval Observatory, to the minute", golden, zone, "2015-01-01", "07:22", "12:04", "16:47", false},
		{"Golden", "US Naval Observatory, to the minute", golden, zone, "2015-01-03", "07:22", "12:05", "16:49", false},
		{"Golden", "US Naval Observatory, to the minute", golden, zone, "2015-08-02", "05:00", "12:07", "19:13", false},
		{"35 S", "Reda and Andreas 2003", sunPlace(-35, 0, 0), 0, "1996-07-05", "07:08:15", "12:04:36", "17:01:04", false},
		{"35 S", "Reda and Andreas 2003", sunPlace(-35, 0, 0), 0, "2004-12-04", "04:38:57", "11:50:22", "19:02:03", false},
		{"35 N", "Reda and Andreas 2003", sunPlace(35, 0, 0), 0, "1994-01-02", "07:08:12", "", "16:59:55", false},
		{"39 N 105 W", "US Naval Observatory, to the minute", sunPlace(39, -105, 0), zone, "2015-01-02", "07:19", "", "16:49", false},
		{"39 N 105 W", "US Naval Observatory, to the minute", sunPlace(39, -105, 0), zone, "2015-04-02", "05:43", "", "18:24", false},
		{"39 N 105 W", "US Naval Observatory, to the minute", sunPlace(39, -105, 0), zone, "2015-08-02", "05:01", "", "19:10", false},
		{"39 N 105 W", "US Naval Observatory, to the minute", sunPlace(39, -105, 0), zone, "2015-12-02", "07:01", "", "16:38", false},
		{"Beijing", "US Naval Observatory, to the minute", sunPlace(39.917, 116.383, 0), 8, "2015-01-02", "07:36", "", "17:00", false},
		{"Beijing", "US Naval Observatory, to the minute", sunPlace(39.917, 116.383, 0), 8, "2015-04-02", "05:58", "", "18:39", false},
		{"Beijing", "US Naval Observatory, to the minute", sunPlace(39.917, 116.383, 0), 8, "2015-08-02", "05:13", "", "19:28", false},
		{"Beijing", "US Naval Observatory, to the minute", sunPlace(39.917, 116.383, 0), 8, "2015-12-02", "07:17", "", "16:50", false},
	} {
		date, err := time.ParseInLocation(time.DateOnly, c.date, time.FixedZone("", c.zone*3600))
		if err != nil {
			t.Fatal(err)
		}
		d := sun.Day(c.p, date)
		note := ""
		if c.before {
			d.Set = sun.Day(c.p, date.AddDate(0, 0, -1)).Set
			note = "the algorithm works on days of universal time: where the sun sets after 00:00 UTC, the set it prints is that of the evening before"
		}
		largest, words := 0.0, ""
		for _, e := range []struct {
			got  time.Time
			want string
		}{{d.Rise, c.rise}, {d.Transit, c.noon}, {d.Set, c.sink}} {
			if e.want == "" {
				continue
			}
			largest = math.Max(largest, math.Abs(secondsApart(t, e.got, e.want)))
			words += " " + e.want
		}
		s.add(row{name: fmt.Sprintf("rise, noon, set: %s, %s", c.name, c.date), source: c.source, published: words[1:],
			computed: "apart by at most " + short(largest) + " s", allowed: "±60 s", mark: seen, met: largest <= 60, note: note})
	}
}

// sunTables are the two tables c01.
func sunTables(t *testing.T, s *section) {
	hourly, days := table(t, "c01_sun_hourly_spa.csv"), table(t, "c01_daylength_spa.csv")
	usual := sun.Air{PressurePa: 101325, AirC: 10}
	var zenith, apparent, azimuth, eot float64
	for _, r := range hourly {
		p := sun.At(sunPlace(number(t, r[0]), number(t, r[1]), 0), instant(t, r[2]))
		zenith = math.Max(zenith, math.Abs(p.Zenith.Degrees()-number(t, r[3])))
		apparent = math.Max(apparent, math.Abs(90-p.Apparent(usual).Degrees()-number(t, r[4])))
		azimuth = math.Max(azimuth, math.Abs(p.Azimuth.Degrees()-number(t, r[5])))
		eot = math.Max(eot, math.Abs(p.EquationOfTime.Minutes()-number(t, r[6])))
	}
	const run = "own run of the published algorithm"
	n := len(hourly)
	s.worst(seen, "hours of four place-days, zenith", n, zenith, 0.01, "°").source = run
	s.worst(seen, "hours of four place-days, apparent zenith", n, apparent, 0.01, "°").source = run
	s.worst(seen, "hours of four place-days, azimuth", n, azimuth, 0.01, "°").source = run
	s.worst(seen, "hours of four place-days, equation of time", n, eot, 0.02, " min").source = run
	var rise, noon, sink, high float64
	for _, r := range days {
		date, err := time.Parse(time.DateOnly, r[1])
		if err != nil {
			t.Fatal(err)
		}
		d := sun.Day(sunPlace(number(t, r[0]), 0, 0), date)
		rise = math.Max(rise, math.Abs(secondsApart(t, d.Rise, r[2])))
		noon = math.Max(noon, math.Abs(secondsApart(t, d.Transit, r[3])))
		sink = math.Max(sink, math.Abs(secondsApart(t, d.Set, r[4])))
		high = math.Max(high, math.Abs(d.Noon.Elevation.Degrees()-number(t, r[6])))
	}
	n = len(days)
	s.worst(seen, "seven latitudes, rise", n, rise, 60, " s").source = run
	s.worst(seen, "seven latitudes, noon", n, noon, 60, " s").source = run
	s.worst(seen, "seven latitudes, set", n, sink, 60, " s").source = run
	s.worst(seen, "seven latitudes, height at noon", n, high, 0.01, "°").source = run
}

// textbookSun is case 1.4 as far as the program's own functions answer it.
func textbookSun(s *section) {
	const book = "Duffie and Beckman, Solar Engineering of Thermal Processes, ch. 1"
	madison := sun.At(sunPlace(43.07, -89.4, 0), time.Date(2015, 2, 3, 10, 30, 0, 0, time.FixedZone("", -6*3600)))
	r := s.near(recomputed, "example 1.5.1, equation of time, Madison 3 February", madison.EquationOfTime.Minutes(), -13.49, 0.5, " min")
	r.source, r.note = book, "the book's formula is good to half a minute"
}
