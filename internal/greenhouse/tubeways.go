package greenhouse

import "suncellar/internal/thermal"

// way is the carries of one direction. A part of the air comes to the temperature of each wall, the rest goes by; what has been at one wall
// goes on to the next ones and to the end in the same shares. That is exact for walls of one temperature each, and needs no nodes of
// air between them.
type way struct {
	past    thermal.CarryID   // by all walls
	in, out []thermal.CarryID // to and from each wall
	between [][]thermal.CarryID
}

func (t *tubes) addWay(from, to tubeEnd, walls []thermal.Node) way {
	n := t.g.Net
	name := func(crosses bool) string {
		if crosses {
			return t.flow("")
		}
		return t.flow("inside")
	}
	w := way{past: n.Carry(name(!t.loop()), from.node, to.node)}
	for i, wall := range walls {
		w.in = append(w.in, n.Carry(name(from.layer == outdoors), from.node, wall))
		w.out = append(w.out, n.Carry(name(to.layer == outdoors), wall, to.node))
		var further []thermal.CarryID
		for _, next := range walls[i+1:] {
			further = append(further, n.Carry(t.flow("inside"), wall, next))
		}
		w.between = append(w.between, further)
	}
	return w
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
}
