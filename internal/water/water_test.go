package water

import (
	"context"
	"math"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// wet is an invented pit, 6 by 4 m and 1.2 m deep, with a back roof of 12 m² as seen from above, its eave at 1.3 m; six drums on its floor, in one row.
const wet = `
suncellar: 1
name: wet pit
site: {latitude: 46 deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC+0}
builds:
  wall: {layers: [{material: concrete poured, thickness: 200 mm}]}
  thin: {r_value: 2 m2K/W}
shape: {kind: pit, length: 6 m, width: 4 m, depth: 1.2 m, front_height: 0.3 m, back_height: 1.3 m, glazing_slope: 45 deg, back_roof_slope: 26.565051177077990 deg,
  glazing: twin_wall_10mm, front_wall: wall, back_wall: wall, back_roof: thin, floor: thin}
ends: {build: thin}
beds: [{name: bed, from: 0.2 m, to: 1.4 m, level: 0.1 m}]
store: {rows: [{name: back, drums: 6, bays: 2, at: 3.6 m, base: 0.6 m, fill: 90 %}]}
water:
  catchments: [{name: roof, of: back roof}]
  inlet: {mouth: flap}
  manifolds: [{row: back}]
  overflow: {to: floor}
  drip_lines: [{name: line, bed: bed, length: 5 m, spacing: 50 cm}]
  use_a_day: [5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L, 5 L]
`

func read(t testing.TB, text string, changes ...string) *plan.Plan {
	t.Helper()
	known := house.Known()
	known.Weather = true
	var list []plan.Change
	for _, c := range changes {
		change, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, change)
	}
	p, findings := plan.Load("test.yaml", []byte(text), known, list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	return p
}

func run(t testing.TB, text string, changes ...string) *Answer {
	t.Helper()
	a, err := Run(context.Background(), Request{Plan: read(t, text, changes...)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func near(t *testing.T, what string, got, want, allowed float64) {
	t.Helper()
	if !(math.Abs(got-want) <= allowed) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, allowed)
	}
}

// The water of the pit runs: levels follow from base, fill and bed by hand.
func TestItRuns(t *testing.T) {
	a := run(t, wet)
	for _, p := range a.Paths {
		if p.Broken >= 0 {
			t.Errorf("%s breaks at %s by %g m", p.Name, p.Stations[p.Broken].Name, p.ShortM)
		}
	}
	if len(a.Findings) != 0 {
		t.Errorf("findings %+v", a.Findings)
	}
	bottom := -1.2 + 0.6
	near(t, "full", a.Levels.FullZ, bottom+0.9*0.87, 1e-12)
	near(t, "water", a.Levels.FullM3, 6*0.208*0.9, 1e-12)
	near(t, "lowest", a.Levels.LowestZ, bottom+0.05, 1e-12) // the branches; the drippers lie lower, at -1.1 m
	near(t, "usable", a.Levels.UsableM3, 6*0.208*(0.9-0.05/0.87), 1e-12)
	near(t, "time to fill at 25 mm/h, h", a.Fill.FillS/3600, 6*0.208*0.9/(12*0.9*0.025), 1e-9)
	if a.Rain != nil || !strings.Contains(a.NoRain, "no climate") {
		t.Errorf("rain %v, %q", a.Rain, a.NoRain)
	}
}

// Drippers give so little that the head at each is nearly that of still water; it falls with the water and along the line.
func TestDripHeads(t *testing.T) {
	a := run(t, wet)
	if len(a.Drips) != 3 {
		t.Fatalf("%d states", len(a.Drips))
	}
	for i, want := range []float64{a.Levels.FullZ, (a.Levels.FullZ + a.Levels.LowestZ) / 2, a.Levels.LowestZ + 0.1*(a.Levels.FullZ-a.Levels.LowestZ)} {
		s := a.Drips[i]
		near(t, s.Name, s.Z, want, 1e-9)
		line := s.Lines[0]
		near(t, "head at the first", line.Heads[0], s.Z+1.1, 0.002)
		sum := 0.0
		for k, q := range line.Flows {
			sum += q
			near(t, "flow by the law of the dripper, L/h", q*3.6e6, 2*math.Sqrt(line.Heads[k]/10), 1e-4)
		}
		near(t, "all", line.FlowM3S, sum, 1e-12)
		if len(line.Flows) != 10 || line.Evenness < 0.88 || line.Evenness > 1-1.27*0.07 || line.Dry != 0 {
			t.Errorf("%s: %+v", s.Name, line)
		}
	}
	two := run(t, wet, "water.drip_lines[0].lines=2").Drips[0].Lines[0]
	near(t, "two lines give twice as much", two.FlowM3S/a.Drips[0].Lines[0].FlowM3S, 2, 0.01)
}

// Every way that does not run is named at its first break, with how much is lacking, and its place in the plan.
func TestFindings(t *testing.T) {
	full := -1.2 + 0.6 + 0.9*0.87
	gutter := 1.3 - 0.06 - 0.005*6
	for _, c := range []struct {
		changes []string
		kind    Kind
		path    string
		name    string
		height  float64
		stops   bool
	}{
		{[]string{"water.catchments[0].eave_height=0.15 m", "water.inlet.end=0.1 m"}, Uphill, "water.inlet", "end of the inlet", 0.1 - (0.15 - 0.09), true},
		{[]string{"water.catchments[0].eave_height=-2 m"}, RoofLow, "water.overflow", "overflow of back, drum 6", full - (-2 - 0.09), true},
		{[]string{"water.catchments[0].eave_height=0.2 m"}, RoofLow, "water.overflow", "overflow of back, drum 6", full - (0.2 - 0.09), true},
		{[]string{"water.inlet.highest=1.5 m"}, Uphill, "water.inlet.highest", "highest place of the inlet", 1.5 - gutter, true},
		{[]string{"water.settling_drum={base: 0.8 m, outlet: 1.5 m}"}, Uphill, "water.settling_drum.outlet", "outlet of the settling drum", 1.5 - gutter, true},
		{[]string{"water.overflow.to=outside", "water.overflow.end=0.5 m"}, Uphill, "water.overflow.end", "end of the overflow", 0.5 - full, true},
		{[]string{"water.drip_lines[0].height=0.4 m"}, Uphill, "water.drip_lines[0]", "emitters of line", 0.4 - full, true},
		{[]string{"water.valves=[{name: v, on: line, state: shut}]"}, DripShut, "water.valves", "line", 0, false},
		{[]string{"water.valves=[{name: v, on: inlet, state: shut}]"}, InletShut, "water.valves", "", 0, true},
		{[]string{"water.valves=[{name: v, on: overflow, state: shut}]"}, OverflowOff, "water.overflow", "back, drum 6", 0, true},
		{[]string{"water.valves=[{name: v, on: 'back, bay 2', state: shut}]"}, NotFed, "water.valves", "back, drum 4", 0, false},
		{[]string{"water.valves=[{name: v, on: 'back, bay 2', state: shut}]"}, DripUnfed, "water.drip_lines[0]", "line", 0, true},
		{[]string{"beds[0].level=0.9 m"}, DeadWater, "water.drip_lines[0]", "line", 0.9 + 0.05 - 0.65, false},
		{[]string{"store.rows[1]={name: high, drums: 1, at: 2.6 m, base: 1.6 m}", "water.overflow.from=back, drum 6", "water.manifolds[1]={row: high}"}, NeverFills, "store.rows[1]", "high, drum 1", 0.4 - full, false},
		{[]string{"store.rows[1]={name: low, drums: 1, at: 2.6 m}", "water.overflow.from=back, drum 6", "water.manifolds[1]={row: low}"}, Spills, "store.rows[1]", "low, drum 1", full - (-1.2 + 0.87), false},
	} {
		a := run(t, wet, c.changes...)
		found := false
		for _, f := range a.Findings {
			if f.Kind == c.kind && f.Name == c.name && f.Path == c.path {
				found = true
				near(t, strings.Join(c.changes, ", "), f.HeightM, c.height, 1e-9)
				if f.Stops != c.stops || f.Line == 0 && f.File == "" {
					t.Errorf("%v: %+v", c.changes, f)
				}
			}
		}
		if !found {
			t.Errorf("%v: %+v", c.changes, a.Findings)
		}
	}
}

// A roof that is too low tells the lift, and the watt-hours of 1000 L by rho g h over the efficiency.
func TestLift(t *testing.T) {
	a := run(t, wet, "water.catchments[0].eave_height=0.2 m", "water.pump_efficiency=25 %")
	f := a.Findings[0]
	near(t, "lift", f.LiftM, f.HeightM, 0)
	near(t, "Wh", f.LiftJ/3600, 999.7*9.80665*f.LiftM/0.25/3600, 1e-9)
	near(t, "the drums fill as high as the gutter", a.Levels.FullZ, 0.2-0.09, 1e-12)
}

// What a part lets through rises with its size, and the narrowest is told first.
func TestLimits(t *testing.T) {
	a := run(t, wet)
	for i := 1; i < len(a.Fill.Limits); i++ {
		if a.Fill.Limits[i].RainMS < a.Fill.Limits[i-1].RainMS {
			t.Errorf("not in order: %+v", a.Fill.Limits)
		}
	}
	limit := func(a *Answer, part Part) float64 {
		for _, l := range a.Fill.Limits {
			if l.Part == part {
				return l.FlowM3S
			}
		}
		t.Fatalf("no limit of the %s", part)
		return 0
	}
	near(t, "gutter of 125 mm, L/s", 1000*limit(a, GutterPart), 0.9*2.78e-5*math.Pow(math.Pi/8*125*125, 1.25), 1e-9)
	near(t, "its outlet of 63 mm, L/s", 1000*limit(a, OutletPart), 1000*0.62*math.Pi/4*0.063*0.063*math.Sqrt(2*9.80665*0.0625), 1e-9)
	for part, change := range map[Part]string{InletPart: "water.inlet.diameter=25 mm", OverflowPart: "water.overflow.diameter=25 mm", ManifoldPart: "water.manifolds[0].diameter=12 mm"} {
		if small := run(t, wet, change); limit(small, part) >= 0.5*limit(a, part) {
			t.Errorf("%s: %g m³/s, %g with %s", part, limit(a, part), limit(small, part), change)
		}
	}
}

// While it fills, each drum takes its share: along the manifold the flow falls by a sixth at each.
func TestFilling(t *testing.T) {
	a := run(t, wet)
	q := 12 * 0.9 * UsualRainMS
	near(t, "caught", a.Fill.CaughtM3S, q, 1e-15)
	want := map[string]float64{"inlet": q, "branch to back, drum 1": -q * 5 / 6, "back, to back, drum 2": q * 5 / 6, "back, to back, drum 6": q / 6, "branch to back, drum 4": q / 6}
	for _, p := range a.Fill.Pipes {
		if w, ok := want[p.Name]; ok {
			near(t, p.Name, p.FlowM3S, w, 1e-9)
			delete(want, p.Name)
		}
	}
	if len(want) > 0 || a.Fill.UnevenM <= 0 || a.Fill.UnevenM > 0.1 {
		t.Errorf("missing %v; uneven by %g m", want, a.Fill.UnevenM)
	}
}

func TestNoWater(t *testing.T) {
	p := read(t, wet[:strings.Index(wet, "water:")])
	if _, err := Run(context.Background(), Request{Plan: p}, nil); err == nil || !strings.Contains(err.Error(), "no key water") {
		t.Errorf("error %v", err)
	}
}
