package validation

import (
	"math"
	"testing"

	"suncellar/internal/glazing"
	"suncellar/internal/sun"
)

func TestSkyLongwave(t *testing.T) {
	s := begin(t, "Sky longwave", "Prata 1996, Quarterly Journal of the Royal Meteorological Society 122:1127",
		"Formula from memory, values recomputed with FAO-56's saturation pressure at the dew point.")
	for _, c := range []struct{ air, dew, emissivity, sky float64 }{
		{0, -5, 0.7247, -21.1}, {-10, -15, 0.6977, -32.6}, {20, 10, 0.7926, 3.4}, {-20, -24, 0.6827, -43.0},
	} {
		e := sun.ClearSkyEmissivity(c.air, c.dew)
		name := "clear sky, air " + short(c.air) + ", dew point " + short(c.dew) + " °C"
		s.near(recomputed, name+": emissivity", e, c.emissivity, 0.0005, "")
		s.near(recomputed, name+": sky", sun.SkyTemperatureC(e*sun.BlackWM2(c.air)), c.sky, 0.1, " °C")
	}
	s.done(t)
}

// standardPair is the double pane of the standard test for building thermal models.
func standardPair(t *testing.T) glazing.Stack {
	t.Helper()
	pane := glazing.Pane{Index: 1.526, ExtinctionPerM: 19.6, ThicknessM: 0.003175, ConductivityWMK: 1.06, GapWM2K: 6.297}
	s, err := glazing.FromPanes([]glazing.Pane{pane, pane})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func covers(t *testing.T, n int, depth float64) glazing.Stack {
	t.Helper()
	var panes []glazing.Pane
	for range n {
		panes = append(panes, glazing.Pane{Index: 1.526, ExtinctionPerM: depth / 0.003, ThicknessM: 0.003, GapM: 0.012})
	}
	s, err := glazing.FromPanes(panes)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestGlazing(t *testing.T) {
	const book = "Duffie and Beckman, ch. 5"
	s := begin(t, "Glazing", "Fresnel and Snell with absorption, exact stack; "+book+"; IEA BESTEST, NREL/TP-472-6231",
		"Pair of the standard test: two panes 3.175 mm, n 1.526, extinction 0.0196 1/mm, 1.06 W/mK, gap coefficient 6.297 W/m2K, films 21.0 and 8.29 W/m2K.")
	r0, _, _ := glazing.Fresnel(1.526, 1)
	across, along, refracted := glazing.Fresnel(1.526, 0.5)
	one, two := covers(t, 1, 0.0736), covers(t, 2, 0.0736)
	o := one.Optics(0.5)
	for _, c := range []struct {
		name           string
		got, want, off float64
	}{
		{"example 5.1.1, reflectance at 0°", r0, 0.0434, 0.001},
		{"example 5.1.1, refraction at 60° [°]", math.Acos(refracted) * 180 / math.Pi, 34.58, 0.01},
		{"example 5.1.1, perpendicular at 60°", across, 0.185, 0.001},
		{"example 5.1.1, parallel at 60°", along, 0.0014, 0.001},
		{"example 5.1.2, one cover 0°", covers(t, 1, 0).Optics(1).Transmittance, 0.917, 0.001},
		{"example 5.1.2, one cover 60°", covers(t, 1, 0).Optics(0.5).Transmittance, 0.842, 0.001},
		{"example 5.1.2, two covers 0°", covers(t, 2, 0).Optics(1).Transmittance, 0.847, 0.001},
		{"example 5.1.2, two covers 60°", covers(t, 2, 0).Optics(0.5).Transmittance, 0.759, 0.001},
		{"example 5.1.2, three covers 0°", covers(t, 3, 0).Optics(1).Transmittance, 0.786, 0.001},
		{"example 5.1.2, three covers 60°", covers(t, 3, 0).Optics(0.5).Transmittance, 0.707, 0.001},
		{"example 5.3.1, transmitted", o.Transmittance, 0.768, 0.001},
		{"example 5.3.1, reflected", o.Reflectance, 0.147, 0.001},
		{"example 5.3.1, taken up", o.Absorbed[0], 0.085, 0.001},
		{"example 5.3, two covers 0°", two.Optics(1).Transmittance, 0.730, 0.001},
		{"example 5.3, two covers 60°", two.Optics(0.5).Transmittance, 0.629, 0.001},
		{"optical depth 0.0125, 60°", covers(t, 1, 0.0125).Optics(0.5).Transmittance, 0.829, 0.001},
		{"optical depth 0.0370, 60°", covers(t, 1, 0.0370).Optics(0.5).Transmittance, 0.804, 0.001},
		{"optical depth 0.0524, 60°", covers(t, 1, 0.0524).Optics(0.5).Transmittance, 0.789, 0.001},
	} {
		s.near(recomputed, c.name, c.got, c.want, c.off, "").source = book
	}
	pass := func(degrees float64) float64 {
		p, q, in := glazing.Fresnel(1.526, math.Cos(degrees*math.Pi/180))
		return math.Exp(-4*0.002/in) * (1 - (p+q)/2)
	}
	for _, c := range [][2]float64{{22.5, 0.99926198}, {45, 0.98797788}, {67.5, 0.8893998}} {
		s.near(seen, "incidence modifier of one pane at "+short(c[0])+"°", pass(c[0])/pass(0), c[1], 1e-6, "").source = "De Soto, Klein and Beckman 2006, Solar Energy 80:78"
	}
	poly, _, _ := glazing.Fresnel(1.586, 1)
	s.near(seen, "polycarbonate n 1.586, reflectance at 0°", poly, 0.0513, 0.0001, "").source = "Fresnel"
	thePair(t, s)
	sheets(t, s)
	s.done(t)
}

func thePair(t *testing.T, s *section) {
	pair := standardPair(t)
	one := glazing.Stack{Sheets: pair.Sheets[:1]}
	films := glazing.Films{Outside: 21, Inside: 8.29}
	th := pair.Steady(0, 20, films, glazing.Place{Slope: glazing.Vertical})
	d := pair.Diffuse(glazing.Vertical)
	s.near(recomputed, "pair of the standard test, one pane at 0°", one.Optics(1).Transmittance, 0.86156, 0.001, "")
	s.near(recomputed, "pair of the standard test, both at 0°", pair.Optics(1).Transmittance, 0.747, 0.001, "")
	s.near(recomputed, "pair of the standard test, solar heat gain at 0°", pair.SolarHeatGain(pair.Optics(1), th, films), 0.789, 0.001, "")
	s.near(recomputed, "pair of the standard test, U", th.UWM2K, 3.0, 0.005, " W/m2K")
	s.near(seen, "pair of the standard test, diffuse", d.Outside.Transmittance, 0.659, 0.001, "")
	s.near(seen, "pair of the standard test, diffuse solar heat gain", pair.SolarHeatGain(d.Outside, th, films), 0.705, 0.001, "")
	rows := table(t, "c03_glass_std140_angular.csv")
	largest := [4]float64{}
	for _, r := range rows {
		v := make([]float64, len(r))
		for i := range r {
			v[i] = number(t, r[i])
		}
		cos := math.Cos(v[0] * math.Pi / 180)
		a, b := one.Optics(cos), pair.Optics(cos)
		for i, pairOf := range [][][2]float64{
			{{a.Transmittance, v[1]}, {a.Reflectance, v[2]}, {a.Absorbed[0], v[3]}},
			{{b.Transmittance, v[4]}, {b.Reflectance, v[5]}},
			{{b.Absorbed[0], v[6]}, {b.Absorbed[1], v[7]}},
			{{pair.SolarHeatGain(b, th, films), v[8]}},
		} {
			for _, p := range pairOf {
				largest[i] = math.Max(largest[i], math.Abs(p[0]-p[1]))
			}
		}
	}
	for i, name := range []string{"one pane: light, reflection, taken up", "pair: light and reflection", "pair: taken up by each pane", "pair: solar heat gain"} {
		s.worst(seen, "angles 0 to 89.9°, "+name, len(rows)*[4]int{3, 2, 2, 1}[i], largest[i], 0.001, "").source = "exact stack, independently"
	}
}

// sheets are trade figures of multiwall polycarbonate.
func sheets(t *testing.T, s *section) {
	for _, c := range []struct {
		key, name string
		light     [2]float64
		u         [2]float64
	}{
		{"twin_wall_4mm", "4 mm twin", [2]float64{0.82, 0.82}, [2]float64{4.1, 4.1}},
		{"twin_wall_6mm", "6 mm twin", [2]float64{0.80, 0.80}, [2]float64{3.5, 3.6}},
		{"twin_wall_8mm", "8 mm twin", [2]float64{0.80, 0.80}, [2]float64{3.3, 3.4}},
		{"twin_wall_10mm", "10 mm twin", [2]float64{0.80, 0.80}, [2]float64{3.0, 3.2}},
		{"triple_wall_8mm", "8 mm triple", [2]float64{0.72, 0.74}, [2]float64{3.2, 3.2}},
		{"triple_wall_10mm", "10 mm triple", [2]float64{0.72, 0.72}, [2]float64{2.7, 2.7}},
		{"triple_wall_16mm", "16 mm triple", [2]float64{0.73, 0.73}, [2]float64{2.4, 2.4}},
	} {
		p, err := glazing.Lookup(c.key)
		if err != nil {
			t.Fatal(err)
		}
		const pages = "suppliers' data pages"
		light := p.Stack.Optics(1).Transmittance * p.PARRatio
		s.within(seen, "polycarbonate sheet "+c.name+", light", light, c.light[0]-0.03, c.light[1]+0.03, "").source = pages
		s.within(seen, "polycarbonate sheet "+c.name+", U as declared", p.Stack.DeclaredU(), c.u[0]-0.3, c.u[1]+0.3, " W/m2K").source = pages
	}
}
