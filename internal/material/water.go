package material

import "math"

// Water and ice near 0 °C.
const (
	// FusionJKg is the latent heat of fusion of ice at 0 °C [J/kg]; steam tables, from memory.
	FusionJKg = 333.6e3
	// IceDensityKgM3 at 0 °C; steam tables, from memory.
	IceDensityKgM3 = 917.0
	// IceHeatJKgK at 0 °C [J/kg K]; from memory.
	IceHeatJKgK = 2050.0
	// IceConductivityWMK at 0 °C [W/m K]; steam tables, from memory.
	IceConductivityWMK = 2.2
)

// WaterProperties is what still water at one temperature does to heat.
type WaterProperties struct {
	DensityKgM3     float64 // [kg/m3]
	HeatJKgK        float64 // specific heat [J/kg K]
	ConductivityWMK float64 // [W/m K]
	KinematicM2S    float64 // kinematic viscosity [m2/s]
	Prandtl         float64 // kinematic viscosity over thermal diffusivity
	ExpansionPerK   float64 // volume expansion [1/K]; negative below 4 °C
}

// Range of the water formulas [°C].
const (
	waterColdest = 0.0
	waterHottest = 60.0
)

// Water returns the properties of liquid water at atmospheric pressure at
// celsius [°C], 0 to 60; beyond either end it gives the values of that end, so
// that an iteration that strays stays finite.
//
// Source: conductivity Ramires et al. 1995, J. Phys. Chem. Ref. Data 24:1377;
// viscosity Kestin, Sokolov and Wakeham 1978, same journal 7:941, eq. 15; density Kell 1975;
// specific heat Gill, Atmosphere-Ocean Dynamics, 1982, p. 601 (within 0.5 % to 60 °C). Coefficients from memory.
func Water(celsius float64) WaterProperties {
	t := hold(celsius)
	rho := WaterDensity(t)
	cp := 4217.4 + t*(-3.720283+t*(0.1412855+t*(-2.654387e-3+t*2.093236e-5)))
	ratio := (t + 273.15) / 298.15
	k := 0.6065 * (-1.48445 + ratio*(4.12292-1.63866*ratio))
	d := 20 - t
	mu := 1.002e-3 * math.Exp(math.Ln10*d/(t+96)*(1.2364+d*(-1.37e-3+5.7e-6*d)))
	return WaterProperties{
		DensityKgM3:     rho,
		HeatJKgK:        cp,
		ConductivityWMK: k,
		KinematicM2S:    mu / rho,
		Prandtl:         mu * cp / k,
		ExpansionPerK:   waterExpansion(t),
	}
}

func hold(celsius float64) float64 { return min(max(celsius, waterColdest), waterHottest) }

// WaterDensity returns the density [kg/m3] of liquid water at celsius [°C],
// largest near 4 °C; 0 to 60 °C, held at the ends.
//
// Source: Kell 1975, J. Chem. Eng. Data 20:97, eq. 16; coefficients from memory.
func WaterDensity(celsius float64) float64 {
	t := hold(celsius)
	return kell(t) / (1 + 16.879850e-3*t)
}

func kell(t float64) float64 {
	return 999.83952 + t*(16.945176+t*(-7.9870401e-3+t*(-46.170461e-6+t*(105.56302e-9-280.54253e-12*t))))
}

// waterExpansion is -(d rho/dT)/rho by the quotient rule on Kell's formula.
func waterExpansion(t float64) float64 {
	slope := 16.945176 + t*(-2*7.9870401e-3+t*(-3*46.170461e-6+t*(4*105.56302e-9-5*280.54253e-12*t)))
	return 16.879850e-3/(1+16.879850e-3*t) - slope/kell(t)
}
