package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/thermal"
)

// vapour is the water vapour of the room as one well-mixed balance: beds and leaves give it, outdoor air takes it away, cold
// faces catch it as dew or frost. Its heat is taken from the beds and given to the faces.
//
// The balance of a step is implicit; what was found is kept when the step is, so that the account of the vapour closes.
type vapour struct {
	g     *Greenhouse
	w     float64 // vapour in the air [kg/kg dry air]
	next  vapourStep
	begin float64 // of the step that next belongs to, -1 none
	beds  []bedVapour
	wet   []wetFace // faces that catch vapour in the present pass
	h     *hour
	// the account of the run [kg]
	In, Out  map[string]float64
	StartKg  float64
	DripKg   float64 // caught by glazing in the hour
	WetHours float64
}

type bedVapour struct {
	surface *surface
	heat    leaning
	area    float64
}

type vapourStep struct {
	w                                                 float64
	fromBeds, caught, inAir, outAir, onGlass, inTubes float64 // [kg] of the step
}

// bedFilm is the film through which beds and leaves give vapour [W/m²K]: leaves stir the air, so that it does not die with the
// difference of temperature as that of a bare face does; own judgement.
const bedFilm = 3.0

// leafWetness is the share of a wet surface's evaporation that a planted, watered bed gives in winter. Own judgement after
// the trade's 0.05 to 0.8 mm a day (from memory).
const leafWetness = 0.35

func (g *Greenhouse) addVapour() {
	v := &vapour{g: g, begin: -1, In: map[string]float64{}, Out: map[string]float64{}}
	v.w = 0.9 * air.SaturationHumidityRatio(g.Setup.StartC, g.pressure)
	for _, s := range g.inside {
		if s.wets {
			s.dew = addLeaning(g.Net, "dew and frost", s.node, g.outside.zero)
		}
	}
	if g.ground != nil {
		for i, b := range g.House.Beds {
			node := g.ground.bedNode(i)
			for _, s := range g.inside {
				if s.node == node {
					v.beds = append(v.beds, bedVapour{s, addLeaning(g.Net, "evaporation from beds", node, g.outside.zero), b.Area})
				}
			}
		}
	}
	v.StartKg = v.w * v.dryKg()
	g.vapour = v
	if len(v.beds) > 0 {
		g.parts = append(g.parts, v)
	}
}

// dryKg is the dry air of the room [kg].
func (v *vapour) dryKg() float64 {
	return v.g.House.Volume * v.g.pressure / (287.05 * (v.g.Setup.StartC + 273.15))
}

func (v *vapour) hour(h *hour) {
	v.h = h
	v.DripKg = 0
}

// settle keeps the last step of an hour, so that what is told of the hour has all of it.
func (v *vapour) settle() {
	v.commit()
	v.begin = -1
}

// commit keeps what the last step found.
func (v *vapour) commit() {
	if v.begin < 0 {
		return
	}
	n := v.next
	v.w = n.w
	v.In["evaporation from beds"] += n.fromBeds
	v.In["outdoor air"] += n.inAir
	v.Out["air that leaves"] += n.outAir
	v.Out["dew and frost"] += n.caught
	if len(v.g.tubes) > 0 {
		v.Out["condensed in tubes"] += n.inTubes
	}
	v.DripKg += n.onGlass
}

func (v *vapour) step(m thermal.Moment) {
	if m.Pass == 0 {
		if m.Begin > v.begin {
			v.commit()
		}
		v.begin = m.Begin
	}
	g := v.g
	rho := v.dryKg() / g.House.Volume
	flow := rho * g.flows.m3s // [kg/s]
	outdoor := air.SaturationHumidityRatio(v.h.w.DewPointC, g.pressure)
	// the balance of the step without the faces: w = gives/takes
	gives, takes := v.dryKg()/m.Step*v.w+flow*outdoor, v.dryKg()/m.Step+flow
	for _, bed := range v.beds {
		gives += bed.transfer() * g.saturation(m.T(bed.surface.node))
		takes += bed.transfer()
	}
	w := v.catch(m, gives, takes)
	v.next = vapourStep{w: w, inAir: flow * outdoor * m.Step, outAir: flow * w * m.Step}
	v.heatBeds(m, w)
	v.heatFaces(m, w)
	for _, t := range g.tubes {
		v.next.inTubes += t.condense(m, w) * m.Step
	}
}

// transfer is the vapour that the bed gives for each unit of difference in humidity ratio [kg/s].
func (b bedVapour) transfer() float64 { return leafWetness * b.area * air.VapourTransfer(bedFilm, 0) }

// wetFace is a face colder than the dew point of the room's air.
type wetFace struct {
	s        *surface
	transfer float64 // [kg/s]
	sat      float64 // humidity ratio at its surface
}

// catch finds the humidity ratio at the end of the step: faces that catch vapour at w take part, and fewer do as w falls.
func (v *vapour) catch(m thermal.Moment, gives, takes float64) float64 {
	w := gives / takes
	for range 30 {
		a, b := gives, takes
		v.wet = v.wet[:0]
		for _, s := range v.g.inside {
			if !s.wets {
				continue
			}
			if sat := v.g.saturation(m.T(s.node)); w > sat {
				k := s.area * air.VapourTransfer(math.Max(s.h, stillFilm), 0)
				v.wet = append(v.wet, wetFace{s, k, sat})
				a += k * sat
				b += k
			}
		}
		for _, t := range v.g.tubes {
			k, at := t.dries(w)
			a += k * at
			b += k
		}
		next := a / b
		if math.Abs(next-w) < 1e-12 {
			break
		}
		w = next
	}
	return w
}

// stillFilm is the least film through which a face catches vapour [W/m²K].
const stillFilm = 0.5

// heatBeds takes the heat of evaporation from the beds.
func (v *vapour) heatBeds(m thermal.Moment, w float64) {
	g := v.g
	for _, bed := range v.beds {
		t := math.Min(m.T(bed.surface.node), hottestC)
		k := bed.transfer()
		e := k * (g.saturation(t) - w)
		v.next.fromBeds += e * m.Step
		bed.heat.set(g.Net, -e*latent(t), k*latent(t)*g.saturationSlope(t), t)
	}
}

// heatFaces gives the heat of dew and frost to the faces that catch it.
func (v *vapour) heatFaces(m thermal.Moment, w float64) {
	g := v.g
	for _, s := range g.inside {
		if s.wets {
			s.dew.set(g.Net, 0, 0, 0)
		}
	}
	for _, f := range v.wet {
		q := f.transfer * (w - f.sat)
		if q <= 0 {
			continue
		}
		v.next.caught += q * m.Step
		if f.s.glassBack > 0 {
			v.next.onGlass += q * m.Step
		}
		t := m.T(f.s.node)
		f.s.dew.set(g.Net, q*latent(t), f.transfer*latent(t)*g.saturationSlope(t), t)
	}
}

// saturation is the humidity ratio of saturated air at a face [kg/kg].
func (g *Greenhouse) saturation(t float64) float64 {
	return air.SaturationHumidityRatio(math.Min(t, hottestC), g.pressure)
}

// hottestC is the temperature above which vapour is reckoned as at it [°C]: a shut house in the summer sun, or a pass of the solver on its
// way, may come near boiling, where a humidity ratio has no bound.
const hottestC = 60

// latent is the heat of evaporation, or of frost below 0 °C [J/kg].
func latent(t float64) float64 {
	if t < 0 {
		return air.LatentSublimation(t)
	}
	return air.LatentVaporisation(t)
}

// restart begins the account anew at the present state.
func (v *vapour) restart() {
	v.In, v.Out = map[string]float64{}, map[string]float64{}
	v.StartKg = v.w * v.dryKg()
}

func (v *vapour) account() VapourAccount {
	a := VapourAccount{InKg: v.In, OutKg: v.Out, StoredKg: v.w*v.dryKg() - v.StartKg}
	a.OpenKg = -a.StoredKg
	for _, name := range []string{"evaporation from beds", "outdoor air"} {
		a.OpenKg += v.In[name]
	}
	for _, name := range []string{"air that leaves", "dew and frost", "condensed in tubes"} {
		a.OpenKg -= v.Out[name]
	}
	a.OpenKg = math.Abs(a.OpenKg)
	return a
}

// saturationSlope is how fast the saturation humidity ratio rises [1/K].
func (g *Greenhouse) saturationSlope(t float64) float64 {
	return 0.622 / g.pressure * air.SaturationSlope(clamp(t, -60, 60))
}
