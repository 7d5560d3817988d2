package exact

import (
	"math"
	"math/cmplx"
)

// DampingDepth is where a wave of a period [s] has shrunk to 1/e [m].
//
//	d = sqrt(2 a / w), w = 2 pi / period
//
// Source: CJ section 2.6 (their wavelength is 2 pi d).
func (s Solid) DampingDepth(period float64) float64 {
	return math.Sqrt(s.Diffusivity() * period / math.Pi)
}

// SurfaceWave is the response at a depth [m] of a deep solid to a surface wave
// cos(w t) of one kelvin: its size and its lag [s].
//
//	T = exp(-x/d) cos(w t - x/d)
//
// Source: CJ section 2.6.
func (s Solid) SurfaceWave(depth, period float64) (amplitude, lag float64) {
	x := depth / s.DampingDepth(period)
	return math.Exp(-x), x * period / (2 * math.Pi)
}

// Slab is a layer with a wave on its front and no heat through its back.
type Slab struct {
	Solid
	Thickness float64 // L [m]
}

// wave is (1+i)/d [1/m]: the exponent of the wave in the solid.
func (s Solid) wave(period float64) complex128 {
	return complex(1, 1) / complex(s.DampingDepth(period), 0)
}

// Response is the complex temperature at a depth for a front wave of one kelvin:
// its absolute value is the amplitude, its negative phase [rad] the lag.
//
//	T(x)/T(0) = cosh(g (L-x)) / cosh(g L), g = (1+i)/d
//
// Source: CJ section 3.6, with the back insulated.
func (s Slab) Response(depth, period float64) complex128 {
	g := s.wave(period)
	back, whole := g*complex(s.Thickness-depth, 0), g*complex(s.Thickness, 0)
	// exp(-g x) (1 + exp(-2 g (L-x))) / (1 + exp(-2 g L)): no factor overflows.
	return cmplx.Exp(-g*complex(depth, 0)) * (1 + cmplx.Exp(-2*back)) / (1 + cmplx.Exp(-2*whole))
}

// Admittance is the complex heat flow into the front [W/m2] for a front wave of one kelvin.
//
//	Y = k g tanh(g L)
//
// Source: CJ section 3.6, from the gradient of Response at the front.
func (s Slab) Admittance(period float64) complex128 {
	g := s.wave(period)
	e := cmplx.Exp(-2 * g * complex(s.Thickness, 0))
	return complex(s.Conductivity, 0) * g * (1 - e) / (1 + e)
}

// HeatCapacity is the diurnal heat capacity of the slab [J/(m2 K)]: half of the
// heat that goes in and out in a period, over the amplitude of the front.
//
//	dhc = sqrt(k rho c / w) sqrt((cosh 2x - cos 2x) / (cosh 2x + cos 2x)), x = L/d
//
// Source: CJ section 3.6; the name after J. D. Balcomb et al., Passive Solar
// Design Handbook, DOE/CS-0127, 1980 (the handbook from memory).
func (s Slab) HeatCapacity(period float64) float64 {
	return cmplx.Abs(s.Admittance(period)) * period / (2 * math.Pi)
}

// Ground is the yearly wave of an undisturbed soil. Days are counted from the
// start of the year.
type Ground struct {
	Mean        float64 // Tm, over the year [°C]
	Amplitude   float64 // As, of the surface [K]
	ColdestDay  float64 // t0, of the surface [d]
	Diffusivity float64 // a [m2/d]
}

// Temperature is that of the soil at a depth [m] on a day [d], in °C.
//
//	T = Tm - As exp(-z sqrt(pi/(365 a))) cos(2 pi/365 (t - t0 - z/2 sqrt(365/(pi a))))
//
// Source: Kusuda and Achenbach 1965.
func (g Ground) Temperature(depth, on float64) float64 {
	const year = 365
	decay := math.Exp(-depth * math.Sqrt(math.Pi/(year*g.Diffusivity)))
	lag := depth / 2 * math.Sqrt(year/(math.Pi*g.Diffusivity))
	return g.Mean - g.Amplitude*decay*math.Cos(2*math.Pi/year*(on-g.ColdestDay-lag))
}
