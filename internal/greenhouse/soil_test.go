package greenhouse

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"suncellar/internal/airflow"
	"suncellar/internal/exact"
	"suncellar/internal/ground"
	"suncellar/internal/plan"
)

// twoSoils is dry sand upon the small pit's loam, an invented site.
const twoSoils = "site.soil_layers=[{to: 60 cm, texture: sand, moisture: 10 %}]"

// Two soils that do not freeze, under a yearly wave of the air: the matrices of Carslaw and Jaeger (1959) 3.7 behind the film of wind and
// longwave and the plan's cover, as TestUndisturbedWaveIsKusudas has it for one soil, with its tolerance.
func TestUndisturbedWaveOfTwoSoils(t *testing.T) {
	h := mustHouse(t, smallPit, twoSoils)
	u, err := UndisturbedGround(h.Plan, waveYear(placeOf(h), 12, 9))
	if err != nil {
		t.Fatal(err)
	}
	soil, err := SoilOf(h.Plan.Site)
	if err != nil {
		t.Fatal(err)
	}
	const period = 365 * 86400.0
	solid := func(m ground.Medium) exact.Solid {
		return exact.Solid{Conductivity: m.K, Density: 1, SpecificHeat: m.C}
	}
	want := exact.Layered{Sheets: []exact.Slab{{Solid: solid(soil.Layers[0].Medium), Thickness: 0.6}}, Deep: solid(soil.Below)}
	film := 1 / (1/(airflow.Wind(3*siteOf(h.Plan).windShare)+groundEmittance*radiative(12, 12)) + shortGrass.resistance)
	reply := 1 / (1 + want.Admittance(period)/complex(film, 0))
	const allowed = 0.1
	worst := 0.0
	for _, date := range []struct{ month, day, of int }{{1, 20, 19}, {4, 15, 104}, {7, 15, 195}, {10, 1, 273}} {
		profile := u.Profile(date.month, date.day)
		turn := cmplx.Exp(complex(0, 2*math.Pi/365*(float64(date.of)+1.0/24-20)))
		for _, z := range []float64{0.1, 0.3, 0.6, 1, 2, 4, 8} {
			exact := 12 - 9*real(reply*want.Response(z, period)*turn)
			worst = math.Max(worst, math.Abs(profile(z)-exact))
			if math.Abs(profile(z)-exact) > allowed {
				t.Errorf("%d-%d, %.1f m: %.3f °C, two soils %.3f °C", date.month, date.day, z, profile(z), exact)
			}
		}
	}
	t.Logf("%.3f K at worst", worst)
	periodic(t, u)
}

// Layers of the site's own soil change nothing but where the cells lie.
func TestLayersOfOneSoil(t *testing.T) {
	one := mustHouse(t, smallPit, "ground.finest_cell=6 cm")
	same := "{to: %s, texture: loam, moisture: 40 %%}"
	cut := mustHouse(t, smallPit, "ground.finest_cell=6 cm", fmt.Sprintf("site.soil_layers=[%s, %s, %s]", fmt.Sprintf(same, "35 cm"), fmt.Sprintf(same, "1.15 m"), fmt.Sprintf(same, "2 m")))
	y := typicalYear(t, one)
	a, err := UndisturbedGround(one.Plan, y)
	if err != nil {
		t.Fatal(err)
	}
	b, err := UndisturbedGround(cut.Plan, y)
	if err != nil {
		t.Fatal(err)
	}
	// 0.05 K is how far a cell may still move. At 0.1 m a profile between middles 4.5 cm apart lies on a chord of the day's wave: s²/8 T'' is 0.11 K for 8 K at the
	// face, which fades over 0.13 m.
	for z, allowed := range map[float64]float64{0.1: 0.11, 0.4: 0.05, 1: 0.05, 3: 0.05, 8: 0.05} {
		for month := 1; month <= 12; month++ {
			if p, q := a.Profile(month, 15)(z), b.Profile(month, 15)(z); math.Abs(p-q) > allowed {
				t.Errorf("15th of month %d, %g m: %.3f °C, in layers %.3f °C", month, z, p, q)
			}
		}
	}
	w, u := drawnWinter(t, one, 3, 30)
	s := Setup{StartC: 5, Ground: u.Profile(11, 1), FrostM: &u.FrostM, Snow: SnowFalls}
	_, p := mustRun(t, one, s, &w)
	_, q := mustRun(t, cut, s, &w)
	d := compared(p, q)
	t.Logf("rms %.3f K (%s), lowest %.3f K (%s)", d.rms, d.rmsAt, d.low, d.lowAt)
	if d.rms > 0.05 || d.low > 0.1 {
		t.Errorf("layers of one soil move %s by %.3f K, the lowest of %s by %.3f K", d.rmsAt, d.rms, d.lowAt, d.low)
	}
	closes(t, q)
}

// The slice has each layer at its depth, a bed's soil is site.soil, and tubes lie in that of their depth.
func TestWhereTheLayersAre(t *testing.T) {
	h := mustHouse(t, smallPit, "site.soil_layers=[{to: 60 cm, texture: sand, moisture: 10 %}, {to: 1.5 m, texture: clay, moisture: 80 %}]",
		"tubes=[{name: four, count: 2, diameter: 100 mm, length: 5 m, depth: 30 cm, inlet: {height: 0.1 m}, outlet: {height: 1.5 m}}]")
	g, err := New(h, Setup{StartC: 5, Earth: FullMesh})
	if err != nil {
		t.Fatal(err)
	}
	soil, err := SoilOf(h.Plan.Site)
	if err != nil {
		t.Fatal(err)
	}
	sand, clay, loam := soil.Layers[0].Medium, soil.Layers[1].Medium, soil.Below
	m := g.ground.mesh
	for _, c := range []struct {
		name string
		x, z float64
		want ground.Medium
	}{
		{"sand outdoors", -2, -0.3, sand}, {"sand over its edge", 6, -0.58, sand}, {"clay under it", 6, -0.62, clay}, {"clay under the floor", 2, -1.4, clay},
		{"loam below", 2, -1.6, loam}, {"the bed", 1, -0.9, loam}, {"clay under the bed", 1, -1.1, clay},
	} {
		if got := m.Cells[m.CellAt(c.x, c.z)].Medium; got.K != c.want.K {
			t.Errorf("%s at %g, %g m: conducts %g W/mK, want %g", c.name, c.x, c.z, got.K, c.want.K)
		}
	}
	if got := soil.At(1.3); got != clay {
		t.Errorf("tubes 1.3 m below grade lie in soil of %g W/mK, want %g", got.K, clay.K)
	}
	for z, want := range map[float64]float64{0.3: sand.K, 1.5: (0.6*sand.K + 0.9*clay.K) / 1.5, 3: (0.6*sand.K + 0.9*clay.K + 1.5*loam.K) / 3} {
		if got := soil.MeanK(z); math.Abs(got-want) > 1e-12 {
			t.Errorf("mean to %g m: %.6f W/mK, want %.6f", z, got, want)
		}
	}
}

// Two tubes in dry sand take less from their soil than the same in clay, whatever lies above and below them.
func TestTubesLieInTheirLayer(t *testing.T) {
	rows := "tubes=[{name: four, count: 4, diameter: 100 mm, length: 5 m, depth: 50 cm, inlet: {height: 0.1 m}, outlet: {height: 1.5 m}, fan: {flow: 200 m3/h, power: 10 W}}]"
	gives := func(layer string) float64 {
		h := mustHouse(t, smallPit, rows, "site.soil_layers=[{to: 1.2 m, texture: loam, moisture: 40 %}, {to: 1.8 m, "+layer+"}]")
		w := spellAt(t, h, cold(6, -15), 1, 10)
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(8), Snow: SnowFalls}, w)
		closes(t, r)
		low, _ := r.Trace("bed air").Lowest()
		return low
	}
	sand, clay := gives("texture: sand, moisture: 5 %"), gives("texture: clay, moisture: 90 %")
	if sand >= clay {
		t.Errorf("lowest bed air %.3f °C with tubes in dry sand, %.3f °C in wet clay", sand, clay)
	}
	t.Logf("lowest bed air %.2f °C with tubes in dry sand, %.2f °C in wet clay", sand, clay)
}

// Roots and face draw from the layers in their depth, by thickness: 0.1 m of sand leaves all of what dries from the face to it, and of 0.75 m of roots two fifteenths.
func TestSoilWaterOfLayers(t *testing.T) {
	w := newSoilWater(plan.Site{Soil: plan.Soil{Texture: "clay"}, SoilLayers: []plan.SoilLayer{{To: 0.1, Texture: "sand"}}})
	roots := 1000 * (0.1*0.08 + 0.65*0.16)
	if w.top != 9 || w.easyTop != 4.5 || math.Abs(w.roots-roots) > 1e-9 || math.Abs(w.easyRoots-0.4*roots) > 1e-9 {
		t.Errorf("face %g and %g mm, roots %g and %g mm, want 9, 4.5, %g, %g", w.top, w.easyTop, w.roots, w.easyRoots, roots, 0.4*roots)
	}
}
