package greenhouse

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/pipes"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// looped lays a loop under the floor of the small pit: in low, out high. All of it is invented.
func looped(count int, more string) string {
	return fmt.Sprintf("tubes=[{name: loop, count: %d, diameter: 110 mm, length: 5.5 m, depth: 0.8 m, spacing: 0.3 m, inlet: {height: 0.1 m}, outlet: {height: 1.6 m}%s}]", count, more)
}

// inletPipe lays an inlet from outdoors into the small pit.
const inletPipe = "tubes=[{name: pipe, count: 2, diameter: 110 mm, length: 5.5 m, depth: 1.6 m, under: outside behind, inlet: {in: outdoors, height: 0.4 m}, outlet: {height: 0.3 m}}]"

// atFirst is the air through the tubes at the very beginning of an hour [kg/s], with all air in the house at one temperature, all walls of tubes
// at another and the air outdoors at a third [°C].
func atFirst(t *testing.T, change string, houseC, wallC, outC float64) float64 {
	t.Helper()
	h := mustHouse(t, smallPit, change)
	g, err := New(h, Setup{StartC: houseC, Ground: flat(wallC)})
	if err != nil {
		t.Fatal(err)
	}
	w := spellAt(t, h, weather.SpellSpec{Days: 1, MeanC: outC, Cloud: 1, DewPointBelowK: 1}, time.January, 10)
	hr := g.site.hourAt(w, 0, w.Hours[0], spanOf(g, w, 0))
	for _, p := range g.parts {
		p.hour(&hr)
	}
	first, mass := true, 0.0
	if err := g.Net.Advance(func(m thermal.Moment) {
		g.step(m)
		if first {
			first = false
			for _, b := range g.tubes[0].bundles {
				mass += b.massS
			}
		}
	}); err != nil {
		t.Fatal(err)
	}
	return mass
}

// With one temperature nothing moves. A loop moves from the low opening to the high one where the house is the colder, the other way when
// its openings are exchanged, and not where the house is the warmer. A pipe from outdoors lets in while outdoors is the colder and out while it is the warmer.
func TestTubesDrawAsTheyAreDriven(t *testing.T) {
	turned := "tubes=[{name: loop, count: 4, diameter: 110 mm, length: 5.5 m, depth: 0.8 m, spacing: 0.3 m, inlet: {height: 1.6 m}, outlet: {height: 0.1 m}}]"
	for _, c := range []struct {
		name, change           string
		house, wall, out, sign float64
	}{
		{"all alike", looped(4, ""), 7, 7, 7, 0}, {"loop, house colder", looped(4, ""), 1, 8, -10, 1}, {"loop, house warmer", looped(4, ""), 20, 8, -10, 0},
		{"loop turned", turned, 1, 8, -10, -1}, {"loop shut", looped(4, ", open: 10:00-11:00"), 1, 8, -10, 0},
		{"pipe, all alike", inletPipe, 7, 7, 7, 0}, {"pipe, outdoors colder", inletPipe, 8, 8, -10, 1}, {"pipe, outdoors warmer", inletPipe, 8, 8, 25, -1},
		{"fan against the draft", looped(4, ", fan: {flow: 200 m3/h, power: 20 W, blows: outlet to inlet}"), 1, 8, -10, -1},
	} {
		mass := atFirst(t, c.change, c.house, c.wall, c.out)
		if c.sign == 0 && math.Abs(mass) > 1e-9 || c.sign != 0 && !(mass*c.sign > 1e-3) {
			t.Errorf("%s: %.5g kg/s, want sign %g", c.name, mass, c.sign)
		}
	}
	if m := atFirst(t, looped(4, ", fan: {flow: 200 m3/h, power: 20 W}"), 1, 8, -10); math.Abs(m-200.0/3600*pipes.AirDensity(20, 89875)) > 2e-4 {
		t.Errorf("a fan of 200 m3/h moves %.5f kg/s", m)
	}
}

// The carries of a way bring air to the outlet as the tube in parts does, whatever its walls are at.
func TestWayIsExact(t *testing.T) {
	net := &thermal.Network{}
	held := func(name string, c float64) thermal.Node { // a node all but at a given temperature
		n := net.Add(name, thermal.Law{}, c)
		net.Join("hold", n, net.Given(name+" given", c), 1e9)
		return n
	}
	g := &Greenhouse{Net: net}
	g.layers = []*layer{{node: held("low", -5)}, {node: net.Add("high", thermal.Law{}, 0)}}
	row := &tubes{g: g, row: &house.Tubes{Plan: &plan.Tube{Name: "loop"}}}
	row.a, row.b = tubeEnd{node: g.layers[0].node, layer: 0}, tubeEnd{node: g.layers[1].node, layer: 1}
	walls := []float64{2, 4, 9, 7}
	var nodes []thermal.Node
	for i, c := range walls {
		nodes = append(nodes, held(fmt.Sprint("wall ", i), c))
	}
	w := row.addWay(row.a, row.b, nodes)
	w.set(net, 30, 0.7)
	net.SetCarry(net.Carry("back through the house", g.layers[1].node, g.layers[0].node), 30)
	if err := net.Steady(); err != nil {
		t.Fatal(err)
	}
	want := pipes.Along(-5, walls, 0.7, 1)
	for _, l := range g.layers[1:] {
		if got := net.T(l.node); math.Abs(got-want) > 1e-5 {
			t.Errorf("the air comes out at %.6f °C, want %.6f °C", got, want)
		}
	}
}

// Tubes that are shut change next to nothing: their soil is the ground's own, and what joins it sideways does little.
func TestShutTubesChangeNothing(t *testing.T) {
	w := coldWeeks(t, mustHouse(t, smallPit))
	setup := Setup{StartC: 4, Ground: flat(5), Snow: SnowFalls}
	_, without := mustRun(t, mustHouse(t, smallPit), setup, w)
	_, with := mustRun(t, mustHouse(t, smallPit, looped(10, ", open: 10:01-10:02")), setup, w)
	d := compared(without, with)
	t.Logf("%.4f K RMS (%s), lowest %.4f K (%s)", d.rms, d.rmsAt, d.low, d.lowAt)
	if d.rms > 0.05 || d.low > 0.05 {
		t.Error("more than is allowed, 0.05 K")
	}
	for i, m3s := range with.Tubes[0].FlowM3S {
		if m3s != 0 {
			t.Fatalf("%g m3/s in hour %d", m3s, i)
		}
	}
}

// Heat and vapour close with loops and inlets, with and without fans, through cold, sun and the dew of a warm day; and each does what it is
// there for: the tubes give heat, water condenses, the fan's watts are counted.
func TestTubesClose(t *testing.T) {
	for _, c := range []struct {
		name, change string
		spec         weather.SpellSpec
		groundC      float64
	}{
		{"loop by itself", looped(4, ""), cold(6, -12), 8},
		{"loop with a fan through sun", looped(8, ", fan: {flow: 600 m3/h, pressure: 90 Pa, power: 60 W}"), weather.SpellSpec{Days: 6, MeanC: 4, SwingK: 10, Clearness: 0.7, DewPointBelowK: 1}, 4},
		{"inlet", inletPipe, weather.SpellSpec{Days: 6, MeanC: -8, SwingK: 12, Clearness: 0.6, WindMS: 4, DewPointBelowK: 2}, 6},
		{"outlet", "tubes=[{name: pipe, count: 2, diameter: 200 mm, length: 7 m, depth: 0.8 m, inlet: {height: 0.4 m}, outlet: {in: outdoors, height: 2 m}}]", cold(6, -12), 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := mustHouse(t, smallPit, c.change)
			_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(c.groundC), Snow: SnowNever}, spellAt(t, h, c.spec, time.February, 10))
			closes(t, r)
			tr := r.Tubes[0]
			heat, water, fan, moved := 0.0, 0.0, 0.0, 0.0
			for i := range tr.HeatJ {
				heat += tr.HeatJ[i]
				water += tr.WaterKg[i]
				fan += tr.FanWh[i]
				moved += math.Abs(tr.FlowM3S[i]) * 3600
			}
			t.Logf("%.2f kWh, %.3f kg of water, fan %.0f Wh, %.0f m3 of air, loss up to %.2f Pa", heat/3.6e6, water, fan, moved, tr.LossPa[30])
			if moved == 0 || heat == 0 {
				t.Error("nothing moved")
			}
			if d := math.Abs(water - r.Vapour.OutKg["condensed in tubes"]); d > 1e-9 {
				t.Errorf("%g kg of water are told otherwise than the account of vapour has it", d)
			}
			if p := h.Plan.Tubes[0].Fan; p != nil && (water == 0 || math.Abs(fan-60*24*6) > 1e-6) {
				t.Errorf("fan of %g Wh, %g kg of water", fan, water)
			}
		})
	}
}

// In steady cold a loop without a fan never makes any place colder but the soil that it takes from, and ten times as many tubes never
// move less heat, nor leave the leaves colder.
func TestMoreTubesMoveMoreHeat(t *testing.T) {
	run := func(change string) (leaf, kWh float64) {
		h := mustHouse(t, smallPit, change)
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(7), Snow: SnowNever}, spellAt(t, h, cold(8, -15), time.January, 10))
		leaf, _ = r.Trace("bed, leaf tips, middle").Lowest()
		if len(r.Tubes) > 0 {
			for _, j := range r.Tubes[0].HeatJ {
				kWh += j / 3.6e6
			}
		}
		return leaf, kWh
	}
	leaf, heat := run("tubes=none")
	for _, n := range []int{1, 2, 10} {
		l, q := run(looped(n, ""))
		t.Logf("%d tubes: leaves %.3f °C, %.2f kWh", n, l, q)
		if l < leaf-slackK || q <= heat {
			t.Errorf("%d tubes: leaves %.3f °C after %.3f, heat %.3f kWh after %.3f", n, l, leaf, q, heat)
		}
		leaf, heat = l, q
	}
}

// Every step taken in eight parts moves a house with tubes no more than one without. The fan goes by the clock: a rule that looks at the air at the full hour
// may decide one hour otherwise for a thousandth of a kelvin, which is no error of the step.
func TestStepsAreShortEnoughForTubes(t *testing.T) {
	h := mustHouse(t, smallPit, looped(10, ", fan: {flow: 500 m3/h, power: 40 W, hours: 19:00-07:00}"))
	w := coldWeeks(t, h)
	setup := Setup{StartC: 4, Ground: flat(5), Snow: SnowFalls}
	_, usual := mustRun(t, h, setup, w)
	setup.Control = thermal.Control{Finer: 3}
	_, fine := mustRun(t, h, setup, w)
	d := compared(usual, fine)
	t.Logf("an eighth of the step: %.3f K RMS (%s), faces %.3f K (%s), lowest %.3f K (%s); %d and %d steps", d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt, usual.Work.Steps, fine.Work.Steps)
	if d.rms > 0.1 || d.low > 0.1 || d.faces > 0.2 {
		t.Error("more than is allowed")
	}
}

// A step of the part makes nothing anew: it runs many times an hour.
func TestTubesStepAllocatesNothing(t *testing.T) {
	h := mustHouse(t, smallPit, looped(10, ", fan: {flow: 500 m3/h, pressure: 60 Pa, power: 40 W}"))
	g, err := New(h, Setup{StartC: 12, Ground: flat(5)})
	if err != nil {
		t.Fatal(err)
	}
	w := spellAt(t, h, cold(1, -10), time.January, 10)
	hr := g.site.hourAt(w, 0, w.Hours[0], spanOf(g, w, 0))
	for _, p := range g.parts {
		p.hour(&hr)
	}
	made := -1.0
	if err := g.Net.Advance(func(m thermal.Moment) {
		g.step(m)
		if made < 0 {
			made = testing.AllocsPerRun(20, func() {
				g.tubes[0].step(m)
				g.tubes[0].judge(&[maxLayers]float64{0.01, 0.01, 0.01})
				g.tubes[0].condense(m, &[maxLayers]float64{0.01, 0.01, 0.01})
			})
		}
	}); err != nil {
		t.Fatal(err)
	}
	if made != 0 {
		t.Errorf("%g allocations a step", made)
	}
}

// The reduced ground answers at the sheets of tubes as the full mesh does: within what is asked of it elsewhere, 0.05 K RMS and 0.2 K on a lowest.
func TestTubesInReducedGround(t *testing.T) {
	for _, change := range []string{looped(10, ", fan: {flow: 500 m3/h, power: 40 W, hours: 19:00-07:00}"), inletPipe} {
		h := mustHouse(t, smallPit, change)
		w := coldWeeks(t, h)
		setup := Setup{StartC: 4, Ground: flat(5), Snow: SnowNever}
		_, reduced := mustRun(t, h, setup, w)
		setup.Earth = FullMesh
		_, full := mustRun(t, h, setup, w)
		d := compared(full, reduced)
		t.Logf("%.4f K RMS (%s), faces %.4f K (%s), lowest %.4f K (%s)", d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt)
		if d.rms > 0.05 || d.low > 0.2 {
			t.Error("more than is allowed")
		}
	}
}
