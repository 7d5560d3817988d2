package exact

import "math"

// Solid is a homogeneous material.
type Solid struct {
	Conductivity float64 // k [W/(m K)]
	Density      float64 // rho [kg/m3]
	SpecificHeat float64 // c [J/(kg K)]
}

// Diffusivity is k/(rho c) [m2/s].
func (s Solid) Diffusivity() float64 { return s.Conductivity / (s.Density * s.SpecificHeat) }

// Effusivity is sqrt(k rho c) [W s^0.5/(m2 K)].
func (s Solid) Effusivity() float64 {
	return math.Sqrt(s.Conductivity * s.Density * s.SpecificHeat)
}

// SurfaceStep is the rise at a depth [m] and time [s] after the surface of a deep
// solid steps by one kelvin.
//
//	T = erfc(x / (2 sqrt(a t)))
//
// Valid for depth >= 0, time > 0. Source: CJ section 2.5.
func (s Solid) SurfaceStep(depth, time float64) float64 {
	return math.Erfc(depth / (2 * math.Sqrt(s.Diffusivity()*time)))
}

// SurfaceStepFlow is the heat flow into the surface [W/m2] after that step.
//
//	q = k / sqrt(pi a t)
//
// Valid for time > 0. Source: CJ section 2.5.
func (s Solid) SurfaceStepFlow(time float64) float64 {
	return s.Conductivity / math.Sqrt(math.Pi*s.Diffusivity()*time)
}

// SurfaceStepDepth is where the rise after that step equals share.
// Valid for 0 < share < 1, time > 0.
func (s Solid) SurfaceStepDepth(share, time float64) float64 {
	return 2 * math.Sqrt(s.Diffusivity()*time) * math.Erfcinv(share)
}

// FilmStep is the rise at a depth [m] and time [s] after the air before a deep
// solid steps by one kelvin, with a film coefficient h [W/(m2 K)].
//
//	T = erfc(u) - exp(h x/k + h^2 a t/k^2) erfc(u + v)
//	u = x / (2 sqrt(a t)), v = h sqrt(a t) / k
//
// Valid for depth >= 0, time > 0, film >= 0. Source: CJ section 2.7.
func (s Solid) FilmStep(film, depth, time float64) float64 {
	root := math.Sqrt(s.Diffusivity() * time)
	u, v := depth/(2*root), film*root/s.Conductivity
	// The exponent is (u+v)^2 - u^2: so no factor overflows.
	return math.Erfc(u) - math.Exp(-u*u)*erfcx(u+v)
}

// erfcx is exp(z^2) erfc(z) for z >= 0, by its continued fraction where erfc is tiny.
// Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 1964, eq. 7.1.14.
func erfcx(z float64) float64 {
	if z < 5 {
		return math.Exp(z*z) * math.Erfc(z)
	}
	f := z
	for n := 60; n >= 1; n-- {
		f = z + float64(n)/2/f
	}
	return 1 / (math.Sqrt(math.Pi) * f)
}
