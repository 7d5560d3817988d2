package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/glazing"
	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// pane is a glazed face: an outer node (with frame, snow and an outside cover before it), an inner node, and the face to the
// room, which is the inner face itself or that of a drawn cover.
type pane struct {
	g     *Greenhouse
	face  *house.Face
	stack glazing.Stack
	table *glazing.Table
	plane sun.Plane
	at    glazing.Place
	look  *outlook

	skin, outer, inner, room thermal.Node
	films                    outerFilms
	snowJoin, glassJoin      thermal.JoinID
	coverJoin                thermal.JoinID
	absOuter, absInner       thermal.InjectID
	absRoom                  thermal.InjectID
	surface                  *surface
	snow                     snowOnGlass

	clear float64 // share of light that frame, bars, dirt and age leave
	// of the hour
	beamW, diffuseW float64 // sun that enters [W]
	covered         bool
	moved           bool // the cover was drawn or taken away at the begin of the hour
}

// none is a conductance so large that two nodes are one [W/m²K].
const none = 2000.0

func (g *Greenhouse) addGlazing() {
	p := g.House.Plan
	age := p.Frame.Age / (365.25 * 86400)
	opening := glazing.Opening{FrameShare: p.Frame.Share, BarShade: p.Frame.Bars, Dirt: p.Frame.Dirt, AgeingPerYear: p.Frame.Ageing}
	for i := range g.House.Faces {
		f := &g.House.Faces[i]
		if f.Glass == nil {
			continue
		}
		slope := glazing.Angle(f.Tilt)
		table, err := glazing.NewTable(*f.Glass, slope)
		if err != nil {
			panic("greenhouse: " + err.Error()) // the house was checked
		}
		w := &pane{g: g, face: f, stack: *f.Glass, table: table, plane: sun.Plane{Tilt: sun.Angle(f.Tilt), Azimuth: sun.Angle(f.Azimuth)},
			at: g.glazingPlace(f), clear: opening.Light(age)}
		w.snow.g, w.snow.tilt = g, f.Tilt
		t := g.Setup.StartC
		heat := 0.0
		for _, s := range f.Glass.Sheets {
			heat += s.HeatJM2K * f.Area / 2
		}
		w.skin = g.Net.Add(f.Name+" outer face", thermal.Law{}, t)
		w.outer = g.Net.Add(f.Name+" outer sheet", thermal.Sensible(heat), t)
		w.inner = g.Net.Add(f.Name+" inner sheet", thermal.Sensible(heat), t)
		w.room = g.Net.Add(f.Name, thermal.Law{}, t)
		w.snowJoin = g.Net.Join(f.Name+" through snow", w.outer, w.skin, none*f.Area)
		w.glassJoin = g.Net.Join("through "+f.Name, w.inner, w.outer, 3*f.Area)
		w.coverJoin = g.Net.Join(f.Name+" through cover", w.room, w.inner, none*f.Area)
		if u := p.Frame.UValue; p.Frame.Share > 0 {
			g.Net.Join("through frame of "+f.Name, w.inner, w.outer, f.Area*p.Frame.Share/max(0.02, 1/u-0.17)) // cover and snow lie over it too
		}
		w.absOuter = g.Net.Inject("sun taken up by "+f.Name, w.outer)
		w.absInner = g.Net.Inject("sun taken up by "+f.Name, w.inner)
		w.absRoom = g.Net.Inject("sun taken up by cover of "+f.Name, w.room)
		w.look = g.outlookOf(f)
		w.films = g.addOuterFilms(f, w.skin, f.Glass.Sheets[0].EmittanceOuter, p.Surfaces.OutsideGlazing, w.look)
		back := table.Diffuse.Inside
		w.surface = g.addSurface(&surface{name: f.Name, node: w.room, area: f.Area, seen: f.Area, tilt: math.Pi - f.Tilt, normal: g.inward(f),
			emittance: f.Glass.Sheets[len(f.Glass.Sheets)-1].EmittanceInner, z0: f.Z0, z1: f.Z1, glassBack: 1 - back.Reflectance, wets: true})
		g.panes = append(g.panes, w)
		g.parts = append(g.parts, w)
	}
}

func (g *Greenhouse) glazingPlace(f *house.Face) glazing.Place {
	return glazing.Place{Slope: glazing.Angle(f.Tilt), HeightM: max(0.1, min(3, f.Area/g.House.Length)), PressurePa: g.pressure}
}

// inward is the normal of a face into the room: its parts to the front, up, and to the right end.
func (g *Greenhouse) inward(f *house.Face) [3]float64 {
	if f.End != 0 {
		return [3]float64{0, 0, -float64(f.End)}
	}
	front := math.Sin(f.Tilt) * math.Cos(f.Azimuth-g.House.Facing) // of the outward normal
	return [3]float64{-front, -math.Cos(f.Tilt), 0}
}

func (w *pane) hour(h *hour) {
	g := w.g
	w.snow.hour(h, g.Net.T(w.outer))
	drawn := g.coverDrawn(h)
	w.moved, w.covered = drawn != w.covered, drawn
	s := paneSun{}
	if h.sunUp {
		s = w.sun(w.look.irradiance(w.plane, h))
		w.underSnow(&s)
		w.underCover(&s)
	}
	w.beamW, w.diffuseW = s.beam, s.diffuse
	g.Net.SetInject(w.absOuter, s.outer)
	g.Net.SetInject(w.absInner, s.inner)
	g.Net.SetInject(w.absRoom, s.cover)
	w.films.hour(h)
}

// paneSun is what becomes of the sun on a pane [W]: what enters as beam and as diffuse light, and what the outer and the inner sheet and
// a drawn inside cover take up.
type paneSun struct{ beam, diffuse, outer, inner, cover float64 }

// sun is that of the pane itself, with its frame, bars and dirt.
func (w *pane) sun(i sun.Irradiance) paneSun {
	beam, d := w.table.FromOutside(max(0, i.CosIncidence)), &w.table.Diffuse
	light := w.clear * w.face.Area
	soft := i.IsotropicWM2 + i.HorizonWM2
	s := paneSun{beam: i.DirectedWM2() * beam.Transmittance * light,
		diffuse: (soft*d.Sky.Transmittance + i.GroundWM2*d.Ground.Transmittance) * light}
	lump := w.stack.Lump(w.g.Net.T(w.outer), w.g.Net.T(w.inner), w.at)
	net := w.face.Area * (1 - w.g.House.Plan.Frame.Share)
	for k := range w.stack.Sheets {
		q := net * (i.DirectedWM2()*beam.Absorbed[k] + soft*d.Sky.Absorbed[k] + i.GroundWM2*d.Ground.Absorbed[k])
		s.outer += q * lump.ToOuter[k]
		s.inner += q * (1 - lump.ToOuter[k])
	}
	return s
}

// underSnow lets the lying snow take its part; what passes it is diffuse.
func (w *pane) underSnow(s *paneSun) {
	if w.snow.depth == 0 {
		return
	}
	through, _ := material.SnowLight(w.snow.depth, w.snow.density())
	s.diffuse, s.beam = (s.beam+s.diffuse)*through, 0
	s.outer, s.inner = s.outer*through, s.inner*through
}

// coverTakes is the share of the light on a drawn inside cover that it takes up; the rest goes back out. Own judgement: cloth of
// middling colour.
const coverTakes = 0.5

// underCover lets a drawn cover keep the light out of the room; an outside one keeps it off the pane too.
func (w *pane) underCover(s *paneSun) {
	switch {
	case !w.covered:
	case w.g.House.Plan.Cover.Side == "outside":
		*s = paneSun{}
	default:
		s.cover = coverTakes * (s.beam + s.diffuse)
		s.beam, s.diffuse = 0, 0
	}
}

// coverGap is the air between an inside cover and the glazing [m²K/W]: ISO 6946 table 8, from memory.
const coverGap = 0.15

func (w *pane) step(m thermal.Moment) {
	g, f := w.g, w.face
	l := w.stack.Lump(m.T(w.outer), m.T(w.inner), w.at)
	g.Net.SetJoin(w.glassJoin, l.BetweenWM2K*f.Area*(1-g.House.Plan.Frame.Share))
	out, in := 1/none, 1/none
	out += w.snow.resistance()
	if w.covered {
		c := g.House.Plan.Cover
		if c.Side == "outside" {
			out += c.RValue * c.Fit
		} else {
			in += (c.RValue + coverGap) * c.Fit
		}
	}
	g.Net.SetJoin(w.snowJoin, f.Area/out)
	g.Net.SetJoin(w.coverJoin, f.Area/in)
	w.films.step(m)
}

// coverDrawn tells whether the night cover is drawn in this hour. It belongs to the glazing of the section and to all windows.
func (g *Greenhouse) coverDrawn(h *hour) bool {
	c := g.House.Plan.Cover
	return c != nil && within(c.Hours.From, c.Hours.Until, h.clock) &&
		season(c.From.Month, c.From.Day, c.Until.Month, c.Until.Day, h.start)
}

// coverRung is the coarsest rung of an hour at whose begin a cover is drawn or taken away: the faces, which hold no heat, leap, and the
// films with them.
const coverRung = 2

// coverMoved tells whether any cover moves at the begin of this hour.
func (g *Greenhouse) coverMoved() bool {
	for _, w := range g.panes {
		if w.moved {
			return true
		}
	}
	return false
}

// outerFilms is what an outer face exchanges with outdoor air, sky and terrain.
type outerFilms struct {
	g                  *Greenhouse
	node               thermal.Node
	area               float64
	emittance          float64
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

func (o *outerFilms) step(m thermal.Moment) {
	if o.fixed {
		return
	}
	n := o.g.Net
	t := m.T(o.node)
	n.SetJoin(o.air, airflow.Wind(o.wind)*o.area)
	n.SetJoin(o.skyJ, o.emittance*o.sky*o.area*radiative(t, m.T(o.g.outside.sky)))
	n.SetJoin(o.terrain, o.emittance*o.ground*o.area*radiative(t, m.T(o.g.outside.terrain)))
}
