package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/thermal"
)

// flows is all air that moves: outdoor air through joints, doors, inlets, vents and fans, the draughts between the layers, and what layers
// swap by turning over. It is one balance of mass: what comes into a layer goes out of it. Heat, vapour and carbon dioxide all follow it.
//
// A part that carries air by itself, a buried tube say, tells it by Greenhouse.addTransfer in its own step, which comes before this one; it
// books the heat itself. What it leaves short or over is made up by air that sinks or rises, layer by layer, and at last by the joints.
type flows struct {
	g *Greenhouse
	h *hour

	paths       []*path
	leak        *path
	vents, door *path // nil when there are none
	fans        []*path

	joints      airflow.Leakage
	stack, wind spread // of the joints

	openers []opener // of the vents
	open    []float64
	full    []float64 // all open, see airing
	search  ventSearch
	begin   float64 // of the step that the openers are at, -1 none

	down, up [maxLayers][]*draught // by the layer they take their air from
	swap     [maxLayers]thermal.JoinID
	rising   [maxLayers]thermal.CarryID // from a layer to the one above
	sinking  [maxLayers]thermal.CarryID // and back
	carried  [maxLayers][maxLayers]thermal.CarryID
	carries  [maxLayers][maxLayers]bool
	direct   [maxLayers][maxLayers]float64 // air of draughts that goes past no face [W/K]

	// rate is all air that goes from one layer to another, the last being outdoors, in this pass [kg/s].
	rate   [maxLayers + 1][maxLayers + 1]float64
	pushed [maxLayers + 1][maxLayers + 1]float64 // by other parts
	m3s    float64                               // outdoor air that came in last [m³/s]
}

// airHeatKg is the specific heat of air [J/kgK].
const airHeatKg = 1006.0

// path is outdoor air of one cause [kg/s]: the layers where it comes in and goes out, and those in which it lands.
type path struct {
	in, out, lands [maxLayers]float64
	enter, leave   [maxLayers]thermal.CarryID
}

func (f *flows) newPath(name string) *path {
	p, g := &path{}, f.g
	for k, l := range g.layers {
		p.enter[k] = g.Net.Carry(name, g.outside.air, l.node)
		p.leave[k] = g.Net.Carry(name, l.node, g.outside.air)
	}
	f.paths = append(f.paths, p)
	return p
}

// set puts a flow on a path.
func (p *path) set(kgS float64, s spread) {
	for k := range p.in {
		p.in[k], p.out[k], p.lands[k] = kgS*s.in[k], kgS*s.out[k], 0
	}
}

// carry gives the network the heat of a path.
func (p *path) carry(f *flows) {
	for k := range f.g.layers {
		f.g.Net.SetCarry(p.enter[k], airHeatKg*p.lands[k])
		f.g.Net.SetCarry(p.leave[k], airHeatKg*p.out[k])
		f.rate[outdoors][k] += p.lands[k]
		f.rate[k][outdoors] += p.out[k]
	}
}

func (g *Greenhouse) addAirFlows() {
	p := g.House.Plan
	f := &flows{g: g, begin: -1}
	f.leak = f.newPath("leakage")
	var err error
	if f.joints, err = airflow.NewLeakage(leakageArea(g.House), 1, shelter[p.Site.Exposure]); err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	sites := leakSites(g.House)
	f.stack, f.wind = g.stackSpread(sites), g.windSpread(sites)
	if len(p.Vents) > 0 {
		f.vents = f.newPath("vents")
		f.addOpeners()
	}
	for _, d := range p.Doors {
		if d.Opened > 0 && d.Open > 0 && f.door == nil {
			f.door = f.newPath("doors")
		}
	}
	for _, fan := range p.Fans {
		f.fans = append(f.fans, f.newPath("fan "+fan.Name))
	}
	f.addLayerJoins()
	g.flows = f
	g.parts = append(g.parts, f)
}

// addLayerJoins joins the layers to each other.
func (f *flows) addLayerJoins() {
	g := f.g
	for k := 1; k < len(g.layers); k++ {
		lower, upper := g.layers[k-1], g.layers[k]
		f.swap[k-1] = g.Net.Join(lower.name+" to "+upper.name, lower.node, upper.node, 1)
		f.rising[k-1] = g.Net.Carry("air that rises", lower.node, upper.node)
		f.sinking[k-1] = g.Net.Carry("air that sinks", upper.node, lower.node)
	}
	f.addDraughts()
	for from := range g.layers {
		for to := range g.layers {
			if to < from || to == from+1 && len(f.up[from]) > 0 {
				f.carried[from][to] = g.Net.Carry("air in draughts", g.layers[from].node, g.layers[to].node)
				f.carries[from][to] = true
			}
		}
	}
}

// addTransfer notes air that a part carries from one layer to another within its step [kg/s]; outdoors stands for outdoor air. Vapour and
// carbon dioxide follow it, and the air that makes up for it; its heat is the part's.
func (g *Greenhouse) addTransfer(from, to int, kgS float64) { g.flows.pushed[from][to] += kgS }

func (f *flows) hour(h *hour) { f.h = h }

func (f *flows) step(m thermal.Moment) {
	g := f.g
	f.rate, f.direct = [maxLayers + 1][maxLayers + 1]float64{}, [maxLayers][maxLayers]float64{}
	tIn, tOut := f.mean(m), m.T(g.outside.air)
	f.m3s = 0
	f.setLeak(tIn, tOut)
	f.setVents(m, tIn, tOut)
	f.setDoors(tIn, tOut)
	f.setFans()
	f.takePushed(tOut)
	for k := len(g.layers) - 1; k > 0; k-- {
		f.fall(m, k)
	}
	for _, p := range f.paths {
		p.lands[0] += p.in[0]
		p.carry(f)
	}
	for k := range g.layers {
		f.rise(m, k)
	}
	f.makeUp(m)
}

// mean is the temperature of all air [°C].
func (f *flows) mean(m thermal.Moment) float64 {
	sum, volume := 0.0, 0.0
	for _, l := range f.g.layers {
		sum += m.T(l.node) * l.volume
		volume += l.volume
	}
	return sum / volume
}

// kgS is the mass of a flow that counts at the density of a temperature [kg/s].
func (f *flows) kgS(m3s, t float64) float64 {
	f.m3s += m3s
	return m3s * f.g.airHeat(t) / airHeatKg
}

// setLeak sets the air through joints.
func (f *flows) setLeak(tIn, tOut float64) {
	q := leak(f.g.House, f.joints, tIn, tOut, f.h.w.WindMS)
	stack, wind := f.joints.Stack*math.Abs(tIn-tOut), f.joints.Wind*f.h.w.WindMS*f.h.w.WindMS
	share := stack / (stack + wind + 1e-9)
	f.leak.set(f.kgS(q, f.leakAirC(tOut)), f.stack.between(f.wind, share, tIn-tOut, len(f.g.layers)))
}

// setDoors sets the air through doors that are opened now and then.
func (f *flows) setDoors(tIn, tOut float64) {
	if f.door == nil {
		return
	}
	h := f.g.House
	q, s := 0.0, spread{}
	for i := range h.Plan.Doors {
		d := &h.Plan.Doors[i]
		if d.Opened == 0 || !within(d.Hours.From, d.Hours.Until, f.h.clock) {
			continue
		}
		hours := d.Hours.Until - d.Hours.From
		if hours <= 0 {
			hours += 24
		}
		open := min(1, float64(d.Opened)*d.Open/(hours*3600))
		v := open * airflow.SingleSided(d.Width, d.Height, tIn, tOut, f.h.windHouse)
		q += v
		sill := doorSill(h, *d)
		s.in[f.g.layerAt(sill+d.Height/4)] += v
		s.out[f.g.layerAt(sill+d.Height*3/4)] += v
	}
	s = s.whole(len(f.g.layers))
	f.door.set(f.kgS(q, tOut), s.between(s, 1, tIn-tOut, len(f.g.layers)))
}

// setFans sets the air that fans bring in at the lowest layer above the floor; it leaves from the highest.
func (f *flows) setFans() {
	low := 0
	if f.g.House.Sink {
		low = 1
	}
	var s spread
	s.in[low], s.out[len(f.g.layers)-1] = 1, 1
	for i := range f.fans {
		fan := &f.g.House.Plan.Fans[i]
		q := 0.0
		if within(fan.Hours.From, fan.Hours.Until, f.h.clock) {
			q = fan.Flow
		}
		f.fans[i].set(f.kgS(q, ratedC), s)
	}
}

// takePushed takes in what other parts carry. Outdoor air that they bring in goes out by the joints of the highest layer, and what they
// draw out comes in there.
func (f *flows) takePushed(tOut float64) {
	top := len(f.g.layers) - 1
	more := 0.0 // comes in than goes out [kg/s]: the joints let the rest through
	for a := range f.pushed {
		for b, q := range f.pushed[a] {
			if q == 0 {
				continue
			}
			f.rate[a][b] += q
			switch {
			case a == outdoors && b != outdoors:
				more += q
				f.m3s += q * airHeatKg / f.g.airHeat(tOut)
			case b == outdoors && a != outdoors:
				more -= q
			}
		}
	}
	f.leak.out[top] += max(0, more)
	f.leak.in[top] += max(0, -more)
	f.m3s += max(0, -more) * airHeatKg / f.g.airHeat(tOut)
	f.pushed = [maxLayers + 1][maxLayers + 1]float64{}
}

// makeUp lets air rise and sink between the layers so that each keeps its mass, and swaps what turns over.
func (f *flows) makeUp(m thermal.Moment) {
	g := f.g
	net := g.Net
	for k := 0; k+1 < len(g.layers); k++ {
		lower, upper := g.layers[k], g.layers[k+1]
		tl, tu := m.T(lower.node), m.T(upper.node)
		q := overturn(lower, upper, tl, tu, g.House.Length) + stillExchange(lower)*orOne(g.Setup.Air.Still)
		swap := q * g.airHeat((tl+tu)/2)
		rising := f.surplus(k)
		up, down := max(0, rising), max(0, -rising)
		net.SetJoin(f.swap[k], swap)
		net.SetCarry(f.rising[k], airHeatKg*up)
		net.SetCarry(f.sinking[k], airHeatKg*down)
		f.rate[k][k+1] += swap/airHeatKg + up
		f.rate[k+1][k] += swap/airHeatKg + down
	}
	for from := range g.layers {
		for to := range g.layers {
			if f.carries[from][to] {
				net.SetCarry(f.carried[from][to], f.direct[from][to])
			}
		}
	}
}

// surplus is the air that comes into the layers 0..k over what leaves them [kg/s].
func (f *flows) surplus(k int) float64 {
	sum := 0.0
	for i := 0; i <= k; i++ {
		for j := range f.rate {
			sum += f.rate[j][i] - f.rate[i][j]
		}
	}
	return sum
}

// ratedC is the air for which a given flow, a fan's or an air change, is stated [°C]: fans are rated and air changes told for
// air of room temperature, here at the pressure of the site. It is the mass that such a figure stands for, whatever the weather.
const ratedC = 20.0

// leakAirC is the temperature at whose density the leakage counts [°C].
func (f *flows) leakAirC(tOut float64) float64 {
	if f.g.House.Plan.Leakage.AirChanges != nil {
		return ratedC
	}
	return tOut
}
