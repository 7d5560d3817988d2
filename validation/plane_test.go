package validation

import (
	"fmt"
	"math"
	"testing"

	"suncellar/internal/exact"
	"suncellar/internal/ground"
	"suncellar/internal/thermal"
)

// steadySlice is a slice in its steady state between given temperatures.
type steadySlice struct {
	*ground.Mesh
	net   *thermal.Network
	body  *thermal.Body
	ports []thermal.Node
}

func steady(t *testing.T, m *ground.Mesh, temperatures ...float64) steadySlice {
	t.Helper()
	net := &thermal.Network{}
	nodes, flows := ports(net, temperatures...)
	body := m.AddTo(net, "slice", func(_, _ float64) float64 { return 0 }, nodes, flows)
	if err := net.Steady(); err != nil {
		t.Fatal(err)
	}
	return steadySlice{m, net, body, nodes}
}

func (s steadySlice) watts(port int) float64 { return s.body.Watts(s.net, s.ports[port]) }

func cut(t *testing.T, s ground.Slice) *ground.Mesh {
	t.Helper()
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestTwoDimensionalConduction(t *testing.T) {
	s := begin(t, "Two-dimensional conduction", "ISO 10211:2017, annex C, cases 1 and 2",
		`Case 1: half a square column, width a, height 2a, 20 °C above, 0 °C left and below, adiabatic right; cells a/40. Case 2: concrete 6 mm over wood and insulation
with a metal web, 0 °C outside (0.06 m2K/W), 20 °C inside (0.11 m2K/W). Both are cut by the mesher that cuts the ground.`)
	const a = 1.0
	one := steady(t, cut(t, ground.Slice{X1: a, Z1: 2 * a, Fill: ground.Medium{K: 1}, Width: 1, Finest: a / 40, Coarsest: a / 40, Rims: []ground.Rim{
		{A: ground.Point{X: 0, Z: 2 * a}, B: ground.Point{X: a, Z: 2 * a}, Port: 0},
		{A: ground.Point{}, B: ground.Point{Z: 2 * a}, Port: 1},
		{A: ground.Point{}, B: ground.Point{X: a}, Port: 1},
	}}), 20, 0)
	largest, n := 0.0, 0
	for _, r := range table(t, "c05_iso10211_case1.csv") {
		for i, want := range r[1:] {
			got := one.TemperatureAt(one.body, a/4*float64(i+1), 2*a-a/4*number(t, r[0]))
			largest = math.Max(largest, math.Abs(got-number(t, want)))
			n++
		}
	}
	s.worst(seen, "case 1, temperatures", n, largest, 0.1, " K").source = "Fourier series; rounded, the standard's printed figures"
	secondCase(t, s)
	s.done(t)
}

func secondCase(t *testing.T, s *section) {
	const mm = 0.001
	rect := func(x1, up, down float64, k float64) ground.Rect {
		return ground.Rect{X1: x1 * mm, Z0: -down * mm, Z1: -up * mm, Medium: ground.Medium{K: k}}
	}
	two := steady(t, cut(t, ground.Slice{X1: 500 * mm, Z0: -47.5 * mm, Fill: ground.Medium{K: 0.029}, Width: 1, Finest: 0.5 * mm, Growth: 0.25, Coarsest: 20 * mm,
		FineX: []float64{0, 1.5 * mm, 15 * mm}, FineZ: []float64{-6 * mm, -11 * mm, -12.5 * mm, -46 * mm},
		Rects: []ground.Rect{rect(500, 0, 6, 1.15), rect(15, 6, 11, 0.12), rect(15, 11, 12.5, 230), rect(1.5, 12.5, 46, 230), rect(500, 46, 47.5, 230)},
		Rims: []ground.Rim{
			{A: ground.Point{}, B: ground.Point{X: 500 * mm}, Port: 0, R: 0.06},
			{A: ground.Point{Z: -47.5 * mm}, B: ground.Point{X: 500 * mm, Z: -47.5 * mm}, Port: 1, R: 0.11},
		}}), 0, 20)
	for _, p := range []struct {
		name          string
		x, down, want float64
	}{{"A", 0, 0, 7.1}, {"B", 500, 0, 0.8}, {"C", 0, 6, 7.9}, {"D", 15, 6, 6.3}, {"E", 500, 6, 0.8},
		{"F", 0, 11, 16.4}, {"G", 15, 11, 16.3}, {"H", 0, 47.5, 16.8}, {"I", 500, 47.5, 18.3}} {
		got := two.TemperatureWith(two.body, p.x*mm, -p.down*mm, func(i int) float64 { return two.net.T(two.ports[i]) })
		s.near(seen, "case 2, point "+p.name, got, p.want, 0.1, " °C")
	}
	s.near(seen, "case 2, heat flow", two.watts(1), 9.5, 0.1, " W/m")
}

func TestGroundUnderAFloor(t *testing.T) {
	s := begin(t, "Ground under a floor", "ISO 13370 (formulas from memory, figures recomputed); NREL/TP-550-43388, 2008, case GC10a after Delsante, Stokes and Walsh 1983",
		"ISO 13370: walls 0.3 m wide. GC10a: floor 12 by 12 m at 30 °C, ground surface 10 °C, straight fall over 0.24 m, 1.9 W/mK.")
	floors(s)
	halfSpace(t, s)
	endsAgainstSolid(t, s)
	s.done(t)
}

func floors(s *section) {
	floor := func(pa, k, r, wall, depth float64) exact.Floor {
		return exact.Floor{Area: 1, Perimeter: pa, WallWidth: 0.3, Conductivity: k, FloorR: r, WallR: wall, Depth: depth}
	}
	for _, c := range []struct {
		name        string
		k, r, depth float64
		pa, want    []float64
	}{
		{"slab, 1.5 W/mK", 1.5, 0, 0, []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1}, []float64{0.126, 0.219, 0.370, 0.495, 0.698, 0.859, 1.051}},
		{"slab, 2.0 W/mK", 2, 0, 0, []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1}, []float64{0.164, 0.282, 0.473, 0.629, 0.878, 1.073, 1.299}},
		{"slab insulated 2.5 m2K/W", 1.5, 2.5, 0, []float64{0.1, 0.3, 1}, []float64{0.122, 0.208, 0.284}},
		{"floor 1.0 m deep", 1.5, 0, 1, []float64{0.1, 0.2, 0.3, 0.5, 0.7, 1}, []float64{0.190, 0.311, 0.406, 0.550, 0.655, 0.767}},
		{"floor 1.5 m deep", 1.5, 0, 1.5, []float64{0.1, 0.2, 0.3, 0.5, 0.7, 1}, []float64{0.180, 0.291, 0.376, 0.500, 0.587, 0.676}},
	} {
		largest := 0.0
		for i, pa := range c.pa {
			largest = math.Max(largest, math.Abs(floor(pa, c.k, c.r, 0, c.depth).FloorU()-c.want[i]))
		}
		s.worst(recomputed, fmt.Sprintf("U of a %s, perimeter over area %g to %g 1/m", c.name, c.pa[0], c.pa[len(c.pa)-1]), len(c.pa), largest, 0.005, " W/m2K")
	}
	for _, c := range []struct {
		r    float64
		want []float64
	}{{0.2, []float64{1.55, 1.16, 0.95, 0.81, 0.71}}, {0.5, []float64{0.98, 0.78, 0.67, 0.58, 0.52}}, {1, []float64{0.61, 0.51, 0.45, 0.41, 0.37}},
		{2, []float64{0.35, 0.30, 0.28, 0.26, 0.24}}, {2.5, []float64{0.29, 0.25, 0.23, 0.22, 0.20}}} {
		largest := 0.0
		for i, z := range []float64{0.5, 1, 1.5, 2, 2.5} {
			largest = math.Max(largest, math.Abs(floor(0.3, 1.5, 0, c.r, z).WallU()-c.want[i]))
		}
		r := s.worst(recomputed, fmt.Sprintf("U of a wall below grade, %g m2K/W, 0.5 to 2.5 m", c.r), 5, largest, 0.0055, " W/m2K")
		r.note = "published to 0.01: 0.005 for the rounding, 0.0005 for one figure (0.7851, handed down as 0.78)"
	}
	pit := ground.Footprint{Breadth: 4, Length: 10, Depth: 1.2, Wall: 0.3, K: 2, RWall: 0.133}
	s.near(recomputed, "pit 4 by 10 m, 1.2 m deep: conductance, by the package that widens the slice", pit.Loss(), 77.4, 0.05, " W/K")
}

// halfSpace is case GC10a: its integral, its slice on the program's mesher, and the slice widened for the ends.
func halfSpace(t *testing.T, s *section) {
	const inside, outside, want = 30.0, 10.0, 2432.597
	pad := exact.Pad{Length: 12, Breadth: 12, WallWidth: 0.24, Conductivity: 1.9}
	s.near(recomputed, "GC10a, closed form", (inside-outside)*pad.HeatFlow(), want, 2.4, " W")
	slice, trial := padSlice(300, 12)
	whole := (inside - outside) * steady(t, cut(t, slice), trial...).watts(0)
	pad.Length = 1e6
	endless := (inside - outside) * 12 * pad.HeatFlow() / 1e6
	s.near(seen, "GC10a made endless, 12 m of it, on the program's mesher", whole, endless, 0.01*endless, " W").source = "the same closed form for a long floor"
	m := cut(t, slice)
	lost := []int{1}
	for i := range trial[2:] {
		lost = append(lost, 2+i)
	}
	if _, err := m.Widen(ground.Ends{Footprint: ground.Footprint{Breadth: 12, Length: 12, Wall: 0.24, K: 1.9}, X0: 0, X1: 12, Trial: trial, Loss: lost}); err != nil {
		t.Fatal(err)
	}
	got := (inside - outside) * steady(t, m, trial...).watts(0)
	s.tell("GC10a, the slice widened for the ends of a finite floor", short(want)+" W", short(got)+" W",
		"not counted: all of the miss is the ratio of finite to endless floor, 1.642 by ISO 13370 with its surface films, 1.718 without; this case has bare surfaces. The bare ratio cannot be had by widening what lies beyond the walls, for the floor keeps its area: bare, it loses most along its edge, which the end walls double")
}

// padSlice is the slice of GC10a: floor (port 0), ground outdoors (port 1), between them the fall in steps (ports 2 on).
func padSlice(reach float64, strips int) (s ground.Slice, trial []float64) {
	const b, w = 12.0, 0.24
	line := func(from, to float64, port int) ground.Rim {
		return ground.Rim{A: ground.Point{X: from}, B: ground.Point{X: to}, Port: port}
	}
	s = ground.Slice{X0: -reach, X1: b + reach, Z0: -reach, Fill: ground.Medium{K: 1.9}, Width: b,
		Finest: w / float64(strips), Growth: 0.25, Coarsest: reach, FineX: []float64{0, b, -w, b + w}, FineZ: []float64{0},
		Rims: []ground.Rim{line(0, b, 0), line(-reach, -w, 1), line(b+w, b+reach, 1)}}
	trial = []float64{1, 0}
	for i := range strips {
		from, to := w*float64(i)/float64(strips), w*float64(i+1)/float64(strips)
		s.Rims = append(s.Rims, line(-from, -to, 2+i), line(b+from, b+to, 2+i))
		trial = append(trial, 1-(float64(i)+0.5)/float64(strips))
	}
	return s, trial
}
