package ground

import "math"

// Harmonic is the yearly wave of undisturbed ground, to start the search for its periodic state from.
type Harmonic struct {
	Mean        float64 // of the year at the surface, and of the deep ground [°C]
	Amplitude   float64 // of the surface's wave [K]
	Warmest     float64 // day of the year on which the surface is warmest [d]
	Diffusivity float64 // conductivity over heat capacity [m²/s]
}

// yearDays is the length of a year [d].
const yearDays = 365.0

// At is the temperature at a depth [m] on a day of the year [d], in °C.
//
//	T = Tm + As exp(-z/d) cos(2 pi/365 (t - tw) - z/d),  d = sqrt(365 · 86400 a/pi)
//
// Valid for ground of one medium that does not freeze, depth at least 0.
// Source: Kusuda & Achenbach, Earth temperature and thermal diffusivity at selected stations in the United States, 1965; tw here
// is the warmest day, theirs is the coldest, half a year away.
func (h Harmonic) At(depth, day float64) float64 {
	z := depth / math.Sqrt(yearDays*86400*h.Diffusivity/math.Pi)
	return h.Mean + h.Amplitude*math.Exp(-z)*math.Cos(2*math.Pi/yearDays*(day-h.Warmest)-z)
}
