package thermal_test

import (
	"math"
	"testing"

	"suncellar/internal/thermal"
	"suncellar/internal/thermal/modal"
)

const slabCells, slabCell, slabEdge = 40, 5e4, 8.0 // a slab of cells [J/K], joined by edges [W/K]

// slab is a slab between a face in air and a given node, as one body, or its second half apart: as a body, or as modes.
type slab struct {
	net      thermal.Network
	face     thermal.Node
	air, far thermal.Node
	body     *thermal.Body
	join     thermal.JoinID
}

func newSlab(t *testing.T, law thermal.Law, second string) *slab {
	t.Helper()
	s := &slab{}
	n := &s.net
	s.air, s.far = n.Given("air", 5), n.Given("far", 8)
	s.face = n.Add("face", thermal.Law{}, 5)
	s.join = n.Join("air to face", s.air, s.face, 6)
	cells := func(from, to int, law thermal.Law) (c []thermal.Cell, e []thermal.Edge) {
		for i := from; i < to; i++ {
			c = append(c, thermal.Cell{Law: law, T: 5})
			if i > from {
				e = append(e, thermal.Edge{I: i - from, J: i - from - 1, RI: 0.5 / slabEdge, RJ: 0.5 / slabEdge})
			}
		}
		return c, e
	}
	front := thermal.Port{Cell: 0, Node: s.face, R: 0.5 / slabEdge, Flow: "into the slab"}
	if second == "" {
		c, e := cells(0, slabCells, law)
		s.body = n.AddBody("slab", c, e, []thermal.Port{front, {Cell: slabCells - 1, Node: s.far, R: 0.5 / slabEdge, Flow: "from afar"}})
		return s
	}
	const half = slabCells / 2
	knot := n.Inner("middle", 5)
	c, e := cells(0, half, law)
	s.body = n.AddBody("first", c, e, []thermal.Port{front, {Cell: half - 1, Node: knot, R: 0.5 / slabEdge, Flow: "within"}})
	c, e = cells(half, slabCells, thermal.Sensible(slabCell))
	blocks := []thermal.Block{s.body}
	if second == "body" {
		blocks = append(blocks, n.AddBody("second", c, e, []thermal.Port{{Cell: 0, Node: knot, R: 0.5 / slabEdge, Flow: "within"},
			{Cell: half - 1, Node: s.far, R: 0.5 / slabEdge, Flow: "from afar"}}))
	} else {
		m := modal.Body{Count: 2, Ports: []modal.Port{{Cell: 0, Port: 0, R: 0.5 / slabEdge}, {Cell: half - 1, Port: 1, R: 0.5 / slabEdge}}}
		for i := range c {
			m.Capacity, m.Start = append(m.Capacity, slabCell), append(m.Start, 5)
			if i > 0 {
				m.Edges = append(m.Edges, modal.Edge{I: i, J: i - 1, G: slabEdge})
			}
		}
		r, err := modal.Reduce(m)
		if err != nil {
			t.Fatal(err)
		}
		blocks = append(blocks, n.AddModes("second", &r.Model, r.Start, []thermal.Node{knot, s.far}, []string{"within", "from afar"}))
	}
	n.AddCluster("slab", blocks, nil)
	return s
}

// run is weeks of air that swings by day and over weeks, below freezing and above; it gives the face and the middle of the first half, hour
// by hour, and how far the heat is from closing.
func (s *slab) run(t *testing.T) (face, inside []float64, open float64) {
	t.Helper()
	balance := s.net.NewBalance()
	before := 5.0
	for h := range 24 * 40 {
		air := -1 + 8*math.Sin(2*math.Pi*float64(h)/24) + 10*math.Cos(2*math.Pi*float64(h)/(24*25))
		s.net.SetGiven(s.air, before, air)
		before = air
		if err := s.net.Advance(func(thermal.Moment) {}); err != nil {
			t.Fatal(err)
		}
		s.net.AddHour(balance)
		if h%24 == 23 {
			s.net.CloseDay(balance)
		}
		face, inside = append(face, s.net.T(s.face)), append(inside, s.body.T(4))
	}
	rel, _ := s.net.Imbalance(balance)
	if balance.WorstJ > 1 {
		t.Errorf("heat of %s: %g J open on a day", balance.WorstNode, balance.WorstJ)
	}
	return face, inside, rel
}

func rms(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return math.Sqrt(sum / float64(len(a)))
}

// A slab cut in two that meet at an inner node is the slab: to rounding as two bodies, to a few thousandths of a kelvin as a body and modes.
func TestClusterIsTheWhole(t *testing.T) {
	law := thermal.Sensible(slabCell)
	_, whole, _ := newSlab(t, law, "").run(t)
	for _, c := range []struct {
		second string
		within float64
	}{{"body", 1e-9}, {"modes", 3e-3}} {
		_, inside, open := newSlab(t, law, c.second).run(t)
		if d := rms(whole, inside); d > c.within {
			t.Errorf("second half as %s: %g K in the root of the mean square", c.second, d)
		}
		if open > 1e-9 {
			t.Errorf("second half as %s: %g of the heat is open", c.second, open)
		}
	}
}

// The same where the first half freezes and thaws.
func TestClusterFreezes(t *testing.T) {
	law := thermal.Law{Liquid: slabCell, Frozen: slabCell / 2, Latent: 4 * slabCell, Lower: -0.5}
	_, inside, open := newSlab(t, law, "modes").run(t)
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range inside {
		low, high = min(low, v), max(high, v)
	}
	if low > 0.5 || high < 1 {
		t.Fatalf("from %.2f to %.2f °C: the case says nothing of freezing", low, high)
	}
	if open > 1e-9 {
		t.Errorf("%g of the heat is open", open)
	}
}
