package drawing

import (
	"cmp"
	"math"
	"slices"

	"suncellar/internal/draw"
)

// contents draws beds and rows of drums, those farther from the eye first. They lie side by side across the house, so the order across is
// the order of what hides what; within a row it is the order along, and then from below.
func (v *blockView) contents() {
	type thing struct {
		x    float64
		bed  *Part
		drum []ViewDrum
	}
	var list []thing
	for i := range v.in.Beds {
		lo, hi := bounds(v.in.Beds[i].Outline)
		list = append(list, thing{x: (lo.X + hi.X) / 2, bed: &v.in.Beds[i]})
	}
	rows := map[float64]int{}
	for _, d := range v.in.Drums {
		k, ok := rows[d.Across]
		if !ok {
			k = len(list)
			rows[d.Across] = k
			list = append(list, thing{x: d.Across})
		}
		list[k].drum = append(list[k].drum, d)
	}
	slices.SortStableFunc(list, func(a, b thing) int { return cmp.Compare(a.x*v.eye.x, b.x*v.eye.x) })
	g := &draw.Group{Class: "contents"}
	for _, t := range list {
		if t.bed != nil {
			v.bed(g, *t.bed)
			continue
		}
		slices.SortStableFunc(t.drum, func(a, b ViewDrum) int {
			return cmp.Or(cmp.Compare(a.Along*v.eye.y, b.Along*v.eye.y), cmp.Compare(a.Base, b.Base))
		})
		for _, d := range t.drum {
			v.drum(g, d)
		}
		last := t.drum[len(t.drum)-1]
		v.labels = append(v.labels, blockLabel{last.Name, v.at(last.Across, last.Along, last.Base+last.Height)})
	}
	v.p.l.Add(g)
}

// bed draws a bed as a box along the house, with plants on it.
func (v *blockView) bed(g *draw.Group, b Part) {
	lo, hi := bounds(b.Outline)
	pen := draw.Pen{Ink: draw.Leaf, Width: 1.25}
	side := lo.X
	if v.eye.x > 0 {
		side = hi.X
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{v.quad(Point{side, lo.Z}, Point{side, hi.Z}, v.nearY, v.farY)}, Fill: draw.Ground2, Pen: pen, Tip: b.Name},
		&draw.Area{Rings: [][]draw.Point{v.quad(Point{lo.X, hi.Z}, Point{hi.X, hi.Z}, v.nearY, v.farY)}, Fill: draw.Ground, Pen: pen, Tip: b.Name},
		&draw.Area{Rings: [][]draw.Point{{v.at(lo.X, v.nearY, lo.Z), v.at(hi.X, v.nearY, lo.Z), v.at(hi.X, v.nearY, hi.Z), v.at(lo.X, v.nearY, hi.Z)}}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Leaf, Pen: pen, Tip: b.Name})
	v.plants(g, lo, hi)
	v.labels = append(v.labels, blockLabel{b.Name, v.at((lo.X+hi.X)/2, v.nearY+0.12*(v.farY-v.nearY), hi.Z)})
}

// plants sets small plants in rows on a bed, far ones first.
func (v *blockView) plants(g *draw.Group, lo, hi Point) {
	rows := int(math.Max(1, math.Min(4, math.Floor((hi.X-lo.X)/0.35))))
	each := int(math.Max(2, math.Min(24, math.Floor(v.in.Length/0.45))))
	h := math.Min(0.2, (hi.X-lo.X)/float64(rows)*0.6)
	for i := range each {
		t := (float64(each-i) - 0.5) / float64(each) // from the far end
		y := v.nearY + t*(v.farY-v.nearY)
		for k := range rows {
			share := (float64(k) + 0.5) / float64(rows)
			if v.eye.x < 0 {
				share = 1 - share
			}
			foot := v.at(lo.X+share*(hi.X-lo.X), y, hi.Z)
			top := h * v.scale
			var blades []draw.Point
			for _, b := range [][2]float64{{-0.55, 0.7}, {0, 0}, {0, 1}, {0, 0}, {0.55, 0.7}} {
				blades = append(blades, draw.Point{X: foot.X + b[0]*top, Y: foot.Y - b[1]*top})
			}
			g.Add(&draw.Line{Points: blades, Pen: draw.Pen{Ink: draw.Leaf, Width: 1.5}})
		}
	}
}

// ring is a level circle on paper.
func (v *blockView) ring(d ViewDrum, z float64) []draw.Point {
	ps := make([]draw.Point, 28)
	for i := range ps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(ps)))
		ps[i] = v.at(d.Across+d.Diameter/2*cos, d.Along+d.Diameter/2*sin, z)
	}
	return ps
}

// drum draws a drum as a cylinder, its water hatched to its level.
func (v *blockView) drum(g *draw.Group, d ViewDrum) {
	tip := d.Name + ", filled to " + figure(d.Filled*100, 0) + " %"
	pen := draw.Pen{Ink: draw.Water, Width: 1.25}
	bottom, top := v.ring(d, d.Base), v.ring(d, d.Base+d.Height)
	g.Add(&draw.Area{Rings: [][]draw.Point{hull(append(slices.Clone(bottom), top...))}, Fill: draw.Ground, Pen: pen, Tip: tip})
	if level := v.ring(d, d.Base+d.Height*d.Filled); d.Filled > 0 {
		g.Add(&draw.Area{Rings: [][]draw.Point{hull(append(slices.Clone(bottom), level...))}, Fill: draw.Ground2, Hatch: draw.WaterHatch, HatchInk: draw.Water, Pen: draw.Pen{Ink: draw.Water, Width: 0.75}})
		g.Add(&draw.Area{Rings: [][]draw.Point{hull(append(slices.Clone(bottom), top...))}, Pen: pen})
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{top}, Fill: draw.Ground, Pen: pen, Tip: tip})
}

// hull is the convex hull of points, by Andrew's monotone chain: sort, then keep turns of one sense below and above.
func hull(ps []draw.Point) []draw.Point {
	slices.SortFunc(ps, func(a, b draw.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	half := func(ps []draw.Point) []draw.Point {
		var h []draw.Point
		for _, p := range ps {
			for len(h) > 1 {
				a, b := h[len(h)-2], h[len(h)-1]
				if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 0 {
					break
				}
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(ps)
	slices.Reverse(ps)
	return append(lower, half(ps)...)
}

// cutSide draws the earth under the floor where the nearer side is cut away.
func (v *blockView) cutSide() {
	x := v.min.X
	if v.eye.x > 0 {
		x = v.max.X
	}
	top := math.Inf(1)
	for _, f := range v.in.Faces { // the floor at that side
		if math.Abs(f.A.X-x) < 1e-9 {
			top = min(top, f.A.Z)
		}
	}
	top = min(top, v.in.GroundZ)
	g := &draw.Group{Class: "cut-side"}
	if top > v.low {
		g.Add(&draw.Area{Rings: [][]draw.Point{v.quad(Point{x, v.low}, Point{x, top}, v.nearY, v.farY)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Earth, Pen: draw.Pen{Ink: draw.Earth, Width: 1.25}, Tip: "ground"})
	}
	v.p.l.Add(g)
}

// cutEnd draws the section at the nearer end: earth, builds, the edge of the room.
func (v *blockView) cutEnd() {
	g := &draw.Group{Class: "cut-end"}
	place := func(ps []Point) []draw.Point {
		out := make([]draw.Point, len(ps))
		for i, q := range ps {
			out[i] = v.at(q.X, v.nearY, q.Z)
		}
		return out
	}
	lo, hi := v.s.outerSides()
	x0, x1 := v.min.X, v.max.X+v.out+(hi-v.max.X)
	if v.eye.x > 0 {
		x0, x1 = v.min.X-v.out-(v.min.X-lo), v.max.X
	}
	rings := [][]draw.Point{place([]Point{{x0, v.low}, {x1, v.low}, {x1, v.in.GroundZ}, {x0, v.in.GroundZ}})}
	if room := clipBelow(v.s.insideOutline(), v.in.GroundZ); room != nil {
		rings = append(rings, place(room))
	}
	g.Add(&draw.Area{Rings: rings, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Earth, Tip: "ground"},
		&draw.Line{Points: place([]Point{{x0, v.low}, {x1, v.low}, {x1, v.in.GroundZ}}), Pen: draw.Pen{Ink: draw.Earth, Width: 1.5}})
	n := len(v.in.Faces)
	for i, f := range v.in.Faces {
		v.cutBuild(g, f, v.in.Faces[(i+n-1)%n], v.in.Faces[(i+1)%n], place)
		width := 2.0
		if f.Glazing {
			width = 3
		}
		g.Add(&draw.Line{Points: place([]Point{f.A, f.B}), Pen: draw.Pen{Ink: draw.Ink, Width: width}, Tip: f.Name})
	}
	v.p.l.Add(g)
}

// cutBuild draws the layers of a face where it is cut.
func (v *blockView) cutBuild(g *draw.Group, f, before, after Face, place func([]Point) []draw.Point) {
	t := f.thickness()
	if t == 0 {
		return
	}
	a, b := v.s.corner(before, f, f.A, f), v.s.corner(f, after, f.B, f)
	from := 0.0
	for _, l := range f.Build {
		to := from + l.Thickness
		ring := []Point{along(f.A, a, from/t), along(f.B, b, from/t), along(f.B, b, to/t), along(f.A, a, to/t)}
		g.Add(&draw.Area{Rings: [][]draw.Point{place(ring)}, Fill: draw.Ground, Hatch: l.Hatch, HatchInk: draw.Ink2, Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: f.Name + ": " + l.Name})
		from = to
	}
}

// north draws an arrow that lies on the ground, below the block.
func (v *blockView) north() {
	g := &draw.Group{Class: "north"}
	const r = 22.0
	flat := math.Hypot(v.eye.x, v.eye.y)
	c := draw.Point{X: margin + r + 14, Y: v.p.y + 26}
	sin, cos := math.Sincos(-v.in.Facing * math.Pi / 180)
	nx, ny := -cos, sin // north on the ground, across and along
	at := func(ahead, side float64) draw.Point {
		x, y := ahead*nx-side*ny, ahead*ny+side*nx
		return draw.Point{X: c.X + (-v.eye.y*x+v.eye.x*y)/flat, Y: c.Y + v.eye.z*(v.eye.x*x+v.eye.y*y)/flat}
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{{at(r, 0), at(-r*0.75, r*0.45), at(-r*0.4, 0)}}, Fill: draw.Ink, Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: "north"},
		&draw.Area{Rings: [][]draw.Point{{at(r, 0), at(-r*0.75, -r*0.45), at(-r*0.4, 0)}}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1}})
	n := at(r+10, 0)
	g.Add(v.p.text(n.X, n.Y, "N", words{bold: true, anchor: draw.Middle, lift: draw.Center}))
	if v.dashed {
		g.Add(v.p.text(c.X+r+28, c.Y, "Dashed: cut away.", words{ink: draw.Ink2, lift: draw.Center}))
	}
	v.p.l.Add(g)
	v.p.y = c.Y + r + 14
}

// names writes what stands in the house clear of the block, as near as may be, joined by a line; a name stands once.
func (v *blockView) names() {
	g := &draw.Group{Class: "names"}
	room := &placer{room: draw.Rect{Min: draw.Point{X: margin, Y: v.frame.Min.Y}, Max: draw.Point{X: v.p.w - margin, Y: v.frame.Max.Y}}}
	outline := v.outline()
	seen := map[string]bool{}
	for _, l := range v.labels {
		if l.text == "" || seen[l.text] {
			continue
		}
		seen[l.text] = true
		lines := wrap(l.text, sizeText, false, 150)
		box, ok := room.clearOf(outline, l.at, widest(lines, sizeText)+6, float64(len(lines))*15+2)
		if !ok {
			continue
		}
		near := draw.Point{X: max(box.Min.X, min(l.at.X, box.Max.X)), Y: max(box.Min.Y, min(l.at.Y, box.Max.Y))}
		g.Add(v.p.line(draw.Pen{Ink: draw.Ground, Width: 3}, l.at.X, l.at.Y, near.X, near.Y), v.p.line(draw.Pen{Ink: draw.Ink, Width: 0.75}, l.at.X, l.at.Y, near.X, near.Y),
			&draw.Circle{Center: v.p.at(l.at.X, l.at.Y), Radius: 2, Fill: draw.Ink})
		for k, line := range lines {
			g.Add(v.p.text((box.Min.X+box.Max.X)/2, box.Min.Y+(float64(k)+0.5)*15+1, line, words{anchor: draw.Middle, lift: draw.Center, halo: draw.Ground}))
		}
	}
	v.p.l.Add(g)
}

// outline is the convex hull of the block on paper.
func (v *blockView) outline() []draw.Point {
	var ps []draw.Point
	for _, y := range []float64{0, v.in.Length} {
		for _, f := range v.in.Faces {
			ps = append(ps, v.at(f.A.X, y, f.A.Z))
		}
		ps = append(ps, v.at(v.min.X, y, v.low), v.at(v.max.X, y, v.low))
	}
	return hull(ps)
}

// clearOf finds the place for a box nearest to a spot that is free and clear of a convex outline, and takes it.
func (p *placer) clearOf(outline []draw.Point, at draw.Point, w, h float64) (draw.Rect, bool) {
	best, found, least := draw.Rect{}, false, math.Inf(1)
	for x := p.room.Min.X; x+w <= p.room.Max.X; x += 12 {
		for y := p.room.Min.Y; y+h <= p.room.Max.Y; y += 12 {
			d := math.Hypot(x+w/2-at.X, y+h/2-at.Y)
			box := draw.Rect{Min: draw.Point{X: x, Y: y}, Max: draw.Point{X: x + w, Y: y + h}}
			if d < least && p.free(box) && !touches(outline, box.Grow(4)) {
				best, found, least = box, true, d
			}
		}
	}
	if found {
		p.take(best)
	}
	return best, found
}

// touches tells whether a box has a point within a convex ring, looked for on a grid of five by three, or the ring a corner within the box.
func touches(ring []draw.Point, box draw.Rect) bool {
	for k := range 15 {
		c := draw.Point{X: box.Min.X + float64(k%5)/4*box.Width(), Y: box.Min.Y + float64(k/5)/2*box.Height()}
		left, right := false, false
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			side := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
			left, right = left || side > 0, right || side < 0
		}
		if !left || !right {
			return true
		}
	}
	for _, q := range ring {
		if q.X > box.Min.X && q.X < box.Max.X && q.Y > box.Min.Y && q.Y < box.Max.Y {
			return true
		}
	}
	return false
}
