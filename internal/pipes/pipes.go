// Package pipes is fluid that moves through a pipe, and air that moves through tubes buried in the ground: friction, the film inside,
// the draft that buoyancy makes between two openings, the flow that comes of it, water that condenses in it, and the soil round it.
//
// It promises that pressure loss rises with speed and is smooth through the change from laminar to turbulent, so that a draft has
// one flow; that the flow is found, never assumed: it is nil where nothing drives it, and goes back where it is driven back; and
// that the rings of soil pass steady heat exactly, whatever their number.
//
// Temperatures in °C, lengths in m, speeds in m/s, pressures in Pa, per tube where a figure is of a tube. A NaN given is a NaN
// returned by the formulas; Flow and the rings ask for numbers.
package pipes

import "math"

const (
	gravity     = 9.80665
	zeroCelsius = 273.15
	gasDryAir   = 287.042 // J/kg K, as moist air is reckoned elsewhere
)

// Fluid is what fills the pipe, at one temperature and pressure.
type Fluid struct {
	Density      float64 // [kg/m³]
	Viscosity    float64 // dynamic [Pa s]
	Conductivity float64 // [W/mK]
	Heat         float64 // specific heat [J/kgK]
}

// Prandtl is the number of that name: viscosity times specific heat over conductivity.
func (f Fluid) Prandtl() float64 { return f.Viscosity * f.Heat / f.Conductivity }

// Tube is one round pipe.
type Tube struct {
	Diameter  float64 // inside [m]
	Length    float64 // [m]
	Roughness float64 // of its wall [m]
	Fittings  float64 // sum of the loss coefficients of ends, bends and screens, at least 0.5
}

// Section is the area that the flow has [m²].
func (t Tube) Section() float64 { return math.Pi / 4 * t.Diameter * t.Diameter }

// Reynolds is the number of that name at a speed.
func (t Tube) Reynolds(f Fluid, speed float64) float64 {
	return math.Abs(speed) * t.Diameter * f.Density / f.Viscosity
}

// The flow is laminar up to one Reynolds number and turbulent from the other on.
// Source: White, Fluid Mechanics, ch. 6; Gnielinski 2013.
const laminarRe, turbulentRe = 2300.0, 4000.0

// turbulent is the weight of the turbulent law: 0 up to Re 2300, 1 from 4000 on, s²(3 - 2s) between, so that no law jumps or has
// a corner.
func turbulent(re float64) float64 {
	s := min(1, max(0, (re-laminarRe)/(turbulentRe-laminarRe)))
	return s * s * (3 - 2*s)
}

// AirDensity is that of dry air at a temperature and a pressure [kg/m³]: p/(R T).
func AirDensity(celsius, pressure float64) float64 {
	return pressure / (gasDryAir * (celsius + zeroCelsius))
}
