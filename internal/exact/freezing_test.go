package exact

import (
	"math"
	"testing"
)

// Standard table of Stefan's root, five digits.
func TestStefanRoot(t *testing.T) {
	for _, c := range [][2]float64{{0.05, 0.15682}, {0.1, 0.22002}, {0.125, 0.24503}, {0.2, 0.30642}, {0.5, 0.46479}, {1, 0.62006}} {
		if got, err := StefanRoot(c[0]); err != nil || off(got, c[1], 5.01e-6) {
			t.Errorf("St %g: %.6f, %v, want %.5f", c[0], got, err, c[1])
		}
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := StefanRoot(bad); err == nil {
			t.Errorf("St %g was accepted", bad)
		}
	}
}

// Ice on water at 0 °C under a surface at -10 °C (k 2.22, rho 917, c 2100, 334
// kJ/kg): CJ 11.2 and the quasi-steady front, five digits. Both roads lead there.
func TestIceOnWater(t *testing.T) {
	ice := Phase{2.22, 917 * 2100}
	f := Freezing{Frozen: ice, Thawed: Phase{0.56, 4.2e6}, Latent: 917 * 334e3, Surface: -10}
	front, err := f.Solve()
	if err != nil {
		t.Fatal(err)
	}
	stefan := ice.HeatCapacity * 10 / f.Latent
	lambda, err := StefanRoot(stefan)
	if err != nil || off(stefan, 0.06287, 5.1e-6) || off(lambda, 0.17549, 5.1e-6) || off(front.Mu, lambda, 1e-12) {
		t.Errorf("St %.6f, lambda %.6f, mu %.6f, %v", stefan, lambda, front.Mu, err)
	}
	for _, c := range [][3]float64{{1, 0.02261, 0.02284}, {24, 0.11077, 0.11192}, {240, 0.35029, 0.35391}} {
		if got := front.Depth(c[0] * hour); off(got, c[1], 5.1e-6) {
			t.Errorf("%g h: %.6f m, want %g", c[0], got, c[1])
		}
		if got := FrostDepth(ice, f.Latent, 10*c[0]*hour); off(got, c[2], 5.1e-6) {
			t.Errorf("%g h quasi-steady: %.6f m, want %g", c[0], got, c[2])
		}
	}
}

// Neumann's two-phase front in soil, CJ 11.2: front to five digits, soil to four.
func TestNeumann(t *testing.T) {
	f := Freezing{Frozen: Phase{2.0, 1.9e6}, Thawed: Phase{1.5, 2.7e6}, Latent: 100.2e6, Surface: -10, Start: 8}
	front, err := f.Solve()
	if err != nil || off(front.Mu, 0.245804, 5.1e-7) {
		t.Fatalf("mu %.7f, %v, want 0.245804", front.Mu, err)
	}
	for _, c := range [][2]float64{{30, 0.81204}, {90, 1.40649}} {
		if got := front.Depth(c[0] * day); off(got, c[1], 5.1e-6) {
			t.Errorf("%g d: front %.6f m, want %g", c[0], got, c[1])
		}
	}
	for _, c := range [][2]float64{{0, -10}, {0.2, -7.4904}, {0.5, -3.7660}, {1, 0.9693}, {2, 4.9813}, {50, 8}} {
		if got := front.Temperature(c[0], 30*day); off(got, c[1], 5.1e-5) {
			t.Errorf("%g m: %.5f °C, want %.4f", c[0], got, c[1])
		}
	}
}

// The ledger of the frozen body: what left the surface in 30 days is what the
// frozen and the thawed part and the freezing gave, integrated by trapezoids.
func TestNeumannLedger(t *testing.T) {
	f := Freezing{Frozen: Phase{2.0, 1.9e6}, Thawed: Phase{1.5, 2.7e6}, Latent: 100.2e6, Surface: -10, Start: 8}
	front, err := f.Solve()
	if err != nil {
		t.Fatal(err)
	}
	const after = 30 * day
	x := front.Depth(after)
	given := f.Latent * x
	const cells = 40000
	for i := range cells {
		z := (float64(i) + 0.5) / cells * x
		given += (f.Thawed.HeatCapacity*f.Start - f.Frozen.HeatCapacity*front.Temperature(z, after)) * x / cells
		z = x + (float64(i)+0.5)/cells*20
		given += f.Thawed.HeatCapacity * (f.Start - front.Temperature(z, after)) * 20 / cells
	}
	left := 2 * front.SurfaceFlow(after) * after // the flow falls as 1/sqrt(t)
	if off(given/left, 1, 1e-6) {
		t.Errorf("given %g J/m2, left %g J/m2", given, left)
	}
}

func TestFreezingRefuses(t *testing.T) {
	good := Freezing{Frozen: Phase{2, 1.9e6}, Thawed: Phase{1.5, 2.7e6}, Latent: 1e8, Surface: -10, Start: 8}
	warm, cold, dry := good, good, good
	warm.Surface, cold.Start, dry.Latent = 1, -1, 0
	for _, f := range []Freezing{warm, cold, dry} {
		if _, err := f.Solve(); err == nil {
			t.Errorf("%+v was accepted", f)
		}
	}
}

// Stefan's frost depth for 500 °C days in soil of k 2 and 100.2 MJ/m3: 1.313 m.
func TestFrostDepth(t *testing.T) {
	if got := FrostDepth(Phase{2, 1.9e6}, 100.2e6, 500*day); off(got, 1.313, 5.1e-4) {
		t.Errorf("%.4f m", got)
	}
}
