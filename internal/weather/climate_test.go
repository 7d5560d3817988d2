package weather

import (
	"math"
	"testing"
	"time"
)

// inventedRecord is days of made years of known normals, one after another, with a hole in the second.
func inventedRecord(t *testing.T, y *Years, years int) (start time.Time, days []Day) {
	t.Helper()
	start = time.Date(1981, 7, 1, 0, 0, 0, 0, time.UTC)
	for k := range years {
		s := madeYear(t, y, k)
		for d := range 365 {
			at := start.AddDate(0, 0, len(days))
			day := dayOfHours(s.Hours[d*24 : d*24+24])
			if k == 1 && d > 180 && d < 200 {
				day.LowC = math.NaN()
			}
			days = append(days, day)
			if at.Month() == time.February && at.Day() == 28 && leap(at.Year()) {
				days = append(days, day)
			}
		}
	}
	return start, days
}

func dayOfHours(hours []Hour) Day {
	d := Day{LowC: math.Inf(1), HighC: math.Inf(-1)}
	for _, h := range hours {
		d.LowC, d.HighC = min(d.LowC, h.AirC), max(d.HighC, h.AirC)
		d.SunWhM2 += h.GlobalWM2
		d.DewPointC += h.DewPointC / 24
		d.RainMM += h.RainMM
		d.WindMS += h.WindMS / 24
	}
	return d
}

// A record made of known normals gives them back within the sampling error of its years, and its spread too.
func TestClimateOfAMadeRecordIsThatOfItsNormals(t *testing.T) {
	t.Parallel()
	n, spread := coldHill(), Spread{}
	for m := range 12 {
		spread.MonthK[m], spread.LowK[m], spread.HighK[m] = 2.2, 5, 5.5
	}
	n.YearLowestKnown = false // it would stretch the deviations away from those given
	const years = 40
	start, days := inventedRecord(t, yearsOf(t, n, spread, 1), years)
	c, err := ClimateOfDays(start, KnownPlace(40, -105, 1600), days)
	if err != nil {
		t.Fatal(err)
	}
	for m := range 12 {
		name := time.Month(m + 1).String()
		near(t, name+" mean low", c.Normals.MeanLowC[m], n.MeanLowC[m], 3*2.4/math.Sqrt(years))
		near(t, name+" mean high", c.Normals.MeanHighC[m], n.MeanHighC[m], 3*2.4/math.Sqrt(years))
		near(t, name+" sun", c.Normals.DailySunKWhM2[m]/n.DailySunKWhM2[m], 1, 0.06)
		near(t, name+" wind", c.Normals.WindMS[m], n.WindMS[m], 0.3)
		near(t, name+" wet days", c.Normals.WetDays[m], n.WetDays[m], 2)
		near(t, name+" precipitation", c.Normals.PrecipMM[m]/n.PrecipMM[m], 1, 0.5)
		near(t, name+" deviation between years", c.Spread.MonthK[m], 2.2, 0.85)
		near(t, name+" deviation of lows", c.Spread.LowK[m], 5, 0.6)
		near(t, name+" deviation of highs", c.Spread.HighK[m], 5.5, 0.7)
	}
	if c.Months[0] != years-1 || c.Months[2] != years {
		t.Errorf("%d Januaries and %d Marches count, want %d with a hole in one, and %d", c.Months[0], c.Months[2], years-1, years)
	}
	if !c.Normals.YearLowestKnown || len(c.Normals.DewPointC) != 12 {
		t.Errorf("lowest of the year or dew point is missing: %v", c.Notes)
	}
}

// Hours give the same climate as their days, with the mean of the hours besides.
func TestClimateOfHoursIsThatOfItsDays(t *testing.T) {
	t.Parallel()
	y := yearsOf(t, coldHill(), Spread{}, 2)
	long := Series{Place: KnownPlace(40, -105, 1600), Start: time.Date(1981, 7, 1, 0, 0, 0, 0, time.UTC)}
	var days []Day
	for k := range 6 {
		s := madeYear(t, y, k)
		long.Hours = append(long.Hours, s.Hours...)
		for d := range 365 {
			days = append(days, dayOfHours(s.Hours[d*24:d*24+24]))
		}
	}
	a, err := ClimateOfHours(long)
	if err != nil {
		t.Fatal(err)
	}
	b, err := ClimateOfDays(long.Start, long.Place, days)
	if err != nil {
		t.Fatal(err)
	}
	for m := range 12 {
		near(t, "mean low", a.Normals.MeanLowC[m], b.Normals.MeanLowC[m], 1e-9)
		near(t, "sun", a.Normals.DailySunKWhM2[m], b.Normals.DailySunKWhM2[m], 1e-9)
		near(t, "wet days", a.Normals.WetDays[m], b.Normals.WetDays[m], 1e-9)
		if a.Normals.SnowfallM[m] == 0 != (hillNormals().SnowfallM[m] == 0) {
			t.Errorf("month %d: snowfall is %g m", m+1, a.Normals.SnowfallM[m])
		}
	}
	near(t, "lowest of the year", a.Normals.YearLowestC, b.Normals.YearLowestC, 1e-9)
	if len(a.Normals.MeanC) != 12 || len(b.Normals.MeanC) != 0 || !allZero(a.Spread.MonthK) {
		t.Error("hours know their mean, days do not, and six years give no spread")
	}
	long.TypicalYear = true
	if _, err := ClimateOfHours(long); err == nil {
		t.Error("a typical year was taken for a record")
	}
}

// Too short a record is refused, one without sun has it from the days' range, and both say so.
func TestClimateFindings(t *testing.T) {
	t.Parallel()
	start, days := inventedRecord(t, yearsOf(t, coldHill(), Spread{}, 3), 6)
	if _, err := ClimateOfDays(start, KnownPlace(40, -105, 1600), days[:3*365]); err == nil {
		t.Error("three years were taken")
	}
	if _, err := ClimateOfDays(start, Place{}, days); err == nil {
		t.Error("an unknown place was taken")
	}
	for d := range days {
		days[d].SunWhM2, days[d].RainMM = math.NaN(), math.NaN()
	}
	c, err := ClimateOfDays(start, KnownPlace(40, -105, 1600), days)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearness of January from its range of 13 K", c.Normals.Clearness[0], 0.16*math.Sqrt(13), 0.06)
	told := map[string]bool{}
	for _, n := range c.Notes {
		told[n.What] = true
	}
	for _, what := range []string{"all", "spread", "sun", "precipitation"} {
		if !told[what] {
			t.Errorf("nothing is told of %s", what)
		}
	}
	if _, err := NewYears(c.Normals, c.Spread, c.Place, 1); err != nil {
		t.Errorf("years of a record's normals: %v", err)
	}
}

func TestClearnessOfADay(t *testing.T) {
	t.Parallel()
	place := KnownPlace(40, -105, 1600)
	// FAO paper 56, table 2.6: 15.0 MJ/m2 arrive outside the air on 15 January at 40° N
	near(t, "clearness", place.Clearness(time.Date(2001, 1, 15, 12, 0, 0, 0, time.UTC), 15.0e6/3600/2), 0.5, 0.01)
	if k := KnownPlace(80, 0, 0).Clearness(time.Date(2001, 12, 21, 0, 0, 0, 0, time.UTC), 0); !math.IsNaN(k) {
		t.Errorf("clearness of the polar night is %g", k)
	}
}
