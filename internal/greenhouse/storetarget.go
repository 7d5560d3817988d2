package greenhouse

import (
	"math"

	"suncellar/internal/house"
	"suncellar/internal/thermal"
)

// target is a face that water from the store runs over: it gives the face the heat between its temperature and the face's, as far as they
// come together, and leaves with the rest. It never gives more than down to 0 °C: that it may freeze on a colder face, and what heat that
// would bring, is left out, which is the cold side.
type target struct {
	lean     leaning
	node     thermal.Node
	film     float64 // heat that passes for each kelvin at most [W/K]; +Inf: all, of water that soaks in
	w        float64 // heat capacity flow of the hour [W/K]
	waterC   float64 // of the water [°C]
	kg, heat float64
}

// A sheet of water on a floor: conduction through a sheet 3 mm thick, 0.58 W/mK, over a quarter of the floor's face. Own judgement.
const (
	sheetFilm  = 0.58 / 0.003 // [W/m²K]
	sheetShare = 0.25
)

// targetOf finds the face that an event's water meets, nil where it takes its heat out of the house: outside, or into the soil under the
// footing, where what it gives to the soil is left out, which is the cold side.
func (s *store) targetOf(e *house.WaterEvent, b *bay) *target {
	switch e.Kind {
	case "draw":
		return s.bedTarget(e.Bed)
	case "refill":
		return nil
	}
	return s.targetTo(e.Kind, e.To, b)
}

// bedTarget is the top of a bed, for drawn water.
func (s *store) bedTarget(name string) *target {
	for i, bed := range s.g.House.Beds {
		if bed.Name == name && s.g.ground != nil {
			return s.targetAt(s.g.ground.bedNode(i), "drawn water on beds", math.Inf(1))
		}
	}
	return nil
}

// targetTo is where water of a kind goes that leaves a bay: floor or cold sink; nil for all else.
func (s *store) targetTo(kind, to string, b *bay) *target {
	switch {
	case to == "floor" && b.floor >= 0:
		return s.targetAt(b.floor, kind+" water on the floor", sheetFilm*sheetShare*s.areaOf(b.floor))
	case to == "cold sink":
		if f := s.sinkFloor(); f != nil {
			return s.targetAt(f.node, kind+" water in the cold sink", sheetFilm*f.area)
		}
	}
	return nil
}

// targetAt is the target of a flow at a face, made where it is wanted first.
func (s *store) targetAt(node thermal.Node, flow string, film float64) *target {
	for _, t := range s.targets {
		if t.node == node && t.film == film && t.lean.named(s.g.Net) == flow {
			return t
		}
	}
	t := &target{lean: addLeaning(s.g.Net, flow, node, s.g.outside.zero), node: node, film: film}
	s.targets = append(s.targets, t)
	return t
}

func (s *store) areaOf(node thermal.Node) float64 {
	for _, f := range s.g.inside {
		if f.node == node {
			return f.area
		}
	}
	return 0
}

// sinkFloor is the lowest level face of the room.
func (s *store) sinkFloor() *surface {
	var low *surface
	for _, f := range s.g.inside {
		if f.tilt < 0.1 && f.film == plane && f.glassBack == 0 && (low == nil || f.z0 < low.z0) {
			low = f
		}
	}
	return low
}

func (t *target) clear() { t.w, t.kg, t.heat = 0, 0, 0 }

// comes adds water of the hour [kg] and its heat above 0 °C [J].
func (t *target) comes(kg, heat float64) {
	t.kg += kg
	t.heat += heat
	w := waterHeat * t.kg / thermal.HourS
	t.waterC = t.heat / (waterHeat * t.kg)
	t.w = w * (1 - math.Exp(-t.film/w))
}

// step sets the heat that the face gets: w (T_water - max(T_face, 0)).
func (t *target) step(n *thermal.Network, m thermal.Moment) {
	face := m.T(t.node)
	slope := t.w
	if face < 0 {
		slope = 0
	}
	t.lean.set(n, t.w*(t.waterC-max(face, 0)), slope, face)
}
