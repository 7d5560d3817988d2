package greenhouse

import (
	"math"

	"suncellar/internal/thermal"
)

// layer is a layer of air.
type layer struct {
	name   string
	node   thermal.Node
	z0, z1 float64 // [m]
	volume float64 // [m³]
	area   float64 // of its top [m²]
}

// share is how much of a height z0..z1 lies in the layer, 0..1; a level face belongs to the layer that it lies in.
func (l *layer) share(z0, z1 float64) float64 {
	if z1-z0 < 1e-9 {
		if z0 >= l.z0-1e-9 && z0 < l.z1-1e-9 {
			return 1
		}
		return 0
	}
	return math.Max(0, math.Min(z1, l.z1)-math.Max(z0, l.z0)) / (z1 - z0)
}

// addAir makes the layers: the cold sink below the floor, bed level up to the leaf tips, the canopy air above. A house without
// beds and without a sink has one well-mixed air.
func (g *Greenhouse) addAir() {
	h := g.House
	top := math.Inf(-1)
	for _, p := range h.Section {
		top = math.Max(top, p.Z)
	}
	low := h.FloorZ
	bounds := []float64{}
	names := []string{}
	if h.Sink {
		bounds, names = append(bounds, h.SinkZ), append(names, "cold sink air")
	}
	if len(h.Beds) > 0 {
		leaf := low
		for _, b := range h.Beds {
			leaf = math.Max(leaf, b.LeafZ)
		}
		leaf = math.Min(leaf+0.1, low+0.7*(top-low))
		bounds, names = append(bounds, low, leaf), append(names, "bed air", "canopy air")
	} else {
		bounds, names = append(bounds, low), append(names, "air")
	}
	bounds = append(bounds, top+1e-6)
	for i, name := range names {
		l := &layer{name: name, z0: bounds[i], z1: bounds[i+1]}
		l.volume, l.area = h.Between(l.z0, l.z1)
		l.node = g.Net.Add(name, thermal.Sensible(g.airHeat(g.Setup.StartC)*l.volume), g.Setup.StartC)
		g.layers = append(g.layers, l)
	}
	if len(g.layers) > maxLayers {
		panic("greenhouse: more layers of air than there is room for")
	}
}

// maxLayers is how many layers of air there may be.
const maxLayers = 3

// outdoors stands in the place of a layer for outdoor air.
const outdoors = maxLayers

// layerAt is the layer that a height lies in, the nearest where it lies in none [m above grade].
func (g *Greenhouse) layerAt(z float64) int {
	for k, l := range g.layers {
		if z < l.z1 {
			return k
		}
	}
	return len(g.layers) - 1
}
