package drill

import (
	"slices"

	"suncellar/internal/house"
)

// Can tells whether a house can have a fault, and where by name: a request's At is one of them, or empty. Of a fault that can be in one place alone there are no names.
func Can(h *house.House, k Kind) (where []string, can bool) {
	p, w := h.Plan, h.Scheme
	switch k {
	case Leak:
		if w != nil {
			for _, j := range All(w) {
				where = append(where, j.Name)
			}
		}
		where = append(where, h.BayNames()...)
	case DrumFrozen:
		if w != nil {
			for i := range w.Vessels {
				if slices.ContainsFunc(w.Points, func(at house.WaterPoint) bool { return at.Vessel == i }) {
					where = append(where, w.Vessels[i].Name)
				}
			}
		}
	case InletOpen:
		if w != nil {
			return nil, true
		}
		for _, in := range p.Inlets {
			if in.Closed > 0 {
				where = append(where, in.Name)
			}
		}
	case FlapFrozen:
		return nil, w != nil && p.Water.Inlet.Mouth == "flap"
	case VentStuck:
		for _, v := range p.Vents {
			where = append(where, v.Name)
		}
	case PaneBroken:
		for _, f := range glazed(h) {
			where = append(where, f.Name)
		}
	case CoverOff:
		return nil, p.Cover != nil
	case DoorOpen:
		for _, d := range p.Doors {
			where = append(where, d.Name)
		}
	}
	return where, len(where) > 0
}

// glazed are the faces of glazing that a pane can be broken in.
func glazed(h *house.House) []*house.Face {
	var list []*house.Face
	for i := range h.Faces {
		if f := &h.Faces[i]; f.Glass != nil && f.End == 0 {
			list = append(list, f)
		}
	}
	return list
}
