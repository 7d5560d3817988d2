package air

import "math"

// Curve is the humidity ratio of saturated air at one pressure, over ice below the triple point and over water above it, as a table that
// is read within nanoseconds.
//
// It promises a curve that goes through the handbook's values at every whole kelvin from the triple point, with their slopes there: a cubic
// between each two (Hermite), within 2 parts in a million of SaturationHumidityRatio up to 50 °C. At the triple point the slope jumps, as
// that of the two curves does. Outside -90 to 60 °C the value at the end stands, with no slope.
type Curve struct {
	pieces [curveEnd - curveBegin]piece
}

// curveBegin and curveEnd are the first and the last temperature of the table, counted from the triple point [K].
const (
	curveBegin = -90
	curveEnd   = 60
)

// piece is the cubic of one kelvin: a + x (b + x (c + x d)).
type piece struct{ a, b, c, d float64 }

// NewCurve makes the table for a pressure [Pa], which must be above 20 kPa: what saturated air of 60 °C holds as vapour.
func NewCurve(pressure float64) *Curve {
	t := &Curve{}
	for k := range t.pieces {
		low, high := TriplePoint+float64(k+curveBegin), TriplePoint+float64(k+curveBegin+1)
		if k+curveBegin < 0 { // the ice's curve up to the triple point itself
			low, high = low-1e-9, high-1e-9
		}
		w0, s0 := saturatedRatio(low, pressure)
		w1, s1 := saturatedRatio(high, pressure)
		t.pieces[k] = piece{w0, s0, 3*(w1-w0) - 2*s0 - s1, 2*(w0-w1) + s0 + s1}
	}
	return t
}

// saturatedRatio is the humidity ratio of saturated air and how fast it rises [1/K].
func saturatedRatio(celsius, pressure float64) (w, slope float64) {
	e := SaturationPressure(celsius)
	dry := pressure - e
	return MassRatio * e / dry, MassRatio * pressure / (dry * dry) * SaturationSlope(celsius)
}

// At is the humidity ratio of saturated air at celsius [°C], and how fast it rises [1/K]. A NaN given is a NaN returned.
func (t *Curve) At(celsius float64) (w, slope float64) {
	x := celsius - TriplePoint - curveBegin
	k := int(math.Floor(x))
	switch {
	case x != x:
		return celsius, celsius
	case x < 0:
		return t.pieces[0].a, 0
	case k >= len(t.pieces):
		p := &t.pieces[len(t.pieces)-1]
		return p.a + p.b + p.c + p.d, 0
	}
	p := &t.pieces[k]
	x -= float64(k)
	return p.a + x*(p.b+x*(p.c+x*p.d)), p.b + x*(2*p.c+x*3*p.d)
}
