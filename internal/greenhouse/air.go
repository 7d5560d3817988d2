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
	x := &exchange{g: g}
	for i := 1; i < len(g.layers); i++ {
		x.joins = append(x.joins, g.Net.Join(g.layers[i-1].name+" to "+g.layers[i].name, g.layers[i-1].node, g.layers[i].node, 1))
	}
	g.parts = append(g.parts, x)
}

// exchange is air that layers swap by buoyancy: much where the lower is warmer, little where it is colder.
type exchange struct {
	g     *Greenhouse
	joins []thermal.JoinID
}

func (x *exchange) hour(*hour) {}

func (x *exchange) step(m thermal.Moment) {
	for i, j := range x.joins {
		lower, upper := x.g.layers[i], x.g.layers[i+1]
		tl, tu := m.T(lower.node), m.T(upper.node)
		x.g.Net.SetJoin(j, x.g.airHeat((tl+tu)/2)*(overturn(lower, upper, tl, tu, x.g.House.Length)+stillExchange(lower)))
	}
}
