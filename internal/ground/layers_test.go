package ground

import (
	"fmt"
	"math"
	"testing"

	"suncellar/internal/exact"
)

// rippled is two soils under a surface at cos(pi x) °C from x = 0 to 1 m, between planes that let no heat through: each of n strips of the surface is as warm as its
// middle. Below the layer the ground ends at 3 m, where nothing is left of the ripple (exp(-3 pi) is 8e-5).
func rippled(layer, below Medium, thick float64, n int) (Slice, []float64) {
	s := Slice{X1: 1, Z0: -3, Width: 1, Fill: below, Finest: 1 / float64(n), Coarsest: 1 / float64(n),
		Rects: []Rect{{X0: 0, X1: 1, Z0: -thick, Z1: 0, Medium: layer}}}
	var at []float64
	for i := range n {
		x0, x1 := float64(i)/float64(n), float64(i+1)/float64(n)
		s.Rims = append(s.Rims, Rim{A: Point{x0, 0}, B: Point{x1, 0}, Port: i})
		at = append(at, math.Cos(math.Pi*(x0+x1)/2))
	}
	return s, at
}

// Steady heat in two dimensions through two soils, against the transmission matrices of Carslaw & Jaeger (1959) 3.7 with Laplace's equation
// in each: every cell, and its error, which falls with the square of the cell.
func TestTwoSoilsInTwoDimensions(t *testing.T) {
	for _, row := range []struct{ layer, below float64 }{{0.4, 1.8}, {1.8, 0.4}, {1.8, 0.04}} {
		want := exact.Layered{Sheets: []exact.Slab{{Solid: exact.Solid{Conductivity: row.layer}, Thickness: 0.3}}, Deep: exact.Solid{Conductivity: row.below}}
		worst := map[int]float64{}
		for _, n := range []int{20, 40} {
			s, at := rippled(Medium{K: row.layer}, Medium{K: row.below}, 0.3, n)
			got := steady(t, s, at...)
			for i := range got.Cells {
				x, z := got.Cells[i].Middle()
				worst[n] = max(worst[n], math.Abs(got.body.T(i)-want.Ripple(-z, math.Pi)*math.Cos(math.Pi*x)))
			}
		}
		t.Logf("%g upon %g W/mK: %.5f K with cells of 5 cm, %.5f K with 2.5 cm", row.layer, row.below, worst[20], worst[40])
		if worst[40] > 0.002 || math.Abs(math.Log2(worst[20]/worst[40])-2) > 0.2 { // K of 1 K; the order of one soil
			t.Errorf("%g upon %g W/mK: %.5f K with cells of 5 cm, %.5f K with 2.5 cm", row.layer, row.below, worst[20], worst[40])
		}
	}
}

// footed is half a pit of 4 m, 1.2 m deep, in dry sand, its wall 0.2 m of concrete upon a strip of a medium 0.6 m wide and 0.3 m thick; inside is port 0, outdoors port 1.
func footed(strip Medium) Slice {
	sand, concrete := Medium{K: 0.4, C: 1.3e6}, Medium{K: 2.3, C: 2.4e6}
	return Slice{X1: 10, Z0: -9, Fill: sand, Width: 1, Finest: 0.05,
		Rects: []Rect{{X0: 1.8, X1: 2.4, Z0: -1.5, Z1: -1.2, Medium: strip}, {X0: 2, X1: 2.2, Z0: -1.2, Z1: 0, Medium: concrete}},
		Holes: [][]Point{{{0, -1.2}, {2, -1.2}, {2, 0}, {0, 0}}},
		Rims: []Rim{{A: Point{0, -1.2}, B: Point{2, -1.2}, Port: 0, R: 0.17}, {A: Point{2, -1.2}, B: Point{2, 0}, Port: 0, R: 0.13},
			{A: Point{2.2, 0}, B: Point{10, 0}, Port: 1, R: 0.04}}}
}

// The better a footing conducts the more the room loses: on one mesh no join is less, so no loss is (Rayleigh's law of networks); of the sand itself it is not there.
func TestAFootingConducts(t *testing.T) {
	last := 0.0
	for _, k := range []float64{0.04, 0.4, 1, 2.3, 400} {
		got := steady(t, footed(Medium{K: k, C: 2e6}), 1, 0)
		loss := -got.watts(1)
		t.Logf("footing of %g W/mK: %.4f W/mK of half a pit", k, loss)
		if loss <= last {
			t.Errorf("footing of %g W/mK: %.6f W/mK, of less %.6f", k, loss, last)
		}
		if math.Abs(got.watts(0)+got.watts(1)) > 1e-9 {
			t.Errorf("footing of %g W/mK: %.9f W in, %.9f W out", k, got.watts(0), -got.watts(1))
		}
		last = loss
	}
	// a footing of sand is its lines in the mesh alone: what they move is what the cutting costs, and goes with finer cells
	moved := func(parts int) float64 {
		with, without := footed(Medium{K: 0.4, C: 1.3e6}), footed(Medium{K: 0.4, C: 1.3e6})
		without.Rects = without.Rects[1:]
		with.Parts, without.Parts = parts, parts
		return math.Abs(steady(t, with, 1, 0).watts(1)/steady(t, without, 1, 0).watts(1) - 1)
	}
	if once, thrice := moved(1), moved(3); once > 0.01 || thrice > once/2 {
		t.Errorf("footing of sand in sand moves the loss by %.3f %%, with cells a third as large by %.3f %%", 100*once, 100*thrice)
	} else {
		t.Logf("footing of sand in sand moves the loss by %.3f %%, with cells a third as large by %.3f %%", 100*once, 100*thrice)
	}
}

// Layers of the ground's own soil leave the ratio of the ends as it is, to the last bit; a dry layer under the floor and a wet one lie between, and the
// ratio of the mean is near that of the layers.
func TestSolidRatioOfLayers(t *testing.T) {
	layers := func(upper, lower, edge float64) func(float64) float64 {
		return func(depth float64) float64 {
			if depth <= edge {
				return upper
			}
			return lower
		}
	}
	for _, c := range []struct{ length, breadth, depth, edge float64 }{{7.3, 3.6, 1.2, 1.2}, {12, 4, 1.2, 0.5}, {4, 4, 1, 2}, {7.3, 3.6, 0, 0.6}} {
		for _, k := range [][2]float64{{1.5, 1.5}, {0.5, 2}, {2, 0.5}} {
			f := Footprint{Breadth: c.breadth, Length: c.length, Depth: c.depth, Wall: 0.3}
			f.K = (k[0]*c.edge + k[1]*(c.depth+c.breadth-c.edge)) / (c.depth + c.breadth)
			mean, err := f.SolidRatio()
			if err != nil {
				t.Fatal(err)
			}
			f.KAt = layers(k[0], k[1], c.edge)
			got, err := f.SolidRatio()
			if err != nil {
				t.Fatal(err)
			}
			name := fmt.Sprintf("%g by %g m, %g m deep, %g over %g W/mK at %g m", c.length, c.breadth, c.depth, k[0], k[1], c.edge)
			t.Logf("%s: %.4f, with the mean %.4f (%+.1f %%)", name, got, mean, 100*(mean/got-1))
			if k[0] == k[1] && got != mean {
				t.Errorf("%s: one soil in layers has ratio %v, without them %v", name, got, mean)
			}
			if got <= 1 || got >= 2*(1+c.breadth/c.length) {
				t.Errorf("%s: ratio %.4f is not that of a house", name, got)
			}
		}
	}
}
