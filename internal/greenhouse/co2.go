package greenhouse

import (
	"math"
)

// co2 is the carbon dioxide of the room, well mixed: plants take it in light, soil and roots give it, outdoor air brings and takes it.
// It acts back on nothing.
type co2 struct {
	g     *Greenhouse
	q     float64 // [kg/kg dry air]
	airKg float64 // outdoor air that came in within the hour [kg]
}

// outdoorPPM is that of outdoor air: 420 to 425 of 2024, NOAA, from memory.
const outdoorPPM = 422.0

// massPPM is what a millionth of the volume weighs in a kilogram of dry air [kg/kg]: 44.01/28.97.
const massPPM = 1.519e-6

// leastPPM is the concentration at which leaves in light take up no more than they give [ppm]: some 40 to 60 in the cool; textbook value, from
// memory.
const leastPPM = 50.0

// bedsBreath is what planted soil gives at 10 °C [kg/m²s]: 544 g of carbon a square metre and year, the mean of croplands, as carbon dioxide.
//
// Source: Raich and Schlesinger 1992, Tellus 44B:81, from memory.
const bedsBreath = 0.544 * 44.01 / 12.011 / (8760 * 3600)

// breathAt is the breath of soil at t [°C] over that at 10 °C: exp(308.56 (1/56.02 - 1/(T - 227.13))), T in K.
//
// Source: Lloyd and Taylor 1994, Functional Ecology 8:315, eq. 11, from memory.
func breathAt(t float64) float64 {
	return math.Exp(308.56 * (1/56.02 - 1/(math.Max(-20, t)+273.15-227.13)))
}

// What a canopy takes up, after Acock and others: efficiency of light [kg/J], conductance of a leaf [m/s], extinction of light in the canopy,
// share of light that a leaf lets through.
const (
	lightUse    = 10.1e-9
	leafTakes   = 1.6e-3
	extinction  = 0.58
	leafThrough = 0.1
)

// photosyntheticShare is the share of the sun's energy that plants can use; common practice, no source: 0.45 to 0.5.
const photosyntheticShare = 0.45

// canopyUptake is the carbon dioxide that leaves take up over a square metre of planted bed [kg/m²s], at light that plants can use [W/m²],
// carbon dioxide over the least that leaves can use [kg/m³] and leaf area index: a leaf's rectangular hyperbola of both, summed down the canopy.
//
//	P = t C/K ln((a K I + (1 - m) t C)/(a K I exp(-K L) + (1 - m) t C))
//
// Source: Acock, Charles-Edwards, Fitter, Hand, Ludwig, Warren Wilson and Withers 1978, J. Experimental Botany 29:815 (from memory, values
// of a tomato canopy).
func canopyUptake(lightWM2, over, leafArea, warmth float64) float64 {
	c := leafTakes * warmth * over
	if c <= 0 || lightWM2 <= 0 || leafArea <= 0 {
		return 0
	}
	top := lightUse * extinction * lightWM2
	low := top * math.Exp(-extinction*leafArea)
	return c / extinction * math.Log((top+(1-leafThrough)*c)/(low+(1-leafThrough)*c))
}

// fullWarmthC is the temperature at which leaves take up all they can; from 0 °C they come to it in a straight line; own judgement.
const fullWarmthC = 20.0

func (g *Greenhouse) addCO2() {
	g.co2 = &co2{g: g, q: outdoorPPM * massPPM}
}

func (c *co2) ppm() float64 { return c.q / massPPM }

// pieces is into how many parts an hour is cut for it.
const pieces = 6

// hour carries it through the hour that was just stepped.
func (c *co2) hour() {
	v := c.g.vapour
	mass := 0.0
	for _, d := range v.dry {
		mass += d
	}
	const seconds = 3600.0 / pieces
	in := c.airKg / 3600
	c.airKg = 0
	for range pieces {
		given := in * outdoorPPM * massPPM
		taken := in
		for i := range v.beds {
			given += c.breath(&v.beds[i])
			taken += c.uptake(&v.beds[i])
		}
		c.q = (mass/seconds*c.q + given) / (mass/seconds + taken)
	}
}

func (c *co2) breath(b *bedVapour) float64 {
	return b.area * bedsBreath * breathAt(c.g.Net.T(b.surface.node))
}

// uptake is what the leaves of a bed take, over the concentration [kg/s].
func (c *co2) uptake(b *bedVapour) float64 {
	bed, g := &c.g.House.Plan.Beds[b.bed], c.g
	over := math.Max(0, c.q-leastPPM*massPPM) * g.vapour.density
	warmth := clamp(g.Net.T(g.layers[b.layer].node)/fullWarmthC, 0, 1)
	p := canopyUptake(photosyntheticShare*g.light.bedWM2, over, bed.Leaves, warmth)
	return b.area * bed.Planted * p / c.q
}
