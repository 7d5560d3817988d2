package material

import "math"

// SnowHeatJKgK is the specific heat of snow, that of ice [J/kg K].
const SnowHeatJKgK = 2090.0

// SnowConductivity returns the effective thermal conductivity [W/m K] of snow
// of the given density [kg/m3]:
//
//	2.5e-6 d^2 - 1.23e-4 d + 0.024
//
// Range 100 to 550 kg/m3; lighter snow is carried on the same curve, never below still air's 0.024; denser up to ice and held at 2.2. It is
// from the structure of 30 samples; needle probes, on which Sturm, Holmgren, König and Morris 1997 rest, read less:
// 0.065 for 0.099 at 200, 0.126 for 0.212 at 300 kg/m3. The two agree at 150.
//
// Source: Calonne et al. 2011, Geophysical Research Letters 38:L23501, eq. 12, from memory.
func SnowConductivity(densityKgM3 float64) float64 {
	d := densityKgM3
	return min(max(2.5e-6*d*d-1.23e-4*d, 0)+0.024, iceWMK)
}

// SnowLight returns the shares of diffuse sunlight that a layer of snow depth
// [m] thick, of the given density [kg/m3], passes and throws back, over a black
// ground. The rest is absorbed in the snow.
//
// Two opposite streams scattered S and absorbed K per metre:
//
//	transmittance = b/(a sinh(b S d) + b cosh(b S d))
//	reflectance   = sinh(b S d)/(a sinh(b S d) + b cosh(b S d))
//	a = (1 + R^2)/(2 R),  b = (1 - R^2)/(2 R)
//
// R is the reflectance of deep snow: 0.85 up to 100 kg/m3, falling by 0.0625 for each
// 100 kg/m3 to 0.60 at 500. S is sqrt(100 density) per metre: at 100 kg/m3 that is 1 m2/kg, grains of
// about 0.14 mm, coarser as snow settles. So 1 cm of fresh snow passes about half, 5 cm about a seventh.
//
// Source: Kubelka and Munk 1931 for the equations; the reflectance of fresh snow
// after US Army Corps of Engineers, Snow Hydrology, 1956, from memory; S, and the change of both with
// density, are judgement. Valid for dry snow; expect a factor of 1.5 either way.
func SnowLight(depthM, densityKgM3 float64) (transmittance, reflectance float64) {
	if depthM <= 0 {
		return 1, 0
	}
	deep := 0.85 - 0.25*min(max((densityKgM3-100)/400, 0), 1)
	a := (1 + deep*deep) / (2 * deep)
	b := (1 - deep*deep) / (2 * deep)
	// tanh and 1/cosh stay finite however deep the snow lies.
	x := b * math.Sqrt(100*densityKgM3) * depthM
	tanh := math.Tanh(x)
	under := a*tanh + b
	return b / math.Cosh(x) / under, tanh / under
}
