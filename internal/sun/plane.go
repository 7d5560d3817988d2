package sun

import "math"

// Plane is the direction a flat surface faces.
type Plane struct {
	Tilt    Angle // from level: 0 faces up, 90° upright, 180° faces down
	Azimuth Angle // of the outward normal, clockwise from true north
}

// CosIncidence returns the cosine of the angle between the sun's light and the
// plane's normal, -1 to 1; negative when the light comes from behind (eq. 4.1):
//
//	cos θ = sin h cos β + cos h sin β cos(γs - γ)
//
// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, eq. 1.6.3.
func (p Plane) CosIncidence(at Position) float64 {
	c := at.Elevation.Sin()*p.Tilt.Cos() +
		at.Elevation.Cos()*p.Tilt.Sin()*(at.Azimuth-p.Azimuth).Cos()
	return min(1, max(-1, c))
}

// SkyView returns the share of the plane's outlook that is sky over a free
// horizon, (1 + cos β)/2 (eq. 4.2): its view factor to a uniform sky.
func (p Plane) SkyView() float64 { return (1 + p.Tilt.Cos()) / 2 }

// GroundView returns the view factor to level ground, (1 - cos β)/2 (eq. 4.2).
func (p Plane) GroundView() float64 { return (1 - p.Tilt.Cos()) / 2 }

// ProfileAngle returns the sun's elevation as it shows in an upright section of
// a long house, drawn across it in the direction of azimuth (eq. 4.3):
//
//	tan p = sin h / (cos h cos(γs - γ))
//
// 0 to 90° with the sun on the side of azimuth, 90 to 180° on the far side,
// negative with the sun down.
func ProfileAngle(at Position, azimuth Angle) Angle {
	return Angle(math.Atan2(at.Elevation.Sin(), at.Elevation.Cos()*(at.Azimuth-azimuth).Cos()))
}

// Irradiance is what falls on a plane, by where it comes from, as a mean over a
// Span [W/m2].
type Irradiance struct {
	BeamWM2        float64 // from the disc
	CircumsolarWM2 float64 // from the bright sky round the disc: comes from the sun's direction
	IsotropicWM2   float64 // from the whole sky alike
	HorizonWM2     float64 // from a band along the horizon; negative where the sky is darker there
	GroundWM2      float64 // reflected by level ground with a free outlook
	CosIncidence   float64 // of the beam, -1 to 1
}

// SkyWM2 returns all that comes from the sky without the disc [W/m2].
func (i Irradiance) SkyWM2() float64 { return i.CircumsolarWM2 + i.IsotropicWM2 + i.HorizonWM2 }

// DirectedWM2 returns what comes from the sun's direction: beam and circumsolar [W/m2].
func (i Irradiance) DirectedWM2() float64 { return i.BeamWM2 + i.CircumsolarWM2 }

// TotalWM2 returns the sum of all parts [W/m2].
func (i Irradiance) TotalWM2() float64 { return i.BeamWM2 + i.SkyWM2() + i.GroundWM2 }

// Sky is the light of one span and the ground it falls on.
type Sky struct {
	Span
	Light
	Albedo float64 // share of light the ground sends back, 0 to 1: grass about 0.2, fresh snow 0.8
}

// Irradiance returns what falls on the plane from a sky that is brighter round
// the sun and along the horizon.
//
//	beam    = B max(0, cos θ)                      eq. 4.4
//	sky     = D (F1 a/b + (1 - F1)(1 + cos β)/2 + F2 sin β)   eq. 4.5
//	a = max(0, cos θ),  b = max(cos 85°, cos z)
//	ground  = albedo (B cos z + D)(1 - cos β)/2    eq. 4.6
//
// F1 and F2 from brightness. The sun down throughout: its beam is nought, the
// diffuse light of dusk comes from the whole sky alike. Beyond the source, F1 is
// held to at most 1 and the dark horizon to what the rest of the sky sends, so
// that nothing is negative in sum.
// Source: Perez, Ineichen, Seals, Michalsky and Stewart, Modeling daylight
// availability and irradiance components from direct and global irradiance,
// Solar Energy 44:271, 1990.
func (p Plane) Irradiance(sky Sky) Irradiance {
	refuseNaN("irradiance", sky.BeamNormalWM2, sky.DiffuseWM2, sky.Albedo, sky.UpShare,
		float64(sky.Elevation), float64(p.Tilt), float64(p.Azimuth))
	cosTheta := p.CosIncidence(sky.Position)
	cosZ := sky.cosZenith()
	i := Irradiance{CosIncidence: cosTheta}
	i.GroundWM2 = sky.Albedo * sky.GlobalWM2(sky.Span) * p.GroundView() // eq. 4.6
	if cosZ == 0 {
		i.IsotropicWM2 = sky.DiffuseWM2 * p.SkyView()
		return i
	}
	i.BeamWM2 = sky.BeamNormalWM2 * max(0, cosTheta) // eq. 4.4
	i.addSky(p, sky.DiffuseWM2, cosZ, sky.brightness())
	return i
}

// addSky sets the three parts of the diffuse radiation D [W/m2] on the plane (eq. 4.5).
func (i *Irradiance) addSky(p Plane, D, cosZ float64, f brightness) {
	a := max(0, i.CosIncidence)
	b := max(lowestCosZenith, cosZ)
	i.CircumsolarWM2 = D * f.circumsolar * a / b
	i.IsotropicWM2 = D * (1 - f.circumsolar) * p.SkyView()
	i.HorizonWM2 = max(D*f.horizon*p.Tilt.Sin(), -i.CircumsolarWM2-i.IsotropicWM2)
}
