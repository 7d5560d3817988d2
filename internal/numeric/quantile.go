package numeric

import "math"

// Quantile is the value that a share q of a sorted sample lies below: linear between x_k at k/(n+1); beyond the first and the last it stays there. NaN of no sample.
// Source: Makkonen 2006, who argues for this plotting position in return periods.
func Quantile(sorted []float64, q float64) float64 {
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	at := q*float64(n+1) - 1
	k := min(max(int(math.Floor(at)), 0), n-1)
	if at <= 0 || k == n-1 {
		return sorted[k]
	}
	return sorted[k] + (at-float64(k))*(sorted[k+1]-sorted[k])
}
