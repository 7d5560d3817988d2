package weather

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Of the equations at round values: Hedstrom and Pomeroy 1998 eq. 10; Martinec's 11 times relative density.
func TestSnowFigures(t *testing.T) {
	near(t, "fresh density at 0 °C", FreshDensity(0), 119.17, 1e-9)
	near(t, "fresh density at -10 °C", FreshDensity(-10), 69.0, 0.1)
	near(t, "fresh density at +10 °C", FreshDensity(10), 200, 0)
	near(t, "melt of old snow", MeltFactor(300), 3.3, 1e-12)
}

// Snow that lies in frost keeps its water, settles towards 300 kg/m3 and darkens to 0.70; two days of thaw at +5 °C take what degree days say.
func TestPackSettlesAndMelts(t *testing.T) {
	p := Pack{}.After(-5, 0.30)
	fallen := p.WaterKgM2
	near(t, "depth as fallen", p.DepthM(), 0.30, 1e-12)
	near(t, "albedo as fallen", p.Albedo, 0.84, 0)
	for range 600 {
		p = p.After(-5, 0)
	}
	near(t, "water after frost", p.WaterKgM2, fallen, 1e-12)
	near(t, "density after frost", p.DensityKgM3, 300-(300-FreshDensity(-5))*math.Exp(-6), 1e-9)
	near(t, "albedo after frost", p.Albedo, 0.70+0.14*math.Exp(-6), 1e-9)
	for range 24 {
		p = p.After(5, 0)
	}
	near(t, "melted in a day at +5 °C", fallen-p.WaterKgM2, 5*MeltFactor(300), 0.1)
	near(t, "albedo after a day of thaw", p.Albedo, 0.5+0.2*math.Exp(-0.24), 0.001)
}

// Whatever the weather: water that fell lies or has run off, depth is never negative, albedo stays between old and fresh, warmer air never leaves more snow.
func TestPackLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p, warm Pack
		for range rapid.IntRange(1, 200).Draw(t, "hours") {
			air := rapid.Float64Range(-30, 15).Draw(t, "air")
			fresh := rapid.SampledFrom([]float64{0, 0, 0, 0.001, 0.02}).Draw(t, "fresh")
			if air > 1 {
				fresh = 0
			}
			p = p.After(air, fresh)
			if math.Abs(p.FallenKgM2-p.MeltedKgM2-p.WaterKgM2) > 1e-9 {
				t.Fatalf("water is lost: %+v", p)
			}
			if p.DepthM() < 0 || (p.WaterKgM2 > 0 && (p.Albedo < meltAlbedo || p.Albedo > freshAlbedo || p.DensityKgM3 > 300 || p.DensityKgM3 < 60)) {
				t.Fatalf("impossible pack %+v", p)
			}
			warm = warm.After(max(air, 3), 0)
			if warm.WaterKgM2 > p.WaterKgM2 {
				t.Fatalf("no snow leaves more than snow")
			}
		}
	})
}

// Sums of the months are exact, snow falls in the cold, on the days asked for, and where no hour is cold that is told.
func TestMadeSnowfalls(t *testing.T) {
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, mountain)
	s := inventedWinter(t, start, 90*24) // January to March
	for i := 59 * 24; i < len(s.Hours); i++ {
		s.Hours[i].AirC += 40 // March has no cold hour
	}
	monthly, days := [12]float64{0.4, 0.25, 0.3}, [12]float64{6, 4, 4}
	events, notes := MakeSnowfalls(s, monthly, days, 3)
	if len(events) != 10 || len(notes) != 1 || !strings.Contains(notes[0].String(), "no hour below") {
		t.Fatalf("%d snowfalls, notes %v", len(events), notes)
	}
	got, err := s.WithSnowfalls(events)
	if err != nil {
		t.Fatal(err)
	}
	for m, month := range got.Months() {
		near(t, "snowfall of the month", month.SnowfallM, []float64{0.4, 0.25, 0}[m], 1e-12)
	}
	for i, h := range got.Hours {
		if h.SnowfallM > 0 && h.AirC >= 1 {
			t.Fatalf("snow in hour %d at %g °C", i, h.AirC)
		}
		if math.IsNaN(h.SnowDepthM) || math.IsNaN(h.GroundAlbedo) {
			t.Fatalf("hour %d has no snow depth or albedo", i)
		}
	}
	if last := got.Hours[len(got.Hours)-1]; last.SnowDepthM != 0 || last.GroundAlbedo != 0.2 {
		t.Errorf("after a warm month: %+v", last)
	}
	again, _ := MakeSnowfalls(s, monthly, days, 3)
	for i := range events {
		if events[i] != again[i] {
			t.Fatal("the same seed gives other snow")
		}
	}
}

func TestDatedSnowfalls(t *testing.T) {
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, mountain)
	s := inventedWinter(t, start, 10*24)
	got, err := s.WithSnowfalls([]SnowEvent{{Time: start.Add(30 * time.Hour), DepthM: 0.2, Hours: 4}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "an hour of it", got.Hours[30].SnowfallM, 0.05, 1e-12)
	near(t, "before", got.Hours[29].SnowfallM, 0, 0)
	near(t, "lying", got.Hours[33].SnowDepthM, 0.2, 0.02)
	for _, e := range []SnowEvent{{Time: start.Add(-time.Hour), DepthM: 0.1}, {Time: start, DepthM: -1}, {Time: start.Add(239 * time.Hour), DepthM: 0.1, Hours: 2}} {
		if _, err := s.WithSnowfalls([]SnowEvent{e}); err == nil {
			t.Errorf("%+v was taken", e)
		}
	}
}
