package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/thermal"
)

// The draughts of a house: air that runs down colder glazing, cold air that comes in from outdoors and falls, air that rises along warm
// drums. A draught takes its air from one layer, and delivers it to the farthest layer that it is still heavier (or lighter) than.
//
// It promises that heat and air agree: what the film of a face takes from the air is what the air of its draught is colder by,
// and every kilogram that a draught brings into a layer leaves it again, upwards or downwards, layer by layer.

// draught is the air along one face within one layer.
type draught struct {
	face   *surface
	index  int     // in face.air
	layer  int     // it takes its air from
	share  float64 // of the difference to the face by which the whole draught is off the layer's air
	toFace thermal.CarryID
	from   [maxLayers]thermal.CarryID // face to layers
	ends   [maxLayers]bool            // that it may reach
	film   float64                    // conductance of the face to the layer in this pass [W/K]
	part   float64                    // of it that feeds the draught [W/K]
	gone   [maxLayers]float64         // share of the face's whole exchange that each layer but its own has to bear
}

// plume is all draughts of one layer that go one way, mixed.
type plume struct{ flow, heat float64 } // [W/K], [W above 0 °C]

func (p *plume) add(flow, t float64) { p.flow += flow; p.heat += flow * t }

// jetShare is how much air of the room a falling draught of cold outdoor air takes with it, over its own; judgement.
const jetShare = 4.0

// AirBand is by how much the uncertain coefficients of the layers' exchange are moved; 0 means 1, as they stand.
type AirBand struct {
	Draught float64 // air that a draught takes along, over what its profile says
	Still   float64 // exchange of layers that lie still, over stillExchange
}

func orOne(x float64) float64 {
	if x == 0 {
		return 1
	}
	return x
}

// addDraughts finds the faces that make draughts: glazing down, drums up. Given films are told by somebody who wants no such thing.
func (f *flows) addDraughts() {
	g := f.g
	if g.House.Plan.Surfaces.Inside != nil {
		return
	}
	for _, s := range g.inside {
		for i, l := range s.air {
			k := g.layerAt((l.z0 + l.z1) / 2)
			switch {
			case s.glassBack > 0 && k > 0:
				f.down[k] = append(f.down[k], f.newDraught(s, i, k, 0, k))
			case s.film == drumSide && k+1 < len(g.layers):
				f.up[k] = append(f.up[k], f.newDraught(s, i, k, k+1, k+2))
			}
		}
	}
}

// usualK is the difference between face and air for which the kind of a draught is chosen [K].
const usualK = 5.0

// newDraught adds a draught that may reach the layers first..end-1.
func (f *flows) newDraught(s *surface, index, layer, first, end int) *draught {
	g := f.g
	length := s.height
	if s.film != drumSide {
		length = (s.z1 - s.z0) / max(0.2, math.Sin(s.tilt))
	}
	gr := stillAir(5).Grashof(airflow.Buoyancy(5, 5+usualK), length)
	d := &draught{face: s, index: index, layer: layer}
	d.share = min(0.9, airflow.DraughtShare(gr)/orOne(g.Setup.Air.Draught))
	d.toFace = g.Net.Carry("draught at "+s.name, g.layers[layer].node, s.node)
	for k := first; k < end; k++ {
		d.from[k], d.ends[k] = g.Net.Carry("draught from "+s.name, s.node, g.layers[k].node), true
	}
	return d
}

// gather takes in the film that the convection of this pass has set, and adds the draught to its plume. way is 1 where faces colder than
// the air count, -1 where warmer ones do.
func (d *draught) gather(g *Greenhouse, m thermal.Moment, way float64, p *plume) {
	t, face := m.T(g.layers[d.layer].node), m.T(d.face.node)
	d.film = g.Net.JoinValue(d.face.joins[d.index])
	d.part = d.film * airflow.Reach(way*(t-face))
	p.add(d.part/d.share, t+d.share*(face-t))
}

// settle sets what the face exchanges with the layers, of which the draught brings the shares of reach to others than its own.
func (d *draught) settle(f *flows, reach *[maxLayers]float64) {
	net, all := f.g.Net, 0.0
	d.gone = [maxLayers]float64{}
	for k := range f.g.layers {
		if !d.ends[k] {
			continue
		}
		w := d.part * reach[k]
		all += w
		net.SetCarry(d.from[k], w)
		d.gone[k] = w / max(1e-9, d.film)
		f.along(d.layer, k, w*(1-d.share)/d.share, w)
	}
	net.SetCarry(d.toFace, all)
	net.SetJoin(d.face.joins[d.index], max(0, d.film-all))
}

// reach is which share of a plume at temperature t goes to each layer from its own on, way -1 downwards and 1 upwards, no farther than last.
func (f *flows) reach(m thermal.Moment, from, way, last int, t float64) (to [maxLayers]float64) {
	left := 1.0
	for k := from; ; k += way {
		if k == last {
			to[k] = left
			return to
		}
		on := left * airflow.Reach(float64(way)*(t-m.T(f.g.layers[k+way].node)))
		to[k] = left - on
		left = on
	}
}

// fall sets the draughts that fall from layer k: along its glazing, and the outdoor air that comes in there.
func (f *flows) fall(m thermal.Moment, k int) {
	g := f.g
	var p plume
	for _, d := range f.down[k] {
		d.gather(g, m, 1, &p)
	}
	t, cold := m.T(g.layers[k].node), m.T(g.outside.air)
	entering := 0.0
	for _, path := range f.paths {
		entering += path.in[k]
	}
	jet := jetShare * orOne(g.Setup.Air.Draught)
	p.add(entering*airHeatKg, cold)
	p.add(entering*airHeatKg*jet, t)
	if p.flow <= 0 {
		p = plume{1, t}
	}
	to := f.reach(m, k, -1, 0, p.heat/p.flow)
	for _, d := range f.down[k] {
		d.settle(f, &to)
	}
	for _, path := range f.paths {
		in := path.in[k]
		for j := 0; j < k; j++ {
			path.lands[j] += in * to[j]
			f.along(k, j, in*jet*to[j]*airHeatKg, 0)
		}
		path.lands[k] += in * to[k]
	}
}

// rise sets the draughts that rise along the drums of layer k.
func (f *flows) rise(m thermal.Moment, k int) {
	if len(f.up[k]) == 0 {
		return
	}
	var p plume
	for _, d := range f.up[k] {
		d.gather(f.g, m, -1, &p)
	}
	t := m.T(f.g.layers[k].node)
	if p.flow > 0 {
		t = p.heat / p.flow
	}
	to := f.reach(m, k, 1, k+1, t)
	for _, d := range f.up[k] {
		d.settle(f, &to)
	}
}

// along notes air that goes from one layer to another: that which the layers' own carry takes, and that which went past a face and is
// carried from there [W/K].
func (f *flows) along(from, to int, own, past float64) {
	f.direct[from][to] += own
	f.rate[from][to] += (own + past) / airHeatKg
}
