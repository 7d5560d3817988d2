package numeric

import (
	"fmt"
	"math"
	"slices"
)

// Line is a straight line from point to point of a table. Outside the table it
// keeps the end values: a table says nothing beyond its ends.
type Line struct{ x, y []float64 }

// NewLine takes points of rising x; x and y are copied. One point makes a constant.
func NewLine(x, y []float64) (*Line, error) {
	if err := checkTable(x, y); err != nil {
		return nil, err
	}
	return &Line{slices.Clone(x), slices.Clone(y)}, nil
}

// At returns the value at x. NaN gives NaN.
func (l *Line) At(x float64) float64 {
	i, end := segment(l.x, x)
	if end {
		return l.y[i]
	}
	t := (x - l.x[i]) / (l.x[i+1] - l.x[i])
	return l.y[i] + t*(l.y[i+1]-l.y[i])
}

// Curve is a smooth curve through a table that rises and falls only where the
// table does: between two points it never leaves their values. Outside the table
// it keeps the end values.
//
// Source: F. N. Fritsch and J. Butland, A method for constructing local monotone
// piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304, eq. 5
// (weighted harmonic mean of the neighbouring slopes); end slopes by the limited
// three-point formula of the same authors' PCHIM.
type Curve struct{ x, y, slope []float64 }

// NewCurve takes points of rising x; x and y are copied.
func NewCurve(x, y []float64) (*Curve, error) {
	if err := checkTable(x, y); err != nil {
		return nil, err
	}
	c := &Curve{slices.Clone(x), slices.Clone(y), make([]float64, len(x))}
	n := len(x)
	if n == 1 {
		return c, nil
	}
	h := make([]float64, n-1)
	d := make([]float64, n-1)
	for i := range h {
		h[i] = x[i+1] - x[i]
		d[i] = (y[i+1] - y[i]) / h[i]
	}
	if n == 2 {
		c.slope[0], c.slope[1] = d[0], d[0]
		return c, nil
	}
	for i := 1; i < n-1; i++ {
		if d[i-1]*d[i] > 0 {
			w1, w2 := 2*h[i]+h[i-1], h[i]+2*h[i-1]
			c.slope[i] = (w1 + w2) / (w1/d[i-1] + w2/d[i])
		}
	}
	c.slope[0] = endSlope(h[0], h[1], d[0], d[1])
	c.slope[n-1] = endSlope(h[n-2], h[n-3], d[n-2], d[n-3])
	return c, nil
}

// At returns the value at x. NaN gives NaN.
func (c *Curve) At(x float64) float64 {
	i, end := segment(c.x, x)
	if end {
		return c.y[i]
	}
	h := c.x[i+1] - c.x[i]
	t := (x - c.x[i]) / h
	u := 1 - t
	// Cubic Hermite form.
	return u*u*((1+2*t)*c.y[i]+h*t*c.slope[i]) + t*t*((1+2*u)*c.y[i+1]-h*u*c.slope[i+1])
}

// endSlope is the three-point end slope, limited so that the curve stays monotone.
func endSlope(h0, h1, d0, d1 float64) float64 {
	s := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	switch {
	case s*d0 <= 0:
		return 0
	case d0*d1 <= 0 && math.Abs(s) > 3*math.Abs(d0):
		return 3 * d0
	}
	return s
}

// segment finds i with x[i] <= v < x[i+1]; end is true where y[i] itself is the answer.
func segment(x []float64, v float64) (i int, end bool) {
	n := len(x)
	switch {
	case v <= x[0]:
		return 0, true
	case v >= x[n-1]:
		return n - 1, true
	case n == 1:
		return 0, true
	}
	i, found := slices.BinarySearch(x, v)
	if !found {
		i = max(i, 1) - 1 // NaN sorts first and stays NaN in the caller's sum
	}
	return i, false
}

func checkTable(x, y []float64) error {
	if len(x) == 0 || len(x) != len(y) {
		return fmt.Errorf("a table has %d places and %d values, must be as many and at least one", len(x), len(y))
	}
	for i := range x {
		if math.IsNaN(x[i]+y[i]) || math.IsInf(x[i], 0) || math.IsInf(y[i], 0) {
			return fmt.Errorf("table row %d is (%g, %g), must be finite", i+1, x[i], y[i])
		}
		if i > 0 && x[i] <= x[i-1] {
			return fmt.Errorf("table row %d is at %g after %g, must rise", i+1, x[i], x[i-1])
		}
	}
	return nil
}
