package enclosure

import "math"

// Ends are cut into cells: bands by height, each cut across. This file tells where in them a point, a way or an area lies.

// cells is how many cells an end has.
func (e *Enclosure) cells() int { return (len(e.Levels) + 1) * (len(e.Columns) + 1) }

// cellOf is the cell of an end that a point lies in.
func (e *Enclosure) cellOf(p Point) int {
	return e.bandOf(p.Z)*(len(e.Columns)+1) + between(e.Columns, p.X)
}

// bandOf is the band of an end that a height lies in.
func (e *Enclosure) bandOf(z float64) int { return between(e.Levels, z) }

// between is how many of rising cuts lie at or below x.
func between(cuts []float64, x float64) int {
	for k, c := range cuts {
		if x < c {
			return k
		}
	}
	return len(cuts)
}

// inCell keeps of a way from..to along a ray from p in direction (dx, dz) what lies in a cell; nothing where to comes out below from.
func (e *Enclosure) inCell(cell int, p Point, dx, dz, from, to float64) (float64, float64) {
	row, column := cell/(len(e.Columns)+1), cell%(len(e.Columns)+1)
	from, to = kept(e.Levels, row, p.Z, dz, from, to)
	return kept(e.Columns, column, p.X, dx, from, to)
}

func kept(cuts []float64, k int, at, rise, from, to float64) (float64, float64) {
	if k > 0 {
		from, to = above(at-cuts[k-1], rise, from, to)
	}
	if k < len(cuts) {
		from, to = above(cuts[k]-at, -rise, from, to)
	}
	return from, to
}

// above keeps of from..to what satisfies height + rise t >= 0.
func above(height, rise, from, to float64) (float64, float64) {
	switch {
	case rise > 0:
		return math.Max(from, -height/rise), to
	case rise < 0:
		return from, math.Min(to, height/-rise)
	case height < 0:
		return to, from
	}
	return from, to
}

// CellArea is the area of the section that lies in a cell of the ends [m²].
func (e *Enclosure) CellArea(cell int) float64 { return e.cellArea(e.outline(), cell) }

// cellArea is the area of a polygon that lies in a cell of the ends [m²].
func (e *Enclosure) cellArea(p []Point, cell int) float64 {
	row, column := cell/(len(e.Columns)+1), cell%(len(e.Columns)+1)
	height, place := func(q Point) float64 { return q.Z }, func(q Point) float64 { return q.X }
	if row > 0 {
		p = clip(p, height, e.Levels[row-1], 1)
	}
	if row < len(e.Levels) {
		p = clip(p, height, e.Levels[row], -1)
	}
	if column > 0 {
		p = clip(p, place, e.Columns[column-1], 1)
	}
	if column < len(e.Columns) {
		p = clip(p, place, e.Columns[column], -1)
	}
	return math.Abs(polygonArea(p))
}

// clip keeps of a polygon what lies at or above a value of a coordinate (side 1), or at or below it (-1).
func clip(p []Point, of func(Point) float64, value, side float64) []Point {
	var out []Point
	for i, a := range p {
		b := p[(i+1)%len(p)]
		ha, hb := side*(of(a)-value), side*(of(b)-value)
		if ha >= 0 {
			out = append(out, a)
		}
		if ha*hb < 0 {
			f := ha / (ha - hb)
			out = append(out, Point{a.X + f*(b.X-a.X), a.Z + f*(b.Z-a.Z)})
		}
	}
	return out
}
