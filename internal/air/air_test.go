package air_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/air"
)

// row is one published value: got is ours, allowed the largest |got - want|.
type row struct {
	what               string
	got, want, allowed float64
}

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.allowed) {
			t.Errorf("%s: got %.8g, want %.8g within %.2g", r.what, r.got, r.want, r.allowed)
		}
	}
}

const sea = 101325.0

func rel(want, share float64) float64 { return math.Abs(want) * share }

// The tables of ASHRAE Fundamentals 2017, ch. 1: table 3 (water), table 2 (moist
// air), with the tolerances of their perfect-gas form.
func TestSaturationTables(t *testing.T) {
	var rows []row
	for _, c := range []struct{ celsius, want, allowed float64 }{
		{-60, 1.08, 0.01}, {-20, 103.24, 103.24 * 3e-4}, {-5, 401.74, 401.74 * 3e-4}, {5, 872.6, 872.6 * 3e-4},
		{25, 3169.7, 3169.7 * 3e-4}, {50, 12351.3, 12351.3 * 3e-4}, {100, 101418, 101418 * 3e-4}, {150, 476101.4, 476101.4 * 3e-4},
	} {
		rows = append(rows, row{"saturation pressure", air.SaturationPressure(c.celsius), c.want, c.allowed})
	}
	for _, c := range []struct{ celsius, ratio, ratioAllowed, enthalpy, enthalpyAllowed float64 }{
		{-50, 0.0000243, 0.01, -50222, 0.01}, {-20, 0.0006373, 0.01, -18542, 0.01}, {-5, 0.0024863, 0.005, 1164, 0.03},
		{5, 0.005425, 0.005, 18639, 0.01}, {25, 0.020173, 0.005, 76504, 0.01}, {50, 0.086863, 0.01, 275353, 0.01}, {85, 0.838105, 0.02, 2307539, 0.01},
	} {
		w := air.SaturationHumidityRatio(c.celsius, sea)
		rows = append(rows,
			row{"humidity ratio at saturation", w, c.ratio, rel(c.ratio, c.ratioAllowed)},
			row{"enthalpy at saturation", air.Enthalpy(c.celsius, w), c.enthalpy, rel(c.enthalpy, c.enthalpyAllowed)})
	}
	check(t, rows)
}

// ASHRAE Fundamentals 2017, ch. 1: example 1 and single values of the same relations.
func TestWorkedExamples(t *testing.T) {
	bulb := func(celsius, w, pressure float64) float64 {
		b, err := air.WetBulb(celsius, w, pressure)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	w1 := air.HumidityRatioOfWetBulb(40, 20, sea)
	e1 := air.VapourPressure(w1, sea)
	w7 := air.HumidityRatio(0.61*air.SaturationPressure(7), 100000)
	check(t, []row{
		{"example 1, W", w1, 0.0065, 1e-4},
		{"example 1, relative humidity", air.RelativeHumidity(40, e1), 0.14, 0.005},
		{"example 1, dew point", air.DewPoint(e1), 7, 0.5},
		{"example 1, enthalpy", air.Enthalpy(40, w1), 56700, 0.005 * 56700},
		{"example 1, volume", air.SpecificVolume(40, w1, sea), 0.896, 0.001},
		{"W of a wet bulb", air.HumidityRatioOfWetBulb(30, 25, 95461), 0.0192281274, 3e-4 * 0.0192281274},
		{"W of an iced bulb", air.HumidityRatioOfWetBulb(-1, -5, 95461), 0.00120399820, 3e-4 * 0.0012},
		{"wet bulb", bulb(7, w7, 100000), 3.92667, 0.001},
		{"W of a vapour pressure", air.HumidityRatio(3169.7, 95461), 0.0213603998, 1e-6 * 0.02},
		{"moist air enthalpy", air.Enthalpy(30, 0.02), 81316, 1},
		{"moist air volume", air.SpecificVolume(30, 0.02, 95461), 0.9408553744, 1e-6},
		{"moist air density", air.Density(30, 0.02, 95461), 1.0841198635, 1e-6},
		{"dry air enthalpy", air.Enthalpy(25, 0), 25148, 0.0003 * 25148},
		{"dry air volume", air.SpecificVolume(25, 0, sea), 0.8443, 0.001},
		{"sea level pressure", air.SeaLevelPressure(101226.5, 105, 17.19), 102484, 1},
	})
	var rows []row
	for i, z := range []float64{-500, 0, 500, 1000, 4000, 10000} {
		p := []float64{107478, 101325, 95461, 89875, 61640, 26436}[i]
		c := []float64{18.2, 15, 11.8, 8.5, -11, -50}[i]
		rows = append(rows, row{"standard pressure", air.StandardPressure(z), p, 1}, row{"standard temperature", air.StandardTemperature(z), c, 0.1})
	}
	check(t, rows)
}

// A greenhouse's own range, recomputed independently from the same relations.
func TestColdDampAir(t *testing.T) {
	for _, c := range []struct{ celsius, humidity, dew, bulb float64 }{
		{0, 0.90, -1.272, -0.571}, {5, 0.95, 4.267, 4.653}, {-5, 0.80, -7.585, -5.884}, {10, 0.70, math.NaN(), 7.399},
	} {
		e := c.humidity * air.SaturationPressure(c.celsius)
		w := air.HumidityRatio(e, sea)
		bulb, err := air.WetBulb(c.celsius, w, sea)
		if err != nil {
			t.Fatal(err)
		}
		rows := []row{{"wet bulb", bulb, c.bulb, 0.002}}
		if !math.IsNaN(c.dew) {
			rows = append(rows, row{"dew point", air.DewPoint(e), c.dew, 0.002})
		} else {
			rows = append(rows, row{"humidity ratio", w, 0.005321, 1e-6})
		}
		check(t, rows)
	}
}

// Goff and Gratch 1946 over supercooled water, from memory.
func TestSupercooledWater(t *testing.T) {
	check(t, []row{
		{"-20 °C", air.SaturationPressureOverWater(-20), 125.4, 0.005 * 125.4},
		{"-40 °C, outside the range of eq. 6", air.SaturationPressureOverWater(-40), 18.91, 0.01 * 18.91},
	})
}

// U.S. Standard Atmosphere 1976, sea level: mu 1.7894e-5, k 0.025326 at 15 °C.
func TestTransport(t *testing.T) {
	a := air.TransportAt(15, sea)
	check(t, []row{
		{"viscosity", a.DynamicPascalSecond, 1.7894e-5, 1e-9},
		{"conductivity", a.ConductivityWMK, 0.025326, 1e-6},
		{"kinematic viscosity", a.KinematicM2S, 1.4607e-5, 1e-8},
		{"Prandtl number", a.Prandtl, 0.71, 0.01},
	})
}

func TestVapourTransfer(t *testing.T) {
	// Lewis: film 3 W/m2K over c_p 1006 and 0.845^(2/3).
	check(t, []row{{"dry air", air.VapourTransfer(3, 0), 3 / (1006 * math.Pow(0.845, 2.0/3)), 1e-6}})
}

func TestWetBulbRefuses(t *testing.T) {
	for _, c := range [][3]float64{{math.NaN(), 0.01, sea}, {20, -0.001, sea}, {20, math.NaN(), sea}, {20, 0.01, 0}, {20, 0.01, math.NaN()}, {250, 0, sea}} {
		if b, err := air.WetBulb(c[0], c[1], c[2]); err == nil {
			t.Errorf("WetBulb%v gave %v, must be refused", c, b)
		}
	}
	if !math.IsNaN(air.DewPoint(math.NaN())) {
		t.Error("the dew point of no number must not be a number")
	}
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-60, 60).Draw(t, "celsius")
		h := rapid.Float64Range(0.01, 1).Draw(t, "relative humidity")
		p := rapid.Float64Range(60e3, 105e3).Draw(t, "pressure")
		e := h * air.SaturationPressure(c)
		w := air.HumidityRatio(e, p)
		dew := air.DewPoint(e)
		bulb, err := air.WetBulb(c, w, p)
		if err != nil {
			t.Fatal(err)
		}
		if !(dew <= bulb+2e-3 && bulb <= c) {
			t.Fatalf("dew point %v, wet bulb %v and air %v are out of order", dew, bulb, c)
		}
		if back := air.SaturationPressure(dew); math.Abs(back-e) > 1e-8*e {
			t.Fatalf("dew point %v holds %v Pa, not %v", dew, back, e)
		}
		if back := air.SaturationPressureOverWater(air.DewPointOverWater(e)); math.Abs(back-e) > 1e-8*e {
			t.Fatalf("dew point over water holds %v Pa, not %v", back, e)
		}
		if back := air.VapourPressure(w, p); math.Abs(back-e) > 1e-9*p {
			t.Fatalf("vapour pressure %v came back as %v", e, back)
		}
		if back := air.TemperatureOf(air.Enthalpy(c, w), w); math.Abs(back-c) > 1e-9 {
			t.Fatalf("temperature %v came back as %v", c, back)
		}
		const d = 1e-3
		slope := (air.SaturationPressure(c+d) - air.SaturationPressure(c-d)) / (2 * d)
		if math.Abs(c-air.TriplePoint) > d && math.Abs(slope/air.SaturationSlope(c)-1) > 1e-6 {
			t.Fatalf("slope at %v is %v, by difference %v", c, air.SaturationSlope(c), slope)
		}
		if air.Density(c, w, p) > air.Density(c, 0, p) {
			t.Fatalf("damp air is heavier than dry air at %v °C", c)
		}
	})
}

// Frost that settles gives what melting and drying it takes.
func TestLatentHeatsClose(t *testing.T) {
	check(t, []row{{"at 0 °C", air.LatentSublimation(0), air.LatentVaporisation(0) + air.LatentFusion, 1e-6}})
	// The rounded figure of the handbook's iced bulb.
	check(t, []row{{"handbook", air.LatentSublimation(0), 2830e3, 0.002 * 2830e3}})
}

func TestPublishedTable(t *testing.T) {
	folder := os.Getenv("SUNCELLAR_REFERENCE")
	if folder == "" {
		t.Skip("SUNCELLAR_REFERENCE is not set: the saturation table c04 is not compared")
	}
	file, err := os.Open(filepath.Join(folder, "c04_psychro_saturation.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	table, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(table) < 10 {
		t.Fatalf("the table has %d lines, too few to be whole", len(table))
	}
	for _, line := range table[1:] {
		v := make([]float64, len(line))
		for i, s := range line {
			if v[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		w := air.SaturationHumidityRatio(v[0], sea)
		check(t, []row{
			{line[0] + " °C, pressure", air.SaturationPressure(v[0]), v[1], rel(v[1], 3e-4) + 0.005},
			{line[0] + " °C, ratio", w, v[2], rel(v[2], 3e-4) + 1e-7},
			{line[0] + " °C, enthalpy kJ/kg", air.Enthalpy(v[0], w) / 1000, v[3], rel(v[3], 3e-4) + 1e-3},
			{line[0] + " °C, volume", air.SpecificVolume(v[0], w, sea), v[4], rel(v[4], 1e-4) + 5e-5},
		})
	}
}

func TestNothingAllocates(t *testing.T) {
	var sink float64
	if n := testing.AllocsPerRun(100, func() { sink += air.DewPoint(500) + air.SaturationSlope(3) + air.Density(3, 0.004, sea) }); n != 0 {
		t.Errorf("%v allocations an hour, want none (sum %v)", n, sink)
	}
}
