package cropwater_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	. "suncellar/internal/cropwater"
)

// The general law is the hourly one where its resistances are those of grass outdoors; the paper rounds 37 and 0.34.
func TestGeneralLawHasTheHourlyOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Hour{NetMJ: rapid.Float64Range(0.1, 3).Draw(t, "net"), AirC: rapid.Float64Range(0, 40).Draw(t, "air"), WindMS: rapid.Float64Range(0.5, 6).Draw(t, "wind"), Psychrometric: 0.066}
		h.VapourKPa = SaturationKPa(h.AirC) * rapid.Float64Range(0.1, 0.9).Draw(t, "humidity")
		one, other := h.ReferenceMM(), h.MonteithMM(Resistances{Air: 208 / h.WindMS, Surface: 70})
		if math.Abs(one-other) > 0.012*one {
			t.Fatalf("eq. 53 gives %g, eq. 3 gives %g mm", one, other)
		}
	})
}

// Drier air and more light never lower what the reference gives in a house, and the night's closed leaves never raise it.
func TestStillAirLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Hour{NetMJ: rapid.Float64Range(-0.3, 2).Draw(t, "net"), AirC: rapid.Float64Range(-10, 45).Draw(t, "air"), Psychrometric: rapid.Float64Range(0.045, 0.068).Draw(t, "g")}
		h.VapourKPa = SaturationKPa(h.AirC) * rapid.Float64Range(0.2, 1).Draw(t, "humidity")
		base := h.StillMM(true)
		drier, lighter := h, h
		drier.VapourKPa *= 0.9
		lighter.NetMJ += 0.1
		if drier.StillMM(true) <= base || lighter.StillMM(true) <= base {
			t.Fatal("drier air or more light lowers it")
		}
		if night := h.StillMM(false); base > 0 && night > base {
			t.Fatalf("%g by day, %g with the leaves of night", base, night)
		}
	})
}

// Water of a root zone: what was given goes into soil, air or drain, and the soil never lacks more than it can hold, nor less than nothing.
func TestZoneKeepsItsWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.Float64Range(1, 200).Draw(t, "all")
		start := rapid.Float64Range(0, all).Draw(t, "lacks")
		z, given, lost, drained := Zone{LacksMM: start}, 0.0, 0.0, 0.0
		for range 30 {
			in := rapid.Float64Range(0, 20).Draw(t, "given")
			out, down := z.Pass(rapid.Float64Range(0, 15).Draw(t, "need"), in, all, rapid.Float64Range(0.1, 0.8).Draw(t, "p"))
			given, lost, drained = given+in, lost+out, drained+down
			if z.LacksMM < 0 || z.LacksMM > all+1e-9 {
				t.Fatalf("%g mm lack of %g", z.LacksMM, all)
			}
		}
		if open := start - given + lost + drained - z.LacksMM; math.Abs(open) > 1e-9 {
			t.Fatalf("%g mm are open", open)
		}
	})
}

func TestCourseOfACrop(t *testing.T) {
	c, ok := CropOf("lettuce") // 30, 40, 25, 10 days
	if !ok {
		t.Fatal("no lettuce")
	}
	check(t, []row{
		{"before it is sown", c.Coefficient(-20), 0.7, 1e-12}, {"end of the initial stage", c.Coefficient(30), 0.7, 1e-12},
		{"half-way to full cover", c.Coefficient(50), 0.85, 1e-12}, {"mid-season", c.Coefficient(80), 1, 1e-12},
		{"half-way to the end", c.Coefficient(100), 0.975, 1e-12}, {"after the end", c.Coefficient(300), 0.95, 1e-12},
		{"leaves alone, mid-season", c.Basal(80), 0.9, 1e-12}, {"roots at first", c.RootsM(0, 0.3), 0.15, 1e-12}, {"roots half-way", c.RootsM(35, 0.3), 0.225, 1e-12}, {"roots of the grown crop", c.RootsM(200, 0.3), 0.3, 1e-12},
	})
	if _, ok := CropOf("sedge"); ok {
		t.Error("a crop that no table has is known")
	}
}

// Every row of the tables can be: leaves alone give no more than leaves and soil, roots have a range, no name stands twice.
func TestTablesHold(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range CropNames() {
		c, _ := CropOf(name)
		if seen[name] || c.BasalIni > c.Ini || c.BasalMid > c.Mid || c.BasalEnd > c.End || !(c.Roots > 0 && c.Roots < c.DeepRoots) || !(c.Easy >= 0.1 && c.Easy <= 0.8) || !(c.Days[0] > 0 && c.Days[1] > 0 && c.Days[2] > 0) {
			t.Errorf("the row of %s cannot be: %+v", name, c)
		}
		seen[name] = true
	}
	for _, texture := range []string{"sand", "sandy loam", "loam", "silt loam", "sandy clay loam", "clay loam", "clay"} {
		if s, ok := SoilOf(texture); !ok || s.Wilting() <= 0 || s.EasyMM >= s.FaceMM {
			t.Errorf("the soil %s cannot be: %+v", texture, s)
		}
	}
	if s := EasyShare(0.3, 5); s != 0.3 {
		t.Errorf("p at 5 mm a day is %g, the table has 0.3", s)
	}
	if a, b := EasyShare(0.7, 0), EasyShare(0.2, 20); a != 0.8 || b != 0.1 {
		t.Errorf("p leaves 0.1 to 0.8: %g, %g", a, b)
	}
}
