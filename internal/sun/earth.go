package sun

import "math"

// The earth's place on its way round the sun, as sums of cosines.
//
// Source: Bretagnon and Francou, Planetary theories in rectangular and
// spherical variables: VSOP87 solutions, Astronomy and Astrophysics 202, 1988,
// in the selection of Meeus, Astronomical Algorithms, 1991, appendix 2, and of
// Reda and Andreas, Solar Position Algorithm for Solar Radiation Applications,
// NREL/TP-560-34302, 2003, table A4.2. Copies of that table in
// circulation differ in five small terms; taken are the values that give the
// worked example's distance to its last digit and its longitude to 0.0000003°.

// wave is one term a·cos(b + c·T): a in 1e-8 (rad or AU), b in rad, c in
// rad per thousand years.
type wave struct{ a, b, c float64 }

// earth is the heliocentric place of the earth's centre.
type earth struct {
	longitude, latitude Angle   // ecliptic of date
	radiusAU            float64 // distance from the sun [AU]
}

// earthAt returns the earth's heliocentric place at T thousand Julian years of
// terrestrial time since J2000.0 (eq. 1.3, 1.4).
// Valid: -2000 to 6000 AD.
func earthAt(T float64) earth {
	return earth{
		longitude: Angle(series(T, lengthwise0[:], lengthwise1[:], lengthwise2[:], lengthwise3[:], lengthwise4[:], lengthwise5[:])),
		latitude:  Angle(series(T, across0[:], across1[:])),
		radiusAU:  series(T, outward0[:], outward1[:], outward2[:], outward3[:], outward4[:]),
	}
}

// series returns 1e-8 times the sum over k of T^k times the sum of the waves of
// powers[k].
func series(T float64, powers ...[]wave) float64 {
	total := 0.0
	for k := len(powers) - 1; k >= 0; k-- {
		sum := 0.0
		for _, w := range powers[k] {
			sum += w.a * math.Cos(w.b+w.c*T)
		}
		total = total*T + sum
	}
	return total * 1e-8
}
