package greenhouse

import (
	"suncellar/internal/enclosure"
	"suncellar/internal/house"
)

// floorWithBeds makes the edges of a level floor: its bare pieces, the tops of beds in strips, their free sides.
func (b *roomBuilder) floorWithBeds(l *wallLine) {
	at := l.a
	lay := func(x, z float64, make maker) {
		b.edge(at, house.Point{X: x, Z: z}, make)
		at = house.Point{X: x, Z: z}
	}
	floor := func() []enclosure.Part { return b.partsOf(l.faces, 0, -1, 0) }
	var before maker // the side of the bed before
	for _, bed := range b.h.BedsAlong(l.a.X, l.b.X) {
		index := b.bedIndex(bed.Name)
		side := func() []enclosure.Part { return b.partsOfBed(index) }
		if bed.X0 > at.X+1e-9 { // from a bed before down to the floor
			lay(at.X, b.h.FloorZ, before)
			lay(bed.X0, b.h.FloorZ, floor)
		}
		switch {
		case bed.Z > b.h.FloorZ && at == l.a && b.walled(bed.X0):
			at.Z = bed.Z
		case at.Z > bed.Z+1e-9 && at.Z > b.h.FloorZ+1e-9: // down from a higher bed
			lay(bed.X0, bed.Z, before)
		default:
			lay(bed.X0, bed.Z, side)
		}
		for _, s := range b.stripsOf(index) {
			b.oneEdge(at, house.Point{X: s.x1, Z: bed.Z}, enclosure.Whole(s.piece))
			at = house.Point{X: s.x1, Z: bed.Z}
		}
		before = side
	}
	if l.b.X > at.X+1e-9 {
		lay(at.X, b.h.FloorZ, before)
		lay(l.b.X, b.h.FloorZ, floor)
	} else if at.Z < b.h.FloorZ || !b.walled(l.b.X) {
		lay(l.b.X, b.h.FloorZ, before)
	}
}

func (b *roomBuilder) bedIndex(name string) int {
	for i := range b.h.Beds {
		if b.h.Beds[i].Name == name {
			return i
		}
	}
	panic("greenhouse: no bed is called " + name)
}

func (b *roomBuilder) partsOfBed(bed int) []enclosure.Part {
	return enclosure.Whole(b.piece(b.of[bedSurface(&b.h.Beds[bed])]))
}

// bedSurface is the name of a bed's surface.
func bedSurface(b *house.Bed) string { return b.Name + " soil surface" }

// stripsOf cuts a bed into strips and adds their pieces.
func (b *roomBuilder) stripsOf(index int) []strip {
	bed := &b.h.Beds[index]
	sides := []string{""}
	if bed.X1-bed.X0 >= stripsFrom-1e-9 {
		sides = []string{"glazing side", "middle", "back side"}
	}
	first := len(b.room.strips)
	for k, side := range sides {
		s := strip{bed: index, side: side, x0: bed.X0 + (bed.X1-bed.X0)*float64(k)/float64(len(sides)), x1: bed.X0 + (bed.X1-bed.X0)*float64(k+1)/float64(len(sides))}
		s.piece = b.partsOfBed(index)[0].Piece
		b.room.strips = append(b.room.strips, s)
	}
	return b.room.strips[first:]
}
