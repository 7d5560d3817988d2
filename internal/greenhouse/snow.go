package greenhouse

import (
	"math"

	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// Snow on glazing and roof, and what lies at the foot of it. This file promises that snow that melts takes its heat from the face it lies on
// and from what falls on it, booked as a flow of its own; that what slides or is brushed off lies at the foot, as heavy as it was, until the
// weather melts it there; and that in the case of bare glazing there is none.

// lying is the snow of one face that a run changes.
type lying struct {
	water   float64 // as water [kg/m²]
	density float64 // [kg/m³]
	wet     float64 // melted at its base since the last fall [kg/m²]
}

// snowLayer is the snow that lies on a pane or an opaque roof and the pile that covers its foot.
type snowLayer struct {
	lying
	g          *Greenhouse
	face       *house.Face
	holds      bool // flat enough, and there is snow in this run
	opaque     bool
	under, top thermal.Node // the face under it, the face of the snow
	base, crop meltJoin     // where it melts: at its base, at its top
	side       int          // whose foot it slides to, index in piles; -1 none
	buried     float64      // share of the face that a pile covers
	pileR      float64      // resistance of the pile there [m²K/W]
	log        *[]logged    // nil: it is neither kept nor replayed
	hours      int          // replayed so far
}

// meltJoin takes heat to 0 °C under a name of its own, so that what it melted can be read.
type meltJoin struct {
	join thermal.JoinID
	flow int
}

// slideAngle is the slope above which fresh snow does not stay on a smooth face [rad]: 60°, from the snow rules for slippery
// roofs (NBC Canada: no load above 60° on a slippery roof). Below, it sticks until it is wet underneath: cold side.
const slideAngle = 60 * math.Pi / 180

// Figures of lying snow.
const (
	slideWet     = 0.1                // melt at its base that lets it slide [kg/m²]; own judgement: a film of a tenth of a millimetre
	slideLeast   = 15 * math.Pi / 180 // slope below which it does not slide; own judgement
	meltFilm     = 200.0              // how firmly melting holds a face at 0 °C [W/m²K]; a choice of the program
	meltRamp     = 0.5                // within which it begins [K]
	leastSnow    = 0.05               // less is none [kg/m²]
	oldSnow      = 300.0              // density of old snow [kg/m³]
	agePerHour   = 0.01               // rate at which it settles [1/h]; Verseghy 1991, as the ground's snow
	lyingDepth   = 0.10               // of the case that snow lies [m]; own judgement: enough to take nearly all light
	lyingDensity = 150.0              // of the same [kg/m³]
	heatOfIce    = 333.6e3            // [J/kg]
)

// HoldsSnow tells whether any glazing of a house is flat enough for snow to lie on.
func HoldsSnow(h *house.House) bool {
	for i := range h.Faces {
		if f := &h.Faces[i]; f.Glass != nil && f.Tilt < slideAngle {
			return true
		}
	}
	return false
}

// addSnow prepares the snow of a face between the node under it and that of its top.
func (g *Greenhouse) addSnow(f *house.Face, under, top thermal.Node) snowLayer {
	s := snowLayer{g: g, face: f, under: under, top: top, opaque: f.Glass == nil, side: g.sideOf(f)}
	s.holds = f.Tilt < slideAngle && g.Setup.Snow != SnowNever
	if s.holds {
		s.base, s.crop = g.addMelt("melting snow under "+f.Name, under), g.addMelt("melting snow on "+f.Name, top)
	}
	return s
}

func (g *Greenhouse) addMelt(flow string, node thermal.Node) meltJoin {
	j := g.Net.Join(flow, node, g.outside.zero, 0)
	return meltJoin{j, g.Net.FlowIndex(flow)}
}

// melted is the snow of the last hour [kg].
func (j meltJoin) melted(g *Greenhouse) float64 {
	return math.Max(0, -g.Net.Flows()[j.flow].HourJ/heatOfIce)
}

// hour carries the snow through an hour, as a log has it or by its rules.
func (s *snowLayer) hour(h *hour, open bool) {
	if s.g.Setup.Snow == SnowLogged && s.replay() {
		return
	}
	s.buried, s.pileR = s.g.piles.over(s.face, s.side)
	s.change(h, open)
	if s.log != nil && s.g.Setup.Snow != SnowLogged {
		*s.log = append(*s.log, logged{s.lying, s.buried, s.pileR})
	}
}

// change lets snow fall, settle, melt by the heat of the last hour, slide and be brushed. Off a face that is open it is gone.
func (s *snowLayer) change(h *hour, open bool) {
	if !s.holds {
		return
	}
	if s.g.Setup.Snow == SnowLies {
		s.lying = lying{}
		if begin, end := s.g.Setup.Lying[0], s.g.Setup.Lying[1]; !h.start.Before(begin) && h.start.Before(end) {
			s.lying = lying{water: lyingDepth * lyingDensity, density: lyingDensity}
		}
		return
	}
	if open {
		s.lying = lying{}
		return
	}
	if s.water > 0 {
		base := s.base.melted(s.g) / s.face.Area
		s.wet += base
		s.water -= base + s.crop.melted(s.g)/s.face.Area
		s.density = oldSnow - (oldSnow-s.density)*(1-agePerHour)
	}
	if h.freshSnow > 0 {
		s.fall(h.freshSnow*math.Cos(s.face.Tilt), weather.FreshDensity(h.w.AirC))
	}
	if s.water <= 0 {
		s.lying = lying{}
		return
	}
	slides := !s.opaque && s.face.Tilt > slideLeast && s.wet > slideWet
	snow := s.g.House.Plan.Snow
	brushed := snow != nil && snow.Brushed == "morning after" && !s.opaque && h.start.Hour() == 9
	if slides || brushed {
		s.g.piles.add(s.side, s.water*s.face.Area/s.g.House.Length)
		s.lying = lying{}
	}
	if s.water < leastSnow {
		s.lying = lying{}
	}
}

// fall lays fresh snow of a depth across the face [m] and a density on what lies.
func (s *snowLayer) fall(depth, density float64) {
	all := s.depth() + depth
	s.water += depth * density
	s.density = s.water / all
	s.wet = 0
}

func (l *lying) depth() float64 {
	if l.water <= 0 {
		return 0
	}
	return l.water / l.density
}

// resistance of the lying snow [m²K/W].
func (l *lying) resistance() float64 {
	if l.water <= 0 {
		return 0
	}
	return l.depth() / material.SnowConductivity(l.density)
}

// light is what passes the lying snow and what it throws back.
func (l *lying) light() (through, back float64) {
	return material.SnowLight(l.depth(), l.density)
}

// step sets the melting and gives what passes from the face under the snow to its top [W/K]. Where covered is told, something lies between
// the two, and nothing melts at the base.
func (s *snowLayer) step(m thermal.Moment, covered bool) float64 {
	area := s.face.Area
	if s.holds {
		// both together melt at most what lies
		most := s.water * heatOfIce / 3600 / 2
		if s.byRule() {
			most = 0
		}
		base := meltConductance(m.T(s.under), most)
		if covered {
			base = 0
		}
		s.g.Net.SetJoin(s.base.join, base*area*(1-s.buried))
		s.g.Net.SetJoin(s.crop.join, meltConductance(m.T(s.top), most)*area)
	}
	free := (1 - s.buried) / (1/none + s.resistance())
	if s.buried == 0 {
		return free * area
	}
	return area * (free + s.buried/(1/none+s.pileR))
}

// meltConductance is what a face at t [°C] gives to melting snow for each kelvin above 0 °C [W/m²K], at most so much in all [W/m²].
func meltConductance(t, most float64) float64 {
	if t <= 0 || most <= 0 {
		return 0
	}
	return math.Min(meltFilm*math.Min(1, t/meltRamp), most/t)
}

// piles is the snow at the foot of the front and of the back side.
type piles struct {
	g      *Greenhouse
	water  [2]float64 // [kg for each metre of the house]
	ground float64    // snow lying on level ground [m]
}

// Figures of piles.
const (
	pileDensity = 350.0              // of slid snow [kg/m³]; own judgement: as wind-packed snow
	pileAngle   = 40 * math.Pi / 180 // its angle of repose; common practice, no source
)

func (g *Greenhouse) addPiles() {
	g.piles = &piles{g: g}
	g.parts = append(g.parts, g.piles)
}

// sideOf is the side to which snow of a face slides: 0 front, 1 back, -1 neither.
func (g *Greenhouse) sideOf(f *house.Face) int {
	switch {
	case f.End != 0 || math.Sin(f.Tilt) < 1e-6:
		return -1
	case math.Cos(f.Azimuth-g.House.Facing) > 0:
		return 0
	}
	return 1
}

func (p *piles) add(side int, waterKgM float64) {
	if snow := p.g.House.Plan.Snow; side >= 0 && (snow == nil || snow.Foot != "cleared") {
		p.water[side] += waterKgM
	}
}

// hour melts the piles by degree-days, as the ground's snow, on their sloping side; that heat comes from the weather.
func (p *piles) hour(h *hour) {
	p.ground = 0
	if p.g.Setup.Snow == SnowFalls {
		p.ground = h.groundSnow
	}
	for i := range p.water {
		if p.water[i] > 0 && h.w.AirC > 0 {
			side := p.height(i) / math.Sin(pileAngle)
			p.water[i] = math.Max(0, p.water[i]-weather.MeltFactor(pileDensity)/24*h.w.AirC*side)
		}
	}
}

func (p *piles) step(thermal.Moment) {}

// height of a pile over what lies at its foot [m]: a heap against the wall, h²/(2 tan a) in section.
func (p *piles) height(side int) float64 {
	return math.Sqrt(2 * p.water[side] / pileDensity * math.Tan(pileAngle))
}

// over is the share of a face that the snow at its foot covers, and the resistance there: of half the heap's width. Only snow of falls counts, and
// level snow alone only beside a pile: wind keeps it off a wall as often as it drives it there.
func (p *piles) over(f *house.Face, side int) (share, resistance float64) {
	if side < 0 || p.water[side] <= 0 || f.Behind != house.Air {
		return 0, 0
	}
	top := p.height(side) + p.ground
	share = clamp((top-f.Z0)/math.Max(0.01, f.Z1-f.Z0), 0, 1)
	return share, top / (2 * math.Tan(pileAngle)) / material.SnowConductivity(pileDensity)
}
