package greenhouse

import (
	"fmt"
	"math"

	"suncellar/internal/enclosure"
	"suncellar/internal/house"
)

// room is the inside of the house as radiation sees it: the section with its beds and drums, cut into pieces, each of one surface. A surface
// may have several pieces (the strips of a bed, the two places of a wall in the soil); windows and doors share the line of their wall; an end
// wall below grade, which has no surface of its own, belongs to the walls in the soil that stand for it.
type room struct {
	e       *enclosure.Enclosure
	factors *enclosure.Factors
	pieces  []int // by piece: its surface, in Greenhouse.inside
	strips  []strip
	glass   map[string][]glassPiece // by glazed face
}

// glassPiece is a piece of a glazed face, and the edge of the section (-1 for none) or the band of its end that it lies in.
type glassPiece struct{ piece, edge, band int }

// longest is the length of a piece in the section, and highest that of a piece of an end [m]: light on a piece is taken as even.
const longest, highest = 0.8, 1.0

// strip is a part of a bed, cut from the glazing to the back.
type strip struct {
	bed    int
	side   string // "glazing side", "middle", "back side"; "" for a bed that is one strip
	x0, x1 float64
	piece  int
}

// roomStrips is into how many strips the longest edge is cut for the view factors, which are short here: factors are within 0.002 of those of many.
const roomStrips = 6

// stripsFrom is the width from which a bed is told in three strips [m].
const stripsFrom = 0.6

// addRoom makes the enclosure of all inside surfaces, drums and beds.
func (g *Greenhouse) addRoom() error {
	b := &roomBuilder{g: g, h: g.House, of: map[string]int{}}
	b.room = &room{e: &enclosure.Enclosure{Length: g.House.Length}, glass: map[string][]glassPiece{}}
	for i, s := range g.inside {
		b.of[s.name] = i
	}
	for i := range g.House.Beds {
		g.inside[b.of[bedSurface(&g.House.Beds[i])]].soil = true
	}
	b.outline()
	b.drums()
	b.ends()
	b.room.e.Pieces = len(b.room.pieces)
	f, err := b.room.e.Factors(enclosure.Options{Strips: roomStrips})
	if err != nil {
		return fmt.Errorf("the room as radiation sees it: %w\nhint: walls, floor and beds must enclose one room", err)
	}
	b.room.factors = f
	g.room = b.room
	return nil
}

type roomBuilder struct {
	g    *Greenhouse
	h    *house.House
	room *room
	of   map[string]int // by name: surface
}

// maker makes the pieces of one more edge.
type maker func() []enclosure.Part

// piece adds a piece of a surface.
func (b *roomBuilder) piece(surface int) int {
	b.room.pieces = append(b.room.pieces, surface)
	return len(b.room.pieces) - 1
}

// wallLine is one line of the outline before it is an edge, with the faces that share it.
type wallLine struct {
	a, b  house.Point
	faces []*house.Face
}

func (l *wallLine) level(z float64) bool {
	return math.Abs(l.a.Z-z) < 1e-9 && math.Abs(l.b.Z-z) < 1e-9 && l.b.X > l.a.X
}

func (l *wallLine) upright() bool { return math.Abs(l.a.X-l.b.X) < 1e-9 }

// chain is the lines of the section in their order round the room.
func (b *roomBuilder) chain() []wallLine {
	var lines []wallLine
	for i := range b.h.Faces {
		f := &b.h.Faces[i]
		if f.End != 0 {
			continue
		}
		known := false
		for k := range lines {
			if lines[k].a == f.A && lines[k].b == f.B {
				lines[k].faces, known = append(lines[k].faces, f), true
			}
		}
		if !known {
			lines = append(lines, wallLine{f.A, f.B, []*house.Face{f}})
		}
	}
	for i := 0; i+1 < len(lines); i++ { // faces that are cut at grade stand lower first
		for k := i + 1; k < len(lines); k++ {
			if math.Hypot(lines[k].a.X-lines[i].b.X, lines[k].a.Z-lines[i].b.Z) < 1e-9 {
				lines[i+1], lines[k] = lines[k], lines[i+1]
				break
			}
		}
	}
	return lines
}

// outline makes the edges: walls begin above a bed that leans on them, floors give way to beds.
func (b *roomBuilder) outline() {
	for _, l := range b.chain() {
		switch {
		case l.level(b.h.FloorZ) && len(b.h.BedsAlong(l.a.X, l.b.X)) > 0:
			b.floorWithBeds(&l)
		default:
			if l.upright() {
				l.a.Z, l.b.Z = b.lifted(l.a), b.lifted(l.b)
			}
			free := b.h.Length * math.Hypot(l.b.X-l.a.X, l.b.Z-l.a.Z)
			b.edge(l.a, l.b, func() []enclosure.Part { return b.partsOf(l.faces, free, len(b.room.e.Edges), 0) })
		}
	}
}

// lifted is where a point of a wall comes to lie when a bed leans on the wall: at the bed's top.
func (b *roomBuilder) lifted(p house.Point) float64 {
	z := p.Z
	if p.Z < b.h.FloorZ-1e-9 { // a side of the cold sink
		return z
	}
	for _, bed := range b.h.Beds {
		if (math.Abs(bed.X0-p.X) < 1e-9 || math.Abs(bed.X1-p.X) < 1e-9) && b.walled(p.X) {
			z = math.Max(z, bed.Z)
		}
	}
	return z
}

// walled tells whether a wall rises from the floor at x.
func (b *roomBuilder) walled(x float64) bool {
	s := sliceBuilder{h: b.h}
	return s.wallAt(x)
}

// partsOf shares a line, or a cell of an end, out among its faces by area, each with a piece of its own. Where the line is but the free part of them [m²], its
// openings keep their area and the wall has the rest; 0 means all of them.
func (b *roomBuilder) partsOf(faces []*house.Face, free float64, edge, band int) []enclosure.Part {
	sum, openings := 0.0, 0.0
	for k, f := range faces {
		if _, ok := b.of[f.Name]; ok {
			sum += f.Area
			if k > 0 {
				openings += f.Area
			}
		}
	}
	host := 1.0 // share of the first face's area that is free
	if free > openings && sum > openings && free < sum {
		host = (free - openings) / (sum - openings)
		sum = free
	}
	var parts []enclosure.Part
	for _, f := range faces {
		s, ok := b.of[f.Name]
		if !ok {
			continue
		}
		p := b.piece(s)
		if f.Glass != nil || f.Off != nil {
			b.room.glass[f.Name] = append(b.room.glass[f.Name], glassPiece{p, edge, band})
		}
		area := f.Area
		if f == faces[0] {
			area *= host
		}
		parts = append(parts, enclosure.Part{Piece: p, Share: area / sum})
	}
	return parts
}

// edge adds a straight part of the outline in edges no longer than a piece may be; one of no length is left out.
func (b *roomBuilder) edge(p, q house.Point, make maker) {
	l := math.Hypot(q.X-p.X, q.Z-p.Z)
	if l < 1e-6 {
		return
	}
	n := math.Ceil(l / longest)
	from := p
	for k := range int(n) {
		u := float64(k+1) / n
		to := house.Point{X: p.X + u*(q.X-p.X), Z: p.Z + u*(q.Z-p.Z)}
		b.oneEdge(from, to, make())
		from = to
	}
}

func (b *roomBuilder) oneEdge(p, q house.Point, parts []enclosure.Part) {
	b.room.e.Edges = append(b.room.e.Edges, enclosure.Edge{A: enclosure.Point(p), B: enclosure.Point(q), Parts: parts})
}
