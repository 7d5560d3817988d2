package greenhouse

import (
	"math"

	"suncellar/internal/house"
	"suncellar/internal/material"
)

// snowOnGlass is the snow that lies on a pane or an opaque roof: it gathers while it snows below the slide angle, slides once
// the face under it is warm, and is brushed off where the plan says so.
type snowOnGlass struct {
	g      *Greenhouse
	tilt   float64 // [rad]
	opaque bool
	depth  float64 // as fresh or settled snow [m]
	age    float64 // since the last fall [h]
	log    *[]logged
	hours  int // replayed so far
}

// slideAngle is the slope above which fresh snow does not stay on a smooth face [rad]: 60°, from the snow rules for slippery
// roofs (NBC Canada: no load above 60° on a slippery roof). Below, it sticks until it is warm underneath: cold side.
const slideAngle = 60 * math.Pi / 180

// HoldsSnow tells whether any glazing of a house is flat enough for snow to lie on.
func HoldsSnow(h *house.House) bool {
	for i := range h.Faces {
		if f := &h.Faces[i]; f.Glass != nil && f.Tilt < slideAngle {
			return true
		}
	}
	return false
}

// lyingDepth is the layer of the "snow lies" case: settled snow, 10 cm. Own judgement: enough to take nearly all light.
const lyingDepth = 0.10

func (s *snowOnGlass) hour(h *hour, faceC float64) {
	if s.g.Setup.Snow == SnowLogged && s.replay() {
		return
	}
	s.change(h, faceC)
	if s.log != nil && s.g.Setup.Snow != SnowLogged {
		*s.log = append(*s.log, logged{s.depth, s.age})
	}
}

// change carries the snow through an hour by its rules.
func (s *snowOnGlass) change(h *hour, faceC float64) {
	switch s.g.Setup.Snow {
	case SnowNever:
		s.depth = 0
		return
	case SnowLies:
		s.depth, s.age = 0, 48
		if begin, end := s.g.Setup.Lying[0], s.g.Setup.Lying[1]; s.tilt < slideAngle && !h.start.Before(begin) && h.start.Before(end) {
			s.depth = lyingDepth
		}
		return
	}
	s.age++
	if h.freshSnow > 0 && s.tilt < slideAngle {
		s.depth += h.freshSnow * math.Cos(s.tilt)
		s.age = 0
	}
	if s.depth == 0 {
		return
	}
	// settling by a tenth a day towards 200 kg/m³; own judgement after the densities of trade tables
	s.depth *= 1 - 0.1/24*math.Max(0, 1-s.age/96)
	slides := faceC > 0.5 && !s.opaque && s.tilt > 15*math.Pi/180
	melts := h.w.AirC > 0
	switch {
	case slides:
		s.depth = 0
	case melts: // degree-day melt, 4 mm water a day and kelvin
		s.depth -= 0.004 / 24 * h.w.AirC * 1000 / s.density()
	}
	if s.g.House.Plan.Snow != nil && s.g.House.Plan.Snow.Brushed == "morning after" && !s.opaque && h.start.Hour() == 9 {
		s.depth = 0
	}
	if s.depth < 0.001 {
		s.depth = 0
	}
}

// density of the lying snow [kg/m³]: fresh 100, towards 200 in four days.
func (s *snowOnGlass) density() float64 { return 100 + 100*math.Min(1, s.age/96) }

// resistance of the lying snow [m²K/W].
func (s *snowOnGlass) resistance() float64 {
	if s.depth == 0 {
		return 0
	}
	return s.depth / material.SnowConductivity(s.density())
}
