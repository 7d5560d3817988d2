package thermal_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"suncellar/internal/thermal"
)

// What is written is the network: as many nodes, verbs, cells and coefficients as it has, with their values.
func TestWrittenNetwork(t *testing.T) {
	s := newSlab(t, thermal.Sensible(slabCell), "")
	if err := s.net.Advance(func(thermal.Moment) {}); err != nil {
		t.Fatal(err)
	}
	var whole, hour bytes.Buffer
	if err := s.net.Write(&whole); err != nil {
		t.Fatal(err)
	}
	if err := s.net.WriteHour(&hour); err != nil {
		t.Fatal(err)
	}
	var net struct {
		Nodes  []struct{ Name string }
		Joins  [][2]int
		Bodies []struct {
			Cells []struct{ T float64 }
			Edges []struct{ I, J int }
		}
	}
	var now struct {
		G []float64
		T []float64
	}
	if err := json.Unmarshal(whole.Bytes(), &net); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(hour.Bytes(), &now); err != nil {
		t.Fatal(err)
	}
	if len(net.Nodes) != 3 || len(net.Joins) != 1 || len(net.Bodies) != 1 || len(net.Bodies[0].Cells) != slabCells || len(net.Bodies[0].Edges) != slabCells-1 {
		t.Errorf("%d nodes, %d joins, %d bodies", len(net.Nodes), len(net.Joins), len(net.Bodies))
	}
	if len(now.G) != 1 || now.G[0] != 6 || now.T[s.face] != s.net.T(s.face) {
		t.Errorf("coefficients %v, temperatures %v", now.G, now.T)
	}
}
