package thermal

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// One lump in given surroundings: T = Ta + (T0-Ta) exp(-t/tau). Halving the step must cut the error by four.
func TestOrderOfAccuracy(t *testing.T) {
	run := func(rung int) float64 {
		var n Network
		n.Control = Control{Tolerance: 1e9, Coarsest: rung, Finest: rung + 1}
		air := n.Given("air", -5)
		drum := n.Add("drum", Sensible(870e3), 20)
		n.Join("drum to air", drum, air, 120)
		n.SetGiven(air, -5, -5)
		for range 10 {
			if err := n.Advance(func(Moment) {}); err != nil {
				t.Fatal(err)
			}
		}
		exact := -5 + 25*math.Exp(-10*3600*120/870e3)
		return math.Abs(n.T(drum) - exact)
	}
	for rung := 0; rung < 4; rung++ {
		order := math.Log2(run(rung) / run(rung+1))
		if order < 1.9 || order > 2.1 {
			t.Errorf("rung %d: order %.2f, want 2 (Alexander 1977)", rung, order)
		}
	}
}

// slab makes a one-dimensional body of cells between node at and an adiabatic end, per m².
func slab(n *Network, at Node, k, c, latent, thickness float64, cells int, t0 float64) *Body {
	dx := thickness / float64(cells)
	law := Sensible(c * dx)
	if latent > 0 {
		law = Law{Liquid: c * dx, Frozen: c * dx, Latent: latent * dx, Lower: -0.02, Upper: 0}
	}
	cs := make([]Cell, cells)
	var es []Edge
	for i := range cs {
		cs[i] = Cell{Law: law, T: t0}
		if i > 0 {
			es = append(es, Edge{I: i, J: i - 1, RI: dx / 2 / k, RJ: dx / 2 / k})
		}
	}
	return n.AddBody("slab", cs, es, []Port{{Cell: 0, Node: at, R: dx / 2 / k, Flow: "surface to slab"}})
}

// Step of a semi-infinite solid's surface, Carslaw & Jaeger 2.4: T = erfc(x / (2 sqrt(a t))).
func TestSemiInfiniteStep(t *testing.T) {
	var n Network
	n.Control = Control{Coarsest: 2}
	surface := n.Given("surface", 1)
	n.Add("unused", Sensible(1), 0)
	k, c := 1.5, 1800.0*1100
	b := slab(&n, surface, k, c, 0, 6, 600, 0)
	n.nodes[1].law = Sensible(1)
	n.Join("to surface", 1, surface, 1)
	for range 24 * 7 {
		if err := n.Advance(func(Moment) {}); err != nil {
			t.Fatal(err)
		}
	}
	a := k / c
	for _, x := range []float64{0.105, 0.305, 0.505, 1.005} {
		cell := int(x / 0.01)
		want := math.Erfc(x / (2 * math.Sqrt(a*7*86400)))
		if got := b.T(cell); math.Abs(got-want) > 2e-4 {
			t.Errorf("x %.3f m: %.5f, want %.5f", x, got, want)
		}
	}
}

// One-phase Stefan problem: ice grows on water at 0 °C under a surface at -10 °C; thickness after 24 h and 240 h is
// 0.11077 and 0.35029 m (similarity solution, lambda 0.17549; k 2.22, rho 917, c 2100, L 334 kJ/kg).
func TestStefanFront(t *testing.T) {
	var n Network
	surface := n.Given("surface", -10)
	x := n.Add("air", Sensible(1), 0)
	n.Join("air to surface", x, surface, 1)
	b := slab(&n, surface, 2.22, 917*2100, 917*334e3, 0.5, 250, 0)
	front := func() float64 {
		ice := 0.0
		for i := range b.Len() {
			ice += b.IceShare(i) * 0.002
		}
		return ice
	}
	bal := n.NewBalance()
	for h := 1; h <= 240; h++ {
		if err := n.Advance(func(Moment) {}); err != nil {
			t.Fatal(err)
		}
		n.AddHour(bal)
		want := map[int]float64{24: 0.11077, 240: 0.35029}[h]
		if want > 0 && math.Abs(front()/want-1) > 0.01 {
			t.Errorf("%d h: front %.5f m, want %.5f", h, front(), want)
		}
	}
	if j := openJ(&n, bal); j > 1e-3 {
		t.Errorf("the account is open by %g J", j)
	}
}

// openJ is |in - out - stored| [J].
func openJ(n *Network, b *Balance) float64 {
	_, stored := n.Imbalance(b)
	sum := -stored
	in, out := n.InOut(b)
	for _, v := range in {
		sum += v
	}
	for _, v := range out {
		sum -= v
	}
	return math.Abs(sum)
}

// A join that is solved for but not booked, or booked twice, must show in the account and at its node.
func TestForgottenFlowIsCaught(t *testing.T) {
	for _, factor := range []float64{0, 2} {
		var n Network
		out := n.Given("outside", -10)
		drum := n.Add("drum", Sensible(870e3), 8)
		n.Join("drum to air", drum, out, 10)
		leak := n.Join("leak", drum, out, 5)
		bal := n.NewBalance()
		for range 24 {
			if err := n.Advance(func(Moment) {}); err != nil {
				t.Fatal(err)
			}
			n.flows[n.joins[leak].flow].HourJ *= factor
			n.AddHour(bal)
		}
		if openJ(&n, bal) < 1e5 {
			t.Errorf("a flow booked %g times was not noticed", factor)
		}
	}
}

// random makes a network of every verb, with freezing nodes and a freezing body, from random numbers.
func random(t *rapid.T) (*Network, func(Moment)) {
	n := &Network{}
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	out := n.Given("outside", -5)
	n.SetGiven(out, f("out0", -30, 10), f("out1", -30, 10))
	count := rapid.IntRange(2, 8).Draw(t, "nodes")
	ids := []Node{out}
	for i := range count {
		law := Sensible(f("c", 1e3, 1e6))
		switch rapid.IntRange(0, 2).Draw(t, "law") {
		case 0:
			law = Law{Liquid: 4e5, Frozen: 2e5, Latent: 3e7, Lower: -0.1, Upper: 0}
		case 1:
			law = Law{}
		}
		id := n.Add(fmt.Sprint("node ", i), law, f("t", -3, 15))
		n.Join(fmt.Sprint("ladder ", i), ids[len(ids)-1], id, f("g", 1, 200))
		ids = append(ids, id)
	}
	n.Control.Coarsest = rapid.IntRange(0, 2).Draw(t, "rung")
	last := ids[len(ids)-1]
	slab(n, last, 1.2, 2e6, 7e7, 0.5, 12, f("soil", -1, 6))
	in := n.Carry("air change", out, ids[1])
	ex := n.Carry("air change", ids[1], out)
	sun := n.Inject("sun", last)
	w, q, area := f("w", 0, 100), f("q", 0, 2000), f("area", 0, 30)
	x := n.AddExchange(ids[1:], make([]int, count), func(int, int) string { return "longwave" })
	x.SetAreas(func(i, j int) float64 { return area * float64(i-j) })
	return n, func(m Moment) {
		for i, id := range ids[1:] {
			fourthPower(x, i, m.T(id))
		}
		n.SetCarry(in, w)
		n.SetCarry(ex, w)
		n.SetInject(sun, q*(1+0.1*m.T(last)/50))
	}
}

func TestLedgerClosesOnRandomNetworks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, coef := random(t)
		bal := n.NewBalance()
		for range 30 {
			if err := n.Advance(coef); err != nil {
				t.Fatal(err)
			}
			n.AddHour(bal)
		}
		n.CloseDay(bal)
		if j := openJ(n, bal); j > 0.1 {
			t.Fatalf("the account is open by %g J", j)
		}
		if bal.WorstJ > 0.1 {
			t.Fatalf("%s: %g J", bal.WorstNode, bal.WorstJ)
		}
	})
}
