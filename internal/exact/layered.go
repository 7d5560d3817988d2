package exact

import "math/cmplx"

// Layered is deep ground: sheets from the surface down, upon a solid without end.
type Layered struct {
	Sheets []Slab
	Deep   Solid
}

// Response is the complex temperature at a depth [m] for a surface wave of one kelvin: its absolute value is the amplitude, its negative
// phase [rad] the lag. With g = (1+i)/d of each sheet and Y the admittance of what lies below it,
//
//	T(x)/T(0) = (cosh g(L-x) + Y/(k g) sinh g(L-x)) / (cosh gL + Y/(k g) sinh gL)
//	Y(top)    = k g (Y + k g tanh gL) / (k g + Y tanh gL),   Y of the deep solid k g
//
// which is the product of the sheets' transmission matrices, closed below by the deep solid.
// Source: CJ section 3.7; the same matrices are those of ISO 13786; both from memory.
func (l Layered) Response(depth, period float64) complex128 {
	return l.response(depth, func(s Solid) complex128 { return s.wave(period) })
}

// Admittance is the complex heat flow into the surface [W/m2] for a surface wave of one kelvin. Source: CJ section 3.7.
func (l Layered) Admittance(period float64) complex128 {
	return l.admittance(0, func(s Solid) complex128 { return s.wave(period) })
}

// Ripple is the steady temperature at a depth [m] under a surface at cos(p x) of one kelvin, p [1/m]: times cos(p x) it holds everywhere.
// Laplace's equation leaves the same matrices with g = p in every sheet. Source: CJ section 3.7.
func (l Layered) Ripple(depth, p float64) float64 {
	return real(l.response(depth, func(Solid) complex128 { return complex(p, 0) }))
}

// RippleFlow is the steady heat flow into that surface where cos(p x) is 1 [W/m2].
func (l Layered) RippleFlow(p float64) float64 {
	return real(l.admittance(0, func(Solid) complex128 { return complex(p, 0) }))
}

// response goes down sheet by sheet.
func (l Layered) response(depth float64, g func(Solid) complex128) complex128 {
	at := complex(1, 0)
	for i, s := range l.Sheets {
		w, kg := g(s.Solid), complex(s.Conductivity, 0)*g(s.Solid)
		r := (l.admittance(i+1, g) - kg) / (l.admittance(i+1, g) + kg) // what comes back from below: cosh + Y/kg sinh = (e^u + ...)/2
		x := min(depth, s.Thickness)
		end := cmplx.Exp(-2 * w * complex(s.Thickness, 0))
		at *= cmplx.Exp(-w*complex(x, 0)) * (1 - r*cmplx.Exp(-2*w*complex(s.Thickness-x, 0))) / (1 - r*end)
		if depth <= s.Thickness {
			return at
		}
		depth -= s.Thickness
	}
	return at * cmplx.Exp(-g(l.Deep)*complex(depth, 0))
}

// admittance is that of the sheets from number first on, upon the deep solid.
func (l Layered) admittance(first int, g func(Solid) complex128) complex128 {
	y := complex(l.Deep.Conductivity, 0) * g(l.Deep)
	for i := len(l.Sheets) - 1; i >= first; i-- {
		s := l.Sheets[i]
		w := g(s.Solid)
		kg := complex(s.Conductivity, 0) * w
		e := cmplx.Exp(-2 * w * complex(s.Thickness, 0))
		tanh := (1 - e) / (1 + e)
		y = kg * (y + kg*tanh) / (kg + y*tanh)
	}
	return y
}
