package water

import (
	"math"
	"testing"

	"suncellar/internal/pipes"

	"pgregory.net/rapid"
)

const settlingDrum = "water.settling_drum={base: -0.2 m, outlet: 0.5 m}"

// By hand: 12 m² of roof at 0.9 and 25 mm/h are 7.5e-5 m³/s over 0.208/0.87 m²; mud of 120 mg/L in a year with 3 m³ is 0.36 kg, at 416 kg/m³.
func TestSettlingByHand(t *testing.T) {
	a := run(t, wet, settlingDrum)
	a.Rain = &Balance{Years: 2, Caught: 6}
	s := a.settle()
	area := 0.208 / 0.87
	near(t, "surface", s.AreaM2, area, 1e-9)
	near(t, "room", s.DepthM, 0.7, 1e-9)
	near(t, "room for mud over a drain at 5 cm", s.MudM, 0.30, 1e-9)
	near(t, "mud of a year", s.Mud[1].DepthM, 3*0.120/416/area, 1e-9)
	near(t, "years", s.Mud[1].Years, 0.30/(3*0.120/416/area), 1e-9)
	r := s.Rains[1]
	near(t, "overflow rate", r.RateMS, 12*0.9*25e-3/3600/area, 1e-12)
	f := pipes.Water(5)
	near(t, "share of fine silt", r.Shares[3], f.Stokes(10e-6, 2650)/r.RateMS, 0.01*r.Shares[3])
	near(t, "the smallest sinks as fast", f.Sinks(r.SmallestM, 2650, pipes.DragGrain), r.RateMS, 1e-9*r.RateMS)
	if !s.Drum || len(s.Rains) != 3 || s.Rains[0].RainMS >= s.Rains[1].RainMS {
		t.Errorf("%+v", s)
	}
}

// A drain too high leaves no room; without a settling drum the first drum is it, with its pipe 5 cm over its bottom; no rain, nothing.
func TestSettlingElsewhere(t *testing.T) {
	s := run(t, wet, "water.settling_drum={base: -0.2 m, outlet: 0.5 m, drain: 0.2 m}").Settled
	near(t, "no room", s.MudM, 0, 0)
	s = run(t, wet).Settled
	if s.Drum || s.Name != "back, drum 1" || s.InflowM3 != 0 || !math.IsInf(s.Mud[0].Years, 1) {
		t.Errorf("%+v", s)
	}
	near(t, "room under the manifold", s.DepthM, 0.05, 1e-9)
	if dry := run(t, wet, "water.catchments[0].eave_height=-3 m").Settled; dry != nil {
		t.Errorf("%+v", dry)
	}
}

// More rain never catches more, and what is heavier or larger is never caught less.
func TestMoreFlowNeverCatchesMore(t *testing.T) {
	a := run(t, wet, settlingDrum)
	rapid.Check(t, func(r *rapid.T) {
		rain := rapid.Float64Range(1e-8, 3e-5).Draw(r, "rain")
		s := a.basin()
		one, more := s.settles(rain, a.caughtAt(rain)), s.settles(1.3*rain, a.caughtAt(1.3*rain))
		if more.SmallestM < one.SmallestM || one.Shares[0] < one.Shares[1] || one.Shares[1] < one.Shares[3] || one.Shares[3] < one.Shares[4] {
			r.Errorf("%+v, %+v", one, more)
		}
		for i := range one.Shares {
			if more.Shares[i] > one.Shares[i] || one.Shares[i] < 0 || one.Shares[i] > 1 {
				r.Errorf("%s: %g, with more rain %g", Particles[i].Name, one.Shares[i], more.Shares[i])
			}
		}
	})
	near(t, "at the rain asked for as filling has it", a.caughtAt(a.RainMS), a.Fill.CaughtM3S, 1e-15)
}
