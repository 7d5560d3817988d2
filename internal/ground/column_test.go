package ground

import (
	"math"
	"math/cmplx"
	"testing"

	"suncellar/internal/exact"
	"suncellar/internal/thermal"
)

// unchanged are the coefficients of a network that has none.
func unchanged(thermal.Moment) {}

// stack is a column behind a given surface, ready to run.
type stack struct {
	*Column
	net     *thermal.Network
	surface thermal.Node
	body    *thermal.Body
}

func newStack(t testing.TB, s Strata, control thermal.Control, surface float64, t0 func(float64) float64) *stack {
	t.Helper()
	c, err := s.Column()
	if err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{Control: control}
	ports, flows := given(net, surface)
	return &stack{c, net, ports[0], c.AddTo(net, "column", t0, ports, flows)}
}

func (s *stack) run(t testing.TB, hours int) {
	t.Helper()
	for range hours {
		if err := s.net.Advance(unchanged); err != nil {
			t.Fatal(err)
		}
	}
}

func constant(t float64) func(float64) float64 { return func(float64) float64 { return t } }

// clay is the ground of the closed forms: k 1.5, rho 1800, c 1100.
var (
	clay      = Medium{K: 1.5, C: 1800 * 1100}
	clayExact = exact.Solid{Conductivity: 1.5, Density: 1800, SpecificHeat: 1100}
)

// Carslaw & Jaeger (1959) 2.5: a step of the surface of deep ground.
func TestColumnStep(t *testing.T) {
	s := newStack(t, Strata{Fill: clay, Depth: 10, Area: 3, Finest: 0.01, Growth: 0.03, Coarsest: 0.3},
		thermal.Control{Coarsest: 1}, 1, constant(0))
	hours := 0
	for _, row := range []struct {
		days      int
		tolerance float64 // [K of 1 K]: a cell of 1 to 10 cm against the width of the wave
	}{{1, 1e-3}, {7, 1e-3}, {30, 1e-3}} {
		s.run(t, 24*row.days-hours)
		hours = 24 * row.days
		at := s.Profile(s.body)
		for _, depth := range []float64{0.1, 0.3, 0.5, 1, 2} {
			want := clayExact.SurfaceStep(depth, float64(hours)*3600)
			if got := at(depth); math.Abs(got-want) > row.tolerance {
				t.Errorf("day %d, %g m: %.5f, want %.5f", row.days, depth, got, want)
			}
		}
		// flow per m² in the last hour against the mean of the closed form, 2 k/sqrt(pi a) (sqrt t1 - sqrt t0)
		end := float64(hours) * 3600
		flow := func(x float64) float64 { return 2 * x * clayExact.SurfaceStepFlow(x) }
		want := (flow(end) - flow(end-3600)) / 3600
		if got := s.net.Flows()[0].HourJ / 3600 / 3; math.Abs(got/want-1) > 1e-3 {
			t.Errorf("day %d: flow %.5f W/m², want %.5f", row.days, got, want)
		}
	}
}

// Carslaw & Jaeger (1959) 2.6: a wave of the surface, amplitude and lag, of the day and of the year.
func TestColumnWave(t *testing.T) {
	for _, row := range []struct {
		name   string
		hours  int // period
		turns  int
		strata Strata
		depths []float64
	}{
		{"day", 24, 8, Strata{Fill: clay, Depth: 2, Area: 1, Finest: 0.01, Growth: 0.1, Coarsest: 0.1}, []float64{0.05, 0.1, 0.2, 0.3}},
		{"year", 8760, 3, Strata{Fill: clay, Depth: 30, Area: 1, Finest: 0.05, Growth: 0.05, Coarsest: 0.6}, []float64{0.5, 1, 2, 4}},
	} {
		period := float64(row.hours) * 3600
		omega := 2 * math.Pi / period
		wave := func(depth, time float64) float64 {
			amplitude, lag := clayExact.SurfaceWave(depth, period)
			return amplitude * math.Cos(omega*(time-lag))
		}
		control := thermal.Control{Coarsest: 3, Finest: 4}
		if row.hours > 1000 {
			control = thermal.Control{Finest: 1}
		}
		s := newStack(t, row.strata, control, 1, func(depth float64) float64 { return wave(depth, 0) })
		worst := 0.0
		for h := range row.hours * row.turns {
			time := float64(h) * 3600
			s.net.SetGiven(s.surface, math.Cos(omega*time), math.Cos(omega*(time+3600)))
			s.run(t, 1)
			if h >= row.hours*(row.turns-1) && h%(row.hours/12) == 0 {
				at := s.Profile(s.body)
				for _, depth := range row.depths {
					worst = max(worst, math.Abs(at(depth)-wave(depth, time+3600)))
				}
			}
		}
		// 0.1 % of the year's wave; 0.6 % of the day's, whose hours run as straight lines: 1 - (pi/24)²/3 of the amplitude
		if tolerance := map[string]float64{"day": 6e-3, "year": 1e-3}[row.name]; worst > tolerance {
			t.Errorf("%s: %.5f off, allowed %g of the surface's amplitude", row.name, worst, tolerance)
		} else {
			t.Logf("%s: %.6f off", row.name, worst)
		}
	}
}

// Two and three soils under a year's wave, against the transmission matrices of Carslaw & Jaeger (1959) 3.7. Soils are of the usual size, invented. Allowed is
// what one soil is, 0.1 % of the surface's wave.
func TestColumnOfLayersWave(t *testing.T) {
	sand, loam, wet := exact.Solid{Conductivity: 0.4, Density: 1500, SpecificHeat: 900}, exact.Solid{Conductivity: 1.2, Density: 1800, SpecificHeat: 1300},
		exact.Solid{Conductivity: 1.8, Density: 1900, SpecificHeat: 1500}
	medium := func(s exact.Solid) Medium { return Medium{K: s.Conductivity, C: s.Density * s.SpecificHeat} }
	for _, row := range []struct {
		name string
		exact.Layered
	}{
		{"dry sand on wet clay", exact.Layered{Sheets: []exact.Slab{{Solid: sand, Thickness: 0.5}}, Deep: wet}},
		{"wet clay on dry sand", exact.Layered{Sheets: []exact.Slab{{Solid: wet, Thickness: 0.5}}, Deep: sand}},
		{"loam, dry sand, wet clay", exact.Layered{Sheets: []exact.Slab{{Solid: loam, Thickness: 0.3}, {Solid: sand, Thickness: 1.2}}, Deep: wet}},
	} {
		const period, hours = 8760 * 3600.0, 8760
		wave := func(depth, time float64) float64 {
			return real(row.Response(depth, period) * cmplx.Exp(complex(0, 2*math.Pi*time/period)))
		}
		strata := Strata{Fill: medium(row.Deep), Depth: 30, Area: 1, Finest: 0.05, Growth: 0.05, Coarsest: 0.6}
		for _, sheet := range row.Sheets {
			strata.Layers = append(strata.Layers, Layer{sheet.Thickness, medium(sheet.Solid)})
		}
		s := newStack(t, strata, thermal.Control{Finest: 1}, 1, func(depth float64) float64 { return wave(depth, 0) })
		worst := 0.0
		for h := range hours * 2 {
			time := float64(h) * 3600
			s.net.SetGiven(s.surface, wave(0, time), wave(0, time+3600))
			s.run(t, 1)
			if h >= hours && h%(hours/12) == 0 {
				at := s.Profile(s.body)
				for _, depth := range []float64{0.1, 0.3, 0.5, 0.8, 1.5, 3, 5} {
					worst = max(worst, math.Abs(at(depth)-wave(depth, time+3600)))
				}
			}
		}
		if worst > 1e-3 {
			t.Errorf("%s: %.5f off, allowed 0.001 of the surface's amplitude", row.name, worst)
		}
		t.Logf("%s: %.6f off", row.name, worst)
	}
}

// freezingSoil is soil at 8 °C under a surface at -10 °C.
var freezingSoil = Medium{K: 1.5, KFrozen: 2, C: 2.7e6, CFrozen: 1.9e6, Latent: 100.2e6 + 0.02*1.9e6, Lower: -0.02, Upper: 0}

// front is the depth of the ice [m]: down to a cell's top, and the share of it that is frozen.
func (s *stack) front() float64 {
	depth := 0.0
	for i := range s.mesh.Cells {
		c := &s.mesh.Cells[i]
		depth += (c.Z1 - c.Z0) * s.body.IceShare(i)
	}
	return depth
}

// F. Neumann's two-phase front, Carslaw & Jaeger (1959) 11.2: after 30 d 0.81204 m, after 90 d 1.40649 m.
func TestColumnFreezes(t *testing.T) {
	s := newStack(t, Strata{Fill: freezingSoil, Depth: 12, Area: 2, Finest: 0.02, Growth: 0.02, Coarsest: 0.4},
		thermal.Control{Finest: 5}, -10, constant(8))
	balance := s.net.NewBalance()
	days := 0
	for _, row := range []struct {
		days  int
		front float64 // [m]
		at    map[float64]float64
	}{
		{30, 0.81204, map[float64]float64{0.2: -7.4904, 0.5: -3.7660, 1: 0.9693, 2: 4.9813}},
		{90, 1.40649, nil},
	} {
		for ; days < row.days; days++ {
			for range 24 {
				s.run(t, 1)
				s.net.AddHour(balance)
			}
			s.net.CloseDay(balance)
		}
		if got := s.front(); math.Abs(got/row.front-1) > 0.01 {
			t.Errorf("day %d: front at %.4f m, want %.5f", row.days, got, row.front)
		} else {
			t.Logf("day %d: front at %.4f m (%.5f)", row.days, got, row.front)
		}
		at := s.Profile(s.body)
		for _, depth := range []float64{0.2, 0.5, 1, 2} {
			want, ok := row.at[depth]
			if got := at(depth); ok && math.Abs(got-want) > 0.05 {
				t.Errorf("day %d: %.4f °C at %g m, want %.4f", row.days, got, depth, want)
			} else if ok {
				t.Logf("day %d: %.4f °C at %g m (%.4f)", row.days, got, depth, want)
			}
		}
	}
	// heat only leaves: what left is what is stored less
	_, outJ := s.net.InOut(balance)
	out, stored := outJ["port 0 to ground"], s.net.Stored()-balance.StartJ
	if rel := math.Abs(out+stored) / out; rel > 1e-11 || balance.WorstJ > 1e-3 {
		t.Errorf("ledger: %.2g of what left, %.3g J at %s", rel, balance.WorstJ, balance.WorstNode)
	}
}

// Halving every cell must cut the error of a smooth state by four.
func TestColumnOrder(t *testing.T) {
	failed := func(parts int) float64 {
		period := 30 * 86400.0
		s := newStack(t, Strata{Fill: clay, Depth: 8, Area: 1, Finest: 0.1, Growth: 0.1, Coarsest: 0.6, Parts: parts},
			thermal.Control{Coarsest: 0, Finest: 1}, 1, constant(0))
		// exact state of a wave at its begin, then a quarter of a turn
		wave := func(depth, time float64) float64 {
			amplitude, lag := clayExact.SurfaceWave(depth, period)
			return amplitude * math.Cos(2*math.Pi/period*(time-lag))
		}
		temperatures := make([]float64, s.Len())
		for i := range temperatures {
			_, z := s.mesh.Cells[i].Middle()
			temperatures[i] = wave(-z, 0)
		}
		s.body.SetState(temperatures)
		hours := 24 * 90
		for h := range hours {
			a, b := wave(0, float64(h)*3600), wave(0, float64(h+1)*3600)
			s.net.SetGiven(s.surface, a, b)
			s.run(t, 1)
		}
		sum, depth := 0.0, 0.0
		for i := range s.mesh.Cells {
			c := &s.mesh.Cells[i]
			_, z := c.Middle()
			d := s.body.T(i) - wave(-z, float64(hours)*3600)
			sum += d * d * (c.Z1 - c.Z0)
			depth += c.Z1 - c.Z0
		}
		return math.Sqrt(sum / depth)
	}
	e1, e2, e4 := failed(1), failed(2), failed(4)
	for _, order := range []float64{math.Log2(e1 / e2), math.Log2(e2 / e4)} {
		if order < 1.8 || order > 2.2 {
			t.Errorf("order %.2f (errors %.2g, %.2g, %.2g K), want 2", order, e1, e2, e4)
		}
	}
	t.Log(e1, e2, e4)
}

// A column between two given temperatures: steady flow through layers in series.
func TestColumnSteady(t *testing.T) {
	s := Strata{Layers: []Layer{{0.1, Medium{K: 0.04}}, {0.4, Medium{K: 0.8}}}, Fill: Medium{K: 1.6}, Depth: 2.1, Area: 5, Finest: 0.03}
	c, err := s.Column()
	if err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{}
	ports, flows := given(net, 3, 11)
	b := c.AddTo(net, "column", constant(0), ports, flows)
	if err := net.Steady(); err != nil {
		t.Fatal(err)
	}
	want := 5 * (11 - 3) / (0.1/0.04 + 0.4/0.8 + 1.6/1.6)
	if got := b.Watts(net, ports[1]); math.Abs(got-want) > 1e-9 {
		t.Errorf("flow %.9f W, want %.9f", got, want)
	}
	at := c.Profile(b)
	for _, p := range []struct{ depth, want float64 }{{0.1, 8}, {0.5, 9}, {1.3, 10}, {0.05, 5.5}, {0.3, 8.5}} {
		if got := at(p.depth); math.Abs(got-p.want) > 1e-9 {
			t.Errorf("%g m: %.9f °C, want %g", p.depth, got, p.want)
		}
	}
}

// Kusuda & Achenbach (1965) for Tm 10, As 15, coldest day 35, a 0.0576 m²/d.
func TestHarmonic(t *testing.T) {
	h := Harmonic{Mean: 10, Amplitude: 15, Warmest: 35 + 365.0/2, Diffusivity: 0.0576 / 86400}
	for _, row := range []struct{ depth, day, want float64 }{{0, 35, -5}, {2, 35, 5.045}, {2, 182, 11.284}, {2, 305, 15.145}} {
		if got := h.At(row.depth, row.day); math.Abs(got-row.want) > 0.0005+1e-9 {
			t.Errorf("%g m, day %g: %.4f °C, want %.3f", row.depth, row.day, got, row.want)
		}
	}
}

func TestStrataRefuses(t *testing.T) {
	good := Strata{Fill: clay, Depth: 5, Area: 1, Finest: 0.05}
	for name, change := range map[string]func(*Strata){
		"area":      func(s *Strata) { s.Area = 0 },
		"depth":     func(s *Strata) { s.Depth = math.NaN() },
		"finest":    func(s *Strata) { s.Finest = 0 },
		"thickness": func(s *Strata) { s.Layers = []Layer{{0, clay}} },
		"medium":    func(s *Strata) { s.Fill.K = 0 },
	} {
		s := good
		change(&s)
		if _, err := s.Column(); err == nil {
			t.Errorf("%s: not refused", name)
		}
	}
}
