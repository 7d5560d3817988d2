package sun

import "math"

// Haze is how clear a cloudless sky is.
type Haze struct {
	// Linke turbidity for air mass 2: how many clean dry atmospheres the air
	// weighs. About 2 for cold clean winter air, 3 in rural summer, 4 to 6 over
	// towns or in humid heat (common values of the literature, from memory). At least 1.
	LinkeTurbidity float64
	ElevationM     float64 // above sea level [m]
	PressurePa     float64 // at the place; 0 stands for the standard atmosphere at ElevationM [Pa]
}

// ClearSky returns the radiation of a cloudless sky as a mean over the span.
//
//	G = cg1 E0 cos z exp(-cg2 m (f1 + f2 (TL - 1)))                      eq. 3.4
//	B = least of  E0 b exp(-0.09 m (TL - 1))                            eq. 3.5
//	         and  G (1 - (0.1 - 0.2 exp(-TL)) / (0.1 + 0.882/f1)) / cos z  eq. 3.6
//	cg1 = 0.0000509 z + 0.868,  cg2 = 0.0000392 z + 0.0387,
//	f1 = exp(-z/8000),  f2 = exp(-z/1250),  b = 0.664 + 0.163/f1
//
// with m the absolute air mass. Valid: TL 1 to 10, 0 to 3000 m.
// Source: Ineichen and Perez, A new airmass independent formulation for the
// Linke turbidity coefficient, Solar Energy 73:151, 2002. The low-sun factor
// exp(0.01 m^1.8) on G that came later is left out.
func ClearSky(h Haze, s Span) Light {
	refuseNaN("clear sky", h.LinkeTurbidity, h.ElevationM, h.PressurePa, float64(s.Elevation), s.UpShare)
	cosZ := s.cosZenith()
	if cosZ == 0 {
		return Light{}
	}
	air := StandardAir(h.ElevationM)
	if h.PressurePa > 0 {
		air.PressurePa = h.PressurePa
	}
	m := AbsoluteAirMass(Angle(math.Pi/2)-s.Apparent(air), air.PressurePa)
	return ineichen(h, s.ExtraterrestrialWM2(), cosZ, m).scaled(s.UpShare)
}

// ineichen is ClearSky while the sun is up: at E0 [W/m2], the cosine of the
// zenith angle and the absolute air mass m.
func ineichen(h Haze, E0, cosZ, m float64) Light {
	f1 := math.Exp(-h.ElevationM / 8000)
	f2 := math.Exp(-h.ElevationM / 1250)
	cg1 := 5.09e-5*h.ElevationM + 0.868
	cg2 := 3.92e-5*h.ElevationM + 0.0387
	TL := h.LinkeTurbidity
	global := cg1 * E0 * cosZ * math.Exp(-cg2*m*(f1+f2*(TL-1)))          // eq. 3.4
	beam := E0 * (0.664 + 0.163/f1) * math.Exp(-0.09*m*(TL-1))           // eq. 3.5
	most := global * (1 - (0.1-0.2*math.Exp(-TL))/(0.1+0.882/f1)) / cosZ // eq. 3.6
	beam = max(0, min(beam, most))
	return Light{BeamNormalWM2: beam, DiffuseWM2: global - beam*cosZ}
}

// scaled returns both parts times a share.
func (l Light) scaled(share float64) Light {
	return Light{BeamNormalWM2: l.BeamNormalWM2 * share, DiffuseWM2: l.DiffuseWM2 * share}
}
