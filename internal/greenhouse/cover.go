package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// paneCover is the cover of one pane: a node of its own heat. Drawn, it stands between the face to the room and the inner sheet, or outside
// between the outer sheet and the weather, and air passes its edge; rolled up, it lies in the air of its side. It promises that a cover
// that fits leaks nothing, that a worse fit never insulates better, and that it acts to the quarter of an hour.
type paneCover struct {
	w      *pane
	plan   *plan.Cover
	inside bool
	node   thermal.Node
	// drawn: to the weather's or the room's side, to the pane, round the edge; rolled up: to its air
	out, in, leak, rolled thermal.JoinID
	air                   thermal.Node // on its open side
	sun                   thermal.InjectID
	half                  float64 // half its resistance [m²K/W]
	gap                   float64 // resistance of the air behind it [m²K/W]
	edge                  coverEdge
	h                     *hour
	rule                  bool // what air and sun say
	drawn                 [4]bool
	moved                 bool
}

// Figures of covers.
const (
	coverHeat   = 1400.0 // specific heat of cloth, wadding and foam [J/kg K]; common practice, no source
	coverTakes  = 0.5    // share of the light on a drawn cover that it takes up; own judgement: cloth of middling colour
	coverRolled = 0.5    // of a rolled cover to the air, per m² of cover [W/m²K]; own judgement
	gapConvects = 3.1    // air behind an inner cover without radiation [W/m²K]: with it 1/0.15, ISO 6946 table 8, from memory
	ruleAirK    = 2.0    // how far above its threshold the air takes a cover away [K]; own judgement
	ruleSun     = 1.5    // how many times its threshold the sun takes it away; own judgement
)

// addCover gives a pane its cover; nil without one.
func (g *Greenhouse) addCover(w *pane) *paneCover {
	p := g.House.Plan.Cover
	if p == nil {
		return nil
	}
	f := w.face
	c := &paneCover{w: w, plan: p, inside: p.Side == "inside", half: p.RValue / 2}
	c.node = g.Net.Add("cover of "+f.Name, thermal.Sensible(p.Mass*coverHeat*f.Area), g.Setup.StartC)
	through, behind := f.Name+" through cover", f.Name+" behind cover"
	edge, rolled := "round the edge of the cover of "+f.Name, "rolled cover of "+f.Name+" to air"
	if c.inside {
		sheets := f.Glass.Sheets
		c.gap = 1 / (gapConvects + 4.6/(1/p.Emittance+1/sheets[len(sheets)-1].EmittanceInner-1))
		c.air = g.layerBeside(f.Z0, f.Z1).node
		c.out, c.in = g.Net.Join(through, w.room, c.node, 0), g.Net.Join(behind, c.node, w.inner, 0)
		c.leak = g.Net.Join(edge, c.air, w.inner, 0)
	} else {
		c.air, edge, rolled = g.outside.air, f.Name+" to outdoor air", f.Name+" to outdoor air"
		c.out, c.in = g.Net.Join(f.Name+" through snow", c.node, w.skin, 0), g.Net.Join(behind, w.outer, c.node, 0)
		c.leak = g.Net.Join(edge, w.outer, c.air, 0)
	}
	c.rolled = g.Net.Join(rolled, c.node, c.air, coverRolled*f.Area)
	c.sun = g.Net.Inject("sun taken up by cover of "+f.Name, c.node)
	c.edge = c.sizeEdge()
	return c
}

// layerBeside is the layer of air that holds most of a height z0..z1; the upper of two alike.
func (g *Greenhouse) layerBeside(z0, z1 float64) *layer {
	best := g.layers[len(g.layers)-1]
	for i := len(g.layers) - 2; i >= 0; i-- {
		if g.layers[i].share(z0, z1) > best.share(z0, z1) {
			best = g.layers[i]
		}
	}
	return best
}

// coverEdge is the air that passes the edge of a cover, at 10 K between the air behind and before it, and at 3 m/s of wind [m³/s].
type coverEdge struct{ stack, wind float64 }

// What the edge's flows are stated at, and the film between the air behind a cover and pane or cover [W/m²K].
const (
	edgeK    = 10.0
	edgeWind = 3.0
	edgeFilm = 2 * gapConvects
)

// sizeEdge finds the edge's flow: from the gap that is measured all round, low half in and high half out,
//
//	Q = Cd A/sqrt(2) sqrt(2 g H' dT/T),  A = w (L + S),  H' = H (1 - S/(2 (L + S)))
//
// with the length L along the house, S up the slope, H of its upright height, and 0.3 A/sqrt(2) v of wind on an outer one; or, from its fit, what
// leaves that share of its resistance at 10 K (and 3 m/s, half the square of the flow each). No fit is worse than what the film behind the cover lets
// through.
// Source: ASHRAE Fundamentals 2017, ch. 16, flow by thermal forces and by wind; how the edge gapes is judgement.
func (c *paneCover) sizeEdge() coverEdge {
	f, g := c.w.face, c.w.g
	if c.plan.EdgeGap != nil {
		rise := math.Max(0.02, f.Z1-f.Z0)
		slope := rise / math.Max(0.1, math.Sin(f.Tilt))
		along := f.Area / slope
		a := *c.plan.EdgeGap * (along + slope)
		v := airflow.Vents{LowM2: a, HighM2: a, RiseM: rise * (1 - slope/(2*(along+slope))), Discharge: 0.6, WindEffect: 0.3}
		e := coverEdge{stack: v.Flow(edgeK, 0, 0)}
		if !c.inside {
			e.wind = v.Wind(edgeWind)
		}
		return e
	}
	more := (1/c.plan.Fit - 1) / (2*c.half + c.gap) // that it lets through beside itself [W/m²K]
	more = math.Min(more, 0.9*edgeFilm)
	if more <= 0 {
		return coverEdge{}
	}
	q := f.Area / (1/more - 1/edgeFilm) / g.airHeat(0)
	if c.inside {
		return coverEdge{stack: q}
	}
	return coverEdge{stack: q / math.Sqrt2, wind: q / math.Sqrt2}
}

// passes is what the air round the edge lets through [W/K] at a difference [K] and a wind [m/s].
func (c *paneCover) passes(differenceK, wind, airC float64) float64 {
	if c.edge.stack == 0 && c.edge.wind == 0 {
		return 0
	}
	warmth := math.Hypot(differenceK, 0.1) / edgeK
	blown := c.edge.wind * wind / edgeWind
	heat := math.Sqrt(c.edge.stack*c.edge.stack*warmth+blown*blown) * c.w.g.airHeat(airC)
	return 1 / (1/heat + 1/(edgeFilm*c.w.face.Area))
}

// hour decides for each quarter whether the cover is drawn.
func (c *paneCover) hour(h *hour, open bool) {
	if c == nil {
		return
	}
	c.h = h
	c.rule = c.ruled(h)
	before := c.drawn[3]
	c.moved = false
	for k := range c.drawn {
		c.drawn[k] = !open && c.rule && c.inHours(h.clock-0.5+(float64(k)+0.5)/4) && season(c.plan.From, c.plan.Until, h.start)
		c.moved = c.moved || c.drawn[k] != before
		before = c.drawn[k]
	}
}

func (c *paneCover) inHours(clock float64) bool {
	hours := c.plan.Hours
	return hours.From == hours.Until || within(hours.From, hours.Until, clock)
}

// ruled tells what the air at the begin of the hour and its sun say; where there is no rule, that it may be drawn.
func (c *paneCover) ruled(h *hour) bool {
	air, sun := 0.0, 0.0
	if c.rule { // drawn so far: only what lies clearly above the threshold takes it away
		air, sun = ruleAirK, ruleSun-1
	}
	if t := c.plan.AirBelow; t != nil && h.air0 >= *t+air {
		return false
	}
	if w := c.plan.SunBelow; w != nil && h.sky.GlobalWM2(h.span) >= *w*(1+sun) {
		return false
	}
	return true
}

// share is how much of the hour it is drawn.
func (c *paneCover) share() float64 {
	n := 0.0
	if c == nil {
		return n
	}
	for _, d := range c.drawn {
		if d {
			n += 0.25
		}
	}
	return n
}

// dims lets a drawn cover keep the light out of the room; an outside one keeps it off the pane too.
func (c *paneCover) dims(s *paneSun) {
	if c == nil {
		return
	}
	d := c.share()
	if c.inside {
		s.coverW = d * coverTakes * s.enters()
		outer, inner := s.outerW, s.innerW
		s.dim(1 - d)
		s.outerW, s.innerW = outer, inner
		return
	}
	if s.snowW == 0 { // snow lies on it
		s.coverW = d * coverTakes * s.falls
	}
	s.dim(1 - d)
}

func (c *paneCover) takes(w float64) {
	if c != nil {
		c.w.g.Net.SetInject(c.sun, w)
	}
}

// step sets the cover's joins; it gives back what is left of those of the bare pane, from the outer sheet through the snow and from the
// inner sheet to the room [W/K].
func (c *paneCover) step(m thermal.Moment, snow, room float64) (float64, float64) {
	if c == nil {
		return snow, room
	}
	g, area := c.w.g, c.w.face.Area
	out, in, leak, rolled := 0.0, 0.0, 0.0, coverRolled*area
	drawn := c.is(m)
	switch {
	case drawn && c.inside:
		t := m.T(c.air)
		out, in, leak = area/(c.half+1/none), area/(c.half+c.gap), c.passes(t-m.T(c.w.inner), 0, t)
		room, rolled = 0, 0
	case drawn:
		t := m.T(c.air)
		out, in, leak = 1/(c.half/area+1/snow), area/c.half, c.passes(m.T(c.w.outer)-t, c.h.windHouse, t)
		snow, rolled = 0, 0
	}
	g.Net.SetJoin(c.out, out)
	g.Net.SetJoin(c.in, in)
	g.Net.SetJoin(c.leak, leak)
	g.Net.SetJoin(c.rolled, rolled)
	if !c.inside {
		c.w.films.cover = 0
		if drawn && c.w.snow.water == 0 {
			c.w.films.cover = c.plan.Emittance
		}
	}
	return snow, room
}

// is tells whether the cover is drawn at a moment.
func (c *paneCover) is(m thermal.Moment) bool {
	return c != nil && c.drawn[min(3, int((m.Begin+m.Step/2)/900))]
}

// outsideDrawn tells whether an outer cover is drawn at a moment.
func (c *paneCover) outsideDrawn(m thermal.Moment) bool { return c.is(m) && !c.inside }

// coverRung is the coarsest rung of an hour in which a cover is drawn or taken away, quarter hours, or a face taken off: the faces, which
// hold no heat, leap, and the films with them.
const coverRung = 2

// partsMoved tells whether any cover moves or any face is taken off or put back in this hour.
func (g *Greenhouse) partsMoved() bool {
	for _, w := range g.panes {
		if w.cover != nil && w.cover.moved || w.stand != nil && w.stand.moved {
			return true
		}
	}
	for _, o := range g.offFaces {
		if o.moved {
			return true
		}
	}
	return false
}
