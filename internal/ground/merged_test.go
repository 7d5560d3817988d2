package ground

import (
	"math"
	"testing"

	"suncellar/internal/thermal"
)

// reducedPit is the pit in wet soil at 6 °C, reduced, with the ground outdoors merged between lines, or not.
func reducedPit(t *testing.T, columns, rows []float64) (*thermal.Network, *Reduced, []thermal.Node) {
	s := pit(1)
	s.Fill = freezingSoil
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{}
	ports, flows := given(net, 8, -5, 8, 8)
	var front, back []float64
	for _, d := range columns {
		front, back = append([]float64{-0.2 - d}, front...), append(back, 4.2+d)
	}
	r, err := m.AddReduced(net, "pit", func(x, z float64) float64 { return 6 }, ports, flows, []Region{
		{Name: "in front", Boxes: []Box{{X0: -8, Z0: -1, X1: -0.2, Z1: 0, LinesX: front, LinesZ: rows}}, KnotsX: []float64{-0.35, -0.6, -1.2, -2.7}},
		{Name: "behind", Boxes: []Box{{X0: 4.2, Z0: -1, X1: 12, Z1: 0, LinesX: back, LinesZ: rows}}, KnotsX: []float64{4.35, 4.6, 5.2, 6.7}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return net, r, ports
}

// Cells taken together hold what they held apart, and a month of frost draws the same heat from the room through far fewer: within 1 %, the
// walls' own within 2 %. The books of both close.
func TestMergedCells(t *testing.T) {
	columns, rows := []float64{0.12, 0.3, 0.5, 0.75, 1.1, 1.6, 2.4, 4}, []float64{-0.87, -0.75, -0.64, -0.54, -0.45, -0.37, -0.3, -0.23, -0.17, -0.11, -0.05}
	month := func(columns, rows []float64) (stored float64, cells int, port []float64) {
		net, _, ports := reducedPit(t, columns, rows)
		balance := net.NewBalance()
		stored = net.Stored()
		_, cells, _ = net.Size()
		port = make([]float64, len(ports))
		outside := func(h int) float64 { return -6 + 5*math.Sin(2*math.Pi*float64(h)/24) }
		for hour := range 24 * 30 {
			net.SetGiven(ports[1], outside(hour), outside(hour+1))
			if err := net.Advance(unchanged); err != nil {
				t.Fatal(err)
			}
			net.AddHour(balance)
			for i := range port {
				port[i] += net.Flows()[net.FlowIndex([]string{"port 0 to ground", "port 1 to ground", "port 2 to ground", "port 3 to ground"}[i])].HourJ
			}
		}
		if rel, _ := net.Imbalance(balance); rel > 1e-9 {
			t.Errorf("imbalance %.2g", rel)
		}
		return stored, cells, port
	}
	apartJ, apartCells, apart := month(nil, nil)
	mergedJ, mergedCells, merged := month(columns, rows)
	if math.Abs(mergedJ/apartJ-1) > 1e-12 {
		t.Errorf("merged cells hold %.6g J, %.6g J apart", mergedJ, apartJ)
	}
	if mergedCells > apartCells*3/4 {
		t.Errorf("%d states, %d apart: hardly any were merged", mergedCells, apartCells)
	}
	for i, allowed := range []float64{0.01, 0.01, 0.02, 0.02} {
		t.Logf("port %d: %.4g MJ, %.4g apart", i, merged[i]/1e6, apart[i]/1e6)
		if d := math.Abs(merged[i]/apart[i] - 1); d > allowed {
			t.Errorf("port %d: off by %.2f %%, allowed %.0f %%", i, 100*d, 100*allowed)
		}
	}
}
