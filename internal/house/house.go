// Package house resolves a plan into geometry: one closed section, the faces round the room, the drums, the beds, areas and
// volumes. Drawings, simulation, water and footing all read this one.
//
// The section lies across the house: x from the inside of the front wall (sun side) to the back, z upward from grade [m]. Faces
// are plane pieces of the envelope, split where they pass grade, so that each has one thing behind it. Left and right are as
// seen from inside, looking out through the glazing.
package house

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/glazing"
	"suncellar/internal/material"
	"suncellar/internal/plan"
)

// Point is a corner of the section [m].
type Point struct{ X, Z float64 }

// Behind is what lies on the other side of a face.
type Behind int

// The kinds of Behind.
const (
	Air Behind = iota
	Soil
	Adiabatic
	Fixed
)

// Layer is one layer of a build: a material with a thickness, or a bare resistance (Thickness 0).
type Layer struct {
	Name         string
	Thickness    float64 // [m]
	Conductivity float64 // [W/mK]
	VolumeHeat   float64 // [J/m³K]; 0 for a layer whose heat is not counted
	R            float64 // [m²K/W]
}

// Build is a resolved stack of layers, inside first.
type Build struct {
	Name            string
	Layers          []Layer
	Inside, Outside plan.Finish
}

// R is the resistance of all layers, without films [m²K/W].
func (b Build) R() float64 {
	sum := 0.0
	for _, l := range b.Layers {
		sum += l.R
	}
	return sum
}

// Thickness of all layers [m].
func (b Build) Thickness() float64 {
	sum := 0.0
	for _, l := range b.Layers {
		sum += l.Thickness
	}
	return sum
}

// Face is a plane piece of the envelope with one build and one thing behind it.
type Face struct {
	Name    string  // unique: "back wall above grade", "window 1"
	Of      string  // the edge or end wall it belongs to: "back wall", "left end"
	A, B    Point   // its line in the section, room to the left; for an end wall both are the middle of its area
	End     int     // -1 left end, +1 right end, 0 an edge of the section
	Area    float64 // net of windows and doors [m²]
	Tilt    float64 // of its outward normal from straight up [rad]: 0 faces up, pi/2 upright, pi faces down
	Azimuth float64 // of its outward normal, clockwise from north [rad]
	Z0, Z1  float64 // lowest and highest point [m]
	Behind  Behind
	FixedC  float64        // temperature behind, when Fixed [°C]
	Build   *Build         // opaque faces; nil for glazing and bare earth
	Glass   *glazing.Stack // glazed faces; nil when opaque
	Glazing string         // its name
	Door    bool
	Off     *plan.TakenOff // the part of the year in which its panels are off, nil never
	Instead *glazing.Stack // what hangs there meanwhile, nil nothing
}

// Mid is the middle of the face [m].
func (f *Face) Mid() Point { return Point{(f.A.X + f.B.X) / 2, (f.A.Z + f.B.Z) / 2} }

// Row is one row of drums of the store.
type Row struct {
	Name        string
	Drums       int
	Bays        int
	Diameter    float64 // of one drum [m]
	Height      float64 // of one drum [m]
	Tiers       int
	Volume      float64 // inner volume of one drum [m³]
	Fill        float64 // share filled
	Wall        Layer   // of the drum
	Absorptance float64
	X           float64 // middle [m]
	Base, Top   float64 // z of bottom and top of the stack [m]
	StartC      *float64
}

// Water is the volume of water of the row [m³].
func (r Row) Water() float64 { return float64(r.Drums) * r.Volume * r.Fill }

// Side and TopArea are the areas of all drums of the row [m²].
func (r Row) Side() float64 { return float64(r.Drums) * math.Pi * r.Diameter * r.Height }

// TopArea is the upper (or lower) end of all drums [m²].
func (r Row) TopArea() float64 { return float64(r.Drums) * math.Pi / 4 * r.Diameter * r.Diameter }

// Bed is a growing bed: a strip of the floor raised to its soil surface.
type Bed struct {
	Name    string
	X0, X1  float64
	Z       float64 // soil surface [m]
	LeafZ   float64 // leaf tips [m]
	Area    float64
	Planted float64
}

// House is a plan resolved.
type House struct {
	Plan     *plan.Plan
	Length   float64
	Section  []Point // the room's edge, anticlockwise (room to the left), cold sink included, beds not cut out
	Faces    []Face
	Rows     []Row
	Events   []WaterEvent // of the store
	Beds     []Bed
	Tubes    []Tubes
	Footings []Footing
	Scheme   *Water  // nil: the plan says nothing of it
	FloorZ   float64 // datum of heights that are told: the floor [m]
	SinkZ    float64 // bottom of the cold sink; FloorZ when there is none
	Sink     bool
	Volume   float64 // of air, drums and raised beds taken out [m³]
	Gross    float64 // of the section times the length [m³]
	Floor    float64 // area [m²]
	Facing   float64 // azimuth of the glazing [rad]
	Front    float64 // outer face of the front wall at grade [m], <= 0
	Back     float64 // outer face of the back wall at grade [m]
	Notes    []string
}

// Known gives the names that a plan may use.
func Known() plan.Known {
	return plan.Known{Materials: spaced(material.Names()), Glazings: spaced(glazing.Names()), Drums: DrumNames()}
}

// spaced gives the library's keys as a plan may write them: as they are, and with spaces.
func spaced(keys []string) []string {
	out := slices.Clone(keys)
	for _, k := range keys {
		if s := strings.ReplaceAll(k, "_", " "); s != k {
			out = append(out, s)
		}
	}
	return out
}

// Resolve makes the geometry of a checked plan. What cannot be built is told all at once.
func Resolve(p *plan.Plan) (*House, []plan.Finding) {
	r := &resolver{p: p, h: &House{Plan: p}}
	r.facing()
	r.builds()
	edges := r.edges()
	if len(r.bad) == 0 {
		r.section(edges)
		r.soilLayers()
		r.ends()
		r.openings()
		r.takenOff()
		r.beds()
		r.store()
		r.events()
		r.tubes()
		r.footings()
		r.water()
		r.sums()
	}
	return r.h, r.bad
}

type resolver struct {
	p     *plan.Plan
	h     *House
	bad   []plan.Finding
	build map[string]*Build
}

func (r *resolver) fail(path, hint, format string, args ...any) {
	f := plan.Finding{Path: path, Message: fmt.Sprintf(format, args...), Hint: hint}
	r.bad = append(r.bad, r.p.Place(f))
}

func (r *resolver) facing() {
	switch {
	case r.p.Site.Facing != nil:
		r.h.Facing = *r.p.Site.Facing
	case r.p.Site.Latitude >= 0:
		r.h.Facing = math.Pi
	}
}

// Glass resolves a glazing by name: the user's own, else the library's.
func Glass(p *plan.Plan, name string) (glazing.Stack, error) {
	if g, ok := p.Glazings[name]; ok {
		return ownGlazing(g)
	}
	product, err := glazing.Lookup(Key(name))
	return product.Stack, err
}
