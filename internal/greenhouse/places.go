package greenhouse

import (
	"fmt"
)

// PlaceKind sorts places.
type PlaceKind string

// The kinds of places.
const (
	AirPlace   PlaceKind = "air"
	LeafPlace  PlaceKind = "leaf"
	SoilPlace  PlaceKind = "soil"
	WaterPlace PlaceKind = "water"
	FacePlace  PlaceKind = "face"
	OutPlace   PlaceKind = "outdoors"
)

// Place is a spot that has a temperature.
type Place struct {
	Name    string
	Kind    PlaceKind
	X, Z    float64 // in the section [m]
	HeightM float64 // above the floor [m]; for soil see DepthM
	DepthM  float64 // below the top of the bed, for soil [m]
	InSoil  bool
	Bay     string // of water: its bay
	read    func() float64
}

// Places are all spots that a run records.
func (g *Greenhouse) Places() []Place { return g.places }

func (g *Greenhouse) addPlaces() {
	h := g.House
	add := func(p Place) {
		p.HeightM = p.Z - h.FloorZ
		g.places = append(g.places, p)
	}
	middle := (h.Front + h.Back) / 2
	add(Place{Name: "outdoor air", Kind: OutPlace, X: h.Front - 1, Z: 1.5, read: func() float64 { return g.Net.T(g.outside.air) }})
	g.leaves = make([]*leaf, len(g.room.strips))
	for i, b := range h.Beds {
		x := (b.X0 + b.X1) / 2
		for k, strip := range g.room.strips {
			if strip.bed != i {
				continue
			}
			leaf := g.leafAt(k)
			g.leaves[k] = leaf
			add(Place{Name: leafName(b.Name, strip.side), Kind: LeafPlace, X: (strip.x0 + strip.x1) / 2, Z: b.LeafZ, read: leaf.temperature})
		}
		for _, cm := range []int{5, 10, 20} {
			d := float64(cm) / 100
			p := Place{Name: fmt.Sprintf("%s, soil %d cm", b.Name, cm), Kind: SoilPlace, X: x, Z: b.Z - d, DepthM: d, InSoil: true}
			p.read = g.ground.reading(x, b.Z-d)
			add(p)
		}
	}
	for _, l := range g.layers {
		add(Place{Name: l.name, Kind: AirPlace, X: middle, Z: (l.z0 + l.z1) / 2, read: func() float64 { return g.Net.T(l.node) }})
	}
	for _, b := range g.store.bays {
		for k := range b.layers {
			l := &b.layers[k]
			add(Place{Name: g.Net.Name(l.node), Kind: WaterPlace, Bay: b.name, X: b.row.X, Z: b.row.Base + (l.low+l.high)/2, read: func() float64 { return g.Net.T(l.node) }})
		}
	}
	for i := range h.Faces {
		f := &h.Faces[i]
		for _, s := range g.inside {
			if s.name == f.Name {
				m := f.Mid()
				add(Place{Name: f.Name + ", inner face", Kind: FacePlace, X: m.X, Z: m.Z, read: func() float64 { return g.Net.T(s.node) }})
			}
		}
	}
}

// leafName is the name of the place of a strip's leaf tips.
func leafName(bed, side string) string {
	if side == "" {
		return bed + ", leaf tips"
	}
	return bed + ", leaf tips, " + side
}
