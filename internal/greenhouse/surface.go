package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/house"
	"suncellar/internal/thermal"
)

// surface is a face inside the room: the air flows past it, it exchanges longwave with the rest, light falls on it, dew and
// frost form on it.
type surface struct {
	name        string
	node        thermal.Node
	area        float64    // that the air touches [m²]
	seen        float64    // that the room sees [m²]
	tilt        float64    // of the normal into the room, from straight up [rad]
	normal      [3]float64 // of the same: to the front, up, to the right
	emittance   float64
	absorptance float64
	z0, z1      float64 // [m]
	film        filmKind
	height      float64         // of a drum, for its film [m]
	glassBack   float64         // share of inside light that leaves or is taken up by glazing; 0 for opaque
	facing      float64         // area that beam light meets in place of area, 0 means area [m²]
	shaded      float64         // of that, hidden behind something else [m²]
	line        *[2]house.Point // its line in the section, nil for an end wall
	wets        bool            // dew may form on it

	joins  []thermal.JoinID // to air layers
	shares []float64
	air    []*layer
	star   thermal.JoinID
	factor float64 // longwave exchange factor [m²]
	sun    thermal.InjectID
	dew    leaning
	h      float64 // convective coefficient set last [W/m²K]
}

type filmKind int

const (
	plane filmKind = iota
	drumSide
)

func (g *Greenhouse) addSurface(s *surface) *surface {
	g.inside = append(g.inside, s)
	return s
}

// addConvection joins every inside surface to the layers of air that it stands in.
func (g *Greenhouse) addConvection() {
	fixed := g.House.Plan.Surfaces.Inside
	for _, s := range g.inside {
		for _, l := range g.layers {
			share := l.share(s.z0, s.z1)
			if share <= 0 {
				continue
			}
			g0 := 0.0
			if fixed != nil {
				g0 = *fixed * s.area * share
			}
			s.air = append(s.air, l)
			s.shares = append(s.shares, share)
			s.joins = append(s.joins, g.Net.Join(l.name+" to "+s.name, l.node, s.node, g0))
		}
	}
	if fixed == nil {
		g.parts = append(g.parts, &convection{g})
	}
}

type convection struct{ g *Greenhouse }

func (c *convection) hour(*hour) {}

func (c *convection) step(m thermal.Moment) {
	for _, s := range c.g.inside {
		ts := m.T(s.node)
		s.h = 0
		for i, l := range s.air {
			dt := m.T(l.node) - ts
			var h float64
			if s.film == drumSide {
				h = drumFilm(ts, m.T(l.node), s.height)
			} else {
				h = airflow.Natural(-dt, airflow.Angle(s.tilt))
			}
			c.g.Net.SetJoin(s.joins[i], h*s.area*s.shares[i])
			s.h += h * s.shares[i]
		}
	}
}

// addLongwave joins the faces of the room to one radiant node. The exchange factors are those of a mean radiant temperature
// that leaves the surface itself out, by area: a network of one node that keeps reciprocity and closes, in place of view
// factors between all pairs.
//
//	F_i = 1/(1 - A_i F_i/sum A F),  G_i = A_i radiative / ((1-e_i)/e_i + 1/F_i)
//
// Source: Carroll, J. A., An "MRT method" of computing radiant energy exchange in rooms, 1980.
func (g *Greenhouse) addLongwave() {
	if g.House.Plan.Surfaces.Inside != nil || len(g.inside) < 2 {
		return
	}
	f := make([]float64, len(g.inside))
	for i := range f {
		f[i] = 1
	}
	for range 200 {
		sum := 0.0
		for i, s := range g.inside {
			sum += s.seen * f[i]
		}
		for i, s := range g.inside {
			f[i] = 0.5*f[i] + 0.5/(1-math.Min(0.95, s.seen*f[i]/sum))
		}
	}
	star := g.Net.Add("room's longwave", thermal.Law{}, g.Setup.StartC)
	for i, s := range g.inside {
		s.factor = s.seen / ((1-s.emittance)/s.emittance + 1/f[i])
		s.star = g.Net.Join("longwave to "+s.name, star, s.node, s.factor*5)
	}
	g.parts = append(g.parts, &longwave{g, star})
}

type longwave struct {
	g    *Greenhouse
	star thermal.Node
}

func (l *longwave) hour(*hour) {}

func (l *longwave) step(m thermal.Moment) {
	t := m.T(l.star)
	for _, s := range l.g.inside {
		l.g.Net.SetJoin(s.star, s.factor*radiative(t, m.T(s.node)))
	}
}
