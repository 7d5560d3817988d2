package ground

import (
	"math"
	"testing"

	"suncellar/internal/thermal"
)

// slab is earth 3 m wide and 4 m deep between two faces at 0 °C, with a sheet of the whole width at a depth.
func slab(t *testing.T, finest, z, area float64) (*Mesh, *thermal.Network, *thermal.Body, thermal.Node) {
	t.Helper()
	s := Slice{X1: 3, Z0: -4, Fill: Medium{K: 1.5, C: 2e6}, Width: 10, Finest: finest, Coarsest: finest, FineX: []float64{0}, FineZ: []float64{0},
		Rims: []Rim{{A: Point{0, 0}, B: Point{3, 0}, Port: 0}, {A: Point{0, -4}, B: Point{3, -4}, Port: 0}}}
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	if err := m.AddSheets(Sheet{X1: 3, Z: z, Length: 10, Port: 1, Area: area}); err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{}
	face, sheet := net.Given("faces", 0), net.Given("sheet", 10)
	body := m.AddTo(net, "slab", func(x, z float64) float64 { return 0 }, []thermal.Node{face, sheet}, []string{"faces", "sheet"})
	return m, net, body, sheet
}

// A plane source between two faces gives k A T (1/d1 + 1/d2), steadily; in the middle of cells of thickness h ours gives less by the
// resistance h/(12 k A) that it is set behind.
func TestSheetIsAPlaneSource(t *testing.T) {
	for _, h := range []float64{0.4, 0.1} {
		z := -(math.Floor(1.2/h) + 0.5) * h
		_, net, body, sheet := slab(t, h, z, 0)
		if err := net.Steady(); err != nil {
			t.Fatal(err)
		}
		exact := 1.5 * 30 * 10 * (1/-z + 1/(4+z))
		want := 1 / (1/exact + h/(12*1.5*30)/10)
		if got := body.Watts(net, sheet); math.Abs(got/want-1) > 1e-9 || got < 0.9*exact || got > exact {
			t.Errorf("cells of %g m: %.3f W, want %.3f W, exactly %.3f W in the finest", h, got, want, exact)
		}
	}
}

// The soil whose heat is counted elsewhere is missing in the mesh, no more and no less, wherever the lines fall.
func TestSheetTakesItsSoilOut(t *testing.T) {
	heat := func(area float64) float64 {
		_, _, body, _ := slab(t, 0.3, -1.37, area)
		warm := make([]float64, body.Len())
		for i := range warm {
			warm[i] = 1
		}
		body.SetState(warm)
		return body.Stored()
	}
	if got, want := heat(0)-heat(1.3), 1.3*10*2e6; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("%.6g J/K are missing, want %.6g", got, want)
	}
}

func TestSheetRefuses(t *testing.T) {
	s := pit(1)
	for _, c := range []struct {
		what  string
		sheet Sheet
	}{{"in the room", Sheet{X0: 1, X1: 2, Z: -0.5, Length: 1}}, {"half in the room", Sheet{X0: -1, X1: 1, Z: -0.5, Length: 1}},
		{"outside", Sheet{X0: -9, X1: 1, Z: -2, Length: 1}}, {"without width", Sheet{X0: 1, X1: 1, Z: -2, Length: 1}},
		{"without length", Sheet{X0: 1, X1: 2, Z: -2}}, {"no number", Sheet{X0: 1, X1: 2, Z: math.NaN(), Length: 1}}} {
		m, err := s.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		if err := m.AddSheets(c.sheet); err == nil {
			t.Errorf("a sheet %s must be refused", c.what)
		}
	}
}
