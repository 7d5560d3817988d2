package airflow

import "math"

// cubeRoot is the cube root of x, at least 0: a first value from the exponent, within 4 %, and two steps of Halley, which leave 1e-13 of it.
// Films of air are asked for thousands of times an hour; math.Cbrt takes four times as long for its last digits.
func cubeRoot(x float64) float64 {
	if x == 0 {
		return 0
	}
	t := math.Float64frombits(math.Float64bits(x)/3 + 715094163<<32)
	for range 2 {
		c := t * t * t
		t *= (c + 2*x) / (2*c + x)
	}
	return t
}
