package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/thermal"
)

// vapour is the water vapour of each layer of air: leaves and beds give it, air carries it between the layers and outdoors, cold faces catch it
// as dew or frost and give it back when they are warmer. Its heat is taken from the beds and given to the faces.
//
// The balance of a step is implicit in the humidity of all layers; it follows the same air as the heat does (flows.rate). What was found is
// kept when the step is, so that the account of the vapour, films included, closes.
type vapour struct {
	g       *Greenhouse
	w       [maxLayers]float64 // vapour in the air [kg/kg dry air]
	dry     [maxLayers]float64 // dry air [kg]
	faces   []wetFace
	beds    []bedVapour
	outside float64 // humidity of outdoor air in this hour [kg/kg]
	begin   float64 // of the step that next belongs to, -1 none
	next    vapourStep
	perFilm float64    // vapour transfer per film [kg/s m² over W/m²K]
	density float64    // of the air [kg/m³]
	sum     vapourStep // of the run
	StartKg float64    // held when it began [kg]
	dripKg  float64    // from glazing in the hour
	volume  float64    // of all layers [m³]
}

type vapourStep struct {
	w                                                [maxLayers]float64
	fromSoil, fromLeaves, inAir, outAir, taken, drip float64 // [kg] of the step
	air                                              float64 // that came in from outdoors [kg]
}

// bedVapour is a bed that gives vapour: its soil and the leaves on it.
type bedVapour struct {
	bed     int
	surface *surface
	layer   int
	heat    leaning
	area    float64
	soil    float64 // transfer of the soil [kg/s]
	canopy  canopy
	sat, sl float64 // saturated air at the soil, and its slope
	leafSat float64 // saturated air about the leaves
	leaves  float64 // transfer of the leaves in this pass [kg/s]
	always  float64 // what they give whatever the humidity [kg/s]
	shut    bool    // dew falls on the leaves: they give nothing
	step    BedKg   // given in the step
	hour    BedKg   // given in the hour
}

// bedFilm is the film through which beds give vapour [W/m²K]: leaves stir the air, so that it does not die with the
// difference of temperature as that of a bare face does; own judgement.
const bedFilm = 3.0

// soilResistance is that of the dry crust of a soil which is watered, not wet [s/m].
//
// Source: Shuttleworth and Wallace 1985, Q. J. R. Meteorol. Soc. 111:839, from memory: 0 wet, 500 moist, 2000 dry.
const soilResistance = 500.0

func (g *Greenhouse) addVapour() {
	v := &vapour{g: g, begin: -1}
	v.perFilm = air.VapourTransfer(1, 0)
	v.density = g.pressure / (287.05 * (10 + 273.15))
	g.curve = air.NewCurve(g.pressure)
	g.vapour = v
	start, _ := g.saturated(g.Setup.StartC)
	for k, l := range g.layers {
		v.volume += l.volume
		v.w[k] = 0.9 * start
		v.dry[k] = l.volume * g.pressure / (287.05 * (g.Setup.StartC + 273.15))
	}
	v.addBeds()
	v.addFaces()
	v.StartKg = v.held()
	if len(v.beds) > 0 {
		g.parts = append(g.parts, v)
	}
}

func (v *vapour) addBeds() {
	g := v.g
	if g.ground == nil {
		return
	}
	for i, b := range g.House.Beds {
		node := g.ground.bedNode(i)
		for _, s := range g.inside {
			if s.node != node {
				continue
			}
			soil := b.Area / (1/(bedFilm*v.perFilm) + soilResistance/v.density)
			v.beds = append(v.beds, bedVapour{bed: i, surface: s, layer: g.layerAt(b.Z + 1e-6), area: b.Area, soil: soil,
				heat: addLeaning(g.Net, "evaporation from beds", node, g.outside.zero)})
		}
	}
}

// fogS is how fast vapour above saturation settles as fog [s]; judgement.
const fogS = 600.0

func (v *vapour) addFaces() {
	g := v.g
	for _, s := range g.inside {
		if !s.wets {
			continue
		}
		w := wetFace{s: s, node: s.node, area: s.area, holds: filmHolds}
		for i, l := range s.air {
			w.layers[g.layerAt((l.z0+l.z1)/2)] = s.shares[i]
		}
		for _, list := range g.flows.down {
			for _, d := range list {
				if d.face == s {
					w.draughts[d.layer] = d
				}
			}
		}
		w.heat = addLeaning(g.Net, "dew and frost", s.node, g.outside.zero)
		v.faces = append(v.faces, w)
	}
	for k, l := range g.layers {
		w := wetFace{node: l.node, area: 1, heat: addLeaning(g.Net, "dew and frost", l.node, g.outside.zero)}
		w.transfer[k] = v.dry[k] / fogS
		w.all = w.transfer[k]
		v.faces = append(v.faces, w)
	}
}

// held is the vapour and the films of the room [kg].
func (v *vapour) held() float64 {
	sum := 0.0
	for k, d := range v.dry {
		sum += v.w[k] * d
	}
	for i := range v.faces {
		sum += v.faces[i].film * v.faces[i].area
	}
	return sum
}

// mean is the humidity of all air [kg/kg].
func (v *vapour) mean() float64 {
	sum, mass := 0.0, 0.0
	for k, d := range v.dry {
		sum += v.w[k] * d
		mass += d
	}
	return sum / mass
}

func (v *vapour) hour(h *hour) {
	v.outside, _ = v.g.saturated(h.w.DewPointC)
	v.dripKg = 0
	for i := range v.faces {
		v.faces[i].dripKg = 0
	}
	for i := range v.beds {
		v.beds[i].canopy, v.beds[i].hour = v.canopyOf(&v.beds[i]), BedKg{}
	}
}

// settle keeps the last step of an hour, so that what is told of the hour has all of it.
func (v *vapour) settle() {
	v.commit()
	v.begin = -1
	for i := range v.faces {
		if f := &v.faces[i]; f.s != nil && f.s.glassBack > 0 {
			v.dripKg += f.dripKg
		}
	}
}

// commit keeps what the last step found.
func (v *vapour) commit() {
	if v.begin < 0 {
		return
	}
	n := &v.next
	v.w = n.w
	v.g.co2.airKg += n.air
	v.sum.fromSoil += n.fromSoil
	v.sum.fromLeaves += n.fromLeaves
	v.sum.inAir += n.inAir
	v.sum.outAir += n.outAir
	v.sum.taken += n.taken
	for i := range v.beds {
		b := &v.beds[i]
		b.hour.Soil += b.step.Soil
		b.hour.Leaves += b.step.Leaves
	}
	for i := range v.faces {
		f := &v.faces[i]
		f.keep()
		v.sum.drip += f.next.drip
	}
}

// layerBalance is the balance of the vapour of all layers in one step: a w = gain.
type layerBalance struct {
	a    [maxLayers][maxLayers]float64 // [kg/s]
	gain [maxLayers]float64            // [kg/s]
}

func (v *vapour) step(m thermal.Moment) {
	if m.Pass == 0 {
		if m.Begin > v.begin {
			v.commit()
		}
		v.begin = m.Begin
	}
	for i := range v.faces {
		v.faces[i].prepare(v.g, m, v.perFilm)
	}
	for i := range v.beds {
		b := &v.beds[i]
		b.sat, b.sl = v.g.saturated(m.T(b.surface.node))
		sat, slope := v.g.saturated(m.T(v.g.layers[b.layer].node))
		b.leafSat = sat
		b.leaves, b.always = b.canopy.gives(slope)
	}
	for _, t := range v.g.tubes {
		t.judge(&v.w)
	}
	w, follows := v.solve(m.Step)
	v.book(&w, m.Step)
	for _, t := range v.g.tubes {
		v.next.taken += t.condense(m, &w) * m.Step
	}
	v.heatBeds(m, &w)
	for i := range v.faces {
		v.faces[i].finish(v.g, m, &follows)
	}
}

// freeTurns is how often, within one pass, faces may go to and fro between drying out and not. From then on they may only dry out, and leaves
// only shut, so that the search ends: that happens a few times a winter, and what is found then keeps its mass like any other.
const freeTurns = 12

// solve finds the humidity of the layers at the end of the step, and by how much it follows faces that all grow warmer [kg/kg for a kelvin]: faces that have no film left
// take no part, and fewer or more do as it changes.
func (v *vapour) solve(seconds float64) (w, follows [maxLayers]float64) {
	free := v.free(seconds)
	for turn := 0; ; turn++ {
		b, last := free, turn >= freeTurns
		for i := range v.beds {
			v.beds[i].enter(&b)
		}
		for i := range v.faces {
			v.faces[i].enter(&b, seconds)
		}
		for _, t := range v.g.tubes {
			t.enter(&b)
		}
		w = b.solve(len(v.g.layers))
		changed := false
		for i := range v.beds {
			changed = v.beds[i].judge(&w, last) || changed
		}
		for i := range v.faces {
			changed = v.faces[i].judge(&w, seconds, last) || changed
		}
		if !last {
			for _, t := range v.g.tubes {
				changed = t.judge(&w) || changed
			}
		}
		if changed {
			continue
		}
		b.gain = [maxLayers]float64{}
		for i := range v.faces {
			v.faces[i].gains(&b.gain, v.faces[i].sl)
		}
		return w, b.solve(len(v.g.layers))
	}
}

// free is the balance without beds and faces: what the air holds, brings and takes along.
func (v *vapour) free(seconds float64) (b layerBalance) {
	rate := &v.g.flows.rate
	for k := range v.g.layers {
		b.a[k][k] += v.dry[k] / seconds
		b.gain[k] += v.dry[k]/seconds*v.w[k] + rate[outdoors][k]*v.outside
		b.a[k][k] += rate[k][outdoors]
		for j := range v.g.layers {
			b.a[k][k] += rate[k][j]
			b.a[j][k] -= rate[k][j]
		}
	}
	return b
}

// solve eliminates; the balance of n layers has a dominant diagonal.
func (b *layerBalance) solve(n int) (w [maxLayers]float64) {
	a, x := b.a, b.gain
	for i := range n {
		for j := i + 1; j < n; j++ {
			f := a[j][i] / a[i][i]
			for k := i; k < n; k++ {
				a[j][k] -= f * a[i][k]
			}
			x[j] -= f * x[i]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= a[i][k] * w[k]
		}
		w[i] = x[i] / a[i][i]
	}
	return w
}

func (b *bedVapour) enter(to *layerBalance) {
	to.a[b.layer][b.layer] += b.soil
	to.gain[b.layer] += b.soil * b.sat
	if !b.shut {
		to.a[b.layer][b.layer] += b.leaves
		to.gain[b.layer] += b.leaves*b.leafSat + b.always
	}
}

// judge tells whether the leaves have changed between giving vapour and not.
func (b *bedVapour) judge(w *[maxLayers]float64, last bool) bool {
	was := b.shut
	b.shut = last && was || b.leaves*(b.leafSat-w[b.layer])+b.always < 0
	return b.shut != was
}

// given is what soil and leaves give [kg/s].
func (b *bedVapour) given(w *[maxLayers]float64) (soil, leaves float64) {
	soil = b.soil * (b.sat - w[b.layer])
	if !b.shut {
		leaves = b.leaves*(b.leafSat-w[b.layer]) + b.always
	}
	return soil, leaves
}

// book takes down what the step comes to.
func (v *vapour) book(w *[maxLayers]float64, seconds float64) {
	n := vapourStep{w: *w}
	rate := &v.g.flows.rate
	for k := range v.g.layers {
		n.air += rate[outdoors][k] * seconds
		n.inAir += rate[outdoors][k] * v.outside * seconds
		n.outAir += rate[k][outdoors] * w[k] * seconds
	}
	for i := range v.beds {
		soil, leaves := v.beds[i].given(w)
		n.fromSoil += soil * seconds
		n.fromLeaves += leaves * seconds
		v.beds[i].step = BedKg{soil * seconds, leaves * seconds}
	}
	v.next = n
}

// heatBeds takes the heat of evaporation from the beds.
func (v *vapour) heatBeds(m thermal.Moment, w *[maxLayers]float64) {
	for i := range v.beds {
		b := &v.beds[i]
		t := min(m.T(b.surface.node), hottestC)
		soil, leaves := b.given(w)
		l := air.LatentVaporisation(t) + frostShare(t)*air.LatentFusion
		b.heat.set(v.g.Net, -(soil+leaves)*l, b.soil*l*b.sl, t)
	}
}

// hottestC is the temperature above which vapour is reckoned as at it [°C]: a shut house in the summer sun, or a pass of the solver on its
// way, may come near boiling, where a humidity ratio has no bound.
const hottestC = 60

// saturated is the humidity ratio of saturated air at a face [kg/kg], and its slope [1/K].
func (g *Greenhouse) saturated(t float64) (w, slope float64) { return g.curve.At(t) }

// restart begins the account anew at the present state.
func (v *vapour) restart() {
	v.sum, v.StartKg = vapourStep{}, v.held()
}

func (v *vapour) account() VapourAccount {
	s := &v.sum
	a := VapourAccount{StoredKg: v.held() - v.StartKg,
		InKg:  map[string]float64{"evaporation from beds": s.fromSoil, "transpiration": s.fromLeaves, "outdoor air": s.inAir},
		OutKg: map[string]float64{"air that leaves": s.outAir, "drip": s.drip}}
	if len(v.g.tubes) > 0 {
		a.OutKg["condensed in tubes"] = s.taken
	}
	a.OpenKg = math.Abs(s.fromSoil + s.fromLeaves + s.inAir - s.outAir - s.drip - s.taken - a.StoredKg)
	return a
}
