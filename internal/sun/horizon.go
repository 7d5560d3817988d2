// What stands before the sky: the skyline of hills and trees by azimuth, and straight edges near by. This file promises that a skyline
// raised anywhere never lets more sun or sky through, that it is closed over the full turn, and that a free one (level all round)
// leaves the light as Plane.Irradiance has it.

package sun

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// skylineSteps is how many directions a Skyline is kept in: every second degree.
const skylineSteps = 180

const skylineStep = 2 * math.Pi / skylineSteps

// Skyline is how high the horizon stands in each direction; the zero value is level all round.
type Skyline struct {
	elevation [skylineSteps]float64 // at azimuth skylineStep k [rad], 0 to 90°
}

// SkylinePoint is the height of the horizon in one direction.
type SkylinePoint struct{ Azimuth, Elevation Angle }

// NewSkyline joins points by straight lines in azimuth, closed over the full turn; one point is the same height all round. Below the
// level plane counts as level. Errors: no points, two in one direction, an elevation that is not 0 to below 90°.
func NewSkyline(points []SkylinePoint) (Skyline, error) {
	var s Skyline
	if len(points) == 0 {
		return s, fmt.Errorf("skyline has no points, must have at least 1")
	}
	p := slices.Clone(points)
	for i := range p {
		p[i].Azimuth = p[i].Azimuth.Turn()
		if e := p[i].Elevation.Degrees(); !(e >= 0 && e < 90) {
			return s, fmt.Errorf("skyline is %g° high at %g°, must be 0 to below 90°", e, p[i].Azimuth.Degrees())
		}
	}
	slices.SortFunc(p, func(a, b SkylinePoint) int { return cmp.Compare(a.Azimuth, b.Azimuth) })
	for i := 1; i < len(p); i++ {
		if p[i].Azimuth-p[i-1].Azimuth < 1e-9 {
			return s, fmt.Errorf("skyline has two heights at %g°", p[i].Azimuth.Degrees())
		}
	}
	for k := range s.elevation {
		s.elevation[k] = between(p, float64(k)*skylineStep)
	}
	return s, nil
}

// between interpolates sorted points at an azimuth [rad].
func between(p []SkylinePoint, azimuth float64) float64 {
	after := 0
	for after < len(p) && float64(p[after].Azimuth) <= azimuth {
		after++
	}
	a, b := p[(after+len(p)-1)%len(p)], p[after%len(p)]
	width := float64((b.Azimuth - a.Azimuth).Turn())
	if width == 0 {
		return float64(a.Elevation)
	}
	along := float64((Angle(azimuth) - a.Azimuth).Turn())
	return float64(a.Elevation) + along/width*float64(b.Elevation-a.Elevation)
}

// At returns the height of the skyline in a direction.
func (s *Skyline) At(azimuth Angle) Angle {
	x := float64(azimuth.Turn()) / skylineStep
	k := int(x)
	f := x - float64(k)
	return Angle((1-f)*s.elevation[k%skylineSteps] + f*s.elevation[(k+1)%skylineSteps])
}

// Edge is a straight level edge near by: of a bank, a wall, a hedge. It is seen from a point.
type Edge struct {
	Azimuth   Angle   // direction at right angles to it, from the point towards it
	DistanceM float64 // that way [m], above 0
	RiseM     float64 // of its top over the point; one that does not rise hides nothing [m]
	LeftM     float64 // how far it reaches to the left of that direction, as seen from the point [m]
	RightM    float64 // and to the right [m]
}

// Raise lifts the skyline to an edge where that stands higher: tan e = rise cos a/distance at an angle a from its direction.
func (s *Skyline) Raise(e Edge) {
	if e.RiseM <= 0 {
		return
	}
	for k := range s.elevation {
		a := Angle(float64(k)*skylineStep - float64(e.Azimuth)).HalfTurn()
		if math.Abs(float64(a)) >= math.Pi/2-1e-9 {
			continue
		}
		along := e.DistanceM * a.Tan()
		if along < -e.LeftM || along > e.RightM {
			continue
		}
		s.elevation[k] = math.Max(s.elevation[k], math.Atan2(e.RiseM*a.Cos(), e.DistanceM))
	}
}

// SkyView returns the view factor of a plane to the sky above the skyline (eq. 4.10):
//
//	1/π ∫ ∫ cos θ cos h dh da   over heights h above the skyline and on the plane's side
//
// It is (1 + cos β)/2 over a level skyline, within 1e-4, and cos² e on a level plane under one e high.
// Source: Duffie and Beckman, ch. 2, the view factor as an integral over the sky; the sum over azimuths is ours.
func (s *Skyline) SkyView(p Plane) float64 {
	sum := 0.0
	for k, e := range s.elevation {
		side := p.Tilt.Sin() * Angle(float64(k)*skylineStep-float64(p.Azimuth)).Cos()
		level := p.Tilt.Cos()
		// cos θ = level sin h + side cos h is above 0 for h between -phi and pi - phi
		phi := math.Atan2(side, level)
		low, high := math.Max(e, -phi), math.Min(math.Pi/2, math.Pi-phi)
		if high <= low {
			continue
		}
		sum += level*(square(math.Sin(high))-square(math.Sin(low)))/2 + side*(high/2+math.Sin(2*high)/4-low/2-math.Sin(2*low)/4)
	}
	return sum * skylineStep / math.Pi
}

func square(x float64) float64 { return x * x }

// bandHeight is how high the bright band along the horizon reaches.
// Source: Perez et al. 1990 take an infinitely thin one; 6.5° are those of their earlier model, from memory.
const bandHeight = 6.5 * math.Pi / 180

// BandView returns the share of the bright band along the horizon that a plane sees over the skyline, 1 over a level one.
func (s *Skyline) BandView(p Plane) float64 {
	seen, all := 0.0, 0.0
	for k, e := range s.elevation {
		w := math.Max(0, Angle(float64(k)*skylineStep-float64(p.Azimuth)).Cos())
		all += w
		seen += w * math.Max(0, 1-e/bandHeight)
	}
	return seen / all
}

// glow is the half width of the bright sky round the disc. Judgement, between the 15° and 25° of Perez's earlier models.
const glow = 20 * math.Pi / 180

// Seen returns the shares of disc and of circumsolar light that pass over the skyline in a span whose sun stands at three positions, at its
// begin, middle and end. The clearance between them is taken as straight; the glow is a round spot cut by the skyline, what the level
// plane cuts of it not counted.
func (s *Skyline) Seen(sun [3]Position) (disc, circumsolar float64) {
	var clear [3]float64
	for i, p := range sun {
		clear[i] = float64(p.Elevation - s.At(p.Azimuth))
		free := spot(float64(p.Elevation) / glow)
		weight := [3]float64{0.25, 0.5, 0.25}[i]
		if free <= 0 {
			circumsolar += weight
			continue
		}
		circumsolar += weight * math.Min(1, spot(clear[i]/glow)/free)
	}
	return (above(clear[0], clear[1]) + above(clear[1], clear[2])) / 2, circumsolar
}

// above is the share of a straight line between two values that lies above nought.
func above(a, b float64) float64 {
	switch {
	case a >= 0 && b >= 0:
		return 1
	case a <= 0 && b <= 0:
		return 0
	}
	return math.Max(a, b) / math.Abs(a-b)
}

// spot is the share of a round disc of radius 1 above a line at -x from its middle.
func spot(x float64) float64 {
	switch {
	case x >= 1:
		return 1
	case x <= -1:
		return 0
	}
	return 0.5 + (x*math.Sqrt(1-x*x)+math.Asin(x))/math.Pi
}

// Passed is what a skyline and edges leave of the light on a plane, shares of what a free outlook would give.
type Passed struct {
	Disc, Circumsolar, Sky, Band, Ground float64
}

// Through returns the irradiance that is left. What hides the sky is taken as dark: it sends no light back, which is the
// cold side, above all for snow on hills.
func (i Irradiance) Through(p Passed) Irradiance {
	i.BeamWM2 *= p.Disc
	i.CircumsolarWM2 *= p.Circumsolar
	i.IsotropicWM2 *= p.Sky
	if i.HorizonWM2 > 0 {
		i.HorizonWM2 *= p.Band
	}
	i.HorizonWM2 = max(i.HorizonWM2, -i.CircumsolarWM2-i.IsotropicWM2)
	i.GroundWM2 *= p.Ground
	return i
}

// Sides returns the sun's positions at begin, middle and end of the part of a time in which it is up, as Seen wants them.
func (s Span) Sides(from, to Position) [3]Position {
	if from.Elevation < 0 {
		from = s.Position
	}
	if to.Elevation < 0 {
		to = s.Position
	}
	return [3]Position{from, s.Position, to}
}
