package house

import (
	"math"
	"testing"
)

// Footings by hand: the pit's walls are 0.25 m thick, its floor has no thickness, then a slab of 0.1 m.
func TestFootingsByHand(t *testing.T) {
	footings := "ground.footings=[{under: front wall, material: concrete_dense, width: 0.65 m, thickness: 0.3 m}, {under: back wall, material: sandstone, width: 0.25 m, thickness: 0.5 m}, " +
		"{under: row, material: concrete_dense, width: 0.6 m, thickness: 0.15 m}]"
	furniture := []string{"store={rows: [{name: row, drums: 6, at: 3.4 m}]}", footings}
	type want [][4]float64 // x0, z0, x1, z1 of each box
	for name, c := range map[string]struct {
		changes []string
		want    []want
	}{
		"floor without thickness": {nil, []want{
			{{-0.45, -1.5, 0, -1.2}, {0, -1.5, 0.2, -1.2}}, {{4, -1.7, 4.25, -1.2}}, {{3.1, -1.35, 3.7, -1.2}}}},
		"slab": {[]string{"builds.thin={layers: [{material: concrete_dense, thickness: 100 mm}]}"}, []want{
			{{-0.45, -1.5, 0, -1.2}, {0, -1.5, 0.2, -1.3}}, {{4, -1.7, 4.25, -1.2}}, {{3.1, -1.45, 3.7, -1.3}}}},
		"slab as thick as the toe": {[]string{"builds.thin={layers: [{material: concrete_dense, thickness: 300 mm}]}"}, []want{
			{{-0.45, -1.5, 0, -1.2}}, {{4, -1.7, 4.25, -1.2}}, {{3.1, -1.65, 3.7, -1.5}}}},
	} {
		h := resolved(t, at(pit, "45"), append(c.changes, furniture...)...)
		if len(h.Footings) != len(c.want) {
			t.Fatalf("%s: %d footings, want %d", name, len(h.Footings), len(c.want))
		}
		for i, boxes := range c.want {
			f := &h.Footings[i]
			if len(f.Boxes) != len(boxes) || f.Layer.Conductivity < 1.5 || math.Abs(f.Low()-boxes[0][1]) > 1e-9 {
				t.Fatalf("%s: footing under %s: %+v", name, f.Plan.Under, f)
			}
			for k, b := range boxes {
				got := f.Boxes[k]
				for j, v := range []float64{got[0].X, got[0].Z, got[2].X, got[2].Z} {
					if math.Abs(v-b[j]) > 1e-9 {
						t.Errorf("%s: footing under %s, box %d: %v, want %v", name, f.Plan.Under, k, got, b)
						break
					}
				}
			}
		}
	}
}
