package exact

import (
	"math"
	"math/cmplx"
	"testing"
)

// Dry sand upon loam upon wet clay; the figures are of the usual size, invented.
var layered = Layered{
	Sheets: []Slab{{Solid{0.4, 1500, 900}, 0.4}, {Solid{1.2, 1800, 1300}, 1.1}},
	Deep:   Solid{1.6, 1900, 1500},
}

// The response is what Carslaw and Jaeger's matrices of section 3.7 give, multiplied out as they stand: (T, f) above a sheet is
// its matrix times (T, f) below, with f = k g T in the deep solid.
func TestLayeredIsTheProductOfMatrices(t *testing.T) {
	for _, period := range []float64{day, 30 * day, 365 * day} {
		below := [2]complex128{1, complex(layered.Deep.Conductivity, 0) * layered.Deep.wave(period)}
		for i := len(layered.Sheets) - 1; i >= 0; i-- {
			s := layered.Sheets[i]
			g := s.wave(period)
			kg, u := complex(s.Conductivity, 0)*g, g*complex(s.Thickness, 0)
			below = [2]complex128{
				cmplx.Cosh(u)*below[0] + cmplx.Sinh(u)/kg*below[1],
				kg*cmplx.Sinh(u)*below[0] + cmplx.Cosh(u)*below[1],
			}
		}
		if got, want := layered.Response(1.5, period), 1/below[0]; cmplx.Abs(got-want) > 1e-13 {
			t.Errorf("%.0f d, foot of the sheets: %v, matrices %v", period/day, got, want)
		}
		if got, want := layered.Admittance(period), below[1]/below[0]; cmplx.Abs(got/want-1) > 1e-12 {
			t.Errorf("%.0f d, admittance: %v, matrices %v", period/day, got, want)
		}
	}
}

// One solid cut into sheets answers as that solid, for the wave and for the ripple.
func TestLayeredOfOneSolid(t *testing.T) {
	one := Solid{1.2, 1800, 1300}
	l := Layered{Sheets: []Slab{{one, 0.3}, {one, 0.5}}, Deep: one}
	for _, depth := range []float64{0, 0.2, 0.3, 0.7, 0.8, 3} {
		amplitude, lag := one.SurfaceWave(depth, 365*day)
		want := cmplx.Rect(amplitude, -2*math.Pi*lag/(365*day))
		if got := l.Response(depth, 365*day); cmplx.Abs(got-want) > 1e-14 {
			t.Errorf("%g m: %v, want %v", depth, got, want)
		}
		if got, want := l.Ripple(depth, 2), math.Exp(-2*depth); off(got, want, 1e-14) {
			t.Errorf("ripple at %g m: %g, want %g", depth, got, want)
		}
	}
}

// Upon a solid that conducts next to nothing a sheet answers as the slab with an insulated back, section 3.6.
func TestLayeredUponNothing(t *testing.T) {
	s := Slab{Solid{1.2, 1800, 1300}, 0.6}
	l := Layered{Sheets: []Slab{s}, Deep: Solid{1e-12, 1, 1}}
	for _, depth := range []float64{0, 0.2, 0.6} {
		if got, want := l.Response(depth, 10*day), s.Response(depth, 10*day); cmplx.Abs(got-want) > 1e-6 {
			t.Errorf("%g m: %v, want %v", depth, got, want)
		}
	}
}

// Heat that leaves one sheet enters the next: k dT/dx by one-sided differences on both sides of an edge.
func TestLayeredFlowIsContinuous(t *testing.T) {
	const h = 1e-5
	for _, of := range []func(float64) complex128{
		func(x float64) complex128 { return layered.Response(x, 365*day) },
		func(x float64) complex128 { return complex(layered.Ripple(x, 1.3), 0) },
	} {
		above := complex(0.4, 0) * (3*of(0.4) - 4*of(0.4-h) + of(0.4-2*h)) / complex(2*h, 0)
		below := complex(1.2, 0) * (-3*of(0.4) + 4*of(0.4+h) - of(0.4+2*h)) / complex(2*h, 0)
		if cmplx.Abs(above/below-1) > 1e-5 {
			t.Errorf("at 0.4 m %v flows above, %v below", above, below)
		}
	}
}
