package thermal

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"suncellar/internal/thermal/lanes"
)

// dominant makes a band matrix that is positive definite because its diagonal outweighs its rows.
func dominant(r *rand.Rand, n, band int) []float64 {
	w := band + 1
	l := make([]float64, n*w)
	for i := range n {
		for d := 1; d <= min(band, i); d++ {
			l[i*w+band-d] = -r.Float64()
		}
		l[i*w+band] = 2*float64(band) + 1 + r.Float64()
	}
	return l
}

// The factor times itself is the matrix, the factor times the solution is the right side: for sizes that leave every remainder
// of the loops by fours.
func TestBandFactor(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, size := range []struct{ n, band int }{{1, 0}, {5, 1}, {9, 3}, {11, 4}, {40, 5}, {40, 6}, {60, 7}, {30, 29}, {200, 28}, {17, 16}, {50, 16}, {63, 17}, {90, 18}, {61, 43}} {
		n, band := size.n, size.band
		l := dominant(r, n, band)
		matrix := append([]float64(nil), l...)
		choleskyBand(l, 0, n, band)
		factor := func(i, j int) float64 {
			switch at := i*(band+1) + band - (i - j); {
			case i < j || i-j > band:
				return 0
			case i == j:
				return 1 / l[at]
			default:
				return l[at]
			}
		}
		product := func(i int, other func(k int) float64) float64 {
			sum := 0.0
			for k := max(0, i-band); k <= i; k++ {
				sum += factor(i, k) * other(k)
			}
			return sum
		}
		const rounding = 1e-12 // of entries up to 60
		for i := range n {
			for j := max(0, i-band); j <= i; j++ {
				got := product(i, func(k int) float64 { return factor(j, k) })
				if want := matrix[i*(band+1)+band-(i-j)]; math.Abs(got-want) > rounding {
					t.Fatalf("n %d band %d: entry %d,%d is %g, want %g", n, band, i, j, got, want)
				}
			}
		}
		right := make([]float64, n)
		for i := range right {
			right[i] = r.Float64()
		}
		x, y := slices.Clone(right), slices.Clone(right)
		forward(l, x, n, band)
		backward(l, y, n, band)
		for i := range right {
			sum := 0.0
			for k := i; k <= min(n-1, i+band); k++ {
				sum += factor(k, i) * y[k]
			}
			if got := product(i, func(k int) float64 { return x[k] }); math.Abs(got-right[i]) > rounding || math.Abs(sum-right[i]) > rounding {
				t.Fatalf("n %d band %d: row %d forward %g, backward %g, want %g", n, band, i, got, sum, right[i])
			}
		}
		for _, p := range []int{1, 3, 4, 9} {
			wide := lanes.Whole(p)
			v := make([]float64, n*wide)
			for i := range v {
				if i%wide < p {
					v[i] = r.Float64()
				}
			}
			right := append([]float64(nil), v...)
			forwardMany(l, v, 0, n, band, wide, slices.Repeat([]int{p}, n))
			for i := range right {
				got := product(i/wide, func(k int) float64 { return v[k*wide+i%wide] })
				if math.Abs(got-right[i]) > rounding {
					t.Fatalf("n %d band %d: right side %d of %d is %g, want %g", n, band, i, n*wide, got, right[i])
				}
			}
		}
	}
}
