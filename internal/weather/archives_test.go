package weather

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// Two hours of invented weather in each form: -4 °C, humidity 80 %, 3 m/s.
const (
	archiveMetric = `{"latitude": 40.0, "longitude": -105.0, "elevation": 1500.0, "utc_offset_seconds": -25200,
 "hourly_units": {"time": "iso8601", "temperature_2m": "°C", "relative_humidity_2m": "%", "wind_speed_10m": "m/s", "precipitation": "mm", "snowfall": "cm", "snow_depth": "m", "shortwave_radiation": "W/m²", "cloud_cover": "%"},
 "hourly": {"time": ["2025-01-10T12:00", "2025-01-10T13:00", "2025-01-10T14:00"], "temperature_2m": [-4, -3.1, null], "relative_humidity_2m": [80, null, 70], "wind_speed_10m": [3, 4, 5],
  "precipitation": [0, 2.54, 0], "snowfall": [0, 2.54, 0], "snow_depth": [0.3048, 0.3, 0.3], "shortwave_radiation": [400, 380, 300], "cloud_cover": [20, 40, 60]}}`
	powerHours = `-BEGIN HEADER-
NASA/POWER Source Native Resolution Hourly Data
Dates (month/day/year): 01/10/2025 through 01/10/2025 in UTC
Location: Latitude  40.0   Longitude -105.0
Elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 1500.0 meters
The value for missing source data that cannot be computed or is outside of the sources availability range: -999
Parameter(s):
T2M                   MERRA-2 Temperature at 2 Meters (C)
RH2M                  MERRA-2 Relative Humidity at 2 Meters (%)
WS10M                 MERRA-2 Wind Speed at 10 Meters (m/s)
WS2M                  MERRA-2 Wind Speed at 2 Meters (m/s)
PRECTOTCORR           MERRA-2 Precipitation Corrected (mm/day)
ALLSKY_SFC_SW_DWN     CERES SYN1deg All Sky Surface Shortwave Downward Irradiance (Wh/m^2)
-END HEADER-
YEAR,MO,DY,HR,T2M,RH2M,WS10M,WS2M,PRECTOTCORR,ALLSKY_SFC_SW_DWN
2025,1,10,18,-999.0,-999.0,-999.0,-999.0,-999.0,-999.0
2025,1,10,19,-4,80,3,2,24,400
2025,1,10,20,-3,75,3,2,0,-999.0
2025,1,10,21,-2,70,3,2,0,300
`
	nsrdbHalfHours = `Source,Location ID,Latitude,Longitude,Time Zone,Elevation,Local Time Zone,DHI Units,DNI Units,GHI Units,Dew Point Units,Temperature Units,Pressure Units,Wind Speed Units
NSRDB,1,40,-105,-7,1500,-7,w/m2,w/m2,w/m2,c,c,mbar,m/s
Year,Month,Day,Hour,Minute,GHI,DNI,DHI,Temperature,Dew Point,Pressure,Wind Speed,Fill Flag
2025,1,10,12,0,400,800,60,-4,-9,850,3,0
2025,1,10,12,30,420,800,60,-3,-9,850,3,7
2025,1,10,13,0,360,700,60,-2,-9,850,3,0
2025,1,10,13,30,300,600,60,-1,-9,850,3,0
`
)

func readText(t *testing.T, content string) Series {
	t.Helper()
	s, err := Read(strings.NewReader(content), "f", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The stamps of an open archive are ends of hours; imperial answers say the same as metric ones.
func TestOpenArchive(t *testing.T) {
	t.Parallel()
	s := readText(t, archiveMetric)
	if s.Start.Format("2006-01-02 15:04 -07:00") != "2025-01-10 11:00 -07:00" || len(s.Hours) != 2 || s.Place != KnownPlace(40, -105, 1500) {
		t.Fatalf("%d h from %s at %+v", len(s.Hours), s.Start, s.Place)
	}
	h := s.Hours[1]
	near(t, "rain", h.RainMM, 2.54, 1e-9)
	near(t, "snowfall", h.SnowfallM, 0.0254, 1e-9)
	near(t, "cloud", h.CloudShare, 0.3, 1e-9)
	near(t, "global", h.GlobalWM2, 380, 1e-9)
	near(t, "dew point at -4 °C and 80 %", s.Hours[0].DewPointC, -6.9, 0.1) // by Magnus over water
	imperial := strings.NewReplacer(`"°C"`, `"°F"`, "[-4, -3.1, null]", "[24.8, 26.42, null]", `"m/s"`, `"mp/h"`, "[3, 4, 5]", "[6.710809, 8.947745, 11.184681]",
		`"mm"`, `"inch"`, "[0, 2.54, 0], \"snowfall\": [0, 2.54, 0]", "[0, 0.1, 0], \"snowfall\": [0, 1, 0]", `"cm"`, `"inch"`, `"snow_depth": "m"`, `"snow_depth": "ft"`, "[0.3048, 0.3, 0.3]", "[1, 0.98425197, 0.98425197]").Replace(archiveMetric)
	us := readText(t, imperial)
	for i := range s.Hours {
		for q := range quantities {
			a, b := *s.Hours[i].value(q), *us.Hours[i].value(q)
			if !(math.Abs(a-b) <= 1e-6*max(1, math.Abs(a))) && !(math.IsNaN(a) && math.IsNaN(b)) {
				t.Errorf("%s of hour %d: %g, in imperial units %g", facts[q].name, i, a, b)
			}
		}
	}
}

// Hours of POWER begin at their stamps; of two winds that at 10 m counts; what is not there at an end is cut off.
func TestPowerHours(t *testing.T) {
	t.Parallel()
	s := readText(t, powerHours)
	if s.Start.Format("2006-01-02 15:04 -07:00") != "2025-01-10 12:00 -07:00" || len(s.Hours) != 3 {
		t.Fatalf("%d h from %s", len(s.Hours), s.Start)
	}
	h := s.Hours[0]
	near(t, "air", h.AirC, -4, 0)
	near(t, "wind", h.WindMS, 3, 0)
	near(t, "rain of 24 mm a day", h.RainMM, 1, 1e-12)
	near(t, "sun between 400 and 300", s.Hours[1].GlobalWM2, 350, 1e-9)
	solar := readText(t, strings.Replace(powerHours, "in UTC", "in LST", 1))
	if solar.Start.Format("2006-01-02 15:04 -07:00") != "2025-01-10 19:00 -07:00" {
		t.Errorf("in solar time from %s", solar.Start)
	}
}

// Half hours on straight lines: ends and means by hand.
func TestNSRDBHalfHours(t *testing.T) {
	t.Parallel()
	s := readText(t, nsrdbHalfHours)
	if s.Start.Format("2006-01-02 15:04 -07:00") != "2025-01-10 12:00 -07:00" || len(s.Hours) != 2 {
		t.Fatalf("%d h from %s", len(s.Hours), s.Start)
	}
	near(t, "air at 13:00", s.Hours[0].AirC, -2, 0)
	near(t, "air at 14:00, held from 13:30", s.Hours[1].AirC, -1, 0)
	near(t, "global of 12 to 13", s.Hours[0].GlobalWM2, (400+2*420+360)/4.0, 1e-9)
	near(t, "global of 13 to 14", s.Hours[1].GlobalWM2, (360+2*300+300)/4.0, 1e-9)
	near(t, "pressure", s.Hours[0].PressurePa, 85000, 1e-9)
	flagged := false
	for _, n := range s.Notes {
		flagged = flagged || strings.Contains(n.Text, "1 of 4 rows have a fill flag")
	}
	if !flagged {
		t.Error("the fill flag is not told")
	}
}

// What cannot be is refused with its place and what is allowed.
func TestArchivesRefused(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ what, content, want string }{
		{"unit of an archive", strings.Replace(archiveMetric, `"°C"`, `"K"`, 1), `unit of hourly.temperature_2m is "K", must be °C or °F`},
		{"value of an archive", strings.Replace(archiveMetric, "[-4,", "[-200,", 1), `air temperature is "-200 at hourly.temperature_2m[0]", must be -90 to 60 °C`},
		{"length", strings.Replace(archiveMetric, "[-4,", "[", 1), "must be a list of 3 numbers"},
		{"hole", strings.Replace(archiveMetric, "T13:00", "T13:30", 1), "is not a whole number of hours"},
		{"days alone", `{"daily": {}, "daily_units": {}}`, "holds days and no hours"},
		{"broken", archiveMetric[:200], "is not whole JSON"},
		{"other JSON", `{"a": 1}`, "of no kind known"},
		{"unit of POWER", strings.Replace(powerHours, "(mm/day)", "(in)", 1), `unit of PRECTOTCORR is "in", must be mm/hour or`},
		{"days of POWER", strings.Replace(powerHours, "DY,HR,", "DY,XX,", 1), "no column HR"},
		{"value of POWER", strings.Replace(powerHours, "19,-4", "19,-400", 1), "f:17:14: air temperature is"},
		{"unit of NSRDB", strings.Replace(nsrdbHalfHours, "c,mbar", "f,mbar", 1), `unit of Temperature is "f", must be c`},
		{"order of NSRDB", strings.Replace(nsrdbHalfHours, "10,13,0", "10,11,0", 1), "does not follow the row before it"},
		{"year of PVGIS", `{"inputs": {"location": {"latitude": 45, "longitude": 8}}, "outputs": {"hourly": []}}`, "only the typical year of PVGIS is read"},
	} {
		if _, err := Read(strings.NewReader(row.content), "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v\nwant %s", row.what, err, row.want)
		}
	}
}

// A week of °F said to be °C is refused.
func TestFahrenheitIsNoCelsius(t *testing.T) {
	t.Parallel()
	text := func(air string) string {
		var b strings.Builder
		b.WriteString("# time zone: UTC-7\ntime,air [degC]\n")
		for hour := range 7 * 24 {
			fmt.Fprintf(&b, "%s,%s\n", time.Date(2025, 5, 1, hour+1, 0, 0, 0, time.UTC).Format("2006-01-02 15:04"), air)
		}
		return b.String()
	}
	if _, err := Read(strings.NewReader(text("55")), "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), "these look like °F") {
		t.Errorf("a week at 55 °C: %v", err)
	}
	readText(t, text("44"))
}

// A gap of hours that is too long to be bridged refuses a year, and stays open in a record of many.
func TestGapsAreKeptOnRequest(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	head, _, _ := strings.Cut(powerHours, "2025,1,10,18")
	b.WriteString(head)
	for hour := range 24 {
		air := "-4"
		if hour > 5 && hour < 12 {
			air = "-999"
		}
		fmt.Fprintf(&b, "2025,1,10,%d,%s,80,3,2,0,0\n", hour, air)
	}
	if _, err := Read(strings.NewReader(b.String()), "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), "air temperature is missing for 6 h") {
		t.Errorf("a gap of six hours: %v", err)
	}
	s, err := Read(strings.NewReader(b.String()), "f", ReadOptions{KeepGaps: true})
	if err != nil || !math.IsNaN(s.Hours[8].AirC) || math.IsNaN(s.Hours[12].AirC) {
		t.Errorf("kept open: %v", err)
	}
	if _, err := Complete(s, s.Place); err == nil {
		t.Error("hours without air are completed")
	}
}

// Ten minutes' rows of the plain CSV become hours: means, sums and ends by hand, whether stamped at their ends or starts.
func TestPlainStepsBecomeHours(t *testing.T) {
	t.Parallel()
	for _, starts := range []bool{false, true} {
		var b strings.Builder
		b.WriteString("# time zone: UTC-7\n# latitude: 40\n# longitude: -105\n")
		shift := 10
		if starts {
			b.WriteString("# stamp: start of hour\n")
			shift = 0
		}
		b.WriteString("time,air [degC],global [W/m2],rain [mm]\n")
		begin := time.Date(2025, 1, 10, 9, 20, 0, 0, time.UTC)
		for k := range 16 { // 9:20 to 12:00
			fmt.Fprintf(&b, "%s,%d,%d,0.5\n", begin.Add(time.Duration(10*k+shift)*time.Minute).Format("2006-01-02 15:04"), k, 100+10*k)
		}
		s := readText(t, b.String())
		if s.Start.Format("15:04") != "09:00" || len(s.Hours) != 3 {
			t.Fatalf("%d h from %s", len(s.Hours), s.Start)
		}
		near(t, "global of 10 to 11", s.Hours[1].GlobalWM2, 100+10*6.5, 1e-9)
		near(t, "rain", s.Hours[1].RainMM, 3, 1e-9)
		near(t, "global of 9:20 to 10", s.Hours[0].GlobalWM2, 100+10*1.5, 1e-9)
		want := 9.0 // the row that ends at 11:00
		if starts {
			want = 10 // the row stamped 11:00
		}
		near(t, "air at 11:00", s.Hours[1].AirC, want, 1e-9)
	}
}

// The two forms in which PVGIS serves one year are the same hours.
func TestPVGISFormsAreTheSame(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(reference(t), "weather")
	csv, err := Open(filepath.Join(folder, "tmy_45.000_8.000_2005_2023.csv.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	other, err := Open(filepath.Join(folder, "tmy_45.000_8.000_2005_2023.json.gz"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if other.Place != csv.Place || !other.Start.Equal(csv.Start) || other.Name != csv.Name || len(other.Hours) != len(csv.Hours) {
		t.Fatalf("%s from %s at %+v; CSV %s from %s at %+v", other.Name, other.Start, other.Place, csv.Name, csv.Start, csv.Place)
	}
	for i := range csv.Hours {
		for q := range quantities {
			a, b := *csv.Hours[i].value(q), *other.Hours[i].value(q)
			if a != b && !(math.IsNaN(a) && math.IsNaN(b)) {
				t.Fatalf("%s of hour %d: CSV %g, JSON %g", facts[q].name, i, a, b)
			}
		}
	}
}

// Hours of published half hours, in both orders of columns, against the rows themselves: each hour is a quarter of its ends and a half of its middle, the year's sum that
// of the rows, the air that of the row at the end.
func TestNSRDBYears(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		file                string
		air, global, albedo int // columns
		year                int
	}{{"nsrdb_psm3_401182_2017_30min.csv.gz", 20, 6, 15, 2017}, {"nsrdb_psm4_401182_2023_30min.csv.gz", 5, 18, 23, 2023}} {
		path := filepath.Join(reference(t), "weather", row.file)
		s, err := Open(path, ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		var air, sun, white []float64
		for _, line := range strings.Split(unpacked(t, path), "\n")[3:] {
			if f := strings.Split(line, ","); len(f) > 20 {
				air, sun, white = append(air, number(t, f[row.air])), append(sun, number(t, f[row.global])), append(white, number(t, f[row.albedo]))
			}
		}
		if len(s.Hours) != 8760 || len(air) != 17520 || s.Start.Year() != row.year || s.Place != KnownPlace(40.53, -108.54, 2168) {
			t.Fatalf("%s: %d h of %d rows from %s at %+v", row.file, len(s.Hours), len(air), s.Start, s.Place)
		}
		rows, hours := 0.0, 0.0
		for _, v := range sun {
			rows += v / 2
		}
		for i, h := range s.Hours {
			hours += h.GlobalWM2
			if i == len(s.Hours)-1 {
				break
			}
			near(t, "global", h.GlobalWM2, (sun[2*i]+2*sun[2*i+1]+sun[2*i+2])/4, 1e-9)
			near(t, "albedo", h.GroundAlbedo, (white[2*i]+2*white[2*i+1]+white[2*i+2])/4, 1e-9)
			near(t, "air", h.AirC, air[2*i+2], 0)
		}
		near(t, row.file+": sum of global", hours, rows, 1e-6*rows)
		t.Logf("%s: %.1f kWh/m2", row.file, hours/1000)
	}
}

// The zenith angles beside the values of NSRDB are those of the stamp: so its values are instants.
func TestNSRDBStampsAreInstants(t *testing.T) {
	t.Parallel()
	path := filepath.Join(reference(t), "weather", "nsrdb_psm3_401182_2017_30min.csv.gz")
	place := KnownPlace(40.53, -108.54, 2168)
	worst, n := 0.0, 0
	for _, line := range strings.Split(unpacked(t, path), "\n")[3:] {
		f := strings.Split(line, ",")
		if len(f) < 20 || n > 2000 {
			continue
		}
		part := make([]int, 5)
		for k := range part {
			part[k] = int(number(t, f[k]))
		}
		at := time.Date(part[0], time.Month(part[1]), part[2], part[3], part[4], 0, 0, Zone(-7*time.Hour))
		if z := number(t, f[13]); z < 80 { // below 80° there is hardly any refraction
			n++
			worst = max(worst, math.Abs(z-(90-zenithless(place, at))))
		}
	}
	if !(worst < 0.1) || n < 1000 {
		t.Errorf("zenith angles are off by up to %.2f° in %d rows; a quarter of an hour would be 2 to 4°", worst, n)
	}
}

// The year of Malta: sums by a plain walk over the rows, and its sun stands about the sun's noon.
func TestPowerYear(t *testing.T) {
	t.Parallel()
	path := filepath.Join(reference(t), "forecast", "nasa_power_hourly_malta_2025-2026.csv.gz")
	s, err := Open(path, ReadOptions{KeepGaps: true})
	if err != nil {
		t.Fatal(err)
	}
	air, n, rain := 0.0, 0, 0.0
	for _, line := range strings.Split(unpacked(t, path), "\n") {
		f := strings.Split(line, ",")
		if len(f) == 12 && (f[0] == "2025" || f[0] == "2026") && f[4] != "-999.0" {
			air, n, rain = air+number(t, f[4]), n+1, rain+number(t, f[6])/24
		}
	}
	got, gotN, gotRain, moment, sum := 0.0, 0, 0.0, 0.0, 0.0
	for i, h := range s.Hours {
		if !math.IsNaN(h.AirC) {
			got, gotN, gotRain = got+h.AirC, gotN+1, gotRain+known(h.RainMM)
		}
		if at := s.HourStart(i).UTC(); at.Year() == 2025 && !math.IsNaN(h.GlobalWM2) {
			moment, sum = moment+h.GlobalWM2*(float64(at.Hour())+0.5), sum+h.GlobalWM2
		}
	}
	if gotN != n {
		t.Errorf("%d hours with air, want %d", gotN, n)
	}
	near(t, "mean air", got/float64(gotN), air/float64(n), 1e-9)
	near(t, "rain", gotRain, rain, 1e-6*rain)
	near(t, "middle of the sun's day in UTC", moment/sum, 12-s.Place.LongitudeDeg/15, 0.1)
	if _, err := Open(path, ReadOptions{}); err == nil || !strings.Contains(err.Error(), "missing for 24 h") {
		t.Errorf("a day without air is let through: %v", err)
	}
}

// The published answers of open archives: air and rain against the lists themselves.
func TestPublishedArchives(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		file         string
		fahrenheit   bool
		millimetres  float64
		metresSecond float64
		offset       string
	}{{"openmeteo_archive_adelaide.json", false, 1, 1, "+09:30"}, {"openmeteo_forecast_berlin_radiation.json", false, 1, 1 / 3.6, "+00:00"}, {"openmeteo_forecast_toronto_imperial.json", true, 25.4, 0.44704, "-05:00"}} {
		path := filepath.Join(reference(t), "forecast", row.file)
		s, err := Open(path, ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		var file struct {
			Hourly struct {
				Time []string
				Air  []float64 `json:"temperature_2m"`
				Rain []float64 `json:"precipitation"`
				Wind []float64 `json:"wind_speed_10m"`
				Sun  []float64 `json:"shortwave_radiation"`
			}
		}
		if err := json.Unmarshal([]byte(unpacked(t, path)), &file); err != nil {
			t.Fatal(err)
		}
		if len(s.Hours) != len(file.Hourly.Air) || s.HourStart(1).Format("2006-01-02T15:04") != file.Hourly.Time[0] || s.Start.Format("-07:00") != row.offset {
			t.Errorf("%s: %d h from %s", row.file, len(s.Hours), s.Start)
		}
		for i, h := range s.Hours {
			air := file.Hourly.Air[i]
			if row.fahrenheit {
				air = (air - 32) / 1.8
			}
			near(t, row.file+" air", h.AirC, air, 1e-9)
			near(t, row.file+" rain", h.RainMM, file.Hourly.Rain[i]*row.millimetres, 1e-9)
			near(t, row.file+" wind", h.WindMS, file.Hourly.Wind[i]*row.metresSecond, 1e-9)
			if file.Hourly.Sun != nil {
				near(t, row.file+" sun", h.GlobalWM2, file.Hourly.Sun[i], 1e-9)
			}
		}
	}
}

// Five-minute rows of a measured winter, put into the plain CSV by a few lines: hours are the means of their twelve rows.
func TestMeasuredFiveMinutes(t *testing.T) {
	t.Parallel()
	lines := strings.Split(unpacked(t, filepath.Join(reference(t), "weather", "agc2019_weather_5min.csv.gz")), "\n")
	var b strings.Builder
	b.WriteString("# time zone: UTC+1\n# latitude: 52\n# longitude: 5.7\n# elevation: 10 m\ntime,air [degC],humidity [%],global [W/m2],wind [m/s]\n")
	sums, ends, counts := map[string]float64{}, map[string]float64{}, map[string]int{}
	zero := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	for _, line := range lines[1:] {
		f := strings.Split(line, ",")
		if len(f) < 11 || f[8] == "NaN" || f[0] >= "43891" { // to 1 March 2020; a gap of the sun on 30 March refuses the rest
			continue
		}
		serial, err := strconv.ParseFloat(f[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		at := zero.Add(time.Duration(math.Round(serial*288)) * 5 * time.Minute)
		fmt.Fprintf(&b, "%s,%s,%s,%s,%s\n", at.Format("2006-01-02 15:04"), f[8], f[7], f[2], f[10])
		end := at.Add(time.Hour - time.Nanosecond).Truncate(time.Hour).Format(time.DateTime)
		sums[end] += number(t, f[2]) / 12
		ends[end], counts[end] = number(t, f[8]), counts[end]+1
	}
	s, err := Read(strings.NewReader(b.String()), "f", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, h := range s.Hours[1 : len(s.Hours)-1] {
		end := s.HourStart(i + 2).Format(time.DateTime)
		if counts[end] != 12 {
			continue // some rows are not there
		}
		near(t, "global of the hour to "+end, h.GlobalWM2, max(0, sums[end]), 0.5)
		near(t, "air at "+end, h.AirC, ends[end], 1e-9)
		if t.Failed() {
			break
		}
	}
	t.Logf("%d h from %s", len(s.Hours), s.Start)
}

// zenithless is the elevation of the sun's centre [°] without refraction.
func zenithless(place Place, at time.Time) float64 {
	return sun.At(place.sun(), at).Elevation.Degrees()
}
