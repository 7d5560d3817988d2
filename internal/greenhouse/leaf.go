package greenhouse

import (
	"math"

	"suncellar/internal/enclosure"
)

// leaf is a leaf at the tips of a strip of a bed, in the middle of the house: it takes the temperature at which what it gets from the air round it,
// from all that it sees and from the sun is nothing in sum. Its own effect on the room is that of the bed.
type leaf struct {
	g     *Greenhouse
	strip int
	air   *layer
	soil  *surface
	sees  []seen
	last  float64
	above float64 // longwave that falls on it from above, as its temperature was last found [W/m²]
}

// seen is a surface and the share of the upper half space that it fills, drums and beds before it counted.
type seen struct {
	s    *surface
	pane *pane // where it is clear to longwave
	f    float64
}

func (g *Greenhouse) leafAt(k int) *leaf {
	strip := &g.room.strips[k]
	b := &g.House.Beds[strip.bed]
	l := &leaf{g: g, strip: k, last: g.Setup.StartC, soil: g.inside[g.room.pieces[strip.piece]]}
	for _, a := range g.layers {
		if b.LeafZ >= a.z0-1e-9 && b.LeafZ <= a.z1 {
			l.air = a
			break
		}
	}
	shares := make([]float64, len(g.inside))
	for i, f := range g.room.e.Spot(enclosure.Point{X: (strip.x0 + strip.x1) / 2, Z: b.LeafZ}) {
		shares[g.room.pieces[i]] += f
	}
	for i, f := range shares {
		if f == 0 {
			continue
		}
		v := seen{s: g.inside[i], f: f}
		if v.s.clear > 0 {
			v.pane = g.paneOf(i)
		}
		l.sees = append(l.sees, v)
	}
	return l
}

// leafSize is the length of a leaf along the air that flows past it [m], and leafEmittance its longwave emittance.
const (
	leafSize       = 0.05
	leafEmittance  = 0.96
	leafAbsorption = 0.5 // of sun
	leafCooling    = 0.4 // share of the sun taken up that goes into transpiration in the cold; own judgement
)

// overhead is what falls on the leaf from above, all that it sees taken as black [W/m²].
func (l *leaf) overhead() float64 {
	q := 0.0
	for i := range l.sees {
		v := &l.sees[i]
		q += v.f * (1 - v.s.passes) * black(l.g.Net.T(v.s.node))
		if v.pane != nil {
			up := v.pane.films.sky
			q += v.f * v.s.passes * (up*black(l.g.Net.T(l.g.outside.sky)) + (1-up)*black(l.g.Net.T(l.g.outside.terrain)))
		}
	}
	return q
}

// black is what a black face at t [°C] gives off [W/m²].
func black(t float64) float64 {
	k := (t + zeroC) * (t + zeroC)
	return stefan * k * k
}

// temperature of the leaf [°C]: free convection on both sides, h = 1.3 (|dT|/d)^(1/4) W/m²K, |dT| at least 0.05 K, longwave from above and from the
// bed below:
//
//	2 h (Ta - T) + e (from above + sigma Tb^4 - 2 sigma T^4) + sun = 0
//
// found by Newton's method; the left side falls with T, so it has one root.
func (l *leaf) temperature() float64 {
	ta := l.g.Net.T(l.air.node)
	l.above = l.overhead()
	given := leafEmittance*(l.above+black(l.g.Net.T(l.soil.node))) + leafAbsorption*(1-leafCooling)*l.g.light.stripWM2(l.strip)
	t := l.last
	for range 50 {
		d := t - ta
		h, slope := 2*1.3*math.Sqrt(math.Sqrt(math.Max(0.05, math.Abs(d))/leafSize)), 1.25
		if math.Abs(d) < 0.05 {
			slope = 1
		}
		k := t + zeroC
		rest := given - h*d - 2*leafEmittance*black(t)
		move := rest / (h*slope + 8*leafEmittance*stefan*k*k*k)
		t += move
		if math.Abs(move) < 1e-7 {
			break
		}
	}
	l.last = t
	return t
}
