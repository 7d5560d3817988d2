package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// flows is outdoor air that passes through the house: leakage, vents and fans. It comes in low and leaves high, which is what
// buoyancy does in the cold and what harms the beds most.
type flows struct {
	g     *Greenhouse
	leak  *chain
	vents *chain
	fans  []*chain
	h     *hour
	open  []float64 // share of each vent that is open
	may   bool      // any vent may be open in this hour
	// the search for the vents' setting, see follow
	setC, triedC, gaveC, slope float64
	tried                      bool
	joints                     airflow.Leakage
	m3s                        float64 // outdoor air that came in last [m³/s]
}

// chain is one path of air: outdoors, the layers from bed level up, outdoors.
type chain struct {
	carries []thermal.CarryID
}

func (g *Greenhouse) addChain(name string) *chain {
	c := &chain{}
	at := g.outside.air
	for _, l := range g.layers {
		if l.name == "cold sink air" {
			continue
		}
		flow := name
		if at != g.outside.air {
			flow = name + " inside"
		}
		c.carries = append(c.carries, g.Net.Carry(flow, at, l.node))
		at = l.node
	}
	c.carries = append(c.carries, g.Net.Carry(name, at, g.outside.air))
	return c
}

func (g *Greenhouse) setChain(c *chain, m3s, t float64) {
	for _, id := range c.carries {
		g.Net.SetCarry(id, m3s*g.airHeat(t))
	}
}

func (g *Greenhouse) addAirFlows() {
	p := g.House.Plan
	f := &flows{g: g}
	f.leak = g.addChain("leakage")
	var err error
	if f.joints, err = airflow.NewLeakage(leakageArea(p, g.House.Envelope()), 1, shelter[p.Site.Exposure]); err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	if len(p.Vents) > 0 {
		f.vents = g.addChain("vents")
		f.open = make([]float64, len(p.Vents))
	}
	for _, fan := range p.Fans {
		f.fans = append(f.fans, g.addChain("fan "+fan.Name))
	}
	g.flows = f
	g.parts = append(g.parts, f)
}

func (f *flows) hour(h *hour) {
	f.h = h
	p := f.g.House.Plan
	f.may = false
	for _, v := range p.Vents {
		f.may = f.may || within(v.Hours.From, v.Hours.Until, h.clock)
	}
}

// How the canopy's temperature answers the temperature by which the vents are set [K/K], before it is known and within which bounds,
// and how far the setting may move in one pass [K].
const (
	usualSlope, steepest, flattest = -3.0, -15.0, -0.5
	widest                         = 8.0
)

// follow sets the vents by the canopy's temperature. What they do to that temperature is several times what they are set by, so the
// setting is sought by secants within the passes of a step: the temperature by which they are set and the one that comes of it
// are to be the same.
func (f *flows) follow(m thermal.Moment) {
	t := m.T(f.g.layers[len(f.g.layers)-1].node)
	if m.Pass == 0 {
		f.tried, f.slope = false, usualSlope
		if !f.may {
			f.setC = t
		}
	} else {
		if f.tried && math.Abs(f.setC-f.triedC) > 0.02 {
			f.slope = clamp((t-f.gaveC)/(f.setC-f.triedC), steepest, flattest)
		}
		f.tried, f.triedC, f.gaveC = true, f.setC, t
		f.setC += clamp((t-f.setC)/(1-f.slope), -widest, widest)
	}
	for i, v := range f.g.House.Plan.Vents {
		f.open[i] = 0
		if within(v.Hours.From, v.Hours.Until, f.h.clock) {
			f.open[i] = 1
			if v.Above != nil {
				f.open[i] = clamp((f.setC-*v.Above)/ventSpan, 0, 1)
			}
		}
	}
}

func (f *flows) step(m thermal.Moment) {
	g, p := f.g, f.g.House.Plan
	tIn, tOut := 0.0, m.T(g.outside.air)
	vol := 0.0
	for _, l := range g.layers {
		tIn += m.T(l.node) * l.volume
		vol += l.volume
	}
	tIn /= vol
	q := f.leakage(tIn, tOut)
	g.setChain(f.leak, q, f.leakAirC(tOut))
	f.m3s = q
	if f.vents != nil {
		f.follow(m)
		q := f.ventFlow(tIn, tOut)
		g.setChain(f.vents, q, tOut)
		f.m3s += q
	}
	for i, fan := range p.Fans {
		q := 0.0
		if within(fan.Hours.From, fan.Hours.Until, f.h.clock) {
			q = fan.Flow
		}
		g.setChain(f.fans[i], q, ratedC)
		f.m3s += q
	}
	f.m3s += g.outdoorM3S()
}

// ventSpan is how far above its threshold a vent is fully open [K]: whoever opens it opens it little by little; own judgement.
const ventSpan = 4.0

// ventRung is the coarsest rung of hours in which vents are moved: the air then follows them within minutes.
const ventRung = 2

// active tells whether vents may be moved in this hour.
func (f *flows) active() bool {
	if !f.may {
		return false
	}
	t := f.g.Net.T(f.g.layers[len(f.g.layers)-1].node)
	for _, v := range f.g.House.Plan.Vents {
		if v.Above == nil || t > *v.Above-ventSpan {
			return true
		}
	}
	return false
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

// leakage is the flow through joints [m³/s].
func (f *flows) leakage(tIn, tOut float64) float64 {
	return leak(f.g.House, f.joints, tIn, tOut, f.h.w.WindMS)
}

func leakageArea(p *plan.Plan, envelope float64) float64 {
	if p.Leakage.Area != nil {
		return *p.Leakage.Area
	}
	return p.Leakage.PerArea * envelope
}

// shelter classes of the leakage law by the words of the plan.
var shelter = map[string]int{"open": 1, "scattered": 3, "sheltered": 4}

// ventFlow is the flow through all open vents [m³/s].
func (f *flows) ventFlow(tIn, tOut float64) float64 {
	vents := f.g.House.Plan.Vents
	area, mean := 0.0, 0.0
	for i, o := range vents {
		area += o.Area * f.open[i]
		mean += o.Area * f.open[i] * o.Height
	}
	if area == 0 {
		return 0
	}
	mean /= area
	low, high := band{}, band{}
	for i, o := range vents {
		if a := o.Area * f.open[i]; a == 0 {
			continue
		} else if o.Height <= mean {
			low.add(a, o.Height)
		} else {
			high.add(a, o.Height)
		}
	}
	if high.area == 0 { // one height: in and out through the same openings
		side := math.Sqrt(area / float64(len(vents)))
		return airflow.SingleSided(area/side, side, tIn, tOut, f.h.windHouse)
	}
	v := airflow.Vents{LowM2: low.area, HighM2: high.area, RiseM: high.height() - low.height(), Discharge: 0.65, WindEffect: 0.3}
	return v.Flow(tIn, tOut, f.h.windHouse)
}

// band is openings at about one height.
type band struct{ area, moment float64 }

func (p *band) add(area, height float64) { p.area += area; p.moment += area * height }

func (p *band) height() float64 { return p.moment / p.area }
