package sun

import "math"

// lowestCosZenith is cos 85°, below which circumsolar light no longer grows.
const lowestCosZenith = 0.08715574274765817

// brightness is how unevenly a sky shines: shares of the diffuse radiation on
// the level plane.
type brightness struct {
	circumsolar float64 // F1, 0 to 1
	horizon     float64 // F2, may be negative
}

// perezRow holds the coefficients of one class of sky clearness.
type perezRow struct {
	clearnessBelow float64
	f11, f12, f13  float64 // F1: constant, per brightness, per zenith angle [rad]
	f21, f22, f23  float64 // F2: the same
}

// perezRows: all sites of the source together. Fixed: nothing writes to it.
// Source: Perez et al. 1990, the classes of clearness and the coefficients of
// irradiance, to the three digits printed there.
var perezRows = [...]perezRow{
	{1.065, -0.008, 0.588, -0.062, -0.060, 0.072, -0.022},
	{1.230, 0.130, 0.683, -0.151, -0.019, 0.066, -0.029},
	{1.500, 0.330, 0.487, -0.221, 0.055, -0.064, -0.026},
	{1.950, 0.568, 0.187, -0.295, 0.109, -0.152, -0.014},
	{2.800, 0.873, -0.392, -0.362, 0.226, -0.462, 0.001},
	{4.500, 1.132, -1.237, -0.412, 0.288, -0.823, 0.056},
	{6.200, 1.060, -1.600, -0.359, 0.264, -1.127, 0.131},
	{math.MaxFloat64, 0.678, -0.327, -0.250, 0.156, -1.377, 0.251},
}

// brightness returns F1 and F2 of a sky with the sun up.
//
//	ε = ((D + B)/D + 1.041 z³) / (1 + 1.041 z³)   eq. 4.7
//	Δ = D m / E0                                 eq. 4.8
//	F1 = max(0, f11 + f12 Δ + f13 z)             eq. 4.9
//	F2 = f21 + f22 Δ + f23 z                     eq. 4.9
//
// with z the zenith angle [rad] and m the relative air mass; D is the strength
// while the sun is up, the mean over UpShare.
// Source: Perez et al. 1990. ISO 52010-1 prints eq. 4.7 with the sun's altitude in
// place of z (and 1.014), which puts most hours into a clearer class; that is not
// followed.
func (s Sky) brightness() brightness {
	if s.DiffuseWM2 <= 0 {
		return brightness{}
	}
	z := math.Min(math.Pi/2, float64(s.Zenith))
	k := 1.041 * z * z * z
	epsilon := ((s.DiffuseWM2+s.BeamNormalWM2)/s.DiffuseWM2 + k) / (1 + k)
	delta := s.DiffuseWM2 / s.UpShare * s.airMass() / s.ExtraterrestrialWM2()
	return perez(epsilon, delta, z)
}

// perez returns F1 and F2 at a clearness ε, a brightness Δ and a zenith angle
// [rad] (eq. 4.9).
func perez(epsilon, delta, z float64) brightness {
	c := &perezRows[0]
	for i := 1; epsilon >= c.clearnessBelow && i < len(perezRows); i++ {
		c = &perezRows[i]
	}
	return brightness{
		circumsolar: min(1, max(0, c.f11+c.f12*delta+c.f13*z)),
		horizon:     c.f21 + c.f22*delta + c.f23*z,
	}
}
