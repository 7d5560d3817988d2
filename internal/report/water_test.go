package report

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// waterPlan is Larch Hollow with the usual scheme on its one row, and whatever changes are given.
func waterPlan(t *testing.T, changes ...string) *plan.Plan {
	t.Helper()
	list := []plan.Change{}
	for _, text := range append([]string{`water={catchments: [{name: front, area: 40 m2, eave_height: 2.4 m}], manifolds: [{row: back drums}], inlet: {mouth: flap}, overflow: {to: floor}, use_a_day: [3 L, 3 L, 20 L, 30 L, 30 L, 30 L, 30 L, 30 L, 20 L, 9 L, 3 L, 3 L]}`}, changes...) {
		c, err := plan.ParseChange(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, c)
	}
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	return p
}

// watered is what its water comes to.
func watered(t *testing.T, changes ...string) *water.Answer {
	t.Helper()
	a, err := water.Run(context.Background(), water.Request{Plan: waterPlan(t, changes...), Years: 2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Each kind of finding has words, with its height and a pump where one would help.
func TestWaterFindingsHaveWords(t *testing.T) {
	a := watered(t)
	for kind, want := range map[water.Kind]string{
		water.Uphill:  "On the way of W water cannot get past the N, which lies 0.25 m higher than the water before it can stand. A pump would have to lift it by 0.50 m, and takes 4.5 Wh for 1000 L (30 % of its power in the water).",
		water.RoofLow: "W lies too low: its water can fill the drums to 0.25 m below their overflow and no higher. A pump would have to lift it by 0.50 m", water.Spills: "N and 2 more, rim 0.25 m below the overflow",
		water.NeverFills: "N and 2 more, bottom 0.25 m above the overflow", water.NotFed: "N and 2 more: no water comes", water.OverflowOff: "no open pipe leads to N",
		water.InletShut: "no rain comes in", water.DripShut: "The drip line N is shut", water.DripUnfed: "The drip line N gets nothing", water.OverWater: "N lies 0.25 m above the water", water.DeadWater: "lowest 0.25 m of the water cannot reach it: 40 L stay",
	} {
		f := water.Finding{Kind: kind, Name: "N", Way: "W", HeightM: 0.25, LiftM: 0.5, LiftJ: 999.7 * 9.80665 * 0.5 / 0.3, VolumeM3: 0.04, Drums: 3}
		if got := (Teller{}).waterFinding(a, &f); !strings.Contains(got, want) {
			t.Errorf("%s: %q", kind, got)
		}
		if hint := waterHint(&f); !strings.HasSuffix(hint, ".") {
			t.Errorf("%s: hint %q", kind, hint)
		}
	}
	f := water.Finding{Kind: water.RoofLow, Way: "W", HeightM: 0.3048, LiftM: 0.3048, LiftJ: 1e4}
	if got := (Teller{System: unit.US}).waterFinding(a, &f); !strings.Contains(got, "1 ft") || !strings.Contains(got, "for 100 gal") {
		t.Errorf("in US units: %q", got)
	}
}

// A scheme that runs is not said to be without fail, and one that does not run says so first.
func TestWaterFirstSentence(t *testing.T) {
	runs := Teller{}.Water(watered(t))
	for _, want := range []string{"The water runs by gravity", "Filling", "How many drums", "not drinking water", "ladder", "Assumed, since the plan says nothing", "water.gutter.width: 125 mm (common practice, no source)", "dry as a whole come too seldom"} {
		if !strings.Contains(runs, want) {
			t.Errorf("%q is missing in\n%s", want, runs)
		}
	}
	low := Teller{}.Water(watered(t, "water.catchments[0].eave_height=0.3 m"))
	for _, want := range []string{"The water does not run as planned. Front lies too low", "residual-current"} {
		if !strings.Contains(strings.ReplaceAll(low, "\n", " "), want) {
			t.Errorf("%q is missing in\n%s", want, low)
		}
	}
}

// JSON holds the same in SI, whatever comes of it.
func TestWaterJSON(t *testing.T) {
	for _, changes := range [][]string{nil, {"water.catchments[0].eave_height=-3 m"}, {"water.valves=[{name: v, on: inlet, state: shut}]"}, {"water.use_a_day=none"}} {
		a := watered(t, changes...)
		var b bytes.Buffer
		if err := WaterJSON(&b, a); err != nil {
			t.Fatalf("%v: %v", changes, err)
		}
		var out waterAnswerJSON
		if err := json.Unmarshal(b.Bytes(), &out); err != nil {
			t.Fatalf("%v: %v", changes, err)
		}
		if len(out.Care) != len(a.Care) || len(out.Freezing.Parts) != len(a.Freezing.Parts) || (out.Settled == nil) != (a.Settled == nil) {
			t.Errorf("%v: %+v", changes, out)
		}
		if out.Schema.Name != "suncellar.water" || len(out.Pipes) != len(a.Scheme.Pipes)+1 || len(out.Rain.Months) != 12 || len(out.Vessels) != len(a.Scheme.Vessels) {
			t.Errorf("%v: %+v", changes, out)
		}
		if (out.Filling.FillS == nil) != (len(a.Fill.Pipes) == 0) {
			t.Errorf("%v: time to fill %v with %d pipes", changes, out.Filling.FillS, len(a.Fill.Pipes))
		}
	}
}
