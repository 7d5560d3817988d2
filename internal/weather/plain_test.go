package weather

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const plainHead = "# name: Hill\n# latitude: 40 deg\n# longitude: -105 deg\n# elevation: 1500 m\n# time zone: UTC-7\n"

func TestPlainUnitsAndStamps(t *testing.T) {
	content := plainHead + "# a remark\n\ntime,air [degF],humidity [%],wind [mph],pressure [hPa],cloud [%],snow depth [in],rain [mm]\n" +
		"2024-01-31 23:00,14,100,10,850,50,4,1\n2024-01-31T24:00,32,50,0,850,,,\n2024-02-01 08:00Z,50,50,0,850,,,\n"
	s, err := ReadPlain(strings.NewReader(content), "f")
	if err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2024, 1, 31, 22, 0, 0, 0, mountain); !s.Start.Equal(want) || len(s.Hours) != 3 {
		t.Fatalf("starts %v with %d hours", s.Start, len(s.Hours))
	}
	h := s.Hours[0]
	for _, row := range []struct {
		what            string
		got, want, near float64
	}{
		{"air", h.AirC, -10, 1e-12}, {"dew point of saturated air", h.DewPointC, -10, 1e-6}, {"wind", h.WindMS, 4.4704, 1e-12},
		{"pressure", h.PressurePa, 85000, 0}, {"cloud", h.CloudShare, 0.5, 0}, {"snow depth", h.SnowDepthM, 0.1016, 1e-12},
		{"second air", s.Hours[1].AirC, 0, 1e-12}, {"third air", s.Hours[2].AirC, 10, 1e-12},
		// ASHRAE Fundamentals 2017, ch. 1: half-saturated air at 10 °C has its dew point at 0.06 °C (613.9 of 1228 Pa)
		{"dew point of half-saturated air", s.Hours[2].DewPointC, 0.06, 0.03},
	} {
		near(t, row.what, row.got, row.want, row.near)
	}
	starts := strings.Replace(content, "# a remark", "# stamp: start of hour", 1)
	if s, err = ReadPlain(strings.NewReader(starts), "f"); err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2024, 1, 31, 23, 0, 0, 0, mountain); !s.Start.Equal(want) {
		t.Errorf("stamped at the start: begins %v", s.Start)
	}
	near(t, "state at the end of the first hour", s.Hours[0].AirC, 0, 1e-12)
	near(t, "sum over the first hour", s.Hours[0].RainMM, 1, 0)
	near(t, "last state, held", s.Hours[2].AirC, 10, 1e-12)
}

func TestPlainDayAndHourAndHumidityRatio(t *testing.T) {
	content := plainHead + "day;hour;air [degC];humidity ratio [g/kg]\n1;1;20;7.37\n1;2;20;0\n"
	s, err := ReadPlain(strings.NewReader(content), "f")
	if err != nil {
		t.Fatal(err)
	}
	if !s.TypicalYear || !s.Start.Equal(time.Date(2001, 1, 1, 0, 0, 0, 0, mountain)) {
		t.Errorf("starts %v, typical %v", s.Start, s.TypicalYear)
	}
	// e = w p/(0.621945 + w) = 990.2 Pa at the standard 84,556 Pa of 1500 m; saturation over water at 6.81 °C
	near(t, "dew point", s.Hours[0].DewPointC, 6.81, 0.05)
	if s.Hours[1].DewPointC > -50 {
		t.Errorf("dew point of dry air is %g", s.Hours[1].DewPointC)
	}
}

func TestPlainFindings(t *testing.T) {
	rows := "time,air [degC]\n2024-01-01 01:00,1\n2024-01-01 02:00,2\n"
	for _, row := range []struct{ name, content, want string }{
		{"no zone", strings.Replace(plainHead, "# time zone: UTC-7\n", "", 1) + rows, "the time zone is not given"},
		{"bad zone", strings.Replace(plainHead, "UTC-7", "MST", 1) + rows, "f:5:14: time zone is \"MST\", must be like UTC-7"},
		{"latitude", strings.Replace(plainHead, "40 deg", "4000", 1) + rows, "f:2:13: latitude is \"4000\", must be -90 to 90 deg"},
		{"half a place", strings.Replace(plainHead, "# latitude: 40 deg\n", "", 1) + rows, "one of latitude and longitude"},
		{"column", plainHead + "time,air [degC],sunshine [h]\n", "f:6:17: column \"sunshine [h]\" is not known\nhint: known are time, day"},
		{"unit", plainHead + "time,air [K]\n", "f:6:6: unit of column air is \"K\", must be degC or degF\nhint: write the heading as: air [degC]"},
		{"no unit", plainHead + "time,air\n", "unit of column air is \"\""},
		{"twice", plainHead + "time,air [degC],air [degF]\n", "is there twice"},
		{"no time", plainHead + "hour,air [degC]\n", "no column time, and not both day and hour"},
		{"no air", plainHead + "time,wind [m/s]\n", "no column air"},
		{"ratio without height", strings.Replace(plainHead, "# elevation: 1500 m\n", "", 1) + "time,air [degC],humidity ratio [g/kg]\n", "needs a pressure column or the elevation"},
		{"fields", plainHead + rows + "2024-01-01 03:00,1,2\n", "f:9: the row has 3 fields, must have 2"},
		{"comma", plainHead + "time;air [degC]\n2024-01-01 01:00;1,5\n", "f:7:18: \"1,5\" is not a number\nhint: leave a cell empty"},
		{"time", plainHead + rows + "1/2/2024 3:00,1\n", "f:9:1: time is \"1/2/2024 3:00\", must be like 2024-01-31 13:00"},
		{"half hours", plainHead + rows + "2024-01-01 02:30,1\n", "not a whole number of hours"},
		{"back", plainHead + rows + "2024-01-01 02:00,1\n", "does not come after"},
		{"gap", plainHead + rows + "2024-01-01 09:00,1\n", "6 h are missing before"},
		{"jump", plainHead + rows + "2034-01-01 09:00,1\n", "rows must be hourly"},
		{"rh", plainHead + "time,air [degC],humidity [%]\n2024-01-01 01:00,1,106\n", "relative humidity is \"106\", must be 0 to 105 %"},
		{"sun", plainHead + "time,air [degC],global [W/m2]\n2024-01-01 01:00,1,-6\n", "global sun is \"-6\", must be -5 to 1500"},
		{"no rows", plainHead + "time,air [degC]\n", "no hours of weather found"},
		{"dark gap only", plainHead + "time,air [degC],global [W/m2]\n2024-01-01 11:00,1,100\n2024-01-01 12:00,1,\n2024-01-01 13:00,1,\n2024-01-01 14:00,1,100\n",
			"f:8: global sun is missing for 2 h"},
	} {
		if _, err := readPlain(row.content, "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
}

// At night a gap in the sun is no gap; one hour of day is bridged.
func TestPlainSunGaps(t *testing.T) {
	content := plainHead + "time,air [degC],global [W/m2]\n2024-01-01 01:00,1,0\n2024-01-01 02:00,1,\n2024-01-01 03:00,1,\n2024-01-01 04:00,1,\n" +
		"2024-01-01 05:00,1,\n2024-01-01 06:00,1,\n2024-01-01 07:00,1,\n2024-01-01 08:00,1,40\n2024-01-01 09:00,1,\n2024-01-01 10:00,1,60\n"
	s, err := readPlain(content, "f", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "night", s.Hours[3].GlobalWM2, 0, 0)
	near(t, "bridged", s.Hours[8].GlobalWM2, 50, 1e-12)
}

// What is written is read again as it was, within the six digits kept, with unknown values still unknown.
func TestPlainRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "hours")
		offset := time.Duration(rapid.IntRange(-48, 56).Draw(t, "quarters")) * 15 * time.Minute
		offset = max(offset, -12*time.Hour)
		s := emptySeries(time.Date(2023, 12, 31, rapid.IntRange(0, 23).Draw(t, "hour"), 0, 0, 0, Zone(offset)), n)
		s.Name, s.Place, s.TypicalYear = "Hill, north: slope", KnownPlace(40.125, -105.5, 1500), rapid.Bool().Draw(t, "typical")
		for i := range s.Hours {
			for q := range quantities {
				f := facts[q]
				*s.Hours[i].value(q) = rapid.Float64Range(max(0, f.low), f.high).Draw(t, f.name)
			}
			h := &s.Hours[i]
			h.DewPointC = min(h.DewPointC, h.AirC)
			if i%2 == 0 {
				h.SnowfallM = math.NaN()
			}
		}
		var b bytes.Buffer
		if err := WritePlain(&b, s); err != nil {
			t.Fatal(err)
		}
		got, err := Read(&b, "f", ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if !got.Start.Equal(s.Start) || got.Place != s.Place || got.Name != s.Name || got.TypicalYear != s.TypicalYear || len(got.Hours) != n {
			t.Fatalf("got %v %v %q, wrote %v %v %q", got.Start, got.Place, got.Name, s.Start, s.Place, s.Name)
		}
		for i := range s.Hours {
			for q := range quantities {
				a, b := *s.Hours[i].value(q), *got.Hours[i].value(q)
				if math.IsNaN(a) != math.IsNaN(b) || math.Abs(a-b) > 1e-5*math.Abs(a) {
					t.Fatalf("%s of hour %d: wrote %g, read %g", facts[q].name, i, a, b)
				}
			}
		}
	})
}
