package house

import (
	"math"
	"slices"
	"strings"
	"testing"

	"suncellar/internal/plan"
)

// piped is the pit with two rows of drums on its floor, 1.2 m below grade, and the usual scheme. Its back roof spans x from 2 to 4 m and its eave is at 1.3 m.
var piped = at(pit, "46") + `
beds: [{name: bed, from: 0.2 m, to: 1.4 m, level: 0.3 m}]
store: {rows: [{name: back, drums: 8, tiers: 2, bays: 2, at: 3.6 m, fill: 90 %}, {name: side, drums: 3, at: 2.5 m, base: 0.2 m, fill: 90 %}]}
water:
  catchments: [{name: roof, of: back roof}, {name: shed, area: 10 m2, slope: 60 deg, eave_height: 2 m, surface: tile, snow: slides off}]
  gutter: {fall: 1 %, drop: 10 cm}
  inlet: {mouth: flap}
  manifolds: [{row: back, from: right}, {row: side, diameter: 20 mm, couplings: flexible}]
  valves: [{name: stop, on: side, state: shut}, {name: tap, on: line}]
  drip_lines: [{name: line, bed: bed, length: 5 m, spacing: 50 cm}]
`

func TestWaterScheme(t *testing.T) {
	h := resolved(t, piped)
	w := h.Scheme
	roof, shed := w.Catchments[0], w.Catchments[1]
	near(t, "roof as seen from above", roof.Area, 2*6)
	near(t, "eave", roof.Eave, 1.3)
	near(t, "gutter's outlet", roof.Outlet, 1.3-0.1-0.06)
	near(t, "shed as seen from above", shed.Area, 10*math.Cos(math.Pi/3))
	if roof.Sheds || !shed.Sheds || !roof.Smooth || shed.Smooth || roof.Runoff != 0.9 || shed.Runoff != 0.8 {
		t.Errorf("catchments %+v", w.Catchments)
	}
	if len(w.Vessels) != 4+3 || w.Vessels[1].Name != "back, drum 2" || w.Vessels[1].Bay != (BayAt{0, 0}) || w.Vessels[2].Bay != (BayAt{0, 1}) {
		t.Fatalf("vessels %+v", w.Vessels)
	}
	back := w.Vessels[0]
	near(t, "bottom", back.Bottom, -1.2)
	near(t, "top", back.Top, -1.2+2*0.87)
	near(t, "two drums", back.Volume, 2*0.208)
	near(t, "half", back.Holds((back.Bottom+back.Top)/2), 0.208)
	near(t, "below", back.Holds(-5), 0)
	near(t, "over", back.Holds(5), 2*0.208)
	near(t, "the inlet ends at the overflow of the right drum", w.Points[w.InletEnd].Z, -1.2+0.9*2*0.87)
	if v := w.Points[w.InletEnd].Vessel; v != 3 {
		t.Errorf("the inlet ends over %d", v)
	}
	near(t, "overflow", w.Overflow.Z, -1.2+0.2+0.9*0.87)
	if w.Vessels[w.Overflow.Vessel].Name != "side, drum 3" || w.Overflow.End != 0 {
		t.Errorf("overflow %+v", w.Overflow)
	}
	near(t, "emitters", w.Drips[0].Z, -0.9)
	if w.Drips[0].Emitters != 10 || w.Points[w.Drips[0].From].Name != "joint at side, drum 3" {
		t.Errorf("drip line %+v", w.Drips[0])
	}
	near(t, "tap", w.DrawOff, -1.2+overBottom)
}

// Water comes to what open pipes join: a shut valve before the second row leaves it dry, and between the bays stands one that is not written.
func TestFed(t *testing.T) {
	w := resolved(t, piped).Scheme
	if !slices.Equal(w.Fed, []int{0, 1, 2, 3}) {
		t.Errorf("fed %v", w.Fed)
	}
	if !slices.Equal(resolved(t, piped, "water.valves[0].state=open").Scheme.Fed, []int{0, 1, 2, 3, 4, 5, 6}) {
		t.Error("not all are fed with all valves open")
	}
	i := slices.IndexFunc(w.Valves, func(v WaterValve) bool { return v.Assumed })
	if i < 0 || w.Valves[i].Name != "valve before back, bay 1" || w.Points[w.Pipes[w.Valves[i].Pipe].To].Name != "joint at back, drum 2" {
		t.Errorf("valves %+v", w.Valves)
	}
	shut := resolved(t, piped, "water.valves[1]={name: mid, on: 'back, bay 1', state: shut}").Scheme
	if !slices.Equal(shut.Fed, []int{2, 3}) {
		t.Errorf("fed %v with the bays parted", shut.Fed)
	}
}

// ringed joins three drums by a ring of pipes.
var ringed = piped[:strings.Index(piped, "  manifolds")] + `
  points: [{name: tee, height: -1.1 m}]
  pipes:
    - {name: feed, from: inlet, to: tee, diameter: 25 mm, length: 3 m}
    - {name: a, from: tee, to: "back, drum 1", diameter: 25 mm, length: 1 m, material: galvanised steel, bends: 2}
    - {name: b, from: "back, drum 1", to: "back, drum 3", from_height: -0.5 m, diameter: 25 mm, length: 1 m}
    - {name: c, from: "back, drum 3", to: tee, diameter: 25 mm, length: 1 m}
  drip_lines: [{name: line, bed: bed, from: tee}]
`

func TestPipework(t *testing.T) {
	w := resolved(t, ringed).Scheme
	if !slices.Equal(w.Fed, []int{0, 2}) || w.Vessels[w.Overflow.Vessel].Name != "back, drum 3" {
		t.Errorf("fed %v, overflow at %s", w.Fed, w.Vessels[w.Overflow.Vessel].Name)
	}
	near(t, "where b leaves", w.Points[w.Pipes[2].From].Z, -0.5)
	near(t, "wall of a", w.Pipes[1].Roughness, 0.15e-3)
	near(t, "losses of a", w.Pipes[1].Fittings, 0.9+2*1.5+0.5)
}

func TestWaterThatCannotBeLaid(t *testing.T) {
	for _, c := range []struct{ text, change, path, want string }{
		{piped, "water.catchments[0].of=floor", "water.catchments[0].of", "floor has no part that rain falls on"},
		{piped, "water.overflow.height=2 m", "water.overflow.height", "2.00 m is not at side, drum 3, which stands from -1.00 to -0.13 m"},
		{piped, "water.manifolds[0].height=1 m", "water.manifolds[0].height", "1.00 m is not at back, drum 4, which stands from -1.20 to 0.54 m"},
		{piped, "water.overflow.to=cold sink", "water.overflow.to", "the house has no cold sink"},
		{piped, "water.drip_lines[0].spacing=5 m", "", ""},
		{ringed, "water.pipes[2].from_height=3 m", "water.pipes[2].from_height", "3.00 m is not at back, drum 1"},
		{strings.Replace(strings.Replace(piped, "drums: 8", "drums: 0", 1), "drums: 3", "drums: 0", 1), "store.rows[0].bays=1", "water", "there is no drum that the water could go to"},
	} {
		p := read(t, c.text, c.change)
		_, bad := Resolve(p)
		if c.want == "" {
			if plan.Failed(bad) {
				t.Errorf("%s: %v", c.change, bad)
			}
			continue
		}
		if !slices.ContainsFunc(bad, func(f plan.Finding) bool {
			return f.Path == c.path && strings.Contains(f.Message, c.want) && f.Hint != ""
		}) {
			t.Errorf("%s: %v", c.change, bad)
		}
	}
}
