package ground

import (
	"math"
	"strings"
	"testing"

	"suncellar/internal/exact"
)

// The formulas of ISO 13370 are held by the tables of package exact; here, that both are the same and what the ends make.
func TestFootprint(t *testing.T) {
	for _, f := range []Footprint{
		{Breadth: 4, Length: 10, Depth: 1.2, Wall: 0.3, K: 2, RWall: 0.133},
		{Breadth: 6, Length: 20, Wall: 0.3, K: 1.5},
		{Breadth: 6, Length: 20, Wall: 0.3, K: 1.5, RFloor: 2.5},
		{Breadth: 3, Length: 3, Depth: 2, Wall: 0.4, K: 1.5, RFloor: 5, RWall: 2},
	} {
		want := exact.Floor{Area: f.Breadth * f.Length, Perimeter: 2 * (f.Breadth + f.Length), WallWidth: f.Wall,
			Conductivity: f.K, FloorR: f.RFloor, WallR: f.RWall, Depth: f.Depth}.Conductance()
		if got := f.Loss(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%+v: %.6f W/K, want %.6f", f, got, want)
		}
		if r := f.Ratio(); !(r > 1 && r < f.Turns()) {
			t.Errorf("%+v: ratio %.4f, must be between 1 and the ratio of perimeters, %.4f", f, r, f.Turns())
		}
		f.Length = 1e6
		if r := f.Ratio(); math.Abs(r-1) > 1e-5 {
			t.Errorf("%+v: ratio %.7f, want 1 for an endless house", f, r)
		}
	}
	// pit of 4 by 10 m, 1.2 m deep, ground 2 W/mK, masonry 0.133 m²K/W: 77.4 W/K by hand
	pit := Footprint{Breadth: 4, Length: 10, Depth: 1.2, Wall: 0.3, K: 2, RWall: 0.133}
	if got := pit.Loss(); math.Abs(got-77.4) > 0.05 {
		t.Errorf("pit: %.3f W/K, want 77.4", got)
	}
}

// pad is the slice of case GC10a, NREL/TP-550-43388 (2008), after Delsante, Stokes & Walsh (1983): floor of 12 m at
// temperature 1 (port 0), 0 outdoors (port 1), and between them a straight fall over 0.24 m in steps of 1/strips (ports 2 on).
func pad(reach float64, strips int) (s Slice, trial []float64) {
	const b, w = 12.0, 0.24
	s = Slice{X0: -reach, X1: b + reach, Z0: -reach, Fill: Medium{K: 1.9}, Width: b,
		Finest: w / float64(strips), Growth: 0.25, Coarsest: reach, FineX: []float64{0, b, -w, b + w}, FineZ: []float64{0}}
	s.Rims = []Rim{
		{A: Point{0, 0}, B: Point{b, 0}, Port: 0},
		{A: Point{-reach, 0}, B: Point{-w, 0}, Port: 1},
		{A: Point{b + w, 0}, B: Point{b + reach, 0}, Port: 1},
	}
	trial = []float64{1, 0}
	for i := range strips {
		from, to := w*float64(i)/float64(strips), w*float64(i+1)/float64(strips)
		s.Rims = append(s.Rims, Rim{A: Point{-from, 0}, B: Point{-to, 0}, Port: 2 + i}, Rim{A: Point{b + from, 0}, B: Point{b + to, 0}, Port: 2 + i})
		trial = append(trial, 1-(float64(i)+0.5)/float64(strips))
	}
	return s, trial
}

// Case GC10a: 2432.597 W through the floor of 12 by 12 m, inside 30 °C, outdoors 10 °C. The slice alone knows an endless floor.
func TestWidenPad(t *testing.T) {
	const inside, outside, want = 30.0, 10.0, 2432.597
	s, trial := pad(300, 12)
	cut := func() *Mesh {
		m, err := s.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	loss := func(m *Mesh) float64 { return (inside - outside) * steadyMesh(t, m, trial...).watts(0) }
	slice := loss(cut())
	endless := (inside - outside) * 12 * exact.Pad{Length: 1e6, Breadth: 12, WallWidth: 0.24, Conductivity: 1.9}.HeatFlow() / 1e6
	if math.Abs(slice/endless-1) > 0.01 {
		t.Errorf("endless floor: %.2f W, want %.2f", slice, endless)
	}
	t.Logf("endless floor %.1f W (exact %.1f)", slice, endless)
	ports := []int{1}
	for i := range trial[2:] {
		ports = append(ports, 2+i)
	}
	floor := Footprint{Breadth: 12, Length: 12, Wall: 0.24, K: 1.9}
	ends := Ends{Footprint: floor, X0: 0, X1: 12, Trial: trial, Loss: ports}
	m := cut()
	factor, err := m.Widen(ends)
	if err != nil {
		t.Fatal(err)
	}
	got := loss(m)
	t.Logf("house %.1f W, ratio %.4f, factor %.3f", got, floor.Ratio(), factor)
	if math.Abs(got/want-1) > 0.1 { // the formulas are for houses with films, the case is for bare surfaces
		t.Errorf("%.2f W, want %.3f", got, want)
	}
	// Bare surfaces ask for more: dt is w alone. The ground under a square floor of this size cannot pass it on from
	// cells as wide as the floor, and Widen says so.
	bare := func(b float64) float64 { return math.Log(math.Pi*b/floor.Wall+1) / (math.Pi*b + floor.Wall) }
	ends.Ratio = bare(6) / bare(12)
	if _, err := cut().Widen(ends); err == nil || !strings.Contains(err.Error(), "cannot be had") {
		t.Errorf("ratio %.4f: %v, must be refused", ends.Ratio, err)
	}
}

// A pit's loss is that of its slice times the ratio, its floor is as large as it is, and its walls go once round.
func TestWidenPit(t *testing.T) {
	outdoors := Ends{X0: 0, X1: 4, Trial: []float64{1, 0, 1, 1}, Loss: []int{1}}
	last := math.Inf(1)
	for _, length := range []float64{4, 6, 10, 20, 60} {
		s := pit(1)
		s.Width = length
		m, err := s.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		e := outdoors
		e.Footprint = Footprint{Breadth: 4, Length: length, Depth: 1.2, Wall: 0.2, K: 1.5, RWall: 0.2 / 1.3}
		slice := -steadyMesh(t, m, e.Trial...).watts(1)
		factor, err := m.Widen(e)
		if err != nil {
			t.Fatal(err)
		}
		house := -steadyMesh(t, m, e.Trial...).watts(1)
		f := e.Footprint
		t.Logf("length %g m: slice %.2f W/K, house %.2f (formulas %.2f, %.2f); ratio %.3f, perimeters %.3f, factor %.3f",
			length, slice, house, f.Loss()/f.Ratio(), f.Loss(), f.Ratio(), f.Turns(), factor)
		if math.Abs(house/slice/f.Ratio()-1) > 1e-5 {
			t.Errorf("length %g m: %.6f times the slice, want %.6f", length, house/slice, f.Ratio())
		}
		if factor >= last || factor < 1 {
			t.Errorf("length %g m: factor %.3f after %.3f, a longer house has less of ends", length, factor, last)
		}
		last = factor
		if got, want := m.RimArea(0), 4*length; math.Abs(got-want) > 1e-9 {
			t.Errorf("length %g m: floor %.6f m², want %g", length, got, want)
		}
		if got, want := m.RimArea(3)+m.RimArea(4), 1.2*2*(4+length); math.Abs(got-want) > 1e-9 {
			t.Errorf("length %g m: walls %.6f m², want %g", length, got, want)
		}
	}
}

func TestWidenRefuses(t *testing.T) {
	good := Ends{Footprint: Footprint{Breadth: 4, Length: 10, Depth: 1.2, Wall: 0.2, K: 1.5}, X0: 0, X1: 4, Trial: []float64{1, 0, 1, 1}, Loss: []int{1}}
	for name, change := range map[string]func(*Ends){
		"floor":       func(e *Ends) { e.Footprint.Length = 0 },
		"depth":       func(e *Ends) { e.Footprint.Depth = -1 },
		"no loss":     func(e *Ends) { e.Loss = nil },
		"port":        func(e *Ends) { e.Loss = []int{4} },
		"trial":       func(e *Ends) { e.Trial = e.Trial[:2] },
		"not a ratio": func(e *Ends) { e.Ratio = math.NaN() },
		"too much":    func(e *Ends) { e.Ratio = 50 },
	} {
		m, err := pit(1).Mesh()
		if err != nil {
			t.Fatal(err)
		}
		e := good
		change(&e)
		if _, err := m.Widen(e); err == nil {
			t.Errorf("%s: not refused", name)
		}
		if m.Cells[0].Width != 10 {
			t.Errorf("%s: width is %g m after a refusal, want 10", name, m.Cells[0].Width)
		}
	}
}

// A slab on the ground asks more of the ground beyond its walls the squarer it is and the better its floor is insulated: figures
// of our own, kept so that a change of them is seen.
func TestWidenSlab(t *testing.T) {
	wall := Medium{K: 1.3}
	for _, row := range []struct{ length, floorR, factor float64 }{{4, 0, 10.7}, {4, 1, 59}, {10, 0, 2.05}, {10, 1, 2.45}, {20, 0, 1.42}} {
		s := Slice{X0: -8, X1: 12, Z0: -8, Fill: Medium{K: 1.5}, Width: row.length, Finest: 0.06,
			FineX: []float64{-0.2, 0, 4, 4.2}, FineZ: []float64{0},
			Rects: []Rect{{-0.2, -0.6, 0, 0, wall}, {4, -0.6, 4.2, 0, wall}},
			Rims: []Rim{
				{A: Point{0, 0}, B: Point{4, 0}, Port: 0, R: 0.17 + row.floorR},
				{A: Point{-8, 0}, B: Point{-0.2, 0}, Port: 1, R: 0.04},
				{A: Point{4.2, 0}, B: Point{12, 0}, Port: 1, R: 0.04},
			}}
		m, err := s.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		factor, err := m.Widen(Ends{Footprint: Footprint{Breadth: 4, Length: row.length, Wall: 0.2, K: 1.5, RFloor: row.floorR},
			X0: 0, X1: 4, Trial: []float64{1, 0}, Loss: []int{1}})
		if err != nil || math.Abs(factor/row.factor-1) > 0.01 {
			t.Errorf("length %g m, insulation %g m²K/W: factor %.3f, %v, want %g", row.length, row.floorR, factor, err, row.factor)
		}
	}
}
