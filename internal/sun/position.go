package sun

import (
	"math"
	"time"
)

// Position is where the sun's centre stands, seen from a place at an instant,
// without the bending of light by the air (see Position.Apparent).
type Position struct {
	Elevation      Angle         // above the level plane, geometric
	Zenith         Angle         // 90° less Elevation
	Azimuth        Angle         // clockwise from true north, 0 to 360°
	Declination    Angle         // seen from the earth's centre, of date
	HourAngle      Angle         // from the meridian, afternoon positive, seen from the earth's centre
	EquationOfTime time.Duration // apparent less mean solar time
	DistanceAU     float64       // earth to sun [AU]
}

// At returns the sun's position at the instant t.
//
// Steps: earth round the sun (1.3), nutation (1.5), aberration (1.7), ecliptic
// to equator (1.8), hour angle (1.10), parallax (1.11), horizon (1.12, 1.13).
// Error: below 0.0005° from the algorithm, see the package's promise for the clock.
// Source: Reda and Andreas, Solar Position Algorithm for Solar Radiation
// Applications, NREL/TP-560-34302, 2003 (revised 2008), section 3.
func At(p Place, t time.Time) Position {
	s := sphereAt(t)
	hour := (s.sidereal + p.Longitude - s.ascension).HalfTurn()
	ascShift, decl := parallax(p, s, hour)
	elevation, azimuth := horizon(p.Latitude, decl, hour-ascShift)
	return Position{
		Elevation:      elevation,
		Zenith:         Angle(math.Pi/2) - elevation,
		Azimuth:        azimuth,
		Declination:    s.declination,
		HourAngle:      hour,
		EquationOfTime: s.equationOfTime,
		DistanceAU:     s.distanceAU,
	}
}

// sphere is the sun seen from the earth's centre.
type sphere struct {
	ascension, declination Angle
	sidereal               Angle // apparent sidereal time at Greenwich
	equationOfTime         time.Duration
	distanceAU             float64
}

// sphereAt returns the sun as seen from the earth's centre at t.
func sphereAt(t time.Time) sphere {
	days := daysSinceJ2000(t)
	ttDays := days + deltaT(days/daysPerYear)/secondsPerDay
	C := ttDays / 36525 // Julian centuries
	T := C / 10

	e := earthAt(T)
	psi, epsShift := nutation(C)
	eps := meanObliquity(T) + epsShift
	lambda := e.longitude + math.Pi + psi - arcseconds(20.4898/e.radiusAU) // eq. 1.7
	beta := -e.latitude

	sinL, cosL := math.Sincos(float64(lambda))
	alpha := Angle(math.Atan2(sinL*eps.Cos()-beta.Tan()*eps.Sin(), cosL))             // eq. 1.8
	delta := Angle(math.Asin(beta.Sin()*eps.Cos() + beta.Cos()*eps.Sin()*sinL))       // eq. 1.8
	mean := Degrees(polynomial(T, 280.4664567-0.0057183, 360007.6982779, 0.03032028)) // eq. 1.14
	lead := (mean - alpha + psi*Angle(eps.Cos())).HalfTurn()                          // eq. 1.14
	eot := time.Duration(float64(lead) / (2 * math.Pi) * secondsPerDay * float64(time.Second))
	return sphere{
		ascension:      alpha,
		declination:    delta,
		sidereal:       siderealTime(days) + psi*Angle(eps.Cos()),
		equationOfTime: eot,
		distanceAU:     e.radiusAU,
	}
}

// siderealTime returns the mean sidereal time at Greenwich, days of universal
// time after J2000.0 (eq. 1.9).
// Source: Meeus, Astronomical Algorithms, 1991, eq. 11.4.
func siderealTime(days float64) Angle {
	C := days / 36525
	turned := math.Mod(360.98564736629*days, 360)
	return Degrees(280.46061837 + turned + 0.000387933*C*C - C*C*C/38710000)
}

// parallax returns what standing on the surface instead of at the earth's centre
// does: the shift of right ascension, and the declination seen (eq. 1.11).
// Source: Reda and Andreas 2003, eq. 33 to 39.
func parallax(p Place, s sphere, hour Angle) (ascension, declination Angle) {
	const flattening, equatorM = 0.99664719, 6378140
	u := math.Atan(flattening * p.Latitude.Tan())
	x := math.Cos(u) + p.ElevationM/equatorM*p.Latitude.Cos()
	y := flattening*math.Sin(u) + p.ElevationM/equatorM*p.Latitude.Sin()
	sinXi := arcseconds(8.794 / s.distanceAU).Sin()
	reach := s.declination.Cos() - x*sinXi*hour.Cos()
	shift := math.Atan2(-x*sinXi*hour.Sin(), reach)
	decl := math.Atan2((s.declination.Sin()-y*sinXi)*math.Cos(shift), reach)
	return Angle(shift), Angle(decl)
}

// horizon returns the elevation and azimuth of a body at a declination and hour
// angle (eq. 1.12, 1.13):
//
//	sin h = sin φ sin δ + cos φ cos δ cos H
//	γ = 180° + atan2(sin H cos δ, cos H sin φ cos δ - sin δ cos φ)
//
// Source: Reda and Andreas 2003, eq. 41, 46, 47 (both arguments times cos δ,
// so that the poles of the sky are no exception).
func horizon(latitude, declination, hour Angle) (elevation, azimuth Angle) {
	sinPhi, cosPhi := math.Sincos(float64(latitude))
	sinDelta, cosDelta := math.Sincos(float64(declination))
	sinH, cosH := math.Sincos(float64(hour))
	sinElevation := sinPhi*sinDelta + cosPhi*cosDelta*cosH
	elevation = Angle(math.Asin(min(1, max(-1, sinElevation))))
	azimuth = Angle(math.Pi + math.Atan2(sinH*cosDelta, cosH*sinPhi*cosDelta-sinDelta*cosPhi))
	return elevation, azimuth.Turn()
}
