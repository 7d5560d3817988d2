package starter

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/weather"

	"pgregory.net/rapid"
)

func months(v string) string { return strings.TrimSuffix(strings.Repeat(v+", ", 12), ", ") }

func given() Answers {
	a := Usual()
	a.Latitude, a.Longitude, a.Elevation, a.TimeZone = "46.9 deg", "-110.7 deg", "1240 m", "UTC-7"
	a.Climate = Normals{Source: "invented", MeanLow: months("-5 degC"), MeanHigh: months("8 degC"), Sun: months("3 kWh/m2d"),
		Precipitation: months("30 mm"), WetDays: months("8"), Wind: months("3 m/s")}
	return a
}

// Whatever sizes are asked for within what is allowed, the plan passes every check.
func TestEveryPlanPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := given()
		a.Name = rapid.StringMatching(`[A-Za-z][A-Za-z "#:\\'{}-]{0,20}`).Draw(t, "name")
		a.Latitude = fmt.Sprintf("%.2f deg", rapid.Float64Range(-65, 65).Draw(t, "latitude"))
		a.Length = fmt.Sprintf("%.2f m", rapid.Float64Range(3, 40).Draw(t, "length"))
		a.Width = fmt.Sprintf("%.2f m", rapid.Float64Range(1.9, 9).Draw(t, "width"))
		a.Depth = fmt.Sprintf("%.2f m", rapid.Float64Range(0, 2.5).Draw(t, "depth"))
		text, err := Write("plan.yaml", a)
		if err != nil {
			t.Fatalf("%+v\n%v", a, err)
		}
		p, findings := plan.Load("plan.yaml", text, house.Known())
		if p == nil {
			t.Fatalf("%v\n%s", plan.AsError(findings), text)
		}
	})
}

func TestWrongAnswersAreFindings(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Answers)
		want   string
	}{
		{"no unit", func(a *Answers) { a.Depth = "4" }, "shape.depth: 4 has no unit"},
		{"too narrow", func(a *Answers) { a.Width = "1.2 m" }, "must be at least 1.80 m"},
		{"no such glazing", func(a *Answers) { a.Glazing = "ice" }, "ice"},
		{"eleven months", func(a *Answers) { a.Climate.Wind = "3 m/s" }, "climate.wind"},
		{"a zone that is none", func(a *Answers) { a.TimeZone = "noon" }, "time zone"},
	} {
		a := given()
		c.change(&a)
		if _, err := Write("plan.yaml", a); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

// Normals of a year that was made from normals are those normals again.
func TestNormalsOfAMadeYear(t *testing.T) {
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known())
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	var n weather.Normals
	n.MeanLowC, n.MeanHighC, n.WetDays, n.WindMS, n.DailySunKWhM2 = p.Climate.MeanLow, p.Climate.MeanHigh, p.Climate.WetDays, p.Climate.Wind, p.Climate.Sun
	for m := range 12 {
		n.PrecipMM[m] = p.Climate.Precipitation[m] * 1000
	}
	s, err := weather.Typical(n, weather.KnownPlace(46.9, -110.7, 1240), 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := FromYear(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		text    string
		kind    unit.Kind
		want    [12]float64
		allowed float64 // what the maker promises, and the rounding
	}{
		{"mean low [K]", got.MeanLow, unit.Temperature, n.MeanLowC, 0.16},
		{"mean high [K]", got.MeanHigh, unit.Temperature, n.MeanHighC, 0.16},
		{"sun, 5 % of 7 kWh/m² and rounding", got.Sun, unit.DailyIrradiation, n.DailySunKWhM2, 0.36},
		{"wind [m/s]", got.Wind, unit.Speed, n.WindMS, 0.06},
		{"rain [m]", got.Precipitation, unit.Length, p.Climate.Precipitation, 0.0006},
	} {
		values := strings.Split(c.text, ", ")
		if len(values) != 12 {
			t.Errorf("%s: %q, want twelve values", c.name, c.text)
			continue
		}
		for m, v := range values {
			q, err := unit.Parse(c.kind, v)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(q.SI-c.want[m]) > c.allowed {
				t.Errorf("%s of month %d: %g, want %g within %g", c.name, m+1, q.SI, c.want[m], c.allowed)
			}
		}
	}
}

func TestAYearWithoutRainSaysSo(t *testing.T) {
	p, _ := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known())
	n := weather.Normals{MeanLowC: p.Climate.MeanLow, MeanHighC: p.Climate.MeanHigh, WetDays: p.Climate.WetDays, DailySunKWhM2: p.Climate.Sun}
	s, err := weather.Typical(n, weather.KnownPlace(46.9, -110.7, 1240), 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := FromYear(s)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(got.Notes, " "), "no rain to rely on") {
		t.Errorf("notes: %q", got.Notes)
	}
	if _, err := FromYear(s.Between(s.Start, s.HourStart(2000))); err == nil {
		t.Error("normals are made of twelve weeks")
	}
}

func TestRowsHaveNoNegativeNought(t *testing.T) {
	if got := row([12]float64{-0.04, 0.04, -0.06}, "degC", 1); !strings.HasPrefix(got, "0.0 degC, 0.0 degC, -0.1 degC, 0.0 degC") {
		t.Errorf("written %q", got)
	}
	if got := row([12]float64{-0.4}, "", 0); !strings.HasPrefix(got, "0, 0") {
		t.Errorf("written %q", got)
	}
}
