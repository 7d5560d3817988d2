package airflow

import "math"

// Draughts of natural convection along upright and steep faces: how much air goes with the film, and how far off the room's air it is.

// Shares of the difference between face and air by which the whole moving layer, mixed, is off its air. Both follow from the published
// profiles of speed and temperature across the layer, as sum of speed times difference over sum of speed:
//
//	laminar    u ~ y (1 - y)^2, dT ~ (1 - y)^2          (1/30)/(1/12) = 0.4
//	turbulent  u ~ y^(1/7) (1 - y)^4, dT ~ 1 - y^(1/7)  0.0366/0.1463 = 0.25
//
// Source: Squire, in Goldstein, Modern Developments in Fluid Dynamics, 1938; Eckert and Jackson 1950, NACA TN 2207 (both from memory; the
// ratios recomputed from the profiles).
const (
	laminarShare   = 0.4
	turbulentShare = 0.25
)

// DraughtShare returns the share of the difference between a face and its air by which the air that runs along it, mixed, leaves its end,
// 0.4 for a laminar layer to 0.25 for a turbulent one, by the Grashof number of the face's length: the two are joined about
// Gr 1e9. What a film h A takes from the air is carried by a mass flow m = h A/(share c), so that heat and air agree whatever the film's law.
func DraughtShare(grashof float64) float64 {
	r := grashof / 1e9
	return turbulentShare + (laminarShare-turbulentShare)/(1+r*r)
}

// Grashof returns g d L^3/nu^2 of a face of length [m] by a relative difference of density of either sign, see Buoyancy.
func (f Fluid) Grashof(difference, lengthM float64) float64 {
	return f.rayleigh(difference, lengthM) / f.Prandtl
}

// reachK is the difference of temperature over which a draught comes to rest at a level as heavy as itself [K]; judgement: a draught is not of
// one temperature, and goes some way past its own level.
const reachK = 0.3

// Reach returns the share of a draught that goes on into the next layer, by how much heavier it is than that layer, told as the temperature
// it is colder by [K] (warmer, for one that rises): half where they are alike, nearly all of it from 1 K on, nearly nothing the other way.
//
//	(1 + x/sqrt(x^2 + 0.3^2))/2
func Reach(k float64) float64 { return (1 + k/math.Sqrt(k*k+reachK*reachK)) / 2 }
