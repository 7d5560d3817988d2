package greenhouse

import (
	"math"

	"suncellar/internal/enclosure"
)

// drums adds every row that holds water as an obstacle: in the section the outline of its stack, along the house evenly spread.
func (b *roomBuilder) drums() {
	for i := range b.h.Rows {
		row := &b.h.Rows[i]
		var bays []*bay
		for _, y := range b.g.store.bays {
			if y.row == row {
				bays = append(bays, y)
			}
		}
		if len(bays) == 0 {
			continue
		}
		drums := 0.0
		for _, y := range bays {
			drums += y.drums
		}
		spread := math.Min(1, drums/float64(row.Tiers)*row.Diameter/b.h.Length)
		o := enclosure.Obstacle{Fill: enclosure.RowFill(spread), BeamFill: spread}
		o.Corners = b.clipped(stack(row.X-row.Diameter/2, row.X+row.Diameter/2, row.Base, row.Top, heights(bays[0])))
		if len(o.Corners) < 3 {
			continue
		}
		for k, p := range o.Corners {
			q := o.Corners[(k+1)%len(o.Corners)]
			o.Sides = append(o.Sides, b.partsOfBand(bays, bandAt(bays[0], (p.Z+q.Z)/2)))
		}
		b.room.e.Obstacles = append(b.room.e.Obstacles, o)
	}
}

// heights are the tops of the lower bands of a bay's shell.
func heights(y *bay) []float64 {
	var list []float64
	for _, d := range y.bands[:len(y.bands)-1] {
		list = append(list, d.shell.z1)
	}
	return list
}

// bandAt is the band of a bay's shell that a height belongs to.
func bandAt(y *bay, z float64) int {
	for k, d := range y.bands {
		if z < d.shell.z1 {
			return k
		}
	}
	return len(y.bands) - 1
}

// partsOfBand are new pieces of one band, each bay's with its share.
func (b *roomBuilder) partsOfBand(bays []*bay, band int) []enclosure.Part {
	all := 0.0
	for _, y := range bays {
		all += y.drums
	}
	var parts []enclosure.Part
	for _, y := range bays {
		p := b.piece(b.of[y.bands[band].shell.name])
		parts = append(parts, enclosure.Part{Piece: p, Share: y.drums / all})
	}
	return parts
}

// stack is a rectangle with corners at given heights of its upright sides, anticlockwise.
func stack(x0, x1, z0, z1 float64, at []float64) []enclosure.Point {
	list := []enclosure.Point{{X: x0, Z: z0}, {X: x1, Z: z0}}
	for _, z := range at {
		if z > z0 && z < z1 {
			list = append(list, enclosure.Point{X: x1, Z: z})
		}
	}
	list = append(list, enclosure.Point{X: x1, Z: z1}, enclosure.Point{X: x0, Z: z1})
	for i := len(at) - 1; i >= 0; i-- {
		if at[i] > z0 && at[i] < z1 {
			list = append(list, enclosure.Point{X: x0, Z: at[i]})
		}
	}
	return list
}

// clipped cuts off what of a stack lies outside the room: behind every edge of the outline that passes through it. The plan is checked for the middle of
// its top only.
func (b *roomBuilder) clipped(p []enclosure.Point) []enclosure.Point {
	for _, d := range b.room.e.Edges {
		if crosses(d.A, d.B, p) {
			p = half(p, d.A, d.B)
		}
	}
	var out []enclosure.Point
	for i, c := range p {
		n := p[(i+1)%len(p)]
		if math.Hypot(n.X-c.X, n.Z-c.Z) > 1e-6 {
			out = append(out, c)
		}
	}
	return out
}

// crosses tells whether a line passes through the inside of a convex shape.
func crosses(a, b enclosure.Point, p []enclosure.Point) bool {
	t0, t1 := 0.0, 1.0
	for i, c := range p {
		n := p[(i+1)%len(p)]
		ex, ez := n.X-c.X, n.Z-c.Z
		at := func(q enclosure.Point) float64 { return (ex*(q.Z-c.Z) - ez*(q.X-c.X)) / math.Hypot(ex, ez) } // > 0 inside
		ha, hb := at(a)-1e-6, at(b)-1e-6
		switch {
		case ha <= 0 && hb <= 0:
			return false
		case ha <= 0:
			t0 = math.Max(t0, ha/(ha-hb))
		case hb <= 0:
			t1 = math.Min(t1, ha/(ha-hb))
		}
	}
	return t0 < t1
}

// half keeps of a convex shape what lies to the left of the line a-b.
func half(p []enclosure.Point, a, b enclosure.Point) []enclosure.Point {
	side := func(q enclosure.Point) float64 { return (b.X-a.X)*(q.Z-a.Z) - (b.Z-a.Z)*(q.X-a.X) }
	var out []enclosure.Point
	for i, c := range p {
		n := p[(i+1)%len(p)]
		hc, hn := side(c), side(n)
		if hc >= 0 {
			out = append(out, c)
		}
		if hc*hn < 0 {
			f := hc / (hc - hn)
			out = append(out, enclosure.Point{X: c.X + f*(n.X-c.X), Z: c.Z + f*(n.Z-c.Z)})
		}
	}
	return out
}
