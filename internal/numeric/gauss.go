package numeric

import "math"

// Gauss returns the n places, rising, in -1..1 and the weights of the
// Gauss-Legendre rule, which integrates polynomials up to degree 2n-1 exactly.
// n is 1 to 64.
//
// Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions,
// 1964, eq. 25.4.29; places by Newton's method on the Legendre polynomial.
func Gauss(n int) (places, weights []float64) {
	if n < 1 || n > 64 {
		panic("numeric: a Gauss rule has 1 to 64 places")
	}
	places, weights = make([]float64, n), make([]float64, n)
	for i := range (n + 1) / 2 {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		for range 10 {
			p, dp := legendre(n, x)
			x -= p / dp
		}
		if 2*i+1 == n {
			x = 0
		}
		_, dp := legendre(n, x)
		w := 2 / ((1 - x*x) * dp * dp)
		places[i], places[n-1-i] = -x, x
		weights[i], weights[n-1-i] = w, w
	}
	return places, weights
}

// legendre returns the Legendre polynomial of degree n and its derivative.
func legendre(n int, x float64) (p, dp float64) {
	before, p := 1.0, x
	for k := 2; k <= n; k++ {
		before, p = p, (float64(2*k-1)*x*p-float64(k-1)*before)/float64(k)
	}
	return p, float64(n) * (x*p - before) / (x*x - 1)
}

// Integrate returns the integral of f from a to b by an n-place Gauss rule.
func Integrate(f func(float64) float64, a, b float64, n int) float64 {
	places, weights := Gauss(n)
	mid, half := (a+b)/2, (b-a)/2
	sum := 0.0
	for i, x := range places {
		sum += weights[i] * f(mid+half*x)
	}
	return half * sum
}
