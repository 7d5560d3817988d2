package greenhouse

import (
	"suncellar/internal/air"
	"suncellar/internal/airflow"
	"suncellar/internal/material"
	"suncellar/internal/thermal"
)

// groundTop is a patch of the ground's surface outdoors: sun, sky, wind, evaporation, and snow that lies on it.
type groundTop struct {
	net             *thermal.Network
	skin, top       thermal.Node // the soil's face, the snow's face
	area            float64      // [m²]
	snow, air, sky  thermal.JoinID
	sun             thermal.InjectID
	evaporation     leaning
	outdoor, heaven thermal.Node
	pressure        float64
	view            float64 // share of the sky that the skyline leaves; what hides the rest is as warm as the air
	h               *hour
}

// wetness is the share of a free water surface's evaporation that bare or short-grassed ground gives in the cold half of the year.
// Own judgement: a quarter; it cools the summer ground by about 2 K.
const wetness = 0.25

// thawedK is how far above 0 °C the ground's face gives all it can [K]; own judgement, so that it does not flicker at 0 °C.
const thawedK = 2.0

// groundEmittance of soil, grass and snow.
const groundEmittance = 0.95

func addGroundTop(net *thermal.Network, name string, area, startC, pressure float64, outdoor, heaven, zero thermal.Node) *groundTop {
	t := &groundTop{net: net, area: area, outdoor: outdoor, heaven: heaven, pressure: pressure, view: 1}
	t.skin = net.Add(name, thermal.Law{}, startC)
	t.top = net.Add(name+" top", thermal.Law{}, startC)
	t.snow = net.Join("ground through snow", t.skin, t.top, none*area)
	t.air = net.Join("ground to outdoor air", t.top, outdoor, 10*area)
	t.sky = net.Join("ground to sky", t.top, heaven, 5*area)
	t.sun = net.Inject("sun on the ground", t.top)
	t.evaporation = addLeaning(net, "evaporation of the ground", t.skin, zero)
	return t
}

func (t *groundTop) hour(h *hour) {
	t.h = h
	s := h.sky
	t.net.SetInject(t.sun, (1-s.Albedo)*h.groundWM2*t.area)
	r := 1 / none
	if h.groundSnow > 0 {
		r += h.groundSnow / material.SnowConductivity(openSnowDensity)
	}
	t.net.SetJoin(t.snow, t.area/r)
}

// openSnowDensity is the mean density of snow lying in the open through a winter [kg/m³]; trade tables: settled 150 to 250.
const openSnowDensity = 220

func (t *groundTop) step(m thermal.Moment) {
	hc := airflow.Wind(t.h.windHouse)
	hills := groundEmittance * (1 - t.view) * radiative(m.T(t.top), m.T(t.outdoor))
	t.net.SetJoin(t.air, (hc+hills)*t.area)
	t.net.SetJoin(t.sky, groundEmittance*t.view*radiative(m.T(t.top), m.T(t.heaven))*t.area)
	ts := m.T(t.skin)
	k := 0.0 // [W/Pa]
	if t.h.groundSnow == 0 {
		gamma := 0.000665 * t.pressure                              // psychrometric constant [Pa/K], FAO-56 eq. 8
		k = wetness * clamp(ts/thawedK, 0, 1) * hc / gamma * t.area // frozen ground gives nothing
	}
	lost := k * (air.SaturationPressure(clamp(ts, -60, 60)) - air.SaturationPressure(t.h.w.DewPointC))
	if lost <= 0 {
		lost, k = 0, 0
	}
	t.evaporation.set(t.net, -lost, k*air.SaturationSlope(clamp(ts, -60, 60)), ts)
}
