package sun

import "time"

const (
	secondsPerDay = 86400.0
	unixJ2000     = 946728000 // 2000-01-01 12:00 UTC, the epoch J2000.0 [s]
	julianJ2000   = 2451545.0 // Julian day of that epoch
	daysPerYear   = 365.2425  // mean Gregorian year
)

// daysSinceJ2000 returns the days of universal time since 2000-01-01 12:00,
// kept apart from the Julian day number so that no digit of the second is lost.
// UTC is taken for UT1: at most 0.9 s apart.
func daysSinceJ2000(t time.Time) float64 {
	return (float64(t.Unix()-unixJ2000) + float64(t.Nanosecond())*1e-9) / secondsPerDay
}

// julianDay returns the Julian day of t, Gregorian calendar at all dates.
func julianDay(t time.Time) float64 { return julianJ2000 + daysSinceJ2000(t) }

// deltaT returns terrestrial minus universal time [s], at a time given in
// years since 2000.
//
// Polynomials fitted to observation, and guesses beyond it. Ten seconds of
// error here move the sun by 0.0001°.
// Source: Espenak and Meeus, Five Millennium Canon of Solar Eclipses, NASA
// TP-2006-214141, 2006, section 2.7 (from memory; the sum is held by a test
// against the 67 s of the Reda and Andreas example of 2003).
func deltaT(years float64) float64 {
	y := 2000 + years
	switch {
	case y < 1900 || y >= 2150:
		u := (y - 1820) / 100
		return -20 + 32*u*u
	case y < 1920:
		return polynomial(y-1900, -2.79, 1.494119, -0.0598939, 0.0061966, -0.000197)
	case y < 1941:
		return polynomial(y-1920, 21.20, 0.84493, -0.076100, 0.0020936)
	case y < 1961:
		return polynomial(y-1950, 29.07, 0.407, -1.0/233, 1.0/2547)
	case y < 1986:
		return polynomial(y-1975, 45.45, 1.067, -1.0/260, -1.0/718)
	case y < 2005:
		return polynomial(years, 63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599)
	case y < 2050:
		return polynomial(years, 62.92, 0.32217, 0.005589)
	default:
		u := (y - 1820) / 100
		return -20 + 32*u*u - 0.5628*(2150-y)
	}
}

// polynomial returns c[0] + c[1]x + c[2]x² + ...
func polynomial(x float64, c ...float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
