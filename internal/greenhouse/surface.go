package greenhouse

import (
	"suncellar/internal/airflow"
	"suncellar/internal/thermal"
)

// surface is a face inside the room: the air flows past it, it exchanges longwave with the rest, light falls on it, dew and
// frost form on it.
type surface struct {
	name        string
	node        thermal.Node
	area        float64 // that the air touches [m²]
	seen        float64 // that the room sees [m²]
	tilt        float64 // of the normal into the room, from straight up [rad]
	emittance   float64
	absorptance float64
	z0, z1      float64 // [m]
	film        filmKind
	height      float64 // of a drum, for its film [m]
	glassBack   float64 // share of inside light that leaves or is taken up by glazing; 0 for opaque
	facing      float64 // of a wall in the soil: its own area, where area stands for the ends too [m²]
	wets        bool    // dew may form on it
	soil        bool    // of a bed
	clear       float64 // share of longwave that passes it to the outside when it is dry and bare
	passes      float64 // the same in this hour

	joins  []thermal.JoinID // to air layers
	shares []float64
	air    []*layer
	sun    thermal.InjectID
	side   airflow.Side
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
		s.side = airflow.NewSide(airflow.Angle(s.tilt))
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
		c := &convection{g: g, inside: 1, drums: 1}
		if f := g.House.Plan.Surfaces.InsideFactor; f != nil {
			c.inside = *f
		}
		if f := g.House.Plan.Surfaces.DrumFactor; f != nil {
			c.drums = *f
		}
		g.parts = append(g.parts, c)
	}
}

type convection struct {
	g             *Greenhouse
	inside, drums float64 // times the films as computed
}

func (c *convection) hour(*hour) {}

func (c *convection) step(m thermal.Moment) {
	for _, s := range c.g.inside {
		ts := m.T(s.node)
		s.h = 0
		for i, l := range s.air {
			dt := m.T(l.node) - ts
			var h float64
			if s.film == drumSide {
				h = c.drums * drumFilm(ts, m.T(l.node), s.height)
			} else {
				h = c.inside * s.side.Natural(-dt)
			}
			c.g.Net.SetJoin(s.joins[i], h*s.area*s.shares[i])
			s.h += h * s.shares[i]
		}
	}
}
