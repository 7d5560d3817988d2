package greenhouse

import (
	"math"

	"suncellar/internal/pipes"
	"suncellar/internal/thermal"
)

// dries is what the tubes take out of the room's vapour while it stands at w: transfer (w - at) [kg/s], straight as long as the same walls
// are wet.
func (t *tubes) dries(w float64) (transfer, at float64) {
	sum, slope := 0.0, 0.0
	for _, b := range t.bundles {
		if s, d := b.condensing(t, w); d > 0 {
			sum += s
			slope += d
		}
	}
	if slope == 0 {
		return 0, 0
	}
	return slope, w - sum/slope
}

// condensing is the water that a bundle takes out at w, and how fast that rises with w [kg/s].
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

// condense gives the heat of what condenses at w to the walls that it condenses on, and tells how much that is [kg/s].
func (t *tubes) condense(m thermal.Moment, w float64) float64 {
	g, all := t.g, 0.0
	for _, b := range t.bundles {
		sum, _ := b.condensing(t, w)
		all += sum
		for i := range b.wet {
			if sum == 0 || b.take[i] == 0 {
				b.wet[i].set(g.Net, 0, 0, 0)
				continue
			}
			c, mass := b.around.Walls[i], math.Abs(b.massS)
			b.wet[i].set(g.Net, mass*b.take[i]*latent(c), mass*(1-b.wetBypass)*latent(c)*g.saturationSlope(c), c)
		}
	}
	t.next.waterKg = all * m.Step
	return all
}
