package quantities

import (
	"math"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

func sheet(t *testing.T, name, text string, changes ...string) *Sheet {
	t.Helper()
	var list []plan.Change
	for _, c := range changes {
		change, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, change)
	}
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load(name, []byte(text), known, list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	h, findings := house.Resolve(p)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	s, err := Of(h)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// box is 3 m wide, 2.2 m high and 4 m long, on stilts.
const box = `suncellar: 1
name: Box
site: {latitude: 40 deg, longitude: -105 deg, elevation: 0 m, time_zone: UTC-7}
builds:
  panel: {r_value: 2 m2K/W}
section:
  length: 4 m
  start: [0 m, 0.3 m]
  edges:
    - {name: floor, to: [3 m, 0.3 m], build: panel, behind: fixed 8 degC}
    - {name: back wall, to: [3 m, 2.5 m], build: panel}
    - {name: roof, to: [0 m, 2.5 m], build: panel}
    - {name: front wall, to: [0 m, 0.3 m], build: panel}
ends: {build: panel}
leakage: {air_changes: 0.5 ach}
`

// By hand: U = 1/(0.13 + 2 + 0.04) = 0.4608 W/m²K; with fixed films 1/(1/8 + 2 + 1/25) = 0.4619; leakage at 0.5 air changes of 26.4 m³
// with air of 101325/(287.05 273.15) 1006 = 1300 J/m³K: 4.77 W/K.
func TestBoxByHand(t *testing.T) {
	s := sheet(t, "box.yaml", box)
	areas := map[string]float64{"floor": 12, "back wall": 8.8, "roof": 12, "front wall": 8.8, "left end": 6.6, "right end": 6.6}
	want := 0.0
	for _, l := range s.Losses {
		if l.Kind == Leakage {
			if math.Abs(l.WK-4.767) > 0.002 {
				t.Errorf("leakage loses %g W/K, want 4.767", l.WK)
			}
			continue
		}
		if math.Abs(l.M2-areas[l.Part]) > 1e-9 || math.Abs(l.UWM2K-0.46083) > 1e-5 || math.Abs(l.WK-l.M2*l.UWM2K) > 1e-12 {
			t.Errorf("%s: %+v, want %g m² at 0.46083 W/m²K", l.Part, l, areas[l.Part])
		}
		want += areas[l.Part] * 0.460829
		if (l.ToC != nil) != (l.Part == "floor") {
			t.Errorf("%s: temperature behind it %v", l.Part, l.ToC)
		}
	}
	if math.Abs(s.LossWK-want-4.767) > 0.003 {
		t.Errorf("all lose %g W/K, want %g", s.LossWK, want+4.767)
	}
	if s.WaterM3 != 0 || s.LitresPerM2 != 0 || s.SoilWMK != 0 {
		t.Errorf("a box without water, glazing and earth has %+v", s)
	}
	fixed := sheet(t, "box.yaml", box, "surfaces={inside: 8 W/m2K, outside: 25 W/m2K}")
	if got := fixed.Losses[1].UWM2K; math.Abs(got-0.461894) > 1e-6 {
		t.Errorf("with fixed films U is %g, want 0.461894", got)
	}
}

func TestExampleHouse(t *testing.T) {
	s := sheet(t, examples.LarchHollowName, string(examples.LarchHollow))
	kinds := map[Kind]int{}
	sum := 0.0
	for _, l := range s.Losses {
		kinds[l.Kind]++
		sum += l.WK
		if !(l.WK > 0) {
			t.Errorf("%s loses %g W/K", l.Part, l.WK)
		}
	}
	if kinds[Glazing] != 1 || kinds[Earth] != 1 || kinds[Leakage] != 1 || kinds[Door] != 1 || kinds[Opaque] < 4 {
		t.Errorf("kinds of losses: %v", kinds)
	}
	if math.Abs(sum-s.LossWK) > 1e-9 {
		t.Errorf("losses add up to %g, told are %g", sum, s.LossWK)
	}
	if math.Abs(s.LitresPerM2-1000*s.WaterM3/s.GlazedM2) > 1e-9 || s.StoreJK < 4100*s.WaterKg {
		t.Errorf("the store: %+v", s)
	}
}

// A better build loses less, and nothing else changes.
func TestMoreInsulationLosesLess(t *testing.T) {
	a, b := sheet(t, "box.yaml", box), sheet(t, "box.yaml", box, "builds.panel.r_value=4 m2K/W")
	for i := range a.Losses {
		if a.Losses[i].Kind == Opaque && b.Losses[i].WK >= a.Losses[i].WK {
			t.Errorf("%s loses %g with more insulation, %g with less", a.Losses[i].Part, b.Losses[i].WK, a.Losses[i].WK)
		}
	}
}

// Soil in layers is reckoned at its mean from grade to a floor's breadth below the floor, and one soil in layers as that soil.
func TestSoilInLayersLosesAtItsMean(t *testing.T) {
	earth := func(s *Sheet) float64 {
		for _, l := range s.Losses {
			if l.Kind == Earth {
				return l.WK
			}
		}
		t.Fatal("no loss to the earth")
		return 0
	}
	text := string(examples.LarchHollow) // 4.6 m wide, 1.1 m deep: the mean to 5.7 m
	one := sheet(t, examples.LarchHollowName, text)
	same := sheet(t, examples.LarchHollowName, text, "site.soil_layers=[{to: 1 m, texture: sandy loam, moisture: 40 %}]")
	if math.Abs(earth(same)-earth(one)) > 1e-9 || len(same.Soil.Layers) != 1 || len(one.Soil.Layers) != 0 {
		t.Errorf("earth loses %g W/K in one soil, %g in layers of it", earth(one), earth(same))
	}
	dry := sheet(t, examples.LarchHollowName, text, "site.soil_layers=[{to: 1.9 m, conductivity: 0.4 W/mK}]")
	want := 0.4/3 + one.SoilWMK*2/3
	if math.Abs(dry.SoilWMK-want) > 1e-9 || earth(dry) >= earth(one) {
		t.Errorf("mean %g W/mK, want %g; earth loses %g W/K under a dry layer, %g without", dry.SoilWMK, want, earth(dry), earth(one))
	}
}
