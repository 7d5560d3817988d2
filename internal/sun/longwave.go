package sun

import "math"

const (
	stefanBoltzmann = 5.670374419e-8 // [W/m2K4], exact since the SI of 2019
	kelvin          = 273.15
)

// SkyState is what the heat radiation of the sky is estimated from, at the
// height of a weather screen.
type SkyState struct {
	AirC       float64 // [°C]
	DewPointC  float64 // over water, as stations report it also in frost [°C]
	CloudShare float64 // 0 clear to 1 overcast (see CloudShare, the function)
}

// VapourPressurePa returns the pressure of water vapour at a dew point [Pa] (eq. 5.1):
//
//	e = 610.8 exp(17.27 Td / (Td + 237.3))
//
// over water also below freezing. Valid: -40 to 60 °C.
// Source: Allen, Pereira, Raes and Smith, Crop evapotranspiration, FAO paper 56,
// 1998, eq. 11 and 14.
func VapourPressurePa(dewPointC float64) float64 {
	return 610.8 * math.Exp(17.27*dewPointC/(dewPointC+237.3))
}

// ClearSkyEmissivity returns the share of black radiation at air temperature
// that a cloudless sky sends to the level plane, 0.67 to 1 (eq. 5.2):
//
//	ε = 1 - (1 + w) exp(-sqrt(1.2 + 3 w)),  w = 46.5 e/Ta   [e in hPa, Ta in K]
//
// Source: Prata, A new long-wave formula for estimating downward clear-sky
// radiation at the surface, Quarterly Journal of the Royal Meteorological
// Society 122:1127, 1996.
func ClearSkyEmissivity(airC, dewPointC float64) float64 {
	w := 46.5 * VapourPressurePa(dewPointC) / 100 / (airC + kelvin)
	return 1 - (1+w)*math.Exp(-math.Sqrt(1.2+3*w))
}

// SkyEmissivity returns the emissivity of the sky with its clouds, which shine
// as black bodies at air temperature over their share (eq. 5.3):
//
//	ε = c + (1 - c) ε_clear
//
// Source: Crawford and Duchon, An improved parameterization for estimating
// effective atmospheric emissivity for use in calculating daytime downwelling
// longwave radiation, Journal of Applied Meteorology 38:474, 1999.
func SkyEmissivity(s SkyState) float64 {
	refuseNaN("sky emissivity", s.AirC, s.DewPointC, s.CloudShare)
	c := min(1, max(0, s.CloudShare))
	return c + (1-c)*ClearSkyEmissivity(s.AirC, s.DewPointC)
}

// SkyLongwaveWM2 returns the heat radiation the sky sends down to the level
// plane [W/m2]: emissivity times σ Ta⁴ (eq. 5.4).
func SkyLongwaveWM2(s SkyState) float64 { return SkyEmissivity(s) * BlackWM2(s.AirC) }

// BlackWM2 returns the heat radiation of a black body [W/m2].
func BlackWM2(tempC float64) float64 {
	k := tempC + kelvin
	return stefanBoltzmann * k * k * k * k
}

// SkyTemperatureC returns the temperature of the black sky that sends down
// longwaveWM2 [°C] (eq. 5.5).
func SkyTemperatureC(longwaveWM2 float64) float64 {
	return math.Sqrt(math.Sqrt(longwaveWM2/stefanBoltzmann)) - kelvin
}

// CloudShare returns the share of the sky that clouds shut, from a measured
// global radiation and that of the cloudless sky at the same time (ClearSky):
// c = 1 - G/G_clear, 0 to 1 (eq. 5.6). ok is false with the sun below 10°, where
// the ratio is mostly error: hold the last good one through the night.
//
// Source: Crawford and Duchon 1999; the 10° are common practice, no source.
func CloudShare(globalWM2, clearGlobalWM2 float64, s Span) (share float64, ok bool) {
	refuseNaN("cloud share", globalWM2, clearGlobalWM2, float64(s.Elevation))
	const least Angle = 10 * math.Pi / 180
	if s.UpShare == 0 || s.Elevation < least || clearGlobalWM2 <= 0 {
		return 0, false
	}
	return min(1, max(0, 1-globalWM2/clearGlobalWM2)), true
}
