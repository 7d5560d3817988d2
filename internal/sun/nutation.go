package sun

import "math"

// nod is one term of the earth's nutation: whole multiples of the moon's and
// the sun's arguments, and the size of the nod in longitude and obliquity
// [0.0001 arcsec].
type nod struct {
	elongation, sun, moon, latitude, node float64
	inLongitude, perCentury               float64
	inObliquity                           float64
}

// nods are the terms of at least 0.01 arcsec in longitude; what is left out
// sums to less than 0.06 arcsec (0.00002°).
// Source: IAU 1980 theory of nutation after Meeus, Astronomical Algorithms,
// 1991, table 21.A; Reda and Andreas 2003, table A4.3. Fixed: nothing writes to it.
var nods = [...]nod{
	{0, 0, 0, 0, 1, -171996, -174.2, 92025},
	{-2, 0, 0, 2, 2, -13187, -1.6, 5736},
	{0, 0, 0, 2, 2, -2274, -0.2, 977},
	{0, 0, 0, 0, 2, 2062, 0.2, -895},
	{0, 1, 0, 0, 0, 1426, -3.4, 54},
	{0, 0, 1, 0, 0, 712, 0.1, -7},
	{-2, 1, 0, 2, 2, -517, 1.2, 224},
	{0, 0, 0, 2, 1, -386, -0.4, 200},
	{0, 0, 1, 2, 2, -301, 0, 129},
	{-2, -1, 0, 2, 2, 217, -0.5, -95},
	{-2, 0, 1, 0, 0, -158, 0, 0},
	{-2, 0, 0, 2, 1, 129, 0.1, -70},
	{0, 0, -1, 2, 2, 123, 0, -53},
}

// nutation returns how far the equinox (in longitude) and the obliquity of the
// ecliptic nod at C Julian centuries of terrestrial time since J2000.0 (eq. 1.5).
func nutation(C float64) (inLongitude, inObliquity Angle) {
	D := float64(Degrees(297.85036 + 445267.111480*C - 0.0019142*C*C))  // moon's elongation
	M := float64(Degrees(357.52772 + 35999.050340*C - 0.0001603*C*C))   // sun's anomaly
	Mm := float64(Degrees(134.96298 + 477198.867398*C + 0.0086972*C*C)) // moon's anomaly
	F := float64(Degrees(93.27191 + 483202.017538*C - 0.0036825*C*C))   // moon's argument of latitude
	N := float64(Degrees(125.04452 - 1934.136261*C + 0.0020708*C*C))    // moon's node
	psi, eps := 0.0, 0.0
	for i := range nods {
		n := &nods[i]
		sin, cos := math.Sincos(n.elongation*D + n.sun*M + n.moon*Mm + n.latitude*F + n.node*N)
		psi += (n.inLongitude + n.perCentury*C) * sin
		eps += n.inObliquity * cos
	}
	return arcseconds(psi * 1e-4), arcseconds(eps * 1e-4)
}

// meanObliquity returns the tilt of the earth's axis without nutation at T
// thousand Julian years since J2000.0 (eq. 1.6).
// Source: Laskar 1986, as in Reda and Andreas 2003, eq. 24.
func meanObliquity(T float64) Angle {
	return arcseconds(polynomial(T/10, 84381.448, -4680.93, -1.55, 1999.25, -51.38,
		-249.67, -39.05, 7.12, 27.87, 5.79, 2.45))
}
