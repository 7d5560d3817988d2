package ground

import (
	"fmt"
	"math"
	"testing"

	"suncellar/internal/exact"
	"suncellar/internal/thermal"
)

// given makes one given node per temperature and a flow name for each.
func given(net *thermal.Network, temperatures ...float64) (ports []thermal.Node, flows []string) {
	for i, t := range temperatures {
		ports = append(ports, net.Given(fmt.Sprintf("port %d", i), t))
		flows = append(flows, fmt.Sprintf("port %d to ground", i))
	}
	return ports, flows
}

// solved is a slice in its steady state.
type solved struct {
	*Mesh
	net   *thermal.Network
	body  *thermal.Body
	ports []thermal.Node
}

func (s solved) watts(port int) float64 { return s.body.Watts(s.net, s.ports[port]) }

func (s solved) port(i int) float64 { return s.net.T(s.ports[i]) }

func steady(t testing.TB, s Slice, temperatures ...float64) solved {
	t.Helper()
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	return steadyMesh(t, m, temperatures...)
}

func steadyMesh(t testing.TB, m *Mesh, temperatures ...float64) solved {
	t.Helper()
	net := &thermal.Network{}
	ports, flows := given(net, temperatures...)
	body := m.AddTo(net, "slice", func(x, z float64) float64 { return 0 }, ports, flows)
	if err := net.Steady(); err != nil {
		t.Fatal(err)
	}
	return solved{m, net, body, ports}
}

// case1 is the half of a square column, ISO 10211:2017 annex C case 1: 20 °C on top (port 0), 0 °C on the left and below
// (port 1), the right adiabatic.
func case1(a float64, parts int) Slice {
	return Slice{X1: a, Z1: 2 * a, Fill: Medium{K: 1}, Width: 1, Finest: a / 40, Coarsest: a / 40, Parts: parts, Rims: []Rim{
		{A: Point{0, 2 * a}, B: Point{a, 2 * a}, Port: 0},
		{A: Point{0, 0}, B: Point{0, 2 * a}, Port: 1},
		{A: Point{0, 0}, B: Point{a, 0}, Port: 1},
	}}
}

// case1Want are the temperatures printed in the standard: rows downward at steps of a/4, columns at a/4 to a.
var case1Want = [7][4]float64{
	{9.7, 13.4, 14.7, 15.1},
	{5.3, 8.6, 10.3, 10.8},
	{3.2, 5.6, 7.0, 7.5},
	{2.0, 3.6, 4.7, 5.0},
	{1.3, 2.3, 3.0, 3.2},
	{0.7, 1.4, 1.8, 1.9},
	{0.3, 0.6, 0.8, 0.9},
}

func TestISO10211Case1(t *testing.T) {
	const a = 1.0
	s := steady(t, case1(a, 1), 20, 0)
	for row, line := range case1Want {
		for column, want := range line {
			x, z := a/4*float64(column+1), 2*a-a/4*float64(row+1)
			// allowed by the standard: 0.1 K
			if got := s.TemperatureAt(s.body, x, z); math.Abs(got-want) > 0.1 {
				t.Errorf("row %d column %d: %.3f °C, want %.1f", row+1, column+1, got, want)
			}
		}
	}
}

// case2 is the wall with a metal web, ISO 10211:2017 annex C case 2, outside above (port 0, 0.06 m²K/W), inside below (port 1, 0.11).
// z is 0 at the outside face; lengths in m.
func case2(parts int) Slice {
	const mm = 0.001
	metal, wood := Medium{K: 230}, Medium{K: 0.12}
	return Slice{X1: 500 * mm, Z0: -47.5 * mm, Fill: Medium{K: 0.029}, Width: 1, Parts: parts,
		Finest: 0.5 * mm, Growth: 0.25, Coarsest: 20 * mm,
		FineX: []float64{0, 1.5 * mm, 15 * mm}, FineZ: []float64{-6 * mm, -11 * mm, -12.5 * mm, -46 * mm},
		Rects: []Rect{
			{X1: 500 * mm, Z0: -6 * mm, Medium: Medium{K: 1.15}},
			{X1: 15 * mm, Z0: -11 * mm, Z1: -6 * mm, Medium: wood},
			{X1: 15 * mm, Z0: -12.5 * mm, Z1: -11 * mm, Medium: metal},
			{X1: 1.5 * mm, Z0: -46 * mm, Z1: -12.5 * mm, Medium: metal},
			{X1: 500 * mm, Z0: -47.5 * mm, Z1: -46 * mm, Medium: metal},
		},
		Rims: []Rim{
			{A: Point{0, 0}, B: Point{500 * mm, 0}, Port: 0, R: 0.06},
			{A: Point{0, -47.5 * mm}, B: Point{500 * mm, -47.5 * mm}, Port: 1, R: 0.11},
		}}
}

// case2Want are the temperatures printed in the standard [°C] at places [mm, downward from outside].
var case2Want = []struct {
	name    string
	x, down float64
	want    float64
}{
	{"A", 0, 0, 7.1}, {"B", 500, 0, 0.8}, {"C", 0, 6, 7.9}, {"D", 15, 6, 6.3}, {"E", 500, 6, 0.8},
	{"F", 0, 11, 16.4}, {"G", 15, 11, 16.3}, {"H", 0, 47.5, 16.8}, {"I", 500, 47.5, 18.3},
}

func TestISO10211Case2(t *testing.T) {
	s := steady(t, case2(1), 0, 20)
	for _, p := range case2Want {
		got := s.TemperatureWith(s.body, p.x/1000, -p.down/1000, s.port)
		// allowed by the standard: 0.1 K
		if math.Abs(got-p.want) > 0.1 {
			t.Errorf("point %s: %.3f °C, want %.1f", p.name, got, p.want)
		}
	}
	// 9.5 W/m, allowed by the standard: 0.1 W/m
	if q := s.watts(1); math.Abs(q-9.5) > 0.1 {
		t.Errorf("heat flow %.4f W/m, want 9.5", q)
	}
	if in, out := s.watts(1), s.watts(0); math.Abs(in+out) > 1e-9*in {
		t.Errorf("in %.12f W/m, out %.12f W/m", in, -out)
	}
}

// halfColumn is the exact answer of case 1 for a = 1 at x from the cold side and depth below the warm edge [°C].
func halfColumn(x, depth float64) float64 { return exact.HalfColumn(20, x, depth) }
