package ground

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"suncellar/internal/thermal"
)

// pit is a room of 4 m, 1.2 m below grade, in walls of 0.2 m that stand 0.3 m deeper and are cut off at grade under a wall that
// goes on above: ports are the room's floor 0, outdoors 1, the front wall 2 and the back wall 3.
func pit(parts int) Slice {
	wall := Medium{K: 1.3, C: 2e6}
	return Slice{X0: -8, X1: 12, Z0: -9.2, Z1: 0, Fill: Medium{K: 1.5, C: 2e6}, Width: 10,
		Finest: 0.06, Growth: 0.25, Parts: parts, FineX: []float64{-0.2, 0, 4, 4.2}, FineZ: []float64{0, -1.2},
		Holes: [][]Point{{{0, 0}, {0, -1.2}, {4, -1.2}, {4, 0}}},
		Rects: []Rect{{-0.2, -1.5, 0, 0, wall}, {4, -1.5, 4.2, 0, wall}},
		Rims: []Rim{
			{A: Point{0, -1.2}, B: Point{4, -1.2}, Port: 0, R: 0.17},
			{A: Point{-8, 0}, B: Point{-0.2, 0}, Port: 1, R: 0.04},
			{A: Point{4.2, 0}, B: Point{12, 0}, Port: 1, R: 0.04},
			{A: Point{0, -1.2}, B: Point{0, 0}, Port: 2, R: 0.13},
			{A: Point{4, -1.2}, B: Point{4, 0}, Port: 3, R: 0.13},
		}}
}

// What the usual cutting of a pit costs: the same with every cell halved, at the same places. Inside 10 °C, outdoors -10 °C.
func TestPitHalved(t *testing.T) {
	places := []struct {
		name string
		at   Point
	}{{"floor, 3 cm from the wall", Point{0.03, -1.2}}, {"middle of the floor", Point{2, -1.2}}, {"wall, 3 cm below grade", Point{0, -0.03}}}
	solve := func(parts int) (out float64, at []float64) {
		s := steady(t, pit(parts), 10, -10, 10, 10)
		out = -s.watts(1)
		if in := s.watts(0) + s.watts(2) + s.watts(3); math.Abs(in-out) > 1e-9*in {
			t.Errorf("in %.9f W, out %.9f W", in, out)
		}
		if parts == 1 && (len(s.Cells) > 1400 || s.Band > 35) {
			t.Errorf("%d cells, band %d, want at most 1400 and 35", len(s.Cells), s.Band)
		}
		for _, p := range places {
			at = append(at, s.TemperatureWith(s.body, p.at.X, p.at.Z, s.port))
		}
		t.Logf("%d cells, band %d: %.1f W, %.3f °C", len(s.Cells), s.Band, out, at)
		return out, at
	}
	out1, at1 := solve(1)
	out2, at2 := solve(2)
	if d := math.Abs(out1/out2 - 1); d > 0.01 {
		t.Errorf("heat flow moves by %.2f %%, want at most 1 %%", 100*d)
	}
	for i, p := range places {
		if d := math.Abs(at1[i] - at2[i]); d > 0.1 {
			t.Errorf("%s moves by %.3f K, want at most 0.1 K", p.name, d)
		}
	}
}

// frostyPit is the pit in wet soil at 6 °C, in a network that is ready to run.
func frostyPit(t testing.TB) (*thermal.Network, *thermal.Body, thermal.Node) {
	s := pit(1)
	s.Fill = freezingSoil
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{}
	ports, flows := given(net, 8, -5, 8, 8)
	return net, m.AddTo(net, "pit", func(x, z float64) float64 { return 6 }, ports, flows), ports[1]
}

// The ledger of a pit closes while the soil freezes and thaws daily.
func TestPitLedger(t *testing.T) {
	net, body, outdoors := frostyPit(t)
	balance := net.NewBalance()
	outside := func(hour int) float64 { return -3 + 9*math.Sin(2*math.Pi*float64(hour)/24) - float64(hour)/60 }
	iced := 0.0
	for hour := range 24 * 6 {
		net.SetGiven(outdoors, outside(hour), outside(hour+1))
		if err := net.Advance(unchanged); err != nil {
			t.Fatal(err)
		}
		net.AddHour(balance)
		if hour%24 == 23 {
			net.CloseDay(balance)
		}
	}
	for i := range body.Len() {
		iced += body.IceShare(i)
	}
	if iced < 1 {
		t.Errorf("%.2f cells are frozen, the test wants some", iced)
	}
	if rel, _ := net.Imbalance(balance); rel > 1e-9 || balance.WorstJ > 1 {
		t.Errorf("imbalance %.2g, worst %.2g J at %s", rel, balance.WorstJ, balance.WorstNode)
	}
}

// An hour of a freezing pit, with the steps and factors that it takes.
func BenchmarkPitHour(b *testing.B) {
	net, _, outdoors := frostyPit(b)
	hour := 0
	for b.Loop() {
		at := func(h int) float64 { return -3 + 9*math.Sin(2*math.Pi*float64(h)/24) }
		net.SetGiven(outdoors, at(hour), at(hour+1))
		if err := net.Advance(unchanged); err != nil {
			b.Fatal(err)
		}
		hour++
	}
	b.ReportMetric(float64(net.Stats.Solves)/float64(hour), "solves/op")
	b.ReportMetric(float64(net.Stats.Refactors)/float64(hour), "factors/op")
}

// One factor and one solve of a steady pit, the network's making included.
func BenchmarkPitSteady(b *testing.B) {
	m, err := pit(1).Mesh()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		steadyMesh(b, m, 10, -10, 10, 10)
	}
}

// turned is a bar of 2 by 1 m turned by an angle [°]: long sides at ports 0 and 1 behind r, short sides adiabatic.
func turned(degrees, r, cell float64) (Slice, float64) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	const k, l, d = 2.0, 2.0, 1.0
	corner := func(u, v float64) Point { return Point{u*cos - v*sin, u*sin + v*cos} }
	a, b, c, e := corner(0, 0), corner(l, 0), corner(l, d), corner(0, d)
	s := Slice{X0: e.X, X1: b.X, Z0: a.Z, Z1: c.Z, Fill: Medium{K: k}, Width: 1, Finest: cell, Coarsest: cell,
		Holes: [][]Point{{a, {b.X, a.Z}, b}, {b, {b.X, c.Z}, c}, {c, {e.X, c.Z}, e}, {e, {e.X, a.Z}, a}},
		Rims:  []Rim{{A: a, B: b, Port: 0, R: r}, {A: c, B: e, Port: 1, R: r}}}
	return s, l / (2*r + d/k)
}

// A turned bar conducts as a straight one: its edges are flights of steps, whose error falls with the cell.
func TestSlope(t *testing.T) {
	for _, degrees := range []float64{10, 20, 30, 45, 60, 80} {
		for _, r := range []float64{0, 0.5} {
			for _, row := range []struct{ cell, tolerance float64 }{{0.1, 0.025}, {0.025, 0.01}} {
				slice, want := turned(degrees, r, row.cell)
				s := steady(t, slice, 1, 0)
				if got := s.watts(0); math.Abs(got/want-1) > row.tolerance {
					t.Errorf("%g°, film %g, cell %g m: %.4f W, want %.4f", degrees, r, row.cell, got, want)
				}
				if got := s.RimArea(0); math.Abs(got-2) > 1e-9 {
					t.Errorf("%g°: area %.12f m², want 2", degrees, got)
				}
			}
		}
	}
}

// The half column is smooth but for one corner: halving the cells must cut the mean error by four.
func TestSliceOrder(t *testing.T) {
	failed := func(parts int) float64 {
		s := case1(1, 1)
		s.Finest, s.Coarsest, s.Parts = 1.0/8, 1.0/8, parts
		got := steady(t, s, 20, 0)
		sum := 0.0
		for row := range case1Want {
			x, z := 0.75, 2-float64(row+1)/4
			// between four middles at every size, so that what is compared is the same place
			d := got.TemperatureAt(got.body, x, z) - halfColumn(x, 2-z)
			sum += d * d
		}
		return math.Sqrt(sum / float64(len(case1Want)))
	}
	e1, e2, e4 := failed(1), failed(2), failed(4)
	t.Logf("errors %.3g, %.3g, %.3g K", e1, e2, e4)
	for _, order := range []float64{math.Log2(e1 / e2), math.Log2(e2 / e4)} {
		if order < 1.8 || order > 2.2 {
			t.Errorf("order %.2f, want 2", order)
		}
	}
}

// In a slice between two temperatures the answer is a straight line whatever the cutting: everywhere, faces too.
func TestStraightLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		k1, k2 := draw("k1", 0.03, 3), draw("k2", 0.03, 3)
		film := draw("film", 0, 0.5)
		joint := draw("joint", 0.1, 0.9)
		s := Slice{X1: draw("wide", 0.2, 3), Z0: -1, Fill: Medium{K: k1}, Width: draw("width", 1, 20),
			Finest: draw("finest", 0.02, 0.2), Growth: draw("growth", 0.05, 0.5), FineX: []float64{draw("fine x", -1, 4)}, FineZ: []float64{-joint}}
		s.Rects = []Rect{{0, -1, s.X1, -joint, Medium{K: k2}}}
		s.Rims = []Rim{{A: Point{0, 0}, B: Point{s.X1, 0}, Port: 0, R: film}, {A: Point{0, -1}, B: Point{s.X1, -1}, Port: 1}}
		m, err := s.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		net := &thermal.Network{}
		ports, flows := given(net, 1, 0)
		b := m.AddTo(net, "slice", func(x, z float64) float64 { return 0 }, ports, flows)
		if err := net.Steady(); err != nil {
			t.Fatal(err)
		}
		flux := 1 / (film + joint/k1 + (1-joint)/k2)
		if got, want := b.Watts(net, ports[0]), flux*s.X1*s.Width; math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("flow %g W, want %g", got, want)
		}
		z, x := draw("z", -1, 0), draw("x", 0, 1)*s.X1
		want := (z + 1) / k2 * flux
		if z > -joint {
			want = 1 - (film-z/k1)*flux
		}
		got := m.TemperatureWith(b, x, z, func(p int) float64 { return net.T(ports[p]) })
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("%.12f °C at z %g m, want %.12f", got, z, want)
		}
	})
}

func TestCellAt(t *testing.T) {
	m, err := pit(1).Mesh()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []struct {
		x, z  float64
		solid bool
	}{{2, -0.6, false}, {2, -1.2, true}, {2, -1.3, true}, {0, -0.5, true}, {4, -0.5, true}, {-8, -9.2, true}, {12, 0, true},
		{2, 0, false}, {-8.1, -1, false}, {2, 0.1, false}} {
		c := m.CellAt(p.x, p.z)
		if (c >= 0) != p.solid {
			t.Errorf("(%g, %g): cell %d, solid must be %t", p.x, p.z, c, p.solid)
		}
		if c >= 0 {
			if c := m.Cells[c]; p.x < c.X0-near || p.x > c.X1+near || p.z < c.Z0-near || p.z > c.Z1+near {
				t.Errorf("(%g, %g) is not in %+v", p.x, p.z, c)
			}
		}
	}
	area := 0.0
	for _, c := range m.Cells {
		area += (c.X1 - c.X0) * (c.Z1 - c.Z0)
	}
	if want := 20*9.2 - 4*1.2; math.Abs(area-want) > 1e-9 {
		t.Errorf("cells cover %.12f m², want %g", area, want)
	}
}

// Cells are of the wanted size: finest at fine lines, growing, and between two lines no two neighbours differ by more than they must.
func TestGrading(t *testing.T) {
	s := sizing{finest: 0.05, growth: 0.25, coarsest: 1, fine: []float64{0, 4}, parts: 1}
	lines := s.lines([]float64{-8, 0, 4, 12})
	for i := 1; i < len(lines); i++ {
		size, middle := lines[i]-lines[i-1], (lines[i]+lines[i-1])/2
		// never coarser than asked, never finer than the rounding up to whole cells makes it
		if h := s.at(middle); size > h*1.02 || size < h*0.85 {
			t.Errorf("cell at %.3f m is %.4f m, wanted %.4f", middle, size, h)
		}
		if i > 1 {
			if r := size / (lines[i-1] - lines[i-2]); r > 1.3 || r < 1/1.3 {
				t.Errorf("cell at %.3f m is %.3f times the one before", middle, r)
			}
		}
	}
	s.parts = 2
	halved := s.lines([]float64{-8, 0, 4, 12})
	for i, x := range lines {
		if math.Abs(halved[2*i]-x) > 1e-12 {
			t.Errorf("line %d at %g m is %g m when halved", i, x, halved[2*i])
		}
	}
}

func TestSliceRefuses(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(*Slice)
		says   string
	}{
		{"box", func(s *Slice) { s.X1 = s.X0 }, "box"},
		{"width", func(s *Slice) { s.Width = math.NaN() }, "width is NaN m"},
		{"coarsest", func(s *Slice) { s.Coarsest = 0.01 }, "at least the finest"},
		{"fill", func(s *Slice) { s.Fill.K = -1 }, "fill: conductivity is -1"},
		{"latent", func(s *Slice) { s.Fill.Latent = 1e8 }, "freezes from 0 to 0"},
		{"rectangle", func(s *Slice) { s.Rects[1].X1 = 3 }, "rectangle 1"},
		{"hole", func(s *Slice) { s.Holes[0] = s.Holes[0][:2] }, "hole 0 has 2 corners"},
		{"rim resistance", func(s *Slice) { s.Rims[2].R = -0.1 }, "rim 2: resistance is -0.1"},
		{"rim in the ground", func(s *Slice) { s.Rims[0].A.Z, s.Rims[0].B.Z = -1.3, -1.3 }, "rim 0 from (0, -1.3)"},
		{"all hole", func(s *Slice) { s.Holes = [][]Point{{{-9, 1}, {-9, -10}, {13, -10}, {13, 1}}} }, "no cell"},
	} {
		s := pit(1)
		row.change(&s)
		_, err := s.Mesh()
		if err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v, must say %q", row.name, err, row.says)
		}
	}
}
