package cropwater

import "math"

// Day is what a day's reference evapotranspiration is made of.
type Day struct {
	NetMJ         float64 // net radiation of the reference [MJ/m²]
	SoilMJ        float64 // heat into the soil [MJ/m²]
	HighC, LowC   float64
	VapourKPa     float64
	WindMS        float64 // at 2 m
	Psychrometric float64 // [kPa/K]
}

// ReferenceMM is the evapotranspiration of the reference in a day outdoors [mm]:
//
//	(0.408 s (Rn - G) + g 900/(T + 273) u2 (es - ea))/(s + g (1 + 0.34 u2))
//
// Source: FAO paper 56, eq. 6.
func (d Day) ReferenceMM() float64 {
	t := (d.HighC + d.LowC) / 2
	s, g := SlopeKPaK(t), d.Psychrometric
	lacks := MeanSaturationKPa(d.HighC, d.LowC) - d.VapourKPa
	return (MMPerMJ*s*(d.NetMJ-d.SoilMJ) + g*900/(t+273)*d.WindMS*lacks) / (s + g*(1+0.34*d.WindMS))
}

// Hour is what an hour's is made of.
type Hour struct {
	NetMJ         float64 // net radiation [MJ/m²]
	SoilMJ        float64 // heat into the soil [MJ/m²]
	AirC          float64
	VapourKPa     float64
	WindMS        float64 // at 2 m; of no use to Still
	Psychrometric float64 // [kPa/K]
}

// ReferenceMM is the evapotranspiration of the reference in an hour outdoors [mm]; below 0 where dew falls:
//
//	(0.408 s (Rn - G) + g 37/(T + 273) u2 (es - ea))/(s + g (1 + 0.34 u2))
//
// Source: FAO paper 56, eq. 53.
func (h Hour) ReferenceMM() float64 {
	s, g := SlopeKPaK(h.AirC), h.Psychrometric
	lacks := SaturationKPa(h.AirC) - h.VapourKPa
	return (MMPerMJ*s*(h.NetMJ-h.SoilMJ) + g*37/(h.AirC+273)*h.WindMS*lacks) / (s + g*(1+0.34*h.WindMS))
}

// Resistances to vapour [s/m]: of the air over the reference, and of its surface.
type Resistances struct{ Air, Surface float64 }

// MonteithMM is the evapotranspiration of any closed cover in an hour [mm], of which eq. 53 is the case Air = 208/u2, Surface = 70:
//
//	(0.408 s (Rn - G) + 0.408 · 3600 rho c (es - ea)/ra)/(s + g (1 + rs/ra))
//	rho c = g 0.622 · 2.45/(1.01 (T + 273) 0.287) [MJ/m³K]
//
// Source: FAO paper 56, eq. 3; rho c by its box 6.
func (h Hour) MonteithMM(r Resistances) float64 {
	s, g := SlopeKPaK(h.AirC), h.Psychrometric
	lacks := SaturationKPa(h.AirC) - h.VapourKPa
	rhoC := g * 0.622 * 2.45 / (1.01 * (h.AirC + 273) * 0.287)
	return MMPerMJ * (s*(h.NetMJ-h.SoilMJ) + 3600*rhoC*lacks/r.Air) / (s + g*(1+r.Surface/r.Air))
}

// stillAir is the resistance of the air over the reference in a greenhouse [s/m], which hardly stirs whatever blows outdoors; grass in a plastic house at
// Almería, weighed day by day for eleven years, fitted it best of the forms compared. Abstract seen.
// Source: Fernández and others 2010.
const stillAir = 150.0

// The surface of the reference in an hour [s/m]: less than the day's 70 in light, more by night. From memory.
// Source: ASCE-EWRI 2005.
const surfaceByDay, surfaceByNight = 50.0, 200.0

// StillMM is the evapotranspiration of the reference in an hour in the air of a house [mm], by day while any sun comes in; below 0 where dew falls.
// Source: FAO paper 56, eq. 3; Fernández and others 2010; ASCE-EWRI 2005.
func (h Hour) StillMM(day bool) float64 {
	r := Resistances{Air: stillAir, Surface: surfaceByNight}
	if day {
		r.Surface = surfaceByDay
	}
	return h.MonteithMM(r)
}

// HargreavesMM is the reference of a day where nothing but temperatures is known [mm]: 0.0023 (Tmean + 17.8) √(Tmax - Tmin) Ra, Ra as water.
// Source: FAO paper 56, eq. 52.
func HargreavesMM(highC, lowC, extraterrestrialMJ float64) float64 {
	return 0.0023 * ((highC+lowC)/2 + 17.8) * math.Sqrt(highC-lowC) * MMPerMJ * extraterrestrialMJ
}
