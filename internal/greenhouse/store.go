package greenhouse

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/thermal"
)

// The store: rows of drums, each of bays, each of three layers of water behind a shell. The shell stands still: bands of it, each a face of
// the room. The water in it rises and falls (storeevents.go), and what it wets of the bands follows (storeshell.go).
//
// What this file promises: a bay's water, its heat and its ice are what the network's laws hold, never kept beside them; a bay that runs
// empty keeps its dregs, so that no node is ever left without a capacity.

// waterLayers is how many layers the water of a bay has.
const waterLayers = 3

const (
	waterFrozenC = -0.1   // the water of waterLaw freezes between 0 and this [°C]
	waterHeat    = 4192.0 // [J/kgK], near 10 °C; steam tables, from memory
	waterDensity = 999.7  // by which litres of the store are counted [kg/m³]: at 10 °C; Kell 1975
)

// store is all the water.
type store struct {
	g       *Greenhouse
	bays    []*bay
	events  []*waterEvent
	targets []*target
	rain    *rain // nil where the plan says nothing of its water

	exchanges map[string]thermal.ExchangeID // by name of the flow
}

// bay is the drums between two valves, taken together.
type bay struct {
	row      *house.Row
	name     string
	drums    float64
	full     float64 // water it holds to the brim [m³]
	stack    float64 // height of its drums, tier upon tier [m]
	ends     float64 // area between layers [m²]
	layers   [waterLayers]waterLayer
	mixing   [waterLayers - 1]thermal.JoinID
	bands    []shellBand
	contacts []contact
	floor    thermal.Node
	start    float64 // water at the begin of all [kg]
	books    waterBooks
}

type waterLayer struct {
	node      thermal.Node
	low, high float64 // above the bottom of the drums [m]
	wet       float64 // wall that it wets [m²]
}

// addStore adds all bays that hold water.
func (g *Greenhouse) addStore() error {
	g.store = &store{g: g, exchanges: map[string]thermal.ExchangeID{}}
	left := g.Setup.WaterLeft
	if left == 0 {
		left = 1
	}
	lost, err := g.baysLost()
	if err != nil {
		return err
	}
	at := map[house.BayAt]*bay{}
	for i := range g.House.Rows {
		row := &g.House.Rows[i]
		for b := range row.Bays {
			where := house.BayAt{Row: i, Bay: b}
			if fill := g.beginFill(row, b) * left; row.Drums > 0 && fill > 0 && !slices.Contains(lost, where) {
				at[where] = g.addBay(row, b, fill)
				g.store.bays = append(g.store.bays, at[where])
			}
		}
	}
	if len(g.store.bays) > 0 {
		g.store.addEvents(at)
		g.store.addRain(at)
		g.parts = append(g.parts, g.store)
	}
	return nil
}

// baysLost are the bays that the setup names as empty.
func (g *Greenhouse) baysLost() ([]house.BayAt, error) {
	var lost []house.BayAt
	for _, name := range g.Setup.BaysLost {
		bays := g.House.BaysNamed(name)
		if len(bays) == 0 {
			return nil, fmt.Errorf("bay: there is no bay or row %q in this house\nhint: bays: %s", name, strings.Join(g.House.BayNames(), "; "))
		}
		lost = append(lost, bays...)
	}
	return lost, nil
}

// beginFill is the share of its drums that a bay begins filled with: as its row says; empty ones that rain comes to begin with their dregs, so that it can fill them.
func (g *Greenhouse) beginFill(row *house.Row, index int) float64 {
	if row.Fill == 0 && g.isFed(row, index) {
		return dregsShare
	}
	return row.Fill
}

// isFed tells whether rain comes to any drum of a bay.
func (g *Greenhouse) isFed(row *house.Row, index int) bool {
	w := g.House.Scheme
	return w != nil && slices.ContainsFunc(w.Fed, func(v int) bool {
		at := w.Vessels[v].Bay
		return &g.House.Rows[at.Row] == row && at.Bay == index
	})
}

// addBay adds a bay whose drums are filled to a share of their height.
func (g *Greenhouse) addBay(row *house.Row, index int, fill float64) *bay {
	bays := float64(row.Bays)
	b := &bay{row: row, name: row.BayName(index), drums: float64(row.Drums) / bays}
	b.full = b.drums * row.Volume
	b.stack = float64(row.Tiers) * row.Height
	b.ends = row.TopArea() / bays / float64(row.Tiers)
	b.start = b.full * fill * waterDensity
	start := g.waterStart(row)
	for k := range b.layers {
		name := fmt.Sprintf("%s, %s", b.name, [...]string{"bottom", "middle", "top"}[k])
		b.layers[k].node = g.Net.Add(name, waterLaw(b.start/waterLayers), start)
	}
	low, high := g.levels(row, index, b.stack*fill)
	g.addShell(b, fill, start, low, high)
	for k := range b.mixing {
		b.mixing[k] = g.Net.Join("within "+b.name, b.layers[k].node, b.layers[k+1].node, 1)
	}
	b.floor = g.floorNode(row)
	standR := row.Wall.R + 0.05 // an uneven, partly airy contact; own judgement
	if row.Base > g.House.FloorZ+0.05 {
		standR += 0.3 // blocks and the air under them
	}
	if b.floor >= 0 {
		g.Net.Join(b.name+" to what it stands on", b.layers[0].node, b.floor, b.ends/standR)
	}
	b.wetted(g.Net)
	return b
}

// levels are between which heights above the bottom of its drums the water of a bay can come to stand [m]: where nothing happens to it, the one at which it begins.
func (g *Greenhouse) levels(row *house.Row, index int, begin float64) (low, high float64) {
	stack := row.Top - row.Base
	for _, e := range g.House.Events {
		for _, at := range e.Bays {
			if &g.House.Rows[at.Row] == row && at.Bay == index {
				return 0, stack
			}
		}
	}
	if !g.isFed(row, index) {
		return begin, begin
	}
	return 0, math.Max(begin, clamp(g.House.Scheme.Levels().FullZ-row.Base, 0, stack))
}

// waterLaw is the enthalpy of m kg of water.
func waterLaw(m float64) thermal.Law {
	return thermal.Law{Liquid: waterHeat * m, Frozen: material.IceHeatJKgK * m,
		Latent: (material.FusionJKg - (waterHeat-material.IceHeatJKgK)/2*waterFrozenC) * m, Lower: waterFrozenC, Upper: 0}
}

// kg is the water of a layer, ice with it, by its law [kg].
func (b *bay) kg(n *thermal.Network, k int) float64 {
	return n.Law(b.layers[k].node).Liquid / waterHeat
}

// mass is the water of the bay, ice with it [kg].
func (b *bay) mass(n *thermal.Network) float64 {
	sum := 0.0
	for k := range b.layers {
		sum += b.kg(n, k)
	}
	return sum
}

func (g *Greenhouse) waterStart(row *house.Row) float64 {
	if row.StartC != nil {
		return *row.StartC
	}
	if g.Setup.Ground != nil && row.Base < 0 {
		return max(1, g.Setup.Ground(-row.Base))
	}
	return max(1, g.Setup.StartC)
}

// floorNode is the face of the floor under the middle of a row, -1 when there is none.
func (g *Greenhouse) floorNode(row *house.Row) thermal.Node {
	for _, s := range g.inside {
		f := g.House.Face(s.name)
		if f != nil && f.End == 0 && s.tilt < 0.1 && s.glassBack == 0 && f.A.X <= row.X && row.X <= f.B.X {
			return s.node
		}
	}
	return -1
}

func (s *store) hour(*hour) {}

func (s *store) step(m thermal.Moment) {
	for _, b := range s.bays {
		b.setShell(s.g.Net, m)
		for k, j := range b.mixing {
			lower, upper := &b.layers[k], &b.layers[k+1]
			s.g.Net.SetJoin(j, b.ends*mixingWM2K(m.T(lower.node), m.T(upper.node), (upper.high-lower.low)/2))
		}
	}
	for _, t := range s.targets {
		t.step(s.g.Net, m)
	}
}

// mixingWM2K is the exchange between two layers of water: conduction where the lighter lies on top, turning over where the
// heavier does. Below 4 °C the colder water is the lighter. The turning over is a mixing coefficient that grows with the density
// difference; own judgement, large enough that an unstable pair is mixed within the hour.
func mixingWM2K(lowerC, upperC, distance float64) float64 {
	conduction := 0.58 / distance
	drive := material.WaterDensity(upperC) - material.WaterDensity(lowerC) // heavier above: positive [kg/m³]
	if drive <= 0 {
		return conduction
	}
	return conduction + 2000*math.Sqrt(drive)
}

// Reserve is the heat of the store's water above 0 °C, ice not counted [J], and the share of the water that is ice.
func (g *Greenhouse) Reserve() (joules, ice float64) {
	mass := 0.0
	for _, b := range g.store.bays {
		for k := range b.layers {
			t, m := g.Net.T(b.layers[k].node), b.kg(g.Net, k)
			law := g.Net.Law(b.layers[k].node)
			joules += waterHeat * m * max(0, t)
			ice += law.IceShare(t) * m
			mass += m
		}
	}
	if mass > 0 {
		ice /= mass
	}
	return joules, ice
}

// StoreC is the mean temperature of all water [°C]; false when there is none.
func (g *Greenhouse) StoreC() (float64, bool) {
	sum, mass := 0.0, 0.0
	for _, b := range g.store.bays {
		for k := range b.layers {
			m := b.kg(g.Net, k)
			sum += g.Net.T(b.layers[k].node) * m
			mass += m
		}
	}
	if mass == 0 {
		return 0, false
	}
	return sum / mass, true
}

// WaterM3 is the water in the store now, ice with it [m³].
func (g *Greenhouse) WaterM3() float64 {
	sum := 0.0
	for _, b := range g.store.bays {
		sum += b.mass(g.Net) / waterDensity
	}
	return sum
}

// FreezingJ is the heat that water of a volume [m³] gives when what of it is not ice yet, by share, freezes [J].
func FreezingJ(m3, ice float64) float64 {
	return max(0, 1-ice) * m3 * waterDensity * material.FusionJKg
}
