package sun

import (
	"testing"
	"time"
)

// clock reads "07:21:55" as the seconds of a day.
func clock(t *testing.T, s string) float64 {
	t.Helper()
	v, err := time.Parse(time.TimeOnly, s)
	if err != nil {
		t.Fatal(err)
	}
	return float64(v.Hour()*3600 + v.Minute()*60 + v.Second())
}

func secondOfDay(t time.Time) float64 {
	return float64(t.Hour()*3600+t.Minute()*60+t.Second()) + float64(t.Nanosecond())*1e-9
}

// Times printed to the second come from the algorithm's own report, calculator
// and worked example; those to the minute from the US Naval Observatory. The algorithm works on days
// of universal time: the sunset it prints with a date is, where the sun sets
// after 00:00 UTC, that of the evening before.
func TestSunTimes(t *testing.T) {
	golden := place(39.742476, -105.1786, 1830.14)
	for _, c := range []struct {
		name               string
		p                  Place
		zone               int // [h]
		date               string
		rise, transit, set string // "" where not printed
		tolerance          float64
	}{
		{"Reda and Andreas 2003, table A5.1", golden, -7, "2003-10-17", "06:12:43", "11:46:05", "", 2},
		{"the same, evening before", golden, -7, "2003-10-16", "", "", "17:20:19", 2},
		{"Golden, calculator", golden, -7, "2015-01-02", "07:21:55", "12:04:45", "16:47:43", 3},
		{"Golden, calculator", golden, -7, "2015-08-02", "05:00:27", "12:06:58", "", 3},
		{"the same, evening before", golden, -7, "2015-08-01", "", "", "19:13:58", 3},
		{"Golden, observatory", golden, -7, "2015-01-01", "07:22:00", "12:04:00", "16:47:00", 60},
		{"Golden, observatory", golden, -7, "2015-08-02", "05:00:00", "12:07:00", "19:13:00", 60},
		{"Golden, observatory", golden, -7, "2015-01-03", "07:22:00", "12:05:00", "16:49:00", 60},
		{"35 S, report", place(-35, 0, 0), 0, "1996-07-05", "07:08:15", "12:04:36", "17:01:04", 3},
		{"35 S, report", place(-35, 0, 0), 0, "2004-12-04", "04:38:57", "11:50:22", "19:02:03", 3},
		{"35 N, report", place(35, 0, 0), 0, "1994-01-02", "07:08:12", "", "16:59:55", 3},
		{"39 N, observatory", place(39, -105, 0), -7, "2015-01-02", "07:19:00", "", "16:49:00", 60},
		{"39 N, observatory", place(39, -105, 0), -7, "2015-04-02", "05:43:00", "", "18:24:00", 60},
		{"39 N, observatory", place(39, -105, 0), -7, "2015-08-02", "05:01:00", "", "19:10:00", 60},
		{"39 N, observatory", place(39, -105, 0), -7, "2015-12-02", "07:01:00", "", "16:38:00", 60},
		{"Beijing, observatory", place(39.917, 116.383, 0), 8, "2015-01-02", "07:36:00", "", "17:00:00", 60},
		{"Beijing, observatory", place(39.917, 116.383, 0), 8, "2015-04-02", "05:58:00", "", "18:39:00", 60},
		{"Beijing, observatory", place(39.917, 116.383, 0), 8, "2015-08-02", "05:13:00", "", "19:28:00", 60},
		{"Beijing, observatory", place(39.917, 116.383, 0), 8, "2015-12-02", "07:17:00", "", "16:50:00", 60},
	} {
		date, err := time.ParseInLocation(time.DateOnly, c.date, time.FixedZone("", c.zone*3600))
		if err != nil {
			t.Fatal(err)
		}
		d := Day(c.p, date)
		for _, e := range []struct {
			what string
			got  time.Time
			want string
		}{{"rise", d.Rise, c.rise}, {"transit", d.Transit, c.transit}, {"set", d.Set, c.set}} {
			if e.want != "" {
				near(t, c.name+" "+c.date+" "+e.what+" [s]", secondOfDay(e.got), clock(t, e.want), c.tolerance)
			}
		}
	}
}

// Table c01: rise, transit, set, length and noon for seven latitudes.
func TestPublishedDayLengths(t *testing.T) {
	for _, row := range records(t, "c01_daylength_spa.csv") {
		date, err := time.Parse(time.DateOnly, row[1])
		if err != nil {
			t.Fatal(err)
		}
		d := Day(place(number(t, row[0]), 0, 0), date)
		name := row[0] + " " + row[1]
		near(t, name+" rise [s]", secondOfDay(d.Rise), clock(t, row[2]), 5)
		near(t, name+" transit [s]", secondOfDay(d.Transit), clock(t, row[3]), 2)
		near(t, name+" set [s]", secondOfDay(d.Set), clock(t, row[4]), 5)
		near(t, name+" length [h]", d.Length.Hours(), number(t, row[5]), 0.002)
		near(t, name+" noon elevation", d.Noon.Elevation.Degrees(), number(t, row[6]), 0.004) // the table's noon is without parallax
		near(t, name+" equation of time [min]", d.Noon.EquationOfTime.Minutes(), number(t, row[7]), 0.2)
	}
}

func TestPolarDayAndNight(t *testing.T) {
	tromso := place(69.65, 18.96, 0)
	night := Day(tromso, time.Date(2024, 12, 21, 0, 0, 0, 0, time.UTC))
	if night.Length != 0 || !night.Rise.IsZero() || !night.Set.IsZero() || night.Transit.IsZero() {
		t.Errorf("polar night: got %+v", night)
	}
	day := Day(tromso, time.Date(2024, 6, 21, 0, 0, 0, 0, time.UTC))
	if day.Length != 24*time.Hour || !day.Rise.IsZero() {
		t.Errorf("polar day: got length %v, rise %v", day.Length, day.Rise)
	}
}

// The hour and the zone in which a date is written do not move the sun.
func TestDateIsReadInItsOwnZone(t *testing.T) {
	p := place(45, 100, 0)
	half := time.FixedZone("", 6*3600+1800)
	a := Day(p, time.Date(2024, 1, 5, 0, 0, 0, 0, half))
	b := Day(p, time.Date(2024, 1, 5, 23, 59, 59, 0, half))
	if !a.Rise.Equal(b.Rise) {
		t.Errorf("rise depends on the hour of the date: %v, %v", a.Rise, b.Rise)
	}
	if y, m, d := a.Transit.Date(); y != 2024 || m != 1 || d != 5 {
		t.Errorf("transit on %v, want 5 January", a.Transit)
	}
	far := Day(place(45, -170, 0), time.Date(2024, 1, 5, 0, 0, 0, 0, half))
	if y, m, d := far.Transit.Date(); y != 2024 || m != 1 || d != 5 {
		t.Errorf("far from the zone's meridian: transit on %v, want 5 January", far.Transit)
	}
}
