package greenhouse

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// FAO-56: grass gives all it can until it has drawn the easy part of its water, and nothing once it has drawn all.
func TestSoilWater(t *testing.T) {
	w := newSoilWater(plan.Site{Soil: plan.Soil{Texture: "loam"}})
	w.hour(500, 0, true)
	if w.lacks != 0 || w.plantsK != 1 || w.surfaceK != 1 {
		t.Errorf("after 500 mm of rain: %+v", w)
	}
	const all = 1000 * 0.155 * 0.75
	w.hour(0, 0.4*all, true)
	if math.Abs(w.plantsK-1) > 1e-12 {
		t.Errorf("after the easy part: %.3f of what wet grass gives, want 1", w.plantsK)
	}
	w.hour(0, 0.3*all, true)
	if math.Abs(w.plantsK-0.5) > 1e-12 {
		t.Errorf("half way on: %.3f, want 0.5", w.plantsK)
	}
	w.hour(0, all, true)
	if w.plantsK != 0 || w.lacks != all {
		t.Errorf("all drawn: %.3f, lacks %.1f of %.1f mm", w.plantsK, w.lacks, all)
	}
	w.hour(19, 0, false)
	if w.lacksTop != 0 || w.surfaceK != 1 {
		t.Errorf("19 mm wet the uppermost 10 cm of loam: lacks %.1f mm", w.lacksTop)
	}
	w.neverRains = true
	w.hour(0, 100, true)
	if w.plantsK != dryPlants || w.surfaceK != drySurface {
		t.Errorf("where no rain is known: %.2f and %.2f", w.plantsK, w.surfaceK)
	}
}

// Cold leaves are shut, warm ones open, and nothing jumps between.
func TestVigourIsSmooth(t *testing.T) {
	before := vigour(-5)
	if before != 0 || vigour(0) != 0 || vigour(25) != 1 || vigour(40) != 1 {
		t.Errorf("at -5, 0, 25, 40 °C: %g %g %g %g", before, vigour(0), vigour(25), vigour(40))
	}
	for c := -5.0; c < 40; c += 0.01 {
		if v := vigour(c); v < before || v-before > 0.001 {
			t.Fatalf("from %g to %g at %.2f °C", before, v, c)
		} else {
			before = v
		}
	}
}

// Grass is dormant after three cold weeks of short days, in leaf after three mild ones of long days.
func TestFoliage(t *testing.T) {
	days := func(f *foliage, n int, air float64, long int) {
		for i := range 24 * n {
			f.hour(&hour{w: weather.Hour{AirC: air}, span: sun.Span{UpShare: map[bool]float64{true: 1}[i%24 < long]}})
		}
	}
	var f foliage
	days(&f, 60, 8, 14)
	if f.leaf < 0.95 {
		t.Errorf("after two mild months: %.2f in leaf", f.leaf)
	}
	days(&f, 60, 8, 9)
	if f.leaf != 0 {
		t.Errorf("after two months of short days: %.2f in leaf", f.leaf)
	}
	days(&f, 60, -10, 14)
	if f.leaf > 0.05 {
		t.Errorf("after two cold months: %.2f in leaf", f.leaf)
	}
}

// A cover makes the ground's winter warmer and its summer cooler than bare ground under the same cold and warm spell; snow makes the winter warmer
// still, and the lighter the snow the more.
func TestCoverAndSnowKeepTheGround(t *testing.T) {
	h := mustHouse(t, smallPit)
	ends := func(cover string, air, snow, density float64) float64 {
		p := *h.Plan
		p.Site.Cover = cover
		s := weather.Series{Place: placeOf(h), Start: time.Date(2023, 1, 1, 0, 0, 0, 0, time.FixedZone("", -7*3600)), Hours: make([]weather.Hour, 480)}
		for i := range s.Hours {
			s.Hours[i] = weather.Hour{AirC: air, DewPointC: 60, WindMS: 3, SkyLongwaveWM2: stefan * math.Pow(air+273.15, 4), SnowDepthM: snow, SnowDensityKgM3: density, GroundAlbedo: math.NaN()}
		}
		o, err := NewOpenGround(&p, func(float64) float64 { return 8 })
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.Hours {
			if err := o.Hour(&s, i); err != nil {
				t.Fatal(err)
			}
		}
		return o.Profile()(0.1)
	}
	bare, grass, mulch := ends("bare", -12, 0, 0), ends("short grass", -12, 0, 0), ends("stubble", -12, 0, 0)
	if !(bare < grass && grass < mulch) {
		t.Errorf("10 cm down in the cold: bare %.2f, short grass %.2f, stubble %.2f °C", bare, grass, mulch)
	}
	if b, g := ends("bare", 25, 0, 0), ends("short grass", 25, 0, 0); !(g < b) {
		t.Errorf("10 cm down in the warmth: bare %.2f, short grass %.2f °C", b, g)
	}
	dense, light := ends("short grass", -12, 0.2, 300), ends("short grass", -12, 0.2, 150)
	if !(grass < dense && dense < light) {
		t.Errorf("10 cm down in the cold: no snow %.2f, dense snow %.2f, light snow %.2f °C", grass, dense, light)
	}
}

// Deep snow in warm air and sun is at 0 °C, and so is its foot: the soil under grass has 0 °C on the grass.
func TestSnowLyingIsNeverWarm(t *testing.T) {
	h := mustHouse(t, smallPit)
	s := weather.Series{Place: placeOf(h), Start: time.Date(2023, 3, 1, 0, 0, 0, 0, time.FixedZone("", -7*3600)), Hours: make([]weather.Hour, 240)}
	for i := range s.Hours {
		s.Hours[i] = weather.Hour{AirC: 8, DewPointC: 2, WindMS: 4, BeamWM2: 600, DiffuseWM2: 100, SkyLongwaveWM2: 320, SnowDepthM: 0.3, SnowDensityKgM3: 300, GroundAlbedo: 0.5}
	}
	o, err := NewOpenGround(h.Plan, func(float64) float64 { return 6 })
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Hours {
		if err := o.Hour(&s, i); err != nil {
			t.Fatal(err)
		}
		if o.TopC() > 1.5 {
			t.Fatalf("hour %d: the snow's face is at %.2f °C", i, o.TopC())
		}
	}
	// what rises through the soil to 0 °C on the grass goes through the grass' resistance R: the soil's face is at q R
	if face, soil := o.SkinC(), o.Profile()(0.2); !(face > 0 && face < soil/2) {
		t.Errorf("the soil's face is at %.2f °C under melting snow on grass, %.2f °C 20 cm down", face, soil)
	}
	if open := o.Imbalance(); !(open < 1e-6) {
		t.Errorf("the heat of the column is open by %g", open)
	}
}
