package greenhouse

import (
	"math"

	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
	"suncellar/internal/thermal/modal"
)

// wall is an opaque face that does not touch the soil: layers between an inside and an outside face. On a roof snow lies, at the foot of a
// wall a pile; where its panels are taken off it is an opening.
type wall struct {
	g     *Greenhouse
	face  *house.Face
	skin  thermal.Node
	plane sun.Plane
	look  *outlook
	films outerFilms
	warms thermal.InjectID // sun on its outer face
	snow  *snowLayer       // nil where neither snow nor a pile can lie
	snowJ thermal.JoinID
	top   thermal.Node
	open  *offFace
	// the panel's own faces, where it can be taken off, and their joins to the faces that stay
	panel   [2]thermal.JoinID
	paneSun // of the hour: what enters where it is off
}

// addFaces adds all opaque faces above grade, doors among them.
func (g *Greenhouse) addFaces() {
	for i := range g.House.Faces {
		f := &g.House.Faces[i]
		if f.Glass != nil || f.Behind == house.Soil {
			continue
		}
		inside := g.addFaceInside(f)
		switch f.Behind {
		case house.Fixed:
			behind := g.Net.Given("behind "+f.Name, f.FixedC)
			g.addLayers(f, inside, behind, "through "+f.Name)
		case house.Adiabatic:
			g.addLayers(f, inside, -1, "")
		default:
			g.addWall(f, inside)
		}
	}
}

// addFaceInside adds the face of an opaque face to the room.
func (g *Greenhouse) addFaceInside(f *house.Face) thermal.Node {
	node := g.Net.Add(f.Name, thermal.Law{}, g.Setup.StartC)
	s := &surface{name: f.Name, node: node, area: f.Area, seen: f.Area, tilt: math.Pi - f.Tilt, z0: f.Z0, z1: f.Z1, wets: true}
	if f.Build != nil {
		s.emittance, s.absorptance = f.Build.Inside.Emittance, f.Build.Inside.Absorptance
	} else { // bare earth, moist
		s.emittance, s.absorptance = 0.95, 0.85
	}
	g.addSurface(s)
	return node
}

func (g *Greenhouse) addWall(f *house.Face, inside thermal.Node) {
	w := &wall{g: g, face: f, plane: sun.Plane{Tilt: sun.Angle(f.Tilt), Azimuth: sun.Angle(f.Azimuth)}, look: g.outlookOf(f)}
	w.skin = g.Net.Add(f.Name+" outer face", thermal.Law{}, g.Setup.StartC)
	w.top = w.skin
	w.addPanel(inside)
	snows := g.Setup.Snow != SnowNever
	if lies, piled := f.Tilt < slideAngle, g.sideOf(f) >= 0 && HoldsSnow(g.House) && f.Tilt < math.Pi/2+0.1; snows && (lies || piled) {
		w.top = g.Net.Add("snow on "+f.Name, thermal.Law{}, g.Setup.StartC)
		w.snowJ = g.Net.Join(f.Name+" through snow", w.skin, w.top, none*f.Area)
		s := g.addSnow(f, w.skin, w.top)
		w.snow = &s
	}
	w.open = g.addOffFace(f, g.inside[len(g.inside)-1], w.top)
	w.warms = g.Net.Inject("sun on outer faces", w.top)
	w.films = g.addOuterFilms(f, w.top, f.Build.Outside.Emittance, g.House.Plan.Surfaces.Outside, w.look)
	g.walls = append(g.walls, w)
	g.parts = append(g.parts, w)
}

// addPanel puts the layers between inside and outside. Those of a panel that can be taken off have faces of their own.
func (w *wall) addPanel(inside thermal.Node) {
	g, f := w.g, w.face
	if f.Off == nil {
		g.addLayers(f, inside, w.skin, "through "+f.Name)
		return
	}
	in := g.Net.Add("panel of "+f.Name+", inside", thermal.Law{}, g.Setup.StartC)
	out := g.Net.Add("panel of "+f.Name+", outside", thermal.Sensible(1), g.Setup.StartC) // a joule a kelvin, so that it is held by something when it is off
	g.addLayers(f, in, out, "through "+f.Name)
	w.panel = [2]thermal.JoinID{g.Net.Join("panel of "+f.Name, inside, in, none*f.Area), g.Net.Join("panel of "+f.Name, out, w.skin, none*f.Area)}
}

func (w *wall) hour(h *hour) {
	w.open.hour(h)
	i := w.look.irradiance(w.plane, h)
	w.paneSun = paneSun{}
	if w.open.is() {
		w.paneSun = unglazed(i, w.face.Area)
	}
	if w.open != nil && w.open.moved {
		w.swing()
	}
	taken := w.face.Build.Outside.Absorptance
	if w.snow != nil {
		w.snow.hour(h, w.open.is())
		if w.snow.water > 0 {
			through, back := w.snow.light()
			taken = 1 - back - through*(1-taken)
		}
		taken *= 1 - w.snow.buried
	}
	if w.open.is() {
		taken = 0
	}
	w.g.Net.SetInject(w.warms, taken*i.TotalWM2()*w.face.Area)
	w.films.hour(h)
}

// swing parts the panel from the faces that stay, or joins it to them again.
func (w *wall) swing() {
	conductance := none * w.face.Area
	if w.open.now {
		conductance = 0
	}
	for _, j := range w.panel {
		w.g.Net.SetJoin(j, conductance)
	}
}

func (w *wall) step(m thermal.Moment) {
	if w.snow != nil {
		w.g.Net.SetJoin(w.snowJ, w.snow.step(m, false))
	}
	w.films.step(m, w.open.is())
}

// addLayers makes the layers of a face a body between two nodes; a missing outside node (-1) makes its back adiabatic. Layers
// whose heat is not counted are resistances between cells; cells are at most half as thick as the depth that a change of
// one hour reaches, sqrt(a 3600 s). Nothing freezes in them, so they stand in the network as their modes, all of them.
func (g *Greenhouse) addLayers(f *house.Face, inside, outside thermal.Node, flow string) {
	var b modal.Body
	pending := 0.0 // resistance since the last cell's middle, per m²
	first := 0.0
	for _, l := range f.Build.Layers {
		if l.VolumeHeat == 0 || l.Thickness == 0 {
			pending += l.R
			continue
		}
		n := int(math.Ceil(l.Thickness / (0.5 * math.Sqrt(l.Conductivity/l.VolumeHeat*3600))))
		n = min(max(n, 1), 12)
		d := l.Thickness / float64(n)
		for range n {
			half := d / 2 / l.Conductivity
			b.Capacity, b.Start = append(b.Capacity, l.VolumeHeat*d*f.Area), append(b.Start, 0)
			if k := len(b.Capacity); k > 1 {
				b.Edges = append(b.Edges, modal.Edge{I: k - 1, J: k - 2, G: f.Area / (half + pending)})
			} else {
				first = pending + half
			}
			pending = half
		}
	}
	if len(b.Capacity) == 0 { // a bare resistance
		if outside >= 0 {
			g.Net.Join(flow, inside, outside, f.Area/max(1e-3, pending))
		}
		return
	}
	nodes, flows := []thermal.Node{inside}, []string{"into " + f.Name}
	b.Ports = []modal.Port{{Cell: 0, Port: 0, R: first / f.Area}}
	if outside >= 0 {
		nodes, flows = append(nodes, outside), append(flows, "out of "+f.Name)
		b.Ports = append(b.Ports, modal.Port{Cell: len(b.Capacity) - 1, Port: 1, R: pending / f.Area})
	}
	b.Count = len(nodes)
	g.wallStart(f.Name, b.Start)
	m, err := modal.Whole(b)
	if err != nil {
		panic("greenhouse: " + f.Name + ": " + err.Error()) // the build was checked
	}
	g.Net.AddModes(f.Name, &m.Model, m.Start, nodes, flows).JudgeFirst(1)
}
