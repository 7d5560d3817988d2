package airflow_test

import (
	"math"
	"testing"

	"suncellar/internal/airflow"
)

// The shares of the profiles, by summing across the layer.
func TestDraughtSharesAreThoseOfTheProfiles(t *testing.T) {
	share := func(u, dt func(y float64) float64) float64 {
		const n = 200000
		flow, heat := 0.0, 0.0
		for i := range n {
			y := (float64(i) + 0.5) / n
			flow += u(y)
			heat += u(y) * dt(y)
		}
		return heat / flow
	}
	laminar := share(func(y float64) float64 { return y * (1 - y) * (1 - y) }, func(y float64) float64 { return (1 - y) * (1 - y) })
	turbulent := share(func(y float64) float64 { return math.Pow(y, 1.0/7) * math.Pow(1-y, 4) }, func(y float64) float64 { return 1 - math.Pow(y, 1.0/7) })
	check(t, row{"laminar", airflow.DraughtShare(1e7), laminar, 1e-3}, row{"turbulent", airflow.DraughtShare(1e11), turbulent, 1e-3})
}

// eckertJackson is the turbulent layer on an upright plate of height L: air that leaves it per metre [m2/s] and its mean film [W/m2 K].
//
//	u1 = 1.185 nu/x Gr^(1/2) (1 + 0.494 Pr^(2/3))^(-1/2),  delta = 0.565 x Gr^(-1/10) Pr^(-8/15) (1 + 0.494 Pr^(2/3))^(1/10)
//	Q = 0.1463 u1 delta,  Nu = 0.0295 Gr^(2/5) Pr^(7/15) (1 + 0.494 Pr^(2/3))^(-2/5) at x, 1/1.2 of it in the mean
//
// Eckert and Jackson 1950, from memory.
func eckertJackson(f airflow.Fluid, difference, height float64) (flow, film float64) {
	gr, pr := f.Grashof(difference, height), f.Prandtl
	b := 1 + 0.494*math.Pow(pr, 2.0/3)
	u1 := 1.185 * f.KinematicM2S / height * math.Sqrt(gr/b)
	delta := 0.565 * height * math.Pow(gr, -0.1) * math.Pow(pr, -8.0/15) * math.Pow(b, 0.1)
	return 0.1463 * u1 * delta, 0.0295 / 1.2 * math.Pow(gr, 0.4) * math.Pow(pr, 7.0/15) * math.Pow(b, -0.4) * f.ConductivityWMK / height
}

// squireEckert is the laminar layer: Q = u1 delta/12, u1 = 5.17 nu/x (Pr + 20/21)^(-1/2) Gr^(1/2), delta = 3.93 x Pr^(-1/2) (0.952 + Pr)^(1/4)
// Gr^(-1/4); Nu = 2 x/delta at x, 4/3 of it in the mean. Eckert and Drake 1972, from memory.
func squireEckert(f airflow.Fluid, difference, height float64) (flow, film float64) {
	gr, pr := f.Grashof(difference, height), f.Prandtl
	u1 := 5.17 * f.KinematicM2S / height * math.Sqrt(gr/(pr+20.0/21))
	delta := 3.93 * height / math.Sqrt(pr) * math.Pow((0.952+pr)/gr, 0.25)
	return u1 * delta / 12, 4.0 / 3 * 2 / delta * f.ConductivityWMK
}

// The air that a published film carries at our share of the difference is the published flow.
func TestDraughtCarriesItsFilm(t *testing.T) {
	air := stillAir()
	heat := air.ConductivityWMK * air.Prandtl / air.KinematicM2S // rho c [J/m3 K]
	d := airflow.Buoyancy(10, 15)
	flow, film := eckertJackson(air, d, 3)
	small, its := squireEckert(air, d, 0.5)
	check(t,
		row{"turbulent, 3 m, 5 K, m3/s per m", film * 3 / (airflow.DraughtShare(air.Grashof(d, 3)) * heat), flow, 0.01 * flow},
		row{"laminar, 0.5 m, 5 K, m3/s per m", its * 0.5 / (airflow.DraughtShare(air.Grashof(d, 0.5)) * heat), small, 0.02 * small})
	if lower := airflow.DraughtShare(1e10); lower < 0.25 || lower > airflow.DraughtShare(1e9) || airflow.DraughtShare(1e9) > airflow.DraughtShare(1e8) {
		t.Error("the share does not fall from laminar to turbulent")
	}
}

func TestReach(t *testing.T) {
	check(t, row{"alike", airflow.Reach(0), 0.5, 0}, row{"heavy", airflow.Reach(3), 1, 0.003}, row{"light", airflow.Reach(-3), 0, 0.003},
		row{"what goes on and what stays", airflow.Reach(0.2) + airflow.Reach(-0.2), 1, 1e-12})
	if !math.IsNaN(airflow.Reach(math.NaN())) {
		t.Error("no number became one")
	}
}
