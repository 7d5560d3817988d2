package sun

import "math"

// Angle is an angle [rad]. Make one with Degrees.
type Angle float64

// Degrees returns the angle of d degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

// arcseconds returns the angle of s seconds of arc.
func arcseconds(s float64) Angle { return Degrees(s / 3600) }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }

// Sin returns the sine of a.
func (a Angle) Sin() float64 { return math.Sin(float64(a)) }

// Cos returns the cosine of a.
func (a Angle) Cos() float64 { return math.Cos(float64(a)) }

// Tan returns the tangent of a.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }

// Turn returns a brought into 0 to 360° (360° excluded), as azimuths are.
func (a Angle) Turn() Angle {
	t := math.Mod(float64(a), 2*math.Pi)
	if t < 0 {
		t += 2 * math.Pi
	}
	if t >= 2*math.Pi { // a tiny negative angle rounds up to the full turn
		t = 0
	}
	return Angle(t)
}

// HalfTurn returns a brought into -180° to 180°, as hour angles are.
func (a Angle) HalfTurn() Angle { return Angle(math.Remainder(float64(a), 2*math.Pi)) }

// Place is a spot on the earth.
type Place struct {
	Latitude   Angle   // north positive, -90 to 90°
	Longitude  Angle   // east positive, -180 to 180°
	ElevationM float64 // above sea level [m]
}
