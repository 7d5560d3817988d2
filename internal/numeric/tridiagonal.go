package numeric

import "fmt"

// Tridiagonal solves lower[i] x[i-1] + diag[i] x[i] + upper[i] x[i+1] = right[i]
// for n unknowns. All slices have length n; lower[0] and upper[n-1] are not used.
// work is scratch of length n; x may be right itself. Nothing is allocated.
// There is no pivoting: the matrix should be diagonally dominant, as conduction makes it.
//
// Source: S. D. Conte and C. de Boor, Elementary Numerical Analysis, 1972, the Thomas algorithm.
func Tridiagonal(lower, diag, upper, right, x, work []float64) error {
	n := len(diag)
	if n == 0 || len(lower) != n || len(upper) != n || len(right) != n || len(x) != n || len(work) != n {
		panic("numeric: tridiagonal slices differ in length")
	}
	pivot := diag[0]
	if pivot == 0 {
		return fmt.Errorf("row 1 of %d has a zero pivot", n)
	}
	x[0] = right[0] / pivot
	for i := 1; i < n; i++ {
		work[i] = upper[i-1] / pivot
		pivot = diag[i] - lower[i]*work[i]
		if pivot == 0 {
			return fmt.Errorf("row %d of %d has a zero pivot", i+1, n)
		}
		x[i] = (right[i] - lower[i]*x[i-1]) / pivot
	}
	for i := n - 2; i >= 0; i-- {
		x[i] -= work[i+1] * x[i+1]
	}
	return nil
}
