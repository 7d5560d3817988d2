package greenhouse

import (
	"math"

	"suncellar/internal/ground"
	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/thermal"
)

type sliceBuilder struct {
	g      *Greenhouse
	h      *house.House
	p      *groundPart
	s      ground.Slice
	soil   Soil
	ports  []thermal.Node
	flows  []string
	trial  []float64
	loss   []int
	sheets []ground.Sheet // planes of buried tubes
	outer  []int          // ports of the patches, front then back
}

func (b *sliceBuilder) box() error {
	soil, err := SoilOf(b.h.Plan.Site)
	if err != nil {
		return err
	}
	b.soil = soil
	gr := b.h.Plan.Ground
	low, high := math.Min(b.h.SinkZ, 0), 0.0
	for _, bed := range b.h.Beds {
		high = math.Max(high, bed.Z)
	}
	b.s = ground.Slice{X0: b.h.Front - gr.Reach, X1: b.h.Back + gr.Reach, Z0: b.h.Bottom(), Z1: high, Fill: soil.Below,
		Width: b.h.Length, Finest: gr.Cell, Growth: 0.5, Coarsest: 2, Parts: b.g.Setup.Parts}
	if w := b.h.Plan.Site.WaterTable; w != nil {
		b.s.Z0 = math.Min(-*w, low-0.3)
	}
	return nil
}

// layers lays the soil's layers into the slice. A bed is filled with site.soil from the floor up, whatever lies at its depth outdoors.
func (b *sliceBuilder) layers() {
	if len(b.soil.Layers) == 0 {
		return
	}
	b.s.Rects = append(b.s.Rects, b.soil.rects(b.s.X0, b.s.X1)...)
	for _, bed := range b.h.Beds {
		if bed.Z > b.h.FloorZ {
			b.s.Rects = append(b.s.Rects, ground.Rect{X0: bed.X0, X1: bed.X1, Z0: b.h.FloorZ, Z1: bed.Z, Medium: b.soil.Below})
		}
	}
}

// walls lays the layers of upright and level faces into the slice, from the room outward.
func (b *sliceBuilder) walls(faces []*house.Face) {
	for _, f := range faces {
		if f.Build == nil || sloped(f) {
			continue
		}
		at := 0.0
		for _, l := range f.Build.Layers {
			if l.Thickness == 0 {
				continue
			}
			m := ground.Medium{K: l.Conductivity, C: l.VolumeHeat}
			if m.K == 0 {
				m.K = l.Thickness / l.R
			}
			if m.C == 0 {
				m.C = 1e3
			}
			r := ground.Rect{Medium: m}
			switch { // outward normal: level floors down, front walls to -x, back walls to +x
			case f.Tilt > 3*math.Pi/4:
				r.X0, r.X1, r.Z1, r.Z0 = f.A.X, f.B.X, f.A.Z-at, f.A.Z-at-l.Thickness
			case f.B.Z < f.A.Z: // front
				r.X1, r.X0, r.Z0, r.Z1 = f.A.X-at, f.A.X-at-l.Thickness, f.Z0, f.Z1
			default:
				r.X0, r.X1, r.Z0, r.Z1 = f.A.X+at, f.A.X+at+l.Thickness, f.Z0, f.Z1
			}
			b.s.Rects = append(b.s.Rects, r)
			at += l.Thickness
		}
	}
}

func sloped(f *house.Face) bool {
	return math.Abs(f.A.X-f.B.X) > 1e-6 && math.Abs(f.A.Z-f.B.Z) > 1e-6
}

func (b *sliceBuilder) boards() {
	for _, d := range b.h.Plan.Ground.Boards {
		m := b.boardMedium(d.Material)
		x, sign := b.h.Front, -1.0
		if d.At == "back" {
			x, sign = b.h.Back, 1
		}
		r := ground.Rect{Medium: m}
		if d.Lay == "lying" {
			r.X0, r.X1 = ordered(x, x+sign*d.Reach)
			r.Z0, r.Z1 = -d.Depth-d.Thickness, -d.Depth
		} else {
			r.X0, r.X1 = ordered(x, x+sign*d.Thickness)
			r.Z0, r.Z1 = -d.Reach, 0
		}
		b.s.Rects = append(b.s.Rects, r)
	}
}

// footings lie over boards that would cut through them: they conduct more.
func (b *sliceBuilder) footings() {
	for _, f := range b.h.Footings {
		m := ground.Medium{K: f.Layer.Conductivity, C: math.Max(1e3, f.Layer.VolumeHeat)}
		for _, box := range f.Boxes {
			b.s.Rects = append(b.s.Rects, ground.Rect{X0: box[0].X, Z0: box[0].Z, X1: box[2].X, Z1: box[2].Z, Medium: m})
		}
	}
}

func (b *sliceBuilder) boardMedium(name string) ground.Medium {
	if m, ok := b.h.Plan.Materials[name]; ok {
		return ground.Medium{K: m.Conductivity, C: math.Max(1e3, m.Density*m.SpecificHeat)}
	}
	m, err := material.Lookup(house.Key(name))
	if err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	return ground.Medium{K: m.ConductivityWMK, C: m.VolumeHeat()}
}

func ordered(a, b float64) (float64, float64) { return math.Min(a, b), math.Max(a, b) }

// hole is the room, beds left standing, up to the top of the slice; and where beds rise above grade, the open air beside.
func (b *sliceBuilder) hole() {
	var room []ground.Point
	for i, p := range b.h.Section {
		q := b.h.Section[(i+1)%len(b.h.Section)]
		room = append(room, ground.Point{X: p.X, Z: p.Z})
		if math.Abs(p.Z-b.h.FloorZ) < 1e-9 && math.Abs(q.Z-b.h.FloorZ) < 1e-9 {
			for _, bed := range b.h.BedsAlong(p.X, q.X) {
				room = append(room, ground.Point{X: bed.X0, Z: p.Z}, ground.Point{X: bed.X0, Z: bed.Z}, ground.Point{X: bed.X1, Z: bed.Z}, ground.Point{X: bed.X1, Z: p.Z})
			}
		}
	}
	if room = clipBelow(room, b.s.Z1); len(room) > 2 { // a room that stands on the slice leaves no hole in it
		b.s.Holes = append(b.s.Holes, room)
	}
	if b.s.Z1 > 0 {
		for _, side := range [][2]float64{{b.s.X0, b.h.Front}, {b.h.Back, b.s.X1}} {
			b.s.Holes = append(b.s.Holes, []ground.Point{{X: side[0], Z: 0}, {X: side[1], Z: 0}, {X: side[1], Z: b.s.Z1}, {X: side[0], Z: b.s.Z1}})
		}
	}
}

func clipBelow(poly []ground.Point, z float64) []ground.Point {
	var out []ground.Point
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if p.Z <= z {
			out = append(out, p)
		}
		if (p.Z-z)*(q.Z-z) < 0 {
			f := (z - p.Z) / (q.Z - p.Z)
			out = append(out, ground.Point{X: p.X + f*(q.X-p.X), Z: z})
		}
	}
	return out
}
