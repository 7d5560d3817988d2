package drawing

import "suncellar/internal/draw"

// Cells is where the hours of a picture lie, so that a page can tell what is under the pointer: hour i has the cell of column (i+Lead) mod Columns
// and row (i+Lead) div Columns.
type Cells struct {
	X, Y          float64 // upper left corner of the first cell [px, y downward]
	Width, Height float64 // of a cell [px]
	Columns, Lead int     // Lead: cells before the first hour
	Hours         int
}

// Cell is the middle of an hour's cell [px].
func (c Cells) Cell(i int) draw.Point {
	k := i + c.Lead
	return draw.Point{X: c.X + (float64(k%c.Columns)+0.5)*c.Width, Y: c.Y + (float64(k/c.Columns)+0.5)*c.Height}
}

// Outline is a part of a section on its picture.
type Outline struct {
	Warm
	Px []draw.Point // [px, y downward]; two points are a line
}

// OutlinesOn finds the parts of a section on the picture that DrawSectionResult made of it, in the order in which they are drawn; those without a value are left out.
func OutlinesOn(l *draw.List, in Section) []Outline {
	room := (&sectionSheet{in: in}).insideOutline()
	var list []Outline
	for _, w := range in.Warm {
		if !finite(w.LowestC) {
			continue
		}
		if w.Kind == Air || w.Kind == Sink { // a layer is as wide as the room where it lies
			lo, hi := bounds(w.Outline)
			w.Outline = clipAbove(clipBelow(room, hi.Z), lo.Z)
		}
		if len(w.Outline) < 2 {
			continue
		}
		o := Outline{Warm: w}
		for _, p := range w.Outline {
			o.Px = append(o.Px, l.Paper(draw.Point{X: p.X, Y: p.Z}))
		}
		list = append(list, o)
	}
	return list
}
