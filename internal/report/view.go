package report

import (
	"math"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
)

// View fills in the house as a block, seen from an azimuth clockwise from straight before its glazing [degrees].
func (t Teller) View(h *house.House, azimuth float64) drawing.View {
	x0, _ := floorSides(h)
	v := drawing.View{Title: "The house and its ground", Sentence: t.sectionWords(h), Faces: t.sectionFaces(h), Length: h.Length, Facing: h.Facing * 180 / math.Pi, Azimuth: azimuth}
	for _, b := range h.Beds {
		v.Beds = append(v.Beds, drawing.Part{Name: b.Name, Outline: box(b.X0, h.FloorZ, b.X1, b.Z)})
	}
	for _, r := range h.Rows {
		left := r.Drums
		for _, d := range drumsAbove(h, r, x0) {
			for tier := range r.Tiers {
				if left == 0 {
					break
				}
				left--
				v.Drums = append(v.Drums, drawing.ViewDrum{Name: d.Name, Across: r.X, Along: d.Along, Base: r.Base + float64(tier)*r.Height, Height: r.Height, Diameter: r.Diameter, Filled: r.Fill})
			}
		}
	}
	return v
}
