package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Library check values (c02). Theirs come from the same method with seven digits
// of the coefficients and an air mass given; ours from the printed three digits,
// for which the list of check values allows 0.5 W/m2.
func TestPerezParts(t *testing.T) {
	for _, c := range []struct {
		name                            string
		tilt, beam, diffuse, zenith, az float64
		E0                              float64
		iso, circumsolar, horizon       float64
		tolerance                       float64
	}{
		{"noon", 40, 939.95469881, 118.45831879, 10.56413562, 144.76567754, 1321.16558348, 41.621826, 61.619987, 5.842518, 0.5},
		{"evening", 40, 646.22886049, 62.03376265, 72.41687122, 287.04104128, 1321.16558348, 31.72696071, 4.47966439, 9.25316454, 0.5},
		{"sun behind", 40, 316.1949056, 40.46149818, 82.85457044, 66.71410338, 1321.16558348, 26.84138589, 0, 4.62212181, 0.5},
		{"cloudy", 34, 158, 249, 57.746951, 171.003315, 1414, 166.785419, 113.548755, 1.076010, 0.5},
	} {
		p := Plane{Tilt: Degrees(c.tilt), Azimuth: Degrees(180)}
		i := p.Irradiance(Sky{Span: spanAt(c.zenith, c.az, c.E0), Light: Light{c.beam, c.diffuse}})
		near(t, c.name+" isotropic", i.IsotropicWM2, c.iso, c.tolerance)
		near(t, c.name+" circumsolar", i.CircumsolarWM2, c.circumsolar, c.tolerance)
		near(t, c.name+" horizon", i.HorizonWM2, c.horizon, c.tolerance)
	}
}

// Sums of the library check values (c02) at an albedo of 0.4: their ground part
// takes the measured global 1042.48, which their beam and diffuse do not quite give.
func TestPlaneSums(t *testing.T) {
	p := Plane{Tilt: Degrees(40), Azimuth: Degrees(180)}
	i := p.Irradiance(Sky{
		Span:   spanAt(10.56413562, 144.76567754, 1321.16558348),
		Light:  Light{939.95469881, 118.45831879},
		Albedo: 0.4,
	})
	near(t, "beam", i.BeamWM2, 798.31939, 0.01)
	near(t, "sky and ground", i.SkyWM2()+i.GroundWM2, 157.86314, 0.1)
	near(t, "total", i.TotalWM2(), 956.18253696, 0.1)
	near(t, "directed", i.DirectedWM2(), 798.31939+61.619987, 0.1)

	// Ground alone: tilt 40, global 900, albedo 0.25 (c02).
	flat := Sky{Span: spanAt(0, 0, 1361), Light: Light{0, 900}, Albedo: 0.25}
	near(t, "ground", p.Irradiance(flat).GroundWM2, 26.320000149, 1e-6)
}

// Library check values (c02), and an upright plane seen from the side.
func TestIncidence(t *testing.T) {
	north := Plane{Tilt: Degrees(90)}
	for _, c := range []struct{ azimuth, want float64 }{{60, 75.5224878}, {170, 119.4987042}} {
		got := math.Acos(north.CosIncidence(spanAt(30, c.azimuth, 1361).Position)) * 180 / math.Pi
		near(t, "incidence", got, c.want, 1e-6)
	}
	// Duffie and Beckman 1.8.1: ratio of beam on the plane of 1.6.1 to the level one.
	h, az := horizon(Degrees(43), Degrees(-13.95), Degrees(-22.5))
	at := Position{Elevation: h, Azimuth: az}
	ratio := Plane{Degrees(45), Degrees(195)}.CosIncidence(at) / Plane{}.CosIncidence(at)
	near(t, "Rb", ratio, 1.664, 0.001)
}

func TestProfileAngle(t *testing.T) {
	south := Degrees(180)
	near(t, "sun ahead", ProfileAngle(spanAt(60, 180, 1361).Position, south).Degrees(), 30, 1e-9)
	near(t, "sun behind", ProfileAngle(spanAt(60, 0, 1361).Position, south).Degrees(), 150, 1e-9)
	near(t, "sun along the house", ProfileAngle(spanAt(60, 90, 1361).Position, south).Degrees(), 90, 1e-9)
	// tan p = tan h / cos(γs - γ), 45° aside at 30°
	near(t, "aside", ProfileAngle(spanAt(60, 225, 1361).Position, south).Degrees(),
		math.Atan(math.Tan(math.Pi/6)/math.Cos(math.Pi/4))*180/math.Pi, 1e-9)
}

func TestViews(t *testing.T) {
	for _, c := range []struct{ tilt, sky float64 }{{0, 1}, {60, 0.75}, {90, 0.5}, {180, 0}} {
		p := Plane{Tilt: Degrees(c.tilt)}
		near(t, "sky", p.SkyView(), c.sky, 1e-12)
		near(t, "closure", p.SkyView()+p.GroundView(), 1, 1e-12)
	}
}

// skies draws any light a record may bring.
func skies(t *rapid.T) Sky {
	return Sky{
		Span: Span{UpShare: rapid.Float64Range(0.01, 1).Draw(t, "up"), Position: Position{
			Elevation: Degrees(rapid.Float64Range(0.01, 89.9).Draw(t, "elevation")),
			Azimuth:   Degrees(rapid.Float64Range(0, 360).Draw(t, "azimuth")), DistanceAU: 1,
		}},
		Light:  Light{rapid.Float64Range(0, 1100).Draw(t, "beam"), rapid.Float64Range(0, 500).Draw(t, "diffuse")},
		Albedo: rapid.Float64Range(0, 1).Draw(t, "albedo"),
	}
}

// East and west changed: everything is changed with them, nothing else.
func TestMirroredSky(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sky := skies(t)
		sky.Zenith = Angle(math.Pi/2) - sky.Elevation
		p := Plane{Degrees(rapid.Float64Range(0, 180).Draw(t, "tilt")), Degrees(rapid.Float64Range(0, 360).Draw(t, "facing"))}
		mirror, facing := sky, p
		mirror.Azimuth, facing.Azimuth = -sky.Azimuth, -p.Azimuth
		a, b := p.Irradiance(sky), facing.Irradiance(mirror)
		if math.Abs(a.TotalWM2()-b.TotalWM2()) > 1e-9 || math.Abs(a.CosIncidence-b.CosIncidence) > 1e-12 {
			t.Fatalf("mirrored: %+v, %+v", a, b)
		}
	})
}

// No plane gets more beam than the sky sends, nothing is negative in sum, and a
// level plane gets exactly the global (sun above 5°, where F1 a/b is F1).
func TestIrradianceBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sky := skies(t)
		sky.Zenith = Angle(math.Pi/2) - sky.Elevation
		p := Plane{Degrees(rapid.Float64Range(0, 180).Draw(t, "tilt")), Degrees(rapid.Float64Range(0, 360).Draw(t, "facing"))}
		i := p.Irradiance(sky)
		if i.BeamWM2 < 0 || i.BeamWM2 > sky.BeamNormalWM2 || i.SkyWM2() < -1e-9 || i.GroundWM2 < 0 {
			t.Fatalf("out of bounds: %+v", i)
		}
		level := Plane{}.Irradiance(sky)
		if sky.Elevation > Degrees(5) && math.Abs(level.TotalWM2()-sky.GlobalWM2(sky.Span)) > 1e-9*(1+level.TotalWM2()) {
			t.Fatalf("level plane: %v, global %v", level.TotalWM2(), sky.GlobalWM2(sky.Span))
		}
	})
}

// The sphere sees all: the mean over all directions of a plane of max(0, cos θ) is a quarter.
func TestBeamOverAllDirections(t *testing.T) {
	at := spanAt(50, 130, 1361).Position
	sum, weight := 0.0, 0.0
	for b := 0.5; b < 180; b++ {
		for g := 0.5; g < 360; g++ {
			w := math.Sin(b * math.Pi / 180)
			sum += w * max(0, Plane{Degrees(b), Degrees(g)}.CosIncidence(at))
			weight += w
		}
	}
	near(t, "mean cosine", sum/weight, 0.25, 1e-4)
}

func TestDarkAndDusk(t *testing.T) {
	p := Plane{Tilt: Degrees(60), Azimuth: Degrees(180)}
	dusk := Sky{Span: Span{Position: Position{Elevation: Degrees(-2), Azimuth: Degrees(240), DistanceAU: 1}}, Light: Light{3, 10}}
	i := p.Irradiance(dusk)
	if i.BeamWM2 != 0 || i.CircumsolarWM2 != 0 {
		t.Errorf("beam from a sun that is down: %+v", i)
	}
	near(t, "dusk", i.IsotropicWM2, 7.5, 1e-12)
	if z := p.Irradiance(Sky{Span: spanAt(50, 180, 1361)}); z.TotalWM2() != 0 {
		t.Errorf("light from a black sky: %+v", z)
	}
}

func TestNotANumberPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a light that is not a number went through")
		}
	}()
	Plane{}.Irradiance(Sky{Span: spanAt(50, 180, 1361), Light: Light{math.NaN(), 10}})
}

// The place on the other side of the equator, its sky mirrored: same elevation,
// azimuth counted from the other pole, a north-facing plane gets what the
// south-facing one got. Exact in the geometry.
func TestMirroredHemisphere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := Degrees(rapid.Float64Range(-89, 89).Draw(t, "lat"))
		decl := Degrees(rapid.Float64Range(-23.4, 23.4).Draw(t, "decl"))
		hour := Degrees(rapid.Float64Range(-179, 179).Draw(t, "hour"))
		h, az := horizon(lat, decl, hour)
		hm, azm := horizon(-lat, -decl, hour)
		if math.Abs(float64(h-hm)) > 1e-9 || math.Abs(float64((az+azm-math.Pi).HalfTurn())) > 1e-6 {
			t.Fatalf("north %v %v, south %v %v", h.Degrees(), az.Degrees(), hm.Degrees(), azm.Degrees())
		}
	})
}

// About half a year later the sun's declination is the opposite one; then, at the
// same hour by the sun, it stands in the south as it stood in the north. What is
// left is the parallax, which the other distance changes.
func TestSouthHalfAYearLater(t *testing.T) {
	for month := time.January; month <= time.May; month++ {
		when := time.Date(2023, month, 21, 9, 40, 0, 0, time.UTC)
		north := At(place(52, 0, 0), when)
		turned := func(t time.Time) bool { return At(Place{}, t).Declination < -north.Declination }
		later := when.AddDate(0, 6, 0)
		later = crossing(later.AddDate(0, 0, -15), later.AddDate(0, 0, 15), turned)
		there := place(-52, 0, 0)
		there.Longitude = north.HourAngle - At(there, later).HourAngle
		south := At(there, later)
		near(t, month.String()+" elevation", south.Elevation.Degrees(), north.Elevation.Degrees(), 0.001)
		near(t, month.String()+" azimuths", (south.Azimuth + north.Azimuth - math.Pi).HalfTurn().Degrees(), 0, 0.001)
	}
}

func BenchmarkIrradiance(b *testing.B) {
	p := Plane{Tilt: Degrees(60), Azimuth: Degrees(180)}
	sky := Sky{Span: spanAt(60, 150, 1361), Light: Light{700, 90}, Albedo: 0.2}
	b.ReportAllocs()
	for b.Loop() {
		p.Irradiance(sky)
	}
}
