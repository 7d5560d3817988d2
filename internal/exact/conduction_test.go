package exact

import (
	"math"
	"math/cmplx"
	"testing"
)

const (
	hour = 3600.0
	day  = 24 * hour
)

// Carslaw and Jaeger (1959) 2.5 and 2.7 evaluated for k 1.5, rho 1800, c 1100 to five digits.
func TestSolidSteps(t *testing.T) {
	s := Solid{1.5, 1800, 1100}
	for _, c := range []struct {
		film, days, depth, want float64
	}{
		{0, 1, 0.1, 0.78225}, {0, 1, 0.3, 0.40702}, {0, 1, 0.5, 0.16699}, {0, 1, 1, 0.00571}, {0, 1, 2, 0},
		{0, 7, 0.1, 0.91680}, {0, 7, 0.3, 0.75398}, {0, 7, 0.5, 0.60145}, {0, 7, 1, 0.29619}, {0, 7, 2, 0.03668},
		{0, 30, 0.1, 0.95976}, {0, 30, 0.3, 0.87967}, {0, 30, 0.5, 0.80081}, {0, 30, 1, 0.61383}, {0, 30, 2, 0.31287},
		{10, 1, 0, 0.70910}, {10, 1, 0.1, 0.52585}, {10, 1, 0.3, 0.24574}, {10, 1, 0.5, 0.09079}, {10, 1, 1, 0.00244},
		{10, 7, 0, 0.87784}, {10, 7, 0.1, 0.79718}, {10, 7, 0.3, 0.64290}, {10, 7, 0.5, 0.50261}, {10, 7, 1, 0.23500},
	} {
		got := s.SurfaceStep(c.depth, c.days*day)
		if c.film > 0 {
			got = s.FilmStep(c.film, c.depth, c.days*day)
		}
		if off(got, c.want, 5.01e-6) {
			t.Errorf("film %g, %g d, %g m: %.6f, want %.5f", c.film, c.days, c.depth, got, c.want)
		}
	}
	for _, c := range [][2]float64{{1, 3.3079}, {7, 1.2503}, {30, 0.60393}} {
		if got := s.SurfaceStepFlow(c[0] * day); off(got, c[1], 5.1e-5) {
			t.Errorf("flow after %g d: %.5f W/m2, want %g", c[0], got, c[1])
		}
	}
}

// F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, the
// water main under soil at 20 °C whose surface is -15 °C for 60 days: 0.68 m to
// 0 °C (the book's figure from memory).
func TestSurfaceStepDepth_waterMain(t *testing.T) {
	s := Solid{0.52, 2050, 1840} // diffusivity 0.138e-6 m2/s
	if off(s.Diffusivity(), 0.138e-6, 0.0005e-6) {
		t.Fatalf("diffusivity %g", s.Diffusivity())
	}
	if got := s.SurfaceStepDepth(20./35, 60*day); off(got, 0.68, 0.005) {
		t.Errorf("%.4f m, want 0.68", got)
	}
}

// Laws: a strong film is a prescribed surface, no film lets nothing in, and
// nothing overflows for a thick film number.
func TestFilmStepLimits(t *testing.T) {
	s := Solid{1.5, 1800, 1100}
	for _, depth := range []float64{0, 0.1, 1} {
		if got, want := s.FilmStep(1e9, depth, day), s.SurfaceStep(depth, day); off(got, want, 1e-7) {
			t.Errorf("at %g m a strong film gives %g, want %g", depth, got, want)
		}
		if got := s.FilmStep(0, depth, day); off(got, 0, 1e-15) {
			t.Errorf("at %g m no film gives %g, want 0", depth, got)
		}
	}
}

// Abramowitz and Stegun (1964), table 7.1 and the series: exp(1) erfc(1) and the joint at 5.
func TestErfcx(t *testing.T) {
	if got := erfcx(1); off(got, 0.427583576155807, 1e-15) {
		t.Errorf("erfcx(1) = %.16g", got)
	}
	below, above := math.Exp(25)*math.Erfc(5), erfcx(5)
	if off(above/below, 1, 1e-13) {
		t.Errorf("erfcx(5) = %.16g by the fraction, %.16g by erfc", above, below)
	}
}

// The film step obeys the film's law: what the air gives is what the solid takes,
// by a central difference of the profile at the surface.
func TestFilmStepBoundary(t *testing.T) {
	s := Solid{1.5, 1800, 1100}
	const e, film = 1e-4, 10
	f0, f1, f2 := s.FilmStep(film, 0, day), s.FilmStep(film, e, day), s.FilmStep(film, 2*e, day)
	into := -s.Conductivity * (-3*f0 + 4*f1 - f2) / (2 * e)
	if off(into, film*(1-f0), 1e-5) {
		t.Errorf("the solid takes %g W/m2, the air gives %g", into, film*(1-f0))
	}
}

// Damping depths and lags for three soils, annual and daily; four digits (CJ 2.6).
func TestSurfaceWave(t *testing.T) {
	for _, c := range []struct{ a, annual, daily, lag float64 }{
		{0.0432, 2.240, 0.1173, 25.9},
		{0.0576, 2.587, 0.1354, 22.5},
		{0.0648, 2.744, 0.1436, 21.2},
	} {
		s := Solid{c.a / day, 1, 1} // k/(rho c) = a
		if got := s.DampingDepth(365 * day); off(got, c.annual, 5.01e-4) {
			t.Errorf("a %g: annual depth %.4f m, want %g", c.a, got, c.annual)
		}
		if got := s.DampingDepth(day); off(got, c.daily, 5.01e-5) {
			t.Errorf("a %g: daily depth %.5f m, want %g", c.a, got, c.daily)
		}
		amplitude, lag := s.SurfaceWave(1, 365*day)
		if off(lag/day, c.lag, 0.0501) || off(amplitude, math.Exp(-1/c.annual), 1e-4) {
			t.Errorf("a %g: %.4f after %.2f d, want %.1f d", c.a, amplitude, lag/day, c.lag)
		}
	}
}

// Diurnal heat capacities of slabs, closed form: Balcomb et al. (1980) theory,
// evaluated to a tenth of a Wh/(m2 K).
func TestSlabHeatCapacity(t *testing.T) {
	concrete, brick := Solid{1.73, 2243, 840}, Solid{0.72, 1920, 835}
	adobe, loam := Solid{0.57, 1700, 1000}, Solid{1.2, 2100, 1000}
	for _, c := range []struct {
		name     string
		solid    Solid
		mm, want float64
	}{
		{"concrete", concrete, 50, 26.1}, {"concrete", concrete, 100, 50.0}, {"concrete", concrete, 150, 64.5},
		{"concrete", concrete, 200, 67.0}, {"concrete", concrete, 300, 61.0}, {"concrete", concrete, 188, 67.4}, {"concrete", concrete, 1e5, 58.8},
		{"brick", brick, 50, 22.0}, {"brick", brick, 100, 37.7}, {"brick", brick, 150, 39.5}, {"brick", brick, 200, 36.8}, {"brick", brick, 300, 34.8}, {"brick", brick, 1e5, 35.0},
		{"adobe", adobe, 100, 36.2}, {"adobe", adobe, 200, 32.6}, {"adobe", adobe, 1e5, 32.1},
		{"moist loam", loam, 100, 52.2}, {"moist loam", loam, 200, 56.1}, {"moist loam", loam, 1e5, 51.7},
	} {
		got := Slab{c.solid, c.mm / 1000}.HeatCapacity(day) / 3600
		tol := 0.0501
		if c.mm == 188 {
			// Printed as the maximum, 0.3 % above the formula it is quoted with
			// (58.8 x 1.1431 = 67.2); the source asks for 0.5 %.
			tol = 0.005 * c.want
		}
		if off(got, c.want, tol) {
			t.Errorf("%s %g mm: %.3f Wh/(m2 K), want %.1f", c.name, c.mm, got, c.want)
		}
	}
}

// The formula as printed and the complex admittance are one, and a deep slab is a deep solid.
func TestSlabAgreesWithItself(t *testing.T) {
	s := Solid{1.73, 2243, 840}
	for _, thick := range []float64{0.01, 0.05, 0.2, 0.5} {
		slab := Slab{s, thick}
		x := thick / s.DampingDepth(day)
		printed := s.Effusivity() / math.Sqrt(2*math.Pi/day) *
			math.Sqrt((math.Cosh(2*x)-math.Cos(2*x))/(math.Cosh(2*x)+math.Cos(2*x)))
		if got := slab.HeatCapacity(day); off(got/printed, 1, 1e-12) {
			t.Errorf("%g m: %g, want %g J/(m2 K)", thick, got, printed)
		}
		if got := slab.Response(0, day); cmplx.Abs(got-1) > 1e-15 {
			t.Errorf("%g m: front response %v, want 1", thick, got)
		}
		// No heat through the back: the response is level there.
		e := thick * 1e-4
		if d := cmplx.Abs(slab.Response(thick, day)-slab.Response(thick-e, day)) / e; d > 1e-2 {
			t.Errorf("%g m: slope %g at the back", thick, d)
		}
	}
	amplitude, lag := s.SurfaceWave(0.3, day)
	r := Slab{s, 50}.Response(0.3, day)
	if off(cmplx.Abs(r), amplitude, 1e-12) || off(-cmplx.Phase(r)*day/(2*math.Pi), lag, 1e-6) {
		t.Errorf("a deep slab answers %v, a deep solid %g after %g s", r, amplitude, lag)
	}
}

// Kusuda and Achenbach (1965), three points for Tm 10, As 15, t0 35, a 0.0576 m2/d.
func TestGround(t *testing.T) {
	g := Ground{10, 15, 35, 0.0576}
	for _, c := range [][3]float64{{0, 35, -5}, {2, 35, 5.045}, {2, 182, 11.284}, {2, 305, 15.145}} {
		if got := g.Temperature(c[0], c[1]); off(got, c[2], 0.000501) {
			t.Errorf("%g m day %g: %.4f °C, want %.3f", c[0], c[1], got, c[2])
		}
	}
}

// A wall of 0.1 m insulation (0.04) and 0.2 m concrete (1.2), films of ISO 6946:
// R = 0.13 + 2.5 + 0.16667 + 0.04 by hand.
func TestWallSteady(t *testing.T) {
	w := Wall{0.13, []Layer{{0.1, 0.04}, {0.2, 1.2}}, 0.04}
	flow, faces := w.Steady(20, 0)
	if off(w.Resistance(), 2.8366666666666667, 1e-15) || off(flow, 7.0505287896592, 1e-12) {
		t.Errorf("R %g, flow %.13g", w.Resistance(), flow)
	}
	for i, want := range []float64{20 - 0.13*flow, 0.04*flow + 0.2/1.2*flow, 0.04 * flow} {
		if off(faces[i], want, 1e-13) {
			t.Errorf("face %d: %g °C, want %g", i, faces[i], want)
		}
	}
}

// ISO 10211:2017 case 1, first, second and last row as printed, one digit.
func TestHalfColumn(t *testing.T) {
	for row, line := range map[int][4]float64{1: {9.7, 13.4, 14.7, 15.1}, 2: {5.3, 8.6, 10.3, 10.8}, 7: {0.3, 0.6, 0.8, 0.9}} {
		for i, want := range line {
			// 5.25 is printed 5.3: half a digit and the rounding of the half.
			if got := HalfColumn(20, float64(i+1)/4, float64(row)/4); off(got, want, 0.0505) {
				t.Errorf("row %d column %d: %.4f °C, want %.1f", row, i+1, got, want)
			}
		}
	}
	// The centre of a square with one warm side of four has a quarter of its warmth.
	if got := HalfColumn(20, 1, 1); off(got, 5, 1e-13) {
		t.Errorf("centre %g °C, want 5", got)
	}
}
