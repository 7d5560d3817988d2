// Package catchment is rain and snow on the roofs of a house, and what of them reaches the inlet of the drums, day by day.
package catchment

import (
	"slices"

	"suncellar/internal/weather"
)

// Yield is the water that runs off a surface [m³]: a litre for each m² as seen from above and mm of rain, times the share that runs off.
//
// Source: Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 4.
func Yield(areaM2, rainMM, runoff float64) float64 { return areaM2 * rainMM * runoff / 1000 }

// settledKgM3 is the density of snow that has lain, by which it melts [kg/m³]; as in weather.Pack.
const settledKgM3 = 300

// wetMM is what makes a day one of rain [mm]; World Meteorological Organization's 0.2 mm, from memory.
const wetMM = 0.2

// Surface is what rain falls on.
type Surface struct {
	AreaM2 float64 // as seen from above
	Runoff float64 // share of the rain that reaches the gutter
	Sheds  bool    // snow slides past the gutter
}

// Roofs are surfaces with the snow that lies on them, and the vessel of the first flush.
type Roofs struct {
	list    []Surface
	flush   float64 // volume of its vessel [m³]
	empties int     // after how many days without water it is empty again
	Lying
}

// Lying is what a day leaves to the next.
type Lying struct {
	SnowMM  []float64 // on each surface, its water
	FlushM3 float64   // in the vessel of the first flush
	DryDays int       // without water so far
}

// New is surfaces without snow, the vessel of the first flush [m³] empty; it is empty again after so many dry days.
func New(list []Surface, flushM3 float64, dryDays int) *Roofs {
	return &Roofs{list: list, flush: flushM3, empties: dryDays, Lying: Lying{SnowMM: make([]float64, len(list))}}
}

// Copy is roofs in the same state, to go on apart.
func (r *Roofs) Copy() *Roofs {
	c := *r
	c.SnowMM = slices.Clone(r.SnowMM)
	return &c
}

// Ran is what a day gives: off each roof what reaches the inlet, and what went past it [m³].
type Ran struct {
	Off        []float64
	Flushed    float64 // let go first
	Shed       float64 // slid off as snow
	SnowMelted float64 // of Off and Flushed, that fell as snow
}

// Day lets it rain, snow and melt. Snow that lies melts by degree days; rain on it runs through.
func (r *Roofs) Day(d Day) Ran {
	out := Ran{Off: make([]float64, len(r.list))}
	sum := 0.0
	for i, c := range r.list {
		if c.Sheds {
			out.Shed += Yield(c.AreaM2, d.SnowMM, c.Runoff)
		} else {
			r.SnowMM[i] += d.SnowMM
		}
		melt := min(r.SnowMM[i], weather.MeltFactor(settledKgM3)*d.MeltKD)
		r.SnowMM[i] -= melt
		out.Off[i] = Yield(c.AreaM2, d.RainMM+melt, c.Runoff)
		out.SnowMelted += Yield(c.AreaM2, melt, c.Runoff)
		sum += out.Off[i]
	}
	r.first(&out, sum, d)
	return out
}

// first takes the first flush off each roof in proportion.
func (r *Roofs) first(out *Ran, sum float64, d Day) {
	if sum <= 0 || d.RainMM < wetMM && out.SnowMelted == 0 {
		r.DryDays++
		if r.DryDays >= r.empties {
			r.FlushM3 = 0
		}
	} else {
		r.DryDays = 0
	}
	if sum <= 0 {
		return
	}
	out.Flushed = min(sum, r.flush-r.FlushM3)
	r.FlushM3 += out.Flushed
	for i := range out.Off {
		out.Off[i] *= 1 - out.Flushed/sum
	}
}
