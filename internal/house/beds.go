package house

import (
	"fmt"
	"math"
)

func pathIndex(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

func (r *resolver) beds() {
	h := r.h
	x0 := frontXOf(h)
	for i, b := range r.p.Beds {
		z := h.FloorZ + b.Level
		bed := Bed{Name: b.Name, X0: x0 + b.From, X1: x0 + b.To, Z: z, LeafZ: z + b.Leaf, Planted: b.Planted}
		bed.Area = (bed.X1 - bed.X0) * h.Length
		if !inside(h.Section, Point{(bed.X0 + bed.X1) / 2, bed.LeafZ}) {
			r.fail(pathIndex("beds", i), "lower the bed or the leaves, or move it back", "the leaves of %s, %.2f m above the floor, are not inside the house", b.Name, bed.LeafZ-h.FloorZ)
		}
		floor, ok := h.floorUnder(bed.X0, bed.X1)
		if !ok {
			r.fail(pathIndex("beds", i), "a bed lies on the level floor, clear of the cold sink", "%s, %.2f to %.2f m from the front wall, does not lie on the level floor", b.Name, b.From, b.To)
		} else if h.Faces[floor].Behind != Soil {
			r.fail(pathIndex("beds", i), "a bed's soil is reckoned with the ground: let the floor lie on soil", "%s lies on a floor with no soil under it", b.Name)
		}
		h.Beds = append(h.Beds, bed)
	}
}

func frontXOf(h *House) float64 {
	x := math.Inf(1)
	for _, p := range h.Section {
		if math.Abs(p.Z-h.FloorZ) < 1e-9 {
			x = min(x, p.X)
		}
	}
	return x
}

func inside(poly []Point, at Point) bool {
	in := false
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if (p.Z > at.Z) != (q.Z > at.Z) && at.X < p.X+(q.X-p.X)*(at.Z-p.Z)/(q.Z-p.Z) {
			in = !in
		}
	}
	return in
}
