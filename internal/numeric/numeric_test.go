package numeric

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// By hand: of three values the positions are 1/4, 2/4 and 3/4.
func TestQuantile(t *testing.T) {
	three := []float64{1, 3, 7}
	for _, c := range []struct{ q, want float64 }{{0, 1}, {0.25, 1}, {0.375, 2}, {0.5, 3}, {0.625, 5}, {0.75, 7}, {1, 7}} {
		if got := Quantile(three, c.q); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("share %g lies below %g, want %g", c.q, got, c.want)
		}
	}
	if got := Quantile([]float64{5}, 0.1); got != 5 {
		t.Errorf("of one value %g", got)
	}
	if got := Quantile(nil, 0.5); !math.IsNaN(got) {
		t.Errorf("of no sample %g", got)
	}
}

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name   string
		f      func(float64) float64
		lo, hi float64
		want   float64
		tol    float64
		origin string
	}{
		{"square", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2, 1e-14, "sqrt 2"},
		{"turned", func(x float64) float64 { return x*x - 2 }, 2, 0, math.Sqrt2, 1e-14, "sqrt 2"},
		{"cosine", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, 1e-14, "Dottie number"},
		{"end", func(x float64) float64 { return x - 1 }, 1, 3, 1, 0, "the end itself"},
		{"flat", func(x float64) float64 { return math.Pow(x-1, 9) }, -4, 4, 1, 0.01, "ninefold root"},
		{"jump", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3, 1e-12, "sign only: bisection"},
		{"steep", func(x float64) float64 { return math.Exp(50*x) - 1 }, -1, 1, 0, 1e-13, "0"},
	} {
		calls := 0
		got, err := Root(func(x float64) float64 { calls++; return c.f(x) }, c.lo, c.hi, 1e-14)
		if err != nil || math.Abs(got-c.want) > c.tol || calls > 150 {
			t.Errorf("%s: %.17g, %v after %d calls, want %.17g (%s)", c.name, got, err, calls, c.want, c.origin)
		}
	}
}

func TestRootRefuses(t *testing.T) {
	for _, c := range []struct {
		f    func(float64) float64
		want string
	}{
		{func(x float64) float64 { return 1 + x*x }, "no change of sign"},
		{func(float64) float64 { return math.NaN() }, "no value at an end"},
		{func(x float64) float64 {
			if math.Abs(x) == 1 {
				return x
			}
			return math.NaN()
		}, "no value inside"},
	} {
		if _, err := Root(c.f, -1, 1, 1e-9); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %q", err, c.want)
		}
	}
}

func TestLine(t *testing.T) {
	l, err := NewLine([]float64{0, 1, 3}, []float64{10, 20, 0})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]float64{{-5, 10}, {0, 10}, {0.5, 15}, {1, 20}, {2, 10}, {3, 0}, {9, 0}} {
		if got := l.At(c[0]); got != c[1] {
			t.Errorf("At(%g) = %g, want %g", c[0], got, c[1])
		}
	}
	if !math.IsNaN(l.At(math.NaN())) {
		t.Error("NaN came out as a number")
	}
}

func TestCurveMeetsItsTable(t *testing.T) {
	x, y := []float64{0, 1, 2, 4, 5}, []float64{0, 1, 1, 5, 3}
	c, err := NewCurve(x, y)
	if err != nil {
		t.Fatal(err)
	}
	for i := range x {
		if got := c.At(x[i]); got != y[i] {
			t.Errorf("At(%g) = %g, want %g", x[i], got, y[i])
		}
	}
	if got := c.At(1.5); got != 1 {
		t.Errorf("a level stretch is %g, want 1", got)
	}
	if c.At(-1) != 0 || c.At(9) != 3 || !math.IsNaN(c.At(math.NaN())) {
		t.Error("ends are not kept, or NaN came out as a number")
	}
}

// A cubic Hermite curve with exact slopes on a straight line is that line.
func TestCurveKeepsALine(t *testing.T) {
	c, err := NewCurve([]float64{-1, 0, 2, 7}, []float64{-2, 1, 7, 22})
	if err != nil {
		t.Fatal(err)
	}
	for x := -1.0; x <= 7; x += 0.1 {
		if got, want := c.At(x), 3*x+1; math.Abs(got-want) > 1e-13 {
			t.Errorf("At(%g) = %g, want %g", x, got, want)
		}
	}
}

// Between two points the curve never leaves their values.
func TestCurveIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		at := 0.0
		for i := range x {
			at += rapid.Float64Range(0.01, 10).Draw(t, "step")
			x[i], y[i] = at, rapid.Float64Range(-100, 100).Draw(t, "value")
		}
		c, err := NewCurve(x, y)
		if err != nil {
			t.Fatal(err)
		}
		for i := range n - 1 {
			last := y[i]
			for k := 1; k <= 50; k++ {
				v := c.At(x[i] + (x[i+1]-x[i])*float64(k)/50)
				if (v-last)*(y[i+1]-y[i]) < -1e-9*200*200 {
					t.Fatalf("turns between %g and %g", x[i], x[i+1])
				}
				last = v
			}
		}
	})
}

func TestTablesRefuse(t *testing.T) {
	for _, c := range []struct {
		x, y []float64
		want string
	}{
		{nil, nil, "at least one"},
		{[]float64{1, 2}, []float64{1}, "as many"},
		{[]float64{1, 1}, []float64{1, 2}, "row 2 is at 1 after 1"},
		{[]float64{1, math.NaN()}, []float64{1, 2}, "row 2"},
		{[]float64{1, 2}, []float64{1, math.Inf(1)}, "must be finite"},
	} {
		if _, err := NewLine(c.x, c.y); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("NewLine: %v, want %q", err, c.want)
		}
		if _, err := NewCurve(c.x, c.y); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("NewCurve: %v, want %q", err, c.want)
		}
	}
}

// The solution put back into the equations gives the right side.
func TestTridiagonal(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 40; n++ {
		a, b, c, d := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		x, work := make([]float64, n), make([]float64, n)
		for i := range n {
			a[i], c[i], d[i] = -r.Float64(), -r.Float64(), r.Float64()
			b[i] = 0.01 - a[i] - c[i]
		}
		if err := Tridiagonal(a, b, c, d, x, work); err != nil {
			t.Fatal(err)
		}
		for i := range n {
			sum := b[i] * x[i]
			if i > 0 {
				sum += a[i] * x[i-1]
			}
			if i < n-1 {
				sum += c[i] * x[i+1]
			}
			if math.Abs(sum-d[i]) > 1e-12 {
				t.Errorf("n %d row %d: %g, want %g", n, i, sum, d[i])
			}
		}
		same := append([]float64(nil), d...)
		if err := Tridiagonal(a, b, c, same, same, work); err != nil || same[n-1] != x[n-1] || same[0] != x[0] {
			t.Errorf("n %d: solving in place differs", n)
		}
	}
	one := []float64{0}
	if err := Tridiagonal(one, one, one, one, one, one); err == nil {
		t.Error("a zero pivot went through")
	}
}

func TestGauss(t *testing.T) {
	// Abramowitz & Stegun (1964), table 25.4: n = 2, 3 and 5.
	for _, c := range []struct {
		n, i int
		x, w float64
	}{
		{1, 0, 0, 2},
		{2, 1, 0.577350269189626, 1},
		{3, 1, 0, 0.888888888888889},
		{3, 2, 0.774596669241483, 0.555555555555556},
		{5, 3, 0.538469310105683, 0.478628670499366},
		{5, 4, 0.906179845938664, 0.236926885056189},
	} {
		x, w := Gauss(c.n)
		if math.Abs(x[c.i]-c.x) > 1e-15 || math.Abs(w[c.i]-c.w) > 1e-15 {
			t.Errorf("n %d place %d: %.15f %.15f, want %.15f %.15f", c.n, c.i, x[c.i], w[c.i], c.x, c.w)
		}
	}
	for n := 1; n <= 64; n++ {
		degree := float64(2*n - 1)
		got := Integrate(func(x float64) float64 { return math.Pow(x, degree) }, 0, 1, n)
		if want := 1 / (degree + 1); math.Abs(got-want) > 1e-14 {
			t.Errorf("n %d: integral of x^%g is %g, want %g", n, degree, got, want)
		}
	}
}
