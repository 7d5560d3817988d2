package record

import (
	"math"
	"strings"
	"testing"

	"suncellar/internal/weather"
)

// Invented days in each of the formats.
const (
	boulderSample = ` # Format: year, mon, day, tmax, tmin, precip, snow, snowcover
 # Remarks
 2001  2 27     50     32    0.10     1.0      2
 2001  2 28     41     14 -999.00  -999.0   -999
 2001  2 29   -998   -998 -998.00  -998.0   -998
 2001  3  1   -998     23 -998.00  -998.0   -998
 2001  3  3     59     32    0.00     0.0      0
 Remarks below
`
	gridSample = `id,longitude,latitude,timestamp,pr,sph,srad,tmmn,tmmx,vs
20010101,-100,40,2001-01-01,2.5,0.002,8.1,-6.5,1.5,4
20010102,-100,40,2001-01-02,0,0.003,7.2,-5,2,3
`
	gridKelvinSample = `id,longitude,latitude,timestamp,pr,sph,srad,tmmn,tmmx,vs
20010101,-100,40,2001-01-01,2.5,0.002,93.75,266.65,274.65,4
20010102,-100,40,2001-01-02,0,0.003,83.3333333,268.15,275.15,3
`
	ghcnSample = `date,attr,value,a,b,c,d
20010101,TMAX,15,,,W,2400
20010101,TMIN,-65,,,W,2400
20010101,PRCP,25,,,W,2400
20010101,AWND,40,,,W,
20010102,TMAX,20,,,W,2400
20010102,TMIN,-50,,,W,2400
20010102,SNOW,30,,,W,
20010102,SNWD,120,,,W,
20010102,PRCP,0,T,,W,2400
20010103,TMAX,999,,X,W,2400
20010103,WT01,1,,,W,
`
	powerSample = `-BEGIN HEADER-
NASA/POWER Source Native Resolution Daily Data
Dates (month/day/year): 01/01/2001 through 01/02/2001 in LST
Location: latitude  40   longitude -100
elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 800.0 meters
parameter(s):
T2M         MERRA-2 Temperature at 2 Meters (C)
T2M_MIN     MERRA-2 Temperature at 2 Meters Minimum (C)
T2M_MAX     MERRA-2 Temperature at 2 Meters Maximum (C)
RH2M        MERRA-2 Relative Humidity at 2 Meters (%)
WS2M        MERRA-2 Wind Speed at 2 Meters (m/s)
WS10M       MERRA-2 Wind Speed at 10 Meters (m/s)
PRECTOTCORR MERRA-2 Precipitation Corrected (mm/day)
ALLSKY_SFC_SW_DWN     CERES SYN1deg All Sky Surface Shortwave Downward Irradiance (MJ/m^2/day)
-END HEADER-
YEAR,MO,DY,T2M,T2M_MIN,T2M_MAX,RH2M,WS2M,WS10M,PRECTOTCORR,ALLSKY_SFC_SW_DWN
2001,1,1,-2.5,-6.5,1.5,70,2,3,2.5,8.1
2001,1,2,-2.5,-5,2,70,2,3,0,-999.0
`
	archiveSample = `{"latitude": 40, "longitude": -100, "elevation": 800, "utc_offset_seconds": -21600,
 "daily_units": {"time": "iso8601", "temperature_2m_max": "°C", "temperature_2m_min": "°C", "precipitation_sum": "mm", "shortwave_radiation_sum": "MJ/m²", "wind_speed_10m_mean": "km/h"},
 "daily": {"time": ["2001-01-01", "2001-01-02"], "temperature_2m_max": [1.5, 2], "temperature_2m_min": [-6.5, null], "precipitation_sum": [2.5, 0], "shortwave_radiation_sum": [8.1, 7], "wind_speed_10m_mean": [10.8, 9]}}`
	crndSample = `53974,20010101,1.201,-96.61,39.1,1.5,-6.5,-2.5,-2.4,2.5,8.1,R,-9999,-9999,3.8,90,50,70.0,-99,-99,-99,-99,-99,-9999,-9999,-9999,-9999,-9999`
)

// crndPublished is the sample as the network publishes it, crndTable with headings and commas.
var (
	archiveUS = strings.NewReplacer(`"°C"`, `"°F"`, "[1.5, 2]", "[34.7, 36]", "[-6.5, null]", "[20.3, null]", `"mm"`, `"inch"`, "[2.5, 0]", "[0.0984251969, 0]",
		`"km/h"`, `"mp/h"`, "[10.8, 9]", "[6.7108089, 5]").Replace(archiveSample)
	powerOrdinal  = strings.NewReplacer("YEAR,MO,DY", "YEAR,DOY", "2001,1,1,", "2001,1,", "2001,1,2,", "2001,2,", "MJ/m^2", "kW-hr/m^2", "8.1\n", "2.25\n").Replace(powerSample)
	crndPublished = strings.ReplaceAll(crndSample, ",", " ") + "\n"
	crndTable     = strings.Join(crndNames, ",") + "\n" + crndSample + "\n"
)

// somewhere is where no file says where it is.
var somewhere = weather.KnownPlace(40, -100, 800)

func read(t *testing.T, content string) *Record {
	t.Helper()
	r, err := Read(strings.NewReader(content), "f", Options{Place: somewhere})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Each format says the same first day: 1.5 and -6.5 °C, 2.5 mm.
func TestFormatsSayTheSame(t *testing.T) {
	t.Parallel()
	for name, content := range map[string]string{"grid": gridSample, "grid in kelvin": gridKelvinSample, "list": ghcnSample, "list with stations": longList(),
		"network": crndPublished, "network with headings": crndTable, "archive": archiveSample, "archive, imperial": archiveUS, "power": powerSample, "power by day of the year": powerOrdinal} {
		r := read(t, content)
		d := r.Days[0]
		if math.Abs(d.HighC-1.5) > 1e-9 || math.Abs(d.LowC+6.5) > 1e-9 || math.Abs(d.RainMM-2.5) > 1e-6 {
			t.Errorf("%s: %+v", name, d)
		}
		if !strings.HasPrefix(name, "list") {
			if math.Abs(d.SunWhM2-2250) > 1e-6 {
				t.Errorf("%s: sun %.3f, want 2250 Wh/m2", name, d.SunWhM2)
			}
		}
		if strings.HasPrefix(name, "archive") || strings.HasPrefix(name, "power") {
			if math.Abs(d.WindMS-3) > 1e-6 || r.Place != somewhere || (known(r.Days[1].LowC) && known(r.Days[1].SunWhM2)) {
				t.Errorf("%s: %+v at %+v", name, r.Days, r.Place)
			}
		}
	}
}

// longList is the list as the network publishes it, with the station in each row and no headings.
func longList() string {
	_, rows, _ := strings.Cut(ghcnSample, "\n")
	var b strings.Builder
	for line := range strings.Lines(rows) {
		b.WriteString("USW00000000," + line)
	}
	return b.String()
}

// Traces are 0, missing values and days stay open, a 29 February of a common year is no day, and failed checks of the source count as missing.
func TestMissingAndTraces(t *testing.T) {
	t.Parallel()
	r := read(t, boulderSample)
	if len(r.Days) != 5 {
		t.Fatalf("%d days, want 5", len(r.Days))
	}
	if d := r.Days[0]; d.HighC != 10 || d.LowC != 0 || math.Abs(d.RainMM-2.54) > 1e-9 || math.Abs(d.Snow.FallM-0.0254) > 1e-9 || math.Abs(d.Snow.LyingM-0.0508) > 1e-9 {
		t.Errorf("first day %+v", d)
	}
	if d := r.Days[1]; d.RainMM != 0 || d.Snow.FallM != 0 || d.Snow.LyingM != 0 || !d.Snow.Known {
		t.Errorf("traces are %+v", d)
	}
	if d := r.Days[2]; known(d.HighC) || d.LowC != -5 || known(d.RainMM) || d.Snow.Known {
		t.Errorf("1 March is %+v", d)
	}
	if d := r.Days[3]; known(d.LowC) || r.Date(4).Format("2006-01-02") != "2001-03-03" {
		t.Errorf("a day that is not there is %+v", d)
	}
	list := read(t, ghcnSample)
	if known(list.Days[2].HighC) || !strings.Contains(told(list), "failed a check") || !strings.Contains(told(list), "traces") {
		t.Errorf("third day %+v, notes\n%s", list.Days[2], told(list))
	}
}

func told(r *Record) string {
	var b strings.Builder
	for _, n := range r.Notes {
		b.WriteString(n.String() + "\n")
	}
	return b.String()
}

// What cannot be is refused with line, value and what is allowed.
func TestImpossibleDays(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ what, content, want string }{
		{"low above high", strings.Replace(gridSample, "-5,2,3", "5,2,3", 1), "f:3: lowest air temperature 5.0 °C is above the highest, 2.0 °C"},
		{"too cold", strings.Replace(ghcnSample, "TMIN,-65", "TMIN,-2000", 1), `f:3:15: lowest air temperature is "-2000", must be -90 to 60 °C`},
		{"sun from nowhere", strings.Replace(crndTable, ",8.1,", ",30.1,", 1), "arrive outside the air"},
		{"°F", strings.Replace(strings.Replace(gridSample, "-6.5,1.5", "47,59", 1), "-5,2,3", "41,58,3", 1), "mean air temperature is 51.2 °C"},
		{"backwards", strings.Replace(gridSample, "2001-01-02", "2000-01-02", 1), `"2000-01-02" does not come after the row before it`},
		{"no number", strings.Replace(gridSample, "0.003", "many", 1), `f:3:31: "many" is not a number`},
		{"moved", strings.Replace(gridSample, "20010102,-100", "20010102,-101", 1), "a record is of one place"},
		{"no day", strings.Replace(boulderSample, " 3  3 ", " 3 33 ", 1), "must be a day"},
		{"twice", ghcnSample + "20010102,TMAX,20,,,W,2400\n", "stands twice"},
		{"two stations", longList() + "USW00000001,20010104,TMAX,15,,,W,2400\n", "a record is of one station"},
		{"unit of an archive", strings.Replace(archiveSample, `"°C"`, `"K"`, 2), `unit of daily.temperature_2m_min is "K", must be °C or °F`},
		{"value of an archive", strings.Replace(archiveSample, "[1.5, 2]", "[1.5, 200]", 1), `highest air temperature is "200 at daily.temperature_2m_max[1]", must be -90 to 60 °C`},
		{"unit of POWER", strings.Replace(powerSample, "(mm/day)", "(in)", 1), `f:16: unit of PRECTOTCORR is "in", must be mm/day or mm`},
		{"short", boulderSample + " 2001 3 4 5\n", "the row has 4 fields, must have 8"},
	} {
		if _, err := Read(strings.NewReader(row.content), "f", Options{Place: somewhere}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v\nwant %s", row.what, err, row.want)
		}
	}
}

// A file that does not know its place needs one.
func TestPlaceIsNeeded(t *testing.T) {
	t.Parallel()
	for content, want := range map[string]string{ghcnSample: "the file does not tell any of them", gridSample: "the file does not tell the elevation"} {
		if _, err := Read(strings.NewReader(content), "f", Options{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func FuzzRecord(f *testing.F) {
	for _, s := range []string{boulderSample, gridSample, gridKelvinSample, ghcnSample, longList(), crndPublished, crndTable, powerSample, powerOrdinal, archiveSample, archiveUS} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, content string) {
		r, err := Read(strings.NewReader(content), "f", Options{Place: somewhere})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		if len(r.Days) == 0 && r.Hourly == nil {
			t.Fatal("no days and no error")
		}
		for i, d := range r.Days {
			if d.LowC > d.HighC || d.LowC < -90 || d.HighC > 60 || d.SunWhM2 < 0 {
				t.Fatalf("day %d is %+v", i, d)
			}
		}
		if w, err := r.Winters(weather.MonthDay{Month: 1, Day: 1}, weather.MonthDay{Month: 1, Day: 2}); err == nil {
			for _, winter := range w.List {
				if _, err := winter.Series(); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
}
