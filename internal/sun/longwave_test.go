package sun

import (
	"bufio"
	"compress/gzip"
	"math"
	"strings"
	"testing"
	"time"
)

// Prata 1996 with the vapour pressure of FAO paper 56, recomputed.
func TestClearSky1996(t *testing.T) {
	for _, c := range []struct{ air, dew, hPa, eps, sky float64 }{
		{0, -5, 4.212, 0.7247, -21.1},
		{-10, -15, 1.905, 0.6977, -32.6},
		{20, 10, 12.28, 0.7926, 3.4},
		{-20, -24, 0.875, 0.6827, -43.0},
	} {
		near(t, "vapour pressure", VapourPressurePa(c.dew)/100, c.hPa, 0.005)
		near(t, "emissivity", ClearSkyEmissivity(c.air, c.dew), c.eps, 0.0005)
		lw := SkyLongwaveWM2(SkyState{AirC: c.air, DewPointC: c.dew})
		near(t, "sky temperature", SkyTemperatureC(lw), c.sky, 0.06)
	}
}

func TestClouds(t *testing.T) {
	s := SkyState{AirC: -10, DewPointC: -15, CloudShare: 1}
	near(t, "overcast is black", SkyTemperatureC(SkyLongwaveWM2(s)), -10, 1e-9)
	last := 0.0
	for c := 0.0; c <= 1; c += 0.1 {
		s.CloudShare = c
		if lw := SkyLongwaveWM2(s); lw <= last {
			t.Errorf("cloud share %.1f: %v W/m2, not more than %v", c, lw, last)
		} else {
			last = lw
		}
	}
	noon := spanAt(60, 180, 1361)
	share, ok := CloudShare(100, 400, noon)
	if !ok || math.Abs(share-0.75) > 1e-12 {
		t.Errorf("a quarter of the clear light: got %v, %v", share, ok)
	}
	if share, _ := CloudShare(450, 400, noon); share != 0 {
		t.Errorf("brighter than clear: got %v", share)
	}
	if _, ok := CloudShare(2, 5, spanAt(89, 120, 1361)); ok {
		t.Error("a cloud share was read from a sun at 1°")
	}
}

// A very cold clear day at 2317 m, by the minute, with the sky's heat radiation
// measured: SURFRAD network, San Luis Valley, 1 January 2016, public. The model's
// mean error over the day was found to be -1 W/m2 before this code was written; a
// dew-point polynomial's -17. The spread is larger and one-sided by the hour: at
// the coldest minute, under a strong inversion, the model sends 14 W/m2 too little,
// by day too much.
func TestColdClearDay(t *testing.T) {
	gz, err := gzip.NewReader(reference(t, "weather", "surfrad_alamosa_slv16001_1min.dat.gz"))
	if err != nil {
		t.Fatal(err)
	}
	const longwave, air, humidity = 16, 38, 40 // columns; the flag of each follows it
	var all misses
	coldest, coldestError := 100.0, 0.0
	for scan := bufio.NewScanner(gz); scan.Scan(); {
		f := strings.Fields(scan.Text())
		if len(f) != 48 || f[longwave+1] != "0" || f[air+1] != "0" || f[humidity+1] != "0" {
			continue
		}
		airC := number(t, f[air])
		dew := dewPoint(airC, number(t, f[humidity])/100)
		off := SkyLongwaveWM2(SkyState{AirC: airC, DewPointC: dew}) - number(t, f[longwave])
		all.add(off)
		if airC < coldest {
			coldest, coldestError = airC, off
		}
	}
	t.Logf("%d minutes: mean error %.2f, RMS %.2f W/m2; at the coldest, %.1f °C, %.1f W/m2",
		all.n, all.mean(), all.rms(), coldest, coldestError)
	if all.n < 1400 {
		t.Fatalf("%d minutes read, want the day", all.n)
	}
	near(t, "mean error", all.mean(), -1, 1)
}

// A year at Bondville, Illinois, 1998, half-hourly, sky radiation measured beside
// sun, air and humidity (NOAA flux site, public): the daylight hours with the cloud
// share read from the sun. Crawford and Duchon 1999 found month by month -9 to +4
// W/m2 in the mean and 11 to 22 RMS with their own clear sky (from memory); a
// turbidity of 3 all year is assumed here. December to February are judged by
// that; the year is told: May to September miss it, the model 14 to 16 W/m2 too warm.
func TestLongwaveUnderClouds(t *testing.T) {
	var winter, year misses
	for _, h := range bondville(t) {
		clear := ClearSky(Haze{LinkeTurbidity: 3, ElevationM: 219}, h.span).GlobalWM2(h.span)
		cloud, ok := CloudShare(h.globalWM2, clear, h.span)
		if !ok {
			continue
		}
		h.state.CloudShare = cloud
		off := SkyLongwaveWM2(h.state) - h.longwaveWM2
		year.add(off)
		if m := h.end.Month(); m == time.December || m <= time.February {
			winter.add(off)
		}
	}
	t.Logf("daylight of the year, %d half hours: mean error %.1f, RMS %.1f W/m2", year.n, year.mean(), year.rms())
	t.Logf("December to February, %d half hours: mean error %.1f, RMS %.1f W/m2", winter.n, winter.mean(), winter.rms())
	if winter.n < 600 || year.n < 5000 {
		t.Fatalf("%d and %d half hours read, want most of the daylight", winter.n, year.n)
	}
	near(t, "mean error of winter, published -9 to 4", winter.mean(), -2.5, 6.5)
	near(t, "RMS error of winter, published up to 22", winter.rms(), 0, 22)
}

// misses gathers differences of model and measurement.
type misses struct {
	n            int
	sum, squares float64
}

func (e *misses) add(off float64) {
	e.n++
	e.sum += off
	e.squares += off * off
}

func (e *misses) mean() float64 { return e.sum / float64(e.n) }
func (e *misses) rms() float64  { return math.Sqrt(e.squares / float64(e.n)) }

// fluxHour is a half hour measured at Bondville.
type fluxHour struct {
	end                    time.Time
	span                   Span
	state                  SkyState
	globalWM2, longwaveWM2 float64
}

// bondville reads the half hours of 1998 in which nothing is missing.
func bondville(t *testing.T) []fluxHour {
	t.Helper()
	gz, err := gzip.NewReader(reference(t, "soil", "bondville_1998_forcing98_with_validation.dat.gz"))
	if err != nil {
		t.Fatal(err)
	}
	const day, clock, air, humidity, solar, longwave = 0, 1, 4, 5, 7, 29 // columns
	p := place(40.01, -88.37, 219)
	zone := time.FixedZone("", -6*3600)
	var hours []fluxHour
	for scan := bufio.NewScanner(gz); scan.Scan(); {
		f := strings.Fields(scan.Text())
		if len(f) != 33 || strings.Contains(strings.Join(f[:longwave+1], " "), "-6999") {
			continue
		}
		hm := int(number(t, f[clock]))
		end := time.Date(1998, 1, int(number(t, f[day])), hm/100, hm%100, 0, 0, zone)
		airC := number(t, f[air])
		hours = append(hours, fluxHour{
			end: end, span: Over(p, end.Add(-30*time.Minute), end),
			state:     SkyState{AirC: airC, DewPointC: dewPoint(airC, number(t, f[humidity])/100)},
			globalWM2: number(t, f[solar]), longwaveWM2: number(t, f[longwave]),
		})
	}
	return hours
}

// dewPoint inverts VapourPressurePa at a relative humidity over water.
func dewPoint(airC, humidity float64) float64 {
	x := math.Log(VapourPressurePa(airC) * humidity / 610.8)
	return 237.3 * x / (17.27 - x)
}
