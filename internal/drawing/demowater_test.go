package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

func drawScheme(in WaterScheme, f Frame) (*draw.List, error) {
	l, _, err := DrawWaterScheme(in, f)
	return l, err
}

// row adds a row of drums with a pipe along it, a joint at each and a valve between its bays.
func (in *WaterScheme) row(name string, drums, bays int, bottom, top float64) {
	z := bottom + 0.05
	for d := range drums {
		bay := d * bays / drums
		v := len(in.Vessels)
		in.Vessels = append(in.Vessels, SchemeVessel{Name: fmt.Sprintf("%s, drum %d", name, d+1), Bay: fmt.Sprintf("%s, bay %d", name, bay+1), Row: name, Bottom: bottom, Top: top, Stacked: 2, Fed: true})
		in.Points = append(in.Points, SchemePoint{"joint at " + in.Vessels[v].Name, z, -1}, SchemePoint{in.Vessels[v].Name, z, v})
		n := len(in.Points)
		if last := n - 4; last >= 1 {
			if d > 0 && in.Vessels[v-1].Bay != in.Vessels[v].Bay {
				in.Valves = append(in.Valves, SchemeValve{"valve before " + in.Vessels[v].Bay, SchemePlace{PipeAt, len(in.Pipes)}, bay == 2})
			}
			in.Pipes = append(in.Pipes, SchemePipe{last, n - 2})
		}
		in.Pipes = append(in.Pipes, SchemePipe{n - 2, n - 1})
	}
}

// demoScheme is an invented scheme: a roof that is high enough, a settling drum, a row in two bays.
func demoScheme() WaterScheme {
	in := WaterScheme{Title: "Water of an invented house", Sentences: []string{"The water runs by gravity; one doubt is told below."}, Heard: "Where it does not run, or not all of it",
		Roofs: []SchemeRoof{{"back roof", 1.3, 1.19, 0.52}}, Flush: "first flush, 12 L", Settling: &SchemeSettling{"settling drum", -0.2, 0.67, 0.55},
		Inlet: SchemeInlet{Highest: 0.5, End: 0, Mouth: OneWayMouth, Words: "one-way valve"}, Points: []SchemePoint{{"end of the inlet", 0.4, 0}}, FloorZ: -1.1, FullZ: 0.35}
	in.row("back drums", 10, 2, -1.1, 0.64)
	in.Valves = append(in.Valves, SchemeValve{"main", SchemePlace{InletEnd, 0}, false}, SchemeValve{"stop", SchemePlace{DripAt, 1}, true})
	in.Overflow = SchemeOverflow{"overflow to outside", 9, 0.35, 0}
	in.Drips = []SchemeDrip{{"front line", 19, -0.75, -0.75, "30 emitters"}, {"middle line", 19, -0.6, -0.75, "2 times 30 emitters"}}
	in.Tap = &SchemeTap{"tap for a can", -1.05}
	in.Levels = []SchemeLevel{{"grade", 0, GradeLevel}, {"floor", -1.1, GroundLevel}, {"full", 0.35, FullLevel}, {"lowest for use", -0.7, LowestLevel}, {"kept", -0.3, KeptLevel}}
	in.Findings = []SchemeFinding{{"The drip line middle line is shut by a valve.", SchemePlace{DripAt, 1}}, {"Back drums, drum 4, rim 0.10 m below the overflow: water spills there before the others are full.", SchemePlace{VesselAt, 3}}}
	return in
}

// demoLargeScheme has 500 drums in three rows of many bays, three roofs, and a pipe of its own between.
func demoLargeScheme() WaterScheme {
	in := WaterScheme{Title: "Water of a very large invented house", Heard: "Where it does not run, or not all of it",
		Roofs: []SchemeRoof{{"back roof", 4.3, 4.1, 0.52}, {"front roof of the shed beside the house", 2.2, 2.1, 0.1}, {"glazing", 0.3, 0.2, 1.2}},
		Inlet: SchemeInlet{Highest: math.NaN(), End: 0, Mouth: FlapMouth}, Points: []SchemePoint{{"end of the inlet", 0.4, 0}}, FloorZ: -2, FullZ: 0.1}
	in.row("back drums", 300, 40, -2, 0.6)
	in.row("middle drums", 150, 3, -1.5, -0.6)
	in.row("front drums", 50, 1, -1, -0.1)
	in.Overflow = SchemeOverflow{"overflow to the cold sink", 499, -0.2, -2.4}
	last := len(in.Points) - 2
	in.Drips = []SchemeDrip{{"line", last, 0.4, 0.4, ""}}
	in.Levels = []SchemeLevel{{"grade", 0, GradeLevel}, {"floor", -2, GroundLevel}, {"bottom of the cold sink", -2.4, GroundLevel}, {"full", -0.2, FullLevel}, {"lowest for use", -1, LowestLevel}}
	for i := range 12 {
		in.Findings = append(in.Findings, SchemeFinding{fmt.Sprintf("Finding %d of an invented house that has very many of them.", i+1), SchemePlace{VesselAt, 40 * i}})
	}
	return in
}

func demoDrums() DrumsCurve {
	in := DrumsCurve{Title: "How many drums: reliability", Sentences: []string{"Reliability is the share of the days that want water on which all of it was there."}, Across: "drums", Plan: 4}
	for i, n := range []int{2, 5, 10, 15, 20, 25, 30, 40, 60, 100} {
		share := []float64{0.31, 0.52, 0.7, 0.79, 0.86, 0.9, 0.93, 0.97, 0.991, 0.9999}[i]
		in.Points = append(in.Points, DrumsPoint{n, share, figure(100*share, 1) + " %", ""})
	}
	return in
}
