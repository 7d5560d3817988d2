package thermal

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// water of m kg, freezing over a tenth of a kelvin.
func water(m float64) Law {
	return Law{Liquid: 4192 * m, Frozen: 2050 * m, Latent: 333.5e3 * m, Lower: -0.1, Upper: 0}
}

// Two waters poured together: (m1 T1 + m2 T2)/(m1 + m2); taking some away moves no temperature; ice keeps its mass when water leaves it, and
// melts by what warm water brings.
func TestResizeByHand(t *testing.T) {
	for _, c := range []struct {
		what       string
		m, at      float64 // before [kg], [°C]
		to, heat   float64 // after [kg], heat that comes [J]
		want, ice  float64 // [°C], [kg]
		within, kg float64
	}{
		{"poured together", 300, 10, 400, 100 * 4192 * 2, 8, 0, 1e-12, 1e-9},
		{"taken away", 300, 10, 60, -240 * 4192 * 10, 10, 0, 1e-12, 1e-9},
		{"water taken from half ice", 300, -0.05, 200, 0, -0.075, 150, 1e-12, 1e-9},
		{"ice melted by warm water", 300, -0.05, 300 + 100, 100 * 4192 * 20, -0.1 * (150 - 100*4192*20/333.5e3) / 400, 150 - 100*4192*20/333.5e3, 1e-12, 1e-9},
	} {
		var n Network
		x := n.Exchange("poured")
		drum := n.Add("drum", water(c.m), c.at)
		n.Resize(drum, water(c.to), c.heat, x)
		law := n.Law(drum)
		if got := n.T(drum); math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %.12g °C, want %.12g", c.what, got, c.want)
		}
		if ice := law.IceShare(n.T(drum)) * c.to; math.Abs(ice-c.ice) > c.kg {
			t.Errorf("%s: %.9g kg of ice, want %.9g", c.what, ice, c.ice)
		}
	}
}

// Books of node, day and whole stay closed while the laws of nodes change at random between hours, freezing and thawing among them; the flow
// of the hour is what was moved before it.
func TestResizeKeepsTheBooks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var n Network
		air := n.Given("air", -8)
		x := n.Exchange("poured")
		var drums []Node
		mass := []float64{200, 80, 3}
		for i, m := range mass {
			drums = append(drums, n.Add("drum", water(m), 2))
			n.Join("drum to air", drums[i], air, 5+20*float64(i))
		}
		skin := n.Add("skin", Law{}, 0)
		n.Join("skin to drum", skin, drums[0], 3)
		n.Join("skin to air", skin, air, 3)
		b := n.NewBalance()
		for h := range 72 {
			moved := 0.0
			n.SetGiven(air, -8, rapid.Float64Range(-25, 8).Draw(t, "air"))
			if rapid.Bool().Draw(t, "move") {
				k := rapid.IntRange(0, 2).Draw(t, "drum")
				to := rapid.Float64Range(0.5, 300).Draw(t, "mass")
				heat := 4192 * (to - mass[k]) * math.Max(0, n.T(drums[k]))
				n.Resize(drums[k], water(to), heat, x)
				mass[k], moved = to, heat
			}
			if err := n.Advance(func(Moment) {}); err != nil {
				t.Fatal(err)
			}
			if got := n.Flows()[n.FlowIndex("poured")].HourJ; math.Abs(got-moved) > 1e-6 {
				t.Fatalf("hour %d: %g J booked, %g moved", h, got, moved)
			}
			n.AddHour(b)
			if h%24 == 23 {
				n.CloseDay(b)
			}
		}
		if rel, _ := n.Imbalance(b); rel > 1e-9 {
			t.Errorf("%.2g of the heat is missing", rel)
		}
		if b.WorstJ > 1 {
			t.Errorf("%s is open by %.2g J", b.WorstNode, b.WorstJ)
		}
	})
}

// What is not booked shows: heat brought by Resize counts in the books of the node and of the whole.
func TestResizeIsBooked(t *testing.T) {
	var n Network
	x := n.Exchange("poured")
	drum := n.Add("drum", water(10), 5)
	other := n.Add("other", water(1), 5)
	n.Join("drum to other", drum, other, 1)
	b := n.NewBalance()
	n.Resize(drum, water(20), 10*4192*7, x)
	if err := n.Advance(func(Moment) {}); err != nil {
		t.Fatal(err)
	}
	n.AddHour(b)
	if in, _ := n.InOut(b); in["poured"] != 10*4192*7 {
		t.Errorf("%g J came in by the books, want %d", in["poured"], 10*4192*7)
	}
	for _, f := range []func(){
		func() { n.Resize(drum, Law{}, 0, x) },
		func() { n.Resize(drum, water(1), math.NaN(), x) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("a law without capacity or heat that is no number goes through")
				}
			}()
			f()
		}()
	}
}
