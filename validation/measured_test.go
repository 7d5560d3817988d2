package validation

import (
	"bufio"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"suncellar/internal/weather"
)

// Readers of measured records of the reference folder: each gives weather with gaps as NaN, and what was measured of the ground.

// probe is a thermometer in the ground: its value at the end of every hour (or the mean of every day) of the record [°C], NaN where missing.
type probe struct {
	depth float64 // [m]
	c     []float64
}

// record is a measured record.
type record struct {
	weather weather.Series
	probes  []probe
	face    []float64      // the ground's face by an infrared thermometer, in the probes' steps [°C]
	daily   bool           // probes hold means of days
	missing map[string]int // values missing, by quantity
	step    string         // what one value is, for people
}

// lines reads a text file of the reference folder, packed or plain, as fields split at sep (at blanks when 0).
func lines(t *testing.T, sep rune, parts ...string) [][]string {
	t.Helper()
	f, err := os.Open(reference(t, parts...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(f.Name(), ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	var out [][]string
	for scan := bufio.NewScanner(r); scan.Scan(); {
		if sep == 0 {
			out = append(out, strings.Fields(scan.Text()))
		} else {
			out = append(out, strings.Split(scan.Text(), string(sep)))
		}
	}
	if len(out) < 2 {
		t.Fatalf("%s has %d lines, too few to be whole", f.Name(), len(out))
	}
	return out
}

// value is a number of a record, NaN where it is the mark of a missing one or below the least that can be.
func value(t *testing.T, text string, least float64) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		t.Fatal(err)
	}
	if v < least {
		return math.NaN()
	}
	return v
}

// count keeps how many values of a quantity are missing.
func (r *record) count(name string, values ...float64) {
	for _, v := range values {
		if math.IsNaN(v) {
			r.missing[name]++
		}
	}
}

// lost tells the missing values in words.
func (r *record) lost() string {
	var out []string
	for _, name := range []string{"sun", "air", "humidity", "precipitation", "soil"} {
		if n := r.missing[name]; n > 0 {
			out = append(out, fmt.Sprintf("%s %d", name, n))
		}
	}
	if len(out) == 0 {
		return "no value missing"
	}
	return "missing: " + strings.Join(out, ", ")
}

func blank(start time.Time, hours int, place weather.Place) weather.Series {
	s := weather.Series{Start: start, Place: place, Hours: make([]weather.Hour, hours)}
	n := math.NaN()
	for i := range s.Hours {
		s.Hours[i] = weather.Hour{AirC: n, DewPointC: n, PressurePa: n, WindMS: n, GlobalWM2: n, BeamWM2: n, DiffuseWM2: n, SkyLongwaveWM2: n, CloudShare: n, RainMM: n, SnowfallM: n, SnowDepthM: n, GroundAlbedo: n}
	}
	return s
}

func zone(hours int) *time.Location { return weather.Zone(time.Duration(hours) * time.Hour) }

// bondvilleRecord: half hours, each named by its end; hours are made of two: means of the sums, the later one's states.
func bondvilleRecord(t *testing.T) record {
	rows := lines(t, 0, "soil", "bondville_1998_forcing98_with_validation.dat.gz")
	site := bondville.site
	r := record{missing: map[string]int{}, step: "hour",
		weather: blank(time.Date(1998, 1, 1, 0, 0, 0, 0, zone(-6)), len(rows)/2, placeOfSite(site))}
	for _, d := range []float64{0.02, 0.04, 0.08, 0.16, 0.32, 0.64} {
		r.probes = append(r.probes, probe{d, make([]float64, len(rows)/2)})
	}
	at := func(row, column int) float64 { return value(t, rows[row][column-1], -900) }
	both := func(i, column int) float64 {
		a, b := at(2*i, column), at(2*i+1, column)
		switch {
		case math.IsNaN(a):
			return b
		case math.IsNaN(b):
			return a
		}
		return (a + b) / 2
	}
	for i := range r.weather.Hours {
		h, end := &r.weather.Hours[i], 2*i+1
		h.AirC, h.WindMS, h.PressurePa = at(end, 5), max(0, at(end, 3)), 100*at(end, 7)
		h.DewPointC = dewPoint(h.AirC, min(100, at(end, 6)))
		h.GlobalWM2 = max(0, both(i, 8))
		h.SkyLongwaveWM2 = both(i, 30)
		h.RainMM = 25.4 * 2 * both(i, 13)
		r.count("sun", h.GlobalWM2)
		if math.IsNaN(h.GlobalWM2) {
			h.GlobalWM2 = r.weather.Hours[i-1].GlobalWM2
		}
		r.face = append(r.face, at(end, 15))
		for k := range r.probes {
			r.probes[k].c[i] = at(end, 16+k)
			r.count("soil", r.probes[k].c[i])
		}
	}
	return r
}

// dewPoint is that of air [°C] of a relative humidity over water [%], FAO-56 eq. 11 turned round.
func dewPoint(airC, percent float64) float64 {
	a := math.Log(max(1, percent)/100) + 17.27*airC/(airC+237.3)
	return 237.3 * a / (17.27 - a)
}

// manhattanRecord: days of two years, made hours; humidity as the day's mean.
func manhattanRecord(t *testing.T) record {
	r := record{missing: map[string]int{}, daily: true, step: "day"}
	var days []weather.Day
	for _, d := range []float64{0.05, 0.10, 0.20, 0.50, 1} {
		r.probes = append(r.probes, probe{depth: d})
	}
	for _, f := range lines(t, ',', "soil", "CRND0103_KS_Manhattan_6_SSW_2003-2017.csv.gz")[1:] {
		if year := f[1][:4]; year != "2014" && year != "2015" {
			continue
		}
		at := func(column int) float64 { return value(t, f[column], -90) }
		d := weather.Day{HighC: at(5), LowC: at(6), RainMM: at(9), SunWhM2: at(10) / 0.0036, DewPointC: dewPoint(at(8), at(17))}
		r.count("air", d.HighC)
		r.count("sun", d.SunWhM2)
		r.count("humidity", d.DewPointC)
		r.count("precipitation", d.RainMM)
		if math.IsNaN(d.RainMM) {
			d.RainMM = 0
		}
		days, r.face = append(days, d), append(r.face, at(14))
		for k := range r.probes {
			c := at(23 + k)
			r.count("soil", c)
			r.probes[k].c = append(r.probes[k].c, c)
		}
	}
	for i := range days { // a day without sun gets the mean of the days beside it
		if math.IsNaN(days[i].SunWhM2) {
			days[i].SunWhM2 = (days[i-1].SunWhM2 + days[i+1].SunWhM2) / 2
		}
	}
	s, err := weather.FromDays(time.Date(2014, 1, 1, 0, 0, 0, 0, zone(-6)), placeOfSite(manhattan.site), days)
	if err != nil {
		t.Fatal(err)
	}
	r.weather = s
	return r
}

// boulderRecord: hours named by their end in local standard time.
func boulderRecord(t *testing.T) record {
	rows := lines(t, 0, "soil", "CRNH0203-2024-CO_Boulder_14_W.txt.gz")
	// the file runs by the clock of Greenwich: its first hour is that from 17 to 18 h of the day before
	r := record{missing: map[string]int{}, step: "hour", weather: blank(time.Date(2023, 12, 31, 17, 0, 0, 0, zone(-7)), len(rows), placeOfSite(boulder.site))}
	r.probes = []probe{{0.05, make([]float64, len(rows))}, {0.10, make([]float64, len(rows))}}
	for i, f := range rows {
		if end := r.weather.HourStart(i + 1).Format("20060102 1504"); end != f[3]+" "+f[4] {
			t.Fatalf("Boulder: hour %d ends %s %s, want %s", i, f[3], f[4], end)
		}
		h := &r.weather.Hours[i]
		h.AirC, h.RainMM, h.GlobalWM2 = value(t, f[8], -90), value(t, f[12], -90), max(0, value(t, f[13], -90))
		h.DewPointC = dewPoint(h.AirC, value(t, f[26], -90))
		r.count("air", h.AirC)
		r.count("precipitation", h.RainMM)
		r.count("sun", h.GlobalWM2)
		r.count("humidity", h.DewPointC)
		r.face = append(r.face, value(t, f[20], -90))
		r.probes[0].c[i], r.probes[1].c[i] = value(t, f[33], -90), value(t, f[34], -90)
		if last := i > 0; last { // gaps are of some hours: the value before stands in
			b := r.weather.Hours[i-1]
			for _, p := range []struct{ now, before *float64 }{{&h.AirC, &b.AirC}, {&h.DewPointC, &b.DewPointC}, {&h.GlobalWM2, &b.GlobalWM2}} {
				if math.IsNaN(*p.now) {
					*p.now = *p.before
				}
			}
		}
		h.DewPointC = min(h.DewPointC, h.AirC)
		if math.IsNaN(h.RainMM) {
			h.RainMM = 0
		}
		r.count("soil", r.probes[0].c[i], r.probes[1].c[i])
	}
	return r
}

// snowRecord is weather of a snow site and, by day, what was measured: depth, albedo, ground.
type snowRecord struct {
	record
	day []snowDay
}

type snowDay struct{ albedo, depthM, waterMM, surfaceC, soilC float64 }

// snowForcing: year month day hour, sun, longwave, snowfall, rainfall [kg/m2s], air [K], humidity [%], wind, pressure; an hour names its end or its
// begin, which the file does not say: taken as its begin where the first is 0, else as its end.
func snowForcing(t *testing.T, place weather.Place, file string) record {
	rows := lines(t, 0, "snow", file)
	n := func(row, column int) float64 { return value(t, rows[row][column], -1e9) }
	start := time.Date(int(n(0, 0)), time.Month(n(0, 1)), int(n(0, 2)), 0, 0, 0, 0, zone(0))
	r := record{missing: map[string]int{}, step: "day", weather: blank(start, len(rows), place)}
	for i := range rows {
		h := &r.weather.Hours[i]
		h.AirC = n(i, 8) - 273.15
		h.GlobalWM2, h.SkyLongwaveWM2 = max(0, n(i, 4)), n(i, 5)
		h.SnowfallM = 3600 * n(i, 6) / weather.FreshDensity(h.AirC)
		h.RainMM = 3600 * (n(i, 6) + n(i, 7))
		h.DewPointC = min(h.AirC, dewPoint(h.AirC, min(100, n(i, 9))))
		h.WindMS, h.PressurePa = n(i, 10), n(i, 11)
	}
	return r
}

func colDePorteRecord(t *testing.T) snowRecord {
	r := snowRecord{record: snowForcing(t, placeOfSite(colDePorte.site), "met_CdP_0506.txt.gz")}
	for _, f := range lines(t, 0, "snow", "obs_CdP_0506.txt") {
		at := func(column int) float64 { return value(t, f[column], -90) }
		r.day = append(r.day, snowDay{at(3), at(5), at(6), at(7), at(8)})
	}
	return r
}
