package greenhouse

import (
	"suncellar/internal/enclosure"
	"suncellar/internal/thermal"
)

// longwave is the heat radiation between all inside surfaces, each pair by itself: grey exchange from view factors in the section with its beds and
// drums, closed for the ends; and what passes a clear film to sky and terrain. It is made anew for the temperatures of every pass.
type longwave struct {
	g       *Greenhouse
	between *thermal.Exchange
	areas   [][]exchange3 // by pair of surfaces [m²]
	out     []outPair
	films   []*pane    // those that longwave passes
	mix     [3]float64 // shares of the hour: film dry, wet, shut
}

// exchange3 is one set of exchange areas for each state of the films.
type exchange3 [3]float64

// The states of a clear film: dry; wet with condensate; under snow or a drawn cover.
const (
	filmDry = iota
	filmWet
	filmShut
)

// zeroC is 0 °C [K].
const zeroC = 273.15

// outPair is a surface that exchanges with sky and terrain through clear films.
type outPair struct {
	sky, terrain     thermal.JoinID
	a                int
	gSky, gTerrain   float64 // [m²]
	ofSky, ofTerrain exchange3
}

// smallShare is the share of the smaller surface's exchange below which a pair is left out and its part given to the others.
const smallShare = 0.002

// wetPasses is what condensate leaves of the longwave that a dry film passes: 0.2 to 0.3 of 0.7 to 0.8.
//
// Source: extension texts on film glazings after Nijskens 1984 and NRAES-33, from memory.
const wetPasses = 1.0 / 3

// clearFrom is the share from which a film counts as clear to longwave. Only single sheets do: what passes between the sheets of a stack is within its
// matched conductance.
const clearFrom = 0.05

// addLongwave joins the surfaces of the room, unless the plan gives one coefficient for convection and longwave together.
func (g *Greenhouse) addLongwave() {
	if g.House.Plan.Surfaces.Inside != nil || len(g.inside) < 2 {
		return
	}
	l := &longwave{g: g, mix: [3]float64{1, 0, 0}}
	states := 1
	for _, p := range g.panes {
		if p.surface.clear > 0 {
			l.films, states = append(l.films, p), 3
		}
	}
	n := len(g.inside)
	between, sky, terrain := matrix3(n, n), matrix3(n, 1), matrix3(n, 1)
	for k := range states {
		x := g.exchange([3]float64{1, wetPasses, 0}[k])
		g.gather(x, k, between, sky, terrain)
	}
	l.join(between)
	if len(l.films) > 0 {
		l.joinOut(sky, terrain)
	}
	g.parts = append(g.parts, l)
}

// exchange is that of the room's pieces when clear films pass a share of what they pass dry. What a film does not pass it takes up and throws back
// as an opaque sheet of its kind does.
func (g *Greenhouse) exchange(share float64) *enclosure.Exchange {
	grey := make([]enclosure.Grey, len(g.room.pieces))
	for i, p := range g.room.pieces {
		s := g.inside[p]
		t := s.clear * share
		grey[i] = enclosure.Grey{Emittance: s.emittance * (1 - t), Transmittance: t}
	}
	x, err := g.room.factors.Exchange(grey)
	if err != nil {
		panic("greenhouse: " + err.Error()) // emittances were checked
	}
	return x
}

func matrix3(rows, columns int) [][]exchange3 {
	m := make([][]exchange3, rows)
	for i := range m {
		m[i] = make([]exchange3, columns)
	}
	return m
}

// gather adds the pieces' exchange up to surfaces, small pairs folded into the others.
func (g *Greenhouse) gather(x *enclosure.Exchange, state int, between, sky, terrain [][]exchange3) {
	n := len(g.inside)
	sums := make([][]float64, n)
	for i := range sums {
		sums[i] = make([]float64, n)
	}
	for i, p := range g.room.pieces {
		for j, q := range g.room.pieces {
			sums[p][q] += x.Between[i][j]
			if o := x.Out[i][j]; o > 0 {
				up := g.paneOf(q).films.sky
				sky[p][0][state] += o * up
				terrain[p][0][state] += o * (1 - up)
			}
		}
	}
	for i, row := range enclosure.Fold(sums, smallShare) {
		for j, v := range row {
			between[i][j][state] = v
		}
	}
}

func (g *Greenhouse) paneOf(surface int) *pane {
	for _, p := range g.panes {
		if p.surface == g.inside[surface] {
			return p
		}
	}
	panic("greenhouse: " + g.inside[surface].name + " is no pane")
}

// sorts are the kinds of surfaces in the order in which flows between them are named.
var sorts = [...]string{"beds", "drums", "floor", "walls", "glazing"}

// floorSort is the place of floors in sorts.
const floorSort = 2

// sort is the kind of a surface, in sorts.
func (s *surface) sort() int {
	switch {
	case s.glassBack > 0:
		return 4
	case s.film == drumSide:
		return 1
	case s.soil:
		return 0
	case s.tilt < 0.1:
		return floorSort
	}
	return 3
}

func (l *longwave) join(between [][]exchange3) {
	var nodes []thermal.Node
	var kinds []int
	for _, s := range l.g.inside {
		nodes, kinds = append(nodes, s.node), append(kinds, s.sort())
	}
	l.areas = between
	l.between = l.g.Net.AddExchange(nodes, kinds, func(low, high int) string { return "longwave, " + sorts[low] + " to " + sorts[high] })
	l.setAreas()
}

// setAreas sets what the pairs exchange as clear as the films are.
func (l *longwave) setAreas() {
	l.between.SetAreas(func(i, j int) float64 { return l.areas[i][j].mixed(l.mix) })
}

func (l *longwave) joinOut(sky, terrain [][]exchange3) {
	g := l.g
	for i, s := range g.inside {
		if sky[i][0] == (exchange3{}) && terrain[i][0] == (exchange3{}) {
			continue
		}
		o := outPair{a: i, ofSky: sky[i][0], ofTerrain: terrain[i][0], gSky: sky[i][0][0], gTerrain: terrain[i][0][0]}
		o.sky = g.Net.Join(s.name+throughFilm+" to sky", s.node, g.outside.sky, 0)
		o.terrain = g.Net.Join(s.name+throughFilm+" to terrain", s.node, g.outside.terrain, 0)
		l.out = append(l.out, o)
	}
}

// throughFilm is in the name of every flow that passes a clear film.
const throughFilm = " through the film"

// hour finds how clear the films are: snow or a drawn cover shuts them, condensate takes the greater part. All films together count by area.
func (l *longwave) hour(*hour) {
	if len(l.films) == 0 {
		return
	}
	l.mix = [3]float64{}
	area := 0.0
	for _, p := range l.films {
		k := p.face.Area
		wet := l.g.wetness(p)
		switch {
		case p.cover.share() > 0.5 || p.snow.water > 0 || p.open.is():
			l.mix[filmShut] += k
		default:
			l.mix[filmWet] += k * wet
			l.mix[filmDry] += k * (1 - wet)
		}
		area += k
	}
	for k := range l.mix {
		l.mix[k] /= area
	}
	passes := l.mix[filmDry] + wetPasses*l.mix[filmWet]
	for _, p := range l.films {
		p.surface.passes = p.surface.clear * passes
		p.films.emittance = p.stack.Sheets[0].EmittanceOuter * (1 - p.surface.passes)
	}
	l.setAreas()
	for i := range l.out {
		o := &l.out[i]
		o.gSky, o.gTerrain = o.ofSky.mixed(l.mix), o.ofTerrain.mixed(l.mix)
	}
}

func (x *exchange3) mixed(m [3]float64) float64 { return m[0]*x[0] + m[1]*x[1] + m[2]*x[2] }

// wetsWholly is the film of water or frost that covers a sheet from edge to edge [kg/m²]: a quarter of what a steep face holds; own judgement.
const wetsWholly = filmHolds / 4

// wetness is how far condensate and frost cover a pane, 0 to 1, by the film that lies on it; a house without beds is dry.
func (g *Greenhouse) wetness(p *pane) float64 {
	for i := range g.vapour.faces {
		if f := &g.vapour.faces[i]; f.s == p.surface {
			return clamp(f.film/wetsWholly, 0, 1)
		}
	}
	return 0
}

// step sets what the surfaces send out, sigma T⁴, straight about the temperatures of the pass; what passes a film is exact at these.
func (l *longwave) step(m thermal.Moment) {
	n := l.g.Net
	for i, s := range l.g.inside {
		t := m.T(s.node)
		k := t + zeroC
		l.between.SetPotential(i, t, stefan*k*k*k*k, 4*stefan*k*k*k)
	}
	if len(l.out) == 0 {
		return
	}
	sky, terrain := m.T(l.g.outside.sky), m.T(l.g.outside.terrain)
	for i := range l.out {
		o := &l.out[i]
		t := m.T(l.g.inside[o.a].node)
		n.SetJoin(o.sky, o.gSky*radiative(t, sky))
		n.SetJoin(o.terrain, o.gTerrain*radiative(t, terrain))
	}
}
