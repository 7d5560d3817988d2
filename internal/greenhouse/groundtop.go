package greenhouse

import (
	"suncellar/internal/air"
	"suncellar/internal/airflow"
	"suncellar/internal/material"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// groundTop is a patch of the ground's surface outdoors: sun, sky, wind, what covers it, evaporation, and snow that lies on it. Two nodes: the soil's
// face, and what the sky sees: the grass, the residue or the snow.
type groundTop struct {
	net             *thermal.Network
	skin, top       thermal.Node
	area            float64 // [m²]
	snow, air, sky  thermal.JoinID
	sun             thermal.InjectID
	evaporation     leaning
	melting         [2]leaning // of the snow, felt by the top and by the soil's face
	white           float64    // share of the ground that snow covers
	lies            float64    // resistance of the snow [m²K/W]
	outdoor, heaven thermal.Node
	pressure        float64
	view            float64 // share of the sky that the skyline leaves; what hides the rest is as warm as the air
	cover           groundCover
	water           soilWater
	foliage         foliage
	h               *hour
	film            float64 // of the wind [W/m²K]
	airPa           float64 // vapour of the air [Pa]
	vapour          float64 // the film for water vapour, of a wet face [W/Pa]
	stomata         float64 // film over what the stomata let through when wide open
	lostW           float64 // evaporation in the last step
}

// thawedK is how far above 0 °C the ground's face gives all it can [K]; own judgement, so that it does not flicker at 0 °C.
const thawedK = 2.0

// groundEmittance of soil, grass and snow.
const groundEmittance = 0.95

// Resistance of a short, well watered grass to vapour by day and by night [s/m]. Source: ASCE-EWRI 2005, The ASCE standardized reference
// evapotranspiration equation, hourly, short reference, from memory.
const grassByDay, grassByNight = 50.0, 200.0

// dormant is the share of a green grass' evaporation that a dormant one gives when it is wet. Source: FAO paper 56 ch. 11, from memory.
const dormant = 0.4

// evaporationJKg is the heat of evaporation near 20 °C [J/kg], FAO-56.
const evaporationJKg = 2.45e6

func addGroundTop(net *thermal.Network, name string, site plan.Site, startC, pressure float64, outdoor, heaven, zero thermal.Node) *groundTop {
	t := &groundTop{net: net, area: 1, outdoor: outdoor, heaven: heaven, pressure: pressure, view: 1, cover: coverOf(site.Cover), water: newSoilWater(site)}
	t.skin = net.Add(name, thermal.Law{}, startC)
	t.top = net.Add(name+" top", thermal.Law{}, startC)
	t.snow = net.Join("ground through snow and cover", t.skin, t.top, none)
	t.air = net.Join("ground to outdoor air", t.top, outdoor, 10)
	t.sky = net.Join("ground to sky", t.top, heaven, 5)
	t.sun = net.Inject("sun on the ground", t.top)
	t.evaporation = addLeaning(net, "evaporation of the ground", t.top, zero)
	t.melting = [2]leaning{addLeaning(net, "melting of snow on the ground", t.top, zero), addLeaning(net, "melting of snow on the ground", t.skin, zero)}
	return t
}

func (t *groundTop) hour(h *hour) {
	t.h = h
	s := h.sky
	t.net.SetInject(t.sun, (1-s.Albedo)*h.groundWM2*t.area)
	r := t.cover.resistance
	t.lies = 0
	if h.groundSnow > 0 {
		t.lies = h.groundSnow / material.SnowConductivity(h.snowDensity)
		r += t.lies
	}
	t.lie(min(1, h.groundSnow/whiteM))
	t.net.SetJoin(t.snow, t.area/r)
	t.film = airflow.Wind(h.windHouse)
	t.airPa = air.SaturationPressure(h.w.DewPointC)
	t.dryness()
}

// whiteM is the depth of snow that covers all the ground [m]; Verseghy 1991, as the pack has it.
const whiteM = 0.10

// lie sets the share of the ground under snow; with none, nothing melts.
func (t *groundTop) lie(white float64) {
	if white == 0 && t.white > 0 {
		for _, l := range t.melting {
			l.set(t.net, 0, 0, 0)
		}
	}
	t.white = white
}

// snowMeltW is what snow takes for each kelvin [W/m²K] that its face would be above 0 °C; snowMeltK is over how much melting begins [K], so that nothing jumps.
// They hold it there within half a kelvin. The water is the pack's own affair, which melts by degree days.
const snowMeltW, snowMeltK = 500.0, 0.5

// above is how far t is above 0 °C, with a gentle beginning, and its slope.
func above(t float64) (k, slope float64) {
	switch {
	case t > snowMeltK:
		return t - snowMeltK/2, 1
	case t > 0:
		return t * t / (2 * snowMeltK), t / snowMeltK
	}
	return 0, 0
}

// melt keeps snow at 0 °C or below: its face, and its foot, which lies on the cover c below the snow s and would be at
//
//	T_foot = (c T_top + s T_soil)/(c + s)
//
// What the foot takes to stay at 0 °C, T_foot (1/c + 1/s), comes from both sides, s/(c + s) of it from below.
func (t *groundTop) melt(top, soil float64) {
	c, s := t.cover.resistance, t.lies
	foot, rises := above((c*top + s*soil) / (c + s))
	takes := t.area * t.white * (1/c + 1/s)
	up, down := c/(c+s), s/(c+s)
	face, faceRises := above(top)
	q := t.area * t.white * snowMeltW
	t.melting[0].set(t.net, -q*face-takes*up*foot, q*faceRises+takes*up*up*rises, top)
	t.melting[1].set(t.net, -takes*down*foot, takes*down*down*rises, soil)
}

// dryness sets what the surface can evaporate in the hour to come.
func (t *groundTop) dryness() {
	h := t.h
	t.water.neverRains = h.neverRains
	t.foliage.hour(h)
	t.water.hour(h.rainMM, t.lostW*3600/evaporationJKg/t.area, t.cover.plants)
	gamma := 0.000665 * t.pressure // psychrometric constant [Pa/K], FAO-56 eq. 8
	t.vapour = 0
	if h.groundSnow == 0 {
		t.vapour = t.film / gamma * t.area
	}
	resistance := grassByNight
	if h.sunUp {
		resistance = grassByDay
	}
	heat := t.pressure / (287.05 * (h.w.AirC + 273.15)) * 1006 // of the air [J/m³K]
	t.stomata = resistance * t.film / heat
}

// openSnowDensity is that of snow lying in the open of which only the depth is known [kg/m³]; trade tables: settled 150 to 250.
const openSnowDensity = 220

func (t *groundTop) step(m thermal.Moment) {
	top := m.T(t.top)
	hills := groundEmittance * (1 - t.view) * radiative(top, m.T(t.outdoor))
	t.net.SetJoin(t.air, (t.film+hills)*t.area)
	t.net.SetJoin(t.sky, groundEmittance*t.view*radiative(top, m.T(t.heaven))*t.area)
	if t.white > 0 {
		t.melt(top, m.T(t.skin))
	}
	if t.cover.plants {
		green := t.foliage.leaf * transpires(t.water.plantsK*vigour(top), t.stomata)
		dead := (1 - t.foliage.leaf) * dormant * transpires(t.water.surfaceK*clamp(top/thawedK, 0, 1), t.stomata)
		t.dry(top, t.vapour*(green+dead))
		return
	}
	t.dry(top, t.vapour*t.cover.wet*t.water.surfaceK*clamp(top/thawedK, 0, 1)) // frozen ground gives nothing
}

// transpires is what grass gives over what a wet face would: g/(g + r h/c), where g is the share by which its stomata are open.
// Source: Monteith 1965, Evaporation and environment; the film h serves for heat and vapour alike.
func transpires(open, stomata float64) float64 {
	if open <= 0 {
		return 0
	}
	return open / (open + stomata)
}

// vigour is how far cold leaves stomata open: 1 - 0.0016 (25 - T)², 0 at 0 °C and below, 1 above 25 °C.
// Source: Noilhan and Planton 1989, Monthly Weather Review 117:536, eq. 37, from memory; they let it fall again above 25 °C.
func vigour(t float64) float64 {
	d := 25 - clamp(t, 0, 25)
	return 1 - 0.0016*d*d
}

// dry lets the top, at ts [°C], evaporate k times what its vapour stands above the air's [W]; dew is left out.
func (t *groundTop) dry(ts, k float64) {
	if k == 0 {
		t.lostW = 0
		t.evaporation.set(t.net, 0, 0, 0)
		return
	}
	ts = clamp(ts, -60, 60)
	pressure, slope := air.Saturation(ts)
	lost := k * (pressure - t.airPa)
	if lost <= 0 {
		lost, k = 0, 0
	}
	t.lostW = lost
	t.evaporation.set(t.net, -lost, k*slope, ts)
}
