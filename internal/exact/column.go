package exact

import "math"

// HalfColumn is ISO 10211 case 1: the temperature [°C] in half of a long square
// column of side 2, at x from the cold side and y from the warm top, both as
// shares of the half width (0 < x <= 1, 0 < y <= 2). The top is at warm, the
// sides and the bottom at 0 °C; x = 1 is the line of symmetry.
//
//	T = warm sum over odd n of 4/(n pi) sin(n pi x/2) sinh(n pi (2-y)/2) / sinh(n pi)
//
// Source: ISO 10211:2017, annex C, case 1; series CJ section 5.3.
func HalfColumn(warm, x, y float64) float64 {
	sum := 0.0
	for n := 1.0; ; n += 2 {
		p := n * math.Pi / 2
		// sinh(p (2-y)) / sinh(2p) without overflow.
		fall := math.Exp(-p*y) * (1 - math.Exp(-2*p*(2-y))) / (1 - math.Exp(-4*p))
		sum += 4 / (n * math.Pi) * math.Sin(p*x) * fall
		if fall < 1e-17 || n > 1e6 {
			return warm * sum
		}
	}
}
