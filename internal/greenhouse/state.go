package greenhouse

import (
	"strings"

	"suncellar/internal/thermal"
)

// State is the temperatures of all nodes and bodies by name, to be carried from one network of a house to another of it.
type State struct {
	nodes  map[string]float64
	bodies map[string][]float64
	air    airState
	glass  []lying
	roofs  []lying // opaque ones
	piles  [2]float64
	water  map[string][waterLayers]float64 // of each bay's layers, over what they began with
	events []eventState
	rain   rainState
}

// State takes down the present state.
func (g *Greenhouse) State() State {
	s := State{nodes: map[string]float64{}, bodies: map[string][]float64{}, air: g.airState()}
	g.Net.EachNode(func(id thermal.Node, name string) { s.nodes[name] = g.Net.T(id) })
	g.Net.EachBlock(func(b thermal.Block) { s.bodies[b.Name()] = b.State() })
	s.water, s.events = g.store.water(), g.store.state()
	if r := g.store.rain; r != nil {
		s.rain = r.state()
	}
	s.piles = g.piles.water
	for _, p := range g.panes {
		s.glass = append(s.glass, p.snow.lying)
	}
	for _, r := range g.roofSnow() {
		s.roofs = append(s.roofs, r.lying)
	}
	return s
}

// roofSnow is the snow on opaque faces, in the order of the parts.
func (g *Greenhouse) roofSnow() []*snowLayer {
	var list []*snowLayer
	for _, w := range g.walls {
		if w.snow != nil {
			list = append(list, w.snow)
		}
	}
	return list
}

// Load puts the network into a state. A bay gets as much of the water that it began with as it had in the state. Water at storeC, when given, is put
// at that temperature throughout.
func (g *Greenhouse) Load(s State, storeC *float64) {
	g.store.load(s)
	if r := g.store.rain; r != nil {
		r.load(s.rain)
	}
	g.Net.EachNode(func(id thermal.Node, name string) {
		if t, ok := s.nodes[name]; ok {
			g.Net.SetTemperature(id, t)
		}
	})
	g.Net.EachBlock(func(b thermal.Block) {
		if t, ok := s.bodies[b.Name()]; ok && len(t) == b.Len() {
			b.SetState(t)
		}
	})
	g.loadAir(s.air)
	g.piles.water = s.piles
	for i := range s.glass {
		if i < len(g.panes) {
			g.panes[i].snow.lying = s.glass[i]
		}
	}
	for i, r := range g.roofSnow() {
		if i < len(s.roofs) {
			r.lying = s.roofs[i]
		}
	}
	if storeC != nil {
		for _, b := range g.store.bays {
			for k := range b.layers {
				g.Net.SetTemperature(b.layers[k].node, *storeC)
			}
		}
	}
}

// storedByPart is the heat held now by the parts that people ask for [J], counted from thawed at 0 °C.
func (g *Greenhouse) storedByPart() map[string]float64 {
	sum := map[string]float64{"water": 0, "ground and beds": 0, "walls": 0, "air and glazing": 0}
	g.Net.EachNode(func(id thermal.Node, name string) {
		part := "air and glazing"
		if strings.HasPrefix(name, "ground,") { // pieces of the reduced slice
			part = "ground and beds"
		}
		sum[part] += g.Net.Heat(id)
	})
	for _, b := range g.store.bays {
		for k := range b.layers {
			q := g.Net.Heat(b.layers[k].node)
			sum["water"] += q
			sum["air and glazing"] -= q
		}
	}
	g.Net.EachBlock(func(b thermal.Block) {
		if strings.HasPrefix(b.Name(), "ground") {
			sum["ground and beds"] += b.Stored()
		} else {
			sum["walls"] += b.Stored()
		}
	})
	return sum
}
