package weather

import (
	"math"
	"strings"
	"testing"
	"time"
)

var october, april = MonthDay{time.October, 1}, MonthDay{time.April, 30}

// countedYears is a series whose air counts its hours.
func counted(start time.Time, n int) Series {
	s := emptySeries(start, n)
	for i := range s.Hours {
		s.Hours[i].AirC = float64(i)
	}
	return s
}

func TestWinterOfATypicalYearIsJoined(t *testing.T) {
	s := counted(time.Date(2001, 1, 1, 0, 0, 0, 0, mountain), 8760)
	s.TypicalYear = true
	w, err := s.Winter(october, april)
	if err != nil {
		t.Fatal(err)
	}
	if w.Start.Format("2006-01-02 15") != "2001-10-01 00" || w.End().Format("2006-01-02 15") != "2002-05-01 00" || len(w.Hours) != 212*24 {
		t.Fatalf("%v to %v, %d hours", w.Start, w.End(), len(w.Hours))
	}
	near(t, "first", w.Hours[0].AirC, 273*24, 0)
	near(t, "last of the year", w.Hours[92*24-1].AirC, 8759, 0)
	near(t, "first of the next", w.Hours[92*24].AirC, 0, 0)
	if last := w.Notes[len(w.Notes)-1]; last.Kind != Dated || last.From.Format("2006-01-02") != "2002-01-01" {
		t.Errorf("note %v", last)
	}
}

// A leap year joined has no 29 February: 1 March comes after the 28th.
func TestWinterOfALeapYearLeavesTheLeapDayOut(t *testing.T) {
	s := counted(time.Date(2024, 1, 1, 0, 0, 0, 0, mountain), 366*24)
	w, err := s.Winter(october, april)
	if err != nil {
		t.Fatal(err)
	}
	march, _ := w.Index(time.Date(2002, 3, 1, 1, 0, 0, 0, mountain))
	if len(w.Hours) != 212*24 || w.Hours[march].AirC != 60*24 {
		t.Errorf("%d hours, 1 March holds hour %g", len(w.Hours), w.Hours[march].AirC)
	}
}

func TestWintersOfYearsKeepTheirDates(t *testing.T) {
	s := counted(time.Date(2021, 7, 1, 0, 0, 0, 0, mountain), 3*365*24)
	all := s.Winters(october, april)
	if len(all) != 3 || all[2].Start.Year() != 2023 || len(all[2].Hours) != 213*24 || len(all[0].Hours) != 212*24 {
		t.Fatalf("%d winters", len(all))
	}
	if w, err := s.Winter(october, april); err != nil || !w.Start.Equal(all[0].Start) {
		t.Errorf("first winter %v %v", w.Start, err)
	}
	if _, err := s.Between(s.Start, s.Start.AddDate(0, 2, 0)).Winter(october, april); err == nil || !strings.Contains(err.Error(), "neither runs from October 1") {
		t.Errorf("two summer months gave %v", err)
	}
	if _, err := s.Winter(MonthDay{2, 29}, april); err == nil {
		t.Error("29 February was taken")
	}
}

// The instant a belongs to the hour that ends with it; states run straight between ends.
func TestIndexAndInstant(t *testing.T) {
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, mountain)
	s := counted(start, 5)
	for _, row := range []struct {
		after time.Duration
		i     int
		ok    bool
		air   float64
	}{{0, 0, true, 0}, {time.Minute, 0, true, 0}, {time.Hour, 0, true, 0}, {90 * time.Minute, 1, true, 0.5}, {2 * time.Hour, 1, true, 1},
		{5 * time.Hour, 4, true, 4}, {5*time.Hour + 1, 0, false, 0}, {-1, 0, false, 0}} {
		i, ok := s.Index(start.Add(row.after))
		if i != row.i || ok != row.ok {
			t.Errorf("after %v: hour %d %v, want %d %v", row.after, i, ok, row.i, row.ok)
		}
		if h, ok := s.Instant(start.Add(row.after)); ok {
			near(t, "air", h.AirC, row.air, 1e-12)
		}
	}
}

func TestWarmerAndSunnier(t *testing.T) {
	s := inventedWinter(t, time.Date(2001, 1, 1, 0, 0, 0, 0, mountain), 48)
	w := s.Warmer(-3)
	near(t, "air", w.Hours[13].AirC, s.Hours[13].AirC-3, 1e-12)
	emissivity := func(h Hour) float64 { return h.SkyLongwaveWM2 / math.Pow(h.AirC+kelvin, 4) }
	near(t, "emissivity of the sky", emissivity(w.Hours[13])/emissivity(s.Hours[13]), 1, 1e-12)
	b, err := s.Sunnier(0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sun", b.Hours[12].GlobalWM2, s.Hours[12].GlobalWM2/2, 1e-12)
	if _, err = s.Sunnier(math.NaN()); err == nil {
		t.Error("no factor was taken")
	}
}

func TestStatistics(t *testing.T) {
	s := counted(time.Date(2001, 1, 31, 0, 0, 0, 0, mountain), 48)
	m := s.Months()
	if len(m) != 2 || m[0].Month != time.January || m[0].Hours != 24 || m[1].Month != time.February {
		t.Fatalf("months %+v", m)
	}
	near(t, "mean", m[0].MeanC, 11.5, 1e-12)
	near(t, "mean high", m[1].MeanHighC, 47, 0)
	near(t, "degree hours below 2", s.DegreeHoursBelow(2), 3, 0)
	from, mean, ok := s.Coldest(3)
	if !ok || !from.Equal(s.Start) || mean != 1 {
		t.Errorf("coldest %v %g %v", from, mean, ok)
	}
	if _, _, ok = s.Coldest(49); ok {
		t.Error("49 of 48 hours")
	}
}
