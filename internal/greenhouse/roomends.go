package greenhouse

import (
	"math"

	"suncellar/internal/enclosure"
	"suncellar/internal/house"
)

// ends cuts each end into cells, and at grade.
func (b *roomBuilder) ends() {
	lo, hi := b.h.Section[0], b.h.Section[0]
	for _, p := range b.h.Section {
		lo = house.Point{X: math.Min(lo.X, p.X), Z: math.Min(lo.Z, p.Z)}
		hi = house.Point{X: math.Max(hi.X, p.X), Z: math.Max(hi.Z, p.Z)}
	}
	e := b.room.e
	e.Columns = cuts(lo.X, hi.X)
	atGrade := lo.Z < -1e-6 && hi.Z > 1e-6
	if atGrade {
		e.Levels = append(append(cuts(lo.Z, 0), 0), cuts(0, hi.Z)...)
	} else {
		e.Levels = cuts(lo.Z, hi.Z)
	}
	for k, end := range []int{-1, 1} {
		for band := range len(e.Levels) + 1 {
			above := band > 0 && e.Levels[band-1] >= 0
			var faces []*house.Face
			for i := range b.h.Faces {
				f := &b.h.Faces[i]
				if _, ok := b.of[f.Name]; ok && f.End == end && (!atGrade || (f.Z0+f.Z1 >= 0) == above) {
					faces = append(faces, f)
				}
			}
			for column := range len(e.Columns) + 1 {
				e.Ends[k] = append(e.Ends[k], b.cell(faces, band, column))
			}
		}
	}
}

// cell makes the pieces of one cell of an end.
func (b *roomBuilder) cell(faces []*house.Face, band, column int) []enclosure.Part {
	e := b.room.e
	if e.CellArea(band*(len(e.Columns)+1)+column) <= 0 { // outside the section: whatever piece there is
		return enclosure.Whole(0)
	}
	if parts := b.partsOf(faces, 0, -1, band); len(parts) > 0 {
		return parts
	}
	return enclosure.Whole(b.piece(b.inTheSoil(float64(column)+0.5 < float64(len(e.Columns)+1)/2)))
}

// cuts are the places between a and b at which a length is cut into equal parts of at most highest [m].
func cuts(a, b float64) []float64 {
	n := math.Ceil((b - a) / highest)
	var list []float64
	for k := 1; k < int(n); k++ {
		list = append(list, a+(b-a)*float64(k)/n)
	}
	return list
}

// inTheSoil is the surface that an end in the soil belongs to: of the upright walls in the soil, which stand for the ends too, the one that the ground
// widened most on that side of the house; without such a wall a floor in the soil.
func (b *roomBuilder) inTheSoil(front bool) int {
	middle := (b.h.Front + b.h.Back) / 2
	best, most, floor := -1, 0.0, 0
	for _, own := range []bool{true, false} {
		for i, s := range b.g.inside {
			f := b.h.Face(s.name)
			if f == nil || f.Behind != house.Soil {
				continue
			}
			floor = i
			if wider := s.area - s.facing; s.facing > 0 && wider > most && (!own || (f.Mid().X < middle) == front) {
				best, most = i, wider
			}
		}
		if best >= 0 {
			return best
		}
	}
	return floor
}
