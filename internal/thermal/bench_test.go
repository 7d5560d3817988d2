package thermal

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// BenchmarkUnit is one dense factor-and-solve of order 30, the unit in which `make bench` tells every other time: figures in it
// can be compared between machines, and between a quiet and a busy one.
func BenchmarkUnit(b *testing.B) {
	const n = 30
	random := rand.New(rand.NewPCG(1, 2))
	matrix, side := make([]float64, n*n), make([]float64, n)
	for i := range n {
		for j := range n {
			matrix[i*n+j] = -random.Float64()
		}
		matrix[i*n+i] = n // as of a network: the diagonal outweighs its row
		side[i] = random.Float64()
	}
	lu := blas64.General{Rows: n, Cols: n, Stride: n, Data: make([]float64, n*n)}
	x := blas64.General{Rows: n, Cols: 1, Stride: 1, Data: make([]float64, n)}
	pivots := make([]int, n)
	b.ReportAllocs()
	for b.Loop() {
		copy(lu.Data, matrix)
		copy(x.Data, side)
		if !lapack64.Getrf(lu, pivots) {
			b.Fatal("the matrix is singular")
		}
		lapack64.Getrs(blas.NoTrans, lu, x, pivots)
	}
}
