package exact

import "math"

// Lump is a body of one temperature that loses heat to air of another.
type Lump struct {
	HeatCapacity float64 // C [J/K]
	Conductance  float64 // UA [W/K]
}

// TimeConstant is C/UA [s].
func (l Lump) TimeConstant() float64 { return l.HeatCapacity / l.Conductance }

// Temperature after a time [s] in steady air, in °C.
//
//	T = Ta + (T0-Ta) exp(-t/tau)
//
// Source: Newton's law of cooling.
func (l Lump) Temperature(start, air, time float64) float64 {
	return air + (start-air)*math.Exp(-time/l.TimeConstant())
}

// TimeTo is how long it takes from start to limit [s] in steady air. It is
// infinite where the air never brings the body there, 0 where it is there already.
//
//	t = tau ln((T0-Ta) / (Tl-Ta))
func (l Lump) TimeTo(limit, start, air float64) float64 {
	ratio := (start - air) / (limit - air)
	switch {
	case limit == start:
		return 0
	case !(ratio >= 1):
		return math.Inf(1)
	}
	return l.TimeConstant() * math.Log(ratio)
}

// Wave is the response to an air wave of one kelvin and a period [s]: its size and lag [s].
//
//	1/sqrt(1 + (w tau)^2), atan(w tau)/w
func (l Lump) Wave(period float64) (amplitude, lag float64) {
	w := 2 * math.Pi / period
	x := w * l.TimeConstant()
	return 1 / math.Hypot(1, x), math.Atan(x) / w
}

// FreezingTime is how long a body at its freezing point takes to freeze through [s]
// where only its outer film holds the heat back: latent [J], air below point [°C].
func (l Lump) FreezingTime(latent, point, air float64) float64 {
	return latent / (l.Conductance * (point - air))
}
