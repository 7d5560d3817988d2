package air_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/air"
)

// The table is the handbook's curve, value and slope.
func TestCurveIsTheHandbooks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(55e3, 105e3).Draw(t, "pressure")
		curve := air.NewCurve(p)
		c := rapid.Float64Range(-80, 50).Draw(t, "celsius")
		w, slope := curve.At(c)
		if want := air.SaturationHumidityRatio(c, p); math.Abs(w/want-1) > 2e-6 {
			t.Fatalf("%v at %v °C, %v by the formula", w, c, want)
		}
		const d = 1e-4
		if math.Abs(c-air.TriplePoint) > d {
			if by := (air.SaturationHumidityRatio(c+d, p) - air.SaturationHumidityRatio(c-d, p)) / (2 * d); math.Abs(slope/by-1) > 2e-4 {
				t.Fatalf("slope %v at %v °C, %v by difference", slope, c, by)
			}
		}
	})
}

// The table ends as it should, holds at the triple point and lets no number through that is none.
func TestCurveEnds(t *testing.T) {
	curve := air.NewCurve(sea)
	at := func(c float64) float64 { w, _ := curve.At(c); return w }
	check(t, []row{
		{"triple point from below", at(air.TriplePoint - 1e-9), at(air.TriplePoint + 1e-9), 1e-9},
		{"hotter than the table", at(200), air.SaturationHumidityRatio(60.01, sea), 1e-9},
		{"colder", at(-150), air.SaturationHumidityRatio(-89.99, sea), 1e-9},
	})
	if _, below := curve.At(-0.2); below <= 0 {
		t.Error("no slope over ice")
	}
	if w, s := curve.At(math.NaN()); !math.IsNaN(w) || !math.IsNaN(s) {
		t.Errorf("no number became %v, %v", w, s)
	}
	if n := testing.AllocsPerRun(100, func() { at(3) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
