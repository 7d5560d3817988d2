package pipes

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// By hand, 5 °C: mu is 1.50e-3 Pa s, so that 10 µm of quartz sink at 9.80665 (2650 - 999.7) 1e-10/(18 mu).
func TestStokesByHand(t *testing.T) {
	f := Water(5)
	want := 9.80665 * 1650.3 * 1e-10 / (18 * f.Viscosity)
	if got := f.Stokes(10e-6, 2650); math.Abs(got-want) > 1e-12 || math.Abs(got-6e-5) > 0.1e-5 {
		t.Errorf("10 µm sink at %g m/s, want %g, about 0.06 mm/s", got, want)
	}
	if f.Stokes(10e-6, 900) >= 0 || f.Sinks(10e-6, 900, DragGrain) != 0 {
		t.Error("what is lighter than water must not sink")
	}
}

// Small grains sink as Stokes has it, pebbles as turbulent drag alone: v² = 4 R g d/(3 C); never faster than either.
func TestSinksHasBothEnds(t *testing.T) {
	f := Water(5)
	small := f.Sinks(2e-6, 2650, DragGrain) / f.Stokes(2e-6, 2650)
	r := 2650/f.Density - 1
	large := f.Sinks(0.2, 2650, DragGrain) / math.Sqrt(4*r*gravity*0.2/3)
	if math.Abs(small-1) > 0.005 || math.Abs(large-1) > 0.005 {
		t.Errorf("of Stokes' %g, of turbulent drag's %g", small, large)
	}
	rapid.Check(t, func(t *rapid.T) {
		d, rho := rapid.Float64Range(1e-6, 1e-2).Draw(t, "d"), rapid.Float64Range(1010, 3000).Draw(t, "rho")
		v := f.Sinks(d, rho, DragGrain)
		if v > f.Stokes(d, rho)*(1+1e-12) || f.Sinks(1.01*d, rho, DragGrain) <= v || f.Sinks(d, rho+10, DragGrain) <= v || Water(20).Sinks(d, rho, DragGrain) < v {
			t.Errorf("%g m/s is faster than Stokes, or not faster for larger, heavier, warmer", v)
		}
		if back := f.SinksAt(v, rho); math.Abs(back-d) > 1e-6*d {
			t.Errorf("%g m sinks at %g, which %g m does", d, v, back)
		}
		a, q := rapid.Float64Range(0.1, 3).Draw(t, "a"), rapid.Float64Range(1e-6, 1e-2).Draw(t, "q")
		if c := Caught(v, a, q); c < 0 || c > 1 || Caught(v, a, 2*q) > c || Caught(v, 2*a, q) < c {
			t.Errorf("%g caught; more flow must never catch more, more surface never less", c)
		}
	})
	if Caught(1e-3, 0.2, 4e-4) != 0.5 || Caught(1e-3, 0.2, 1e-4) != 1 || Caught(0, 1, 0) != 1 || !math.IsInf(f.SinksAt(100, 2650), 1) {
		t.Error("by hand: v A/Q")
	}
}
