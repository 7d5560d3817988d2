package ground

import (
	"math"
	"testing"
	"time"
)

// Ratios by finer volumes of other code: see validation, "Ground under a floor". 3 %: the cells are a third as many along each axis.
func TestSolidRatio(t *testing.T) {
	for _, c := range []struct{ length, breadth, depth, want float64 }{
		{7.3, 3.6, 0, 1.297}, {7.3, 3.6, 1.2, 1.566}, {12, 4, 1.2, 1.381}, {4, 4, 1.2, 2.09},
	} {
		f := Footprint{Breadth: c.breadth, Length: c.length, Depth: c.depth, Wall: 0.3, K: 1.5}
		begin := time.Now()
		got, err := f.SolidRatio()
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%g by %g m, %g m deep: %.3f, ISO 13370 %.3f, %v", c.length, c.breadth, c.depth, got, f.Ratio(), time.Since(begin))
		if math.Abs(got/c.want-1) > 0.03 {
			t.Errorf("%g by %g m, %g m deep: %.3f, want %.3f", c.length, c.breadth, c.depth, got, c.want)
		}
	}
}

// A longer house has less of ends, and none when it is very long; insulation on walls and floor leaves a ratio above 1.
func TestSolidRatioFallsWithLength(t *testing.T) {
	last := math.Inf(1)
	for _, length := range []float64{3, 6, 12, 30, 200} {
		f := Footprint{Breadth: 3.6, Length: length, Depth: 1, Wall: 0.2, K: 1.2, RFloor: 1, RWall: 2}
		got, err := f.SolidRatio()
		if err != nil {
			t.Fatal(err)
		}
		if got >= last || got <= 1 {
			t.Errorf("length %g m: ratio %.4f after %.4f", length, got, last)
		}
		last = got
	}
	if last > 1.03 {
		t.Errorf("200 m long: ratio %.4f", last)
	}
}
