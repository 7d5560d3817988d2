package greenhouse

import (
	"math"

	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
)

// light is where the sun that enters goes: a beam meets first what is lit, by the faces' projected areas; diffuse light and all that
// is thrown back go by area, part of it out again through the glazing. Plan.SunShares, when given, takes the place of all this.
type light struct {
	g     *Greenhouse
	first []float64 // what each inside face meets first [W]
	reach []float64 // its area towards the sun [m²]
	// of the hour
	EnteredW, LostW float64
	bedWM2          float64 // on the level at the beds [W/m²]
}

func (g *Greenhouse) addSun() {
	for _, s := range g.inside {
		s.sun = g.Net.Inject("sun into the room", s.node)
	}
	g.light = &light{g: g, first: make([]float64, len(g.inside)), reach: make([]float64, len(g.inside))}
	g.hideBehindDrums()
	g.parts = append(g.parts, g.light)
}

// hideBehindDrums takes from the wall behind a row what the drums shade.
func (g *Greenhouse) hideBehindDrums() {
	for _, b := range g.store.bays {
		for _, d := range b.bands {
			z := (d.shell.z0 + d.shell.z1) / 2
			for _, s := range g.inside {
				if s.film == plane && s.normal[0] > 0.7 && s.z0 < z && s.z1 > z {
					s.shaded += d.shell.facing
				}
			}
		}
	}
}

func (l *light) hour(h *hour) {
	across, along, diffuse := 0.0, 0.0, 0.0 // beam through the section's glazing, through windows of the end walls
	for _, p := range l.g.panes {
		if p.face.End == 0 {
			across += p.beam
		} else {
			along += p.beam
		}
		diffuse += p.sky + p.ground + p.scattered
	}
	for _, w := range l.g.walls { // taken off
		if w.face.End == 0 {
			across += w.beam
		} else {
			along += w.beam
		}
		diffuse += w.sky + w.ground + w.scattered
	}
	l.EnteredW, l.LostW, l.bedWM2 = across+along+diffuse, 0, 0
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
	l.meet(across, along, diffuse, h.span.Position)
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

// meet shares out the beam that comes across and along the house, and the diffuse light [W].
func (l *light) meet(across, along, diffuse float64, p sun.Position) {
	g := l.g
	to := g.towards(p)
	clear(l.first)
	l.strike(across, to, true)
	l.strike(along, to, false)
	sumArea, sumBack := 0.0, 0.0
	for _, s := range g.inside {
		if s.glassBack > 0 {
			sumBack += s.glassBack * s.seen
			continue
		}
		sumArea += s.seen
		sumBack += s.absorptance * s.seen
	}
	thrown := 0.0
	for i, s := range g.inside {
		if s.glassBack > 0 {
			continue
		}
		l.first[i] += diffuse * s.seen / sumArea
		thrown += (1 - s.absorptance) * l.first[i]
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

// towards is the direction to the sun in the house's own axes: to the front, up, to the right.
func (g *Greenhouse) towards(p sun.Position) [3]float64 {
	turn := float64(p.Azimuth) - g.House.Facing
	cos := p.Elevation.Cos()
	return [3]float64{cos * math.Cos(turn), math.Max(p.Elevation.Sin(), 0.02), cos * math.Sin(turn)}
}

// strike adds a beam [W] to what the opaque faces meet first, by their area towards the sun; of a beam that comes across the house
// only what is lit in the section counts.
func (l *light) strike(beam float64, to [3]float64, across bool) {
	if beam == 0 {
		return
	}
	sum, all := 0.0, 0.0
	for i, s := range l.g.inside {
		l.reach[i] = 0
		if s.glassBack > 0 {
			continue
		}
		all += s.seen
		a := s.seen
		if s.facing > 0 {
			a = s.facing
		}
		a = math.Max(0, a-s.shaded)
		if c := s.normal[0]*to[0] + s.normal[1]*to[1] + s.normal[2]*to[2]; c > 0 {
			if across {
				c *= l.g.lit(s, to)
			}
			l.reach[i] = a * c
			sum += a * c
		}
	}
	for i, s := range l.g.inside {
		switch {
		case s.glassBack > 0:
		case sum > 0:
			l.first[i] += beam * l.reach[i] / sum
		default: // nothing is lit: a low sun on glazing that faces away
			l.first[i] += beam * s.seen / all
		}
	}
}

// litPoints is at how many places of a face the sun is looked for.
const litPoints = 12

// lit is the share of a face's line from which the sun is seen through glazing, in the section at the sun's profile angle. End walls
// count as lit. Drums and beds cast no shade here; what drums hide of the wall behind them is taken from it elsewhere.
func (g *Greenhouse) lit(s *surface, to [3]float64) float64 {
	if s.line == nil {
		return 1
	}
	sum := 0.0
	a, b := s.line[0], s.line[1]
	for k := range litPoints {
		t := (float64(k) + 0.5) / litPoints
		// a hair off the face, into the room
		p := house.Point{X: a.X + t*(b.X-a.X) - 1e-4*s.normal[0], Z: a.Z + t*(b.Z-a.Z) + 1e-4*s.normal[1]}
		sum += g.clearTowards(p, -to[0], to[1])
	}
	return sum / litPoints
}

// clearTowards is the share of glazing in what a ray from p in direction (dx, dz) meets first.
func (g *Greenhouse) clearTowards(p house.Point, dx, dz float64) float64 {
	nearest, clear := math.Inf(1), 0.0
	for i := range g.House.Faces {
		f := &g.House.Faces[i]
		if f.End != 0 {
			continue
		}
		ex, ez := f.B.X-f.A.X, f.B.Z-f.A.Z
		det := ex*dz - ez*dx
		if math.Abs(det) < 1e-12 {
			continue
		}
		rx, rz := f.A.X-p.X, f.A.Z-p.Z
		t, u := (ex*rz-ez*rx)/det, (dx*rz-dz*rx)/det
		if t <= 1e-9 || u < -1e-9 || u > 1+1e-9 || t > nearest+1e-9 {
			continue
		}
		if t < nearest-1e-9 {
			clear = 0
		}
		nearest = math.Min(nearest, t)
		if g.passes(f) { // windows share a line with their wall
			clear += g.share(f)
		}
	}
	return clear
}
