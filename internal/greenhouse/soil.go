package greenhouse

import (
	"math"

	"suncellar/internal/ground"
	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/plan"
)

// Soil is the natural ground of a site: level layers from grade down, and the soil below the lowest of them, without end. What is
// promised: without layers every value is that of the one soil, to the last bit.
type Soil struct {
	Layers []SoilLayer
	Below  ground.Medium
}

// SoilLayer is one layer of the natural ground, from the one above it down to a depth.
type SoilLayer struct {
	To     float64 // depth of its lower edge below grade [m]
	Medium ground.Medium
}

// SoilOf is the natural ground of a site. Errors: those of SoilMedium.
func SoilOf(site plan.Site) (Soil, error) {
	below, err := SoilMedium(site.Soil)
	s := Soil{Below: below}
	for _, l := range site.SoilLayers {
		if err != nil {
			break
		}
		var m ground.Medium
		m, err = SoilMedium(l.Soil())
		s.Layers = append(s.Layers, SoilLayer{l.To, m})
	}
	return s, err
}

// At is the soil at a depth below grade [m]; on the edge of two layers the upper one's.
func (s Soil) At(depth float64) ground.Medium {
	for _, l := range s.Layers {
		if depth <= l.To {
			return l.Medium
		}
	}
	return s.Below
}

// over adds up a property over the layers between grade and a depth [m], each times its thickness.
func (s Soil) over(depth float64, of func(ground.Medium) float64) float64 {
	sum, from := 0.0, 0.0
	for _, l := range s.Layers {
		if l.To >= depth {
			return sum + (depth-from)*of(l.Medium)
		}
		sum, from = sum+(l.To-from)*of(l.Medium), l.To
	}
	return sum + (depth-from)*of(s.Below)
}

// MeanK is the mean conductivity between grade and a depth above 0 [W/mK], by thickness: heat that goes along the layers has it; what goes across
// them has less, so that a steady loss comes out too large rather than too small.
func (s Soil) MeanK(depth float64) float64 {
	if len(s.Layers) == 0 {
		return s.Below.K
	}
	return s.over(depth, func(m ground.Medium) float64 { return m.K }) / depth
}

// waveDepth is how deep a wave from the surface would be in the lowest soil alone when in the layers it has come to a depth [m], as far as its fading
// and its lag go:
//
//	z' = integral of sqrt(a0/a) dz,  a = k/c, a0 of the lowest
//
// Thawed ground; what the layers throw back is left out, which is good enough to begin the search for the year's state with.
func (s Soil) waveDepth(depth float64) float64 {
	if len(s.Layers) == 0 {
		return depth
	}
	return s.over(depth, func(m ground.Medium) float64 { return math.Sqrt(s.Below.K / s.Below.C * m.C / m.K) })
}

// strata are the layers for a column of ground.
func (s Soil) strata() []ground.Layer {
	var list []ground.Layer
	from := 0.0
	for _, l := range s.Layers {
		list = append(list, ground.Layer{Thickness: l.To - from, Medium: l.Medium})
		from = l.To
	}
	return list
}

// rects are the layers across a slice from x0 to x1 [m].
func (s Soil) rects(x0, x1 float64) []ground.Rect {
	var list []ground.Rect
	from := 0.0
	for _, l := range s.Layers {
		list = append(list, ground.Rect{X0: x0, X1: x1, Z0: -l.To, Z1: -from, Medium: l.Medium})
		from = l.To
	}
	return list
}

// SoilMedium is the natural ground of a site. Between 0 and -0.5 °C its water freezes; the few per cent that stay liquid in fine
// soils are left out of the latent heat. Errors: a texture or moisture that material.Soil does not know.
func SoilMedium(s plan.Soil) (ground.Medium, error) {
	p, err := material.Soil(house.Key(s.Texture), s.Moisture)
	if err != nil {
		return ground.Medium{}, err
	}
	m := ground.Medium{K: p.ConductivityUnfrozenWMK, KFrozen: p.ConductivityFrozenWMK, C: p.HeatUnfrozenJM3K, CFrozen: p.HeatFrozenJM3K, Lower: soilFrozenC}
	if s.Conductivity != nil {
		m.KFrozen *= *s.Conductivity / m.K
		m.K = *s.Conductivity
	}
	if s.HeatCapacity != nil {
		m.CFrozen *= *s.HeatCapacity / m.C
		m.C = *s.HeatCapacity
	}
	freezes := 1.0
	if p.WaterM3M3 > 0 {
		freezes = clamp(1-p.UnfrozenM3M3/p.WaterM3M3, 0.2, 1)
	}
	m.Latent = p.LatentJM3*freezes + (m.C+m.CFrozen)/2*-soilFrozenC
	return m, nil
}

const soilFrozenC = -0.5
