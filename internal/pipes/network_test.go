package pipes

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// white are the three pipes of examples 6.17 to 6.19: 100 m of 8 cm, 150 m of 6 cm, 80 m of 4 cm, roughness over diameter 0.003, 0.002, 0.005; water of
// 1000 kg/m³ and 1.02e-6 m²/s, no minor losses. Source: White, Fluid Mechanics, ch. 6.
var (
	white      = [3]Tube{{0.08, 100, 0.00024, 0}, {0.06, 150, 0.00012, 0}, {0.04, 80, 0.0002, 0}}
	whiteWater = Fluid{Density: 1000, Viscosity: 1.02e-3}
)

const perHour = 1.0 / 3600 // [m³/h]

func within(t *testing.T, what string, got, want, allowed float64) {
	t.Helper()
	if !(math.Abs(got-want) <= allowed) {
		t.Errorf("%s: %.6g, want %.6g within %.3g", what, got, want, allowed)
	}
}

func settled(t testing.TB, n *Network) Steady {
	t.Helper()
	s, err := n.Settle()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// White, example 6.18: the three in parallel under 20.3 m: 62.5, 25.9 and 11.4 m³/h, together 99.8. The book reads its friction off a chart: 1 % is allowed.
func TestPipesInParallel(t *testing.T) {
	n := &Network{Fluid: whiteWater, Junctions: []Junction{{Kept: true, Head: 20.3}, {Kept: true}}}
	for _, w := range white {
		n.Links = append(n.Links, Link{Tube: w, From: 0, To: 1})
	}
	s := settled(t, n)
	sum := 0.0
	for i, want := range []float64{62.5, 25.9, 11.4} {
		within(t, "flow, m³/h", s.Flows[i]/perHour, want, 0.01*want)
		sum += s.Flows[i] / perHour
	}
	within(t, "all, m³/h", sum, 99.8, 0.01*99.8)
	for i, w := range white {
		within(t, "by itself, m³/h", w.Under(whiteWater, 20.3)/perHour, s.Flows[i]/perHour, 1e-5)
	}
}

// White, example 6.17: the three in series, 20.3 m in all: 10.22 m³/h, from memory; 1 % is allowed.
func TestPipesInSeries(t *testing.T) {
	n := &Network{Fluid: whiteWater, Junctions: []Junction{{Kept: true, Head: 20.3}, {}, {}, {Kept: true}}}
	for i, w := range white {
		n.Links = append(n.Links, Link{Tube: w, From: i, To: i + 1})
	}
	s := settled(t, n)
	for i := range white {
		within(t, "flow, m³/h", s.Flows[i]/perHour, 10.22, 0.1022)
	}
}

// White, example 6.19: three reservoirs at 20, 100 and 40 m joined by the three pipes: head at the joint 34.53 m, 52.8 m³/h out to the first, 47.0 and 5.8 in
// from the others, as the book's text has it after its last iteration; it reads friction off a chart: 1 % and 0.2 m are allowed.
func TestThreeReservoirs(t *testing.T) {
	n := &Network{Fluid: whiteWater, Junctions: []Junction{{}, {Kept: true, Head: 20}, {Kept: true, Head: 100}, {Kept: true, Head: 40}}}
	for i, w := range white {
		n.Links = append(n.Links, Link{Tube: w, From: 0, To: i + 1})
	}
	s := settled(t, n)
	within(t, "head at the joint", s.Heads[0], 34.53, 0.2)
	for i, want := range []float64{52.8, -47.0, -5.8} {
		within(t, "flow, m³/h", s.Flows[i]/perHour, want, 0.01*math.Abs(want)+0.1)
	}
}

// Two pipe-friction examples of White, ch. 6: oil of 900 kg/m³ and 1e-5 m²/s, 0.2 m³/s through 500 m of 200 mm cast iron (0.26 mm): 117 m; water at 6 ft/s in
// 200 ft of 6 in asphalted iron (0.0004 ft): 4.5 ft. The book rounds its friction factor: 2 %.
func TestPublishedFriction(t *testing.T) {
	oil := Tube{Diameter: 0.2, Length: 500, Roughness: 0.26e-3}
	within(t, "head of oil, m", oil.HeadOf(Fluid{Density: 900, Viscosity: 9e-3}, 0.2), 117, 0.02*117)
	const ft = 0.3048
	iron := Tube{Diameter: ft / 2, Length: 200 * ft, Roughness: 0.0004 * ft}
	within(t, "head of water, ft", iron.HeadOf(Fluid{Density: 1000, Viscosity: 1.02e-3}, 6*ft*iron.Section())/ft, 4.5, 0.09)
}

// Closed forms of water in small pipes.
func TestSmallPipes(t *testing.T) {
	cold := Fluid{Density: WaterDensity, Viscosity: 1.307e-6 * WaterDensity}
	drip := Tube{Diameter: 13.6e-3, Length: 10}
	within(t, "Re", drip.Reynolds(cold, 0.02e-3/drip.Section()), 1433, 1)
	within(t, "laminar head, m", drip.HeadOf(cold, 0.02e-3), 0.0317, 0.0001) // 128 mu L Q/(pi rho g D⁴)
	q := Dripper{2 * 1e-3 * perHour, 10, 0.5}.Flow(1)
	within(t, "2 L/h at 10 m, at 1 m, L/h", q*1000/perHour, 0.632, 0.001)
	within(t, "hole of 1 mm under 1 m, L/h", Orifice(1e-3, 1)*1000/perHour, 7.765, 0.005)
	within(t, "viscosity at 10 °C, m²/s", Water(10).Viscosity/WaterDensity, 1.307e-6, 0.025*1.307e-6)
	within(t, "viscosity at 20 °C, m²/s", Water(20).Viscosity/WaterDensity, 1.004e-6, 0.025*1.004e-6)
	within(t, "pressure of a metre, kPa", Pressure(1)/1000, 9.807, 0.005)
	within(t, "1000 L lifted 1 m at 30 %, Wh", Lift(1, 1, 0.3)/3600, 9.81/3.6/0.3, 0.01)
}

// Evenness: equal drippers have that of their making alone; the driest counts against the mean.
func TestEvenness(t *testing.T) {
	within(t, "equal", Evenness([]float64{2, 2, 2}, 0.05, 1), 1-1.27*0.05, 1e-12)
	within(t, "four to a plant", Evenness([]float64{1, 3}, 0.1, 4), (1-1.27*0.1/2)*0.5, 1e-12)
	within(t, "dry", Evenness([]float64{0, 0}, 0.1, 1), 0, 0)
}

// dripLine is a chain of drippers at a height, fed from a surface at 1 m.
func dripLine(count int, z float64, d Dripper) *Network {
	n := &Network{Fluid: Water(10), Junctions: []Junction{{Kept: true, Head: 1}}}
	for i := range count {
		n.Junctions = append(n.Junctions, Junction{Z: z, Dripper: &d, Number: 1})
		n.Links = append(n.Links, Link{Tube: Tube{13.6e-3, 0.3, RoughPlastic, 0}, From: i, To: i + 1})
	}
	return n
}

// What drips is what flows in, falls along the line, and is nothing where the drippers lie above the water.
func TestDripLine(t *testing.T) {
	for _, x := range []float64{0, 0.05, 0.5, 1} {
		s := settled(t, dripLine(300, 0.2, Dripper{2e-3 * perHour, 10, x}))
		sum := 0.0
		for i, q := range s.Drips {
			sum += q
			if i > 1 && q > s.Drips[i-1]+1e-10 {
				t.Fatalf("exponent %g: dripper %d gives more than the one before", x, i)
			}
		}
		within(t, "drips over what flows in", sum/s.Flows[0], 1, 1e-5)
	}
	s := settled(t, dripLine(20, 1.5, Dripper{2e-3 * perHour, 10, 0.5}))
	within(t, "uphill", s.Flows[0], 0, 1e-9)
}

// A one-way valve lets nothing back.
func TestOneWay(t *testing.T) {
	n := &Network{Fluid: Water(10), Junctions: []Junction{{Kept: true, Head: 1}, {Kept: true, Head: 2}},
		Links: []Link{{Tube: Tube{0.05, 3, RoughPlastic, KOneWay}, From: 0, To: 1, OneWay: true}, {Tube: Tube{0.05, 3, RoughPlastic, KOneWay}, From: 1, To: 0, OneWay: true}}}
	s := settled(t, n)
	if back := -s.Flows[0]; back < 0 || back > 1e-3*s.Flows[1] {
		t.Errorf("%g m³/s go back, %g on", back, s.Flows[1])
	}
}

// In any network, loops and trees, what comes to a joint goes, and along each pipe the head falls by its loss.
func TestAnyNetworkCloses(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		count := rapid.IntRange(2, 25).Draw(r, "joints")
		n := &Network{Fluid: Water(rapid.Float64Range(1, 30).Draw(r, "°C"))}
		n.Junctions = append(n.Junctions, Junction{Kept: true, Head: rapid.Float64Range(0, 3).Draw(r, "head")})
		pipe := func(from, to int) {
			n.Links = append(n.Links, Link{Tube: Tube{rapid.Float64Range(0.004, 0.1).Draw(r, "d"), rapid.Float64Range(0.05, 40).Draw(r, "L"), RoughPlastic, rapid.Float64Range(0, 10).Draw(r, "K")}, From: from, To: to})
		}
		for i := 1; i < count; i++ {
			j := Junction{}
			switch rapid.IntRange(0, 4).Draw(r, "kind") {
			case 0:
				j.Kept, j.Head = true, rapid.Float64Range(-1, 3).Draw(r, "head")
			case 1:
				j.Dripper, j.Number, j.Z = &Dripper{2e-3 * perHour, 10, rapid.Float64Range(0, 1).Draw(r, "x")}, 1, rapid.Float64Range(-1, 2).Draw(r, "z")
			case 2:
				j.In = rapid.Float64Range(-1e-4, 1e-4).Draw(r, "in")
			}
			n.Junctions = append(n.Junctions, j)
			pipe(rapid.IntRange(0, i-1).Draw(r, "to"), i)
		}
		for range rapid.IntRange(0, 6).Draw(r, "loops") {
			a, b := rapid.IntRange(0, count-1).Draw(r, "a"), rapid.IntRange(0, count-1).Draw(r, "b")
			if a != b {
				pipe(a, b)
			}
		}
		s, err := n.Settle()
		if err != nil {
			r.Fatal(err)
		}
		closes(r, n, s)
	})
}

func closes(r *rapid.T, n *Network, s Steady) {
	left := make([]float64, len(n.Junctions))
	size := 1e-6
	for i, l := range n.Links {
		left[l.From] -= s.Flows[i]
		left[l.To] += s.Flows[i]
		size = max(size, math.Abs(s.Flows[i]))
		if fall, loss := s.Heads[l.From]-s.Heads[l.To], l.HeadOf(n.Fluid, s.Flows[i]); math.Abs(fall-loss) > 1e-5*(1+math.Abs(fall)) {
			r.Errorf("link %d: the head falls by %g m, its loss is %g", i, fall, loss)
		}
	}
	for i, j := range n.Junctions {
		if !j.Kept && math.Abs(left[i]+j.In-s.Drips[i]) > 1e-7*size+5e-10+1e-11*math.Abs(s.Heads[i]-j.Z) {
			r.Errorf("joint %d: %g m³/s are left", i, left[i]+j.In-s.Drips[i])
		}
	}
}

func BenchmarkSettle(b *testing.B) {
	n := dripLine(300, 0.2, Dripper{2e-3 * perHour, 10, 0.5})
	for b.Loop() {
		settled(b, n)
	}
}
