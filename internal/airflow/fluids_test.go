package airflow_test

import (
	"math"
	"testing"

	"suncellar/internal/airflow"
)

// Films read from a table of the fluid against the formulas it was made from: within 2e-5 for fluids that vary as air and water do, inside the table and beyond it.
func TestFluidsAreTheFormulas(t *testing.T) {
	for name, c := range map[string]struct {
		from, to, perK float64
		of             func(float64) airflow.Fluid
	}{
		"as air": {-70, 100, 1, func(celsius float64) airflow.Fluid {
			t := (celsius + 273.15) / 273.15
			return airflow.Fluid{ConductivityWMK: 0.0244 * math.Pow(t, 0.85), KinematicM2S: 13.3e-6 * math.Pow(t, 1.8), Prandtl: 0.71 * math.Pow(t, -0.1)}
		}},
		"as water": {0, 80, 2, func(celsius float64) airflow.Fluid {
			nu := 1.79e-6 * math.Exp(-0.0325*celsius+1.2e-4*celsius*celsius)
			return airflow.Fluid{ConductivityWMK: 0.56 + 0.0015*celsius, KinematicM2S: nu, Prandtl: nu / 1.4e-7}
		}},
	} {
		table := airflow.NewFluids(c.from, c.to, c.perK, c.of)
		for celsius := c.from - 5; celsius < c.to+5; celsius += 0.137 {
			for _, density := range []float64{-0.05, 1e-6, 0.003} {
				got, want := table.Upright(celsius, density, 0.87), airflow.Upright(c.of(celsius), density, 0.87)
				if !(math.Abs(got/want-1) < 2e-5) {
					t.Errorf("%s at %.2f °C, density %g: %.9g W/m²K, must be %.9g", name, celsius, density, got, want)
				}
			}
			if got, want := table.At(celsius), c.of(celsius); !(math.Abs(got.KinematicM2S/want.KinematicM2S-1) < 1e-4) {
				t.Errorf("%s at %.2f °C: %v, must be %v", name, celsius, got, want)
			}
		}
	}
}
