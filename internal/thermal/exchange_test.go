package thermal

import (
	"math"
	"testing"
)

const (
	stefan = 5.670374419e-8 // W/m² K⁴, CODATA 2018
	kelvin = 273.15
)

// fourthPower sets the potential of a black surface at t [°C].
func fourthPower(x *Exchange, node int, t float64) {
	k := t + kelvin
	x.SetPotential(node, t, stefan*k*k*k*k, 4*stefan*k*k*k)
}

// A sheet without heat between two black plates, one of 60 °C and one of 0 °C, takes the mean of their fourth powers, and passes half of what they would exchange
// without it; and what is booked is what the warm plate loses. Source: the radiation shield of any textbook of heat transfer, e.g. Incropera and DeWitt, section 13.3.
func TestShieldBetweenPlates(t *testing.T) {
	var n Network
	warm := n.Add("warm", Sensible(1e12), 60)
	shield := n.Add("shield", Law{}, 20)
	cold := n.Add("cold", Sensible(1e12), 0)
	nodes := []Node{warm, shield, cold}
	x := n.AddExchange(nodes, []int{0, 1, 2}, func(low, high int) string { return [3]string{"", "from warm", "to cold"}[high] })
	x.SetAreas(func(i, j int) float64 { return [3]float64{0, 2, 0}[i-j] })
	if err := n.Advance(func(m Moment) {
		for i, id := range nodes {
			fourthPower(x, i, m.T(id))
		}
	}); err != nil {
		t.Fatal(err)
	}
	a, b := math.Pow(60+kelvin, 4), math.Pow(kelvin, 4)
	if got, want := n.T(shield), math.Pow((a+b)/2, 0.25)-kelvin; math.Abs(got-want) > 1e-3 {
		t.Errorf("the shield is at %.5f °C, must be at %.5f", got, want)
	}
	want := 2 * stefan * (a - b) / 2 * HourS
	for _, flow := range []string{"from warm", "to cold"} {
		if got := n.Flows()[n.FlowIndex(flow)].HourJ; math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s: %.0f J, must be %.0f", flow, got, want)
		}
	}
}

// Nothing is exchanged by what no area joins, and nodes of one kind count the later as the giver.
func TestExchangeOfOneKind(t *testing.T) {
	var n Network
	nodes := []Node{n.Add("a", Sensible(1e6), 0), n.Add("b", Sensible(1e6), 30), n.Add("c", Sensible(1e6), -10)}
	x := n.AddExchange(nodes, []int{4, 4, 4}, func(int, int) string { return "among" })
	x.SetAreas(func(i, j int) float64 {
		if i == 1 {
			return 5
		}
		return 0
	})
	if err := n.Advance(func(m Moment) {
		for i, id := range nodes {
			fourthPower(x, i, m.T(id))
		}
	}); err != nil {
		t.Fatal(err)
	}
	if math.Abs(n.T(nodes[2])+10) > 1e-9 {
		t.Errorf("what stands alone came to %g °C", n.T(nodes[2]))
	}
	lost := (30 - n.T(nodes[1])) * 1e6
	if got := n.Flows()[n.FlowIndex("among")].HourJ; lost <= 0 || math.Abs(got-lost) > 1e-3*lost {
		t.Errorf("%.0f J are booked, %.0f were lost", got, lost)
	}
}
