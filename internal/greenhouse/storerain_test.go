package greenhouse

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/internal/weather"
)

// wetPit is the small pit with rain off its back roof, a manifold along its drums, and twenty litres a day for its bed.
func wetPit(more string) string {
	return strings.Replace(smallPit, "beds: [", `water:
  catchments: [{name: roof, area: 20 m2, eave_height: 3 m, runoff: 100 %}]
  manifolds: [{row: drums}]
  use_a_day: [20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L, 20 L]
`+more+`beds: [`, 1)
}

// dripping is the same with so much rain on each day, by day [mm].
func dripping(s *weather.Series, mm ...float64) *weather.Series {
	for i := range s.Hours {
		if d := i / 24; d < len(mm) {
			s.Hours[i].RainMM = mm[d] / 24
		}
	}
	return s
}

func flowJ(r *Result, name string) float64 {
	sum := 0.0
	for _, f := range r.Flows {
		if f.Name == name {
			for _, j := range f.J {
				sum += float64(j)
			}
		}
	}
	return sum
}

// Five dry days take twenty litres a day onto the bed, evenly out of both bays; with water kept, as much as lies above.
func TestUse(t *testing.T) {
	for _, c := range []struct {
		what, more string
		want       float64 // L
		kept       int
	}{
		{"as wanted", "", 100, 0},
		{"down to what is kept", "  keep: [{volume: 1500 L, from: 01-01, until: 12-31}]\n", -1500, 1},
	} {
		h := mustHouse(t, wetPit(c.more))
		if c.want < 0 {
			c.want += h.Water() * 1000
		}
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, spellAt(t, h, cold(5, 4), time.January, 5))
		books(t, r)
		sum := 0.0
		for _, b := range r.Water.Bays {
			sum += b.OutL["use, onto bed"]
		}
		if math.Abs(sum-c.want) > 0.05 || math.Abs(r.Water.Rain.UsedM3*1000-sum) > 1e-9 || r.Water.Rain.KeptDays != c.kept {
			t.Errorf("%s: %.3f L used, %.3f told, %d days kept, want %.3f and %d", c.what, sum, r.Water.Rain.UsedM3*1000, r.Water.Rain.KeptDays, c.want, c.kept)
		}
		if a, b := r.Bays[0].M3, r.Bays[1].M3; math.Abs(a[len(a)-1]-b[len(b)-1]) > 1e-9 {
			t.Errorf("%s: one bay holds %g m3, the other %g", c.what, a[len(a)-1], b[len(b)-1])
		}
	}
}

// Rain comes at the wet-bulb temperature and fills the drums; what finds them full drives out as much of theirs, in a stream that washes them; with the inlet shut it
// goes past. On air at 4 °C with its dew point 3 K below the day's lowest, 10 mm on 20 m² are 200 L.
func TestRainComes(t *testing.T) {
	run := func(more string) *Result {
		h := mustHouse(t, strings.Replace(wetPit(more), "20 L, 20 L,", "0 L, 20 L,", 1))
		_, r := mustRun(t, h, Setup{StartC: 9, Ground: flat(9), Snow: SnowNever}, dripping(spellAt(t, h, cold(4, 4), time.January, 5), 0, 10))
		books(t, r)
		return r
	}
	still := run("  inlet: {shut_from: 01-01, shut_until: 02-01}\n")
	if a := still.Water.Rain; a.CaughtM3 != 0 || math.Abs(a.PastM3-0.2) > 1e-9 {
		t.Errorf("with the inlet shut %g m3 come and %g go past, want 0 and 0.2", a.CaughtM3, a.PastM3)
	}
	full := run("")
	a := full.Water.Rain
	if math.Abs(a.CaughtM3-0.2) > 1e-9 || math.Abs(a.OverM3-0.2) > 1e-9 || !(a.CaughtC > 1 && a.CaughtC < 4) {
		t.Errorf("full: %g m3 come at %.2f °C and %g go over, want 0.2 between 1 and 4 °C, and 0.2", a.CaughtM3, a.CaughtC, a.OverM3)
	}
	if got, want := flowJ(full, "rain into the drums"), waterHeat*waterDensity*0.2*a.CaughtC; math.Abs(got-want) > 1e-6*want {
		t.Errorf("rain brings %g J, want %g", got, want)
	}
	// a stirred tank: what leaves is warmer than what comes by (T - T_rain) (1 - e^-x)/x, x the share of the store that came
	x := 0.2 / (0.95 * 8 * 0.2081976)
	before, _ := meanWater(still, 47)
	out := -flowJ(full, "water over the overflow") / (waterHeat * waterDensity * 0.2)
	want := a.CaughtC + (before-a.CaughtC)*(1-math.Exp(-x))/x
	if math.Abs(out-want) > 0.05 {
		t.Errorf("water goes over at %.3f °C, want %.3f", out, want)
	}
	if cold, warm := full.ReserveJ[95], still.ReserveJ[95]; !(cold < warm) {
		t.Errorf("the reserve is %g J after cold rain, %g without", cold, warm)
	}
}

// Drums that begin empty are filled by the rain, from the lowest layer of the first drops on.
func TestEmptyDrumsFill(t *testing.T) {
	h := mustHouse(t, strings.Replace(wetPit("  overflow: {height: 0.5 m}\n"), "at: 3.25 m}", "at: 3.25 m, fill: 0 %}", 1), "water.use_a_day=none")
	_, r := mustRun(t, h, Setup{StartC: 9, Ground: flat(9), Snow: SnowNever}, dripping(spellAt(t, h, cold(5, 6), time.June, 5), 10, 40))
	books(t, r)
	if got := r.WaterM3[len(r.WaterM3)-1] - r.WaterM3[0]; math.Abs(got-1) > 1e-6 || r.WaterM3[0] > 0.01 {
		t.Errorf("50 mm on 20 m2 bring %g m3 from %g on, want 1", got, r.WaterM3[0])
	}
	if c, n := meanWater(r, r.Hours()-1); !(c > 2 && c < 9) || n != 6 {
		t.Errorf("%d layers at %g °C", n, c)
	}
}

// meanWater is the mean of all layers of water at the end of an hour [°C].
func meanWater(r *Result, hour int) (float64, int) {
	sum, n := 0.0, 0
	for i := range r.Traces {
		if r.Traces[i].Kind == WaterPlace {
			sum += r.Traces[i].C[hour]
			n++
		}
	}
	return sum / float64(n), n
}

// A lower row takes the water first, and gives it last.
func TestLowerDrumsFillFirst(t *testing.T) {
	text := strings.Replace(wetPit(""), "at: 3.25 m}", "at: 3.25 m, fill: 50 %}, {name: low, drums: 4, at: 2.4 m, fill: 20 %}", 1)
	text = strings.Replace(text, "[{row: drums}]", "[{row: drums}, {row: low}]", 1)
	text = strings.Replace(text, "tiers: 2, bays: 2, at: 3.25 m", "tiers: 1, bays: 1, at: 3.25 m, base: 0.3 m", 1)
	text = strings.Replace(text, "drums: 8", "drums: 4", 1)
	h := mustHouse(t, text, "water.overflow={from: 'low, drum 1', height: -0.15 m, end: -0.2 m}")
	_, r := mustRun(t, h, Setup{StartC: 9, Ground: flat(9), Snow: SnowNever}, dripping(spellAt(t, h, cold(4, 4), time.June, 5), 12))
	books(t, r)
	got := map[string]float64{}
	for _, b := range r.Water.Bays {
		got[b.Name] = b.InL["rain off the roofs"]
	}
	if !(got["low"] > 200 && got["drums"] < 1) {
		t.Errorf("the rain went %v, want 240 L into the low drums, which stand lower", got)
	}
}

// A run that is cut in two, the second half from the state of the first, is the run in one piece; and for any rain and use, the books of heat and water close.
func TestRainGoesOn(t *testing.T) {
	h := mustHouse(t, wetPit("  first_flush: {}\n"))
	whole := dripping(spellAt(t, h, cold(6, 1), time.March, 5), 3, 0, 8, 30, 2, 1)
	setup := Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}
	_, r := mustRun(t, h, setup, whole)
	first, second := *whole, *whole
	first.Hours, second.Hours, second.Start = whole.Hours[:61], whole.Hours[61:], whole.HourStart(61)
	a, _ := mustRun(t, h, setup, &first)
	b, err := New(h, setup)
	if err != nil {
		t.Fatal(err)
	}
	b.Load(a.State(), nil)
	rest, err := b.Run(context.Background(), &second, Options{})
	if err != nil {
		t.Fatal(err)
	}
	books(t, rest)
	if got, want := rest.WaterM3[len(rest.WaterM3)-1], r.WaterM3[len(r.WaterM3)-1]; math.Abs(got-want) > 1e-9 {
		t.Errorf("%g m3 at the end of the second half, %g of the whole", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.SliceOfN(rapid.Float64Range(0, 60), 3, 3).Draw(t, "rain")
		mean := rapid.Float64Range(-12, 12).Draw(t, "mean")
		w, err := weather.Spell(cold(4, mean), placeOf(h), whole.Start)
		if err != nil {
			t.Fatal(err)
		}
		g, err := New(h, Setup{StartC: rapid.Float64Range(0.5, 12).Draw(t, "start"), Snow: SnowNever})
		if err != nil {
			t.Fatal(err)
		}
		r, err := g.Run(context.Background(), dripping(&w, mm...), Options{})
		if err != nil {
			t.Fatal(err)
		}
		books(t, r)
	})
}
