package sun

import "math"

// Light is the sun's radiation near the ground, as a mean over a Span.
type Light struct {
	BeamNormalWM2 float64 // from the disc, on a plane facing it [W/m2]
	DiffuseWM2    float64 // from the rest of the sky, on the level plane [W/m2]
}

// GlobalWM2 returns what falls on the level plane [W/m2]: beam times the cosine
// of the zenith angle, and diffuse (eq. 3.1).
func (l Light) GlobalWM2(s Span) float64 { return l.BeamNormalWM2*s.cosZenith() + l.DiffuseWM2 }

// cosZenith returns the cosine of the zenith angle, 0 with the sun down.
func (s Span) cosZenith() float64 {
	if s.UpShare == 0 {
		return 0
	}
	return max(0, s.Elevation.Sin())
}

// lowSun is the elevation below which a measured global no longer tells beam
// from diffuse: an error of a watt, or of a minute, becomes hundreds of watts
// of beam. All light counts as diffuse there. The 3° are common practice, no source.
const lowSun Angle = 3 * math.Pi / 180

// Clearness returns kt, the share of the radiation outside the air that reaches
// the level plane, both as means over the span (eq. 3.2), 0 to 1. ok is false
// where the sun is lower than 3° and the ratio says nothing.
//
//	kt = G / (share · E0 · cos z)
func Clearness(globalWM2 float64, s Span) (kt float64, ok bool) {
	refuseNaN("clearness", globalWM2, s.UpShare, float64(s.Elevation))
	if s.UpShare == 0 || s.Elevation < lowSun {
		return 0, false
	}
	kt = globalWM2 / (s.UpShare * s.ExtraterrestrialWM2() * s.cosZenith())
	return min(1, max(0, kt)), true
}

// DiffuseShare returns the share of global radiation that is diffuse in an hour
// of clearness kt (eq. 3.3):
//
//	kt <= 0.22:  1 - 0.09 kt
//	kt <= 0.80:  0.9511 - 0.1604 kt + 4.388 kt² - 16.638 kt³ + 12.336 kt⁴
//	above:       0.165
//
// Valid: hourly means.
// Source: Erbs, Klein and Duffie, Estimation of the diffuse radiation fraction
// for hourly, daily and monthly-average global radiation, Solar Energy 28:293,
// 1982. They took the solar constant as 1367; 1361 moves kt by 0.4 %.
func DiffuseShare(kt float64) float64 {
	switch {
	case kt <= 0.22:
		return 1 - 0.09*max(0, kt)
	case kt <= 0.80:
		return polynomial(kt, 0.9511, -0.1604, 4.388, -16.638, 12.336)
	default:
		return 0.165
	}
}

// Split returns the beam and the diffuse part of a measured global radiation, by
// Erbs. What falls on the level plane stays what was measured. Below 3° of
// elevation all of it is diffuse; nowhere is the beam stronger than outside the
// air, what would be goes to the diffuse part.
func Split(globalWM2 float64, s Span) Light {
	kt, ok := Clearness(globalWM2, s)
	globalWM2 = max(0, globalWM2)
	if !ok {
		return Light{DiffuseWM2: globalWM2}
	}
	beam := globalWM2 * (1 - DiffuseShare(kt)) / s.cosZenith()
	beam = min(beam, s.UpShare*s.ExtraterrestrialWM2())
	return Light{BeamNormalWM2: beam, DiffuseWM2: globalWM2 - beam*s.cosZenith()}
}

// refuseNaN panics when one of the values is not a number.
func refuseNaN(where string, values ...float64) {
	for _, v := range values {
		if math.IsNaN(v) {
			panic("sun: " + where + " of a value that is not a number")
		}
	}
}
