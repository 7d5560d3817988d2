package greenhouse

import (
	"fmt"
	"math"

	"suncellar/internal/house"
	"suncellar/internal/material"
	"suncellar/internal/thermal"
)

// waterLayers is how many layers the water of a bay has.
const waterLayers = 3

const (
	waterFrozenC = -0.1   // the water of waterLaw freezes between 0 and this [°C]
	waterHeat    = 4192.0 // [J/kgK], near 10 °C; steam tables, from memory
)

// store is the water: rows, each of bays, each of layers of water behind their shell.
type store struct {
	g    *Greenhouse
	bays []*bay
}

// bay is the drums between two valves, taken together.
type bay struct {
	row    *house.Row
	name   string
	drums  float64
	water  float64 // [m³]
	mass   float64 // [kg]
	layers [waterLayers]waterLayer
	mixing [waterLayers - 1]thermal.JoinID
	ends   float64 // area between layers [m²]
	floor  thermal.Node
	height float64 // of the water [m]
}

type waterLayer struct {
	node  thermal.Node
	shell *surface
	film  thermal.JoinID
	side  float64 // wetted side, and top where it is the uppermost [m²]
	z     float64 // its middle [m]
}

func (g *Greenhouse) addStore() {
	g.store = &store{g: g}
	left := g.Setup.WaterLeft
	if left == 0 {
		left = 1
	}
	for i := range g.House.Rows {
		row := &g.House.Rows[i]
		for b := range row.Bays {
			if row.Drums > 0 && row.Fill*left > 0 {
				g.store.bays = append(g.store.bays, g.addBay(row, b, left))
			}
		}
	}
	if len(g.store.bays) > 0 {
		g.parts = append(g.parts, g.store)
	}
}

func (g *Greenhouse) addBay(row *house.Row, index int, left float64) *bay {
	b := &bay{row: row, name: row.Name, drums: float64(row.Drums) / float64(row.Bays)}
	if row.Bays > 1 {
		b.name = fmt.Sprintf("%s, bay %d", row.Name, index+1)
	}
	share := row.Fill * left
	b.water = row.Water() / float64(row.Bays) * left
	b.mass = b.water * 999.7
	b.height = float64(row.Tiers) * row.Height * share
	b.ends = row.TopArea() / float64(row.Bays) / float64(row.Tiers)
	start := g.waterStart(row)
	z0 := row.Base
	step := float64(row.Tiers) * row.Height * share / waterLayers
	side := row.Side() / float64(row.Bays) * share / waterLayers
	air := row.Side() / float64(row.Bays) * (1 - share)
	for k := range b.layers {
		l := &b.layers[k]
		l.z = z0 + (float64(k)+0.5)*step
		l.side = side
		if k == waterLayers-1 {
			l.side += b.ends*float64(row.Tiers) + 0.3*air // the lid, and part of the dry wall above the water
		}
		name := fmt.Sprintf("%s, %s", b.name, [...]string{"bottom", "middle", "top"}[k])
		m := b.mass / waterLayers
		l.node = g.Net.Add(name, waterLaw(m), start)
		skin := g.Net.Add(name+" shell", thermal.Law{}, start)
		l.shell = g.addSurface(&surface{name: name + " shell", node: skin, area: l.side, seen: 0.75 * l.side, tilt: math.Pi / 2, normal: [3]float64{1, 0, 0},
			emittance: 0.92, absorptance: row.Absorptance, z0: z0 + float64(k)*step, z1: z0 + float64(k+1)*step, film: drumSide, height: row.Height,
			line:   &[2]house.Point{{X: row.X - row.Diameter/2, Z: z0 + float64(k)*step}, {X: row.X - row.Diameter/2, Z: z0 + float64(k+1)*step}},
			facing: math.Min(b.drums/float64(row.Tiers)*row.Diameter, g.House.Length/float64(row.Bays)) * step})
		l.film = g.Net.Join("shell to water of "+b.name, skin, l.node, 50*l.side)
	}
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
	return b
}

// waterLaw is the enthalpy of m kg of water.
func waterLaw(m float64) thermal.Law {
	return thermal.Law{Liquid: waterHeat * m, Frozen: material.IceHeatJKgK * m,
		Latent: (material.FusionJKg - (waterHeat-material.IceHeatJKgK)/2*waterFrozenC) * m, Lower: waterFrozenC, Upper: 0}
}

func (g *Greenhouse) waterStart(row *house.Row) float64 {
	if row.StartC != nil {
		return *row.StartC
	}
	if g.Setup.Ground != nil && row.Base < 0 {
		return math.Max(1, g.Setup.Ground(-row.Base))
	}
	return math.Max(1, g.Setup.StartC)
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
	n := s.g.Net
	for _, b := range s.bays {
		for k := range b.layers {
			l := &b.layers[k]
			tw, ts := m.T(l.node), m.T(l.shell.node)
			film := clamp(tw/frontK, 0, 1) / waterFilm(tw, ts, b.row.Height)
			law := n.Law(l.node)
			ice := law.IceShare(tw)
			// ice grows inward from the shell: a layer ice·V/A thick
			rIce := ice * b.water / waterLayers / l.side / material.IceConductivityWMK
			n.SetJoin(l.film, l.side/(film+b.row.Wall.R+rIce))
		}
		for k, j := range b.mixing {
			lower, upper := m.T(b.layers[k].node), m.T(b.layers[k+1].node)
			n.SetJoin(j, b.ends*mixingWM2K(lower, upper, b.height/waterLayers))
		}
	}
}

// frontK is how far above 0 °C the water's own film begins to fade [K]. At 0 °C ice forms at the wall, or on the ice there: the heat of
// freezing comes free at that front and has no film of water to pass, only ice and wall. The width is judgement, so that the change is
// smooth.
const frontK = 0.05

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
			l := &b.layers[k]
			t, m := g.Net.T(l.node), b.mass/waterLayers
			law := g.Net.Law(l.node)
			joules += waterHeat * m * math.Max(0, t)
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
			sum += g.Net.T(b.layers[k].node) * b.mass / waterLayers
			mass += b.mass / waterLayers
		}
	}
	if mass == 0 {
		return 0, false
	}
	return sum / mass, true
}
