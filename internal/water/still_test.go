package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A pipe of 50 mm whose wall resists nothing: R = 1/(pi D h), so that by hand tau = rho c D/(4 h), and Plank's time is rho L/dT (D/(4 h) + D²/(16 k)).
func TestStillByHand(t *testing.T) {
	s := Still{Diameter: 0.05, Wall: 1e-12, WallWMK: 1e6, FilmWM2K: 20}
	near(t, "tau", s.tau(), 999.7*4192*0.05/80, 1e-3)
	near(t, "from 5 to 0 °C in air of -5 °C", s.CoolsS(5, 0, -5), s.tau()*math.Ln2, 1e-6)
	plank := 999.7 * 333.6e3 / 10 * (0.05/80 + 0.0025/(16*2.2))
	near(t, "solid in air of -10 °C", s.FreezesS(1, -10), plank, 1e-3*plank)
	if !math.IsInf(s.CoolsS(5, 0, 1), 1) || !math.IsInf(s.FreezesS(0.1, 0), 1) || s.CoolsS(0, 0, -3) != 0 {
		t.Error("water in air above freezing does not freeze, and water of 0 °C need not cool")
	}
}

// Hour by hour in steady air comes to the closed forms, however the time is cut.
func TestStillStepsAreExact(t *testing.T) {
	s := Still{0.032, 0.002, 0.4, 10}
	const air = -4.0
	cool, solid := s.CoolsS(6, 0, air), s.FreezesS(1, air)
	for _, step := range []float64{60, 3600, 7000} {
		at, first, full := Cold{C: 6}, 0.0, 0.0
		for k := 1; full == 0 && k < 1e6; k++ {
			at = s.After(at, air, step)
			if at.Ice > 0 && first == 0 {
				first = float64(k) * step
			}
			if at.Ice >= 1 {
				full = float64(k) * step
			}
		}
		if first < cool || first > cool+step || full < cool+solid-1 || full > cool+solid+step {
			t.Errorf("steps of %g s: ice after %g s, solid after %g; exact %g and %g", step, first, full, cool, cool+solid)
		}
	}
	half := s.After(Cold{C: 0}, air, s.FreezesS(0.5, air))
	near(t, "half of it", half.Ice, 0.5, 1e-9)
	back := s.After(half, 4, s.FreezesS(0.5, air)+s.tau())
	near(t, "thawed, then warmed for tau", back.C, 4*(1-math.Exp(-1)), 1e-6)
	near(t, "no ice is left", back.Ice, 0, 0)
}

// Colder air never freezes later, a thicker pipe never sooner, and more resistance never sooner.
func TestStillIsMonotonic(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := Still{rapid.Float64Range(0.01, 0.6).Draw(r, "bore"), 0.002, 0.4, rapid.Float64Range(5, 30).Draw(r, "film")}
		air, at := rapid.SliceOfN(rapid.Float64Range(-20, 6), 1, 60).Draw(r, "air"), Cold{C: 4}
		cold := at
		bigger, lagged := s, s
		bigger.Diameter *= 1.5
		lagged.FilmWM2K *= 0.7
		for _, c := range air {
			at, cold = s.After(at, c, 3600), s.After(cold, c-1, 3600)
			if at.Ice < 0 || at.Ice > 1 || at.C < 0 || at.Ice > 0 && at.C != 0 || math.IsNaN(at.C+at.Ice) {
				r.Fatalf("%+v", at)
			}
			if cold.Ice < at.Ice-1e-9 || cold.C > at.C+1e-9 {
				r.Fatalf("a kelvin colder: %+v, %+v", cold, at)
			}
		}
		c := rapid.Float64Range(-30, -0.1).Draw(r, "steady")
		for _, other := range []Still{bigger, lagged} {
			if other.CoolsS(4, 0, c) < s.CoolsS(4, 0, c) || other.FreezesS(1, c) < s.FreezesS(1, c) || other.FreezesS(0.1, c) < s.FreezesS(0.1, c) {
				r.Errorf("%+v freezes sooner than %+v", other, s)
			}
		}
	})
}
