package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/thermal"
)

// The film of water and frost on a face: it grows while the air's vapour is more than the face can leave in it, dries when it is less,
// freezes and melts with the face, and drips when it is more than the face holds.
//
// It promises that no film is ever less than nothing, that what dries was there, and that frost that melts takes the heat of melting from its face.

// wetFace is a face with its film, or the air of a layer itself, in which fog forms.
type wetFace struct {
	s        *surface // nil for fog
	node     thermal.Node
	heat     leaning
	area     float64             // [m²]
	holds    float64             // film that stays on it [kg/m²]
	draughts [maxLayers]*draught // along it, by the layer they take their air from
	layers   [maxLayers]float64  // share of its area that stands in each
	film     float64             // at the begin of the step [kg/m²]
	ice      float64             // of it [kg/m²]
	dripKg   float64             // run off since the hour began
	next     filmStep            // what the step comes to, as found so far
	transfer [maxLayers]float64  // to each layer in this pass [kg/s]
	sat, sl  float64             // saturated air at the face, and its slope [1/K]
	all      float64             // sum of transfer
	dry      bool                // all its film goes within the step, if it has any
}

// filmStep is what a step makes of a film.
type filmStep struct {
	film, ice float64 // at its end [kg/m²]
	got       float64 // caught less dried [kg]
	drip      float64 // [kg]
}

// filmHolds is the water that a steep face holds before drops run off [kg/m²]: drops on sheet and glass of greenhouses, 0.1 mm;
// common practice, no source: they run from 15 to 20° of slope.
const filmHolds = 0.1

// meltS and meltK are how fast frost melts and water freezes on a face: by 1/meltS of it for each second at meltK from 0 °C or
// more. Judgement: a tenth of a millimetre is gone within the hour, and the face is held back by what that takes.
const (
	meltS = 1800.0
	meltK = 2.0
)

// prepare takes in the face's state of this pass.
func (w *wetFace) prepare(g *Greenhouse, m thermal.Moment, perFilm float64) {
	w.sat, w.sl = g.saturated(m.T(w.node))
	if w.s == nil {
		return // the air's own transfer stands
	}
	k := w.area * max(w.s.h, stillFilm) * perFilm
	w.all = 0
	for i := range w.layers {
		w.transfer[i] = k * w.layers[i]
		w.all += w.transfer[i]
	}
}

// stillFilm is the least film through which a face catches vapour [W/m²K].
const stillFilm = 0.5

// enter puts the face into the balance of the layers: what each gives up for a unit of its humidity, and what it gets back. The air of a
// draught lands elsewhere, and so does what the face took from it.
func (w *wetFace) enter(b *layerBalance, seconds float64) {
	if w.dry {
		if given := w.film * w.area / seconds; given > 0 {
			for i, k := range w.transfer {
				b.gain[i] += given * k / w.all
			}
		}
		return
	}
	for i, k := range w.transfer {
		if k == 0 {
			continue
		}
		own := 1.0
		if d := w.draughts[i]; d != nil {
			for j, part := range d.gone {
				own -= part
				b.a[j][i] += k * part
			}
		}
		b.a[i][i] += k * own
	}
	w.gains(&b.gain, w.sat)
}

// judge finds what the humidity of the layers leaves on the face, and tells whether it has changed between drying out and not.
func (w *wetFace) judge(humid *[maxLayers]float64, seconds float64, last bool) bool {
	wet := -w.all * w.sat
	for i, k := range w.transfer {
		wet += k * humid[i]
	}
	left := w.film * w.area / seconds
	was := w.dry
	w.dry = last && was || wet < -left
	w.next.got = wet * seconds
	if w.dry {
		w.next.got = -left * seconds
	}
	return w.dry != was
}

// finish makes the film at the end of the step and sets the heat of it.
func (w *wetFace) finish(g *Greenhouse, m thermal.Moment, follows *[maxLayers]float64) {
	t := m.T(w.node)
	frost := frostShare(t)
	if w.next.got < 0 && w.film > 0 {
		frost = w.ice / w.film
	}
	q := w.next.got * (air.LatentVaporisation(t) + frost*air.LatentFusion)
	slope := w.slope(t, frost, follows)
	if w.s == nil {
		w.next.drip = max(0, w.next.got)
		w.heat.set(g.Net, q/m.Step, slope, t)
		return
	}
	got := w.next.got / w.area
	ice, water := max(0, w.ice+got*frost), max(0, w.film-w.ice+got*(1-frost))
	turned := turn(ice, water, t, m.Step)
	ice -= turned
	water += turned
	drip := min(water, max(0, ice+water-w.holds))
	w.next.film, w.next.ice, w.next.drip = ice+water-drip, ice, drip*w.area
	q -= turned * w.area * air.LatentFusion
	w.heat.set(g.Net, q/m.Step, slope+turning(ice, water, t)*w.area*air.LatentFusion/(meltS+m.Step)/meltK, t)
}

// turn is the frost that melts in a step, negative the water that freezes [kg/m²].
func turn(ice, water, t, seconds float64) float64 {
	rate := seconds / meltS * min(1, math.Abs(t)/meltK)
	if t < 0 {
		ice = -water
	}
	return ice * rate / (1 + rate)
}

// turning is how much of a film melts faster, or freezes slower, as its face warms [kg/m²]: the frost above 0 °C and the water below, and near 0 °C, where a pass may land on
// the other side, both.
func turning(ice, water, t float64) float64 {
	switch {
	case math.Abs(t) > meltK:
		return 0
	case t > 0.5:
		return ice
	case t < -0.5:
		return water
	}
	return ice + water
}

// frostShare is the share of what a face catches at t [°C] that is frost: half at 0 °C, all from half a kelvin below; the width is judgement,
// so that heat does not leap there.
func frostShare(t float64) float64 { return clamp(0.5-t, 0, 1) }

// slope is how fast the heat of the face's dew falls as it warms [W/K]: less than in air whose humidity stood still, for the air follows the faces, which mostly warm
// together.
func (w *wetFace) slope(t, frost float64, follows *[maxLayers]float64) float64 {
	if w.dry {
		return 0
	}
	less := w.all * w.sl
	for i, k := range w.transfer {
		less -= k * follows[i]
	}
	return max(0, less) * (air.LatentVaporisation(t) + frost*air.LatentFusion)
}

// gains adds what the layers gain from so much humidity at the face [kg/s].
func (w *wetFace) gains(to *[maxLayers]float64, humidity float64) {
	if w.dry {
		return
	}
	for i, k := range w.transfer {
		if k == 0 {
			continue
		}
		own := 1.0
		if d := w.draughts[i]; d != nil {
			for j, part := range d.gone {
				own -= part
				to[j] += k * part * humidity
			}
		}
		to[i] += k * own * humidity
	}
}

// keep takes the step as made.
func (w *wetFace) keep() {
	if w.s != nil {
		w.film, w.ice = w.next.film, w.next.ice
	}
	w.dripKg += w.next.drip
}
