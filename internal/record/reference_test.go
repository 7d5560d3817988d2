package record

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"suncellar/internal/weather"
)

// reference returns the folder of published data, or skips.
func reference(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("SUNCELLAR_REFERENCE")
	if folder == "" {
		t.Skip("SUNCELLAR_REFERENCE is not set: published records are not compared")
	}
	return folder
}

// published is the text of a file of the reference, and the record read of it.
func published(t testing.TB, name string, options Options) (string, *Record) {
	t.Helper()
	path := filepath.Join(reference(t), name)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	text, err := weather.Text(f, name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Open(path, options)
	if err != nil {
		t.Fatal(err)
	}
	return text, r
}

// sumOf adds up what is known of the days.
func sumOf(r *Record, value func(weather.Day) float64) (sum float64, n int) {
	for _, d := range r.Days {
		if v := value(d); !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	return sum, n
}

// sumField adds up a field of all rows that take gives as numbers.
func sumField(text string, take func(fields []string) (string, bool), cut func(string) []string) (sum float64, n int) {
	for _, line := range strings.Split(text, "\n") {
		if field, ok := take(cut(strings.TrimSpace(line))); ok {
			if v, err := strconv.ParseFloat(field, 64); err == nil {
				sum, n = sum+v, n+1
			}
		}
	}
	return sum, n
}

func commas(line string) []string { return strings.Split(line, ",") }

// same fails when sums or numbers of values differ.
func same(t testing.TB, what string, got float64, gotN int, want float64, wantN int) {
	t.Helper()
	if gotN != wantN || wantN == 0 || !(math.Abs(got-want) <= 1e-9*math.Abs(want)+1e-6) {
		t.Errorf("%s: sum %.6f of %d values, want %.6f of %d", what, got, gotN, want, wantN)
	}
}

func lowOf(d weather.Day) float64  { return d.LowC }
func highOf(d weather.Day) float64 { return d.HighC }
func sunOf(d weather.Day) float64  { return d.SunWhM2 }
func rainOf(d weather.Day) float64 { return d.RainMM }
func windOf(d weather.Day) float64 { return d.WindMS }

func lyingOf(d weather.Day) float64 {
	if !d.Snow.Known {
		return math.NaN()
	}
	return d.Snow.LyingM
}

func fallOf(d weather.Day) float64 {
	if !d.Snow.Known {
		return math.NaN()
	}
	return d.Snow.FallM
}

// boulder is a place near the list's station; the list does not tell its own (own judgement, from memory).
var boulder = weather.KnownPlace(39.99, -105.27, 1672)

// The sums of all columns of the Boulder list are those of a plain walk over its text.
func TestBoulderSums(t *testing.T) {
	t.Parallel()
	text, r := published(t, "daily/boulderdaily.complete.txt.gz", Options{Place: boulder})
	column := func(k int, trace bool) (float64, int) {
		return sumField(text, func(f []string) (string, bool) {
			if len(f) != 8 || f[0] == "#" || (f[0] == "2010" && f[1] == "2" && f[2] == "29") || strings.HasPrefix(f[k], "-998") || (!trace && strings.HasPrefix(f[k], "-999")) {
				return "", false
			}
			if strings.HasPrefix(f[k], "-999") {
				return "0", true
			}
			return f[k], true
		}, strings.Fields)
	}
	fahrenheit := func(sum float64, n int) (float64, int) { return (sum - 32*float64(n)) / 1.8, n }
	for _, row := range []struct {
		what   string
		value  func(weather.Day) float64
		k      int
		trace  bool
		factor float64 // 0 for °F
	}{{"highs", highOf, 3, false, 0}, {"lows", lowOf, 4, false, 0}, {"rain", rainOf, 5, true, 25.4}, {"snowfall", fallOf, 6, true, 0.0254}, {"snow lying", lyingOf, 7, true, 0.0254}} {
		want, wantN := column(row.k, row.trace)
		if row.factor == 0 {
			want, wantN = fahrenheit(want, wantN)
		} else {
			want *= row.factor
		}
		got, gotN := sumOf(r, row.value)
		same(t, row.what, got, gotN, want, wantN)
	}
	if got := r.Start.Format("2006-01-02"); got != "1897-01-01" || r.Date(len(r.Days)-1).Format("2006-01-02") != "2022-12-31" {
		t.Errorf("record from %s, %d days", got, len(r.Days))
	}
}

// The gridded table is in °C and MJ/m2; its days come back.
func TestGridMETSums(t *testing.T) {
	t.Parallel()
	text, r := published(t, "daily/gridmet_Johnson_Kansas_daily.csv.gz", Options{Place: weather.Place{ElevationM: 320, ElevationKnown: true}})
	column := func(k int) (float64, int) {
		return sumField(text, func(f []string) (string, bool) {
			if len(f) < 21 {
				return "", false
			}
			return f[k], true
		}, commas)
	}
	for _, row := range []struct {
		what   string
		value  func(weather.Day) float64
		k      int
		factor float64
	}{{"highs", highOf, 12, 1}, {"lows", lowOf, 11, 1}, {"rain", rainOf, 5, 1}, {"sun", sunOf, 9, 1 / 0.0036}, {"wind", windOf, 13, 1}} {
		want, wantN := column(row.k)
		got, gotN := sumOf(r, row.value)
		same(t, row.what, got, gotN, want*row.factor, wantN)
	}
	if r.Place.LatitudeDeg != 38.88376123 || r.Start.Format("2006-01-02 -07") != "1980-01-01 -06" {
		t.Errorf("place %+v, start %s", r.Place, r.Start)
	}
	// 0.00262 kg/kg at about 975 hPa is 4.1 hPa of vapour, a dew point of -5.3 °C by Magnus' formula over water
	if got := r.Days[0].DewPointC; math.Abs(got+5.3) > 0.3 {
		t.Errorf("dew point of the first day %.2f, want about -5.3 °C", got)
	}
}

// The long list has tenths and millimetres.
func TestGHCNSums(t *testing.T) {
	t.Parallel()
	text, r := published(t, "daily/ghcnd_byyear_USW00014922_2014-2015.csv.gz", Options{Place: weather.KnownPlace(44.88, -93.23, 255)})
	for _, row := range []struct {
		element string
		value   func(weather.Day) float64
		factor  float64
	}{{"TMAX", highOf, 0.1}, {"TMIN", lowOf, 0.1}, {"PRCP", rainOf, 0.1}, {"AWND", windOf, 0.1}, {"SNOW", fallOf, 1e-3}, {"SNWD", lyingOf, 1e-3}} {
		want, wantN := sumField(text, func(f []string) (string, bool) {
			if len(f) < 3 || f[1] != row.element {
				return "", false
			}
			return f[2], true
		}, commas)
		got, gotN := sumOf(r, row.value)
		same(t, row.element, got, gotN, want*row.factor, wantN)
	}
	if d := r.Days[0]; d.HighC != -17.1 || d.LowC != -22.1 || d.WindMS != 3 || math.Abs(d.Snow.LyingM-0.15) > 1e-12 {
		t.Errorf("1 January 2014 is %+v", d)
	}
}

// The reference network's days: missing ones are left open.
func TestCRNDSums(t *testing.T) {
	t.Parallel()
	text, r := published(t, "soil/CRND0103_KS_Manhattan_6_SSW_2003-2017.csv.gz", Options{Place: weather.Place{ElevationM: 348, ElevationKnown: true}})
	// more than arrives outside the air: 19.03 MJ/m2 where the sun of that day could give 17.5
	tooSunny := map[string]bool{"20040127": true}
	for _, row := range []struct {
		what   string
		value  func(weather.Day) float64
		k      int
		factor float64
	}{{"highs", highOf, 5, 1}, {"lows", lowOf, 6, 1}, {"rain", rainOf, 9, 1}, {"sun", sunOf, 10, 1 / 0.0036}} {
		want, wantN := sumField(text, func(f []string) (string, bool) {
			if len(f) < 20 || strings.HasPrefix(f[row.k], "-9999") || (row.k == 10 && tooSunny[f[1]]) {
				return "", false
			}
			return f[row.k], true
		}, commas)
		got, gotN := sumOf(r, row.value)
		same(t, row.what, got, gotN, want*row.factor, wantN)
	}
	if r.Place.LatitudeDeg != 39.1 || r.Place.LongitudeDeg != -96.61 || r.Name != "CRN 53974" {
		t.Errorf("%s at %+v", r.Name, r.Place)
	}
}

// Forty winters of the gridded table; the coldest of their nights is the lowest of a plain walk over the text.
func TestWintersOfPublishedRecords(t *testing.T) {
	t.Parallel()
	text, r := published(t, "daily/gridmet_Johnson_Kansas_daily.csv.gz", Options{Place: weather.Place{ElevationM: 320, ElevationKnown: true}})
	w := winters(t, r)
	if len(w.List) != 40 || w.Few != "" || w.List[0].Name != "1980-81" || w.List[39].Name != "2019-20" {
		t.Errorf("%d winters, %v left out", len(w.List), w.LeftOut)
	}
	want, got := math.Inf(1), math.Inf(1)
	for _, line := range strings.Split(text, "\n") {
		f := commas(line)
		if len(f) > 12 && f[3] >= "1980-11-01" && f[3] <= "2020-03-31" && (f[3][5:7] >= "11" || f[3][5:7] <= "03") {
			if v, err := strconv.ParseFloat(f[11], 64); err == nil {
				want = min(want, v)
			}
		}
	}
	for _, winter := range w.List {
		s, err := winter.Series()
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range s.Hours {
			got = min(got, h.AirC)
		}
	}
	if !(got >= want && got < want+0.6) { // at whole hours the shape of a day stays a little above its own lowest
		t.Errorf("coldest hour %.2f, want %.2f °C", got, want)
	}
	_, old := published(t, "daily/boulderdaily.complete.txt.gz", Options{Place: boulder})
	many := winters(t, old)
	t.Logf("Boulder: %d winters, %d left out", len(many.List), len(many.LeftOut))
	if len(many.List) < 100 || len(many.List)+len(many.LeftOut) != 127 {
		t.Errorf("Boulder: %d winters, %d left out of the 127 from 1896-97 to 2022-23", len(many.List), len(many.LeftOut))
	}
}

// The published days of POWER: one each, by month and day or by day of the year; UTC is told.
func TestPublishedPowerDays(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		file      string
		low, high float64
		utc       bool
	}{{"sb_point_LST", -25.67, -24.88, false}, {"sb_point_UTC", -25.37, -22.7, true}, {"ag_point", -25.37, -22.7, true}} {
		_, r := published(t, "forecast/nasapower_daily_"+row.file+".csv", Options{})
		if d := r.Days[0]; len(r.Days) != 1 || d.LowC != row.low || d.HighC != row.high || r.Place.ElevationM != 2885.03 || r.Start.Format("2006-01-02") != "1983-01-01" {
			t.Errorf("%s: %+v at %+v", row.file, r.Days, r.Place)
		}
		if strings.Contains(told(r), "those of UTC") != row.utc {
			t.Errorf("%s: notes\n%s", row.file, told(r))
		}
	}
}

// The hours of Malta have a gap of a day in May 2026 and are a record all the same: its winter is whole, its longest run ends before the gap.
func TestPublishedHoursAreARecord(t *testing.T) {
	t.Parallel()
	_, r := published(t, "forecast/nasa_power_hourly_malta_2025-2026.csv.gz", Options{})
	w := winters(t, r)
	if len(w.List) != 1 || w.List[0].Name != "2025-26" {
		t.Errorf("winters %v, left out %v", w.List, w.LeftOut)
	}
	s, err := r.Longest()
	if err != nil || s.End().Format("2006-01-02") != "2026-05-18" {
		t.Errorf("longest run to %s, %v", s.End(), err)
	}
}
