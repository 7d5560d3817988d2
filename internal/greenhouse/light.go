package greenhouse

import (
	"math"

	"suncellar/internal/enclosure"
	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// light is where the sun that enters goes: beams are traced through the section and along the house to what they meet first, light of the sky falls and
// light of the ground rises from each pane, and what is thrown back is followed through all reflections until it is taken up or lost through
// the glazing. Plan.SunShares, when given, takes the place of all this.
type light struct {
	g       *Greenhouse
	beams   *enclosure.Beams
	taken   *enclosure.Sums
	onBeds  *enclosure.Sums
	enters  []opening
	first   []float64 // by piece: what falls on it first [W]
	watts   []float64 // by surface: what it takes up or lets out [W]
	told    []int     // pieces on which light is told
	arrive  []float64 // on these: the strips of the beds, or the floor of a house without [W]
	patches []float64 // beam on each strip of a bed, by stretch [W]
	strips  []float64 // by strip and stretch: light on the level [W/m²]
	// of the hour
	EnteredW, LostW float64
	bedWM2          float64 // on the level, mean of all beds, without beds of the floor [W/m²]
}

// opening is a pane, or a wall whose panels may be off, as light comes in by it: the shares in which its diffuse light falls first, by piece.
type opening struct {
	face                   *house.Face
	sun                    *paneSun // of the hour
	pane                   *pane    // nil for a wall
	off                    *offFace // nil where it is never taken off
	surface                int
	sky, ground, scattered []float64
	parts                  []openPart
	leaves                 float64 // of what the pane takes from inside, the share that goes out; it takes up the rest
}

// openPart is a part of a pane, with its share of the pane's area.
type openPart struct {
	glassPiece
	share float64
}

func (g *Greenhouse) addSun() {
	for _, s := range g.inside {
		s.sun = g.Net.Inject("sun into the room", s.node)
	}
	r := g.room
	n := len(r.pieces)
	l := &light{g: g, first: make([]float64, n), watts: make([]float64, len(g.inside)),
		patches: make([]float64, len(r.strips)*enclosure.Stretches), strips: make([]float64, len(r.strips)*enclosure.Stretches)}
	g.light = l
	g.parts = append(g.parts, l)
	if len(g.House.Plan.SunShares) > 0 {
		return
	}
	l.told = g.measured()
	l.arrive = make([]float64, len(l.told))
	l.reflect()
	l.addOpenings()
}

// reflect follows all reflections of the room anew: what is taken off throws nothing back.
func (l *light) reflect() {
	g := l.g
	back := make([]float64, len(g.room.pieces))
	for i, p := range g.room.pieces {
		s := g.inside[p]
		back[i] = 1 - s.absorptance
		if s.glassBack > 0 {
			back[i] = 1 - s.glassBack
		}
	}
	all, err := g.room.factors.Light(back)
	if err != nil {
		panic("greenhouse: " + err.Error()) // absorptances were checked
	}
	l.taken, l.onBeds = all.Taken(g.room.pieces, len(g.inside)), all.Arriving(l.told)
}

// measured are the pieces on which light is told: the strips of the beds, without beds the floor.
func (g *Greenhouse) measured() []int {
	var at []int
	for _, s := range g.room.strips {
		at = append(at, s.piece)
	}
	if len(at) == 0 {
		for i, p := range g.room.pieces {
			if g.inside[p].sort() == floorSort {
				at = append(at, i)
			}
		}
	}
	return at
}

// addOpenings prepares what comes in by each pane.
func (l *light) addOpenings() {
	g, r := l.g, l.g.room
	var edges, windows, lit []int
	for _, s := range r.strips {
		lit = append(lit, s.piece)
	}
	for _, p := range g.panes {
		inside := p.table.Diffuse.Inside
		l.enters = append(l.enters, opening{face: p.face, sun: &p.paneSun, pane: p, off: p.open, leaves: inside.Transmittance / math.Max(1e-9, 1-inside.Reflectance)})
	}
	for _, w := range g.walls {
		if w.open != nil {
			l.enters = append(l.enters, opening{face: w.face, sun: &w.paneSun, off: w.open, leaves: 1})
		}
	}
	for k := range l.enters {
		o := &l.enters[k]
		l.open(o)
		for _, part := range o.parts {
			if part.edge >= 0 {
				edges = append(edges, part.edge)
			} else {
				windows = append(windows, part.band)
			}
		}
	}
	var err error
	if l.beams, err = r.e.Beams(edges, windows, lit); err != nil {
		panic("greenhouse: " + err.Error())
	}
}

// open finds where the light of an opening falls first.
func (l *light) open(o *opening) {
	r := l.g.room
	n := len(r.pieces)
	o.sky, o.ground, o.scattered = make([]float64, n), make([]float64, n), make([]float64, n)
	area := 0.0
	for _, q := range r.glass[o.face.Name] {
		area += r.factors.Area[q.piece]
	}
	for _, q := range r.glass[o.face.Name] {
		share := r.factors.Area[q.piece] / area
		o.surface = r.pieces[q.piece]
		if share == 0 {
			continue
		}
		o.parts = append(o.parts, openPart{q, share})
		var sky, ground []float64 // none from a window of an end, or where glazing sees none of it
		if q.edge >= 0 {
			sky, ground = r.e.Diffuse(q.edge, diffuseStrips)
		}
		sees := sum(sky) > 0
		lies := sum(ground) > 0
		for j := range n {
			f := r.factors.F(q.piece, j)
			o.scattered[j] += share * f
			if sees {
				o.sky[j] += share * sky[j]
			} else {
				o.sky[j] += share * f
			}
			if lies {
				o.ground[j] += share * ground[j]
			} else {
				o.ground[j] += share * f
			}
		}
	}
}

// diffuseStrips is into how many strips a piece of a pane is cut to find where its light of sky and ground falls.
const diffuseStrips = 8

func sum(list []float64) float64 {
	s := 0.0
	for _, x := range list {
		s += x
	}
	return s
}

func (l *light) hour(h *hour) {
	l.EnteredW, l.LostW, l.bedWM2 = 0, 0, 0
	for _, p := range l.g.panes {
		l.EnteredW += p.enters()
	}
	for _, w := range l.g.walls { // where it is off
		l.EnteredW += w.enters()
	}
	for _, o := range l.g.offFaces {
		if o.moved && l.taken != nil {
			l.reflect()
			break
		}
	}
	clear(l.strips)
	switch shares := l.g.House.Plan.SunShares; {
	case l.EnteredW == 0:
		for _, s := range l.g.inside {
			l.g.Net.SetInject(s.sun, 0)
		}
		for i := range l.enters {
			if p := l.enters[i].pane; p != nil {
				l.g.Net.SetInject(p.absBack, 0)
			}
		}
	case len(shares) > 0:
		l.given(shares)
	default:
		l.follow(h.span.Position)
	}
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

// follow lets all light that enters fall, and settles what is thrown back.
func (l *light) follow(p sun.Position) {
	g := l.g
	clear(l.first)
	clear(l.patches)
	from := g.profile(p)
	for i := range l.enters {
		l.fall(&l.enters[i], from)
	}
	l.taken.Of(l.first, l.watts)
	l.onBeds.Of(l.first, l.arrive)
	for i, s := range g.inside {
		q := l.watts[i]
		if s.glassBack > 0 {
			q = 0
		}
		g.Net.SetInject(s.sun, q)
	}
	for i := range l.enters {
		o := &l.enters[i]
		q := l.watts[o.surface]
		leaves := o.leaves
		switch {
		case o.off.is():
			leaves = 1
		case o.pane == nil: // a wall whose panels are on keeps its light
			continue
		}
		l.LostW += q * leaves
		if o.pane != nil {
			g.Net.SetInject(o.pane.absBack, q*(1-leaves))
		}
	}
	l.tellBeds()
}

// fall adds what comes in by one pane to what falls first.
func (l *light) fall(o *opening, from enclosure.Sun) {
	p := o.sun
	if p.beam > 0 {
		for i := range o.parts {
			part := &o.parts[i]
			if part.edge >= 0 {
				l.beams.Add(part.edge, from, p.beam*part.share, l.first, l.patches)
			} else {
				l.beams.AddWindow((o.face.End+1)/2, part.band, from, p.beam*part.share, l.first, l.patches)
			}
		}
	}
	if p.sky+p.ground+p.scattered > 0 {
		for j := range l.first {
			l.first[j] += p.sky*o.sky[j] + p.ground*o.ground[j] + p.scattered*o.scattered[j]
		}
	}
}

// tellBeds finds the light on each strip of a bed, by stretch along the house: diffuse light evenly, beams where they fall.
func (l *light) tellBeds() {
	g := l.g
	all, area := 0.0, 0.0
	for k, i := range l.told {
		a := g.room.factors.Area[i]
		all += l.arrive[k]
		area += a
		if len(g.room.strips) == 0 {
			continue
		}
		patch := l.patches[k*enclosure.Stretches : (k+1)*enclosure.Stretches]
		even := l.arrive[k] - sum(patch)
		for j, q := range patch {
			l.strips[k*enclosure.Stretches+j] = (even + q*enclosure.Stretches) / a
		}
	}
	if area > 0 {
		l.bedWM2 = all / area
	}
}

// stripWM2 is the light on a strip, mean along the house [W/m²].
func (l *light) stripWM2(strip int) float64 {
	return sum(l.strips[strip*enclosure.Stretches:(strip+1)*enclosure.Stretches]) / enclosure.Stretches
}

func (l *light) step(thermal.Moment) {}

// profile is the sun as the section sees it: from the front (the glazing's side) up to the back, and how far its beam goes to the right for each metre
// across.
func (g *Greenhouse) profile(p sun.Position) enclosure.Sun {
	turn := float64(p.Azimuth) - g.House.Facing
	front, up := p.Elevation.Cos()*math.Cos(turn), math.Max(p.Elevation.Sin(), 0.02)
	return enclosure.Sun{Profile: enclosure.Angle(math.Atan2(up, front)), Along: -p.Elevation.Cos() * math.Sin(turn) / math.Hypot(front, up)}
}
