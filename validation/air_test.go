package validation

import (
	"math"
	"testing"

	"suncellar/internal/air"
	"suncellar/internal/airflow"
)

const sea = 101325.0

func TestMoistAir(t *testing.T) {
	s := begin(t, "Moist air", "ASHRAE Fundamentals 2017, ch. 1, tables 2 and 3, and the example and single values of a public test suite of its formulas",
		"Pressure 101325 Pa where none is named.")
	for _, c := range []struct{ at, want, allowed float64 }{{-60, 1.08, 0.01}, {-20, 103.24, 0.031}, {-5, 401.74, 0.12}, {5, 872.6, 0.26}, {25, 3169.7, 0.95},
		{50, 12351.3, 3.7}, {100, 101418, 30}, {150, 476101.4, 143}} {
		s.near(seen, "saturation pressure at "+short(c.at)+" °C", air.SaturationPressure(c.at), c.want, c.allowed, " Pa")
	}
	for _, c := range []struct{ at, w, wOff, h, hOff float64 }{
		{-50, 0.0000243, 0.01, -50222, 0.01}, {-20, 0.0006373, 0.01, -18542, 0.01}, {-5, 0.0024863, 0.005, 1164, 0.03}, {5, 0.005425, 0.005, 18639, 0.01},
		{25, 0.020173, 0.005, 76504, 0.01}, {50, 0.086863, 0.01, 275353, 0.01}, {85, 0.838105, 0.02, 2307539, 0.01},
	} {
		w := air.SaturationHumidityRatio(c.at, sea)
		s.near(seen, "humidity ratio at saturation, "+short(c.at)+" °C", 1000*w, 1000*c.w, 1000*c.w*c.wOff, " g/kg")
		s.near(seen, "enthalpy at saturation, "+short(c.at)+" °C", air.Enthalpy(c.at, w)/1000, c.h/1000, math.Abs(c.h)/1000*c.hOff, " kJ/kg")
	}
	w1 := air.HumidityRatioOfWetBulb(40, 20, sea)
	e1 := air.VapourPressure(w1, sea)
	bulb := func(at, w, pressure float64) float64 {
		b, err := air.WetBulb(at, w, pressure)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	for _, c := range []struct {
		name           string
		got, want, off float64
		unit           string
	}{
		{"example 1 (40 °C, wet 20 °C): humidity ratio", 1000 * w1, 6.5, 0.1, " g/kg"},
		{"example 1: relative humidity", air.RelativeHumidity(40, e1), 0.14, 0.005, ""},
		{"example 1: dew point", air.DewPoint(e1), 7, 0.5, " °C"},
		{"example 1: enthalpy", air.Enthalpy(40, w1) / 1000, 56.7, 0.3, " kJ/kg"},
		{"example 1: volume", air.SpecificVolume(40, w1, sea), 0.896, 0.001, " m3/kg"},
		{"30 °C, wet 25 °C, 95461 Pa: humidity ratio", 1000 * air.HumidityRatioOfWetBulb(30, 25, 95461), 19.2281274, 0.0058, " g/kg"},
		{"-1 °C, iced bulb -5 °C, 95461 Pa: humidity ratio", 1000 * air.HumidityRatioOfWetBulb(-1, -5, 95461), 1.2039982, 0.00036, " g/kg"},
		{"7 °C, 61 %, 100000 Pa: wet bulb", bulb(7, air.HumidityRatio(0.61*air.SaturationPressure(7), 100000), 100000), 3.92667, 0.001, " °C"},
		{"vapour 3169.7 Pa in 95461 Pa: humidity ratio", 1000 * air.HumidityRatio(3169.7, 95461), 21.3603998, 0.0001, " g/kg"},
		{"30 °C, 20 g/kg, 95461 Pa: enthalpy", air.Enthalpy(30, 0.02) / 1000, 81.316, 0.001, " kJ/kg"},
		{"30 °C, 20 g/kg, 95461 Pa: volume", air.SpecificVolume(30, 0.02, 95461), 0.9408553744, 1e-6, " m3/kg"},
		{"30 °C, 20 g/kg, 95461 Pa: density", air.Density(30, 0.02, 95461), 1.0841198635, 1e-6, " kg/m3"},
		{"dry air, 25 °C: enthalpy", air.Enthalpy(25, 0) / 1000, 25.148, 0.008, " kJ/kg"},
		{"dry air, 25 °C: volume", air.SpecificVolume(25, 0, sea), 0.8443, 0.001, " m3/kg"},
		{"101226.5 Pa at 105 m, 17.19 °C: sea level", air.SeaLevelPressure(101226.5, 105, 17.19), 102484, 1, " Pa"},
	} {
		s.near(seen, c.name, c.got, c.want, c.off, c.unit)
	}
	for i, z := range []float64{-500, 0, 500, 1000, 4000, 10000} {
		s.near(seen, "standard atmosphere, "+short(z)+" m: pressure", air.StandardPressure(z), []float64{107478, 101325, 95461, 89875, 61640, 26436}[i], 1, " Pa")
		s.near(seen, "standard atmosphere, "+short(z)+" m: temperature", air.StandardTemperature(z), []float64{18.2, 15, 11.8, 8.5, -11, -50}[i], 0.1, " °C")
	}
	for _, c := range []struct{ at, humidity, dew, bulb float64 }{{0, 0.90, -1.272, -0.571}, {5, 0.95, 4.267, 4.653}, {-5, 0.80, -7.585, -5.884}} {
		e := c.humidity * air.SaturationPressure(c.at)
		name := short(c.at) + " °C, " + short(100*c.humidity) + " %"
		s.near(seen, name+": dew point", air.DewPoint(e), c.dew, 0.002, " °C").source = "recomputed independently"
		s.near(seen, name+": wet bulb", bulb(c.at, air.HumidityRatio(e, sea), sea), c.bulb, 0.002, " °C").source = "recomputed independently"
	}
	saturation(t, s)
	s.done(t)
}

func saturation(t *testing.T, s *section) {
	rows := table(t, "c04_psychro_saturation.csv")
	var p, w, h, v float64
	for _, r := range rows {
		at, wantP, wantW, wantH, wantV := number(t, r[0]), number(t, r[1]), number(t, r[2]), number(t, r[3]), number(t, r[4])
		got := air.SaturationHumidityRatio(at, sea)
		p = math.Max(p, math.Abs(air.SaturationPressure(at)/wantP-1))
		w = math.Max(w, 1000*math.Abs(got-wantW))
		h = math.Max(h, math.Abs(air.Enthalpy(at, got)/1000-wantH))
		v = math.Max(v, math.Abs(air.SpecificVolume(at, got, sea)-wantV))
	}
	n := len(rows)
	const own = "recomputed independently"
	s.worst(seen, "saturation, -40 to 50 °C: pressure", n, 100*p, 0.06, " %").source = own
	s.worst(seen, "saturation, -40 to 50 °C: humidity ratio", n, w, 0.03, " g/kg").source = own
	s.worst(seen, "saturation, -40 to 50 °C: enthalpy", n, h, 0.09, " kJ/kg").source = own
	s.worst(seen, "saturation, -40 to 50 °C: volume", n, v, 0.0002, " m3/kg").source = own
}

func TestAirFlow(t *testing.T) {
	s := begin(t, "Air flow", "ASHRAE Fundamentals, ch. 16 (formulas from memory, figures recomputed); Brown and Solvason 1962, Brown 1962", "")
	s.near(recomputed, "stack: 1 m2, 3 m to the neutral level, 30 and 20 °C, Cd 0.65", airflow.StackFlow(1, 0.65, 3, 30, 20), 0.9057, 0.001, " m3/s")
	s.near(recomputed, "stack: 0.5 m2, 2 m, 20 and 0 °C, Cd 0.65", airflow.StackFlow(0.5, 0.65, 2, 20, 0), 0.5318, 0.001, " m3/s")
	s.near(seen, "stack pressure, 20 and -10 °C", 9.81*(air.Density(-10, 0, sea)-air.Density(20, 0, sea)), 1.347, 0.003, " Pa/m").source = "gas law"
	s.near(recomputed, "doorway 1 by 2 m, 10 K about 288 K, Cd 0.6", airflow.Exchange(1, 2, 0.6, 19.85, 9.85), 0.330, 0.001, " m3/s")
	lincoln, err := airflow.NewLeakage(0.05, 2, 3)
	if err != nil {
		t.Fatal(err)
	}
	q := lincoln.Flow(20, -19, 6.7)
	s.near(recomputed, "leakage of 500 cm2, two storeys, shelter 3, 39 K, 6.7 m/s", q, 0.0736, 0.0003, " m3/s")
	s.near(recomputed, "the same as air changes of 340 m3", q*3600/340, 0.78, 0.005, " 1/h")
	s.near(recomputed, "upright opening 2 m high, 5 K at 20 °C, C 0.65", airflow.Exchange(1, 2, 0.65, 22.5, 17.5), 0.251, 0.002, " m3/s per m")
	still := airflow.Fluid{ConductivityWMK: 0.0257, KinematicM2S: 1.51e-5, Prandtl: 0.709}
	level := airflow.Level{AreaM2: 1, SideM: 1, ThicknessM: 0.1}
	q = level.Overturn(22.5, 17.5, still)
	s.near(recomputed, "level opening 1 m, 0.1 m thick, 5 K", q, 0.030, 0.0005, " m3/s")
	s.near(recomputed, "the same as a film", q*still.ConductivityWMK*still.Prandtl/still.KinematicM2S, 36.1, 0.3, " W/m2K")
	s.near(remembered, "round level opening 1 m wide, 0.1 m thick, 5 K, by this law beside Epstein's", q*math.Pi/4, 0.0225, 0.00225, " m3/s").source = "Epstein 1988, Fr 0.055"
	s.near(recomputed, "single opening 1 by 1 m, 20 and 10 °C, Cd 0.40 + 0.0045 dT", airflow.SingleSided(1, 1, 20, 10, 0), 0.0865, 0.0002, " m3/s")
	s.near(recomputed, "draught along a face, turbulent: off its air by", 100*airflow.DraughtShare(1e11), 100*0.0366/0.1463, 0.1, " %").source = "Eckert and Jackson 1950, profiles"
	s.near(recomputed, "draught along a face, laminar: off its air by", 100*airflow.DraughtShare(1e7), 100*12.0/30, 0.1, " %").source = "Squire 1938, profiles"
	s.done(t)
}
