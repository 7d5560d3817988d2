package report

import (
	"math"
	"slices"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
)

// The network keeps its books by part and verb ("glazing to sky", "back roof to sky"). People ask for causes. This file gathers flows
// to causes: those of the house, whose edge is its outer faces and the faces that touch the earth, and apart from them those of the
// earth round it, whose sun and sky are many times larger and say nothing of the house.

// cause is heat by what moved it, into the house (or the earth) and out of it, netted by hour [J].
type cause struct {
	name     string
	kind     drawing.Kind
	in, out  float64
	earth    bool // of the earth round the house
	unsigned []float64
}

// Names of the causes.
const (
	causeSun      = "sun into the room"
	causeGlazing  = "glazing"
	causeWalls    = "walls, roof and doors"
	causeLeakage  = "leakage"
	causeVents    = "vents and fans"
	causeEarth    = "earth under and beside"
	causeMoisture = "evaporation and dew"
	causeTubes    = "buried tubes"
	causeThings   = "things inside"
	causeWater    = "water that comes and goes"
	causeOther    = "other"

	earthSun   = "sun on the ground"
	earthAir   = "outdoor air"
	earthSky   = "sky"
	earthWater = "evaporation of the ground"
	earthMelt  = "melting snow on the ground"
	earthDeep  = "deep ground"
	earthHouse = "the house"
)

// groundFlow is the flow from the room's faces into the earth, which lies within the books of the whole.
const groundFlow = "into the ground"

// tubesFlow ends the name of the flow from the walls of buried tubes into their soil.
const tubesFlow = ", to their soil"

// order is the order in which causes are told, and how they are drawn.
var order = []cause{
	{name: causeSun, kind: drawing.Light}, {name: causeGlazing, kind: drawing.Glazing}, {name: causeWalls, kind: drawing.Other},
	{name: causeLeakage, kind: drawing.Joints}, {name: causeVents, kind: drawing.Joints}, {name: causeEarth, kind: drawing.Soil},
	{name: causeTubes, kind: drawing.Soil}, {name: causeMoisture, kind: drawing.Store}, {name: causeThings, kind: drawing.Other},
	{name: causeWater, kind: drawing.Store}, {name: causeOther, kind: drawing.Other},
	{name: earthSun, kind: drawing.Light, earth: true}, {name: earthAir, kind: drawing.Outside, earth: true}, {name: earthSky, kind: drawing.Outside, earth: true},
	{name: earthWater, kind: drawing.Store, earth: true}, {name: earthMelt, kind: drawing.Store, earth: true},
	{name: earthDeep, kind: drawing.Soil, earth: true}, {name: earthHouse, kind: drawing.Other, earth: true},
}

// causeOf names the cause of a flow across the boundary.
func causeOf(h *house.House, flow string) (name string, earth bool) {
	switch flow {
	case "sun into the room":
		return causeSun, false
	case "sun on outer faces":
		return causeWalls, false
	case "leakage", "doors":
		return causeLeakage, false
	case "vents", "air through open faces":
		return causeVents, false
	case "things inside":
		return causeThings, false
	case "evaporation from beds", "dew and frost":
		return causeMoisture, false
	case "leaked water", "drained water", "water filled in", "water drawn for beds", "drawn water on beds",
		"leak water on the floor", "leak water in the cold sink", "drain water on the floor", "drain water in the cold sink":
		return causeWater, false
	case "sun on the ground":
		return earthSun, true
	case "ground to outdoor air":
		return earthAir, true
	case "ground to sky":
		return earthSky, true
	case "evaporation of the ground":
		return earthWater, true
	case "melting of snow on the ground":
		return earthMelt, true
	case "from the deep ground":
		return earthDeep, true
	}
	switch {
	case strings.HasPrefix(flow, "fan of tubes "):
		return causeThings, false
	case strings.HasPrefix(flow, "tubes ") && strings.HasSuffix(flow, ", condensation"):
		return causeMoisture, false
	case strings.HasPrefix(flow, "tubes "):
		return causeTubes, false
	}
	if strings.HasPrefix(flow, "fan ") {
		return causeVents, false
	}
	if strings.HasPrefix(flow, "sun taken up by ") || strings.Contains(flow, " through the film to ") {
		return causeGlazing, false
	}
	for _, end := range []string{" to outdoor air", " to sky", " to terrain"} {
		if face, ok := strings.CutSuffix(flow, end); ok {
			return causeOfFace(h, face), false
		}
	}
	for _, begin := range []string{"through ", "out of ", "melting snow on ", "melting snow under "} {
		if face, ok := strings.CutPrefix(flow, begin); ok {
			return causeOfFace(h, face), false
		}
	}
	return causeOther, false
}

func causeOfFace(h *house.House, name string) string {
	f := h.Face(name)
	switch {
	case f == nil:
		return causeOther
	case f.Glass != nil:
		return causeGlazing
	}
	return causeWalls
}

// causes gathers the flows of the hours from..to-1, those that moved nothing left out.
func causes(r *greenhouse.Result, from, to int) []cause {
	list := slices.Clone(order)
	at := map[string]int{}
	for i := range list {
		at[list[i].name] = i
		list[i].unsigned = make([]float64, to-from)
	}
	add := func(name string, j []float32, sign float64) {
		sum := list[at[name]].unsigned
		for i := range sum {
			sum[i] += sign * float64(j[from+i])
		}
	}
	for i := range r.Flows {
		f := &r.Flows[i]
		switch {
		case f.Crosses:
			name, _ := causeOf(r.House, f.Name)
			add(name, f.J, 1)
		case f.Name == groundFlow:
			add(causeEarth, f.J, -1)
			add(earthHouse, f.J, 1)
		case strings.HasPrefix(f.Name, "tubes ") && strings.HasSuffix(f.Name, tubesFlow):
			add(causeTubes, f.J, -1)
			add(earthHouse, f.J, 1)
		}
	}
	for i := range list {
		c := &list[i]
		for _, j := range c.unsigned {
			c.in += math.Max(0, j)
			c.out += math.Max(0, -j)
		}
		c.unsigned = nil
	}
	return slices.DeleteFunc(list, func(c cause) bool { return c.in+c.out < 1 })
}

// sides parts the causes of the house from those of the earth.
func sides(list []cause) (own, earth []cause) {
	for _, c := range list {
		if c.earth {
			earth = append(earth, c)
		} else {
			own = append(own, c)
		}
	}
	return own, earth
}

func sum(list []cause) (in, out float64) {
	for _, c := range list {
		in += c.in
		out += c.out
	}
	return in, out
}

// heldParts are the parts that hold heat, in the order in which they are told; the last belongs to the earth.
var heldParts = []string{"water", "walls", "air and glazing", "ground and beds"}

// earthPart is the part of Account.StoredJ that is not of the house.
const earthPart = "ground and beds"
