package water

import (
	"fmt"
	"slices"

	"suncellar/internal/house"
	"suncellar/internal/pipes"
)

// State is the drip lines at one height of the water, all that are open at once.
type State struct {
	Name  string  // full, half full, nearly empty
	Share float64 // of the usable water
	Z     float64 // height of the water [m]
	Lines []Line
}

// Line is drip lines side by side at one state.
type Line struct {
	Name     string
	Heads    []float64 // at the emitters along one of them, from the supply on [m]
	Flows    []float64 // of one emitter each [m³/s]
	FlowM3S  float64   // of all lines together [m³/s]
	Evenness float64   // emission uniformity, 0 to 1
	Dry      int       // emitters of one line with less than the least head
}

// The states that drip lines are told in.
var states = []struct {
	name  string
	share float64
}{{"full", 1}, {"half full", 0.5}, {"nearly empty", 0.1}}

// dripPaths walks from the water to each drip line.
func (a *Answer) dripPaths() {
	w := a.Scheme
	for i := range w.Drips {
		d := &w.Drips[i]
		p := walk(d.Plan.Name, []Station{{"water at the overflow", "water.overflow", w.Overflow.Z}, {"emitters of " + d.Plan.Name, d.Path, d.Z}})
		a.Paths = append(a.Paths, p)
		switch {
		case d.Shut:
			a.find("water.valves", Finding{Kind: DripShut, Name: d.Plan.Name, Way: p.Name})
		case !a.Scheme.DripRuns(i):
			a.find(d.Path, Finding{Kind: DripUnfed, Name: d.Plan.Name, Way: p.Name, Stops: true})
		case p.Broken >= 0:
			a.find(d.Path, Finding{Kind: Uphill, Name: p.Stations[p.Broken].Name, Way: p.Name, HeightM: p.ShortM, LiftM: p.ShortM, LiftJ: pipes.Lift(p.ShortM, 1, w.Plan.Pump), Stops: true})
		default:
			least := d.Z + d.Plan.Emitter.LeastHead
			if dead := a.Scheme.Holds(least) - a.Scheme.Holds(w.DrawOff); dead > 1e-6 {
				a.find(d.Path, Finding{Kind: DeadWater, Name: d.Plan.Name, HeightM: least - w.DrawOff, VolumeM3: dead})
			}
		}
	}
}

// dripStates solves the pipes with the water full, half and nearly empty.
func (a *Answer) dripStates() ([]State, error) {
	var open []int
	for i := range a.Scheme.Drips {
		if a.Scheme.DripRuns(i) {
			open = append(open, i)
		}
	}
	if len(open) == 0 || a.Levels.UsableM3 <= 0 || a.Levels.ByCan {
		return nil, nil
	}
	var list []State
	for _, s := range states {
		z := a.height(a.Levels.FullM3 - (1-s.share)*a.Levels.UsableM3)
		state := State{Name: s.name, Share: s.share, Z: z}
		lines, err := a.dripsAt(z, open)
		if err != nil {
			return nil, fmt.Errorf("drip lines, %s: %w", s.name, err)
		}
		state.Lines = lines
		list = append(list, state)
	}
	return list, nil
}

// dripsAt solves manifold and drip lines with the water at a height.
func (a *Answer) dripsAt(z float64, open []int) ([]Line, error) {
	w := a.Scheme
	n := a.network(z)
	first := make([]int, len(open))
	for k, i := range open {
		first[k] = len(n.Junctions)
		addDrips(n, &w.Drips[i])
	}
	s, err := n.Settle()
	if err != nil {
		return nil, err
	}
	var list []Line
	for k, i := range open {
		d := &w.Drips[i]
		e := d.Plan.Emitter
		line := Line{Name: d.Plan.Name}
		for j := first[k]; j < first[k]+d.Emitters; j++ {
			flow := s.Drips[j] / float64(d.Plan.Lines)
			head := max(0, s.Heads[j]-d.Z)
			line.Heads, line.Flows = append(line.Heads, head), append(line.Flows, flow)
			line.FlowM3S += s.Drips[j]
			if head < e.LeastHead {
				line.Dry++
			}
		}
		line.Evenness = pipes.Evenness(line.Flows, e.Variation, 1)
		list = append(list, line)
	}
	return list, nil
}

// network is the pipes between the fed drums with the water at a height: a junction for each point, kept where it meets water. A pipe that meets a drum above its water
// takes nothing from it, and is left out.
func (a *Answer) network(z float64) *pipes.Network {
	w := a.Scheme
	n := &pipes.Network{Fluid: cold()}
	dry := make([]bool, len(w.Points))
	for i, p := range w.Points {
		j := pipes.Junction{Z: p.Z}
		if p.Vessel >= 0 {
			j.Kept, j.Head = true, z
			dry[i] = p.Z >= z || !slices.Contains(w.Fed, p.Vessel)
		}
		n.Junctions = append(n.Junctions, j)
	}
	for i := range w.Pipes {
		p := &w.Pipes[i]
		if !p.Shut && !dry[p.From] && !dry[p.To] {
			n.Links = append(n.Links, pipes.Link{Tube: p.Tube, From: p.From, To: p.To, OneWay: p.OneWay})
		}
	}
	return n
}

// addDrips hangs a drip line on its point: the supply, then a dripper after each spacing.
func addDrips(n *pipes.Network, d *house.DripLine) {
	of, beside := d.Plan, float64(d.Plan.Lines)
	dripper := &pipes.Dripper{Rated: of.Emitter.Flow, RatedHead: of.Emitter.Head, Exponent: of.Emitter.Exponent}
	from := d.From
	for i := range d.Emitters {
		to := len(n.Junctions)
		n.Junctions = append(n.Junctions, pipes.Junction{Z: d.Z, Dripper: dripper, Number: beside})
		t := pipes.Tube{Diameter: of.Diameter, Length: of.Spacing, Roughness: pipes.RoughPlastic}
		if i == 0 {
			t.Length += of.Supply
			t.Fittings = pipes.KTeeBranch + 2*pipes.KElbow
		}
		n.Links = append(n.Links, pipes.Link{Tube: t, From: from, To: to, Number: beside})
		from = to
	}
}

// DripLine is the drip line of a name, nil where there is none.
func (a *Answer) DripLine(name string) *house.DripLine {
	for i := range a.Scheme.Drips {
		if a.Scheme.Drips[i].Plan.Name == name {
			return &a.Scheme.Drips[i]
		}
	}
	return nil
}
