package greenhouse

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// books holds heat, vapour and water of a run to their own accounts.
func books(t interface {
	Helper()
	Errorf(string, ...any)
}, r *Result) {
	t.Helper()
	if !(r.Heat.ImbalanceRel <= 1e-9) {
		t.Errorf("%.2g of the heat is missing, the worst in %s", r.Heat.ImbalanceRel, r.Heat.WorstPart)
	}
	if !(r.Heat.WorstJ <= 1) {
		t.Errorf("%s is open by %.2g J on a day", r.Heat.WorstPart, r.Heat.WorstJ)
	}
	if !(r.Water.OpenL <= 1e-9) {
		t.Errorf("%.2g L of water are missing", r.Water.OpenL)
	}
	if !(r.Vapour.OpenKg <= 1e-9) {
		t.Errorf("%.2g kg of vapour are missing", r.Vapour.OpenKg)
	}
}

// withEvents is the box with drums and what happens to its water.
func withEvents(events string) string {
	return strings.Replace(boxWithDrums, "at: 1.5 m}]", "at: 1.5 m}], events: ["+events+"]", 1)
}

func runEvents(t *testing.T, text string, days int, meanC float64, s Setup) (*Greenhouse, *Result) {
	t.Helper()
	h := mustHouse(t, text)
	w := spellAt(t, h, cold(days, meanC), time.January, 5)
	g, r := mustRun(t, h, s, w)
	books(t, r)
	return g, r
}

// A leak by rate takes what it says from the hour on until it is mended; a drain its share; a draw each day its litres; a refill its volume,
// as far as there is room. Each is booked by cause, and the level follows.
func TestEventsMoveWhatTheySay(t *testing.T) {
	for _, c := range []struct {
		what, events string
		in, out      map[string]float64 // [L]
		short        float64
	}{
		{"a leak, mended", "{kind: leak, bay: drums, from: 01-06, hour: 3, until: 01-07, rate: 5 L/h, to: floor}", nil, map[string]float64{"leak, to floor": 120}, 0},
		{"a leak down to a level", "{kind: leak, bay: drums, from: 01-06, rate: 50 L/h, level: 0 m, to: soil}", nil, map[string]float64{"leak, to soil": -1}, 0},
		{"a drain at once", "{kind: drain, bay: drums, from: 01-06, share: 50 %}", nil, map[string]float64{"drain, to outside": -0.5}, 0},
		{"a drain by and by", "{kind: drain, bay: drums, from: 01-06, share: 50 %, rate: 20 L/h}", nil, map[string]float64{"drain, to outside": -0.5}, 0},
		{"a refill over the brim", "{kind: refill, bay: drums, from: 01-06, volume: 1000 L, temperature: 8 degC}", map[string]float64{"refill": -0.05 / 0.95}, nil, -2},
		{"a refill", "{kind: refill, bay: drums, from: 01-06, volume: 20 L, rate: 4 L/h, temperature: 8 degC}", map[string]float64{"refill": 20}, nil, 0},
		{"a draw, once", "{kind: draw, bay: drums, from: 01-06, volume: 15 L, bed: bed}", nil, map[string]float64{"draw, onto bed": 15}, 0},
		{"a draw whose season is under way", "{kind: draw, bay: drums, from: 12-01, until: 01-06, volume: 15 L, bed: bed}", nil, map[string]float64{"draw, onto bed": 30}, 0},
		{"a draw of two seasons in one run", "{kind: draw, bay: drums, from: 01-09, until: 01-05, hour: 1, volume: 15 L, bed: bed}", nil, map[string]float64{"draw, onto bed": 30}, 0},
		{"a draw every day", "{kind: draw, bay: drums, from: 01-06, until: 01-08, volume: 15 L, bed: bed}", nil, map[string]float64{"draw, onto bed": 45}, 0},
	} {
		text := withEvents(c.events)
		if strings.Contains(c.events, "draw") { // a bed needs earth under it
			text = strings.Replace(smallPit, "bays: 2, at: 3.25 m}]", "at: 3.25 m}], events: ["+c.events+"]", 1)
		}
		g, r := runEvents(t, text, 5, 4, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever})
		b := r.Water.Bays[0]
		check := func(side string, got, want map[string]float64) {
			if len(got) != len(want) {
				t.Errorf("%s: %s %v, want %v", c.what, side, got, want)
			}
			for cause, w := range want {
				switch {
				case w == -1: // all but the dregs
					w = b.StartL - dregsShare*b.FullL
				case w < 0:
					w = -w * b.StartL
				}
				if math.Abs(got[cause]-w) > 1e-6 {
					t.Errorf("%s: %s %.6f L of %q, want %.6f", c.what, side, got[cause], cause, w)
				}
			}
		}
		check("in", b.InL, c.in)
		check("out", b.OutL, c.out)
		if short := c.short; short == -2 {
			if want := 1000 - b.InL["refill"]; math.Abs(b.ShortL-want) > 1e-6 {
				t.Errorf("%s: %.3f L without room, want %.3f", c.what, b.ShortL, want)
			}
		} else if math.Abs(b.ShortL-short) > 1e-6 {
			t.Errorf("%s: %.3f L short, want %.3f", c.what, b.ShortL, short)
		}
		if want := b.EndL / b.FullL * g.store.bays[0].stack; math.Abs(b.LevelM-want) > 1e-9 {
			t.Errorf("%s: level %.4f m, want %.4f", c.what, b.LevelM, want)
		}
	}
}

// Torricelli's time for a vessel to run empty through a hole in its bottom, t = A/(C a) sqrt(2 h/g), by textbook; and the hours of the store
// add up to the same as one stretch.
func TestHoleRunsAsTorricelliSays(t *testing.T) {
	const area, d, head = 0.25, 0.01, 0.8
	whole := area / (orificeShare * math.Pi / 4 * d * d) * math.Sqrt(2*head/gravity)
	if got := drainedM3(area, d, head, whole*(1-1e-9)); math.Abs(got-area*head) > 1e-8 {
		t.Errorf("%.6f m³ after the time of emptying, want %.6f", got, area*head)
	}
	// at half the time a quarter of the head is left
	if got := drainedM3(area, d, head, whole/2); math.Abs(got-0.75*area*head) > 1e-12 {
		t.Errorf("%.6f m³ at half the time, want three quarters, %.6f", got, 0.75*area*head)
	}
	sum := 0.0
	for range 7 {
		sum += drainedM3(area, d, head-sum/area, whole/10)
	}
	if got := drainedM3(area, d, head, 0.7*whole); math.Abs(got-sum) > 1e-12 {
		t.Errorf("%.9f m³ in one stretch, %.9f in seven", got, sum)
	}
	_, r := runEvents(t, withEvents("{kind: leak, bay: drums, from: 01-05, hour: 0, hole: 4 mm, level: 0.3 m, to: soil}"), 2, 4, Setup{StartC: 6, Snow: SnowNever})
	b := r.Water.Bays[0]
	g, _ := New(r.House, Setup{StartC: 6})
	section := g.store.bays[0].full / g.store.bays[0].stack
	h0 := b.StartL/1000/section - 0.3
	if want := 1000 * drainedM3(section, 0.004, h0, 48*3600); math.Abs(b.OutL["leak, to soil"]-want) > 1e-6 {
		t.Errorf("%.3f L through the hole, want %.3f", b.OutL["leak, to soil"], want)
	}
}

// Water that is moved and not booked, or booked and not moved, shows.
func TestForgottenWaterIsSeen(t *testing.T) {
	g, _ := runEvents(t, withEvents("{kind: leak, bay: drums, from: 01-05, rate: 5 L/h}, {kind: refill, bay: drums, from: 01-06, volume: 30 L, temperature: 5 degC}"), 3, 2, Setup{StartC: 6, Snow: SnowNever})
	b := g.store.bays[0]
	delete(b.books.in, "refill")
	if got := g.store.account().OpenL; math.Abs(got-30) > 1e-6 {
		t.Errorf("%.6f L are missing without the refill's booking, want 30", got)
	}
	b.books.came("refill", 30*waterDensity/1000)
	g.Net.SetLaw(b.layers[0].node, waterLaw(b.kg(g.Net, 0)-1))
	if got := g.store.account().OpenL; math.Abs(got-1000/waterDensity) > 1e-6 {
		t.Errorf("%.6f L are missing where a kilogram went unbooked", got)
	}
}

// The heat that leaves with the water is its own: half the water at 6 °C, at once, to outside.
func TestWaterTakesItsHeat(t *testing.T) {
	_, r := runEvents(t, withEvents("{kind: drain, bay: drums, from: 01-05, hour: 0, share: 50 %}"), 1, 4, Setup{StartC: 6, Snow: SnowNever})
	b := r.Water.Bays[0]
	want := b.StartL / 2 * waterDensity / 1000 * waterHeat * 6
	if got := r.Heat.OutJ["drained water"]; math.Abs(got-want) > 1e-9*want {
		t.Errorf("%.6g J left with the water, want %.6g", got, want)
	}
}

// Draining and filling up with water of the same temperature within the same hour is as if nothing had been.
func TestDrainAndRefillIsNothing(t *testing.T) {
	s := Setup{StartC: 6, Snow: SnowNever}
	_, none := runEvents(t, withEvents(""), 4, -8, s)
	_, both := runEvents(t, withEvents("{kind: drain, bay: drums, from: 01-05, hour: 0, share: 60 %}, {kind: refill, bay: drums, from: 01-05, hour: 0, level: 0.8265 m, temperature: 6 degC}"), 4, -8, s)
	if a, b := none.Water.Bays[0].EndL, both.Water.Bays[0].EndL; math.Abs(a-b) > 0.2 {
		t.Fatalf("%.2f L at the end, without events %.2f: the level of this test is not that of the fill", b, a)
	}
	for i := range none.Traces {
		for h, c := range none.Traces[i].C {
			if d := both.Traces[i].C[h] - c; math.Abs(d) > 0.005 {
				t.Fatalf("%s is %.4f K off in hour %d", none.Traces[i].Name, d, h)
			}
		}
	}
}

// In the cold, less water is never warmer: a leak, to wherever it goes, never warms the canopy on the worst night after it.
func TestLeakIsNeverWarmer(t *testing.T) {
	const pit = "bays: 2, at: 3.25 m}]"
	lowest := func(events string) float64 {
		h := mustHouse(t, strings.Replace(smallPit, pit, pit+", events: ["+events+"]", 1))
		w := spellAt(t, h, cold(10, -14), time.January, 5)
		_, r := mustRun(t, h, Setup{StartC: 9, Ground: flat(7), Snow: SnowNever}, w)
		books(t, r)
		low, _ := r.Trace("canopy air").Lowest()
		return low
	}
	whole := lowest("")
	before := whole
	for _, share := range []int{20, 50, 100} {
		for _, to := range []string{"floor", "soil"} {
			low := lowest(fmt.Sprintf("{kind: drain, bay: drums, from: 01-06, share: %d %%, rate: 60 L/h, to: %s}", share, to))
			t.Logf("%d %% to the %s: %.3f °C, whole %.3f", share, to, low, whole)
			if low > before+0.01 {
				t.Errorf("%d %% to the %s: canopy %.3f °C at worst, with more water %.3f", share, to, low, before)
			}
			if to == "soil" {
				before = low
			}
		}
	}
}

// A drum half frozen holds 0 °C, and water that leaves it leaves the ice behind.
func TestIceStaysWhenWaterLeaves(t *testing.T) {
	_, r := runEvents(t, withEvents("{kind: drain, bay: drums, from: 01-09, share: 90 %}"), 8, -12, Setup{StartC: 0.2, Snow: SnowNever})
	i := 4*24 + 12 // the hour of the drain
	before, after := r.IceShare[i-1]*r.WaterM3[i-1], r.IceShare[i]*r.WaterM3[i]
	if before < 0.01 {
		t.Fatalf("only %.4f m³ of ice before the drain", before)
	}
	if after < before-1e-6 || after > before*1.2+0.01 {
		t.Errorf("%.4f m³ of ice after the drain, %.4f before", after, before)
	}
	for k, tr := range []string{"drums, bottom", "drums, middle", "drums, top"} {
		if c := r.Trace(tr).C[i-1]; c < waterFrozenC-0.1 && k > 0 || c > 0.05 {
			t.Errorf("%s, part ice, stands at %.3f °C before the drain", tr, c)
		}
	}
}

// Water on a floor colder than freezing gives its heat down to 0 °C and no more.
func TestLeakOnAFrozenFloor(t *testing.T) {
	_, r := runEvents(t, withEvents("{kind: leak, bay: drums, from: 01-05, hour: 0, rate: 10 L/h, to: floor}"), 2, -20, Setup{StartC: -10, Snow: SnowNever})
	got, most := r.Heat.InJ["leak water on the floor"], r.Heat.OutJ["leaked water"]
	if got <= 0 || got > most*(1+1e-12) {
		t.Errorf("the floor got %.4g J of the %.4g J that left the drums", got, most)
	}
}

// A bay that is lost from the start stands empty; a name that is not known is told.
func TestBaysLost(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, err := New(h, Setup{StartC: 5, Ground: flat(6), BaysLost: []string{"drums, bay 2"}})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := g.WaterM3(), h.Water()/2; math.Abs(got-want) > 1e-9 {
		t.Errorf("%.4f m³ left, want %.4f", got, want)
	}
	if g, err = New(h, Setup{StartC: 5, Ground: flat(6), BaysLost: []string{"drums"}}); err != nil || g.WaterM3() != 0 {
		t.Errorf("all bays lost: %v, %v m³", err, g.WaterM3())
	}
	if _, err = New(h, Setup{StartC: 5, BaysLost: []string{"drums, bay 3"}}); err == nil || !strings.Contains(err.Error(), "bays: drums, bay 1; drums, bay 2") {
		t.Errorf("a bay that is not there: %v", err)
	}
}

// A state carries the water that is there, its layers, and an event under way: a run parted in two is the run in one.
func TestStateCarriesTheWater(t *testing.T) {
	text := withEvents("{kind: leak, bay: drums, from: 01-06, rate: 6 L/h, to: floor}, {kind: refill, bay: drums, from: 01-07, volume: 100 L, rate: 2 L/h, temperature: 3 degC}")
	h := mustHouse(t, text)
	w := spellAt(t, h, cold(6, -6), time.January, 5)
	s := Setup{StartC: 4, Snow: SnowNever}
	_, whole := mustRun(t, h, s, w)
	first, second := *w, *w
	first.Hours = w.Hours[:66]
	second.Hours, second.Start = w.Hours[66:], w.HourStart(66)
	a, _ := mustRun(t, h, s, &first)
	b, err := New(h, s)
	if err != nil {
		t.Fatal(err)
	}
	b.Load(a.State(), nil)
	r, err := b.Run(context.Background(), &second, Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := len(whole.WaterM3) - 1
	if got, want := r.WaterM3[n-66], whole.WaterM3[n]; math.Abs(got-want) > 1e-9 {
		t.Errorf("%.6f m³ at the end, in one run %.6f", got, want)
	}
	for i := range whole.Traces {
		if d := r.Traces[i].C[n-66] - whole.Traces[i].C[n]; math.Abs(d) > 0.02 {
			t.Errorf("%s is %.4f K off at the end", whole.Traces[i].Name, d)
		}
	}
}

// Heat, vapour and water close whatever happens to the water, frozen or not.
func TestBooksCloseOnRandomEvents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list []string
		for range rapid.IntRange(1, 5).Draw(t, "events") {
			bay := rapid.SampledFrom([]string{"drums", "'drums, bay 1'", "'drums, bay 2'"}).Draw(t, "bay")
			when := fmt.Sprintf("from: 01-%02d, hour: %d", rapid.IntRange(5, 9).Draw(t, "day"), rapid.IntRange(0, 23).Draw(t, "hour"))
			to := rapid.SampledFrom([]string{"floor", "soil", "outside"}).Draw(t, "to")
			x := rapid.Float64Range(0.01, 1).Draw(t, "x")
			list = append(list, rapid.SampledFrom([]string{
				fmt.Sprintf("{kind: leak, bay: %s, %s, rate: %.3f L/h, to: %s}", bay, when, 100*x, to),
				fmt.Sprintf("{kind: leak, bay: %s, %s, hole: %.2f mm, level: %.3f m, to: %s}", bay, when, 0.3+10*x, 0.8*x, to),
				fmt.Sprintf("{kind: drain, bay: %s, %s, share: %.3f, to: %s}", bay, when, x, to),
				fmt.Sprintf("{kind: refill, bay: %s, %s, volume: %.1f L, rate: 50 L/h, temperature: %.2f degC}", bay, when, 500*x, 12*x),
				fmt.Sprintf("{kind: draw, bay: %s, %s, until: 01-20, volume: %.1f L, bed: bed}", bay, when, 60*x),
			}).Draw(t, "event"))
		}
		h := drawnHouse(t, strings.Replace(smallPit, "bays: 2, at: 3.25 m}]", "bays: 2, at: 3.25 m}], events: ["+strings.Join(list, ", ")+"]", 1))
		start := rapid.Float64Range(0.1, 9).Draw(t, "start")
		w, err := weather.Spell(cold(6, rapid.Float64Range(-25, 5).Draw(t, "outside")), placeOf(h), time.Date(2023, 1, 5, 0, 0, 0, 0, time.FixedZone("", -7*3600)))
		if err != nil {
			t.Fatal(err)
		}
		g, err := New(h, Setup{StartC: start, Ground: flat(start), Snow: SnowNever})
		if err != nil {
			t.Fatal(err)
		}
		r, err := g.Run(context.Background(), &w, Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, strings.Join(list, "\n"))
		}
		books(t, r)
	})
}

func drawnHouse(t *rapid.T, text string) *house.House {
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load("drawn.yaml", []byte(text), known)
	if err := plan.AsError(findings); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return h
}
