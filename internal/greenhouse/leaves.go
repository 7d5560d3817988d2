package greenhouse

import "math"

// What leaves do to the air: the vapour that they give, by the combination law of Penman and Monteith, and the dew that wets them.

// Resistances of a leaf to vapour [s/m]: of its film of air, and of open stomata.
//
// Source: Stanghellini 1987, Transpiration of greenhouse crops (from memory): 275 and 82 s/m.
const (
	leafFilm    = 275.0
	openStomata = 82.0
)

// stomata is the resistance of the stomata [s/m] at the sun that a canopy takes up [W/m²]: 82 (I + 4.30)/(I + 0.54), eight times as much at
// night as in full light.
//
// Source: Stanghellini 1987, Transpiration of greenhouse crops, of tomato; in the form without temperature as Vanthoor 2011 uses it (both from
// memory).
func stomata(sunWM2 float64) float64 { return openStomata * (sunWM2 + 4.30) / (sunWM2 + 0.54) }

// canopy is the leaves of a bed in one hour.
type canopy struct {
	open float64 // transfer of vapour from within the leaves [kg/s]
	film float64 // heat from the leaves to the air [W/K]
	sunW float64 // sun that they take up [W]
}

// canopyLight is the extinction of all sun in a canopy; textbook value for leaves that lie every way, 0.5.
const canopyLight = 0.5

// canopyOf is the leaves of a bed under the sun of this hour; frozen leaves give nothing. Both sides of a leaf have a film, and stomata.
func (v *vapour) canopyOf(b *bedVapour) canopy {
	bed := &v.g.House.Plan.Beds[b.bed]
	covered, sun := b.area*bed.Planted, v.g.light.bedWM2
	alive := clamp(v.g.Net.T(v.g.layers[b.layer].node)/thawedK, 0, 1)
	area := 2 * bed.Leaves * covered
	return canopy{open: alive * area * v.density / (leafFilm + stomata(sun)), film: area * v.density * airHeatKg / leafFilm,
		sunW: covered * sun * (1 - math.Exp(-canopyLight*bed.Leaves))}
}

// gives is what the leaves give in air whose saturated humidity is sat, rising by slope [1/K]: k (sat - w) + always [kg/s]. It is the
// combination law, in which the leaf's temperature is eliminated between its heat and its vapour:
//
//	E = g (G (w_s(T) - w) + s R)/(G + l g s)
//
// with g the transfer through film and stomata, G the heat of the film, s the slope, l the latent heat and R the sun taken up. Longwave to the
// glazing, which cools leaves by night, is left out: they give a little too much.
//
// Source: Monteith 1965, Symp. Soc. Exp. Biol. 19:205, as in FAO paper 56, eq. 3.
func (c *canopy) gives(slope float64) (k, always float64) {
	if c.film == 0 {
		return 0, 0
	}
	d := c.film + latentWarm*c.open*slope
	return c.open * c.film / d, c.open * slope * c.sunW / d
}

// latentWarm is the heat of evaporation near 10 °C [J/kg].
const latentWarm = 2.477e6

// leafDew is the film of dew on the leaf tips of a bed, for the hours that they are wet. It is not taken out of the room's
// air: a few grams a square metre.
type leafDew struct {
	trace int     // of the leaf tips, in Result.Traces
	layer int     // of air that they stand in
	film  float64 // [kg/m²]
}

// leafHolds is the dew that a leaf holds on a side before it runs off [kg/m²]; own judgement.
const leafHolds = 0.1

// hour carries the film through an hour at leaf temperature t [°C] in air of humidity w, and tells whether the leaf is wet.
func (d *leafDew) hour(g *Greenhouse, t, w float64) bool {
	sat, _ := g.saturated(t)
	d.film = clamp(d.film+(w-sat)*g.vapour.density/leafFilm*3600, 0, leafHolds)
	return d.film > 1e-4 || w >= sat
}
