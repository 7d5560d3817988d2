package thermal

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A matrix of any pattern, diagonally dominant by columns, is solved as gonum's dense LU with pivots solves it.
func TestMatrixAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		var joined [][2]int
		for range rapid.IntRange(0, 3*n).Draw(t, "joins") {
			joined = append(joined, [2]int{rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")})
		}
		m, dense := newMatrix(n, joined), mat.NewDense(n, n, nil)
		set := func(r, c int, v float64) {
			m.a[m.entry(r, c)] += v
			dense.Set(r, c, dense.At(r, c)+v)
		}
		value := rapid.Float64Range(0.01, 100)
		for i := range n {
			set(i, i, value.Draw(t, "own"))
		}
		for _, p := range joined {
			if p[0] == p[1] {
				continue
			}
			for _, q := range [][2]int{p, {p[1], p[0]}} { // each way its own value, as a carried flow has
				v := value.Draw(t, "joined")
				set(q[1], q[0], -v)
				set(q[0], q[0], v)
			}
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = rapid.Float64Range(-100, 100).Draw(t, "right")
		}
		var want mat.VecDense
		if err := want.SolveVec(dense, mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				t.Fatal(err)
			}
		}
		if !m.factor() {
			t.Fatal("a diagonal is 0")
		}
		m.solve(b)
		for i := range b {
			if d := math.Abs(b[i] - want.AtVec(i)); d > 1e-8*(1+mat.Norm(&want, math.Inf(1))) {
				t.Fatalf("row %d: %g, dense %g", i, b[i], want.AtVec(i))
			}
		}
	})
}

// A chain costs no more than its length: no row is left for the dense block but the last.
func TestChainsAreTakenOutFirst(t *testing.T) {
	var joined [][2]int
	for i := 1; i < 50; i++ {
		joined = append(joined, [2]int{i - 1, i})
	}
	m := newMatrix(50, joined)
	if entries := len(m.a); entries > 50+2*49+4 {
		t.Errorf("%d entries, a chain of 50 has 148", entries)
	}
}

// A row that is joined to nothing is refused.
func TestMatrixWithoutDiagonal(t *testing.T) {
	if newMatrix(3, [][2]int{{0, 1}}).factor() {
		t.Error("a matrix of zeros was factored")
	}
}
