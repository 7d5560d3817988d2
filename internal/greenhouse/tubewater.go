package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/pipes"
	"suncellar/internal/thermal"
)

// A bundle's air comes in with the humidity of one layer and leaves into another with less, by what its walls take: the balance of the layers has that as a
// straight line, transfer (w - at), as long as the same walls are wet.

// ends are the layers that a bundle's air comes from and goes to.
func (b *bundle) ends(t *tubes) (from, to int) {
	if b.massS < 0 {
		return t.b.layer, t.a.layer
	}
	return t.a.layer, t.b.layer
}

// condensing is the water that a bundle takes out of air at w, and how fast that rises with w [kg/s].
func (b *bundle) condensing(t *tubes, w float64) (kgS, slope float64) {
	if b.massS == 0 || !t.loop() {
		return 0, 0
	}
	dir := 1
	if b.massS < 0 {
		dir = -1
	}
	sum, rise := pipes.Condensing(w, b.saturated, b.wetBypass, dir, b.take)
	return sum * math.Abs(b.massS), rise * math.Abs(b.massS)
}

// enter adds what the tubes take to the balance of the layers.
func (t *tubes) enter(b *layerBalance) {
	for _, u := range t.bundles {
		if u.wetSlope == 0 {
			continue
		}
		from, to := u.ends(t)
		b.a[to][from] += u.wetSlope
		b.gain[to] += u.wetSlope * u.wetAt
	}
}

// judge finds which walls are wet at w, and tells whether they are others than those of the balance.
func (t *tubes) judge(w *[maxLayers]float64) (changed bool) {
	if !t.loop() {
		return false
	}
	for _, u := range t.bundles {
		from, _ := u.ends(t)
		sum, slope := u.condensing(t, w[from])
		at := 0.0
		if slope > 0 {
			at = w[from] - sum/slope
		}
		changed = changed || math.Abs(slope-u.wetSlope) > 1e-12*math.Abs(u.massS)
		u.wetSlope, u.wetAt = slope, at
	}
	return changed
}

// condense gives the heat of what condenses at w to the walls that it condenses on, and tells how much that is [kg/s].
func (t *tubes) condense(m thermal.Moment, w *[maxLayers]float64) float64 {
	if !t.loop() {
		return 0
	}
	g, all := t.g, 0.0
	for _, b := range t.bundles {
		from, _ := b.ends(t)
		sum, _ := b.condensing(t, w[from])
		all += sum
		for i := range b.wet {
			if sum == 0 || b.take[i] == 0 {
				b.wet[i].set(g.Net, 0, 0, 0)
				continue
			}
			c, mass := b.around.Walls[i], math.Abs(b.massS)
			heat := latent(c)
			b.wet[i].set(g.Net, mass*b.take[i]*heat, mass*(1-b.wetBypass)*heat*b.slopes[i], c)
		}
	}
	t.next.waterKg = all * m.Step
	return all
}

// latent is the heat of evaporation, or of frost below 0 °C [J/kg].
func latent(t float64) float64 {
	if t < 0 {
		return air.LatentSublimation(t)
	}
	return air.LatentVaporisation(t)
}
