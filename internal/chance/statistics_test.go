package chance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Wilson's band in the cases that have a short form: none of n, all of n, half of n.
func TestShareClosedForms(t *testing.T) {
	const z2 = eightInTen * eightInTen
	for _, n := range []int{1, 5, 20, 100, 4000} {
		N := float64(n)
		for _, c := range []struct {
			k      int
			lo, hi float64
		}{{0, 0, z2 / (N + z2)}, {n, N / (N + z2), 1}} {
			s := shareOf(c.k, n)
			if math.Abs(s.Lo-c.lo) > 1e-12 || math.Abs(s.Hi-c.hi) > 1e-12 {
				t.Errorf("%d of %d: %.6f to %.6f, want %.6f to %.6f", c.k, n, s.Lo, s.Hi, c.lo, c.hi)
			}
		}
		if n%2 == 0 {
			half := eightInTen / 2 / math.Sqrt(N+z2)
			if s := shareOf(n/2, n); math.Abs(s.Lo-(0.5-half)) > 1e-12 || math.Abs(s.Hi-(0.5+half)) > 1e-12 {
				t.Errorf("half of %d: %.6f to %.6f, want 0.5 ± %.6f", n, s.Lo, s.Hi, half)
			}
		}
	}
	if s := shareOf(0, 0); s.Lo != 0 || s.Hi != 1 {
		t.Errorf("of no winters anything is possible, not %.2f to %.2f", s.Lo, s.Hi)
	}
}

// The band of a return level holds the true one in at least 8 of 10 samples, and each side misses in at most one of ten: 4,000 samples of a normal and of an exponential
// law (seed 5), whose quantiles are known. Three standard errors of the count are allowed.
func TestReturnHoldsTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	const samples, n = 4000, 120
	for _, law := range []struct {
		name     string
		draw     func() float64
		quantile func(p float64) float64
	}{
		{"normal", random.NormFloat64, func(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }},
		{"exponential, cold side", func() float64 { return -random.ExpFloat64() }, math.Log},
	} {
		for _, years := range returnYears {
			truth := law.quantile(1 / float64(years))
			below, above, middle := 0, 0, 0.0
			x := make([]float64, n)
			for range samples {
				for i := range x {
					x[i] = law.draw()
				}
				slices.Sort(x)
				r := returnOf(x, years)
				middle += (r.C - truth) / samples
				if r.Lo > truth {
					below++
				}
				if r.Hi < truth {
					above++
				}
			}
			allowed := 0.1*samples + 3*math.Sqrt(samples*0.1*0.9)
			if float64(below) > allowed || float64(above) > allowed {
				t.Errorf("%s, one in %d: the truth lies below in %d and above in %d of %d samples, allowed %.0f", law.name, years, below, above, samples, allowed)
			}
			if math.Abs(middle) > 0.1 {
				t.Errorf("%s, one in %d: off by %.3f in the mean", law.name, years, middle)
			}
		}
	}
}

// What so few cannot tell is not told: no one in twenty of ten winters, no cold end where the coldest of all is needed for it.
func TestReturnOfFew(t *testing.T) {
	x := []float64{-9, -7, -6, -5, -4, -3, -3, -2, -1, 0}
	if r := returnOf(x, 20); !math.IsNaN(r.C) || !math.IsNaN(r.Lo) || !math.IsNaN(r.Hi) {
		t.Errorf("one in twenty of ten winters: %+v", r)
	}
	if r := returnOf(x, 10); math.IsNaN(r.C) || !math.IsNaN(r.Lo) || math.IsNaN(r.Hi) {
		t.Errorf("one in ten of ten winters: %+v, want a figure, no cold end, and a mild one", r)
	}
	if r := returnOf(x, 2); r.C != -3.5 || !(r.Lo < r.C && r.C < r.Hi) {
		t.Errorf("the middle of ten winters: %+v", r)
	}
}

// Bands of a sample of 999 evenly spaced values are those of the even law.
func TestBandOfEven(t *testing.T) {
	x := make([]float64, 999)
	for i := range x {
		x[i] = float64(i+1) / 1000
	}
	if b := BandOf(x); math.Abs(b.Lo-0.1) > 1e-12 || math.Abs(b.Middle-0.5) > 1e-12 || math.Abs(b.Hi-0.9) > 1e-12 {
		t.Errorf("%+v", b)
	}
}

// The shares of a plane with known slopes are its squares; what is noise is in none. Slopes 2, 1 and 0 with noise of deviation 1: shares 4/6, 1/6, 0.
func TestSharesOfAPlane(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	in := &inputs{names: [][3]string{{"none"}, {"much"}, {"some"}}}
	const n = 20000
	z, shift := make([][]float64, n), make([]float64, n)
	sum, square := 0.0, 0.0
	for i := range z {
		z[i] = []float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}
		shift[i] = 3 + 2*z[i][1] + z[i][2] + random.NormFloat64()
		sum, square = sum+shift[i], square+shift[i]*shift[i]
	}
	list := in.shares(z, shift, square/n-sum/n*sum/n)
	want := []Input{{Label: "much", PerDeviation: 2, Share: 4.0 / 6}, {Label: "some", PerDeviation: 1, Share: 1.0 / 6}, {Label: "none"}}
	for i, w := range want {
		if got := list[i]; got.Label != w.Label || math.Abs(got.PerDeviation-w.PerDeviation) > 0.03 || math.Abs(got.Share-w.Share) > 0.02 {
			t.Errorf("place %d: %+v, want about %+v", i+1, got, w)
		}
	}
	if in.shares(z[:8], shift[:8], 1) != nil {
		t.Error("eight draws of three inputs were told shares")
	}
}
