package lanes

// Whole is the least multiple of four that is at least n: how long a row is kept.
func Whole(n int) int { return (n + 3) &^ 3 }

// Make makes n numbers that Made gives back as whole fours.
func Make(n int) []float64 { return make([]float64, n, Whole(n)) }

// Made is what Make made, with the numbers beyond its end that make up the last four.
func Made(x []float64) []float64 { return x[:Whole(len(x))] }

// Add adds rows times numbers: to_j += sum over i of x_i a_ij, the rows of a lying stride apart. The length of to is a multiple of four; it may not overlap
// with a or x.
func Add(to, a []float64, stride int, x []float64) { rowsTimes(to, a, stride, x, false) }

// Subtract is Add with every product taken off.
func Subtract(to, a []float64, stride int, x []float64) { rowsTimes(to, a, stride, x, true) }

func rowsTimes(to, a []float64, stride int, x []float64, off bool) {
	if len(x) == 0 || len(to) == 0 {
		return
	}
	if len(to)&3 != 0 || (len(x)-1)*stride+len(to) > len(a) {
		panic("lanes: rows are not whole fours, or too few")
	}
	switch {
	case !wide:
		rowsTimesGo(to, a, stride, x, off)
	case off:
		subtractRows(&to[0], &a[0], &x[0], len(to)/4, len(x), stride)
	default:
		addRows(&to[0], &a[0], &x[0], len(to)/4, len(x), stride)
	}
}

func rowsTimesGo(to, a []float64, stride int, x []float64, off bool) {
	for i, v := range x {
		if off {
			v = -v
		}
		for j, y := range a[i*stride:][:len(to)] {
			to[j] += float64(v * y)
		}
	}
}

// AddDots adds to every number the product of its row with x: to_i += sum over j of a_ij x_j, the rows of a lying stride apart. Lengths of to and x are multiples of
// four; the products of one row are summed in four chains, as (s0 + s1) + (s2 + s3).
func AddDots(to, a []float64, stride int, x []float64) { dots(to, a, stride, x, false) }

// SubtractDots is AddDots with every sum taken off.
func SubtractDots(to, a []float64, stride int, x []float64) { dots(to, a, stride, x, true) }

func dots(to, a []float64, stride int, x []float64, off bool) {
	if len(to) == 0 || len(x) == 0 {
		return
	}
	if len(to)&3 != 0 || len(x)&3 != 0 || (len(to)-1)*stride+len(x) > len(a) {
		panic("lanes: rows are not whole fours, or too few")
	}
	switch {
	case !wide:
		dotsGo(to, a, stride, x, off)
	case off:
		subtractDots(&to[0], &a[0], &x[0], len(to)/4, len(x)/4, stride)
	default:
		addDots(&to[0], &a[0], &x[0], len(to)/4, len(x)/4, stride)
	}
}

func dotsGo(to, a []float64, stride int, x []float64, off bool) {
	for i := range to {
		row := a[i*stride : i*stride+len(x)]
		var s0, s1, s2, s3 float64
		for j := 0; j+4 <= len(row); j += 4 {
			s0 += float64(row[j] * x[j])
			s1 += float64(row[j+1] * x[j+1])
			s2 += float64(row[j+2] * x[j+2])
			s3 += float64(row[j+3] * x[j+3])
		}
		if s := (s0 + s1) + (s2 + s3); off {
			to[i] -= s
		} else {
			to[i] += s
		}
	}
}

// Factor puts L and U in place of a dense matrix of n rows, n a multiple of four, without pivoting: U above the diagonal, its reciprocals on it, and L with ones
// on its diagonal below. It is false when a diagonal is 0.
func Factor(a []float64, n int) bool {
	if n&3 != 0 || len(a) < n*n {
		panic("lanes: a matrix is not of whole fours")
	}
	for k := 0; k < n; k += 4 {
		for i := k; i < k+4; i++ {
			row := a[i*n+k : i*n+n]
			l := row[:i-k]
			for p := range l {
				u := a[(k+p)*n+k:][:4]
				l[p] *= u[p]
				for j := p + 1; j < 4; j++ {
					row[j] -= float64(l[p] * u[j])
				}
			}
			if row[i-k] == 0 {
				return false
			}
			row[i-k] = 1 / row[i-k]
			Subtract(row[4:], a[min(k*n+k+4, len(a)):], n, l)
		}
		if rest := n - k - 4; rest > 0 {
			if wide {
				takeOff(&a[k*n+k], n, rest)
			} else {
				takeOffGo(a[k*n+k:], n, rest)
			}
		}
	}
	return true
}

// takeOffGo takes four pivots, whose rows begin a, off the rest of the rows below them, stride apart.
func takeOffGo(a []float64, stride, rest int) {
	u0, u1, u2, u3 := a[:rest+4], a[stride:stride+rest+4], a[2*stride:2*stride+rest+4], a[3*stride:3*stride+rest+4]
	for i := 4; i < rest+4; i++ {
		row := a[i*stride : i*stride+rest+4]
		l0 := row[0] * u0[0]
		l1 := (row[1] - float64(l0*u0[1])) * u1[1]
		l2 := (row[2] - float64(l0*u0[2]) - float64(l1*u1[2])) * u2[2]
		l3 := (row[3] - float64(l0*u0[3]) - float64(l1*u1[3]) - float64(l2*u2[3])) * u3[3]
		row[0], row[1], row[2], row[3] = l0, l1, l2, l3
		r := row[4:]
		v0, v1, v2, v3 := u0[4:][:len(r)], u1[4:][:len(r)], u2[4:][:len(r)], u3[4:][:len(r)]
		for j := range r {
			r[j] -= (float64(l0*v0[j]) + float64(l1*v1[j])) + (float64(l2*v2[j]) + float64(l3*v3[j]))
		}
	}
}
