package lanes

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// in runs do as the processor does it and as Go does it, from the same numbers, and holds that both leave the same bits.
func in(t *rapid.T, numbers []float64, do func(a []float64)) []float64 {
	if !wide {
		t.Skip("this processor has no AVX2")
	}
	one, other := slices.Clone(numbers), slices.Clone(numbers)
	do(one)
	defer func() { wide = true }()
	wide = false
	do(other)
	if !slices.Equal(one, other) {
		t.Fatalf("the processor leaves %v, Go %v", one, other)
	}
	return other
}

func drawn(t *rapid.T, n int) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(-10, 10), n, n).Draw(t, "numbers")
}

func TestRowsTimesNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, columns := rapid.IntRange(0, 6).Draw(t, "rows"), Whole(rapid.IntRange(0, 80).Draw(t, "columns"))
		stride := columns + rapid.IntRange(0, 5).Draw(t, "beyond")
		a, x := drawn(t, rows*stride), drawn(t, rows)
		begin := drawn(t, columns)
		for _, off := range []bool{false, true} {
			got := in(t, begin, func(to []float64) { rowsTimes(to, a, stride, x, off) })
			for j := range got {
				want := begin[j]
				for i := range rows {
					p := x[i] * a[i*stride+j]
					if off {
						p = -p
					}
					want += float64(p)
				}
				if got[j] != want {
					t.Fatalf("column %d: %g, should be %g", j, got[j], want)
				}
			}
		}
	})
}

func TestDots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, columns := Whole(rapid.IntRange(0, 30).Draw(t, "rows")), Whole(rapid.IntRange(0, 30).Draw(t, "columns"))
		stride := columns + rapid.IntRange(0, 5).Draw(t, "beyond")
		a, x, begin := drawn(t, rows*stride), drawn(t, columns), drawn(t, rows)
		for _, off := range []bool{false, true} {
			got := in(t, begin, func(to []float64) { dots(to, a, stride, x, off) })
			for i := range got {
				sum := 0.0
				for j := range x {
					sum += a[i*stride+j] * x[j]
				}
				if off {
					sum = -sum
				}
				if d := got[i] - (begin[i] + sum); d > 1e-10 || d < -1e-10 {
					t.Fatalf("row %d: %g, should be %g", i, got[i], begin[i]+sum)
				}
			}
		}
	})
}

// A matrix whose diagonal outweighs its rows is L times U again.
func TestFactorGivesItsMatrixBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Whole(rapid.IntRange(1, 40).Draw(t, "n"))
		a := drawn(t, n*n)
		for i := range n {
			a[i*n+i] = 11 * float64(n)
		}
		f := in(t, a, func(a []float64) {
			if !Factor(a, n) {
				t.Fatal("no diagonal is 0 here")
			}
		})
		for i := range n {
			for j := range n {
				sum := 0.0
				for k := range min(i, j) + 1 {
					l, u := f[i*n+k], f[k*n+j]
					if k == i {
						l = 1
					}
					if k == j {
						u = 1 / u
					}
					sum += l * u
				}
				if d := sum - a[i*n+j]; d > 1e-10 || d < -1e-10 {
					t.Fatalf("row %d, column %d: %g, should be %g", i, j, sum, a[i*n+j])
				}
			}
		}
	})
}

func TestFactorTellsAZero(t *testing.T) {
	if Factor(make([]float64, 16), 4) {
		t.Error("a matrix of zeros has factors")
	}
}

func BenchmarkFactor(b *testing.B) {
	const n = 32
	a, f := make([]float64, n*n), make([]float64, n*n)
	for i := range a {
		a[i] = float64(i%7) / 7
	}
	for i := range n {
		a[i*n+i] = n
	}
	for b.Loop() {
		copy(f, a)
		Factor(f, n)
	}
}

func BenchmarkRows(b *testing.B) {
	const rows, columns = 145, 40
	a, x, to := make([]float64, rows*columns), make([]float64, rows), make([]float64, columns)
	for b.Loop() {
		Add(to, a, columns, x)
	}
}
