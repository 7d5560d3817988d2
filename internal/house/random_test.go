package house

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/plan"
)

// drawnPlan is a random pit or lean-to, with a bed and a sink where they fit; false where its roofs do not meet.
func drawnPlan(t *rapid.T) (*House, bool) {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	width, length, depth := f("width", 2, 8), f("length", 2, 30), rapid.SampledFrom([]float64{0, 0.4, 1.3, 2.2}).Draw(t, "depth")
	text := at(head+builds, fmt.Sprint(f("latitude", -60, 60)))
	if rapid.Bool().Draw(t, "pit") {
		text += fmt.Sprintf("shape: {kind: pit, glazing_slope: %g deg, back_roof: thin, back_roof_slope: %g deg, back_height: %g m", f("slope", 25, 85), f("roof", 5, 50), f("back", 0.5, 1.5))
	} else {
		text += fmt.Sprintf("shape: {kind: lean-to, back_height: %g m", f("back", 1.2, 4))
	}
	text += fmt.Sprintf(", length: %g m, width: %g m, depth: %g m, front_height: 0.4 m, glazing: twin_wall_10mm, front_wall: wall, back_wall: wall}\nends: {build: thin}\n", length, width, depth)
	if rapid.Bool().Draw(t, "sink") {
		text += fmt.Sprintf("cold_sink: {from: %g m, to: %g m, depth: 0.4 m}\n", 0.3*width, 0.5*width)
	}
	if rapid.Bool().Draw(t, "bed") {
		text += fmt.Sprintf("beds: [{name: bed, from: %g m, to: %g m, level: 0.1 m, leaf_height: 0.05 m}]\n", 0.6*width, 0.8*width)
	}
	known := Known()
	known.Weather = true
	p, findings := plan.Load("drawn.yaml", []byte(text), known)
	if plan.Failed(findings) {
		return nil, false
	}
	h, bad := Resolve(p)
	return h, len(bad) == 0
}

// outward is the normal of a face out of the room: to the front, up, to the right.
func outward(h *House, f *Face) [3]float64 {
	turn := f.Azimuth - h.Facing
	return [3]float64{math.Sin(f.Tilt) * math.Cos(turn), math.Cos(f.Tilt), math.Sin(f.Tilt) * math.Sin(turn)}
}

// Whatever the house: its faces close (areas times normals add up to nothing in every direction), the volume of the room follows from them by
// the theorem of divergence, and what lies across grade is split there.
func TestRoomsClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, ok := drawnPlan(t)
		if !ok {
			t.Skip("the roofs do not meet")
		}
		var sum [3]float64
		volume, size := 0.0, 0.0
		ends := 0.0
		for i := range h.Faces {
			f := &h.Faces[i]
			n := outward(h, f)
			for k := range sum {
				sum[k] += f.Area * n[k]
			}
			size += f.Area
			if f.End != 0 {
				ends += f.Area
				volume += f.Area * h.Length / 2 / 3
				continue
			}
			m := f.Mid()
			volume += f.Area * (-m.X*n[0] + m.Z*n[1]) / 3 // x runs to the back
			if f.Glass == nil && f.Z0 < -1e-9 && f.Z1 > 1e-9 {
				t.Errorf("%s runs from %.3f to %.3f m across grade", f.Name, f.Z0, f.Z1)
			}
			near(t, f.Name+" area", f.Area, h.Length*math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z))
		}
		for k, s := range sum {
			if math.Abs(s) > 1e-9*size {
				t.Errorf("areas times normals leave %.3g m² in direction %d", s, k)
			}
		}
		near(t, "volume by the theorem of divergence", volume, h.Gross)
		near(t, "ends", ends, 2*h.Gross/h.Length)
		air := 0.0
		levels := []float64{h.SinkZ, h.FloorZ, h.FloorZ + 0.3, h.FloorZ + 0.5, h.Top()}
		for k := 1; k < len(levels); k++ {
			if levels[k] > levels[k-1] {
				v, _ := h.Between(levels[k-1], levels[k])
				air += v
			}
		}
		near(t, "layers of air", air, h.Volume)
	})
}

// The same section with front and back changed, looking the other way, has the same faces looking the same ways.
func TestMirroredSection(t *testing.T) {
	const facing = "site: {latitude: 45 deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC+0, facing: %g deg}\n"
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		w, low, a, b, ridge := f("width", 2, 6), f("floor", -2, 0), f("front", 0.5, 2), f("back", 0.5, 2), f("ridge", 0.2, 0.8)
		look := f("facing", 0, 179)
		make := func(mirror bool) *House {
			x := func(v float64) float64 {
				if mirror {
					return w - v
				}
				return v
			}
			text := "suncellar: 1\nname: m\n" + builds + fmt.Sprintf(facing, look+map[bool]float64{true: 180}[mirror]) +
				fmt.Sprintf("section:\n  length: 4 m\n  start: [%g m, %g m]\n  edges:\n    - {name: floor, to: [%g m, %[2]g m], build: thin}\n    - {name: far, to: [%[3]g m, %[4]g m], build: wall}\n"+
					"    - {name: roof, to: [%[5]g m, 3 m], build: thin}\n    - {name: glass, to: [%[1]g m, %[6]g m], glazing: twin_wall_10mm}\n    - {name: near, to: [%[1]g m, %[2]g m], build: wall}\nends: {build: thin}\n",
					x(0), low, x(w), b, x(w*ridge), a)
			known := Known()
			known.Weather = true
			p, findings := plan.Load("m.yaml", []byte(text), known)
			if err := plan.AsError(findings); err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			h, bad := Resolve(p)
			if err := plan.AsError(bad); err != nil {
				t.Fatal(err)
			}
			return h
		}
		one, other := make(false), make(true)
		near(t, "volume", one.Gross, other.Gross)
		for i := range one.Faces {
			p := &one.Faces[i]
			name := p.Name
			switch {
			case p.End < 0: // the house turned half round: its left is now its right
				name = "right" + name[len("left"):]
			case p.End > 0:
				name = "left" + name[len("right"):]
			}
			q := other.Face(name)
			if q == nil {
				t.Fatalf("no %s", name)
			}
			near(t, name+" area", p.Area, q.Area)
			near(t, name+" tilt", p.Tilt, q.Tilt)
			if d := math.Remainder(p.Azimuth-q.Azimuth, 2*math.Pi); math.Sin(p.Tilt) > 1e-9 && math.Abs(d) > 1e-9 {
				t.Errorf("%s looks to %.3f° and %.3f°", name, p.Azimuth/degrees, q.Azimuth/degrees)
			}
		}
	})
}
