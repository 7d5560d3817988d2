package greenhouse

import (
	"suncellar/internal/airflow"
	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// outerFilms is what an outer face exchanges with outdoor air, sky and terrain.
type outerFilms struct {
	g                  *Greenhouse
	node               thermal.Node
	area               float64
	emittance          float64
	cover              float64 // emittance of an outer cover that is drawn, 0 none
	sky, ground        float64 // view factors
	air, skyJ, terrain thermal.JoinID
	fixed              bool
	wind               float64
}

// addOuterFilms joins an outer face to outdoors; a given combined coefficient goes to the air alone. What hides the sky is as warm as
// the terrain.
func (g *Greenhouse) addOuterFilms(f *house.Face, node thermal.Node, emittance float64, combined *float64, look *outlook) outerFilms {
	o := outerFilms{g: g, node: node, area: f.Area, emittance: emittance, fixed: combined != nil}
	p := sun.Plane{Tilt: sun.Angle(f.Tilt)}
	o.sky = p.SkyView() * look.skyShare()
	o.ground = 1 - o.sky
	if o.fixed {
		o.air = g.Net.Join(f.Name+" to outdoor air", node, g.outside.air, *combined*f.Area)
		return o
	}
	o.air = g.Net.Join(f.Name+" to outdoor air", node, g.outside.air, 15*f.Area)
	o.skyJ = g.Net.Join(f.Name+" to sky", node, g.outside.sky, 4*f.Area*o.sky)
	o.terrain = g.Net.Join(f.Name+" to terrain", node, g.outside.terrain, 4*f.Area*o.ground)
	return o
}

func (o *outerFilms) hour(h *hour) { o.wind = h.windHouse }

// step sets the films. An open face is black to sky and terrain and has no film of air.
func (o *outerFilms) step(m thermal.Moment, open bool) {
	if o.fixed {
		return
	}
	n := o.g.Net
	t, emittance, air := m.T(o.node), o.emittance, airflow.Wind(o.wind)
	if o.cover > 0 {
		emittance = o.cover
	}
	if open {
		emittance, air = 1, 0
	}
	n.SetJoin(o.air, air*o.area)
	n.SetJoin(o.skyJ, emittance*o.sky*o.area*radiative(t, m.T(o.g.outside.sky)))
	n.SetJoin(o.terrain, emittance*o.ground*o.area*radiative(t, m.T(o.g.outside.terrain)))
}
