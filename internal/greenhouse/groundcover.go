package greenhouse

import (
	"math"

	"suncellar/internal/cropwater"
	"suncellar/internal/plan"
)

// groundCover is what grows or lies on the ground outdoors.
type groundCover struct {
	resistance float64 // between the soil's face and what the sky sees [m²K/W]
	plants     bool    // that draw water from the depth of their roots; otherwise the soil's face dries
	wet        float64 // share of a bare soil's evaporation that is left over the cover
}

// The covers. Short grass: the skin conductivity of low vegetation, 10 W/m²K. Stubble: 2 cm of fallen residue, own judgement, of 0.15 W/mK, straw in
// hardly moving air (0.1 to 0.6 by wind); it covers eight tenths of the ground and takes 40 % of the evaporation, 5 % for each tenth. What is left
// evaporates where the sky looks, from wet residue and the gaps in it.
// Source: Viterbo and Beljaars 1995 and later tables of that scheme, from memory; Van Donk and Tollner 2000; FAO paper 56 ch. 11, from memory.
var (
	bareGround = groundCover{resistance: 1 / none, wet: 1}
	shortGrass = groundCover{resistance: 0.10, plants: true}
	stubble    = groundCover{resistance: 0.02 / 0.15, wet: 0.6}
)

// coverOf is the cover a plan names; short grass where it names none.
func coverOf(name string) groundCover {
	switch name {
	case "bare":
		return bareGround
	case "stubble":
		return stubble
	}
	return shortGrass
}

// soilWater is what the soil holds for roots and for drying, as two buckets that rain fills from above. What falls as snow counts when it
// falls; what is too much runs off.
//
//	plants  K = (W - D)/((1 - p) W), 0 to 1: how much of its water well watered grass still gives; W = 1000 w 0.75 m, p = 0.4
//	soil    K = (T - D)/(T - R),     0 to 1: how much of a wet soil's water a drying one still gives
//
// with D what is missing, W the water roots can draw, T and R all and the easy part of what the uppermost 0.1 m can lose [mm].
// Source: FAO paper 56, eq. 84 and 74; w, T, R by table 19, middle of the range; roots and p of turf by table 22; all from memory.
type soilWater struct {
	roots, easyRoots  float64 // W, p W [mm]
	top, easyTop      float64 // T, R [mm]
	lacks, lacksTop   float64 // D [mm]
	neverRains        bool    // the weather knows no rain
	plantsK, surfaceK float64
}

// What is taken where the weather knows of no rain: grass gives half of what it could, a bare soil a quarter. Own judgement.
const dryPlants, drySurface = 0.5, 0.25

// rootDepth is that of turf [m], rootShare the part of its water that it draws with ease.
const rootDepth, rootShare = 0.75, 0.4

// topDepth is how deep a soil dries from its face [m], FAO paper 56.
const topDepth = 0.1

// newSoilWater is half full. Of soil in layers the roots and the face draw from what lies in their depth, each layer by its thickness.
func newSoilWater(site plan.Site) soilWater {
	var w soilWater
	share := func(from, to, depth float64) float64 { return math.Max(0, math.Min(to, depth)-from) / depth }
	from := 0.0
	add := func(texture string, to float64) {
		s, _ := cropwater.SoilOf(texture) // the plan knows these textures alone
		roots, face := share(from, to, rootDepth), share(from, to, topDepth)
		w.roots, w.top, w.easyTop = w.roots+roots*cropwater.AvailableMM(s, rootDepth), w.top+face*s.FaceMM, w.easyTop+face*s.EasyMM
		from = to
	}
	for _, l := range site.SoilLayers {
		add(l.Texture, l.To)
	}
	add(site.Soil.Texture, math.Inf(1))
	w.easyRoots = rootShare * w.roots
	w.lacks, w.lacksTop = w.roots/2, w.top/2
	return w
}

// hour takes in the rain of an hour and what evaporated in the one before [mm], through plants or from the soil's face, which then has to bring it up from
// below as well. Under plants the uppermost dries as if a third of it came from there, the share of a closed grass' upper tenth of roots and soil; own judgement.
func (w *soilWater) hour(rain, lost float64, plants bool) {
	if w.neverRains {
		w.plantsK, w.surfaceK = dryPlants, drySurface
		return
	}
	surface := lost
	if plants {
		surface = lost / 3
	}
	w.lacks = clamp(w.lacks+lost-rain, 0, w.roots)
	w.lacksTop = clamp(w.lacksTop+surface-rain, 0, w.top)
	w.plantsK = clamp((w.roots-w.lacks)/(w.roots-w.easyRoots), 0, 1)
	w.surfaceK = clamp((w.top-w.lacksTop)/(w.top-w.easyTop), 0, 1)
}

// foliage is how far grass is in leaf, from 0, dormant, to 1:
//
//	G = ramp(Tmin; -2, 5 °C) ramp(day; 10, 11 h)
//
// of the mean over three weeks of the days' lowest air and of the day's length; the third ramp of the source, dryness of the air, is left to the
// soil's water. The mean here forgets by 1/21 a day.
// Source: Jolly, Nemani and Running 2005, Global Change Biology 11:619.
type foliage struct {
	low, mean float64 // lowest of the day so far, its mean over weeks [°C]
	hours     int
	sunHours  float64 // of the day so far [h]
	leaf      float64
}

func (s *foliage) hour(h *hour) {
	first := s.hours == 0
	if first || h.w.AirC < s.low {
		s.low = h.w.AirC
	}
	s.sunHours += h.span.UpShare
	if s.hours++; s.hours%24 != 0 {
		if s.hours < 24 {
			s.leaf = ramp(s.low, -2, 5)
		}
		return
	}
	if s.hours == 24 {
		s.mean = s.low
	}
	s.mean += (s.low - s.mean) / 21
	s.leaf = ramp(s.mean, -2, 5) * ramp(s.sunHours, 10, 11)
	s.low, s.sunHours = h.w.AirC, 0
}

// ramp is 0 up to low, 1 from high on.
func ramp(x, low, high float64) float64 { return clamp((x-low)/(high-low), 0, 1) }
