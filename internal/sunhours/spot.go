package sunhours

import (
	"fmt"
	"math"

	"suncellar/internal/enclosure"
	"suncellar/internal/house"
)

// Place is a point of the section as it is taken: what lies there, and where on it.
type Place struct {
	X, Z  float64 // [m]
	Of    string  // bed, row of drums; "": the air of the room
	Drums bool
	AboveM,
	GlassM float64 // over the soil of the bed, else over the floor; off the nearest glazing of the section, NaN where there is none [m]
}

// near is how far off a surface a point is set that lies on it [m].
const near = 1e-3

// Take finds the place of a point of the section. What lies in the soil of a bed is taken up to it, what lies in a drum to its side towards the glazing.
// Error: a point that is not in the room.
func (d *Day) Take(x, z float64) (Place, error) {
	h := d.view.h
	p := Place{X: x, Z: z}
	if _, k := d.view.sight.In(enclosure.Point{X: x, Z: z}); k >= 0 {
		if k < len(h.Beds) {
			p.Z = h.Beds[k].Z + near
		} else {
			o := d.rows()[k-len(h.Beds)]
			p.X, p.Of, p.Drums = o.X-o.Diameter/2-near, o.Name, true
		}
	}
	if room, _ := d.view.sight.In(enclosure.Point{X: p.X, Z: p.Z}); !room {
		return p, fmt.Errorf("this point is not in the room of the house")
	}
	p.AboveM = p.Z - h.FloorZ
	for _, b := range h.Beds {
		if !p.Drums && p.X >= b.X0 && p.X <= b.X1 && p.Z >= b.Z && p.Z <= math.Max(b.LeafZ, b.Z+2*near) {
			p.Of, p.AboveM = b.Name, p.Z-b.Z
		}
	}
	p.GlassM = d.offGlazing(p)
	return p, nil
}

// Middle is the place that is taken where none is asked for: the middle of the first bed's soil, else a hand above the middle of the floor.
func (d *Day) Middle() (Place, error) {
	h := d.view.h
	if len(h.Beds) > 0 {
		return d.Take((h.Beds[0].X0+h.Beds[0].X1)/2, h.Beds[0].Z-near)
	}
	x0, x1 := math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
	}
	return d.Take((x0+x1)/2, h.FloorZ+0.1)
}

// rows are the rows that hold drums.
func (d *Day) rows() []house.Row {
	var list []house.Row
	for _, r := range d.view.h.Rows {
		if r.Drums > 0 {
			list = append(list, r)
		}
	}
	return list
}

// offGlazing is how far a place lies from the nearest glazing of the section [m].
func (d *Day) offGlazing(p Place) float64 {
	best := math.NaN()
	for i := range d.view.h.Faces {
		f := &d.view.h.Faces[i]
		if f.End != 0 || f.Glass == nil {
			continue
		}
		dx, dz := f.B.X-f.A.X, f.B.Z-f.A.Z
		t := math.Max(0, math.Min(1, ((p.X-f.A.X)*dx+(p.Z-f.A.Z)*dz)/(dx*dx+dz*dz)))
		if m := math.Hypot(p.X-f.A.X-t*dx, p.Z-f.A.Z-t*dz); !(m >= best) {
			best = m
		}
	}
	return best
}
