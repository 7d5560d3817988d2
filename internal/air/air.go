// Package air is the arithmetic of moist air: saturation, humidity, dew and
// frost point, wet bulb, enthalpy, density, and the pressure at a height.
//
// It promises the perfect-gas relations of the ASHRAE Handbook of Fundamentals
// 2017, chapter 1, with the saturation curves of Hyland and Wexler 1983, from
// -100 to 200 °C. Temperatures are in °C, pressures in Pa, humidity ratios in kg
// of vapour per kg of dry air, enthalpies in J per kg of dry air above dry air
// and liquid water at 0 °C. Below the triple point saturation is over ice unless
// a function's name says water. Equation numbers are given
// from memory. Functions are pure and do not allocate. A NaN
// given is a NaN returned: none is turned into a number.
package air

// Constants of the handbook's perfect-gas relations (ASHRAE Fundamentals 2017,
// ch. 1, eqs. 1, 20, 26, 30) and of water.
const (
	// GasConstantDry is the gas constant of dry air [J/kg K]; eq. 1.
	GasConstantDry = 287.042
	// MassRatio is the molar mass of water over that of dry air; eq. 20.
	MassRatio = 0.621945
	// HeatDry is the specific heat of dry air [J/kg K]; eq. 30.
	HeatDry = 1006.0
	// HeatVapour is the specific heat of water vapour [J/kg K]; eq. 30.
	HeatVapour = 1860.0
	// HeatLiquid is the specific heat of liquid water in the wet bulb's balance [J/kg K]; eq. 33.
	HeatLiquid = 4186.0
	// HeatIce is the specific heat of ice in the wet bulb's balance [J/kg K]; eq. 35.
	HeatIce = 2100.0
	// LatentAtZero is the latent heat of evaporation at 0 °C [J/kg]; eq. 30.
	LatentAtZero = 2501e3
	// LatentFusion is the heat that a kilogram of ice takes to melt at 0 °C [J/kg].
	LatentFusion = 333.6e3
	// TriplePoint of water [°C]: the curves over ice and over water meet here.
	TriplePoint = 0.01

	zeroCelsius = 273.15
)

// LatentVaporisation returns the heat that evaporates a kilogram of water at
// celsius [°C], in J/kg: 2501e3 + 1860 t - 4186 t, the enthalpy of the vapour
// less that of the water. Range 0 to 100 °C and supercooled drops.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, the terms of eq. 33.
func LatentVaporisation(celsius float64) float64 {
	return LatentAtZero + (HeatVapour-HeatLiquid)*celsius
}

// LatentSublimation returns the heat that turns a kilogram of ice at celsius
// [°C] into vapour, in J/kg: 2501e3 + 333.6e3 + 1860 t - 2100 t. It is the sum of melting
// and evaporating, so frost that forms, melts and dries closes in a ledger;
// the rounded 2830e3 that the handbook prints in eq. 35 is 0.16 % less.
// Range -50 to 0 °C.
func LatentSublimation(celsius float64) float64 {
	return LatentAtZero + LatentFusion + (HeatVapour-HeatIce)*celsius
}

// SpecificHeat returns the heat capacity of moist air of humidity ratio w, in
// J/K per kg of DRY air: 1006 + 1860 W (ASHRAE Fundamentals 2017, ch. 1, eq. 30).
func SpecificHeat(w float64) float64 { return HeatDry + HeatVapour*w }

// Enthalpy returns the enthalpy of moist air, in J per kg of dry air, at celsius
// [°C] and humidity ratio w [kg/kg]: h = 1006 t + W (2501e3 + 1860 t).
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 30.
func Enthalpy(celsius, w float64) float64 {
	return HeatDry*celsius + w*(LatentAtZero+HeatVapour*celsius)
}

// TemperatureOf returns the temperature [°C] of moist air of the given enthalpy
// [J per kg of dry air] and humidity ratio w [kg/kg]: eq. 30 solved for t.
func TemperatureOf(enthalpy, w float64) float64 {
	return (enthalpy - LatentAtZero*w) / SpecificHeat(w)
}

// SpecificVolume returns the volume of moist air, in m3 per kg of dry air, at
// celsius [°C], humidity ratio w [kg/kg] and pressure [Pa]:
// v = 287.042 T (1 + 1.607858 W)/p.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 26.
func SpecificVolume(celsius, w, pressure float64) float64 {
	return GasConstantDry * (celsius + zeroCelsius) * (1 + w/MassRatio) / pressure
}

// Density returns the mass of moist air, vapour included, in kg/m3, at celsius
// [°C], humidity ratio w [kg/kg] and pressure [Pa]: (1 + W)/v.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 11.
func Density(celsius, w, pressure float64) float64 {
	return (1 + w) / SpecificVolume(celsius, w, pressure)
}

// VapourTransfer returns how fast vapour crosses the film over a wet surface, in
// kg/(m2 s) per unit difference of humidity ratio, where the film passes
// convective heat at film [W/m2 K]: film/(c_p Le^(2/3)) with Le = 0.845, the
// diffusivity of heat over that of vapour in air.
//
// Source: Lewis relation, ASHRAE Fundamentals 2017, ch. 6 (Chilton and Colburn 1934);
// the value of Le from memory.
func VapourTransfer(film, w float64) float64 {
	const lewisTwoThirds = 0.8938 // 0.845^(2/3)
	return film / (SpecificHeat(w) * lewisTwoThirds)
}
