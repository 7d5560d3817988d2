package validation

import (
	"fmt"
	"math"
	"testing"

	"suncellar/internal/exact"
	"suncellar/internal/ground"
	"suncellar/internal/thermal"
)

const hourS, dayS = 3600.0, 86400.0

func unchanged(thermal.Moment) {}

// ports makes one given node per temperature and a flow name for each.
func ports(net *thermal.Network, temperatures ...float64) (nodes []thermal.Node, flows []string) {
	for i, t := range temperatures {
		nodes = append(nodes, net.Given(fmt.Sprintf("port %d", i), t))
		flows = append(flows, fmt.Sprintf("port %d to body", i))
	}
	return nodes, flows
}

func TestConduction(t *testing.T) {
	s := begin(t, "Conduction", "Carslaw and Jaeger, Conduction of heat in solids, 2nd ed. 1959; EN ISO 13791:2004, test of opaque conduction; Kusuda and Achenbach 1965",
		`Deep solid: 1.5 W/mK, 1800 kg/m3, 1100 J/kgK, a unit step of its surface, or of air behind a film of 10 W/m2K; computed by the program's own column of ground (finest cell 1 cm).
EN ISO 13791: a cube of six like walls whose air has no mass, film outside 8 W/m2K, outdoor air from 20 to 30 °C in the first hour; the inside follows. Computed by the solver's own layered body, 20 cells a layer.`)
	deepSolid(t, s)
	layeredWalls(t, s)
	kusuda(t, s)
	s.done(t)
}

func deepSolid(t *testing.T, s *section) {
	clay := ground.Medium{K: 1.5, C: 1800 * 1100}
	depths := []float64{0.1, 0.3, 0.5, 1, 2}
	for _, c := range []struct {
		film float64
		days []int
		want [][]float64
	}{
		{0, []int{1, 7, 30}, [][]float64{{0.78225, 0.40702, 0.16699, 0.00571, 0}, {0.91680, 0.75398, 0.60145, 0.29619, 0.03668}, {0.95976, 0.87967, 0.80081, 0.61383, 0.31287}}},
		{10, []int{1, 7}, [][]float64{{0.52585, 0.24574, 0.09079, 0.00244}, {0.79718, 0.64290, 0.50261, 0.23500}}},
	} {
		column, err := ground.Strata{Fill: clay, Depth: 12, Area: 1, Finest: 0.01, Growth: 0.03, Coarsest: 0.3}.Column()
		if err != nil {
			t.Fatal(err)
		}
		net := &thermal.Network{Control: thermal.Control{Coarsest: 1}}
		nodes, flows := ports(net, 1)
		name := "surface step"
		if c.film > 0 {
			name = "air step behind a film"
			face := net.Add("face", thermal.Law{}, 0)
			net.Join("film", nodes[0], face, c.film)
			nodes[0] = face
		}
		body := column.AddTo(net, "solid", func(float64) float64 { return 0 }, nodes, flows)
		done := 0
		for i, days := range c.days {
			for ; done < 24*days; done++ {
				if err := net.Advance(unchanged); err != nil {
					t.Fatal(err)
				}
			}
			at, largest := column.Profile(body), 0.0
			for k, want := range c.want[i] {
				largest = math.Max(largest, math.Abs(at(depths[k])-want))
			}
			s.worst(seen, fmt.Sprintf("deep solid, %s, %d d, 0.1 to %g m", name, days, depths[len(c.want[i])-1]), len(c.want[i]), largest, 0.001, " of the step").source = "Carslaw and Jaeger 2.4 to 2.7, recomputed"
		}
	}
	main := exact.Solid{Conductivity: 0.52, Density: 2050, SpecificHeat: 1840}
	s.near(recomputed, "water main: depth of 0 °C, soil 20 °C, surface -15 °C for 60 d", main.SurfaceStepDepth(20./35, 60*dayS), 0.68, 0.005, " m").source = "Incropera and DeWitt, example of a buried pipe"
}

// sheet is a layer of the walls of EN ISO 13791.
type sheet struct{ d, k, rho, c float64 }

func layeredWalls(t *testing.T, s *section) {
	concrete, insulation, board := sheet{0.20, 1.2, 2000, 1000}, sheet{0.10, 0.04, 50, 1000}, sheet{0.005, 0.14, 800, 1500}
	for i, c := range []struct {
		layers         []sheet // outside first
		printed, again [5]float64
	}{
		{[]sheet{concrete}, [5]float64{20.04, 21.26, 23.48, 26.37, 30.00}, [5]float64{20.05, 21.31, 23.48, 26.37, 29.97}},
		{[]sheet{insulation}, [5]float64{25.09, 29.63, 30.00, 30.00, 30.00}, [5]float64{25.09, 29.63, 29.99, 30.00, 30.00}},
		{[]sheet{concrete, insulation, board}, [5]float64{20.00, 20.26, 21.67, 24.90, 29.95}, [5]float64{20.00, 20.26, 21.67, 24.90, 29.94}},
		{[]sheet{board, insulation, concrete}, [5]float64{20.00, 20.06, 20.25, 20.63, 23.17}, [5]float64{20.00, 20.06, 20.25, 20.62, 23.17}},
	} {
		got := wallResponse(t, c.layers)
		fromPrint, fromAgain := 0.0, 0.0
		for k := range got {
			fromPrint = math.Max(fromPrint, math.Abs(got[k]-c.printed[k]))
			fromAgain = math.Max(fromAgain, math.Abs(got[k]-c.again[k]))
		}
		name := fmt.Sprintf("wall %d, inside after 2, 6, 12, 24, 120 h", i+1)
		const source = "EN ISO 13791:2004, test of conduction"
		r := s.worst(recomputed, name+": against the standard's", 5, fromPrint, 0.5, " K")
		r.source, r.note = source, fmt.Sprintf("computed %.2f %.2f %.2f %.2f %.2f °C; the standard allows 0.5 K", got[0], got[1], got[2], got[3], got[4])
		s.worst(recomputed, name+": against an independent computation", 5, fromAgain, 0.05, " K").source = source
	}
}

// wallResponse is the temperature of the inner face after 2, 6, 12, 24 and 120 h [°C].
func wallResponse(t *testing.T, layers []sheet) (out [5]float64) {
	net := &thermal.Network{Control: thermal.Control{Coarsest: 4}} // 225 s: the conduction is held here, not the choice of steps
	outside := net.Given("outdoor air", 20)
	var cells []thermal.Cell
	var edges []thermal.Edge
	var first, last float64
	for _, l := range layers {
		const n = 20
		half := l.d / n / 2 / l.k
		for range n {
			cells = append(cells, thermal.Cell{Law: thermal.Sensible(l.rho * l.c * l.d / n), T: 20})
			if k := len(cells); k > 1 {
				edges = append(edges, thermal.Edge{I: k - 1, J: k - 2, RI: half, RJ: last})
			} else {
				first = 1./8 + half
			}
			last = half
		}
	}
	body := net.AddBody("wall", cells, edges, []thermal.Port{{Cell: 0, Node: outside, R: first, Flow: "into the wall"}})
	for h := 1; h <= 120; h++ {
		begin := 30.0
		if h == 1 {
			begin = 20
		}
		net.SetGiven(outside, begin, 30)
		if err := net.Advance(unchanged); err != nil {
			t.Fatal(err)
		}
		for i, at := range []int{2, 6, 12, 24, 120} {
			if h == at {
				out[i] = body.T(body.Len() - 1)
			}
		}
	}
	return out
}

func kusuda(t *testing.T, s *section) {
	rows := table(t, "c05_kusuda_table.csv")
	wave := ground.Harmonic{Mean: 10, Amplitude: 15, Warmest: 35 + 365.0/2, Diffusivity: 0.0576 / dayS}
	days := []float64{1, 35, 60, 91, 152, 182, 244, 305, 335}
	largest, n := 0.0, 0
	for _, r := range rows {
		for i, day := range days {
			largest = math.Max(largest, math.Abs(wave.At(number(t, r[0]), day)-number(t, r[i+1])))
			n++
		}
	}
	s.worst(seen, "undisturbed ground, 0 to 6 m on nine days", n, largest, 0.001, " K").source = "Kusuda and Achenbach 1965, recomputed"
}

func TestFreezingFront(t *testing.T) {
	s := begin(t, "Freezing front", "Stefan and Neumann solutions, Carslaw and Jaeger 11.2, recomputed",
		`Ice on water of 0 °C, surface -10 °C: 2.22 W/mK, 917 kg/m3, 2100 J/kgK, 334 kJ/kg. Soil of 8 °C, surface -10 °C: frozen 2.0 W/mK, 1.9 MJ/m3K; thawed 1.5, 2.7; latent 100.2 MJ/m3.
Computed by the program's own column with its enthalpy law (freezing within 0.02 K; finest cell 2 mm in ice, 2 cm in soil).`)
	ice := ground.Medium{K: 2.22, C: 917 * 2100, Latent: 917 * 334e3, Lower: -0.02}
	front, _ := frozenColumn(t, ground.Strata{Fill: ice, Depth: 0.6, Area: 1, Finest: 0.002, Growth: 0.001, Coarsest: 0.004}, -10, 0, []int{24, 240})
	s.near(seen, "ice on water, 24 h", front[0], 0.11077, 0.0011, " m")
	s.near(seen, "ice on water, 240 h", front[1], 0.35029, 0.0035, " m")
	soil := ground.Medium{K: 1.5, KFrozen: 2, C: 2.7e6, CFrozen: 1.9e6, Latent: 100.2e6, Lower: -0.02}
	front, at := frozenColumn(t, ground.Strata{Fill: soil, Depth: 12, Area: 1, Finest: 0.02, Growth: 0.02, Coarsest: 0.4}, -10, 8, []int{24 * 30, 24 * 90})
	s.near(seen, "soil, front after 30 d", front[0], 0.81204, 0.0081, " m")
	s.near(seen, "soil, front after 90 d", front[1], 1.40649, 0.014, " m")
	for _, c := range [][2]float64{{0.2, -7.4904}, {0.5, -3.7660}, {1, 0.9693}, {2, 4.9813}} {
		s.near(seen, "soil, "+short(c[0])+" m after 30 d", at[0](c[0]), c[1], 0.05, " °C")
	}
	for _, c := range [][2]float64{{0.05, 0.15682}, {0.1, 0.22002}, {0.125, 0.24503}, {0.2, 0.30642}, {0.5, 0.46479}, {1, 0.62006}} {
		got, err := exact.StefanRoot(c[0])
		if err != nil {
			t.Fatal(err)
		}
		s.near(seen, "root of Stefan's equation, number "+short(c[0]), got, c[1], 0.00001, "")
	}
	s.near(seen, "Stefan's frost depth, 500 K d, 2 W/mK, 100.2 MJ/m3", exact.FrostDepth(exact.Phase{Conductivity: 2, HeatCapacity: 1.9e6}, 100.2e6, 500*dayS), 1.313, 0.001, " m")
	s.done(t)
}

// frozenColumn runs a column whose surface is held at a temperature and gives the depth of frost [m] and the profile at some hours.
func frozenColumn(t *testing.T, strata ground.Strata, surface, start float64, hours []int) (front []float64, at []func(float64) float64) {
	t.Helper()
	column, err := strata.Column()
	if err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{Control: thermal.Control{Finest: 5}}
	nodes, flows := ports(net, surface)
	body := column.AddTo(net, "column", func(float64) float64 { return start }, nodes, flows)
	done := 0
	for _, end := range hours {
		for ; done < end; done++ {
			if err := net.Advance(unchanged); err != nil {
				t.Fatal(err)
			}
		}
		depth := 0.0
		for i := range body.Len() {
			thick := 2 * (column.Depth(i) - below(column, i))
			depth += thick * body.IceShare(i)
		}
		front, at = append(front, depth), append(at, column.Profile(body))
	}
	return front, at
}

// below is the depth of the top of cell i [m]; cells may be numbered from either end.
func below(c *ground.Column, i int) float64 {
	order := 1
	if c.Len() > 1 && c.Depth(0) > c.Depth(1) {
		order = -1
	}
	top := 0.0
	k := 0
	if order < 0 {
		k = c.Len() - 1
	}
	for ; k != i; k += order {
		top += 2 * (c.Depth(k) - top)
	}
	return top
}
