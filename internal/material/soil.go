package material

import (
	"fmt"
	"math"
)

// SoilProperties is what one soil at one moisture does to heat. Frozen values
// take all its water as ice.
type SoilProperties struct {
	Texture                 string
	Saturation              float64 // share of the pores that holds water
	Porosity                float64 // share of the volume that is pores
	WaterM3M3               float64 // volume of water, as liquid, per volume [m3/m3]
	DensityKgM3             float64 // with its water [kg/m3]
	ConductivityUnfrozenWMK float64 // [W/m K]
	ConductivityFrozenWMK   float64 // [W/m K]
	HeatUnfrozenJM3K        float64 // [J/m3 K]
	HeatFrozenJM3K          float64 // [J/m3 K]
	LatentJM3               float64 // heat to freeze all the water [J/m3]
	// UnfrozenM3M3 is the water that stays liquid some kelvins below 0 °C
	// [m3/m3], for a caller whose freezing law spreads over a range. It is
	// NOT taken out of LatentJM3 or the frozen values. Judgement on Farouki
	// 1981, from memory: 2 % of the volume in loams to 10 % in clays.
	UnfrozenM3M3 float64
	Source       string
	Confidence   Confidence
}

const (
	particleKgM3     = 2700.0 // Johansen 1975
	solidsJKgK       = 800.0  // mineral grains; from memory
	soilWaterJKgK    = 4186.0 // water near 15 °C
	soilIceJKgK      = 2050.0 // ice near 0 °C
	soilSource       = "Johansen 1975 scheme; porosity Cosby et al. 1984 and quartz Peters-Lidard et al. 1998, from memory"
	waterWMK, iceWMK = 0.57, 2.2
)

// texture is one class of the soil triangle.
type texture struct {
	key              string
	porosity, quartz float64
	coarse           bool    // which Kersten number holds
	unfrozen         float64 // m3/m3, judgement
}

// textures is read only.
var textures = [...]texture{
	{"sand", 0.430, 0.92, true, 0.00},
	{"loamy_sand", 0.421, 0.82, true, 0.01},
	{"sandy_loam", 0.434, 0.60, false, 0.02},
	{"loam", 0.439, 0.40, false, 0.03},
	{"silt_loam", 0.476, 0.25, false, 0.04},
	{"sandy_clay_loam", 0.404, 0.60, false, 0.05},
	{"clay_loam", 0.465, 0.35, false, 0.06},
	{"silty_clay_loam", 0.464, 0.10, false, 0.07},
	{"sandy_clay", 0.406, 0.52, false, 0.07},
	{"silty_clay", 0.468, 0.10, false, 0.09},
	{"clay", 0.468, 0.25, false, 0.10},
}

// SoilNames returns the textures that Soil knows, sorted.
func SoilNames() []string {
	return keys(textures[:], func(t texture) string { return t.key })
}

// Soil returns the properties of a mineral soil of the given texture (a key of
// SoilNames) whose pores are filled with water to the share saturation, 0 to 1.
//
//	k     = Ke (k_sat - k_dry) + k_dry
//	k_dry = (0.135 d + 64.7)/(2700 - 0.947 d),  d = 2700 (1 - n)
//	k_sat = k_s^(1-n) k_w^n,  k_s = 7.7^q 2.0^(1-q)  (3.0 in place of 2.0 where q <= 0.2)
//	Ke    = log10 S + 1; coarse 0.7 log10 S + 1; frozen S
//
// with porosity n, quartz share q of the solids, saturation S, and k_w 0.57 for
// water or 2.2 for ice. Published range S > 0.05 coarse, S > 0.1 fine. In drier
// soil Ke is 0; for coarse soil it rises in a straight line from 0 at S = 0.05
// to the formula at 0.1, so that nothing jumps. Peat and compost are not mineral soils: see Lookup.
//
// Source: Johansen, Thermal conductivity of soils, 1975.
func Soil(textureKey string, saturation float64) (SoilProperties, error) {
	if !(saturation >= 0 && saturation <= 1) {
		return SoilProperties{}, fmt.Errorf("soil saturation is %g, must be 0 to 1", saturation)
	}
	for i := range textures {
		if textures[i].key == textureKey {
			return textures[i].at(saturation), nil
		}
	}
	return SoilProperties{}, unknown("soil texture", textureKey, SoilNames())
}

func (t texture) at(saturation float64) SoilProperties {
	n := t.porosity
	dry := particleKgM3 * (1 - n)
	water := n * saturation
	waterKg := 1000 * water
	kDry := (0.135*dry + 64.7) / (particleKgM3 - 0.947*dry)
	other := 2.0
	if t.quartz <= 0.2 {
		other = 3.0
	}
	kSolid := math.Pow(7.7, t.quartz) * math.Pow(other, 1-t.quartz)
	mix := func(kFluid float64) float64 { return math.Pow(kSolid, 1-n) * math.Pow(kFluid, n) }
	return SoilProperties{
		Texture:                 t.key,
		Saturation:              saturation,
		Porosity:                n,
		WaterM3M3:               water,
		DensityKgM3:             dry + waterKg,
		ConductivityUnfrozenWMK: kDry + t.kersten(saturation)*(mix(waterWMK)-kDry),
		ConductivityFrozenWMK:   kDry + saturation*(mix(iceWMK)-kDry),
		HeatUnfrozenJM3K:        dry*solidsJKgK + waterKg*soilWaterJKgK,
		HeatFrozenJM3K:          dry*solidsJKgK + waterKg*soilIceJKgK,
		LatentJM3:               waterKg * FusionJKg,
		UnfrozenM3M3:            min(t.unfrozen, water),
		Source:                  soilSource,
		Confidence:              Medium,
	}
}

// kersten is Johansen's unfrozen Kersten number, carried on to dry soil.
func (t texture) kersten(s float64) float64 {
	if !t.coarse {
		return max(0, math.Log10(max(s, 0.1))+1)
	}
	if s < 0.1 {
		return 0.3 * max(0, (s-0.05)/0.05)
	}
	return 0.7*math.Log10(s) + 1
}
