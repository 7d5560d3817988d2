package weather

import "math"

// Pack is snow lying on level ground: its water, its density and its albedo. The zero value is bare ground.
type Pack struct {
	WaterKgM2   float64 // ice and water held [kg/m2]
	DensityKgM3 float64 // of the snow, its melt water not held
	Albedo      float64 // of the snow itself
	MeltedKgM2  float64 // all that has run off since bare ground [kg/m2]
	FallenKgM2  float64 // all that has fallen [kg/m2]
}

// Figures of the pack.
const (
	freshAlbedo    = 0.84  // Verseghy 1991
	coldAlbedo     = 0.70  // old snow that does not melt
	meltAlbedo     = 0.50  // old melting snow
	settledDensity = 300.0 // of old snow [kg/m3]
	agePerHour     = 0.01  // rate of ageing of albedo and density [1/h]
	coverDepthM    = 0.10  // depth at which the ground is all white [m]
	waterDensity   = 1000  // [kg/m3]
)

// FreshDensity returns the density of falling snow [kg/m3] at the air temperature [°C]:
//
//	T <= 0:  67.92 + 51.25 exp(T/2.59);  above: 119.17 + 20 T, at most 200
//
// Source: Hedstrom and Pomeroy, Hydrological Processes 12:1611, 1998, eq. 10; above 0 °C Pomeroy and Gray 1995.
func FreshDensity(airC float64) float64 {
	if airC <= 0 {
		return 67.92 + 51.25*math.Exp(airC/2.59)
	}
	return min(200, 119.17+20*airC)
}

// MeltFactor returns the melt per day and kelvin above 0 °C [kg/m2 d K] of snow of a density [kg/m3]:
//
//	a = 11 density/1000
//
// Source: Martinec 1960, as in Martinec and Rango, Parameter values for snowmelt runoff modelling, Journal of Hydrology 84:197, 1986: a in cm is
// 1.1 of the relative density. Valid for open ground; forest less.
func MeltFactor(densityKgM3 float64) float64 { return 11 * densityKgM3 / waterDensity }

// DepthM is how deep the snow lies [m].
func (p Pack) DepthM() float64 {
	if p.WaterKgM2 <= 0 {
		return 0
	}
	return p.WaterKgM2 / p.DensityKgM3
}

// After returns the pack one hour later: fresh snow falls on it in the hour's air, the pack settles and darkens, and it melts by degree days.
//
//	density and albedo x' = (x - x_old) exp(-0.01 per hour) + x_old
//
// Source of ageing: Verseghy, CLASS - a Canadian land surface scheme for GCMs, International Journal of Climatology 11:111, 1991; of melt: MeltFactor. Melt water
// runs off, rain runs through, nothing evaporates: a pack lies somewhat longer in dry wind than it should.
func (p Pack) After(airC, freshM float64) Pack {
	fresh := freshM * FreshDensity(airC)
	if p.WaterKgM2 > 0 {
		darkest := coldAlbedo
		if airC > 0 {
			darkest = meltAlbedo
		}
		keep := math.Exp(-agePerHour)
		if p.Albedo > darkest {
			p.Albedo = (p.Albedo-darkest)*keep + darkest
		}
		p.DensityKgM3 = (p.DensityKgM3-settledDensity)*keep + settledDensity
	}
	if fresh > 0 {
		depth := p.DepthM() + freshM
		p.WaterKgM2 += fresh
		p.DensityKgM3 = p.WaterKgM2 / depth
		p.Albedo = freshenedBy(p, fresh)
		p.FallenKgM2 += fresh
	}
	melt := min(p.WaterKgM2, MeltFactor(p.DensityKgM3)/24*max(0, airC))
	p.WaterKgM2 -= melt
	p.MeltedKgM2 += melt
	if p.WaterKgM2 < 1e-3 {
		p.MeltedKgM2 += p.WaterKgM2
		p.WaterKgM2, p.DensityKgM3, p.Albedo = 0, 0, 0
	}
	return p
}

// freshenedBy is the albedo after fresh snow [kg/m2]: a centimetre of it (1 kg/m2) hides what lay before. The centimetre is common practice, no source.
func freshenedBy(p Pack, fresh float64) float64 {
	if p.Albedo == 0 {
		return freshAlbedo
	}
	return p.Albedo + (freshAlbedo-p.Albedo)*min(1, fresh/1)
}

// GroundUnderSnow is the ground a pack lies on.
type GroundUnderSnow struct {
	// Albedo of the bare ground; 0 stands for 0.20, grass and soil (common practice).
	Albedo float64
}

// WithPack returns s with the snow's depth and density at the end of each hour and the ground's albedo, from its snowfall and air; unknown
// snowfall counts as none. The white covers the ground in proportion to the depth up to 10 cm (Verseghy 1991).
func (s Series) WithPack(ground GroundUnderSnow) Series {
	if ground.Albedo == 0 {
		ground.Albedo = 0.20
	}
	s = s.Clone()
	var p Pack
	for i := range s.Hours {
		h := &s.Hours[i]
		p = p.After(h.AirC, known(h.SnowfallM))
		h.SnowDepthM, h.SnowDensityKgM3 = p.DepthM(), p.DensityKgM3
		white := min(1, h.SnowDepthM/coverDepthM)
		h.GroundAlbedo = ground.Albedo + (p.Albedo-ground.Albedo)*white
	}
	s.note(Derived, "snow depth", -1, len(s.Hours), "degree-day pack that settles and darkens; ground albedo from it, bare %g", ground.Albedo)
	return s
}
