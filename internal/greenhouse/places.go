package greenhouse

import (
	"fmt"
	"math"

	"suncellar/internal/house"
	"suncellar/internal/sun"
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
	for i, b := range h.Beds {
		x := (b.X0 + b.X1) / 2
		leaf := g.leafAt(i)
		add(Place{Name: b.Name + ", leaf tips", Kind: LeafPlace, X: x, Z: b.LeafZ, read: leaf.temperature})
		for _, cm := range []int{5, 10, 20} {
			d := float64(cm) / 100
			p := Place{Name: fmt.Sprintf("%s, soil %d cm", b.Name, cm), Kind: SoilPlace, X: x, Z: b.Z - d, DepthM: d, InSoil: true}
			p.read = func() float64 { return g.ground.temperatureAt(x, b.Z-d) }
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

// leaf is a leaf at the tips of a bed: it takes the temperature at which what it gets from the air round it, from the faces it sees
// and from the sun is nothing in sum. Its own effect on the room is that of the bed.
type leaf struct {
	g    *Greenhouse
	bed  *house.Bed
	air  *layer
	soil *surface
	sees []seen
	last float64
}

type seen struct {
	s *surface
	f float64
}

func (g *Greenhouse) leafAt(i int) *leaf {
	b := &g.House.Beds[i]
	l := &leaf{g: g, bed: b, last: g.Setup.StartC}
	for _, a := range g.layers {
		if b.LeafZ >= a.z0-1e-9 && b.LeafZ <= a.z1 {
			l.air = a
			break
		}
	}
	node := g.ground.bedNode(i)
	x := (b.X0 + b.X1) / 2
	sum := 0.0
	for _, s := range g.inside {
		if s.node == node {
			l.soil = s
		}
		f := g.House.Face(s.name)
		if f == nil || f.End != 0 {
			continue
		}
		if v := upView(house.Point{X: x, Z: b.LeafZ}, f.A, f.B) * g.share(f); v > 0 {
			l.sees = append(l.sees, seen{s, v})
			sum += v
		}
	}
	for k := range l.sees {
		l.sees[k].f /= sum
	}
	return l
}

// share is the part of an edge's line that a face takes: windows and doors share it with their host.
func (g *Greenhouse) share(f *house.Face) float64 {
	all := 0.0
	for i := range g.House.Faces {
		o := &g.House.Faces[i]
		if o.A == f.A && o.B == f.B && o.End == 0 {
			all += o.Area
		}
	}
	return f.Area / all
}

// upView is the view factor of an upward-facing small level face at p to the line a-b in the plane, what lies below its
// level left out: half the difference of the sines of the angles from straight up.
//
// Source: Howell, Catalog of radiation configuration factors, differential element to infinite strip.
func upView(p, a, b house.Point) float64 {
	if a.Z <= p.Z && b.Z <= p.Z {
		return 0
	}
	cut := func(low, high house.Point) house.Point {
		if low.Z >= p.Z {
			return low
		}
		f := (p.Z - low.Z) / (high.Z - low.Z)
		return house.Point{X: low.X + f*(high.X-low.X), Z: p.Z}
	}
	a, b = cut(a, b), cut(b, a)
	sin := func(q house.Point) float64 { return (q.X - p.X) / math.Max(1e-9, math.Hypot(q.X-p.X, q.Z-p.Z)) }
	return math.Abs(sin(a)-sin(b)) / 2
}

// leafSize is the length of a leaf along the air that flows past it [m], and leafEmittance its longwave emittance.
const (
	leafSize       = 0.05
	leafEmittance  = 0.96
	leafAbsorption = 0.5 // of sun
	leafCooling    = 0.4 // share of the sun taken up that goes into transpiration in the cold; own judgement
)

// temperature of the leaf [°C]: free convection on both sides, h = 1.3 (|dT|/d)^(1/4) W/m²K, longwave up to the faces seen and down
// to the bed.
func (l *leaf) temperature() float64 {
	ta := l.g.Net.T(l.air.node)
	tb := l.g.Net.T(l.soil.node)
	sunW := leafAbsorption * (1 - leafCooling) * l.g.light.bedWM2
	t := l.last
	for range 60 {
		hc := 2 * 1.3 * math.Pow(math.Max(0.05, math.Abs(t-ta))/leafSize, 0.25)
		num, den := hc*ta+sunW, hc
		for _, s := range l.sees {
			ts := l.g.Net.T(s.s.node)
			h := leafEmittance * s.f * radiative(t, ts)
			num += h * ts
			den += h
		}
		h := leafEmittance * radiative(t, tb)
		num += h * tb
		den += h
		next := num / den
		if math.Abs(next-t) < 1e-6 {
			t = next
			break
		}
		t = (t + next) / 2
	}
	l.last = t
	return t
}

// photons is the light on level ground at the beds in the hour [mol/m²]; plants use PAR, the bedWM2 is all sun.
func (g *Greenhouse) photons() float64 { return sun.PhotonsMolM2(g.light.bedWM2 * 3600) }
