package thermal

import "math"

// Symmetric positive definite band matrices, kept by rows: entry (i,j), i-band <= j <= i, stands at i*(band+1)+band-(i-j).
// The factor keeps the reciprocal of its diagonal. Sums run in four chains, which is what two adders can keep busy.

// choleskyBand factors in place. A matrix that is not positive definite is a mistake of the caller.
func choleskyBand(l []float64, n, band int) {
	w := band + 1
	for i := 0; i < n; i++ {
		first := max(0, i-band)
		ri := l[i*w : i*w+w]
		for j := first; j < i; j++ {
			// columns from..j-1 are in both rows
			from := max(first, j-band)
			k := j - from
			a := ri[band-(i-from) : band-(i-from)+k]
			c := l[j*w+band-k : j*w+band]
			ri[band-(i-j)] = (ri[band-(i-j)] - dot(a, c)) * l[j*w+band]
		}
		a := ri[band-(i-first) : band]
		d := ri[band] - dot(a, a)
		if !(d > 0) {
			panic("thermal: matrix of a body is not positive definite")
		}
		ri[band] = 1 / math.Sqrt(d)
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

// forward solves L x = b in place.
func forward(l, x []float64, n, band int) {
	w := band + 1
	for i := 0; i < n; i++ {
		first := max(0, i-band)
		x[i] = (x[i] - dot(l[i*w+band-(i-first):i*w+band], x[first:i])) * l[i*w+band]
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
		out := x[first:i]
		for k, v := range row {
			out[k] -= float64(v * xi)
		}
	}
}

// forwardMany solves L V = B in place for p right sides kept by rows (n x p).
func forwardMany(l, v []float64, n, band, p int) {
	w := band + 1
	for i := 0; i < n; i++ {
		first := max(0, i-band)
		vi := v[i*p : i*p+p]
		for j := first; j < i; j++ {
			a := l[i*w+band-(i-j)]
			if a == 0 {
				continue
			}
			vj := v[j*p : j*p+p]
			for c := range vi {
				vi[c] -= float64(a * vj[c])
			}
		}
		r := l[i*w+band]
		for c := range vi {
			vi[c] *= r
		}
	}
}

// respond forms S = V^T V (p x p).
func respond(v, s []float64, n, p int) {
	clear(s)
	for i := 0; i < n; i++ {
		vi := v[i*p : i*p+p]
		for a, x := range vi {
			if x == 0 {
				continue
			}
			row := s[a*p : a*p+p]
			for c := a; c < p; c++ {
				row[c] += float64(x * vi[c])
			}
		}
	}
	for a := 0; a < p; a++ {
		for c := 0; c < a; c++ {
			s[a*p+c] = s[c*p+a]
		}
	}
}
