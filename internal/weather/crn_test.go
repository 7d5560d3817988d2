package weather

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// crnHours are three invented hours; the sun of the second is flagged, the air of none missing.
const crnHours = `94075 20240110 1900 20240110 1200  2.623 -105.54   40.04    -3.6    -2.7    -1.7    -3.6     0.5    400 0    500 0    300 0 C    -9.3 0    -7.8 0   -10.6 0    49 0 -99.000 -99.000 -99.000 -99.000 -99.000 -9999.0 -9999.0 -9999.0 -9999.0 -9999.0
94075 20240110 2000 20240110 1300  2.623 -105.54   40.04    -3.5    -3.3    -3.0    -3.7     0.0    900 3      0 0      0 0 C   -10.2 0    -9.6 0   -10.8 0    51 0 -99.000 -99.000 -99.000 -99.000 -99.000 -9999.0 -9999.0 -9999.0 -9999.0 -9999.0
94075 20240110 2100 20240110 1400  2.623 -105.54   40.04    -5.3    -4.6    -3.4    -5.3     0.0    300 0      0 0      0 0 C   -12.2 0   -11.7 0   -12.9 0    56 0 -99.000 -99.000 -99.000 -99.000 -99.000 -9999.0 -9999.0 -9999.0 -9999.0 -9999.0
`

// Stamps are ends of hours in local standard time; what is flagged is missing and bridged.
func TestCRNHours(t *testing.T) {
	t.Parallel()
	s := readText(t, crnHours)
	if s.Start.Format("2006-01-02 15:04 -07:00") != "2024-01-10 11:00 -07:00" || len(s.Hours) != 3 || s.Place.LatitudeDeg != 40.04 || s.Place.ElevationKnown {
		t.Fatalf("%d h from %s at %+v", len(s.Hours), s.Start, s.Place)
	}
	near(t, "air", s.Hours[0].AirC, -3.6, 0)
	near(t, "rain", s.Hours[0].RainMM, 0.5, 0)
	near(t, "sun between 400 and 300", s.Hours[1].GlobalWM2, 350, 1e-9)
	for _, row := range []struct{ what, content, want string }{
		{"short", crnHours + "94075 20240110 2200\n", "f:4: the row has 3 fields, must have 38"},
		{"zone", strings.Replace(crnHours, "20240110 1300", "20240110 1400", 1), "f:2: local time is -6h0m0s from UTC, and UTC-7 above"},
		{"station", strings.Replace(crnHours, "94075 20240110 2000", "94076 20240110 2000", 1), "a file is of one station"},
		{"value", strings.Replace(crnHours, "-3.6    -2.7", "-93.6   -2.7", 1), `f:1: air temperature is "-93.6", must be -90 to 60 °C`},
		{"date", strings.Replace(crnHours, "20240110 2100", "20240132 2100", 1), "must be UTC and local standard time"},
	} {
		if _, err := Read(strings.NewReader(row.content), "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v\nwant %s", row.what, err, row.want)
		}
	}
}

// The year of a mountain station: air, rain and sun by a plain walk over its lines.
func TestCRNYear(t *testing.T) {
	t.Parallel()
	path := filepath.Join(reference(t), "soil", "CRNH0203-2024-CO_Boulder_14_W.txt.gz")
	s, err := Open(path, ReadOptions{KeepGaps: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Hours) != 8784 || s.Name != "CRN 94075" {
		t.Fatalf("%s: %d h from %s", s.Name, len(s.Hours), s.Start)
	}
	lines := strings.Split(strings.TrimSpace(unpacked(t, path)), "\n")
	missing := 0
	for i, line := range lines {
		f := strings.Fields(line)
		if air := number(t, f[8]); air > -99 {
			near(t, "air", s.Hours[i].AirC, air, 0)
		} else {
			missing++
		}
		if sun := number(t, f[13]); sun > 0 && f[14] == "0" {
			near(t, "sun", s.Hours[i].GlobalWM2, sun, 0)
		}
		if fallen := number(t, f[12]); fallen > -99 {
			near(t, "rain", s.Hours[i].RainMM, fallen, 0)
		}
	}
	if missing == 0 || missing > 20 || math.IsNaN(s.Hours[0].DewPointC) {
		t.Errorf("%d hours without air, dew point of the first %g", missing, s.Hours[0].DewPointC)
	}
}
