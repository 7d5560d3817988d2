package enclosure

import "math"

// inverse of a square matrix by elimination with the largest of each column as pivot; false where it has none. The matrix is used up.
//
// Source: S. D. Conte, C. de Boor, Elementary Numerical Analysis, 1972, chapter 3 (elimination, pivoting).
func inverse(a [][]float64) ([][]float64, bool) {
	n := len(a)
	b := make([][]float64, n)
	for i := range b {
		b[i] = make([]float64, n)
		b[i][i] = 1
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		if !(math.Abs(a[p][k]) > 0) {
			return nil, false
		}
		a[k], a[p], b[k], b[p] = a[p], a[k], b[p], b[k]
		for i := range n {
			if m := a[i][k] / a[k][k]; i != k && m != 0 {
				axpy(a[i][k:], -m, a[k][k:])
				axpy(b[i], -m, b[k])
			}
		}
	}
	for i := range n {
		for j := range b[i] {
			b[i][j] /= a[i][i]
		}
	}
	return b, true
}

// axpy adds m times x to y.
func axpy(y []float64, m float64, x []float64) {
	for i, v := range x {
		y[i] += m * v
	}
}
