package cropwater

import "math"

// SaturationKPa is the vapour pressure of saturated air over water: 0.6108 exp(17.27 T/(T + 237.3)).
// Source: FAO paper 56, eq. 11.
func SaturationKPa(celsius float64) float64 {
	return 0.6108 * math.Exp(17.27*celsius/(celsius+237.3))
}

// MeanSaturationKPa is that of a day: the mean of those at its highest and its lowest temperature, since the curve is hollow.
// Source: FAO paper 56, eq. 12.
func MeanSaturationKPa(highC, lowC float64) float64 {
	return (SaturationKPa(highC) + SaturationKPa(lowC)) / 2
}

// SlopeKPaK is how fast saturation rises with temperature: 4098 e°(T)/(T + 237.3)².
// Source: FAO paper 56, eq. 13.
func SlopeKPaK(celsius float64) float64 {
	d := celsius + 237.3
	return 4098 * SaturationKPa(celsius) / (d * d)
}

// PressureKPa is that of the air at a height above the sea: 101.3 ((293 - 0.0065 z)/293)^5.26.
// Source: FAO paper 56, eq. 7.
func PressureKPa(elevationM float64) float64 {
	return 101.3 * math.Pow((293-0.0065*elevationM)/293, 5.26)
}

// PsychrometricKPaK is the psychrometric constant: 0.000665 p.
// Source: FAO paper 56, eq. 8.
func PsychrometricKPaK(pressureKPa float64) float64 { return 0.665e-3 * pressureKPa }

// VapourOfWetBulbKPa is what air holds, from a dry and a ventilated wet bulb: e°(Tw) - 0.000662 p (T - Tw).
// Source: FAO paper 56, eq. 15, 16.
func VapourOfWetBulbKPa(dryC, wetC, pressureKPa float64) float64 {
	return SaturationKPa(wetC) - 0.662e-3*pressureKPa*(dryC-wetC)
}

// VapourOfHumiditiesKPa is the mean of a day, from its highest and lowest relative humidity as shares: the highest stands with the lowest temperature.
// Source: FAO paper 56, eq. 17.
func VapourOfHumiditiesKPa(highC, lowC, mostShare, leastShare float64) float64 {
	return (SaturationKPa(lowC)*mostShare + SaturationKPa(highC)*leastShare) / 2
}

// Wind2M is the wind at 2 m over short grass, from that at another height [m/s]: u 4.87/ln(67.8 z - 5.42), z from 0.1 m on.
// Source: FAO paper 56, eq. 47.
func Wind2M(windMS, atM float64) float64 { return windMS * 4.87 / math.Log(67.8*atM-5.42) }
