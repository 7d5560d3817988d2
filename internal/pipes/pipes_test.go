package pipes_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/pipes"
	"suncellar/internal/thermal"
)

// row is one wanted value: got is ours, allowed the largest |got - want|.
type row struct {
	what               string
	got, want, allowed float64
}

func check(t *testing.T, rows ...row) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.allowed) {
			t.Errorf("%s: got %.6g, want %.6g within %.2g", r.what, r.got, r.want, r.allowed)
		}
	}
}

const sea = 101325.0

// cool is air at 5 °C: U.S. Standard Atmosphere 1976.
var cool = pipes.Fluid{Density: 1.27, Viscosity: 1.75e-5, Conductivity: 0.0246, Heat: 1006}

// drain is a common length of buried pipe; own choice.
func drain() pipes.Tube {
	return pipes.Tube{Diameter: 0.1, Length: 8, Roughness: 1.5e-6, Fittings: 3}
}

// Colebrook's formula is satisfied by what is returned, and Hagen and Poiseuille's law is met.
func TestFriction(t *testing.T) {
	for _, re := range []float64{4e3, 1e5, 1e8} {
		for _, e := range []float64{0, 1e-4, 0.05} {
			f := pipes.Colebrook(re, e)
			left := 1/math.Sqrt(f) + 2*math.Log10(e/3.7+2.51/(re*math.Sqrt(f)))
			check(t, row{"Colebrook's equation", left, 0, 1e-8})
		}
	}
	still := drain()
	still.Fittings = 0.5
	v := 0.1 // Re 726
	poiseuille := 32 * cool.Viscosity * still.Length * v / (still.Diameter * still.Diameter)
	check(t, row{"laminar loss", still.Loss(cool, v) - 0.5*cool.Density/2*v*v, poiseuille, 1e-12},
		row{"the other way", still.Loss(cool, -v), -still.Loss(cool, v), 1e-15},
		row{"standing", still.Loss(cool, 0), 0, 0})
}

// Loss rises with speed and neither it nor the film jumps, through the change from laminar to turbulent too.
func TestLossRisesSmoothly(t *testing.T) {
	p := drain()
	before, film := 0.0, p.Film(cool, 0.001)
	for v := 0.002; v < 3; v *= 1.001 {
		loss, h := p.Loss(cool, v), p.Film(cool, v)
		if !(loss > before) {
			t.Fatalf("loss falls from %g to %g Pa at %g m/s", before, loss, v)
		}
		if before > 0 && loss > 1.01*before || h > 1.02*film || h < 0.999*film {
			t.Fatalf("a jump at %g m/s: loss %g to %g Pa, film %g to %g", v, before, loss, film, h)
		}
		before, film = loss, h
	}
}

// A slug of air in a tube of one wall temperature: the exact answer is exp(-NTU), however many parts the tube is cut into.
func TestAlongIsExact(t *testing.T) {
	p := drain()
	ntu := p.NTU(cool, 0.4)
	want := 8 + (-12-8)*math.Exp(-ntu)
	for _, n := range []int{1, 4, 6} {
		walls := make([]float64, n)
		for i := range walls {
			walls[i] = 8
		}
		b := math.Exp(-ntu / float64(n))
		check(t, row{"in parts", pipes.Along(-12, walls, b, 1), want, 1e-12}, row{"backward", pipes.Along(-12, walls, b, -1), want, 1e-12})
	}
	check(t, row{"whole", pipes.Outlet(-12, 8, ntu), want, 1e-12},
		row{"from the first", pipes.Along(0, []float64{1, 2}, 0, 1), 2, 0}, row{"from the last", pipes.Along(0, []float64{1, 2}, 0, -1), 1, 0})
	slow := pipes.Tube{Diameter: 0.1, Length: 1000, Fittings: 1}
	check(t, row{"laminar film far from the entrance", slow.Film(cool, 0.05) * 0.1 / cool.Conductivity, 3.66, 0.02})
}

// loop is a loop under a house: in low, out high, the tube 1.5 m below the lower opening.
func loop() pipes.Path { return pipes.Path{Tube: drain(), RiseA: 1.5, RiseB: 3} }

// housed is a house of one temperature round a tube of one.
func housed(p pipes.Path, house, wall float64) *pipes.Around {
	return &pipes.Around{Pressure: sea, AC: house, BC: house, Head: pipes.AirDensity(house, sea) * (p.RiseB - p.RiseA),
		Walls: []float64{wall, wall, wall, wall}, Air: cool}
}

// A loop moves where the house is colder than the tube, from the low opening to the high one; with one temperature it stands, and where
// the tube is the colder its air lies in it like water in a pit.
func TestLoop(t *testing.T) {
	p := loop()
	check(t, row{"one temperature", p.Flow(housed(p, 7, 7)), 0, 0}, row{"tube colder", p.Flow(housed(p, 20, 7)), 0, 0})
	if v := p.Flow(housed(p, 0, 8)); !(v > 0.05 && v < 1) {
		t.Errorf("house at 0 and tube at 8 °C: %g m/s, want some decimetres a second", v)
	}
	turned := p
	turned.RiseA, turned.RiseB = p.RiseB, p.RiseA
	check(t, row{"turned round", turned.Flow(housed(turned, 0, 8)), -p.Flow(housed(p, 0, 8)), 1e-7})
	level := p
	level.RiseA = level.RiseB
	check(t, row{"openings equally high", level.Flow(housed(level, 0, 8)), 0, 0})
}

// An inlet from outdoors into a house: it draws in while outdoors is the colder, stands when all are equal, and lets out when outdoors
// is the warmer.
func TestInletTurnsBack(t *testing.T) {
	p := pipes.Path{Tube: drain(), RiseA: 2, RiseB: 2}
	around := func(out, in float64) *pipes.Around {
		return &pipes.Around{Pressure: sea, AC: out, BC: in, Air: cool, Walls: []float64{(out + in) / 2, (out + in) / 2},
			Head: pipes.AirDensity(out, sea)*1 - pipes.AirDensity(in, sea)*1} // neutral level 1 m above both
	}
	if in, out := p.Flow(around(-10, 10)), p.Flow(around(25, 10)); !(in > 0.1 && out < -0.1) {
		t.Errorf("cold outdoors %g m/s, must come in; warm outdoors %g m/s, must go out", in, out)
	}
	check(t, row{"all equal", p.Flow(around(10, 10)), 0, 0})
}

// What is found uses up the drive; it moves without a jump as the house passes the tube's temperature; and a fan does as its line says.
func TestFlowIsTheRoot(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := pipes.Path{Tube: pipes.Tube{Diameter: rapid.Float64Range(0.05, 0.4).Draw(r, "d"), Length: rapid.Float64Range(2, 40).Draw(r, "l"),
			Roughness: rapid.Float64Range(0, 2e-3).Draw(r, "e"), Fittings: rapid.Float64Range(0.5, 10).Draw(r, "k")},
			RiseA: rapid.Float64Range(0.3, 3).Draw(r, "a")}
		p.RiseB = p.RiseA * rapid.Float64Range(1.3, 3).Draw(r, "b")
		a := housed(p, rapid.Float64Range(-30, 15).Draw(r, "house"), rapid.Float64Range(-10, 20).Draw(r, "wall"))
		if rapid.Bool().Draw(r, "fan") {
			a.Fan = pipes.Fan{Shut: rapid.Float64Range(1, 100).Draw(r, "shut"), Free: rapid.Float64Range(0.2, 5).Draw(r, "free")}
		}
		v := p.Flow(a)
		if v < 0 {
			r.Fatalf("%g m/s: nothing drives it back", v)
		}
		drive := func(v float64) float64 {
			d := p.Drive(a, v, 1) - p.Loss(cool, v)
			if a.Fan.Shut > 0 {
				d += a.Fan.Shut * (1 - v/a.Fan.Free)
			}
			return d
		}
		if v == 0 {
			if drive(0) > 1e-9 {
				r.Fatalf("it stands against %g Pa", drive(0))
			}
			return
		}
		if !(drive(0.999*v) > 0 && drive(1.001*v) < 0) {
			r.Fatalf("%g m/s leaves %g Pa, a little less %g, a little more %g", v, drive(v), drive(0.999*v), drive(1.001*v))
		}
		for k := 1.0; k < 40; k++ {
			if drive(v*k/40) < 0 || drive(v*(1+k)) > 0 {
				r.Fatalf("%g m/s is not the only root", v)
			}
		}
	})
	p := loop()
	before := 0.0
	for house := 7.2; house > 5; house -= 0.001 {
		v := p.Flow(housed(p, house, 7))
		if v < before || v > before+0.004 {
			t.Fatalf("flow goes from %g to %g m/s within 0.001 K at %g °C", before, v, house)
		}
		before = v
	}
	if before == 0 {
		t.Error("two kelvins drive nothing")
	}
}

// What condenses leaves no part below its wall's saturation, and the line given with it is that of a small change.
func TestCondensing(t *testing.T) {
	saturated := []float64{0.004, 0.006, 0.0045}
	take := make([]float64, 3)
	b := pipes.WetBypass(math.Exp(-0.7))
	sum, slope := pipes.Condensing(0.0055, saturated, b, 1, take)
	first := (1 - b) * 0.0015
	check(t, row{"first part", take[0], first, 1e-15}, row{"a wall above the dew point", take[1], 0, 0},
		row{"third", take[2], (1 - b) * math.Max(0, 0.0055-first-0.0045), 1e-15}, row{"sum", sum, take[0] + take[1] + take[2], 1e-15})
	more, _ := pipes.Condensing(0.00551, saturated, b, 1, take)
	check(t, row{"slope", (more - sum) / 1e-5, slope, 1e-6})
	if dry, flat := pipes.Condensing(0.003, saturated, b, -1, take); dry != 0 || flat != 0 || take[0] != 0 {
		t.Errorf("dry air gives %g", dry)
	}
	check(t, row{"all of it in a long tube", mustSum(pipes.Condensing(0.01, []float64{0.004}, 0, -1, take[:1])), 0.006, 1e-15})
}

func mustSum(sum, _ float64) float64 { return sum }

// soilBody is the rings of soil of one metre of tube as a body between its wall and its outermost bound.
func soilBody(t *testing.T, net *thermal.Network, r pipes.Rings, k, c, start float64, wall, far thermal.Node) *thermal.Body {
	t.Helper()
	var cells []thermal.Cell
	var edges []thermal.Edge
	for i := range r.Len() {
		cells = append(cells, thermal.Cell{Law: thermal.Sensible(c * r.Area(i)), T: start})
		if i > 0 {
			edges = append(edges, thermal.Edge{I: i, J: i - 1, RI: r.Half(i, k), RJ: r.Half(i-1, k)})
		}
	}
	ports := []thermal.Port{{Cell: 0, Node: wall, R: r.Half(0, k), Flow: "in"}}
	if far >= 0 {
		ports = append(ports, thermal.Port{Cell: r.Len() - 1, Node: far, R: r.Half(r.Len()-1, k), Flow: "out"})
	}
	return net.AddBody("rings", cells, edges, ports)
}

// Steady heat through the rings is 2 pi k dT/ln(r2/r1), whatever their number: textbook.
func TestRingsAreExactWhenSteady(t *testing.T) {
	const k = 1.3
	want := 2 * math.Pi * k * 10 / math.Log(0.5/0.055)
	for _, n := range []int{1, 2, 6, 20} {
		r, err := pipes.NewRings(0.055, 0.5, n)
		if err != nil {
			t.Fatal(err)
		}
		var net thermal.Network
		wall, far := net.Given("wall", 12), net.Given("far", 2)
		b := soilBody(t, &net, r, k, 2e6, 5, wall, far)
		if err := net.Steady(); err != nil {
			t.Fatal(err)
		}
		area := 0.0
		for i := range n {
			area += r.Area(i)
		}
		check(t, row{"steady heat", b.Watts(&net, wall), want, 1e-9}, row{"section", area, math.Pi * (0.25 - 0.055*0.055), 1e-12})
	}
	check(t, row{"shell", pipes.Shell(0.055, 0.5, k), 10 / want, 1e-12})
}

// Six rings hold a night's heat as a hundred do, within 2 %: what twelve hours draw out of soil of one temperature.
func TestSixRingsAreEnough(t *testing.T) {
	drawn := func(n int) float64 {
		r, err := pipes.NewRings(0.055, 0.5, n)
		if err != nil {
			t.Fatal(err)
		}
		net := thermal.Network{Control: thermal.Control{Coarsest: 3}}
		b := soilBody(t, &net, r, 1.3, 2e6, 10, net.Given("wall", 0), -1)
		before := b.Stored()
		for range 12 {
			if err := net.Advance(func(thermal.Moment) {}); err != nil {
				t.Fatal(err)
			}
		}
		return before - b.Stored()
	}
	fine := drawn(100)
	check(t, row{"heat of a night", drawn(6) / fine, 1, 0.02})
}

// A row of line sources seen from afar: the plane's temperature is that at spacing/(2 pi) round one of them.
func TestPlane(t *testing.T) {
	const s = 0.7
	sinh := func(x float64) float64 { return math.Log(2 * math.Sinh(x)) }
	near, far := sinh(math.Pi*pipes.Plane(s)/s), sinh(math.Pi*5*s/s)-math.Pi*5
	check(t, row{"near the source, ln(2 pi r/s)", math.Log(2 * math.Pi * pipes.Plane(s) / s), 0, 1e-12}, row{"far field at the plane", far, 0, 1e-9},
		row{"the two fields above one tube", near, 0, 0.05})
}

func TestRingsRefuse(t *testing.T) {
	for _, c := range []struct {
		inner, outer float64
		n            int
	}{{0, 1, 3}, {1, 1, 3}, {0.1, math.Inf(1), 3}, {0.1, 1, 0}, {math.NaN(), 1, 2}} {
		if _, err := pipes.NewRings(c.inner, c.outer, c.n); err == nil {
			t.Errorf("%v must be refused", c)
		}
	}
}
