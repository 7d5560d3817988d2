package airflow

import "math"

// stillK is the difference of temperature [K] whose film a surface keeps when
// there is none: 0.2 to 0.3 W/m2 K. Air indoors is never wholly at rest;
// the value is judgement.
const stillK = 0.01

// Natural returns the film coefficient [W/m2 K] of natural convection on a large
// inside surface by what it is warmer than its air [K] and its tilt: the angle of
// its normal, pointing into the air, from straight up. A floor is 0°, a wall 90°, a ceiling 180°.
//
//	unstable  9.482 |dT|^(1/3)/(7.283 - |cos tilt|)   warm facing up, cold facing down
//	stable    1.810 |dT|^(1/3)/(1.382 + |cos tilt|)
//	upright   1.31 |dT|^(1/3): the mean of the two there, within 0.4 %
//
// |dT| is sqrt(dT^2 + 0.01^2), so the film is never 0, and the two laws cross
// over by (1 + tanh(dT cos tilt/0.5 K))/2: the room's air is never so still that the law
// could turn within hundredths of a kelvin; the width is judgement.
//
// Source: Walton 1983, NBSIR 83-2655.
func Natural(warmerK float64, tilt Angle) float64 { return NewSide(tilt).Natural(warmerK) }

// Side is the tilt of a surface, with what its film takes from it alone.
type Side struct{ cos, unstable, stable float64 }

// NewSide returns the side of a tilt.
func NewSide(tilt Angle) Side {
	cos := math.Cos(float64(tilt))
	size := math.Abs(cos)
	return Side{cos: cos, unstable: 9.482 / (7.283 - size), stable: 1.810 / (1.382 + size)}
}

// Natural returns the film coefficient as the function of that name does.
func (s Side) Natural(warmerK float64) float64 {
	upward := (1 + math.Tanh(warmerK*s.cos/0.5)) / 2
	return (upward*s.unstable + (1-upward)*s.stable) * cubeRoot(math.Sqrt(warmerK*warmerK+stillK*stillK))
}

// Wind returns the convective film coefficient [W/m2 K] of an outside surface in
// wind [m/s] near it: 4 + 4 v.
//
// Source: ISO 6946, annex C, from memory.
func Wind(wind float64) float64 { return 4 + 4*math.Abs(wind) }

// Fluid is air or water at the mean temperature of a film.
type Fluid struct {
	ConductivityWMK float64 // [W/m K]
	KinematicM2S    float64 // kinematic viscosity [m2/s]
	Prandtl         float64
}

// rayleigh returns g d L^3 Pr/nu^2 for a relative difference of density d.
func (f Fluid) rayleigh(difference, length float64) float64 {
	return gravity * math.Abs(difference) * length * length * length * f.Prandtl / (f.KinematicM2S * f.KinematicM2S)
}

// Buoyancy returns the relative difference of density between a gas at surfaceC
// and at bulkC [°C], (Ts - Tb)/T at their mean: positive where the gas by the surface rises.
func Buoyancy(surfaceC, bulkC float64) float64 {
	return (surfaceC - bulkC) / ((surfaceC+bulkC)/2 + zeroCelsius)
}

// Upright returns the film coefficient [W/m2 K] of natural convection on an
// upright wall or cylinder of the given height [m], by the relative difference of density
// between the fluid at the surface and away from it, of either sign:
//
//	Nu = (0.825 + 0.387 Ra^(1/6)/(1 + (0.492/Pr)^(9/16))^(8/27))^2,  Ra = g d L^3 Pr/nu^2
//
// For air d is Buoyancy. For the water film inside a drum take d from the densities of water at wall and bulk
// themselves: near 4 °C they hardly differ and the film nearly dies, which a fixed
// expansion coefficient would miss. Where wall and bulk lie on either side of 4 °C, up- and downflow share the wall
// and the film is at least this. At no difference conduction stays: 0.68 k/L. A cylinder is as a wall where
// diameter/height is above 35/Gr^(1/4): any drum. Range Ra < 1e12.
//
// Source: Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1323, eq. 9.
func Upright(f Fluid, density, heightM float64) float64 {
	r := rowOf(f)
	return r.film(density, heightM)
}

// uprightShape is (1 + (0.492/Pr)^(9/16))^(8/27), by roots, which are quicker than powers.
func uprightShape(prandtl float64) float64 {
	x := 0.492 / prandtl
	x3 := x * x * x
	y := 1 + math.Sqrt(math.Sqrt(math.Sqrt(math.Sqrt(x3*x3*x3))))
	y4 := y * y * y * y
	return cubeRoot(cubeRoot(cubeRoot(y4 * y4)))
}

// Flat returns the film coefficient [W/m2 K] of natural convection on a level
// plate, a drum's lid or base, by the relative difference of density as in
// Upright with its sign: positive where the fluid by the plate tends to move away from it
// (warm lid in air, cold lid over water). length is area over perimeter [m].
//
//	away from it: the larger of 0.54 Ra^(1/4) and 0.15 Ra^(1/3)
//	against it:   0.27 Ra^(1/4)
//	never below:  1, conduction over the length
//
// Published for 1e4 < Ra < 1e11 and 1e5 < Ra < 1e10.
//
// Source: Lloyd and Moran 1974; McAdams 1954; Incropera and DeWitt, eqs. 9.30 to 9.32.
func Flat(f Fluid, density, lengthM float64) float64 {
	ra := f.rayleigh(density, lengthM)
	fourth := math.Sqrt(math.Sqrt(ra))
	nu := 0.27 * fourth
	if density > 0 {
		nu = max(0.54*fourth, 0.15*cubeRoot(ra))
	}
	return max(nu, 1) * f.ConductivityWMK / lengthM
}
