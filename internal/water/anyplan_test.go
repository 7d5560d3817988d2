package water

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// choices are changes of the wet pit, of which any number may be made together: some cannot be built, some do not run.
var choices = []string{
	"water.catchments[0].eave_height=-2 m", "water.catchments[0].eave_height=0 m", "water.catchments[0].snow=slides off", "water.catchments[1]={name: front, of: glazing, surface: glass}",
	"water.catchments[1]={name: shed, area: 30 m2, eave_height: 3 m, slope: 40 deg}", "water.gutter.form=box", "water.gutter.fall=5 %", "water.gutter.outlet=10 mm",
	"water.first_flush={}", "water.first_flush={volume: 0 L}", "water.settling_drum={base: 0 m, outlet: 0.5 m}", "water.settling_drum={base: -1.2 m, outlet: -1 m, stands: inside}",
	"water.inlet.mouth=one-way valve", "water.inlet.end=-1 m", "water.inlet.highest=0.5 m", "water.inlet.diameter=5 mm", "water.manifolds[0].from=right", "water.manifolds[0].height=0.1 m",
	"water.manifolds[0].diameter=4 mm", "store.rows[0].drums=1", "store.rows[0].bays=1", "store.rows[0].tiers=2", "store.rows[0].fill=0 %", "store.rows[0].fill=100 %", "store.rows[0].base=0 m",
	"store.rows[1]={name: side, drums: 3, at: 2.4 m, base: 1 m}", "water.manifolds[1]={row: side, from: right}", "store.rows[1]={name: side, drums: 2, tiers: 2, bays: 1, at: 2.4 m}",
	"water.overflow.height=-0.6 m", "water.overflow.height=0.27 m", "water.overflow.end=-1.2 m", "water.overflow.to=outside", "water.overflow.from=back, drum 1", "water.overflow.diameter=5 mm",
	"water.valves=[{name: v, on: 'back, bay 2', state: shut}]", "water.valves=[{name: v, on: inlet, state: shut, kind: globe}]", "water.valves=[{name: v, on: overflow, state: shut}, {name: u, on: line, kind: gate}]",
	"water.drip_lines[0].lines=20", "water.drip_lines[0].height=2 m", "water.drip_lines[0].height=-0.1 m", "water.drip_lines[0].diameter=3 mm", "water.drip_lines[0].emitter.exponent=0", "water.drip_lines[0].emitter.exponent=1",
	"water.drip_lines[0].spacing=5 cm", "water.drip_lines[0].emitter.flow=100 L/h", "water.drip_lines[0].from=back, drum 1", "water.drip_lines=[]", "water.draw_off=-3 m", "water.draw_off=1 m",
	"water.use_a_day=none", "water.keep=[{volume: 5000 L, from: 06-01, until: 05-31}]",
	"water.points=[{name: tee, height: -0.5 m}, {name: high, height: 2 m}]", "water.pipes=[{name: a, from: 'back, drum 1', to: tee, diameter: 20 mm, length: 1 m}, {name: b, from: tee, to: 'back, drum 5', to_height: 0.1 m, diameter: 20 mm, length: 1 m}]",
	"water.pipes=[{name: a, from: inlet, to: tee, diameter: 20 mm, length: 1 m}, {name: b, from: tee, to: high, diameter: 20 mm, length: 1 m}, {name: c, from: high, to: 'back, drum 2', diameter: 20 mm, length: 1 m}]",
	"water.pipes=[{name: a, from: inlet, to: 'back, drum 4', diameter: 20 mm, length: 1 m}]", "water.manifolds=[]",
}

// Whatever a plan says of its water, it is refused or answered; every figure is a number, and the books close.
func TestAnyPlanIsAnswered(t *testing.T) {
	answered := 0
	rapid.Check(t, func(r *rapid.T) {
		var list []plan.Change
		for _, text := range rapid.SliceOfNDistinct(rapid.SampledFrom(choices), 0, 7, rapid.ID).Draw(r, "changes") {
			c, err := plan.ParseChange(text)
			if err != nil {
				r.Fatal(err)
			}
			list = append(list, c)
		}
		known := house.Known()
		known.Weather = true
		p, findings := plan.Load("test.yaml", []byte(wet), known, list...)
		if plan.Failed(findings) {
			return
		}
		if _, bad := house.Resolve(p); plan.Failed(bad) {
			return
		}
		a, err := Run(context.Background(), Request{Plan: p}, nil)
		if err != nil {
			r.Fatal(err)
		}
		answered++
		a.Rain = a.balance(steady(400, 1.5))
		a.Settled = a.settle()
		frosty(a, -5, -1, 1, -0.02)
		for what, v := range map[string]float64{"full": a.Levels.FullZ, "water": a.Levels.FullM3, "usable": a.Levels.UsableM3, "caught": a.Fill.CaughtM3S, "uneven": a.Fill.UnevenM,
			"reliability": a.Rain.Reliability(), "given": a.Rain.Given, "spilled": a.Rain.Spilled, "open": a.Rain.Open} {
			if math.IsNaN(v) || math.IsInf(v, 0) || strings.Contains("water caught given spilled reliability", what) && v < 0 {
				r.Errorf("%s is %g", what, v)
			}
		}
		if math.Abs(a.Rain.Open) > 1e-6 {
			r.Errorf("%g m³ are open", a.Rain.Open)
		}
		for _, p := range a.Freezing.Parts {
			if !(p.MostIce >= 0 && p.MostIce <= 1) || !(p.LowestC >= 0) || p.Outside && p.First.IsZero() {
				r.Errorf("%+v", p)
			}
		}
		for _, l := range a.Fill.Limits {
			if math.IsNaN(l.RainMS) || l.RainMS < 0 {
				r.Errorf("limit %+v", l)
			}
		}
		for _, s := range a.Drips {
			for _, l := range s.Lines {
				if !(l.Evenness >= 0 && l.Evenness <= 1) || math.IsNaN(l.FlowM3S) || l.FlowM3S < 0 {
					r.Errorf("%s: %+v", s.Name, l)
				}
			}
		}
	})
	t.Logf("%d plans were answered", answered)
	if answered < 10 {
		t.Errorf("only %d plans were answered", answered)
	}
}
