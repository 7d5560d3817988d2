package exact

import (
	"math"

	"suncellar/internal/numeric"
)

// Surface resistances of ISO 13370:2017 (from ISO 6946) [m2 K/W].
const (
	floorFilm   = 0.17 // heat flow downward
	wallFilm    = 0.13 // heat flow sideways
	outsideFilm = 0.04
)

// Floor is a floor on or under the ground, as ISO 13370 sees it.
type Floor struct {
	Area         float64 // A [m2]
	Perimeter    float64 // P, exposed [m]
	WallWidth    float64 // w, whole thickness of the walls at ground level [m]
	Conductivity float64 // lambda, of the ground [W/(m K)]
	FloorR       float64 // of the floor build, Rf [m2 K/W]
	WallR        float64 // of the basement wall build, Rw [m2 K/W]
	Depth        float64 // z, of the floor below ground [m]; 0 for a slab on the ground
}

// width is the characteristic dimension B' = A / (P/2) [m]. Source: ISO 13370:2017.
func (f Floor) width() float64 { return f.Area / (0.5 * f.Perimeter) }

// thickness is dt, the floor as an equal thickness of ground [m]. Source: ISO 13370:2017.
func (f Floor) thickness() float64 {
	return f.WallWidth + f.Conductivity*(floorFilm+f.FloorR+outsideFilm)
}

// FloorU is the transmittance of the floor [W/(m2 K)], steady, inside air to outside air.
//
//	dt + z/2 <  B': U = 2 lambda / (pi B' + dt + z/2) ln(pi B' / (dt + z/2) + 1)
//	dt + z/2 >= B': U = lambda / (0.457 B' + dt + z/2)
//
// Source: ISO 13370:2017, slab on ground (z = 0) and heated basement, floor.
func (f Floor) FloorU() float64 {
	b, d := f.width(), f.thickness()+f.Depth/2
	if d < b {
		return 2 * f.Conductivity / (math.Pi*b + d) * math.Log(math.Pi*b/d+1)
	}
	return f.Conductivity / (0.457*b + d)
}

// WallU is the transmittance of the walls below ground [W/(m2 K)]. Depth is above 0.
//
//	U = 2 lambda / (pi z) (1 + 0.5 dt/(dt+z)) ln(z/dw + 1), dw = lambda (Rsi + Rw + Rse)
//
// with dt replaced by dw where dw < dt. Source: ISO 13370:2017, heated basement, walls.
func (f Floor) WallU() float64 {
	dw := f.Conductivity * (wallFilm + f.WallR + outsideFilm)
	dt := math.Min(f.thickness(), dw)
	z := f.Depth
	return 2 * f.Conductivity / (math.Pi * z) * (1 + 0.5*dt/(dt+z)) * math.Log(z/dw+1)
}

// Conductance is that of floor and walls below ground together [W/K].
//
//	H = A Uf + z P Uw
//
// Source: ISO 13370:2017, heated basement.
func (f Floor) Conductance() float64 {
	h := f.Area * f.FloorU()
	if f.Depth > 0 {
		h += f.Depth * f.Perimeter * f.WallU()
	}
	return h
}

// Pad is a rectangular floor on deep ground: its surface is one kelvin warmer
// than the ground around it, and under the walls the surface falls in a straight
// line, the corners mitred.
type Pad struct {
	Length, Breadth float64 // of the floor [m]
	WallWidth       float64 // W, above 0 [m]
	Conductivity    float64 // k, of the ground [W/(m K)]
}

// HeatFlow is the steady flow through the floor into the ground [W] for that kelvin.
//
// The mitred fall is the mean over w in 0..W of a warm rectangle grown by w on
// each side, and a warm rectangle sheds from a point inside
//
//	q = k/(2 pi) sum over its corners of sqrt(u^2 + v^2) / (u v)
//
// with u, v the distances to the two sides. Integrated over the floor:
//
//	Q = (2 k/pi) mean over w of [ H(L+w,B+w) - H(L+w,w) - H(w,B+w) + H(w,w) ]
//	H(u,v) = 2 sqrt(u^2+v^2) - v asinh(v/u) - u asinh(u/v)
//
// Source of the case: Delsante, Stokes and Walsh 1983; the value printed for it as
// case GC10a in NREL/TP-550-43388 (2008) is 2432.597 W. The derivation above is our own.
func (p Pad) HeatFlow() float64 {
	const places, cuts = 32, 8
	h := func(u, v float64) float64 {
		return 2*math.Hypot(u, v) - v*math.Asinh(v/u) - u*math.Asinh(u/v)
	}
	// w = W s^3 takes the logarithm at w = 0 out of the integrand's slope.
	mean := 0.0
	for i := range cuts {
		mean += numeric.Integrate(func(s float64) float64 {
			w := p.WallWidth * s * s * s
			l, b := p.Length+w, p.Breadth+w
			return 3 * s * s * (h(l, b) - h(l, w) - h(w, b) + h(w, w))
		}, float64(i)/cuts, float64(i+1)/cuts, places)
	}
	return 2 * p.Conductivity / math.Pi * mean
}
