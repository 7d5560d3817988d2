package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"suncellar/examples"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

const handleHead = `
suncellar: 1
name: drawn
site: {latitude: 46 deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC+0}
builds:
  wall: {layers: [{material: concrete poured, thickness: 20 cm}, {material: xps, thickness: 5 cm}]}
  "thin, 2.5": {layers: [{material: plywood, thickness: 0.5 in}, {r_value: R-20}, {material: plywood, thickness: 12 mm}]}
ends: {build: wall}
`

// drawnHouse is a random house of the short or the long form with all that can be taken hold of; nil where it cannot be built.
func drawnHouse(t *rapid.T) *house.House {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	width, depth := f("width", 3, 8), rapid.SampledFrom([]float64{0, 0.4, 1.3, 2.2}).Draw(t, "depth")
	text := handleHead
	switch rapid.SampledFrom([]string{"pit", "lean-to", "section"}).Draw(t, "form") {
	case "pit":
		text += fmt.Sprintf("shape: {kind: pit, glazing_slope: %g deg, back_roof: 'thin, 2.5', back_roof_slope: %g deg, back_height: %g m", f("slope", 25, 85), f("roof", 5, 50), f("back", 0.8, 1.8))
	case "lean-to":
		text += fmt.Sprintf("shape: {kind: lean-to, back_height: %g ft", f("back", 5, 13))
	default:
		text += fmt.Sprintf("section: {length: 6 m, start: [0 m, %g m], edges: [{name: floor, to: [%g m, %g m], build: wall}, {name: back, to: [%g m, %g m], build: wall},"+
			" {name: top, to: [%g m, 3 m], build: 'thin, 2.5'}, {name: glass, to: [0 m, %g m], glazing: twin_wall_10mm}, {name: near, to: [0 m, %g m], build: wall}]}\n",
			-depth, width, -depth, width+f("lean", -0.3, 0.3), f("back", 1, 2), f("top", 0.4, 0.8)*width, f("front", 0.5, 1), -depth)
	}
	if !strings.Contains(text, "section:") {
		text += fmt.Sprintf(", length: 6 m, width: %g m, depth: %g m, front_height: 0.4 m, glazing: twin_wall_10mm, front_wall: wall, back_wall: wall, floor: wall}\n", width, depth)
	}
	text += fmt.Sprintf("cold_sink: {from: %g m, to: %g m, depth: 40 cm}\n", 0.3*width, 0.45*width)
	text += fmt.Sprintf("beds: [{name: bed, from: %g m, to: %g m, level: 0.1 m, leaf_height: 5 cm}]\n", 0.5*width, 0.7*width)
	text += fmt.Sprintf("store: {rows: [{name: drums, drums: 4, at: %g m, diameter: 30 cm, height: 50 cm}]}\ncover: {r_value: R-4}\n", 0.85*width)
	text += "ground: {boards: [{at: front, lay: lying, thickness: 5 cm, reach: 90 cm}, {at: back, thickness: 5 cm, reach: 60 cm}]}\n"
	p, findings := plan.Load("drawn.yaml", []byte(text), knownHere())
	if plan.Failed(findings) {
		t.Fatalf("%v\n%s", findings, text)
	}
	h, bad := house.Resolve(p)
	if len(bad) > 0 {
		return nil
	}
	return h
}

func knownHere() plan.Known {
	known := house.Known()
	known.Weather = true
	return known
}

// Whatever the house: the changes that a handle gives for a drag of d metres move that handle by d along its way in the section drawn anew, the
// value now is the plan's own, and the gain at the start is the gain of a small drag.
func TestHandlesMoveByTheirDrag(t *testing.T) {
	moved := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		h := drawnHouse(t)
		if h == nil {
			t.Skip("the roofs do not meet")
		}
		d := rapid.Float64Range(-0.08, 0.08).Draw(t, "drag")
		handles := Handles(h)
		for i, grip := range handles {
			for k, w := range grip.Ways {
				checkStart(t, grip, w)
				changed, findings := h.Plan.Apply(changesOf(t, h, grip, w, d)...)
				findings = append(findings, plan.Check(changed, knownHere())...)
				if plan.Failed(findings) {
					continue
				}
				other, bad := house.Resolve(changed)
				if len(bad) > 0 {
					continue
				}
				again := Handles(other)
				if len(again) != len(handles) || again[i].Name != grip.Name {
					t.Fatalf("%s: other handles in the house drawn anew", grip.Name)
				}
				want := drawing.Point{X: grip.At.X + d*w.Along.X, Z: grip.At.Z + d*w.Along.Z}
				if got := again[i].At; math.Hypot(got.X-want.X, got.Z-want.Z) > 1e-6 {
					t.Errorf("%s, way %d: dragged by %g m to %v, drawn anew at %v", grip.Name, k, d, want, got)
				}
				moved[grip.Kind]++
			}
		}
	})
	for _, kind := range []string{"corner", "edge", "bed", "row", "sink", "board", "layer", "cover"} {
		if moved[kind] == 0 {
			t.Errorf("no %s was moved", kind)
		}
	}
}

func checkStart(t *rapid.T, h drawing.Handle, w drawing.Way) {
	const small = 1e-6
	now, near := h.Drag(w, 0), h.Drag(w, small)
	for i, s := range w.Sets {
		if math.Abs(now[i].Value-s.Value) > 1e-9 {
			t.Errorf("%s: %s is %g, not dragged %g", h.Name, s.Path, s.Value, now[i].Value)
		}
		if gain := (near[i].Value - now[i].Value) / small; math.Abs(gain-s.PerMetre) > 1e-3 {
			t.Errorf("%s: %s gains %g a metre, said %g", h.Name, s.Path, gain, s.PerMetre)
		}
		if !(s.Lo < s.Hi) {
			t.Errorf("%s: %s allowed %g to %g", h.Name, s.Path, s.Lo, s.Hi)
		}
	}
}

// The ridge goes wherever both its ways lead together: a free drag is solved for the two.
func TestRidgeGoesFreely(t *testing.T) {
	h := exampleHouse(t)
	var ridge drawing.Handle
	for _, g := range Handles(h) {
		if len(g.Ways) == 2 && g.Kind == "corner" && strings.HasPrefix(g.Name, "ridge") {
			ridge = g
		}
	}
	to := drawing.Point{X: ridge.At.X + 0.11, Z: ridge.At.Z - 0.07}
	var changes []plan.Change
	for _, w := range ridge.Ways { // both slopes are those of the lines to where it is dragged
		s := w.Sets[0]
		moved := ridge
		moved.At = to
		changes = append(changes, changesOf(t, h, moved, w, 0)...)
		if s.About == nil {
			t.Fatalf("%s has no point to turn about", s.Path)
		}
	}
	p, findings := h.Plan.Apply(changes...)
	if err := plan.AsError(append(findings, plan.Check(p, knownHere())...)); err != nil {
		t.Fatal(err)
	}
	other, bad := house.Resolve(p)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	if got := other.Face("glazing").A; math.Hypot(got.X-to.X, got.Z-to.Z) > 1e-6 {
		t.Errorf("ridge at %v, want %v", got, to)
	}
}

// The example has the handles of the short form, by path, and a drag on paper comes out in the plan's own way of writing.
func TestHandlesOfTheExample(t *testing.T) {
	h := exampleHouse(t)
	l, err := drawing.DrawSection(Teller{}.Section(h, nil), drawing.Frame{Width: 900})
	if err != nil {
		t.Fatal(err)
	}
	grips, err := drawing.GripsOn(l, Handles(h))
	if err != nil {
		t.Fatal(err)
	}
	paths := map[string]bool{}
	for _, g := range grips.Grips {
		for _, w := range g.Ways {
			for _, s := range w.Sets {
				paths[s.Path] = true
			}
			if g.Name == "floor: how deep" {
				d := grips.Metres(w, 3, 0.2/grips.MetresPerPixel)
				if c := changesOf(t, h, g.Handle, w, math.Round(d*1e9)/1e9); len(c) != 1 || c[0].String() != "shape.depth=1.3 m" {
					t.Errorf("a drag of 0.2 m down gives %v", c)
				}
			}
		}
		if w, height := l.Size(); g.Px.X < 0 || g.Px.X > w || g.Px.Y < 0 || g.Px.Y > height {
			t.Errorf("%s lies off the picture", g.Name)
		}
	}
	for _, want := range []string{"shape.width", "shape.depth", "shape.front_height", "shape.back_height", "shape.glazing_slope", "shape.back_roof_slope", "beds[1].from",
		"beds[1].to", "beds[0].level", "store.rows[0].at", "cold_sink.from", "cold_sink.to", "cold_sink.depth", "ground.boards[0].reach", "ground.boards[0].thickness", "builds.block wall.layers[1].thickness"} {
		if !paths[want] {
			t.Errorf("no handle for %s", want)
		}
	}
	if !slices.ContainsFunc(Handles(h), func(g drawing.Handle) bool { return g.Kind == "layer" }) {
		t.Error("no layer to take hold of")
	}
}

// exampleHouse is the example of the short form, resolved.
func exampleHouse(t *testing.T) *house.House {
	t.Helper()
	return houseOf(t, examples.LarchHollowName, examples.LarchHollow)
}

// houseOf is the house of a plan's text.
func houseOf(t *testing.T, name string, text []byte) *house.House {
	t.Helper()
	p, findings := plan.Load(name, text, house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	return h
}

// changesOf are the changes of a drag of d metres along a way.
func changesOf(t interface{ Fatal(...any) }, h *house.House, grip drawing.Handle, w drawing.Way, d float64) []plan.Change {
	list, err := Changes(h.Plan, grip.Drag(w, d))
	if err != nil {
		t.Fatal(err)
	}
	return list
}
