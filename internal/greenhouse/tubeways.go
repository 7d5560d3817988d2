package greenhouse

import "suncellar/internal/thermal"

// way is the carries of one direction. A part of the air comes to the temperature of each wall, the rest goes by; what has been at one wall
// goes on to the next ones and to the end in the same shares. That is exact for walls of one temperature each, and needs no nodes of
// air between them.
type way struct {
	past    thermal.CarryID   // by all walls
	in, out []thermal.CarryID // to and from each wall
	between [][]thermal.CarryID
	rest    []thermal.CarryID // through the house, for what comes from outdoors or goes there
}

func (t *tubes) addWay(from, to tubeEnd, walls []thermal.Node) way {
	n := t.g.Net
	name := func(crosses bool) string {
		if crosses {
			return t.flow("")
		}
		return t.flow("inside")
	}
	w := way{past: n.Carry(name(!t.loop()), from.node, to.node), rest: t.addRest(from, to)}
	for i, wall := range walls {
		w.in = append(w.in, n.Carry(name(from.layer < 0), from.node, wall))
		w.out = append(w.out, n.Carry(name(to.layer < 0), wall, to.node))
		var further []thermal.CarryID
		for _, next := range walls[i+1:] {
			further = append(further, n.Carry(t.flow("inside"), wall, next))
		}
		w.between = append(w.between, further)
	}
	return w
}

// addRest is the way of the air through the house: of a loop back from one end to the other, through the layers between; what comes in from
// outdoors rises through the layers above and leaves high; what goes out is made up from outdoors low.
func (t *tubes) addRest(from, to tubeEnd) []thermal.CarryID {
	g := t.g
	var nodes []thermal.Node
	switch {
	case t.loop():
		for i := to.layer; i != from.layer; i += sign(from.layer - to.layer) {
			nodes = append(nodes, g.layers[i].node)
		}
		nodes = append(nodes, from.node)
	case from.layer < 0:
		for _, l := range g.layers[to.layer:] {
			nodes = append(nodes, l.node)
		}
		nodes = append(nodes, g.outside.air)
	default:
		nodes = append(nodes, g.outside.air)
		for i, l := range g.layers[:from.layer+1] {
			if l.name != "cold sink air" || i == from.layer {
				nodes = append(nodes, l.node)
			}
		}
	}
	var list []thermal.CarryID
	for i := 1; i < len(nodes); i++ {
		name := t.flow("inside")
		if nodes[i-1] == g.outside.air || nodes[i] == g.outside.air {
			name = t.flow("")
		}
		list = append(list, g.Net.Carry(name, nodes[i-1], nodes[i]))
	}
	return list
}

func sign(i int) int {
	if i < 0 {
		return -1
	}
	return 1
}

// set sets the carries of a way: c is the heat capacity flow [W/K], b the share that passes one part by.
func (w *way) set(n *thermal.Network, c, b float64) {
	e := c * (1 - b) // comes to a wall
	last := len(w.in) - 1
	by := 1.0 // b^i
	for i := range w.in {
		n.SetCarry(w.in[i], e*by)
		n.SetCarry(w.out[last-i], e*by)
		by *= b
	}
	n.SetCarry(w.past, c*by)
	for _, further := range w.between {
		share := e * (1 - b)
		for _, id := range further {
			n.SetCarry(id, share)
			share *= b
		}
	}
	for _, id := range w.rest {
		n.SetCarry(id, c)
	}
}
