package sun

import (
	"math"
	"testing"
	"time"
)

// denverHour is an hour of the Denver year of the standard test for building
// thermal models (39.76 N, 104.86 W, 1609 m; hour ending, UTC-7).
type denverHour struct {
	end   time.Time
	light Light
}

func denverYear(t *testing.T) []denverHour {
	t.Helper()
	zone := time.FixedZone("", -7*3600)
	var year []denverHour
	for _, r := range records(t, "weather", "drycold_hourly.csv") {
		day, hour := int(number(t, r[0])), int(number(t, r[1]))
		year = append(year, denverHour{
			end:   time.Date(2015, 1, day, hour, 0, 0, 0, zone),
			light: Light{number(t, r[4]), number(t, r[5])},
		})
	}
	if len(year) != 8760 {
		t.Fatalf("%d hours, want 8760", len(year))
	}
	return year
}

// sheetIrradiance is what ISO 52010-1 makes of an hour: Perez 1990, but its
// clearness from the sun's altitude and with 1.014, and its air mass without the air's bend.
func sheetIrradiance(p Plane, sky Sky) float64 {
	h := float64(sky.Elevation)
	if h <= 0 || sky.DiffuseWM2 <= 0 {
		return p.Irradiance(sky).TotalWM2()
	}
	k := 1.014 * h * h * h
	epsilon := ((sky.DiffuseWM2+sky.BeamNormalWM2)/sky.DiffuseWM2 + k) / (1 + k)
	m := 1 / sky.Elevation.Sin()
	if deg := sky.Elevation.Degrees(); deg < 10 {
		m = 1 / (sky.Elevation.Sin() + 0.15*math.Pow(deg+3.885, -1.253))
	}
	i := p.Irradiance(sky)
	i.addSky(p, sky.DiffuseWM2, sky.cosZenith(),
		perez(epsilon, sky.DiffuseWM2*m/sky.ExtraterrestrialWM2(), math.Pi/2-h))
	return i.TotalWM2()
}

// The companion sheet of ISO 52010-1 for the same year: its own sun (a simpler
// reckoning), albedo 0.2, sun at mid-hour. The standard turns its azimuths from
// south, east positive. With its way of reading the clearness the sheet is met to
// a fifth of a percent; with the clearness of Perez 1990 this package differs from it by
// what that way costs: most on the east, where mornings are bright.
func TestISO52010Year(t *testing.T) {
	denver := place(39.76, -104.86, 1609)
	sheet := records(t, "weather", "iso52010_denver_tilted_check.csv")
	year := denverYear(t)
	for k, c := range []struct {
		name  string
		plane Plane
		want  float64 // the sheet's [kWh/m2]
		apart float64 // most that Perez 1990 is off it, share
	}{
		{"east upright", Plane{Degrees(90), Degrees(90)}, 1150.2, 0.03},
		{"west upright", Plane{Degrees(90), Degrees(270)}, 1046.6, 0.01},
		{"level", Plane{}, 1848.5, 0.005},
		{"south-east at 30°", Plane{Degrees(30), Degrees(135)}, 2121.8, 0.01},
	} {
		likeSheet, own, over, squares := 0.0, 0.0, 0.0, 0.0
		for i, h := range year {
			middle := Sky{Span: Instant(denver, h.end.Add(-30*time.Minute)), Light: h.light, Albedo: 0.2}
			like := sheetIrradiance(c.plane, middle)
			off := like - number(t, sheet[i][5+k])
			squares += off * off
			likeSheet += like / 1000
			own += c.plane.Irradiance(middle).TotalWM2() / 1000
			over += c.plane.Irradiance(Sky{Span: OverHour(denver, h.end), Light: h.light, Albedo: 0.2}).TotalWM2() / 1000
		}
		rms := math.Sqrt(squares / float64(len(year)))
		t.Logf("%s: sheet %.1f, its way %.1f (%+.2f %%, hours RMS %.1f W/m2), Perez 1990 %.1f (%+.2f %%), sun over the hour %.1f",
			c.name, c.want, likeSheet, 100*(likeSheet/c.want-1), rms, own, 100*(own/c.want-1), over)
		near(t, c.name+", the sheet's way", likeSheet, c.want, 0.002*c.want)
		near(t, c.name+", Perez 1990", own, c.want, c.apart*c.want)
		near(t, c.name+", sun over the hour", over, own, 0.001*own)
	}
}

// The published range of the yearly incident radiation of the standard test's
// participants on this weather, albedo 0.2 [kWh/m2]. Their level plane (1797 to 1832) is not
// judged: the file's own sum is 1849.
func TestStandardTestIncident(t *testing.T) {
	denver := place(39.76, -104.86, 1609)
	year := denverYear(t)
	for _, c := range []struct {
		name             string
		facing, low, top float64
	}{{"north", 0, 367, 457}, {"east", 90, 959, 1217}, {"west", 270, 857, 1090}, {"south", 180, 1456, 1566}} {
		sum := 0.0
		for _, h := range year {
			p := Plane{Degrees(90), Degrees(c.facing)}
			sum += p.Irradiance(Sky{Span: OverHour(denver, h.end), Light: h.light, Albedo: 0.2}).TotalWM2() / 1000
		}
		t.Logf("%s: %.0f, participants %.0f to %.0f", c.name, sum, c.low, c.top)
		if sum < c.low || sum > c.top {
			t.Errorf("%s: %.0f kWh/m2, participants %.0f to %.0f", c.name, sum, c.low, c.top)
		}
	}
}

// The participants' incident radiation on a clear and a cloudy day, upright south
// and west: the day's sum is judged. Hours are told, not judged: on the clear
// morning the published envelope lies below what this weather file can give (on the
// west face in shade, hours 8 to 10, the sheet of ISO 52010-1 computes 131, 145 and
// 149 W/m2 from the same file, above the envelope's 113, 125 and 140).
func TestStandardTestHours(t *testing.T) {
	denver := place(39.76, -104.86, 1609)
	year := denverYear(t)
	envelope := records(t, "c06_std140_drycold_hourly_incident_envelope.csv")
	for _, c := range []struct {
		name        string
		day, column int
		facing      float64
		low, top    float64 // of the day's sum [Wh/m2]
	}{
		{"south, 27 July", 208, 1, 180, 3044, 3426},
		{"west, 27 July", 208, 4, 270, 2975, 3876},
		{"south, 5 March", 64, 7, 180, 444, 512},
		{"west, 5 March", 64, 10, 270, 437, 504},
	} {
		sum, outside := 0.0, 0
		for hour := 1; hour <= 24; hour++ {
			h := year[(c.day-1)*24+hour-1]
			p := Plane{Degrees(90), Degrees(c.facing)}
			got := p.Irradiance(Sky{Span: OverHour(denver, h.end), Light: h.light, Albedo: 0.2}).TotalWM2()
			sum += got
			low, top := number(t, envelope[hour-1][c.column]), number(t, envelope[hour-1][c.column+2])
			if got < low-0.05 || got > top+0.05 {
				outside++
				t.Logf("%s, hour %d: %.1f, participants %.1f to %.1f", c.name, hour, got, low, top)
			}
		}
		t.Logf("%s: %.0f Wh/m2, participants %.0f to %.0f; %d hours outside", c.name, sum, c.low, c.top, outside)
		if sum < c.low || sum > c.top {
			t.Errorf("%s: %.0f Wh/m2, participants %.0f to %.0f", c.name, sum, c.low, c.top)
		}
	}
}
