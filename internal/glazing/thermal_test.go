package glazing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/glazing"
)

func TestLibrary(t *testing.T) {
	names := glazing.Names()
	if !slices.IsSorted(names) || len(slices.Compact(slices.Clone(names))) != len(names) {
		t.Fatalf("names are not sorted and single: %v", names)
	}
	for _, key := range names {
		p, err := glazing.Lookup(key)
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Stack.Check(); err != nil {
			t.Errorf("%s: %v", key, err)
		}
		if p.Source == "" || p.Confidence == "" || !(p.PARRatio >= 1 && p.PARRatio < 1.4) || p.LifeYears <= 0 || p.MassKgM2 <= 0 {
			t.Errorf("%s lacks a source or a figure: %+v", key, p)
		}
		check(t,
			row{key + " normal transmittance", p.Stack.Optics(1).Transmittance, p.NormalTransmittance, 1e-6},
			row{key + " declared U", p.Stack.DeclaredU(), p.PublishedU, 0.3})
	}
	if _, err := glazing.Lookup("twinwall"); err == nil || !strings.Contains(err.Error(), "twin_wall_8mm") {
		t.Errorf("error %v does not list the known keys", err)
	}
}

// Suppliers' data pages for polycarbonate: light within 0.03, U within 0.3 of each of two.
func TestMultiwallAgainstSuppliers(t *testing.T) {
	for _, c := range []struct {
		key        string
		light      float64
		uOne, uTwo float64
	}{
		{"twin_wall_4mm", 0.82, 4.1, 4.1}, {"twin_wall_6mm", 0.80, 3.5, 3.6}, {"twin_wall_8mm", 0.80, 3.4, 3.3}, {"twin_wall_10mm", 0.80, 3.2, 3.0},
		{"triple_wall_8mm", 0.73, 3.2, 3.2}, {"triple_wall_10mm", 0.72, 2.7, 2.7}, {"triple_wall_16mm", 0.73, 2.4, 2.4}, {"x_wall_16mm", 0.59, 2.2, 2.2},
	} {
		p, err := glazing.Lookup(c.key)
		if err != nil {
			t.Fatal(err)
		}
		u := p.Stack.DeclaredU()
		check(t,
			row{c.key + " whole sunlight beside light", p.NormalTransmittance, c.light, 0.03 + 1e-9},
			row{c.key + " plant light", p.NormalTransmittance * p.PARRatio, c.light, 0.03},
			row{c.key + " U, one", u, c.uOne, 0.3}, row{c.key + " U, two", u, c.uTwo, 0.3})
	}
}

// EN 673 for uncoated double panes, upright, films 25 and 7.7: 2.9 with 12 mm and 2.7 with 16 mm
// of air between 4 mm panes, from memory; printed to 0.1.
func TestDoublePaneU(t *testing.T) {
	for _, c := range [][2]float64{{0.012, 2.9}, {0.016, 2.7}} {
		s, err := glazing.FromPanes([]glazing.Pane{{Index: 1.526, ThicknessM: 0.004, GapM: c[0]}, {Index: 1.526, ThicknessM: 0.004}})
		if err != nil {
			t.Fatal(err)
		}
		check(t, row{"double pane", s.DeclaredU(), c[1], 0.1})
	}
}

// A gap alone, 20 mm of air at sea level; Nusselt numbers by hand from the
// published equations (upright, the largest of the three is the last) with the properties at 10 °C: Ra = 1.2467^2 9.80665 1005.53 0.02^3 10/(283.15 1.7711e-5 0.024846).
func TestGapConvection(t *testing.T) {
	pane := glazing.Pane{Index: 1.5, ThicknessM: 0.003, GapM: 0.02}
	s, err := glazing.FromPanes([]glazing.Pane{pane, pane})
	if err != nil {
		t.Fatal(err)
	}
	at := func(degrees, outer, inner float64) float64 {
		return s.GapConductance(0, outer, inner, glazing.Place{Slope: glazing.Degrees(degrees)}).Convection * 0.02 / 0.024846
	}
	const ra = 9843.0
	hollands45 := ra * math.Cos(math.Pi/4)
	check(t,
		row{"level, from below", at(0, 5, 15), 1 + 1.44*(1-1708/ra) + math.Cbrt(ra/5830) - 1, 0.01},
		row{"45°, from below", at(45, 5, 15), 1 + 1.44*(1-1708/hollands45)*(1-1708*math.Pow(math.Sin(81*math.Pi/180), 1.6)/hollands45) + math.Cbrt(hollands45/5830) - 1, 0.01},
		row{"upright", at(90, 5, 15), 0.0605 * math.Cbrt(ra), 0.01},
		row{"level, from above", at(0, 15, 5), 1, 0.001},
		row{"no difference", at(45, 10, 10), 1, 0.001})
	// Turned upside down, the gap is heated from the other side.
	check(t, row{"leaning over", at(135, 15, 5), at(45, 5, 15), 1e-9}, row{"leaning over, warm inside", at(135, 5, 15), at(45, 15, 5), 1e-9})
	// Grey faces of emittance 0.84 near 10 °C: 4 sigma T^3/(2/0.84 - 1).
	radiation := s.GapConductance(0, 5, 15, glazing.Place{}).Radiation
	check(t, row{"radiation", radiation, 4 * 5.670374e-8 * math.Pow(283.15, 3) / (2/0.84 - 1), 0.01})
}

func TestSlopeRaisesU(t *testing.T) {
	for _, key := range []string{"double_glass", "double_film", "twin_wall_acrylic_16mm"} {
		p, err := glazing.Lookup(key)
		if err != nil {
			t.Fatal(err)
		}
		films := glazing.DeclaredFilms()
		upright := p.Stack.U(-10, 10, films, glazing.Place{Slope: glazing.Vertical})
		sloped := p.Stack.U(-10, 10, films, glazing.Place{Slope: glazing.Degrees(40)})
		high := p.Stack.U(-10, 10, films, glazing.Place{Slope: glazing.Degrees(40), PressurePa: 80000})
		at := glazing.Place{Slope: glazing.Degrees(40)}
		rising := p.Stack.GapConductance(0, -5, 5, at).Convection
		layered := p.Stack.GapConductance(0, 5, -5, at).Convection
		if !(sloped > upright && high < sloped && layered < rising) {
			t.Errorf("%s: U upright %v, at 40° %v, there with thin air %v; gap warm below %v, warm above %v", key, upright, sloped, high, rising, layered)
		}
	}
}

func TestThermalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStack(t, 6)
		out := rapid.Float64Range(-45, 40).Draw(t, "outside")
		in := rapid.Float64Range(-20, 45).Draw(t, "inside")
		at := glazing.Place{Slope: glazing.Degrees(rapid.Float64Range(0, 90).Draw(t, "slope")), HeightM: rapid.Float64Range(0.5, 3).Draw(t, "height")}
		films := glazing.Films{Outside: rapid.Float64Range(5, 40).Draw(t, "outside film"), Inside: rapid.Float64Range(3, 10).Draw(t, "inside film")}
		th := s.Steady(out, in, films, at)
		n := len(s.Sheets)
		flow := th.UWM2K * (in - out)
		// The same flow crosses every gap at the conductance of its own faces.
		for i := range s.Gaps {
			c := s.GapConductance(i, th.InnerC[i], th.OuterC[i+1], at).Total()
			if got := c * (th.OuterC[i+1] - th.InnerC[i]); math.Abs(got-flow) > 1e-3 {
				t.Fatalf("gap %d passes %v W/m2, the pane %v", i+1, got, flow)
			}
		}
		// The two-node form between its own faces passes it too, and shares absorbed heat alike.
		l := s.Lump(th.OuterC[0], th.InnerC[n-1], at)
		if got := l.BetweenWM2K * (th.InnerC[n-1] - th.OuterC[0]); math.Abs(got-flow) > 1e-3 {
			t.Fatalf("two nodes pass %v W/m2, the pane %v", got, flow)
		}
		if math.Abs(in-out) < 1 {
			return
		}
		o := s.Optics(0.7)
		gain := o.Transmittance
		for i := range n {
			toInside := th.UWM2K * (1/films.Outside + (1-l.ToOuter[i])/l.BetweenWM2K)
			gain += o.Absorbed[i] * toInside
			if l.ToOuter[i] < 0 || l.ToOuter[i] > 1 {
				t.Fatalf("sheet %d sends the share %v outward", i+1, l.ToOuter[i])
			}
		}
		if want := s.SolarHeatGain(o, th, films); math.Abs(gain-want) > 1e-4 {
			t.Fatalf("solar heat gain %v by two nodes, %v by the chain", gain, want)
		}
		if n > 1 {
			fewer := glazing.Stack{Sheets: s.Sheets[:n-1], Gaps: s.Gaps[:n-2]}
			if fewer.U(out, in, films, at) < th.UWM2K {
				t.Fatal("one sheet more loses more heat")
			}
		}
	})
}

// Nothing jumps where the temperature difference changes sign or the slope passes 60°.
func TestGapIsContinuous(t *testing.T) {
	pane := glazing.Pane{Index: 1.5, ThicknessM: 0.003, GapM: 0.05}
	s, err := glazing.FromPanes([]glazing.Pane{pane, pane})
	if err != nil {
		t.Fatal(err)
	}
	for slope := 0.0; slope <= 90; slope += 0.5 {
		at := glazing.Place{Slope: glazing.Degrees(slope)}
		below := s.GapConductance(0, 5, 5-1e-9, at).Total()
		above := s.GapConductance(0, 5, 5+1e-9, at).Total()
		check(t, row{"about no difference", above, below, 1e-3})
	}
	a := s.GapConductance(0, 0, 10, glazing.Place{Slope: glazing.Degrees(60 - 1e-9)}).Total()
	b := s.GapConductance(0, 0, 10, glazing.Place{Slope: glazing.Degrees(60 + 1e-9)}).Total()
	check(t, row{"about 60°", a, b, 1e-6})
}

func TestFromNumbers(t *testing.T) {
	for _, n := range []glazing.Numbers{{NormalTransmittance: 0.85, UWM2K: 5.5}, {NormalTransmittance: 0.92, UWM2K: 5.7}, {NormalTransmittance: 0.78, UWM2K: 3.3}, {NormalTransmittance: 0.6, UWM2K: 1.1}, {NormalTransmittance: 0.5, UWM2K: 1.5, Sheets: 5}, {NormalTransmittance: 0.7, UWM2K: 2.6, Sheets: 2}} {
		s, err := glazing.FromNumbers(n)
		if err != nil {
			t.Errorf("%+v: %v", n, err)
			continue
		}
		if err := s.Check(); err != nil {
			t.Errorf("%+v: %v", n, err)
		}
		check(t, row{"transmittance", s.Optics(1).Transmittance, n.NormalTransmittance, 1e-6}, row{"U", s.DeclaredU(), n.UWM2K, 0.02})
	}
	for _, n := range []glazing.Numbers{{NormalTransmittance: 0, UWM2K: 3}, {NormalTransmittance: 0.8, UWM2K: math.NaN()}, {NormalTransmittance: 0.8, UWM2K: 9}, {NormalTransmittance: 0.8, UWM2K: 5.9, Sheets: 3}, {NormalTransmittance: 0.8, UWM2K: 1, Sheets: 1}, {NormalTransmittance: 0.8, UWM2K: 3, Sheets: 40}} {
		if _, err := glazing.FromNumbers(n); err == nil {
			t.Errorf("%+v must be refused", n)
		}
	}
}

func TestCheckNamesPlaceValueAndLimit(t *testing.T) {
	for _, c := range []struct {
		panes []glazing.Pane
		want  string
	}{
		{nil, "0 sheets, must have 1 to 10"},
		{[]glazing.Pane{{Index: 1.5, ThicknessM: 0.003, GapM: 0.01}, {Index: 0.9, ThicknessM: 0.003}}, "sheet 2: refractive index is 0.9, must be 1 to 3"},
		{[]glazing.Pane{{Index: 1.5, ThicknessM: 0.003}, {Index: 1.5, ThicknessM: 0.003}}, "gap 1: thickness in m is 0, must be 0.0001 to 1"},
		{[]glazing.Pane{{Index: math.NaN(), ThicknessM: 0.003}}, "refractive index is NaN"},
	} {
		if _, err := glazing.FromPanes(c.panes); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want %q", c.panes, err, c.want)
		}
	}
	if err := (glazing.Stack{Sheets: doublePane(t).Sheets}).Check(); err == nil || !strings.Contains(err.Error(), "0 gaps between 2 sheets, must have 1") {
		t.Errorf("missing gap: %v", err)
	}
}

func TestOpening(t *testing.T) {
	o := glazing.DefaultOpening()
	check(t, row{"default", o.Light(0), 0.86, 0.0005})
	o.AgeingPerYear = 0.01
	check(t, row{"ten years", o.Light(10), 0.86 * math.Pow(0.99, 10), 0.0005})
	if err := o.Check(); err != nil {
		t.Error(err)
	}
	o.Dirt = math.NaN()
	if err := o.Check(); err == nil {
		t.Error("dirt that is no number must be refused")
	}
}

func TestSnowOnGlazing(t *testing.T) {
	d := doublePane(t).Diffuse(glazing.Degrees(45))
	bare, o, i := glazing.Snow{Transmittance: 1}.Over(d)
	if bare.Outside != d.Outside || bare.Inside != d.Inside || o != 0 || i != 0 {
		t.Errorf("no snow changes the light: %+v", bare)
	}
	check(t, row{"no snow insulates", glazing.Snow{}.Resistance(), 0, 0}, row{"10 cm at 0.065 W/mK", glazing.Snow{DepthM: 0.1, ConductivityWMK: 0.065}.Resistance(), 1.538, 0.001})
	rapid.Check(t, func(t *rapid.T) {
		pass := rapid.Float64Range(0, 1).Draw(t, "transmittance")
		s := glazing.Snow{DepthM: 0.05, ConductivityWMK: 0.05, Transmittance: pass, Reflectance: rapid.Float64Range(0, 1-pass).Draw(t, "reflectance")}
		under, outside, inside := s.Over(d)
		if math.Abs(total(under.Outside)+outside-1) > 1e-12 || math.Abs(total(under.Inside)+inside-1) > 1e-12 {
			t.Fatalf("light is made or lost: %v and %v", total(under.Outside)+outside, total(under.Inside)+inside)
		}
		if under.Outside.Transmittance > pass {
			t.Fatalf("more light under the glazing than under the snow: %v of %v", under.Outside.Transmittance, pass)
		}
	})
}
