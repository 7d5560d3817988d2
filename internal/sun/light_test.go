package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// spanAt is the sun at a zenith and azimuth [°] while it is up, as strong
// outside the air as given.
func spanAt(zenith, azimuth, extraterrestrial float64) Span {
	return Span{UpShare: 1, Position: Position{
		Elevation:  Degrees(90 - zenith),
		Zenith:     Degrees(zenith),
		Azimuth:    Degrees(azimuth),
		DistanceAU: math.Sqrt(SolarConstantWM2 / extraterrestrial),
	}}
}

// Erbs 1982, its formula recomputed.
func TestDiffuseShare(t *testing.T) {
	for _, c := range []struct{ kt, want float64 }{
		{-0.1, 1}, {0, 1}, {0.1, 0.9910}, {0.22, 0.9802}, {0.3, 0.9486}, {0.5, 0.6592}, {0.7, 0.2440}, {0.8, 0.1653}, {0.9, 0.1650},
	} {
		near(t, "diffuse share", DiffuseShare(c.kt), c.want, 0.0001)
	}
}

// Library check values (c02), made with Spencer's series of 1971 on 1366.1 W/m2:
// 1414.0 on 1 January, 1321.8 on 20 June, 1320.6 on 29 June.
func TestSplit(t *testing.T) {
	for _, c := range []struct {
		name               string
		global, zenith, E0 float64
		beam, diffuse, kt  float64
	}{
		{"1 January, low", 50, 85, 1414.0, 96.719, 41.570, 0.405724},
		{"1 January, high", 1000, 10, 1414.0, 794.206, 217.860, 0.718133},
		{"20 June", 1000, 10, 1321.8, 842.002, 170.790, 0.768214},
		{"29 June", 1000, 10, 1320.6, 842.358, 170.439, 0.768919},
	} {
		s := spanAt(c.zenith, 180, c.E0)
		kt, ok := Clearness(c.global, s)
		if !ok {
			t.Errorf("%s: no clearness", c.name)
		}
		near(t, c.name+" kt", kt, c.kt, 0.0002)
		l := Split(c.global, s)
		near(t, c.name+" beam", l.BeamNormalWM2, c.beam, 0.5)
		near(t, c.name+" diffuse", l.DiffuseWM2, c.diffuse, 0.5)
	}
}

// What falls on the level plane stays what was measured, in every light.
func TestSplitKeepsTheGlobal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spanAt(rapid.Float64Range(0, 110).Draw(t, "zenith"), 180, 1361)
		s.UpShare = rapid.Float64Range(0, 1).Draw(t, "up")
		g := rapid.Float64Range(0, 1400).Draw(t, "global")
		l := Split(g, s)
		if math.Abs(l.GlobalWM2(s)-g) > 1e-9*(1+g) {
			t.Fatalf("global %v came back as %v", g, l.GlobalWM2(s))
		}
		if l.BeamNormalWM2 < 0 || l.DiffuseWM2 < -1e-9 || l.BeamNormalWM2 > 1361*s.UpShare+1e-9 {
			t.Fatalf("global %v split into %+v", g, l)
		}
	})
}

// An hour in which the sun is up for a share is as clear as the same sun for a whole hour.
func TestSplitOfPartOfAnHour(t *testing.T) {
	whole := spanAt(80, 120, 1400)
	part := whole
	part.UpShare = 0.25
	a, b := Split(120, whole), Split(30, part)
	near(t, "beam", b.BeamNormalWM2, a.BeamNormalWM2/4, 1e-9)
	near(t, "diffuse", b.DiffuseWM2, a.DiffuseWM2/4, 1e-9)
}

// Library check values (c02) of the 2002 formula, and the same with the air mass
// they were made with, to the last digit.
func TestIneichen(t *testing.T) {
	for _, c := range []struct {
		zenith, m, E0, z      float64
		global, beam, diffuse float64
	}{
		{10, 1, 1364, 0, 1038.159219, 942.208186, 110.265293},
		{10, 1, 1364, 2000, 1134.24312, 994.95378, 154.40493},
	} {
		l := ineichen(Haze{LinkeTurbidity: 3, ElevationM: c.z}, c.E0, Degrees(c.zenith).Cos(), c.m)
		near(t, "global", l.BeamNormalWM2*Degrees(c.zenith).Cos()+l.DiffuseWM2, c.global, 0.001)
		near(t, "beam", l.BeamNormalWM2, c.beam, 0.001)
		near(t, "diffuse", l.DiffuseWM2, c.diffuse, 0.001)
	}
}

// Library check values (c02). They name neither height nor E0: 0 m and 1364 W/m2
// as in the row that does give all three parts.
func TestIneichenOverADay(t *testing.T) {
	for _, c := range []struct{ zenith, m, global, beam, diffuse float64 }{
		{82.85457, 6.97936, 65.49427, 321.16092, 25.54562},
		{46.04676, 1.32355, 704.69681, 888.90147, 87.73601},
		{72.41687, 3.01614, 251.99428, 655.44925, 53.99013},
	} {
		l := ineichen(Haze{LinkeTurbidity: 3}, 1364, Degrees(c.zenith).Cos(), c.m)
		near(t, "global", l.BeamNormalWM2*Degrees(c.zenith).Cos()+l.DiffuseWM2, c.global, 0.01)
		near(t, "beam", l.BeamNormalWM2, c.beam, 0.01)
		near(t, "diffuse", l.DiffuseWM2, c.diffuse, 0.01)
	}
}

func TestClearSkyLaws(t *testing.T) {
	if l := ClearSky(Haze{LinkeTurbidity: 3}, Span{Position: Position{Elevation: Degrees(-1), DistanceAU: 1}}); l != (Light{}) {
		t.Errorf("light with the sun down: %+v", l)
	}
	p := place(45, 0, 0)
	s := OverHour(p, time.Date(2024, 1, 5, 12, 0, 0, 0, time.UTC))
	clean, hazy := ClearSky(Haze{LinkeTurbidity: 2}, s), ClearSky(Haze{LinkeTurbidity: 4}, s)
	if clean.BeamNormalWM2 <= hazy.BeamNormalWM2 || clean.GlobalWM2(s) <= hazy.GlobalWM2(s) {
		t.Errorf("haze brightens: %+v against %+v", clean, hazy)
	}
	high := ClearSky(Haze{LinkeTurbidity: 2, ElevationM: 2000}, s)
	if high.BeamNormalWM2 <= clean.BeamNormalWM2 {
		t.Errorf("the mountain is darker: %+v against %+v", high, clean)
	}
}

// 7.058 mol of photons for each kWh (Logan, Sams and Faust 2016).
func TestPhotons(t *testing.T) {
	near(t, "mol in a kWh", PhotonsMolM2(3.6e6), 7.058, 1e-9)
	near(t, "flux at 500 W/m2", PhotonFluxMolM2S(500)*1e6, 980.3, 0.1)
}
