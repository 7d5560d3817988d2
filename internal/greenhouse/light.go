package greenhouse

import (
	"math"

	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// light is where the sun that enters goes: what a beam meets first by the faces' projected areas, diffuse light and all that is
// thrown back by area, part of it out again through the glazing. Plan.SunShares, when given, takes the place of all this.
type light struct {
	g     *Greenhouse
	first []float64
	flows *flows
	// of the hour
	EnteredW, LostW float64
	bedWM2          float64 // on the level at the beds [W/m²]
}

func (g *Greenhouse) addSun() {
	for _, s := range g.inside {
		s.sun = g.Net.Inject("sun into the room", s.node)
	}
	g.light = &light{g: g, first: make([]float64, len(g.inside))}
	g.hideBehindDrums()
	g.parts = append(g.parts, g.light)
}

// hideBehindDrums takes from the wall behind a row what the drums shade.
func (g *Greenhouse) hideBehindDrums() {
	for _, b := range g.store.bays {
		for _, l := range b.layers {
			for _, s := range g.inside {
				if s.film == plane && s.normal[0] > 0.7 && s.z0 < l.z && s.z1 > l.z {
					s.shaded += l.shell.facing
				}
			}
		}
	}
}

func (l *light) hour(h *hour) {
	beam, diffuse := 0.0, 0.0
	for _, p := range l.g.panes {
		beam += p.beamW
		diffuse += p.diffuseW
	}
	l.EnteredW, l.LostW, l.bedWM2 = beam+diffuse, 0, 0
	if l.EnteredW == 0 {
		for _, s := range l.g.inside {
			l.g.Net.SetInject(s.sun, 0)
		}
		return
	}
	if shares := l.g.House.Plan.SunShares; len(shares) > 0 {
		l.given(shares)
		return
	}
	l.meet(beam, diffuse, h.span.Position)
}

func (l *light) given(shares map[string]float64) {
	kept := 0.0
	for _, s := range l.g.inside {
		q := shares[s.name] * l.EnteredW
		l.g.Net.SetInject(s.sun, q)
		kept += q
	}
	l.LostW = l.EnteredW - kept
}

// meet shares out beam and diffuse light [W].
func (l *light) meet(beam, diffuse float64, p sun.Position) {
	g := l.g
	// the direction to the sun in the house's own axes: to the front, up, to the right
	turn := float64(p.Azimuth) - g.House.Facing
	cosE, sinE := p.Elevation.Cos(), p.Elevation.Sin()
	to := [3]float64{cosE * math.Cos(turn), math.Max(sinE, 0.02), cosE * math.Sin(turn)}
	sumBeam, sumArea, sumBack := 0.0, 0.0, 0.0
	for i, s := range g.inside {
		l.first[i] = 0
		if s.glassBack > 0 {
			sumBack += s.glassBack * s.seen
			continue
		}
		a := s.area
		if s.facing > 0 {
			a = s.facing
		}
		a = math.Max(0, a-s.shaded)
		if c := s.normal[0]*to[0] + s.normal[1]*to[1] + s.normal[2]*to[2]; c > 0 {
			l.first[i] = a * c
			sumBeam += a * c
		}
		sumArea += s.seen
		sumBack += s.absorptance * s.seen
	}
	thrown := 0.0
	for i, s := range g.inside {
		if s.glassBack > 0 {
			continue
		}
		q := diffuse * s.seen / sumArea
		if sumBeam > 0 {
			q += beam * l.first[i] / sumBeam
		} else {
			q += beam * s.seen / sumArea
		}
		l.first[i] = q
		thrown += (1 - s.absorptance) * q
	}
	bedArea := 0.0
	for i, s := range g.inside {
		if s.glassBack > 0 {
			q := thrown * s.glassBack * s.seen / sumBack
			l.LostW += q
			g.Net.SetInject(s.sun, 0)
			continue
		}
		q := s.absorptance*l.first[i] + thrown*s.absorptance*s.seen/sumBack
		g.Net.SetInject(s.sun, q)
		if s.tilt < 0.1 && s.film == plane {
			l.bedWM2 += q / s.absorptance
			bedArea += s.seen
		}
	}
	if bedArea > 0 {
		l.bedWM2 /= bedArea
	}
}

func (l *light) step(thermal.Moment) {}
