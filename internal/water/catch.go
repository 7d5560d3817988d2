package water

import (
	"suncellar/internal/house"
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

// roofs are the catchments with the snow that lies on them, and the vessel of the first flush.
type roofs struct {
	list    []house.Catchment
	snow    []float64 // on each [mm of water]
	flush   float64   // volume of its vessel [m³]
	filled  float64   // of it [m³]
	dryDays int       // without water so far
	empties int       // after how many it is empty again
}

func newRoofs(w *house.Water) *roofs {
	r := &roofs{list: w.Catchments, snow: make([]float64, len(w.Catchments))}
	if f := w.Plan.FirstFlush; f != nil {
		r.empties = f.DryDays
		if f.Volume != nil {
			r.flush = *f.Volume
		} else {
			for _, c := range r.list {
				r.flush += c.Area * f.Depth
			}
		}
	}
	return r
}

// ran is what a day gives: off each roof what reaches the inlet, and what went past it [m³].
type ran struct {
	off        []float64
	flushed    float64 // let go first
	shed       float64 // slid off as snow
	snowMelted float64 // of off and flushed, that fell as snow
}

// day lets it rain, snow and melt. Snow that lies melts by degree days; rain on it runs through.
func (r *roofs) day(d Day) ran {
	out := ran{off: make([]float64, len(r.list))}
	sum := 0.0
	for i, c := range r.list {
		if c.Sheds {
			out.shed += Yield(c.Area, d.SnowMM, c.Runoff)
		} else {
			r.snow[i] += d.SnowMM
		}
		melt := min(r.snow[i], weather.MeltFactor(settledKgM3)*d.MeltKD)
		r.snow[i] -= melt
		out.off[i] = Yield(c.Area, d.RainMM+melt, c.Runoff)
		out.snowMelted += Yield(c.Area, melt, c.Runoff)
		sum += out.off[i]
	}
	r.first(&out, sum, d)
	return out
}

// first takes the first flush off each roof in proportion.
func (r *roofs) first(out *ran, sum float64, d Day) {
	if sum <= 0 || d.RainMM < wetMM && out.snowMelted == 0 {
		r.dryDays++
		if r.dryDays >= r.empties {
			r.filled = 0
		}
	} else {
		r.dryDays = 0
	}
	if sum <= 0 {
		return
	}
	out.flushed = min(sum, r.flush-r.filled)
	r.filled += out.flushed
	for i := range out.off {
		out.off[i] *= 1 - out.flushed/sum
	}
}
