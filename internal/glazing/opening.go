package glazing

import "math"

// Opening is what stands between the open sky and the glazing's own
// transmittance: shares of light lost, each of what the one before left.
type Opening struct {
	FrameShare    float64 // of the opening that is frame, not glazing
	BarShade      float64 // of the light that bars and purlins shade or take
	Dirt          float64 // of the light that dirt takes
	AgeingPerYear float64 // of the light that each year of age takes
}

// DefaultOpening returns what a plan gets that says nothing: 0.86 of the light in
// all, in the middle of 0.80 to 0.92.
//
// Source: common practice, no source, for frame and bars 0.80 to 0.92 and dirt 0.93 to 0.98
// when washed yearly; the parts are judgement.
func DefaultOpening() Opening {
	return Opening{FrameShare: 0.06, BarShade: 0.03, Dirt: 0.0568}
}

// Light returns the share of the glazing's own transmittance that the whole
// opening passes, years after it was new:
// (1 - frame)(1 - bars)(1 - dirt)(1 - ageing)^years.
func (o Opening) Light(years float64) float64 {
	return (1 - o.FrameShare) * (1 - o.BarShade) * (1 - o.Dirt) * math.Pow(1-o.AgeingPerYear, max(years, 0))
}

// Check reports a share that no opening can have.
func (o Opening) Check() error {
	return within(
		bound{"frame share", o.FrameShare, 0, 0.9},
		bound{"bar shade", o.BarShade, 0, 0.9},
		bound{"dirt", o.Dirt, 0, 0.9},
		bound{"ageing in a year", o.AgeingPerYear, 0, 0.5},
	)
}

// Snow is a layer of snow lying on the glazing.
type Snow struct {
	DepthM          float64 // across the layer [m]
	ConductivityWMK float64 // at its density [W/m K]
	Transmittance   float64 // of diffuse light, over black ground
	Reflectance     float64 // of diffuse light, over black ground
}

// Resistance returns depth over conductivity [m2 K/W], in series outside the glazing.
func (s Snow) Resistance() float64 {
	if s.DepthM <= 0 {
		return 0
	}
	return s.DepthM / s.ConductivityWMK
}

// Over returns the diffuse optics of glazing under the snow, and the shares of
// light from outdoors and from indoors that the snow itself takes up. Snow scatters every ray, so
// what reaches the glazing is diffuse, and the sums over the reflections between the two are
//
//	T = Ts Tg/(1 - Rs Rg),  R = Rs + Ts^2 Rg/(1 - Rs Rg),  A_i = Ts A_gi/(1 - Rs Rg)
//
// and likewise from indoors. A beam uses Outside too. Where snow lies on a part
// of the pane only, the caller weights by area.
func (s Snow) Over(d Diffuse) (under Diffuse, takenOutside, takenInside float64) {
	loop := 1 / (1 - s.Reflectance*d.Outside.Reflectance)
	take := 1 - s.Transmittance - s.Reflectance
	o := Optics{Reflectance: s.Reflectance + s.Transmittance*s.Transmittance*d.Outside.Reflectance*loop}
	o.Transmittance = s.Transmittance * d.Outside.Transmittance * loop
	in := Optics{Reflectance: d.Inside.Reflectance + d.Inside.Transmittance*s.Reflectance*loop*d.Outside.Transmittance}
	in.Transmittance = d.Inside.Transmittance * loop * s.Transmittance
	for i := range o.Absorbed {
		o.Absorbed[i] = s.Transmittance * loop * d.Outside.Absorbed[i]
		in.Absorbed[i] = d.Inside.Absorbed[i] + d.Inside.Transmittance*s.Reflectance*loop*d.Outside.Absorbed[i]
	}
	under = Diffuse{Outside: o, Inside: in, Sky: o, Ground: o}
	return under, take * (1 + s.Transmittance*loop*d.Outside.Reflectance), take * d.Inside.Transmittance * loop
}
