// Package cropwater is how much water a crop gives off and how long its soil can give it: reference evapotranspiration, crop
// coefficients by stage, and the water of the root zone from day to day, after FAO paper 56.
//
// It promises the equations of that paper in its own units, since its numbers hold in them: radiation in MJ/m² of a day or an hour, vapour in
// kPa, water in mm (a litre on a square metre), temperatures in °C, wind in m/s at 2 m. Every name of a value ends in its unit, and each equation
// carries its number. What the paper rounds in its worked examples is not rounded here.
//
// The reference is grass 12 cm high, well watered, that shades its ground. A NaN given is a NaN returned.
//
// Source: FAO paper 56, chapters 2 to 4, 6 and 8.
package cropwater

import "math"

// Angle is an angle [rad].
type Angle float64

// Degrees makes an angle of degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

const (
	zeroKelvin   = 273.16 // as the paper has it for radiation, eq. 39; 273 in eq. 6 and 53
	stefanMJDay  = 4.903e-9
	stefanMJHour = 2.043e-10
	solarMJMin   = 0.0820 // solar constant [MJ/m² min]
	// MMPerMJ is the water that a MJ/m² evaporates [mm]: 1/2.45, eq. 20.
	MMPerMJ = 0.408
	albedo  = 0.23 // of the reference, eq. 38
)
