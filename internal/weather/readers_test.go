package weather

import (
	"errors"
	"io/fs"
	"math"
	"strings"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// Both flavours, plain and packed, give the same hours, each where its stamp says.
func TestTMY3Flavours(t *testing.T) {
	t.Parallel()
	for _, content := range []string{inventedTMY3(true), inventedTMY3(false), gzipped(t, inventedTMY3(true)), strings.ReplaceAll(inventedTMY3(true), "\n", "\r\n")} {
		s, err := Read(strings.NewReader(content), "station.csv", ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if s.Start != time.Date(2001, 1, 1, 0, 0, 0, 0, s.Start.Location()) || s.Start.Format("-0700") != "-0700" || len(s.Hours) != 8760 {
			t.Fatalf("starts %v with %d hours", s.Start, len(s.Hours))
		}
		for _, i := range []int{0, 23, 24, 1000, 8759} {
			near(t, "air", s.Hours[i].AirC, airOfHour(i), 0.0051)
		}
		noon := s.Hours[36] // ends at 13:00 of the second day
		near(t, "global", noon.GlobalWM2, 200, 0)
		near(t, "pressure", noon.PressurePa, 84000, 0)
		near(t, "cloud, mean of both ends", noon.CloudShare, (float64(36%11)+float64(35%11))/20, 1e-12)
		near(t, "rain", noon.RainMM, 1, 0) // tenths of a millimetre
		if p := s.Place; p != KnownPlace(40, -105, 1500) {
			t.Errorf("place %+v", p)
		}
	}
}

func TestTMY3Findings(t *testing.T) {
	t.Parallel()
	good := inventedTMY3(false)
	lines := strings.Split(good, "\n")
	edit := func(line int, old, new string) string {
		changed := append([]string(nil), lines...)
		changed[line-1] = strings.Replace(changed[line-1], old, new, 1)
		return strings.Join(changed, "\n")
	}
	without := func(first, last int) string {
		return strings.Join(append(append([]string(nil), lines[:first-1]...), lines[last:]...), "\n")
	}
	for _, row := range []struct{ name, content, want string }{
		{"short station line", edit(1, ",-7,40,-105,1500,,,,", ""), "f:1: the station line has 3 fields"},
		{"latitude", edit(1, ",40,", ",140,"), "f:1:28: latitude is \"140\", must be -90 to 90"},
		{"headings", edit(2, "Date", "Datum"), "f:2:1: the headings begin with"},
		{"no air", edit(2, "Dry-bulb", "Wet-bulb"), "f:2: no column Dry-bulb"},
		{"day 30 of February", edit(40, "1/2/", "2/30/"), "f:40:1: date is"},
		{"hour 25", edit(40, ",14:00", ",25:00"), "f:40:"},
		{"hot", edit(40, "-9.77", "99.9"), "air temperature is \"99.9\", must be -90 to 60 °C"},
		{"word", edit(40, "-9.77", "cold"), "\"cold\" is not a number"},
		{"infinite", edit(40, "-9.77", "Inf"), "air temperature is \"Inf\", must be"},
		{"order", edit(41, "1/2/", "1/1/"), "does not come after the row before it"},
		{"long gap", without(40, 44), "air temperature is missing for 5 h, 2001-01-02 13:00 to 2001-01-02 18:00; at most 3 h are bridged"},
		{"cut off", strings.Join(lines[:5000], "\n"), "air temperature is missing for"},
		{"empty", "", "the station line has 1 fields"},
	} {
		_, err := readTMY3(row.content, "f")
		var findings *FileError
		if !errors.As(err, &findings) || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
	_, err := readTMY3(strings.ReplaceAll(good, ",-20,", ",hm,"), "f")
	var findings *FileError
	if !errors.As(err, &findings) || len(findings.Findings) != 20 || findings.Total != 100 || !strings.HasSuffix(err.Error(), "and 80 more") {
		t.Errorf("a spoilt column: %v", err)
	}
}

// Short gaps are bridged and told, missing marks are gaps.
func TestTMY3Gaps(t *testing.T) {
	t.Parallel()
	lines := strings.Split(inventedTMY3(false), "\n")
	lines[39] = strings.Replace(lines[39], "-9.77", "-9900", 1) // 14:00 of 2 January
	lines[49] = strings.Replace(lines[49], ",840,", ",-9900,", 1)
	content := strings.Join(append(lines[:50:50], lines[52:]...), "\n") // two rows lost
	s, err := readTMY3(content, "f")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bridged air", s.Hours[37].AirC, airOfHour(37), 0.0051)
	near(t, "bridged pressure", s.Hours[47].PressurePa, 84000, 0)
	near(t, "air of lost rows", s.Hours[49].AirC, airOfHour(47)+(airOfHour(50)-airOfHour(47))*2/3, 0.0051)
	filled := map[string]int{}
	for _, n := range s.Notes {
		if n.Kind == Filled {
			filled[n.What] += n.Hours
		}
	}
	for what, hours := range map[string]int{"air temperature": 3, "pressure": 3, "wind": 2, "dew point": 2} {
		if filled[what] != hours {
			t.Errorf("%s: %d h told as filled, want %d", what, filled[what], hours)
		}
	}
}

// A file full of holes is told in few notes, with all its hours.
func TestManyGapsAreGathered(t *testing.T) {
	t.Parallel()
	lines := strings.Split(inventedTMY3(false), "\n")
	for k := 10; k < 2000; k += 10 {
		lines[k] = strings.Replace(lines[k], ",2.5,", ",-9900,", 1)
	}
	s, err := readTMY3(strings.Join(lines, "\n"), "f")
	if err != nil {
		t.Fatal(err)
	}
	notes, hours := 0, 0
	for _, n := range s.Notes {
		if n.Kind == Filled {
			notes, hours = notes+1, hours+n.Hours
		}
	}
	if notes != 11 || hours != 199 {
		t.Errorf("%d notes of %d h, want 11 of 199", notes, hours)
	}
}

// Against the true hourly means of the same cloudless sky: the mapping of instants onto hours keeps the sun in step. The places
// lie up to half an hour off their zone's meridian.
func TestPVGISHoursAreInStepWithTheSun(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		place  Place
		offset float64
	}{{KnownPlace(45, 8, 250), 0.1761}, {KnownPlace(45, 8, 250), -0.4}, {KnownPlace(60, -22, 20), 0.9}} {
		s, err := Read(strings.NewReader(inventedPVGIS(row.place, row.offset)), "p.csv", ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		sum, square, truth, centre, weight := 0.0, 0.0, 0.0, 0.0, 0.0
		first := 171 * 24 // a day of June
		for i := first; i < first+24; i++ {
			mean := 0.0
			for k := range 60 {
				_, g := cloudless(row.place, s.HourStart(i).Add(time.Duration(k)*time.Minute+30*time.Second))
				mean += g / 60
			}
			e := s.Hours[i].GlobalWM2 - mean
			sum, truth, square = sum+s.Hours[i].GlobalWM2, truth+mean, square+e*e/24
			mid := s.HourStart(i).Add(30 * time.Minute)
			solar := float64(mid.UTC().Hour()) + float64(mid.Minute())/60 + row.place.LongitudeDeg/15 + sun.At(row.place.sun(), mid).EquationOfTime.Hours()
			centre += s.Hours[i].GlobalWM2 * math.Mod(solar+24, 24)
			weight += s.Hours[i].GlobalWM2
		}
		near(t, "root mean square of the hours", math.Sqrt(square), 0, 6) // straight lines cut the curve's top by under 1 %
		near(t, "sum of the day over the truth", sum/truth, 1, 0.005)
		near(t, "centre of the day's sun in solar time", centre/weight, 12, 0.02)
		zone := int(math.Round(row.place.LongitudeDeg / 15))
		end := (1000 + 1 - zone) % 8760
		near(t, "air at the end of hour 1000", s.Hours[1000].AirC, airOfHour(end), 0.0051)
	}
}

func TestPVGISZone(t *testing.T) {
	t.Parallel()
	content := inventedPVGIS(KnownPlace(45, 8, 250), 0.1761)
	s, err := Read(strings.NewReader(content), "p", ReadOptions{ZoneGiven: true, UTCOffset: 2 * time.Hour})
	if err != nil || s.Start.Format("-0700") != "+0200" {
		t.Fatalf("%v %v", s.Start, err)
	}
	near(t, "first hour ends at 23:00 UTC of the last day", s.Hours[0].AirC, airOfHour(8759), 0.0051)
	if _, err = Read(strings.NewReader(content), "p", ReadOptions{ZoneGiven: true, UTCOffset: 90 * time.Minute}); err == nil {
		t.Error("a zone of an hour and a half was taken")
	}
}

func TestPVGISFindings(t *testing.T) {
	t.Parallel()
	good := inventedPVGIS(KnownPlace(45, 8, 250), 0.1)
	for _, row := range []struct{ name, content, want string }{
		{"latitude", strings.Replace(good, ": 45.000", ": 95", 1), "f:1:29: latitude is \"95\", must be -90 to 90"},
		{"no place", strings.Replace(good, "Longitude", "Long", 1), "latitude and longitude are missing"},
		{"stamp", strings.Replace(good, "20010103:0500", "2001-01-03", 1), "f:62:1: time is \"2001-01-03\", must be like 20180131:1300"},
		{"humidity", strings.Replace(good, ",80,", ",130,", 1), "relative humidity is \"130\", must be 0 to 105 %"},
		{"no headings", good[:110], "no line of headings"},
	} {
		if _, err := readPVGIS(row.content, "f", ReadOptions{}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
}

func TestUnknownFormatAndSize(t *testing.T) {
	t.Parallel()
	if _, err := Read(strings.NewReader("a;b;c\n1;2;3\n"), "x.csv", ReadOptions{}); err == nil || !strings.Contains(err.Error(), "x.csv:1: the format is not known") {
		t.Errorf("got %v", err)
	}
	if _, err := Read(strings.NewReader(gzipped(t, strings.Repeat("0", maxBytes+1))), "bomb.gz", ReadOptions{}); !ErrTooLarge(err) {
		t.Errorf("a packed file beyond the limit: %v", err)
	}
	if _, err := Read(strings.NewReader("\x1f\x8bbroken"), "b.gz", ReadOptions{}); err == nil || !strings.Contains(err.Error(), "b.gz: reading gzip") {
		t.Errorf("broken gzip: %v", err)
	}
}

// A dew point above the air is taken as the air, and told; a file in Latin-1 keeps its letters; errors name the file without its folder.
func TestDewPointAboveAirAndOtherDoubts(t *testing.T) {
	t.Parallel()
	s, err := Read(strings.NewReader("# name: Z\xfcrich\n# time zone: UTC+1\ntime,air [degC],dew point [degC]\n2024-01-01 01:00,-5,-3\n2024-01-01 02:00,-5,-4.9\n"), "f", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dew point", s.Hours[0].DewPointC, -5, 0)
	flagged := 0
	for _, n := range s.Notes {
		if n.Kind == Flagged && n.What == "dew point" {
			flagged += n.Hours
		}
	}
	if flagged != 1 || s.Name != "Zürich" {
		t.Errorf("%d h flagged, name %q", flagged, s.Name)
	}
	if _, err = Open("nowhere/there.csv", ReadOptions{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
}

// Sun that cannot be is kept and flagged with how much.
func TestImpossibleSunIsFlagged(t *testing.T) {
	t.Parallel()
	s, err := readPlain(plainHead+"time,air [degC],global [W/m2]\n2024-01-01 12:00,1,500\n2024-01-01 13:00,1,900\n2024-01-01 14:00,1,400\n2024-01-01 19:00,1,60\n", "f", ReadOptions{})
	if err == nil {
		t.Fatal("a gap of four hours was taken")
	}
	s, err = readPlain(plainHead+"time,air [degC],global [W/m2]\n2024-01-01 12:00,1,500\n2024-01-01 13:00,1,900\n2024-01-01 14:00,1,400\n", "f", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	last := s.Notes[len(s.Notes)-1]
	// outside the air some 630 W/m2 reach the level at noon of 1 January at 40 N
	if last.Kind != Flagged || last.What != "sun" || last.Hours != 1 || !last.From.Equal(time.Date(2024, 1, 1, 12, 0, 0, 0, mountain)) {
		t.Errorf("note %v", last)
	}
	near(t, "kept", s.Hours[1].GlobalWM2, 900, 0)
}
