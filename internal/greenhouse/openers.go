package greenhouse

import (
	"math"

	"suncellar/internal/airflow"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
)

// The vents: how far each is open, by hand in its hours or by wax at any hour, and the outdoor air that passes them.

// opener is what moves one vent. By hand it follows the canopy's air at once; wax follows it with a lag of its own, and lags
// in its stroke too: it closes along a curve that lies colder than that along which it opens.
type opener struct {
	vent             *plan.Vent
	layer            int     // that the vent opens into
	waxC, stands     float64 // temperature of the wax and share that is open, at the begin of the step
	nextC, nextOpens float64 // at its end, as found so far
}

func (f *flows) addOpeners() {
	vents := f.g.House.Plan.Vents
	f.open, f.full = make([]float64, len(vents)), make([]float64, len(vents))
	for i := range vents {
		f.openers = append(f.openers, opener{vent: &vents[i], layer: f.g.layerAt(f.g.House.FloorZ + vents[i].Height), waxC: f.g.Setup.StartC})
	}
}

// byHand tells whether somebody may move the vent in this hour.
func (o *opener) byHand(h *hour) bool {
	return o.vent.Wax == nil && within(o.vent.Hours.From, o.vent.Hours.Until, h.clock)
}

// follow finds the share that is open when the canopy's air is at t through a step of some seconds.
func (o *opener) follow(h *hour, t, seconds float64) float64 {
	w := o.vent.Wax
	switch {
	case w != nil:
		o.nextC = o.waxC + (t-o.waxC)*seconds/(w.Lag+seconds)
		span := w.FullAt - w.OpensAt
		opening, closing := clamp((o.nextC-w.OpensAt)/span, 0, 1), clamp((o.nextC+w.Hysteresis-w.OpensAt)/span, 0, 1)
		o.nextOpens = math.Max(opening, math.Min(o.stands, closing))
	case !o.byHand(h):
		o.nextOpens = 0
	case o.vent.Above == nil:
		o.nextOpens = 1
	default:
		o.nextOpens = clamp((t-*o.vent.Above)/ventSpan, 0, 1)
	}
	return o.nextOpens
}

// ventSpan is how far above its threshold a vent is fully open [K]: whoever opens it opens it little by little; own judgement.
const ventSpan = 4.0

// ventRung is the coarsest rung of hours in which vents are moved: the air then follows them within minutes.
const ventRung = 1

// active tells whether vents may be moved in this hour.
func (f *flows) active() bool {
	if f.vents == nil {
		return false
	}
	t := f.g.Net.T(f.g.layers[len(f.g.layers)-1].node)
	for i := range f.openers {
		o := &f.openers[i]
		switch {
		case o.vent.Wax != nil:
			if o.stands > 0 || math.Max(t, o.waxC) > o.vent.Wax.OpensAt-ventSpan {
				return true
			}
		case o.byHand(f.h) && (o.vent.Above == nil || t > *o.vent.Above-ventSpan):
			return true
		}
	}
	return false
}

// How the canopy's temperature answers the temperature by which the vents are set [K/K], before it is known and within which bounds,
// and how far the setting may move in one pass [K].
const (
	usualSlope, steepest, flattest = -3.0, -15.0, -0.5
	widest                         = 8.0
)

// ventSearch seeks the temperature by which the vents are set. What they do to that temperature is several times what they are set by, so the
// setting is sought by secants within the passes of a step: the temperature by which they are set and the one that comes of it
// are to be the same.
type ventSearch struct {
	setC, triedC, gaveC, slope float64
	tried                      bool
}

func (s *ventSearch) next(t float64, first bool) float64 {
	if first {
		s.tried, s.slope = false, usualSlope
		return s.setC
	}
	if s.tried && math.Abs(s.setC-s.triedC) > 0.02 {
		s.slope = clamp((t-s.gaveC)/(s.setC-s.triedC), steepest, flattest)
	}
	s.tried, s.triedC, s.gaveC = true, s.setC, t
	s.setC += clamp((t-s.setC)/(1-s.slope), -widest, widest)
	return s.setC
}

// mayMove tells whether any vent may be open in this hour.
func (f *flows) mayMove() bool {
	for i := range f.openers {
		if o := &f.openers[i]; o.vent.Wax != nil || o.byHand(f.h) {
			return true
		}
	}
	return false
}

// settleAir keeps the last step of an hour, so that what is told of the hour has all of it.
func (g *Greenhouse) settleAir() {
	g.flows.keepOpeners()
	g.flows.begin = -1
	g.vapour.settle()
	g.co2.hour()
}

func (f *flows) keepOpeners() {
	if f.begin < 0 {
		return
	}
	for i := range f.openers {
		o := &f.openers[i]
		o.waxC, o.stands = o.nextC, o.nextOpens
	}
}

// setVents opens the vents and sets the air through them.
func (f *flows) setVents(m thermal.Moment, tIn, tOut float64) {
	if f.vents == nil {
		return
	}
	t := m.T(f.g.layers[len(f.g.layers)-1].node)
	if m.Pass == 0 {
		if m.Begin > f.begin {
			f.keepOpeners()
		}
		f.begin = m.Begin
		if !f.mayMove() {
			f.search.setC = t
		}
	}
	set := f.search.next(t, m.Pass == 0)
	for i := range f.openers {
		f.open[i] = f.openers[i].follow(f.h, set, m.Step)
	}
	q, s := f.ventFlow(f.open, tIn, tOut)
	f.vents.set(f.kgS(q, tOut), s.between(s, 1, tIn-tOut, len(f.g.layers)))
}

// ventFlow is the flow through all vents, each open by a share [m³/s], and where it passes in a house warmer than outdoors.
func (f *flows) ventFlow(open []float64, tIn, tOut float64) (float64, spread) {
	area, mean, number := 0.0, 0.0, 0.0
	for i := range f.openers {
		o := f.openers[i].vent
		if open[i] > 0 {
			number++
		}
		area += o.Area * open[i]
		mean += o.Area * open[i] * o.Height
	}
	var s spread
	if area == 0 {
		return 0, s.whole(len(f.g.layers))
	}
	mean /= area
	low, high := band{}, band{}
	for i := range f.openers {
		o := &f.openers[i]
		a := o.vent.Area * open[i]
		if a == 0 {
			continue
		}
		if o.vent.Height <= mean+1e-9 {
			low.add(a, o.vent.Height)
			s.in[o.layer] += a
		} else {
			high.add(a, o.vent.Height)
			s.out[o.layer] += a
		}
	}
	if high.area == 0 { // one height: in and out through the same openings
		s.out = s.in
		side := math.Sqrt(area / number)
		return airflow.SingleSided(area/side, side, tIn, tOut, f.h.windHouse), s.whole(len(f.g.layers))
	}
	v := airflow.Vents{LowM2: low.area, HighM2: high.area, RiseM: high.height() - low.height(), Discharge: 0.65, WindEffect: 0.3}
	return v.Flow(tIn, tOut, f.h.windHouse), s.whole(len(f.g.layers))
}

// band is openings at about one height.
type band struct{ area, moment float64 }

func (p *band) add(area, height float64) { p.area += area; p.moment += area * height }

func (p *band) height() float64 { return p.moment / p.area }

// airing is what an hour with all vents open would cost now: what the vents would let
// through between outdoors and air that the faces of the room warm by their films as it passes. The faces are as warm as they are.
func (f *flows) airing() Airing {
	g := f.g
	films, heat := 0.0, 0.0
	for _, s := range g.inside {
		for _, j := range s.joins {
			films += g.Net.JoinValue(j)
			heat += g.Net.JoinValue(j) * g.Net.T(s.node)
		}
	}
	out, faces := g.Net.T(g.outside.air), heat/math.Max(1e-9, films)
	now := 0.0
	for _, l := range g.layers {
		now += g.Net.T(l.node) * l.volume
	}
	now /= g.vapour.volume
	for i := range f.full {
		f.full[i] = 1
	}
	t, w := now, 0.0
	for range 8 {
		q, _ := f.ventFlow(f.full, t, out)
		w = q * g.airHeat(out)
		t = (t + (w*out+films*faces)/(w+films)) / 2
	}
	return Airing{HeatJ: math.Max(0, w*(t-out)*3600), ColderK: math.Max(0, now-t)}
}
