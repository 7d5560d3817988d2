package greenhouse

import (
	"math"

	"suncellar/internal/thermal"
)

// Begun is the warmth that one house stood in at the first hour that counts, for another house much like it to begin from: temperatures of nodes by name, and
// of the earth by place; and how far rain and use have moved the water. What else a state holds (films, snow, events under way) is not in it, so it is for the
// begin of a winter, not for the midst of one.
type Begun struct {
	nodes map[string]float64
	earth func(x, z float64) float64 // nil where the house touches no earth
	water map[string][waterLayers]float64
	rain  *rainState // nil where the plan says nothing of its water
}

// begun takes down the present state.
func (g *Greenhouse) begun() *Begun {
	b := &Begun{nodes: map[string]float64{}}
	g.Net.EachNode(func(id thermal.Node, name string) { b.nodes[name] = g.Net.T(id) })
	if p := g.ground; p != nil {
		if p.reduced != nil {
			b.earth = p.reduced.Held()
		} else {
			b.earth = p.mesh.Held(p.body)
		}
	}
	if r := g.store.rain; r != nil {
		state := r.state()
		b.water, b.rain = g.store.water(), &state
	}
	return b
}

// startC is the temperature of a node or a wall's face at the begin [°C].
func (g *Greenhouse) startC(name string) float64 {
	if b := g.Setup.Begun; b != nil {
		if t, ok := b.nodes[name]; ok {
			return t
		}
	}
	return g.Setup.StartC
}

// wallStart puts the cells of a wall at what they begin from [°C], straight from its inner face to its outer.
func (g *Greenhouse) wallStart(face string, cells []float64) {
	inner, outer := g.startC(face), g.startC(face+" outer face")
	for i := range cells {
		cells[i] = inner + (outer-inner)*(float64(i)+0.5)/float64(len(cells))
	}
}

// earthC is the temperature of the earth at a place of the section at the begin [°C].
func (g *Greenhouse) earthC(x, z float64) float64 {
	if b := g.Setup.Begun; b != nil && b.earth != nil {
		if t := b.earth(x, z); !math.IsNaN(t) {
			return t
		}
	}
	return g.groundC(math.Max(0, -z))
}

// beginFrom puts the nodes at what they begin from.
func (g *Greenhouse) beginFrom() {
	if g.Setup.Begun == nil {
		return
	}
	g.Net.EachNode(func(id thermal.Node, name string) {
		if t, ok := g.Setup.Begun.nodes[name]; ok {
			g.Net.SetTemperature(id, t)
		}
	})
	if r := g.store.rain; r != nil && g.Setup.Begun.rain != nil {
		g.store.loadWater(g.Setup.Begun.water)
		r.load(*g.Setup.Begun.rain)
	}
}
