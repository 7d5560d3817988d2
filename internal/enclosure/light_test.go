package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// All light is taken up, whatever falls first on what, to 1e-12 of it.
func TestLightIsTakenUpWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyRoom(t)
		f, err := e.Factors(Options{Strips: 8})
		if err != nil {
			t.Fatal(err)
		}
		back, first, taken := make([]float64, e.Pieces), make([]float64, e.Pieces), make([]float64, e.Pieces)
		sum := 0.0
		for i := range back {
			back[i] = rapid.Float64Range(0, 0.95).Draw(t, "thrown back")
			if f.Area[i] > 0 {
				first[i] = rapid.Float64Range(0, 1000).Draw(t, "first")
			}
			sum += first[i]
		}
		l, err := f.Light(back)
		if err != nil {
			t.Fatal(err)
		}
		of, arriving := make([]int, e.Pieces), make([]float64, e.Pieces)
		for i := range of {
			of[i] = i
		}
		l.Taken(of, e.Pieces).Of(first, taken)
		l.Arriving(of).Of(first, arriving)
		kept := 0.0
		for i, q := range taken {
			if q < 0 || arriving[i] < first[i]-1e-9 {
				t.Fatalf("piece %d: %g W arrive, %g W first, %g W taken up", i, arriving[i], first[i], q)
			}
			kept += q
		}
		if math.Abs(kept-sum) > 1e-12*sum {
			t.Fatalf("%.15g W of %.15g W", kept, sum)
		}
	})
}

// Two plates face to face of reflectance r and s: what arrives at the first of one watt on it is 1/(1 - r s).
func TestLightBetweenPlates(t *testing.T) {
	f := mustFactors(t, box(100, 0.001, 100), 40)
	l, err := f.Light([]float64{0.6, 0, 0.5, 0, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	taken, arriving := make([]float64, 2), make([]float64, 2)
	groups, places := l.Taken([]int{0, 0, 1, 1, 0, 0}, 2), l.Arriving([]int{0, 2})
	first := []float64{1, 0, 0, 0, 0, 0}
	groups.Of(first, taken)
	places.Of(first, arriving)
	for _, c := range []struct{ got, want float64 }{{arriving[0], 1 / (1 - 0.3)}, {arriving[1], 0.6 / 0.7}, {taken[0], 0.4 / 0.7}, {taken[1], 0.3 / 0.7}} {
		if math.Abs(c.got-c.want) > 1e-4 {
			t.Errorf("%.6f W, want %.6f W", c.got, c.want)
		}
	}
	if n := testing.AllocsPerRun(10, func() { groups.Of(first, taken) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func TestLightRefuses(t *testing.T) {
	f := mustFactors(t, box(2, 2, 2), 8)
	for _, r := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := f.Light([]float64{0, r, 0, 0, 0, 0}); err == nil {
			t.Errorf("a reflectance of %g is taken", r)
		}
	}
	if _, err := f.Light([]float64{1, 1, 1, 1, 1, 1}); err == nil {
		t.Error("a room of mirrors is taken")
	}
	if _, err := f.Light(nil); err == nil {
		t.Error("no reflectances are taken")
	}
}

// A face under a ceiling without end sees it alone; under one of half width w at height h, half the difference of the sines.
func TestSpot(t *testing.T) {
	long := box(6, 2, 1e7).Spot(Point{2, 0.5})
	left, right := 2/math.Hypot(2, 1.5), 4/math.Hypot(4, 1.5)
	for _, c := range []struct {
		piece int
		want  float64
	}{{2, (left + right) / 2}, {3, (1 - left) / 2}, {1, (1 - right) / 2}, {0, 0}, {4, 0}} {
		if math.Abs(long[c.piece]-c.want) > 1e-6 {
			t.Errorf("piece %d: %.6f, want %.6f", c.piece, long[c.piece], c.want)
		}
	}
	// in the middle of a cube's floor: four corners of the ceiling's quarter, Howell C-3 (differential element to a rectangle, parallel, at its corner)
	x, y := 0.5, 0.5
	want := 4 / (2 * math.Pi) * (x/math.Sqrt(1+x*x)*math.Atan(y/math.Sqrt(1+x*x)) + y/math.Sqrt(1+y*y)*math.Atan(x/math.Sqrt(1+y*y)))
	cube := box(1, 1, 1).Spot(Point{0.5, 1e-9})
	if math.Abs(cube[2]-want) > 1e-4 {
		t.Errorf("ceiling of a cube from the middle of its floor: %.5f, catalogue %.5f", cube[2], want)
	}
	for k := 3; k < 6; k++ {
		if math.Abs(cube[1]-cube[k]) > 1e-4 {
			t.Errorf("walls of a cube from the middle of its floor: %.5f and %.5f", cube[1], cube[k])
		}
	}
}

// Light of the sky falls: through an upright window none of it comes to the ceiling first, and none of the ground's to the floor; together they are
// the view factors of the window.
func TestDiffusePartsSkyFromGround(t *testing.T) {
	e := box(3, 2, 5)
	sky, ground := e.Diffuse(3, 24)
	if sky[2] != 0 || ground[0] != 0 {
		t.Errorf("sky on the ceiling %g, ground on the floor %g", sky[2], ground[0])
	}
	f := mustFactors(t, e, 24)
	for i := range sky {
		if got := (sky[i] + ground[i]) / 2; math.Abs(got-f.F(3, i)) > 1e-4 {
			t.Errorf("piece %d: %.5f, factor %.5f", i, got, f.F(3, i))
		}
	}
	sky, ground = e.Diffuse(2, 24) // a roof light sees sky alone
	if f := mustFactors(t, e, 24); math.Abs(sky[0]-f.F(2, 0)) > 1e-4 || ground[0] != 0 {
		t.Errorf("roof light to the floor: %g of sky, %g of ground", sky[0], ground[0])
	}
	// glazing on a slope sees the sky with (1 + cos b)/2: the two parts weighted so are the factors
	p := pit(1e6, 1)
	g := p.Edges[9]
	tilt := math.Atan2(g.A.Z-g.B.Z, g.A.X-g.B.X)
	sky, ground = p.Diffuse(9, 60)
	fp := mustFactors(t, p, 60)
	for i := range sky {
		w := (1 + math.Cos(tilt)) / 2
		if got := w*sky[i] + (1-w)*ground[i]; math.Abs(got-fp.F(6, i)) > 5e-4 {
			t.Errorf("slope to piece %d: %.5f, factor %.5f", i, got, fp.F(6, i))
		}
	}
}
