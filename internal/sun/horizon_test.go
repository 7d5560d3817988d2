package sun

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func mustSkyline(t interface{ Fatal(...any) }, points ...SkylinePoint) Skyline {
	s, err := NewSkyline(points)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The view over a level skyline and over one of the same height all round, by their closed forms.
func TestSkylineViews(t *testing.T) {
	var free Skyline
	for _, tilt := range []float64{0, 17, 45, 90, 120, 180} {
		for _, az := range []float64{0, 73, 180, 291} {
			p := Plane{Tilt: Degrees(tilt), Azimuth: Degrees(az)}
			near(t, "free view", free.SkyView(p), p.SkyView(), 1e-4)
			near(t, "free band", free.BandView(p), 1, 1e-12)
		}
	}
	for _, e := range []float64{5, 20, 60} {
		s := mustSkyline(t, SkylinePoint{0, Degrees(e)})
		c := Degrees(e).Cos()
		near(t, "level plane in a bowl", s.SkyView(Plane{}), c*c, 1e-9)
		// upright: (1/π) 2 (π/4 - e/2 - sin 2e/4)
		want := 2 / math.Pi * (math.Pi/4 - float64(Degrees(e))/2 - Degrees(2*e).Sin()/4)
		near(t, "upright plane in a bowl", s.SkyView(Plane{Tilt: Degrees(90), Azimuth: Degrees(40)}), want, 1e-4)
	}
}

// Over an endless wall, e high as seen straight on, a point of an upright plane has the view factor (1 - sin e)/2 to the sky: crossed strings.
func TestEndlessEdge(t *testing.T) {
	for _, e := range []float64{10, 30, 50} {
		var s Skyline
		s.Raise(Edge{Azimuth: Degrees(180), DistanceM: 2, RiseM: 2 * Degrees(e).Tan(), LeftM: math.Inf(1), RightM: math.Inf(1)})
		near(t, "sky over a wall", s.SkyView(Plane{Tilt: Degrees(90), Azimuth: Degrees(180)}), (1-Degrees(e).Sin())/2, 2e-3)
		near(t, "height straight on", s.At(Degrees(180)).Degrees(), e, 1e-9)
		near(t, "height behind", s.At(Degrees(0)).Degrees(), 0, 1e-9)
		// the profile angle of the skyline is e in every direction on that side
		at := Degrees(220)
		h := Position{Elevation: s.At(at), Azimuth: at}
		near(t, "profile angle", ProfileAngle(h, Degrees(180)).Degrees(), e, 1e-6)
	}
}

// Straight lines between points, over north too.
func TestSkylineIsClosed(t *testing.T) {
	s := mustSkyline(t, SkylinePoint{Degrees(350), Degrees(10)}, SkylinePoint{Degrees(30), Degrees(30)}, SkylinePoint{Degrees(180), 0})
	near(t, "north", s.At(0).Degrees(), 15, 1e-9)
	near(t, "a full turn on", s.At(Degrees(360)).Degrees(), 15, 1e-9)
	near(t, "10°", s.At(Degrees(10)).Degrees(), 20, 1e-9)
	near(t, "265°", s.At(Degrees(265)).Degrees(), 5, 0.03)
	for _, bad := range [][]SkylinePoint{nil, {{0, Degrees(90)}}, {{0, Degrees(-1)}}, {{0, 0}, {Degrees(360), 0}}, {{0, Angle(math.NaN())}}} {
		if _, err := NewSkyline(bad); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
}

// The disc is half seen in an hour in whose middle it rises over the skyline.
func TestSeen(t *testing.T) {
	s := mustSkyline(t, SkylinePoint{0, Degrees(20)})
	at := func(e float64) Position { return Position{Elevation: Degrees(e), Azimuth: Degrees(120)} }
	for _, c := range []struct{ a, b, c, want float64 }{{15, 20, 25, 0.5}, {10, 15, 20, 0}, {20, 25, 28, 1}, {10, 18, 22, 0.25}, {30, 40, 50, 1}} {
		disc, round := s.Seen([3]Position{at(c.a), at(c.b), at(c.c)})
		near(t, "disc", disc, c.want, 1e-9)
		if round < 0 || round > 1 || c.want == 1 && c.a >= 40 && round != 1 {
			t.Errorf("glow %g", round)
		}
	}
	var free Skyline
	disc, round := free.Seen([3]Position{at(0), at(1), at(3)})
	near(t, "free disc", disc, 1, 0)
	near(t, "free glow", round, 1, 0)
}

// A higher skyline never gives more of anything on any plane.
func TestHigherSkylineIsNeverBrighter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := func(name string, lo, hi float64) Angle { return Degrees(rapid.Float64Range(lo, hi).Draw(t, name)) }
		var low, high []SkylinePoint
		for k := range 6 {
			e := deg("low", 0, 40)
			low = append(low, SkylinePoint{Degrees(float64(60 * k)), e})
			high = append(high, SkylinePoint{Degrees(float64(60 * k)), e + deg("more", 0, 30)})
		}
		p := Plane{Tilt: deg("tilt", 0, 180), Azimuth: deg("azimuth", 0, 360)}
		at := Position{Elevation: deg("sun", 1, 70), Azimuth: deg("from", 0, 360)}
		at.Zenith = Degrees(90) - at.Elevation
		at.DistanceAU = 1
		sky := Sky{Span: Span{Position: at, UpShare: 1}, Light: Light{rapid.Float64Range(0, 900).Draw(t, "beam"), rapid.Float64Range(1, 300).Draw(t, "diffuse")}, Albedo: 0.3}
		a, b := mustSkyline(t, low...), mustSkyline(t, high...)
		sum := func(s *Skyline) float64 {
			disc, round := s.Seen([3]Position{at, at, at})
			free := max(1e-9, p.SkyView())
			return p.Irradiance(sky).Through(Passed{disc, round, s.SkyView(p) / free, s.BandView(p), s.SkyView(Plane{})}).TotalWM2()
		}
		if sum(&b) > sum(&a)+1e-6 {
			t.Fatalf("%g W/m2 under the higher skyline, %g under the lower", sum(&b), sum(&a))
		}
	})
}
