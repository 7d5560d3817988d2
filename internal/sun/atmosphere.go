package sun

import "math"

const (
	// SolarConstantWM2 is the sun's irradiance at 1 AU, 1361 W/m2 (+-0.5).
	// Source: Kopp and Lean, A new, lower value of total solar irradiance,
	// Geophysical Research Letters 38, L01706, 2011 (1360.8); IAU 2015
	// resolution B3 (1361 nominal).
	SolarConstantWM2 = 1361.0

	standardPressurePa = 101325.0
)

// Air is the state of the air at a place as light meets it.
type Air struct {
	PressurePa float64 // at the place, not reduced to sea level [Pa]
	AirC       float64 // [°C]
}

// StandardAir returns the air of the standard atmosphere at a height [m].
//
//	p = 101325 (1 - 2.25577e-5 z)^5.25588,  t = 15 - 0.0065 z
//
// Valid: -5000 to 11000 m.
// Source: US Standard Atmosphere 1976, as in ASHRAE Handbook Fundamentals 2017,
// chapter 1, eq. 3 and 4.
func StandardAir(elevationM float64) Air {
	return Air{
		PressurePa: standardPressurePa * math.Pow(1-2.25577e-5*elevationM, 5.25588),
		AirC:       15 - 0.0065*elevationM,
	}
}

// Refraction returns how much higher the sun is seen than it stands at a
// geometric elevation h [°]; zero once its upper edge is below the horizon (eq. 2.1):
//
//	Δh = p/101000 · 283/(273+t) · 1.02 / (60 tan(h + 10.3/(h+5.11)))
//
// Source: Saemundsson 1986, as in Reda and Andreas 2003, eq. 42; 0.5667° and the
// sun's radius 0.26667° there too. Without air (pressure 0) nothing is bent.
func Refraction(elevation Angle, air Air) Angle {
	h := elevation.Degrees()
	if h < -(0.26667 + 0.5667) {
		return 0
	}
	bent := 1.02 / (60 * Degrees(h+10.3/(h+5.11)).Tan())
	return Degrees(air.PressurePa / 101000 * 283 / (273 + air.AirC) * bent)
}

// Apparent returns the elevation at which the sun is seen through the air.
func (p Position) Apparent(air Air) Angle { return p.Elevation + Refraction(p.Elevation, air) }

// ExtraterrestrialWM2 returns the sun's irradiance outside the air on a plane
// facing it [W/m2]: SolarConstantWM2 over the square of the distance (eq. 2.2).
func (p Position) ExtraterrestrialWM2() float64 {
	return SolarConstantWM2 / (p.DistanceAU * p.DistanceAU)
}

// AirMass returns how many times the air above the place the sun's light has
// come through, by the apparent zenith angle z [°] (eq. 2.3):
//
//	m = 1 / (cos z + 0.50572 (96.07995 - z)^-1.6364)
//
// Valid: 0 to 90°; beyond, the value of the horizon (37.92).
// Source: Kasten and Young, Revised optical air mass tables and approximation
// formula, Applied Optics 28:4735, 1989.
func AirMass(apparentZenith Angle) float64 {
	z := min(90, max(0, apparentZenith.Degrees()))
	return 1 / (Degrees(z).Cos() + 0.50572*math.Pow(96.07995-z, -1.6364))
}

// AbsoluteAirMass returns the air mass in units of the whole air over the sea:
// AirMass times pressure over 101325 Pa.
func AbsoluteAirMass(apparentZenith Angle, pressurePa float64) float64 {
	return AirMass(apparentZenith) * pressurePa / standardPressurePa
}

// airMass returns the relative air mass at a position; the bending of the light
// is that of air at sea level, which matters only within a degree of the horizon.
func (p Position) airMass() float64 {
	return AirMass(Angle(math.Pi/2) - p.Apparent(StandardAir(0)))
}
