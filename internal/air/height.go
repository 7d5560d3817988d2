package air

import "math"

// StandardPressure returns the pressure [Pa] of the standard atmosphere at
// elevation [m]: 101325 (1 - 2.25577e-5 z)^5.2559. Range -5,000 to 11,000 m.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 3.
func StandardPressure(elevation float64) float64 {
	return 101325 * math.Pow(1-2.25577e-5*elevation, 5.2559)
}

// StandardTemperature returns the temperature [°C] of the standard atmosphere at
// elevation [m]: 15 - 0.0065 z. Range -5,000 to 11,000 m.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 4.
func StandardTemperature(elevation float64) float64 { return 15 - 0.0065*elevation }

// SeaLevelPressure returns the pressure [Pa] reduced to sea level from pressure
// [Pa] read at a station at elevation [m] with air at celsius [°C]:
// p exp(z/H), H = 287.055 T/9.807, T the mean of a column that warms 6.5 K/km
// downward.
//
// Source: Hess, Introduction to Theoretical Meteorology, 1959, ch. 6; constants of ASHRAE.
func SeaLevelPressure(pressure, elevation, celsius float64) float64 {
	column := celsius + 0.0065*elevation/2 + zeroCelsius
	return pressure * math.Exp(elevation*9.807/(287.055*column))
}

// Transport holds what moves heat and momentum through still dry air at one
// temperature and pressure.
type Transport struct {
	ConductivityWMK     float64 // thermal conductivity [W/m K]
	KinematicM2S        float64 // kinematic viscosity [m2/s]
	Prandtl             float64 // kinematic viscosity over thermal diffusivity
	ExpansionPerK       float64 // volume expansion, 1/T [1/K]
	VolumeHeatJPerM3K   float64 // density times specific heat [J/m3 K]
	DensityKgPerM3      float64 // [kg/m3]
	DynamicPascalSecond float64 // dynamic viscosity [Pa s]
}

// TransportAt returns the transport properties of dry air at celsius [°C] and
// pressure [Pa]: Sutherland's law mu = 1.458e-6 T^1.5/(T + 110.4) for the
// viscosity and k = 2.64638e-3 T^1.5/(T + 245.4 10^(-12/T)) for the conductivity.
// Range -60 to 80 °C, 2 %.
//
// Source: U.S. Standard Atmosphere 1976, eqs. 51 and 53.
func TransportAt(celsius, pressure float64) Transport {
	t := celsius + zeroCelsius
	mu := 1.458e-6 * t * math.Sqrt(t) / (t + 110.4)
	k := 2.64638e-3 * t * math.Sqrt(t) / (t + 245.4*math.Exp(-12*math.Ln10/t))
	rho := Density(celsius, 0, pressure)
	return Transport{
		ConductivityWMK:     k,
		KinematicM2S:        mu / rho,
		Prandtl:             mu * HeatDry / k,
		ExpansionPerK:       1 / t,
		VolumeHeatJPerM3K:   rho * HeatDry,
		DensityKgPerM3:      rho,
		DynamicPascalSecond: mu,
	}
}
