package numeric

import (
	"fmt"
	"math"
)

// Root returns x between lo and hi where f changes sign, to within tol of x.
// f must be continuous and f(lo), f(hi) of opposite sign or zero. lo and hi may
// stand in either order. tol below the spacing of floats near x acts as that spacing.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973,
// chapter 4, algorithm zeroin: inverse quadratic interpolation, kept in the bracket by bisection.
func Root(f func(float64) float64, lo, hi, tol float64) (float64, error) {
	a, b := lo, hi
	fa, fb := f(a), f(b)
	if math.IsNaN(fa) || math.IsNaN(fb) {
		return 0, fmt.Errorf("no value at an end of the bracket: f(%g) = %g, f(%g) = %g", lo, fa, hi, fb)
	}
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if (fa > 0) == (fb > 0) {
		return 0, fmt.Errorf("no change of sign between f(%g) = %g and f(%g) = %g", lo, fa, hi, fb)
	}
	c, fc := a, fa
	d := b - a
	e := d
	for range mostSteps {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := 2*epsilon*math.Abs(b) + 0.5*tol
		half := 0.5 * (c - b)
		if math.Abs(half) <= near || fb == 0 {
			return b, nil
		}
		if step, ok := secant(a, b, c, fa, fb, fc, near, e); ok {
			e, d = d, step
		} else {
			d, e = half, half
		}
		a, fa = b, fb
		if math.Abs(d) > near {
			b += d
		} else {
			b += math.Copysign(near, half)
		}
		fb = f(b)
		if math.IsNaN(fb) {
			return 0, fmt.Errorf("no value inside the bracket: f(%g) is not a number", b)
		}
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
	}
	return 0, fmt.Errorf("no root to %g between %g and %g in %d steps", tol, lo, hi, mostSteps)
}

const (
	epsilon   = 0x1p-53
	mostSteps = 200 // bisection alone needs about 60 for a bracket of one
)

// secant proposes Brent's step from b, or declines where bisection is safer.
func secant(a, b, c, fa, fb, fc, near, before float64) (float64, bool) {
	if math.Abs(before) < near || math.Abs(fa) <= math.Abs(fb) {
		return 0, false
	}
	half := 0.5 * (c - b)
	s := fb / fa
	var p, q float64
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		q = fa / fc
		r := fb / fc
		p = s * (2*half*q*(q-r) - (b-a)*(r-1))
		q = (q - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	} else {
		p = -p
	}
	if 2*p < math.Min(3*half*q-math.Abs(near*q), math.Abs(before*q)) {
		return p / q, true
	}
	return 0, false
}
