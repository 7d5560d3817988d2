package thermal

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// Symmetric positive definite band matrices, kept by rows: entry (i,j), i-band <= j <= i, stands at i*(band+1)+band-(i-j).
// The factor keeps the reciprocal of its diagonal. Sums run in four chains or by fours, which is what two adders can keep busy.

// choleskyBand factors in place, from row from on; those before are factored already. A matrix that is not positive definite is a mistake of the caller. Columns go by fours: the row
// is read once for four sums over the columns that are done, then the four are finished one by one.
func choleskyBand(l []float64, from, n, band int) {
	w := band + 1
	for i := from; i < n; i++ {
		first := max(0, i-band)
		a := l[i*w+band-(i-first) : i*w+w] // the row from column first to its diagonal
		j := first
		for ; j+4 <= i; j += 4 {
			k := j - first
			c0, c1 := l[j*w+band-k:j*w+w], l[(j+1)*w+band-1-k:(j+1)*w+w]
			c2, c3 := l[(j+2)*w+band-2-k:(j+2)*w+w], l[(j+3)*w+band-3-k:(j+3)*w+w]
			s0, s1, s2, s3 := dotFour(a[:k], c0, c1, c2, c3)
			x := a[k : k+4]
			d1, d2, d3 := c1[k:k+2], c2[k:k+3], c3[k:k+4]
			x[0] = (x[0] - s0) * c0[k]
			x[1] = (x[1] - s1 - float64(x[0]*d1[0])) * d1[1]
			x[2] = (x[2] - s2 - float64(x[0]*d2[0]) - float64(x[1]*d2[1])) * d2[2]
			x[3] = (x[3] - s3 - float64(x[0]*d3[0]) - float64(x[1]*d3[1]) - float64(x[2]*d3[2])) * d3[3]
		}
		for ; j < i; j++ {
			k := j - first
			a[k] = (a[k] - dot(a[:k], l[j*w+band-k:j*w+band])) * l[j*w+band]
		}
		k := i - first
		d := a[k] - dot(a[:k], a[:k])
		if !(d > 0) {
			panic("thermal: matrix of a body is not positive definite")
		}
		a[k] = 1 / math.Sqrt(d)
	}
}

// dotFour is the products of a with c0 to c3.
func dotFour(a, c0, c1, c2, c3 []float64) (s0, s1, s2, s3 float64) {
	c0, c1, c2, c3 = c0[:len(a)], c1[:len(a)], c2[:len(a)], c3[:len(a)]
	for i, v := range a {
		s0 += float64(v * c0[i])
		s1 += float64(v * c1[i])
		s2 += float64(v * c2[i])
		s3 += float64(v * c3[i])
	}
	return s0, s1, s2, s3
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s0 += float64(a[i] * b[i])
		s1 += float64(a[i+1] * b[i+1])
		s2 += float64(a[i+2] * b[i+2])
		s3 += float64(a[i+3] * b[i+3])
	}
	for ; i < len(a); i++ {
		s0 += float64(a[i] * b[i])
	}
	return (s0 + s1) + (s2 + s3)
}

// forward solves L x = b in place. The value before each is taken off last: it is what every one waits for.
func forward(l, x []float64, n, band int) {
	w := band + 1
	if n > 0 {
		x[0] *= l[band]
	}
	for i := 1; i < n; i++ {
		first := max(0, i-band)
		row := l[i*w+band-(i-first) : i*w+w]
		last := i - first - 1
		x[i] = ((x[i] - dot(row[:last], x[first:i-1])) - float64(row[last]*x[i-1])) * row[last+1]
	}
}

// backward solves L^T x = b in place.
func backward(l, x []float64, n, band int) {
	w := band + 1
	for i := n - 1; i >= 0; i-- {
		x[i] *= l[i*w+band]
		first := max(0, i-band)
		xi := x[i]
		row := l[i*w+band-(i-first) : i*w+band]
		out := x[first:i][:len(row)]
		for k, v := range row {
			out[k] -= float64(v * xi)
		}
	}
}

// forwardMany solves L V = B in place, from row from on, for p right sides kept by rows (n x p), four of them at a time. In row i only the first
// columns[i] right sides have begun; the others are 0 there.
func forwardMany(l, v []float64, from, n, band, p int, columns []int) {
	w := band + 1
	for i := from; i < n; i++ {
		first := max(0, i-band)
		row, r := l[i*w+band-(i-first):i*w+band], l[i*w+band]
		c, end := 0, columns[i]
		for ; c+4 <= end; c += 4 {
			var s0, s1, s2, s3 float64
			at := first*p + c
			for _, a := range row {
				q := v[at : at+4 : at+4]
				s0 += float64(a * q[0])
				s1 += float64(a * q[1])
				s2 += float64(a * q[2])
				s3 += float64(a * q[3])
				at += p
			}
			q := v[at : at+4 : at+4]
			q[0], q[1], q[2], q[3] = (q[0]-s0)*r, (q[1]-s1)*r, (q[2]-s2)*r, (q[3]-s3)*r
		}
		for ; c < end; c++ {
			s, at := 0.0, first*p+c
			for _, a := range row {
				s += float64(a * v[at])
				at += p
			}
			v[at] = (v[at] - s) * r
		}
	}
}

// respond adds V^T V of rows from to n to the upper half of s (p x p), with columns as in forwardMany.
func respond(v, s []float64, from, n, p int, columns []int) {
	for i := from; i < n; i++ {
		vi := v[i*p : i*p+columns[i]]
		for a, x := range vi {
			row := s[a*p+a : a*p+len(vi)]
			for c, y := range vi[a:] {
				row[c] += float64(x * y)
			}
		}
	}
}

// mirror copies the upper half of s (p x p) to the lower.
func mirror(s []float64, p int) {
	for a := range p {
		for c := range a {
			s[a*p+c] = s[c*p+a]
		}
	}
}

// rows is a matrix kept by rows, as many as x is long, as gonum has it.
func rows(a []float64, n, p int) blas64.General {
	return blas64.General{Rows: n, Cols: p, Stride: max(1, p), Data: a}
}

func vector(x []float64) blas64.Vector { return blas64.Vector{N: len(x), Inc: 1, Data: x} }

// across makes to = A' x, with A kept by rows, one for every x.
func across(to, a, x []float64) {
	blas64.Gemv(blas.Trans, 1, rows(a, len(x), len(to)), vector(x), 0, vector(to))
}

// along adds A x to to, with A kept by rows, one for every to.
func along(to, a, x []float64) {
	blas64.Gemv(blas.NoTrans, 1, rows(a, len(to), len(x)), vector(x), 1, vector(to))
}
