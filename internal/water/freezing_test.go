package water

import (
	"slices"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// frosty gives an answer an invented winter of steady temperatures: outdoors, two layers of air that meet half a metre over the floor, and the water of each bay [°C].
func frosty(a *Answer, outdoors, low, high, water float64) {
	const hours = 400
	floor := a.House.FloorZ
	r := &greenhouse.Result{House: a.House, Start: time.Date(2001, 12, 1, 0, 0, 0, 0, time.UTC), GlobalWM2: make([]float64, hours)}
	add := func(name string, kind greenhouse.PlaceKind, bay string, z, c float64) {
		t := greenhouse.Trace{Place: greenhouse.Place{Name: name, Kind: kind, Z: z, Bay: bay}}
		for range hours {
			t.C = append(t.C, c)
		}
		r.Traces = append(r.Traces, t)
	}
	add("outdoor air", greenhouse.OutPlace, "", 1.5, outdoors)
	add("low air", greenhouse.AirPlace, "", floor+0.25, low)
	add("high air", greenhouse.AirPlace, "", floor+1.25, high)
	for _, row := range a.House.Rows {
		for b := range max(1, row.Bays) {
			add(row.BayName(b)+" low", greenhouse.WaterPlace, row.BayName(b), row.Base, water)
			add(row.BayName(b)+" high", greenhouse.WaterPlace, row.BayName(b), row.Top, water)
			r.Bays = append(r.Bays, greenhouse.BayTrace{Name: row.BayName(b)})
		}
	}
	a.Winter = &winter.Answer{Prepared: &winter.Prepared{Plan: a.Plan}, Result: r, SnowCase: "as snow falls"}
	a.Freezing = a.freeze()
	a.Care = a.care()
}

func part(t *testing.T, a *Answer, kind FreezeKind) *FreezePart {
	t.Helper()
	for i := range a.Freezing.Parts {
		if a.Freezing.Parts[i].Kind == kind {
			return &a.Freezing.Parts[i]
		}
	}
	t.Fatalf("no %s in %+v", kind, a.Freezing.Parts)
	return nil
}

// In steady air each part has ice in the hour that its closed form has; the manifold stands 0.65 m over the floor, in the upper layer.
func TestFreezingByHand(t *testing.T) {
	a := run(t, wet, settlingDrum, "water.first_flush={}")
	frosty(a, -10, 4, 3, 5)
	for _, kind := range []FreezeKind{FlushVessel, SettlingTank} {
		p := part(t, a, kind)
		if !p.Outside || !p.First.Equal(a.Winter.Result.Time(0)) {
			t.Errorf("%s: %+v", kind, p)
		}
		solid := p.Still.FreezesS(1, -12)
		hours := p.Solid.Sub(a.Winter.Result.Start).Seconds()
		if hours < solid || hours > solid+3600 {
			t.Errorf("%s: solid after %g s, by the closed form %g", kind, hours, solid)
		}
	}
	near(t, "drum as a pipe: 4/D = 4/D' + 2/h", 4/part(t, a, SettlingTank).Still.Diameter, 4/0.5517+2/0.7, 0.02)
	m := part(t, a, ManifoldPipe)
	if m.Air != "high air" || !m.First.IsZero() || m.Name != "back" {
		t.Errorf("%+v", m)
	}
	near(t, "as warm as its air", m.LowestC, 3, 1e-9)
	mouth := part(t, a, InletMouth) // between -12 and 3 °C
	if mouth.First.IsZero() || mouth.Outside {
		t.Errorf("%+v", mouth)
	}
	if !slices.Equal(a.Freezing.Drains, []string{"gutter outlet", "inlet pipe", "overflow pipe"}) {
		t.Errorf("run empty: %v", a.Freezing.Drains)
	}
	if a.Freezing.Parts[0].First.IsZero() || !a.Freezing.Parts[len(a.Freezing.Parts)-1].First.IsZero() {
		t.Error("what freezes stands before what does not")
	}
}

// Where a plan keeps water outside, or in what leads nowhere, it is listed.
func TestWhatHoldsWater(t *testing.T) {
	for _, c := range []struct {
		change, name string
		kind         FreezeKind
		outside      bool
	}{
		{"water.inlet.highest=0.9 m", "inlet", InletPipe, true},
		{"water.valves=[{name: main, on: inlet, state: shut}]", "inlet", InletPipe, true},
		{"water.valves=[{name: main, on: inlet}]", "main", ValveBody, true},
		{"water.inlet.end=-0.5 m", "inlet", InletFoot, false},
		{"water.overflow={to: outside, end: 0.5 m}", "overflow", OverflowPipe, true},
		{"water.settling_drum={base: -0.2 m, outlet: 0.5 m, stands: inside}", "settling drum", SettlingTank, false},
		{"water.valves=[{name: v, on: 'back, bay 2', state: shut}]", "back, to back, drum 4", DeadLeg, false},
		{"water.drip_lines[0].lines=2", "line", DripPipe, false},
	} {
		a := run(t, wet, c.change)
		frosty(a, -10, -1, -1, 2)
		found := false
		for _, p := range a.Freezing.Parts {
			found = found || p.Kind == c.kind && p.Name == c.name && p.Outside == c.outside && !p.First.IsZero()
		}
		if !found {
			t.Errorf("%s: no %s %q in %+v", c.change, c.kind, c.name, a.Freezing.Parts)
		}
	}
	blind := run(t, wet, "water.points=[{name: tee, height: -0.5 m}]", "water.pipes=[{name: stub, from: 'back, drum 1', to: tee, diameter: 20 mm, length: 1 m}]")
	frosty(blind, -10, -1, -1, 2)
	if p := part(t, blind, DeadLeg); p.Name != "stub" || len(deadLegs(blind.Scheme)) != len(blind.Scheme.Pipes) {
		t.Errorf("%+v", p)
	}
}

// Half of the water as ice takes 0.5 · 9.07 % of it more: 90 % full has room, 98 % has not.
func TestDrumsFilledTooFull(t *testing.T) {
	for _, c := range []struct {
		fill  string
		tight bool
	}{{"90 %", false}, {"98 %", true}} {
		a := run(t, wet, "store.rows[0].fill="+c.fill)
		frosty(a, -10, 1, 1, -0.05) // half frozen, of water that freezes down to -0.1 °C
		for _, d := range a.Freezing.Drums {
			near(t, "ice", d.Ice, 0.5, 1e-9)
			near(t, "need", d.Need, d.Fill*0.5*(999.84/917-1), 1e-9)
			near(t, "room", d.Head, 1-d.Fill, 1e-12)
			if d.TightAt.IsZero() == c.tight || d.First.IsZero() {
				t.Errorf("%s: %+v", c.fill, d)
			}
		}
	}
	stacked := run(t, wet, "store.rows[0].tiers=2", "store.rows[0].fill=50 %")
	frosty(stacked, -10, 1, 1, -0.001)
	if d := stacked.Freezing.Drums[0]; !d.Stacked || d.Head != 0 || !d.TightAt.Equal(d.First) {
		t.Errorf("a lower drum is full: %+v", d)
	}
	a := run(t, wet)
	frosty(a, -10, 1, 1, 2.5)
	if d := a.Freezing.Drums[0]; !d.First.IsZero() || d.LowestC != 2.5 || len(a.Freezing.Drums) != 2 {
		t.Errorf("%+v", a.Freezing.Drums)
	}
}

// A colder winter freezes every part no later.
func TestColderFreezesNoLater(t *testing.T) {
	var last map[FreezeKind]time.Time
	for _, c := range []float64{3, 0, -1, -3, -9, -20} {
		a := run(t, wet, settlingDrum, "water.first_flush={}")
		frosty(a, c, c, c+1, 4)
		now := map[FreezeKind]time.Time{}
		for _, p := range a.Freezing.Parts {
			now[p.Kind] = p.First
		}
		for kind, first := range last {
			if !first.IsZero() && (now[kind].IsZero() || now[kind].After(first)) {
				t.Errorf("%s: ice from %v at %g °C, from %v when it was milder", kind, now[kind], c, first)
			}
		}
		last = now
	}
}

func TestNoWinterNothingFreezes(t *testing.T) {
	if a := run(t, wet); a.Freezing != nil {
		t.Errorf("%+v", a.Freezing)
	}
}

// Only what applies is told.
func TestCareFitsThePlan(t *testing.T) {
	kinds := func(a *Answer) (list []CareKind) {
		for _, c := range a.Care {
			list = append(list, c.Kind)
		}
		return list
	}
	plain := kinds(run(t, wet))
	for _, k := range []CareKind{EmptyFlush, EmptySettling, DrainOutside, ScreenRunOut, KeepDark, LargerFlush} {
		if slices.Contains(plain, k) {
			t.Errorf("%s is told of a plan that has nothing of it", k)
		}
	}
	if !slices.Contains(plain, NoFlush) || !slices.Contains(plain, KeepLids) || !slices.Contains(plain, FlushLines) || !slices.Contains(plain, LookAtMouth) {
		t.Errorf("%v", plain)
	}
	a := run(t, wet, settlingDrum, "water.first_flush={}", "store.rows[0].colour=white", "water.overflow={to: outside, end: 0.5 m}", "water.drip_lines=[]")
	frosty(a, -5, 5, 5, 5)
	full := kinds(a)
	for _, k := range []CareKind{EmptyFlush, EmptySettling, DrainOutside, ScreenRunOut, KeepDark, LargerFlush} {
		if !slices.Contains(full, k) {
			t.Errorf("%s is missing in %v", k, full)
		}
	}
	if slices.Contains(full, FlushLines) || slices.Contains(full, NoFlush) {
		t.Errorf("%v", full)
	}
	if c := a.Care[slices.Index(full, EmptyFlush)]; !c.At.Equal(a.Winter.Result.Time(0)) {
		t.Errorf("by %v", c.At)
	}
	if large := kinds(run(t, wet, "water.first_flush={volume: 14.4 L}")); slices.Contains(large, LargerFlush) { // 1.2 mm on 12 m²
		t.Errorf("%v", large)
	}
}
