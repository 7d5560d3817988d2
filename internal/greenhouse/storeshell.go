package greenhouse

import (
	"math"

	"suncellar/internal/material"
	"suncellar/internal/thermal"
)

// shellBand is a level part of a bay's shell, one face of the room. The lowest three are as high as the layers of water are at the begin; the
// fourth is what stands dry above them then, with the lids.
type shellBand struct {
	shell     *surface
	low, high float64        // above the bottom of the drums [m]
	side, lid float64        // [m²]
	dry       float64        // of both, above the water [m²]
	gap       thermal.JoinID // -1 where it is never dry
}

// contact is where a layer wets a band.
type contact struct {
	band, layer int
	join        thermal.JoinID
	area        float64 // [m²]
}

// bandNames are the names of the bands, from the lowest.
var bandNames = [...]string{"bottom shell", "middle shell", "top shell", "dry shell"}

// addShell adds the bands of a bay filled to a share of its height, whose water can come to stand between two heights [m]. A band touches the layers that can come to it; where the
// water never moves, each has its own for good: fewer joins cost less.
func (g *Greenhouse) addShell(b *bay, fill, start, low, high float64) {
	row := b.row
	bays := float64(row.Bays)
	lids := b.ends * float64(row.Tiers)
	bounds := []float64{0, b.stack * fill / waterLayers, 2 * b.stack * fill / waterLayers, b.stack * fill}
	if fill < 1-1e-9 {
		bounds = append(bounds, b.stack)
	}
	for k, name := range bandNames[:len(bounds)-1] {
		d := shellBand{low: bounds[k], high: bounds[k+1]}
		d.side = row.Side() / bays * (d.high - d.low) / b.stack
		if k == len(bounds)-2 {
			d.lid = lids
		}
		z0, z1, area := row.Base+d.low, row.Base+d.high, d.side+d.lid
		name = b.name + ", " + name
		node := g.Net.Add(name, thermal.Law{}, start)
		d.shell = g.addSurface(&surface{name: name, node: node, area: area, seen: 0.75 * area, tilt: math.Pi / 2,
			emittance: 0.92, absorptance: row.Absorptance, z0: z0, z1: z1, film: drumSide, height: row.Height})
		for l := range b.layers {
			from, to := float64(l)*low/waterLayers, float64(l+1)*high/waterLayers // that the layer sweeps
			if k == l || from < d.high-1e-9 && to > d.low+1e-9 {
				b.contacts = append(b.contacts, contact{band: k, layer: l, join: g.Net.Join("shell to water of "+b.name, node, b.layers[l].node, 0)})
			}
		}
		if d.gap = -1; low < d.high-1e-9 || k == waterLayers {
			d.gap = g.Net.Join("shell to water of "+b.name, node, b.layers[waterLayers-1].node, 0)
		}
		b.bands = append(b.bands, d)
	}
}

// wetted finds how high the layers stand and what of the shell they wet, from the water that is there now.
func (b *bay) wetted(n *thermal.Network) {
	low := 0.0
	for k := range b.layers {
		l := &b.layers[k]
		l.low, l.high = low, low+b.kg(n, k)/waterDensity/b.full*b.stack
		l.wet, low = 0, l.high
	}
	brimful := low > b.stack-1e-9
	for i := range b.bands {
		d := &b.bands[i]
		d.dry = d.side + d.lid
	}
	for i := range b.contacts {
		c := &b.contacts[i]
		l, d := &b.layers[c.layer], &b.bands[c.band]
		c.area = d.side * max(0, min(l.high, d.high)-max(l.low, d.low)) / (d.high - d.low)
		if brimful && c.layer == waterLayers-1 {
			c.area += d.lid
		}
		l.wet += c.area
		if d.dry -= c.area; d.dry < 1e-9*(d.side+d.lid) {
			d.dry = 0
		}
		n.SetJoin(c.join, 0)
	}
	for i := range b.bands {
		if b.bands[i].gap >= 0 {
			n.SetJoin(b.bands[i].gap, 0)
		}
	}
}

// setShell sets what passes between shell and water: through the wall, and the film of water or the ice, where the water stands against it;
// through the air in the drum where it does not.
func (b *bay) setShell(n *thermal.Network, m thermal.Moment) {
	for i := range b.contacts {
		c := &b.contacts[i]
		if c.area == 0 {
			continue
		}
		l := &b.layers[c.layer]
		tw, ts := m.T(l.node), m.T(b.bands[c.band].shell.node)
		film := clamp(tw/frontK, 0, 1) / waterFilm(tw, ts, b.row.Height)
		law := n.Law(l.node)
		// ice grows inward from the shell: a layer ice·V/A thick
		rIce := law.IceShare(tw) * law.Liquid / (waterHeat * waterDensity) / l.wet / material.IceConductivityWMK
		n.SetJoin(c.join, c.area/(film+b.row.Wall.R+rIce))
	}
	dry := 0.0
	for i := range b.bands {
		dry += b.bands[i].dry
	}
	top := &b.layers[waterLayers-1]
	open := b.ends * max(1, math.Ceil(top.high/b.row.Height-1e-9)) // free water, of each tier that holds any
	for i := range b.bands {
		d := &b.bands[i]
		if d.dry == 0 || d.gap < 0 {
			continue
		}
		g := open * d.dry / dry * (gapEmittance*radiative(m.T(d.shell.node), m.T(top.node)) + gapFilm)
		n.SetJoin(d.gap, g/(1+g*b.row.Wall.R/d.dry))
	}
}

// In the air of a drum: the emittance between its dry wall and the water, for which the wall is a cavity, and the film by which the air
// takes heat from one to the other [W/m²K]. Own judgement.
const (
	gapEmittance = 0.9
	gapFilm      = 2.0
)

// frontK is how far above 0 °C the water's own film begins to fade [K]. At 0 °C ice forms at the wall, or on the ice there: the heat of
// freezing comes free at that front and has no film of water to pass, only ice and wall. The width is judgement, so that the change is
// smooth.
const frontK = 0.05
