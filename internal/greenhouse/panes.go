package greenhouse

import (
	"math"

	"suncellar/internal/glazing"
	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// pane is a glazed face: an outer node (with frame, snow and an outside cover before it), an inner node, and the face to the
// room, which is the inner face itself or that of a drawn cover. Where its panels are taken off it is an opening.
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
	roomJoin                 thermal.JoinID // inner sheet to the face to the room
	absOuter, absInner       thermal.InjectID
	absBack                  thermal.InjectID // of light from inside
	absSnow                  thermal.InjectID
	surface                  *surface
	snow                     snowLayer
	cover                    *paneCover // nil without a cover
	open                     *offFace   // nil where it is never taken off
	stand                    *stand     // nil where no other glazing takes its place

	clear float64 // share of light that frame, bars, dirt and age leave
	// of the hour
	paneSun
}

// none is a conductance so large that two nodes are one [W/m²K].
const none = 2000.0

func (g *Greenhouse) addGlazing() {
	for i := range g.House.Faces {
		if f := &g.House.Faces[i]; f.Glass != nil {
			w := g.addPane(f)
			g.panes = append(g.panes, w)
			g.parts = append(g.parts, w)
		}
	}
}

func (g *Greenhouse) addPane(f *house.Face) *pane {
	p := g.House.Plan
	opening := glazing.Opening{FrameShare: p.Frame.Share, BarShade: p.Frame.Bars, Dirt: p.Frame.Dirt, AgeingPerYear: p.Frame.Ageing}
	table, err := glazing.NewTable(*f.Glass, glazing.Angle(f.Tilt))
	if err != nil {
		panic("greenhouse: " + err.Error()) // the house was checked
	}
	w := &pane{g: g, face: f, stack: *f.Glass, table: table, plane: sun.Plane{Tilt: sun.Angle(f.Tilt), Azimuth: sun.Angle(f.Azimuth)},
		at: g.glazingPlace(f), clear: opening.Light(p.Frame.Age / (365.25 * 86400)), look: g.outlookOf(f)}
	w.addNodes()
	w.films = g.addOuterFilms(f, w.skin, f.Glass.Sheets[0].EmittanceOuter, p.Surfaces.OutsideGlazing, w.look)
	w.surface = g.addSurface(&surface{name: f.Name, node: w.room, area: f.Area, seen: f.Area, tilt: math.Pi - f.Tilt,
		emittance: f.Glass.Sheets[len(f.Glass.Sheets)-1].EmittanceInner, z0: f.Z0, z1: f.Z1, glassBack: 1 - table.Diffuse.Inside.Reflectance, wets: true})
	if t := f.Glass.Sheets[0].LongwaveTransmittance; len(f.Glass.Sheets) == 1 && t >= clearFrom {
		w.surface.clear = t
	}
	w.snow = g.addSnow(f, w.outer, w.skin)
	w.cover = g.addCover(w)
	w.open = g.addOffFace(f, w.surface, w.skin)
	w.stand = addStand(f)
	return w
}

func (w *pane) addNodes() {
	g, f, t := w.g, w.face, w.g.Setup.StartC
	heat := 0.0
	for _, s := range f.Glass.Sheets {
		heat += s.HeatJM2K * f.Area / 2
	}
	if f.Off != nil {
		heat++ // a joule a kelvin, so that sheets of no heat are held by something when they are off
	}
	w.skin = g.Net.Add(f.Name+" outer face", thermal.Law{}, t)
	w.outer = g.Net.Add(f.Name+" outer sheet", thermal.Sensible(heat), t)
	w.inner = g.Net.Add(f.Name+" inner sheet", thermal.Sensible(heat), t)
	w.room = g.Net.Add(f.Name, thermal.Law{}, t)
	w.snowJoin = g.Net.Join(f.Name+" through snow", w.outer, w.skin, none*f.Area)
	w.glassJoin = g.Net.Join("through "+f.Name, w.inner, w.outer, 3*f.Area)
	w.roomJoin = g.Net.Join(f.Name+" through cover", w.room, w.inner, none*f.Area)
	if frame := g.House.Plan.Frame; frame.Share > 0 {
		g.Net.Join("through frame of "+f.Name, w.inner, w.outer, f.Area*frame.Share/max(0.02, 1/frame.UValue-0.17)) // cover and snow lie over it too
	}
	w.absOuter = g.Net.Inject("sun taken up by "+f.Name, w.outer)
	w.absInner = g.Net.Inject("sun taken up by "+f.Name, w.inner)
	w.absBack = g.Net.Inject("sun taken up by "+f.Name, w.inner)
	w.absSnow = g.Net.Inject("sun taken up by snow", w.skin)
}

func (g *Greenhouse) glazingPlace(f *house.Face) glazing.Place {
	return glazing.Place{Slope: glazing.Angle(f.Tilt), HeightM: max(0.1, min(3, f.Area/g.House.Length)), PressurePa: g.pressure}
}

func (w *pane) hour(h *hour) {
	g := w.g
	w.open.hour(h)
	w.stand.hour(w, h)
	w.snow.hour(h, w.open.is())
	w.cover.hour(h, w.open.is())
	s := paneSun{}
	if h.sunUp {
		i := w.look.irradiance(w.plane, h)
		if w.open.is() {
			s = unglazed(i, w.face.Area*(1-g.House.Plan.Frame.Bars)) // the bars stay
		} else {
			s = w.sun(i)
			w.underSnow(&s)
			w.cover.dims(&s)
		}
	}
	w.paneSun = s
	g.Net.SetInject(w.absOuter, s.outerW)
	g.Net.SetInject(w.absInner, s.innerW)
	g.Net.SetInject(w.absSnow, s.snowW)
	w.cover.takes(s.coverW)
	w.films.hour(h)
}

// paneSun is what becomes of the sun on a pane [W]: what falls on it; what enters as beam, as light that falls from the sky, that rises from the
// ground, and that snow has scattered to all sides; and what the outer and the inner sheet, the snow and a drawn cover take up.
type paneSun struct{ falls, beam, sky, ground, scattered, outerW, innerW, snowW, coverW float64 }

func (s *paneSun) enters() float64 { return s.beam + s.sky + s.ground + s.scattered }

// dim leaves a share of what enters and of what the sheets take up.
func (s *paneSun) dim(share float64) {
	s.beam, s.sky, s.ground, s.scattered = s.beam*share, s.sky*share, s.ground*share, s.scattered*share
	s.outerW, s.innerW = s.outerW*share, s.innerW*share
}

// sun is that of the pane itself, with its frame, bars and dirt.
func (w *pane) sun(i sun.Irradiance) paneSun {
	beam, d := w.table.FromOutside(max(0, i.CosIncidence)), &w.table.Diffuse
	light := w.clear * w.face.Area
	soft := i.IsotropicWM2 + i.HorizonWM2
	s := paneSun{falls: i.TotalWM2() * w.face.Area, beam: i.DirectedWM2() * beam.Transmittance * light,
		sky: soft * d.Sky.Transmittance * light, ground: i.GroundWM2 * d.Ground.Transmittance * light}
	lump := w.stack.Lump(w.g.Net.T(w.outer), w.g.Net.T(w.inner), w.at)
	net := w.face.Area * (1 - w.g.House.Plan.Frame.Share)
	for k := range w.stack.Sheets {
		q := net * (i.DirectedWM2()*beam.Absorbed[k] + soft*d.Sky.Absorbed[k] + i.GroundWM2*d.Ground.Absorbed[k])
		s.outerW += q * lump.ToOuter[k]
		s.innerW += q * (1 - lump.ToOuter[k])
	}
	return s
}

// unglazed is the sun through an area [m²] that nothing covers.
func unglazed(i sun.Irradiance, area float64) paneSun {
	return paneSun{falls: i.TotalWM2() * area, beam: i.DirectedWM2() * area, sky: (i.IsotropicWM2 + i.HorizonWM2) * area, ground: i.GroundWM2 * area}
}

// underSnow lets the lying snow, and a pile at the foot, take their part; what passes lying snow is diffuse, a pile passes nothing.
func (w *pane) underSnow(s *paneSun) {
	bare := 1 - w.snow.buried
	s.dim(bare)
	if w.snow.water == 0 {
		return
	}
	through, back := w.snow.light()
	s.scattered, s.beam, s.sky, s.ground = s.enters()*through, 0, 0, 0
	s.outerW, s.innerW = s.outerW*through, s.innerW*through
	s.snowW = s.falls * bare * (1 - through - back)
}

func (w *pane) step(m thermal.Moment) {
	g, f := w.g, w.face
	l := w.stack.Lump(m.T(w.outer), m.T(w.inner), w.at)
	g.Net.SetJoin(w.glassJoin, l.BetweenWM2K*f.Area*(1-g.House.Plan.Frame.Share))
	through := w.snow.step(m, w.cover.outsideDrawn(m)) // of the snow, outer sheet to skin [W/K]
	toRoom := none * f.Area
	if w.open.is() {
		through, toRoom = 0, 0
	}
	through, toRoom = w.cover.step(m, through, toRoom)
	g.Net.SetJoin(w.snowJoin, through)
	g.Net.SetJoin(w.roomJoin, toRoom)
	w.films.step(m, w.open.is())
}
