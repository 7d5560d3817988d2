// Package airflow is air that moves by itself and the heat that moving air and
// water carry to surfaces: leakage, vents, doors, the overturning of one air
// layer by another, films on walls, floors, glazing and drums.
//
// It promises volume flows in m3/s and film coefficients in W/m2 K that stay
// finite, continuous and smooth where a temperature difference passes through
// zero, so that an implicit solver can take a slope there. A flow with a
// direction changes sign with its cause and keeps its size; an exchange, as much one way as the other, is never negative.
// Published laws hold from about 0.5 K up; below, the joints written at each function take over.
//
// Temperatures in °C, areas in m2, lengths in m, wind in m/s. A NaN given is a NaN returned.
package airflow

import (
	"fmt"
	"math"
)

// Angle is an angle in radians.
type Angle float64

// Degrees returns the angle of that many degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

const (
	gravity     = 9.80665
	zeroCelsius = 273.15
	seaLevelPa  = 101325.0
)

// evenRoot returns sqrt|x| made flat at 0: sqrt|x| (1 - exp(-(x/scale)^2)). It is
// x^2.5 near 0 and sqrt|x| within 1e-4 beyond 3 scale.
func evenRoot(x, scale float64) float64 {
	r := x / scale
	return math.Sqrt(math.Abs(x)) * -math.Expm1(-r*r)
}

// signedRoot returns sqrt|x| with the sign of x made straight at 0:
// x/(x^2 + scale^2)^(1/4); it falls short by (scale/x)^2/4.
func signedRoot(x, scale float64) float64 {
	if x == 0 {
		return 0
	}
	return x / math.Sqrt(math.Hypot(x, scale))
}

// positive returns x where x is well above 0, and 0 below: x (1 - exp(-(x/scale)^2)),
// so that even its 0.55th power leaves 0 without a corner.
func positive(x, scale float64) float64 {
	if x <= 0 { // not for NaN, which stays one
		return 0
	}
	r := x / scale
	return x * -math.Expm1(-r*r)
}

// bound is a value and the range it must lie in.
type bound struct {
	what             string
	value, low, high float64
}

func within(bounds ...bound) error {
	for _, b := range bounds {
		if !(b.value >= b.low && b.value <= b.high) {
			return fmt.Errorf("%s is %g, must be %g to %g", b.what, b.value, b.low, b.high)
		}
	}
	return nil
}
