package thermal

import (
	"math"

	"suncellar/internal/thermal/lanes"
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
			solveFour(l, j*w+band, band, a[:k], a[k:k+4:k+4])
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

// wideBand is from which band on four rows go at a time.
const wideBand = 16

// forward solves L x = b in place. The value before each is taken off last: it is what every one waits for.
func forward(l, x []float64, n, band int) {
	w, i := band+1, 0
	if band >= wideBand {
		i = forwardFours(l, x, n, band)
	}
	for ; i < n; i++ {
		if i == 0 {
			x[0] *= l[band]
			continue
		}
		first := max(0, i-band)
		row := l[i*w+band-(i-first) : i*w+w]
		before := x[first:i]
		row = row[:len(before)+1]
		var s0, s1 float64
		k := 0
		for ; k+2 < len(before); k += 2 {
			s0 += float64(row[k] * before[k])
			s1 += float64(row[k+1] * before[k+1])
		}
		if k+1 < len(before) {
			s0 += float64(row[k] * before[k])
			k++
		}
		x[i] = ((x[i] - (s0 + s1)) - float64(row[k]*before[k])) * row[k+1]
	}
}

// forwardFours is forward for as many rows as are whole fours, which it tells. Columns that all four have go together.
func forwardFours(l, x []float64, n, band int) int {
	w, i := band+1, 0
	for ; i+4 <= n; i += 4 {
		m := min(i, band-3) &^ 3
		for r := i; r < i+4; r++ {
			for c := max(0, r-band); c < i-m; c++ {
				x[r] -= float64(l[r*w+band-(r-c)] * x[c])
			}
		}
		solveFour(l, i*w+band, band, x[i-m:i], x[i:i+4:i+4])
	}
	return i
}

// solveFour finishes four values y of L x = y, the first of whose rows has its diagonal at at; done are the values right before them. Entries of one column stand a band apart.
func solveFour(l []float64, at, band int, done, y []float64) {
	lanes.SubtractDots(y, l[at-len(done):], band, done)
	d1, d2, d3 := l[at+band:][:2], l[at+2*band:][:3], l[at+3*band:][:4]
	y[0] *= l[at]
	y[1] = (y[1] - float64(d1[0]*y[0])) * d1[1]
	y[2] = (y[2] - float64(d2[0]*y[0]) - float64(d2[1]*y[1])) * d2[2]
	y[3] = (y[3] - float64(d3[0]*y[0]) - float64(d3[1]*y[1]) - float64(d3[2]*y[2])) * d3[3]
}

// backwardFours is backward for the first rows, whose number n is whole fours, of all; those after them are solved already. Rows that have all four columns go together.
func backwardFours(l, x []float64, n, all, band int) {
	w := band + 1
	for i := n - 4; i >= 0; i -= 4 {
		for r := i + band + 1; r < min(all, i+band+4); r++ {
			for c := r - band; c < i+4; c++ {
				x[c] -= float64(l[r*w+band-(r-c)] * x[r])
			}
		}
		y, at := x[i:i+4:i+4], i*w+band
		if end := min(all, i+band+1); end > i+4 {
			lanes.Subtract(y, l[at+4*band:], band, x[i+4:end])
		}
		d1, d2, d3 := l[at+band:][:2], l[at+2*band:][:3], l[at+3*band:][:4]
		y[3] *= d3[3]
		y[2] = (y[2] - float64(d3[2]*y[3])) * d2[2]
		y[1] = (y[1] - float64(d3[1]*y[3]) - float64(d2[1]*y[2])) * d1[1]
		y[0] = (y[0] - float64(d3[0]*y[3]) - float64(d2[0]*y[2]) - float64(d1[0]*y[1])) * l[at]
	}
}

// backward solves L^T x = b in place. The value after each is taken off last.
func backward(l, x []float64, n, band int) {
	w, first := band+1, 0
	if band >= wideBand {
		first = n &^ 3
	}
	for i := n - 1; i >= first; i-- {
		last := min(n-1, i+band)
		at := last*w + band - (last - i) // of column i in row last
		k := last
		var s0, s1 float64
		for ; k > i+2; k -= 2 {
			s0 += float64(l[at] * x[k])
			s1 += float64(l[at-band] * x[k-1])
			at -= 2 * band
		}
		for ; k > i+1; k-- {
			s0 += float64(l[at] * x[k])
			at -= band
		}
		v := x[i] - (s0 + s1)
		if k > i {
			v -= float64(l[at] * x[k])
		}
		x[i] = v * l[i*w+band]
	}
	backwardFours(l, x, first, n, band)
}

// forwardMany solves L V = B in place, from row from on, for p right sides kept by rows (n x p, in whole fours). In row i only the first
// columns[i] right sides have begun; the others are 0 there.
func forwardMany(l, v []float64, from, n, band, p int, columns []int) {
	w := band + 1
	for i := from; i < n; i++ {
		first := max(0, i-band)
		row, r := l[i*w+band-(i-first):i*w+band], l[i*w+band]
		own := v[i*p : i*p+lanes.Whole(columns[i])]
		lanes.Subtract(own, v[first*p:], p, row)
		for c := range own {
			own[c] *= r
		}
	}
}

// respond adds V^T V of rows from to n, kept in whole fours, to the upper half of s (p x p), with columns as in forwardMany, which do not get fewer. Four rows go at a time.
func respond(v, s []float64, from, n, p int, columns []int) {
	wide := lanes.Whole(p)
	i := from
	for ; i+4 <= n; i += 4 {
		k := columns[i+3]
		v0, v1, v2, v3 := v[i*wide:][:k], v[(i+1)*wide:][:k], v[(i+2)*wide:][:k], v[(i+3)*wide:][:k]
		for a := range v0 {
			x0, x1, x2, x3 := v0[a], v1[a], v2[a], v3[a]
			row := s[a*p+a : a*p+k]
			y0, y1, y2, y3 := v0[a:][:len(row)], v1[a:][:len(row)], v2[a:][:len(row)], v3[a:][:len(row)]
			for c := range row {
				row[c] += (float64(x0*y0[c]) + float64(x1*y1[c])) + (float64(x2*y2[c]) + float64(x3*y3[c]))
			}
		}
	}
	for ; i < n; i++ {
		vi := v[i*wide : i*wide+columns[i]]
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
