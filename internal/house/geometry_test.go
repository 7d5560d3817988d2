package house

import (
	"math"
	"strings"
	"testing"
)

func at(text, latitude string) string { return strings.Replace(text, "%LAT", latitude, 1) }

// Every face of the pit by hand: area, tilt, azimuth, heights, what lies behind.
func TestPitByHand(t *testing.T) {
	h := resolved(t, at(pit, "45"))
	root := math.Hypot(2, 1)
	section := 4*1.2 + (0.3+2.3)/2*2 + (2.3+1.3)/2*2 // below grade; front half; back half
	below, above := 4*1.2, section-4*1.2
	for _, want := range []struct {
		name           string
		area           float64
		tilt, azimuth  float64 // [°]
		z0, z1         float64
		behind         Behind
		glazed, opaque bool
	}{
		{"floor", 24, 180, 180, -1.2, -1.2, Soil, false, true},
		{"back wall below grade", 6 * 1.2, 90, 0, -1.2, 0, Soil, false, true},
		{"back wall above grade", 6 * 1.3, 90, 0, 0, 1.3, Air, false, true},
		{"back roof", 6 * root, 26.565051177077990, 0, 1.3, 2.3, Air, false, true},
		{"glazing", 6 * 2 * math.Sqrt2, 45, 180, 0.3, 2.3, Air, true, false},
		{"front wall above grade", 6 * 0.3, 90, 180, 0, 0.3, Air, false, true},
		{"front wall below grade", 6 * 1.2, 90, 180, -1.2, 0, Soil, false, true},
		{"left end above grade", above, 90, 90, 0, 2.3, Air, false, true},
		{"left end below grade", below, 90, 90, -1.2, 0, Soil, false, true},
		{"right end above grade", above, 90, 270, 0, 2.3, Air, false, true},
		{"right end below grade", below, 90, 270, -1.2, 0, Soil, false, true},
	} {
		f := h.Face(want.name)
		if f == nil {
			t.Errorf("no face %q", want.name)
			continue
		}
		near(t, want.name+" area", f.Area, want.area)
		near(t, want.name+" tilt", f.Tilt/degrees, want.tilt)
		near(t, want.name+" azimuth", f.Azimuth/degrees, want.azimuth)
		near(t, want.name+" lowest", f.Z0, want.z0)
		near(t, want.name+" highest", f.Z1, want.z1)
		if f.Behind != want.behind || (f.Glass != nil) != want.glazed || (f.Build != nil) != want.opaque {
			t.Errorf("%s: behind %v, glazing %v, build %v", want.name, f.Behind, f.Glass != nil, f.Build != nil)
		}
	}
	if len(h.Faces) != 11 {
		t.Errorf("%d faces, want 11", len(h.Faces))
	}
	near(t, "gross volume", h.Gross, 6*section)
	near(t, "volume", h.Volume, 6*section)
	near(t, "floor", h.Floor, 24)
	near(t, "glazed", h.GlazedArea(), 12*math.Sqrt2)
	near(t, "top", h.Top(), 2.3)
	near(t, "front", h.Front, -0.25)
	near(t, "back", h.Back, 4.25)
	near(t, "envelope", h.Envelope(), 6*1.3+6*root+12*math.Sqrt2+6*0.3+2*above)
	near(t, "width in the middle of the glazing", h.WidthAt(1.3), 4-1)
	level, _ := h.EarthR()
	near(t, "resistance of the floor", level, 2)
}

// The azimuths of glazing, back and ends, for both hemispheres and for a facing that was given.
func TestAzimuths(t *testing.T) {
	for _, c := range []struct {
		latitude, facing         string
		front, back, left, right float64
	}{
		{"45", "", 180, 0, 90, 270},
		{"0", "", 180, 0, 90, 270},
		{"-45", "", 0, 180, 270, 90},
		{"45", "150 deg", 150, 330, 60, 240},
		{"-45", "30 deg", 30, 210, 300, 120},
		{"45", "360 deg", 360, 180, 270, 90},
	} {
		var changes []string
		if c.facing != "" {
			changes = append(changes, "site.facing="+c.facing)
		}
		h := resolved(t, at(pit, c.latitude), changes...)
		for name, want := range map[string]float64{"glazing": c.front, "back roof": c.back, "left end above grade": c.left, "right end above grade": c.right} {
			got := h.Face(name).Azimuth / degrees
			if d := math.Remainder(got-want, 360); math.Abs(d) > 1e-9 {
				t.Errorf("latitude %s, facing %q: %s looks to %.3f°, want %.0f°", c.latitude, c.facing, name, got, want)
			}
		}
	}
}

// A lean-to's glazing runs from the front wall to the top of the back wall.
func TestLeanToByHand(t *testing.T) {
	h := resolved(t, at(pit, "45"), "shape.kind=lean-to", "shape.glazing_slope=none", "shape.back_roof=none", "shape.back_roof_slope=none", "shape.depth=0 m", "shape.back_height=3.3 m")
	near(t, "glazing area", h.Face("glazing").Area, 6*5)
	near(t, "glazing tilt", h.Face("glazing").Tilt, math.Atan2(3, 4))
	near(t, "volume", h.Gross, 6*4*(0.3+3.3)/2)
	for _, name := range []string{"back wall", "front wall", "left end", "right end", "floor"} {
		if h.Face(name) == nil {
			t.Errorf("no face %q: a face that does not pass grade keeps its name", name)
		}
	}
	if h.Face("floor").Behind != Soil || h.Face("back wall").Behind != Air {
		t.Error("a floor at grade lies on soil, a wall above it stands in air")
	}
}

const gable = head + builds + `
section:
  length: 5 m
  start: [0 m, -0.5 m]
  edges:
    - {name: floor, to: [3 m, -0.5 m], build: bare earth}
    - {name: back, to: [3 m, 2 m], build: wall, behind: adiabatic}
    - {name: roof, to: [1.5 m, 3 m], build: thin, behind: fixed 12 degC}
    - {name: glass, to: [0 m, 1 m], glazing: twin_wall_10mm}
    - {name: front, to: [0 m, -0.5 m], build: thin}
ends: {build: thin, left: {build: wall, behind: soil}}
`

const gableClockwise = head + builds + `
section:
  length: 5 m
  start: [0 m, -0.5 m]
  edges:
    - {name: front, to: [0 m, 1 m], build: thin}
    - {name: glass, to: [1.5 m, 3 m], glazing: twin_wall_10mm}
    - {name: roof, to: [3 m, 2 m], build: thin, behind: fixed 12 degC}
    - {name: back, to: [3 m, -0.5 m], build: wall, behind: adiabatic}
    - {name: floor, to: [0 m, -0.5 m], build: bare earth}
ends: {build: thin, left: {build: wall, behind: soil}}
`

func TestLongFormByHand(t *testing.T) {
	h := resolved(t, at(gable, "45"))
	near(t, "volume", h.Gross, 5*(3*0.5+(1.0+3)/2*1.5+(3.0+2)/2*1.5))
	near(t, "glass", h.Face("glass").Area, 5*2.5)
	near(t, "tilt of glass", h.Face("glass").Tilt, math.Atan2(2, 1.5))
	if f := h.Face("roof"); f.Behind != Fixed || f.FixedC != 12 {
		t.Errorf("behind the roof is %v at %g °C, want fixed 12 °C", f.Behind, f.FixedC)
	}
	for _, name := range []string{"back below grade", "back above grade"} {
		if f := h.Face(name); f == nil || f.Behind != Adiabatic {
			t.Errorf("%s: %+v, want it adiabatic", name, f)
		}
	}
	if f := h.Face("left end above grade"); f.Behind != Soil || f.Build.Name != "wall" {
		t.Errorf("left end: %v, %s", f.Behind, f.Build.Name)
	}
	if f := h.Face("right end above grade"); f.Behind != Air || f.Build.Name != "thin" {
		t.Errorf("right end: %v, %s", f.Behind, f.Build.Name)
	}
	if f := h.Face("floor"); f.Build != nil || f.Behind != Soil {
		t.Errorf("a floor of bare earth has build %v and behind it %v", f.Build, f.Behind)
	}
}

// The same room written clockwise is the same house.
func TestClockwiseIsTheSame(t *testing.T) {
	a, b := resolved(t, at(gable, "45")), resolved(t, at(gableClockwise, "45"))
	if len(a.Faces) != len(b.Faces) {
		t.Fatalf("%d and %d faces", len(a.Faces), len(b.Faces))
	}
	for i := range a.Faces {
		f, g := &a.Faces[i], b.Face(a.Faces[i].Name)
		if g == nil {
			t.Errorf("no %s", f.Name)
			continue
		}
		if *f != faceWith(*g, f) {
			t.Errorf("%s differs:\n%+v\n%+v", f.Name, *f, *g)
		}
	}
	near(t, "volume", a.Volume, b.Volume)
	near(t, "front", a.Front, b.Front)
	near(t, "back", a.Back, b.Back)
}

// faceWith is g with the pointers of f, so that the two can be compared.
func faceWith(g Face, f *Face) Face {
	if (g.Build != nil) == (f.Build != nil) {
		g.Build = f.Build
	}
	if (g.Glass != nil) == (f.Glass != nil) {
		g.Glass = f.Glass
	}
	return g
}

// The cold sink takes its piece out of the floor, beds and drums take their volume out of the air, windows and doors their area out of their
// face above grade.
func TestPartsInside(t *testing.T) {
	text := at(pit, "45") + `
cold_sink: {from: 1.5 m, to: 2 m, depth: 0.4 m}
beds:
  - {name: second, from: 2 m, to: 3 m, level: 0.3 m, leaf_height: 0.2 m}
  - {name: first, from: 0.2 m, to: 1.4 m, level: 0.25 m}
store: {rows: [{name: back, drums: 6, tiers: 2, at: 3.5 m, diameter: 0.6 m, height: 0.8 m, fill: 90 %, base: 0.1 m}]}
doors: [{in: left end, width: 0.8 m, height: 1.5 m, u_value: 2 W/m2K}]
windows: [{name: pane, in: back wall, width: 0.5 m, height: 0.4 m, count: 3, glazing: twin_wall_10mm}]
`
	h := resolved(t, text)
	near(t, "floor in front", h.Face("floor").Area, 6*1.5)
	near(t, "floor behind the sink", h.Face("floor behind sink").Area, 6*2)
	near(t, "floor of the sink", h.Face("sink floor").Area, 6*0.5)
	near(t, "front of the sink", h.Face("sink front").Area, 6*0.4)
	near(t, "back of the sink", h.Face("sink back").Area, 6*0.4)
	near(t, "azimuth of the sink's front", h.Face("sink front").Azimuth/degrees, 180)
	near(t, "azimuth of the sink's back", math.Remainder(h.Face("sink back").Azimuth/degrees, 360), 0)
	near(t, "bottom of the sink", h.SinkZ, -1.6)
	near(t, "level floor", h.Floor, 24)
	inner := math.Pi / 4 * 0.594 * 0.594 * 0.794
	row := h.Rows[0]
	near(t, "volume of a drum", row.Volume, inner)
	near(t, "water", h.Water(), 6*inner*0.9)
	near(t, "top of the drums", row.Top, -1.2+0.1+1.6)
	near(t, "sides of the drums", row.Side(), 6*math.Pi*0.6*0.8)
	near(t, "lids", row.TopArea(), 6*math.Pi/4*0.36)
	near(t, "gross", h.Gross, 6*(4*1.2+2.6+3.6+0.5*0.4))
	near(t, "air", h.Volume, h.Gross-6*1*0.3-6*1.2*0.25-6*inner)
	near(t, "back wall less its windows", h.Face("back wall above grade").Area, 6*1.3-0.6)
	near(t, "windows", h.Face("pane").Area, 0.6)
	near(t, "left end less its door", h.Face("left end above grade").Area, 6.2-1.2)
	near(t, "resistance of the door, films taken off", h.Face("door").Build.R(), 0.5-0.17)
	if !h.Face("door").Door || h.Face("pane").Glass == nil {
		t.Error("door or window is not told as such")
	}
	near(t, "leaf tips", h.Beds[0].LeafZ, -1.2+0.5)
	near(t, "bed area", h.Beds[1].Area, 7.2)
	if beds := h.BedsAlong(0, 4); len(beds) != 2 || beds[0].Name != "first" {
		t.Errorf("beds from the front: %+v", beds)
	}
	sum := 0.0
	for _, name := range []string{"floor", "floor behind sink"} {
		for _, piece := range h.Uncovered(h.Face(name)) {
			sum += piece[1].X - piece[0].X
		}
	}
	near(t, "floor that no bed lies on", sum, 3.5-1-1.2)
	v, top := h.Between(h.SinkZ, h.FloorZ)
	near(t, "air of the sink", v, 6*0.5*0.4)
	near(t, "top of the sink", top, 6*0.5)
	low, _ := h.Between(h.FloorZ, 0)
	high, _ := h.Between(0, h.Top())
	near(t, "layers add up", v+low+high, h.Volume)
}
