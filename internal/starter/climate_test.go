package starter

import (
	"math"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// invented is a climate of a record, with sun or with clearness alone.
func invented(sun bool) weather.Climate {
	c := weather.Climate{Place: weather.KnownPlace(46, -110, 1200), Notes: []weather.Note{{What: "spread", Text: "few years"}}}
	for m := range 12 {
		c.Normals.MeanLowC[m], c.Normals.MeanHighC[m] = -5+float64(m%7), 6+float64(m%7)
		c.Normals.PrecipMM[m], c.Normals.WetDays[m] = 20, 6.5
		if sun {
			c.Normals.DailySunKWhM2[m] = 3
		} else {
			c.Normals.Clearness[m] = 0.5
		}
	}
	return c
}

// A climate becomes a plan that passes every check, whether the record has sun and wind or not; what it lacks is said in the plan.
func TestFromClimate(t *testing.T) {
	for _, sun := range []bool{true, false} {
		n := FromClimate(invented(sun), "an invented record")
		a := Usual()
		a.Latitude, a.Longitude, a.Elevation, a.TimeZone, a.Climate = "46 deg", "-110 deg", "1200 m", "UTC-7", n
		text, err := Write("mine.yaml", a)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"an invented record", "spread: few years", "the record has none, 2 m/s is assumed", "6.5"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("sun %v: %q is not in the plan", sun, want)
			}
		}
	}
}

// Half of what arrives outside the air: at 46° north about 41.6 MJ/m2 on a day in June and 9.3 in December (FAO paper 56, annex 2, table 2.6, from memory; the ranges leave
// room for its middle of the month).
func TestSunFromClearness(t *testing.T) {
	s := dailySun(invented(false))
	if june := 2 * s[5]; june < 41.0/3.6 || june > 42.5/3.6 {
		t.Errorf("June: %.2f kWh/m2 outside the air", june)
	}
	if december := 2 * s[11]; december < 8.8/3.6 || december > 10.5/3.6 {
		t.Errorf("December: %.2f kWh/m2 outside the air", december)
	}
}

// What years and days of a record differ by comes into the plan as it is, to a hundredth of a kelvin; what the record does not know stays out.
func TestSpreadOfClimate(t *testing.T) {
	c := invented(true)
	for m := range 12 {
		c.Spread.MonthK[m], c.Spread.LowK[m] = 1.5+float64(m)/10, 5.25-float64(m)/10
	}
	a := Usual()
	a.Latitude, a.Longitude, a.Elevation, a.TimeZone, a.Climate = "46 deg", "-110 deg", "1200 m", "UTC-7", FromClimate(c, "an invented record")
	text, err := Write("mine.yaml", a)
	if err != nil {
		t.Fatal(err)
	}
	p, findings := plan.Load("mine.yaml", text, house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	if p.Climate.HighSpread != nil {
		t.Errorf("days' highest: %v, want none", *p.Climate.HighSpread)
	}
	for m := range 12 {
		if got, want := p.Climate.MonthSpread[m], c.Spread.MonthK[m]; math.Abs(got-want) > 0.005+1e-9 {
			t.Errorf("month %d: %g K between years, want %g", m+1, got, want)
		}
		if got, want := p.Climate.LowSpread[m], c.Spread.LowK[m]; math.Abs(got-want) > 0.005+1e-9 {
			t.Errorf("month %d: %g K of the days' lowest, want %g", m+1, got, want)
		}
	}
}
