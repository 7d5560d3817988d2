package airflow_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/airflow"
)

// row is one wanted value: got is ours, allowed the largest |got - want|.
type row struct {
	what               string
	got, want, allowed float64
}

func check(t *testing.T, rows ...row) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.allowed) {
			t.Errorf("%s: got %.6g, want %.6g within %.2g", r.what, r.got, r.want, r.allowed)
		}
	}
}

// stillAir at 20 °C: U.S. Standard Atmosphere 1976.
func stillAir() airflow.Fluid {
	return airflow.Fluid{ConductivityWMK: 0.0257, KinematicM2S: 1.51e-5, Prandtl: 0.709}
}

// water10 is water at 10 °C, steam tables.
func water10() airflow.Fluid {
	return airflow.Fluid{ConductivityWMK: 0.580, KinematicM2S: 1.307e-6, Prandtl: 9.44}
}

// ASHRAE Fundamentals, ventilation and infiltration, the Lincoln, Nebraska
// example (from memory) and the stack law evaluated with g = 9.81.
func TestLeakageAndVents(t *testing.T) {
	lincoln, err := airflow.NewLeakage(0.05, 2, 3)
	if err != nil {
		t.Fatal(err)
	}
	q := lincoln.Flow(20, -19, 6.7)
	vents := airflow.Vents{LowM2: 1, HighM2: 1, RiseM: 2, Discharge: 0.65, WindEffect: 0.3}
	check(t,
		row{"stack coefficient", lincoln.Stack, 0.000290, 1e-9},
		row{"wind coefficient", lincoln.Wind, 0.000231, 1e-9},
		row{"leakage, m3/s", q, 0.0736, 0.0001},
		row{"leakage of 340 m3, 1/h", q * 3600 / 340, 0.78, 0.005},
		row{"stack, 1 m2, 3 m", airflow.StackFlow(1, 0.65, 3, 30, 20), 0.9057, 0.0005},
		row{"stack, 0.5 m2, 2 m", airflow.StackFlow(0.5, 0.65, 2, 20, 0), 0.5318, 0.0005},
		row{"stack, opening below", airflow.StackFlow(1, 0.65, -3, 30, 20), -0.9057, 0.0005},
		row{"two equal vents resist as 0.707 of one", vents.Area(), math.Sqrt2 / 2, 1e-9},
		// By symmetry of the neutral level, half way up: each passes what one with rise 1 m does.
		row{"two equal vents", vents.Stack(20, 0), airflow.StackFlow(1, 0.65, 1, 20, 0), 1e-9},
		row{"wind", vents.Wind(4), 0.3 * math.Sqrt2 / 2 * 4, 1e-9},
		row{"together", vents.Flow(20, 0, 4), math.Hypot(vents.Stack(20, 0), vents.Wind(4)), 1e-4},
		row{"one closed", airflow.Vents{LowM2: 1, RiseM: 2, Discharge: 0.65}.Stack(20, 0), 0, 0})
	for _, c := range [][2]int{{0, 3}, {4, 3}, {1, 0}, {1, 6}} {
		if _, err := airflow.NewLeakage(0.05, c[0], c[1]); err == nil {
			t.Errorf("storeys %d, shelter %d must be refused", c[0], c[1])
		}
	}
	if _, err := airflow.NewLeakage(math.NaN(), 1, 1); err == nil {
		t.Error("an area that is no number must be refused")
	}
}

// 0.5 air changes at 1,609 m: NREL/TP-472-6231 (density ratio 0.822); the rest by arithmetic.
func TestAirChangesAndFan(t *testing.T) {
	a := airflow.AirChanges{Still: 0.5}
	flow, watt := airflow.Fan{FlowM3S: 0.4731, PowerW: 80}.At(0.5)
	check(t,
		row{"0.5 air changes of 129.6 m3", a.Flow(129.6, 20, -10, 5), 0.018, 1e-6},
		row{"at 1,609 m", a.AtSeaLevelDensity(0.822 * 101325).Still, 0.41, 0.002},
		row{"wind and warmth", airflow.AirChanges{Still: 0.3, PerWind: 0.2, PerK: 0.01}.Flow(3600, 10, -10, 2), 0.3 + 0.4 + 0.2, 1e-6},
		row{"fan at half speed", flow, 0.4731 / 2, 1e-9},
		row{"its power", watt, 10, 1e-9},
		row{"with a fan", airflow.WithFan(0.03, 0.04), 0.05, 1e-12})
}

// Doorway and upright opening of Brown and Solvason 1962; level opening of Brown
// 1962: the equations evaluated at the stated inputs, air at 20 °C.
func TestExchange(t *testing.T) {
	level := airflow.Level{AreaM2: 1, SideM: 1, ThicknessM: 0.1}
	q := level.Overturn(22.5, 17.5, stillAir())
	const h = 36.1 // W/m2K
	check(t,
		row{"doorway 1 x 2 m, 10 K about 288 K", airflow.Exchange(1, 2, 0.6, 20, 10), 0.330, 0.001},
		row{"upright opening 2 m high, per metre", airflow.Exchange(1, 2, 0.65, 22.5, 17.5), 0.251, 0.001},
		row{"level opening", q, 0.030, 0.0005},
		row{"as a film", q * 0.0257 / stillAir().KinematicM2S * stillAir().Prandtl, h, 0.3},
		row{"single-sided at 10 K", airflow.SingleSided(1, 1, 20, 10, 0), airflow.Exchange(1, 1, 0.445, 20, 10), 1e-9},
		row{"gusts", airflow.SingleSided(1, 2, 10, 10, 4), 0.2, 1e-9},
		row{"cold below warm", level.Overturn(5, 15, stillAir()), 0, 0})
}

// Walton 1983, at dT 8 K where |dT|^(1/3) is 2.
func TestNaturalFilms(t *testing.T) {
	check(t,
		row{"wall", airflow.Natural(8, airflow.Degrees(90)), 2.62, 0.02},
		row{"warm floor", airflow.Natural(8, 0), 2 * 9.482 / 6.283, 1e-4},
		row{"cold floor", airflow.Natural(-8, 0), 2 * 1.810 / 2.382, 1e-4},
		row{"cold ceiling", airflow.Natural(-8, airflow.Degrees(180)), 2 * 9.482 / 6.283, 1e-4},
		row{"warm ceiling", airflow.Natural(8, airflow.Degrees(180)), 2 * 1.810 / 2.382, 1e-4},
		row{"cold glazing at 45°, facing down", airflow.Natural(-8, airflow.Degrees(135)), 2 * 9.482 / (7.283 - math.Sqrt2/2), 1e-4},
		row{"wind 4 m/s, ISO 6946", airflow.Wind(4), 20, 0})
	for _, tilt := range []float64{0, 45, 90, 135, 180} {
		if h := airflow.Natural(0, airflow.Degrees(tilt)); !(h > 0.15 && h < 0.35) {
			t.Errorf("a surface as warm as its air at %v° has film %v", tilt, h)
		}
	}
}

// Churchill and Chu 1975: Incropera and DeWitt, example 9.2 (from memory): plate
// 0.71 m high at 232 °C in air at 23 °C, film at 400 K: Ra 1.813e9, Nu 147, h 7.0.
func TestUprightFilm(t *testing.T) {
	f := airflow.Fluid{ConductivityWMK: 33.8e-3, KinematicM2S: 26.4e-6, Prandtl: 0.690}
	check(t,
		row{"fire screen", airflow.Upright(f, airflow.Buoyancy(232, 23), 0.71), 7.0, 0.1},
		row{"at rest", airflow.Upright(f, 0, 0.71), 0.825 * 0.825 * 33.8e-3 / 0.71, 1e-9},
		row{"falling as rising", airflow.Upright(f, -0.01, 0.8), airflow.Upright(f, 0.01, 0.8), 1e-12})
	// A level plate by its own law: Ra chosen at 1e8 and 1e6.
	plate := func(ra float64) float64 {
		w := water10()
		return ra * w.KinematicM2S * w.KinematicM2S / (9.80665 * w.Prandtl)
	}
	check(t,
		row{"plate away, 1e8", airflow.Flat(water10(), plate(1e8), 1), 0.15 * math.Cbrt(1e8) * 0.58, 1e-3},
		row{"plate away, 1e6", airflow.Flat(water10(), plate(1e6), 1), 0.54 * math.Pow(1e6, 0.25) * 0.58, 1e-3},
		row{"plate against, 1e8", airflow.Flat(water10(), -plate(1e8), 1), 27 * 0.58, 1e-3},
		row{"plate at rest", airflow.Flat(water10(), 0, 1), 0.58, 1e-12})
	// Drum water a kelvin from its wall: at 10 °C (expansion 88e-6) the film is
	// several times that at 4 °C, where a kelvin changes density by 8e-6.
	warm, four := airflow.Upright(water10(), 88e-6, 0.87), airflow.Upright(water10(), 8e-6, 0.87)
	if !(warm > 60 && warm < 200 && four < 0.6*warm) {
		t.Errorf("water film %v at 10 °C, %v at 4 °C", warm, four)
	}
}

// Every flow and every heat flow through a film is smooth about no difference:
// its slope from the left and the right agree.
func TestSmoothAtNoDifference(t *testing.T) {
	leak := airflow.Leakage{AreaM2: 0.02, Stack: 0.000145, Wind: 0.0002}
	vents := airflow.Vents{LowM2: 0.3, HighM2: 0.4, RiseM: 2, Discharge: 0.65, WindEffect: 0.3}
	level := airflow.Level{AreaM2: 10, SideM: 2, ThicknessM: 0.2}
	for name, f := range map[string]func(float64) float64{
		"leakage in still air":  func(d float64) float64 { return leak.Flow(10+d, 10, 0) },
		"leakage in wind":       func(d float64) float64 { return leak.Flow(10+d, 10, 3) },
		"air changes":           func(d float64) float64 { return airflow.AirChanges{PerK: 0.02}.Flow(100, 10+d, 10, 0) },
		"stack":                 func(d float64) float64 { return airflow.StackFlow(1, 0.65, 2, 10+d, 10) },
		"vents":                 func(d float64) float64 { return vents.Flow(10+d, 10, 0) },
		"doorway":               func(d float64) float64 { return airflow.Exchange(1, 2, 0.6, 10+d, 10) },
		"single-sided":          func(d float64) float64 { return airflow.SingleSided(1, 2, 10+d, 10, 1) },
		"overturn":              func(d float64) float64 { return level.Overturn(10+d, 10, stillAir()) },
		"heat to a floor":       func(d float64) float64 { return d * airflow.Natural(d, 0) },
		"heat to a wall":        func(d float64) float64 { return d * airflow.Natural(d, airflow.Degrees(90)) },
		"heat to a drum's side": func(d float64) float64 { return d * airflow.Upright(stillAir(), airflow.Buoyancy(10+d, 10), 0.87) },
		"heat to a drum's lid":  func(d float64) float64 { return d * airflow.Flat(stillAir(), airflow.Buoyancy(10+d, 10), 0.15) },
	} {
		const e = 1e-7
		left, right := (f(0)-f(-e))/e, (f(e)-f(0))/e
		size := math.Abs(f(5)) / 5
		if math.IsNaN(left) || math.IsNaN(right) || math.Abs(right-left) > 0.05*size+1e-12 {
			t.Errorf("%s: slope %v from below, %v from above, %v at large", name, left, right, size)
		}
	}
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-30, 40).Draw(t, "one")
		b := rapid.Float64Range(-30, 40).Draw(t, "other")
		wind := rapid.Float64Range(0, 20).Draw(t, "wind")
		leak := airflow.Leakage{AreaM2: 0.02, Stack: 0.000145, Wind: 0.0002}
		vents := airflow.Vents{LowM2: 0.3, HighM2: 0.4, RiseM: 2, Discharge: 0.65, WindEffect: 0.3}
		level := airflow.Level{AreaM2: 10, SideM: 2, ThicknessM: 0.2}
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-12*(1+math.Abs(x)) {
				t.Fatalf("%s: %v and %v", what, x, y)
			}
		}
		same("leakage knows no side", leak.Flow(a, b, wind), leak.Flow(b, a, wind))
		same("doorway knows no side", airflow.Exchange(1, 2, 0.6, a, b), airflow.Exchange(1, 2, 0.6, b, a))
		same("stack turns round", airflow.StackFlow(1, 0.65, 2, a, b), -airflow.StackFlow(1, 0.65, 2, b, a))
		same("floor and ceiling mirror", airflow.Natural(a-b, airflow.Degrees(40)), airflow.Natural(b-a, airflow.Degrees(140)))
		if leak.Flow(a, b, wind+1) <= leak.Flow(a, b, wind) {
			t.Fatal("more wind leaks less")
		}
		if vents.Flow(a, b, wind) < vents.Wind(wind) {
			t.Fatal("warmth hinders wind")
		}
		up, down := level.Overturn(a, b, stillAir()), level.Overturn(b, a, stillAir())
		if up < 0 || down < 0 || up*down != 0 {
			t.Fatalf("layers overturn both ways: %v and %v", up, down)
		}
		if more := level.Overturn(a+1, b, stillAir()); more < up {
			t.Fatalf("warmer below overturns less: %v then %v", up, more)
		}
		if airflow.Natural(a-b, 0) < 0.1 || airflow.Upright(stillAir(), airflow.Buoyancy(a, b), 0.87) < 0.01 {
			t.Fatal("a film vanishes")
		}
	})
}

func TestNoNumberStaysNoNumber(t *testing.T) {
	nan := math.NaN()
	level := airflow.Level{AreaM2: 1, SideM: 1, ThicknessM: 0.1}
	vents := airflow.Vents{LowM2: 1, HighM2: 1, RiseM: 1, Discharge: 0.65}
	for i, q := range []float64{
		airflow.Leakage{AreaM2: 0.01, Stack: 1e-4, Wind: 1e-4}.Flow(nan, 0, 1), airflow.StackFlow(1, 0.6, 1, nan, 0), vents.Flow(0, nan, 1),
		airflow.Exchange(1, 1, 0.6, nan, 0), level.Overturn(0, nan, stillAir()), airflow.Natural(nan, 0), airflow.Wind(nan),
		airflow.Upright(stillAir(), nan, 1), airflow.Flat(stillAir(), nan, 1), airflow.SingleSided(1, 1, 0, 0, nan),
	} {
		if !math.IsNaN(q) {
			t.Errorf("number %d became %v", i, q)
		}
	}
	if q := (airflow.Leakage{}).Flow(10, 0, 3); q != 0 {
		t.Errorf("a tight house leaks %v", q)
	}
}
