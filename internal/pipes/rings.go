package pipes

import (
	"fmt"
	"math"
)

// Rings are the soil round a tube as concentric rings, per metre of tube. Each ring has its temperature at the geometric mean of its two
// radii, so that steady heat through any number of them is that of the whole, ln(r2/r1)/(2 pi k), exactly.
type Rings struct {
	Radii []float64 // bounds, from the tube's outside outward [m]
}

// NewRings cuts the soil from radius inner to outer into n rings of equal ratio [m].
func NewRings(inner, outer float64, n int) (Rings, error) {
	if !(inner > 0) || !(outer > inner) || math.IsInf(outer, 1) {
		return Rings{}, fmt.Errorf("rings of soil run from %g to %g m, must begin above 0 and end beyond", inner, outer)
	}
	if n < 1 {
		return Rings{}, fmt.Errorf("there are %d rings of soil, must be at least 1", n)
	}
	r := Rings{Radii: make([]float64, n+1)}
	for i := range r.Radii {
		r.Radii[i] = inner * math.Pow(outer/inner, float64(i)/float64(n))
	}
	r.Radii[n] = outer
	return r, nil
}

// Len is the number of rings.
func (r Rings) Len() int { return len(r.Radii) - 1 }

// Area is the section of a ring [m²]: its volume per metre of tube.
func (r Rings) Area(i int) float64 {
	return math.Pi * (r.Radii[i+1]*r.Radii[i+1] - r.Radii[i]*r.Radii[i])
}

// Half is the resistance between the middle of a ring and either of its bounds, of one metre of tube in soil of conductivity k [K/W].
func (r Rings) Half(i int, k float64) float64 {
	return Shell(r.Radii[i], r.Radii[i+1], k) / 2
}

// Shell is the resistance of a round shell, of one metre of tube [K/W]: ln(r2/r1)/(2 pi k).
//
// Source: CJ section 7.2; textbook conduction.
func Shell(inner, outer, k float64) float64 { return math.Log(outer/inner) / (2 * math.Pi * k) }

// Plane is the radius at which the soil round one of many tubes side by side stands at the temperature that their plane has as seen
// from afar [m]: spacing/(2 pi). The field of a row of line sources is ln(2 sinh(pi z/s)) above one of them: pi z/s from afar, which run on
// to the plane is 0, and ln(2 pi r/s) near the source, which is 0 there.
func Plane(spacing float64) float64 { return spacing / (2 * math.Pi) }
