package greenhouse

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// sunkenPit is the small pit with a cold sink.
func sunkenPit(t testing.TB, changes ...string) *Greenhouse {
	t.Helper()
	with := append([]string{"cold_sink.from=1.7 m", "cold_sink.to=2.1 m", "cold_sink.depth=30 cm"}, changes...)
	g, err := New(mustHouse(t, smallPit, with...), Setup{StartC: 6, Ground: flat(6), Snow: SnowNever})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// begin puts a greenhouse into the first hour of weather.
func (g *Greenhouse) beginHour(w *weather.Series) {
	h := g.site.hourAt(w, 0, w.Hours[0], spanOf(g, w, 0))
	for _, p := range g.parts {
		p.hour(&h)
	}
}

// Whatever the temperatures, as much air comes into each layer as leaves it, draughts and what they displace counted.
func TestEveryLayerKeepsItsAir(t *testing.T) {
	g := sunkenPit(t, "vents=[{name: low, in: left end, area: 0.1 m2, height: 0.6 m, wax: 15 degC}, {name: high, in: right end, area: 0.1 m2, height: 1.8 m, wax: 15 degC}]",
		"inlets=[{name: pipe, diameter: 15 cm, height: 0 m}]")
	g.beginHour(spellAt(t, g.House, cold(2, -10), time.January, 10))
	rapid.Check(t, func(t *rapid.T) {
		for _, l := range g.layers {
			g.Net.SetTemperature(l.node, rapid.Float64Range(-10, 30).Draw(t, l.name))
		}
		for _, s := range g.inside {
			g.Net.SetTemperature(s.node, rapid.Float64Range(-20, 40).Draw(t, s.name))
		}
		tube, duct := rapid.Float64Range(0, 0.15).Draw(t, "through a tube"), rapid.Float64Range(0, 0.15).Draw(t, "from outdoors")
		err := g.Net.Advance(func(m thermal.Moment) {
			g.addTransfer(2, 1, tube)
			g.addTransfer(outdoors, 0, duct)
			g.step(m)
			g.keepsAir(t)
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

// keepsAir holds the air that moves now to its balance.
func (g *Greenhouse) keepsAir(t *rapid.T) {
	moved := 0.0
	for k := range g.layers {
		open := 0.0
		for j := range g.flows.rate {
			if g.flows.rate[j][k] < 0 || g.flows.rate[k][j] < 0 {
				t.Fatalf("a negative flow between %d and %d", j, k)
			}
			open += g.flows.rate[j][k] - g.flows.rate[k][j]
			moved += g.flows.rate[j][k]
		}
		if math.Abs(open) > 1e-12 {
			t.Fatalf("%s: %.3g kg/s more come than go", g.layers[k].name, open)
		}
	}
	if moved < 0.001 {
		t.Fatal("nothing moves")
	}
}

// In steady cold by night the air of the cold sink is no warmer than that over it, but for what it takes to turn over.
func TestSinkIsNoWarmerThanItsRoom(t *testing.T) {
	const turning = 0.3 // [K]
	_, r := mustRun(t, mustHouse(t, smallPit, sinkAndCover...), Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, spellAt(t, mustHouse(t, smallPit), cold(8, -15), time.January, 10))
	sink, bed := r.Trace("cold sink air"), r.Trace("bed air")
	for i := 24; i < r.Hours(); i++ {
		if sink.C[i] > bed.C[i]+turning {
			t.Fatalf("hour %d: sink %.2f °C, bed air %.2f °C", i, sink.C[i], bed.C[i])
		}
	}
}

// A draught that takes less air along is colder, and so is the sink that it ends in.
func TestDraughtThatTakesLessIsColder(t *testing.T) {
	h := mustHouse(t, smallPit, sinkAndCover[:3]...)
	lowest := func(band AirBand) map[string]float64 {
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever, Air: band}, spellAt(t, h, cold(6, -15), time.January, 10))
		return lows(r)
	}
	half, usual, twice := lowest(AirBand{Draught: 0.5}), lowest(AirBand{}), lowest(AirBand{Draught: 2})
	if !(half["cold sink air"] < usual["cold sink air"]-0.2 && usual["cold sink air"] < twice["cold sink air"]-0.2) {
		t.Errorf("sink: half %.2f, usual %.2f, twice %.2f °C", half["cold sink air"], usual["cold sink air"], twice["cold sink air"])
	}
}

// Warm air under cold is gone within the hour; cold under warm swaps next to nothing.
func TestLayersTurnOver(t *testing.T) {
	g := sunkenPit(t, "leakage.area=0 cm2")
	w := spellAt(t, g.House, cold(2, 5), time.January, 10)
	put := func(bed, canopy float64) {
		for _, s := range g.inside { // faces as warm as their air: nothing but the layers' exchange moves heat at first
			g.Net.SetTemperature(s.node, s.air[0].start(bed, canopy))
		}
		for _, l := range g.layers {
			g.Net.SetTemperature(l.node, l.start(bed, canopy))
		}
		g.beginHour(w)
		if err := g.Net.Advance(g.step); err != nil {
			t.Fatal(err)
		}
	}
	put(16, 6)
	if d := g.Net.T(g.layers[1].node) - g.Net.T(g.layers[2].node); d > 0.5 {
		t.Errorf("warm below: %.2f K are left after an hour", d)
	}
	g = sunkenPit(t, "leakage.area=0 cm2")
	g.Setup.Air.Still = 2
	for k, c := range []float64{-4, -2, 16} {
		g.Net.SetTemperature(g.layers[k].node, c)
	}
	g.beginHour(w)
	first := true
	err := g.Net.Advance(func(m thermal.Moment) {
		if g.step(m); first {
			still := 2 * 0.001 * g.layers[1].area * g.airHeat(7)
			if got := g.Net.JoinValue(g.flows.swap[1]); math.Abs(got/still-1) > 1e-9 {
				t.Errorf("cold below swaps %.2f W/K, lying still %.2f", got, still)
			}
		}
		first = false
	})
	if err != nil {
		t.Fatal(err)
	}
}

func (l *layer) start(bed, canopy float64) float64 {
	if l.name == "canopy air" {
		return canopy
	}
	return bed
}

// What a draught brings to the glazing and takes from it is what the film takes: heat from canopy to glazing by join and by draught together.
func TestDraughtKeepsTheFilmsHeat(t *testing.T) {
	g := sunkenPit(t)
	w := spellAt(t, g.House, cold(6, -15), time.January, 10)
	if _, err := g.Run(t.Context(), w, Options{}); err != nil {
		t.Fatal(err)
	}
	joule := func(name string) float64 { return g.Net.Flows()[g.Net.FlowIndex(name)].HourJ }
	got := joule("canopy air to glazing") + joule("draught at glazing") - joule("draught from glazing")
	d := g.flows.down[2][0]
	want := d.film * (g.Net.T(g.layers[2].node) - g.Net.T(d.face.node)) * 3600
	if math.Abs(got/want-1) > 0.01 {
		t.Errorf("%.4g J an hour go to the glazing, its film takes %.4g J", got, want)
	}
	if d.part < 0.9*d.film || d.gone[0]+d.gone[1] < 0.5 {
		t.Errorf("glazing %.1f K colder than its air makes hardly a draught: %+v", g.Net.T(g.layers[2].node)-g.Net.T(d.face.node), d.gone)
	}
}

// A colder face never catches less, whatever else is wet.
func TestColderFaceNeverCatchesLess(t *testing.T) {
	g := sunkenPit(t)
	w := spellAt(t, g.House, cold(3, -5), time.January, 10)
	if _, err := g.Run(t.Context(), w, Options{}); err != nil {
		t.Fatal(err)
	}
	g.beginHour(w)
	if err := g.Net.Advance(g.step); err != nil {
		t.Fatal(err)
	}
	glass := g.vapour.faceOf(g.panes[0].surface)
	last := math.Inf(1)
	for c := -20.0; c < 20; c += 0.5 {
		glass.sat, glass.sl = g.saturated(c)
		g.vapour.solve(600)
		if glass.next.got > last+1e-12 {
			t.Fatalf("glazing at %.1f °C catches %.4g kg, colder less: %.4g kg", c, glass.next.got, last)
		}
		last = glass.next.got
	}
	if last > 0 {
		t.Error("warm glazing still catches: the case says nothing")
	}
}

// Wax: opens along one line, closes along another, late, and by night too.
func TestWaxOpener(t *testing.T) {
	v := plan.Vent{Wax: &plan.Wax{OpensAt: 20, FullAt: 28, Hysteresis: 3, Lag: 1200}}
	o := opener{vent: &v, waxC: 10}
	settle := func(c float64) float64 { // long at one temperature
		for range 100 {
			o.follow(nil, c, 600)
			o.waxC, o.stands = o.nextC, o.nextOpens
		}
		return o.stands
	}
	for _, c := range []struct{ at, want float64 }{{19, 0}, {24, 0.5}, {30, 1}, {26, 1}, {24, 7.0 / 8}, {22, 5.0 / 8}, {23, 5.0 / 8}, {26, 6.0 / 8}, {16, 0}} {
		if got := settle(c.at); math.Abs(got-c.want) > 1e-3 {
			t.Errorf("at %g °C it stands %.3f open, want %.3f", c.at, got, c.want)
		}
	}
	o.waxC = 20
	if o.follow(nil, 28, 1200); math.Abs(o.nextC-24) > 1e-9 { // half way in a step as long as the lag
		t.Errorf("after its lag the wax is at %.2f °C, want 24", o.nextC)
	}
}

// In a house that things inside keep hot through a winter night a wax opener lets the heat out, and a hand does not.
func TestWaxWorksByNight(t *testing.T) {
	hot := []string{"heat[0].power=6000 W"}
	vents := func(how string) []string {
		return append(hot, "vents=[{name: low, in: front, area: 0.3 m2, height: 0.3 m"+how+"}, {name: high, in: back, area: 0.3 m2, height: 2.2 m"+how+"}]")
	}
	w := spellAt(t, mustHouse(t, litBox), cold(3, 5), time.January, 10)
	night := func(changes []string) float64 {
		_, r := mustRun(t, mustHouse(t, litBox, changes...), Setup{StartC: 20, Snow: SnowNever}, w)
		return r.Trace("air").C[48]
	}
	hand, wax := night(vents(", open_above: 21 degC")), night(vents(", wax: 21 degC"))
	if hand < 40 || wax > 28.5 || wax < 21 {
		t.Errorf("by hand %.1f °C at midnight, by wax %.1f °C", hand, wax)
	}
}

// An open pipe low in the house is colder for every place, a closed one is none at all; so is a door that nobody opens.
func TestInletsAndDoorsAreLeaks(t *testing.T) {
	lowest := func(changes ...string) map[string]float64 {
		h := mustHouse(t, smallPit, changes...)
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, spellAt(t, h, cold(6, -15), time.January, 10))
		return lows(r)
	}
	door := func(more string) string {
		return "doors=[{in: left end, width: 0.7 m, height: 0.9 m" + more + "}]"
	}
	none := lowest()
	open := lowest("inlets=[{name: pipe, diameter: 12 cm, height: 0.1 m}]")
	notColder(t, "without the pipe", open, none, slackK)
	if none["bed air"] < open["bed air"]+0.2 {
		t.Errorf("bed air %.2f °C without a pipe, %.2f °C with it", none["bed air"], open["bed air"])
	}
	for name, c := range lowest("inlets=[{name: pipe, diameter: 12 cm, height: 0.1 m, closed: 100 %}]") {
		if math.Abs(c-none[name]) > 1e-6 {
			t.Errorf("%s: %.6f °C with a closed pipe, %.6f °C without", name, c, none[name])
		}
	}
	shut, used, gaping := lowest(door(", opened: 0")), lowest(door(", opened: 60, open_for: 1 min")), lowest(door(", opened: 0, gap: 4 mm"))
	notColder(t, "a door never opened", used, shut, slackK)
	notColder(t, "a door that closes", gaping, shut, slackK)
	if shut["bed air"] < used["bed air"]+0.1 || shut["bed air"] < gaping["bed air"]+0.1 {
		t.Errorf("bed air: shut %.2f, used %.2f, gaping %.2f °C", shut["bed air"], used["bed air"], gaping["bed air"])
	}
}

// Two equal joints: the height of equal pressure lies half way, in at the lower and out at the higher; a third at that height passes nothing.
func TestStackSpreadByHand(t *testing.T) {
	g := sunkenPit(t)
	low, high := (g.layers[0].z0+g.layers[0].z1)/2, (g.layers[2].z0+g.layers[2].z1)/2
	s := g.stackSpread([]leakSite{{z: low, area: 1}, {z: high, area: 1}, {z: (low + high) / 2, area: 5}})
	if math.Abs(s.in[0]-1) > 1e-6 || math.Abs(s.out[2]-1) > 1e-6 {
		t.Errorf("in %v, out %v", s.in, s.out)
	}
	// three parts high, one low: (1-x)^0.65 = 3 x^0.65 puts the level at x from the high, and all in at the low still
	cold := s.between(spread{}, 1, -20, 3)
	if math.Abs(cold.in[2]-1) > 0.001 {
		t.Errorf("a house colder than outdoors draws in %v", cold.in)
	}
}

// Carbon dioxide: in the dark what soil gives and air takes away; in light leaves draw it below outdoors.
func TestCarbonDioxide(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, r := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, spellAt(t, h, cold(15, 2), time.January, 10))
	air := 0.0
	for k := range g.layers {
		air += g.flows.rate[outdoors][k]
	}
	soil := 0.544 / 12.011 * 44.01 / 8760 / 3600 * math.Exp(308.56*(1/56.02-1/(g.Net.T(g.ground.bedNode(0))+46.02))) * h.Beds[0].Area
	want := 422 + soil/air/(44.01/28.97)*1e6
	if got := r.Air.CO2PPM[r.Hours()-1]; math.Abs(got-want) > 1 {
		t.Errorf("%.1f ppm, by hand %.1f", got, want)
	}
	_, lit := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, spellAt(t, h, bright(5, 5), time.March, 10))
	least := math.Inf(1)
	for i, ppm := range lit.Air.CO2PPM {
		if lit.Air.LightWM2[i] > 100 {
			least = math.Min(least, ppm)
		}
	}
	if least > 410 || least < leastPPM {
		t.Errorf("least in light: %.0f ppm", least)
	}
}

// Of the canopy's law: a single leaf's rectangular hyperbola for few leaves, all that its leaves can take in strong light, nothing in the dark.
func TestCanopyUptakeAtItsEnds(t *testing.T) {
	const c, light = 7e-4, 100.0
	a, b := lightUse*extinction*light, leafTakes*c
	leaf := a * b / (a + 0.9*b) * 1e-4
	if got := canopyUptake(light, c, 1e-4, 1); math.Abs(got/leaf-1) > 1e-3 {
		t.Errorf("few leaves take %.4g, one leaf's law %.4g", got, leaf)
	}
	if got := canopyUptake(1e7, c, 2, 1); math.Abs(got/(2*b)-1) > 0.01 {
		t.Errorf("in blinding light %.4g, all the leaves can %.4g", got, 2*b)
	}
	for _, got := range []float64{canopyUptake(0, c, 2, 1), canopyUptake(light, 0, 2, 1), canopyUptake(light, c, 2, 0)} {
		if got != 0 {
			t.Errorf("%.4g without light, gas or warmth", got)
		}
	}
	// trade: 1 to 3 g/m2 h in bright winter light
	if g := canopyUptake(100, c, 2, 0.75) * 3.6e6; g < 1 || g > 3 {
		t.Errorf("%.2f g/m² h", g)
	}
}

// The combination law is the leaf's balance of heat and vapour solved: by bisection for the leaf's temperature on a straight saturation line.
func TestLeavesGiveWhatTheirBalanceSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := canopy{open: rapid.Float64Range(0.001, 0.1).Draw(t, "open"), film: rapid.Float64Range(10, 200).Draw(t, "film"), sunW: rapid.Float64Range(0, 3000).Draw(t, "sun")}
		sat, slope := rapid.Float64Range(0.002, 0.02).Draw(t, "saturated"), rapid.Float64Range(2e-4, 1e-3).Draw(t, "slope")
		w := sat * rapid.Float64Range(0.3, 1).Draw(t, "humidity")
		low, high := -200.0, 300.0 // leaf over air [K]
		for range 200 {
			d := (low + high) / 2
			if c.film*d+latentWarm*c.open*(sat+slope*d-w) > c.sunW {
				high = d
			} else {
				low = d
			}
		}
		want := c.open * (sat + slope*low - w)
		k, always := c.gives(slope)
		if got := k*(sat-w) + always; math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
			t.Fatalf("%.6g kg/s, by balance %.6g", got, want)
		}
	})
}
