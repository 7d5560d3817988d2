package thermal

import "math"

// Law is how much heat a node or cell holds at a temperature: piecewise linear, with at most one freezing interval.
//
//	H(T) = Liquid T                                        T >= Upper
//	H(T) = Liquid Upper - (Upper-T)(Latent/(Upper-Lower))  Lower < T < Upper   (Latent holds the sensible part too)
//	H(T) = H(Lower) - Frozen (Lower-T)                     T <= Lower
//
// The zero value holds no heat: a surface. A law with Latent 0 is sensible only, and then only Liquid is read.
type Law struct {
	Liquid float64 // heat capacity when thawed [J/K]
	Frozen float64 // heat capacity when frozen [J/K]
	Latent float64 // heat given off between Upper and Lower [J]
	Lower  float64 // all frozen at and below [°C]
	Upper  float64 // all thawed at and above [°C]
}

// Sensible is a law without freezing; c [J/K].
func Sensible(c float64) Law { return Law{Liquid: c, Frozen: c} }

type branch uint8

const (
	liquid branch = iota
	freezing
	frozen
)

func (l *Law) branchAt(t float64) branch {
	if l.Latent == 0 || t >= l.Upper {
		return liquid
	}
	if t > l.Lower {
		return freezing
	}
	return frozen
}

// line gives capacity c [J/K] and offset d [J] of a branch: H = c T + d.
func (l *Law) line(b branch) (c, d float64) {
	switch b {
	case liquid:
		return l.Liquid, 0
	case freezing:
		c = l.Latent / (l.Upper - l.Lower)
		return c, (l.Liquid - c) * l.Upper
	default:
		slope := l.Latent / (l.Upper - l.Lower)
		atLower := slope*l.Lower + (l.Liquid-slope)*l.Upper
		return l.Frozen, atLower - l.Frozen*l.Lower
	}
}

// line is one branch of a law, H = c T + d, which holds from low to high.
type line struct {
	c, d      float64 // [J/K], [J]
	low, high float64 // hair beyond its ends; infinite where it has none [°C]
}

func (l *line) has(t float64) bool { return t > l.low && t < l.high }

// on is the line of a branch.
func (l *Law) on(b branch) line {
	c, d := l.line(b)
	out := line{c: c, d: d, low: math.Inf(-1), high: math.Inf(1)}
	if l.Latent == 0 {
		return out
	}
	switch b {
	case liquid:
		out.low = l.Upper - hair
	case frozen:
		out.high = l.Lower + hair
	default:
		out.low, out.high = l.Lower-hair, l.Upper+hair
	}
	return out
}

// Heat is the heat held at t [°C], counted from thawed at 0 °C [J].
func (l *Law) Heat(t float64) float64 {
	c, d := l.line(l.branchAt(t))
	return c*t + d
}

// Temperature is the inverse of Heat [°C]; a law without capacity has none and panics.
func (l *Law) Temperature(h float64) float64 {
	b := liquid
	if l.Latent != 0 {
		if h < l.Heat(l.Lower) {
			b = frozen
		} else if h < l.Heat(l.Upper) {
			b = freezing
		}
	}
	c, d := l.line(b)
	if c == 0 {
		panic("thermal: a law without capacity has no temperature of its own")
	}
	return (h - d) / c
}

// IceShare is the share that is frozen at t, 0..1; 0 for a law that does not freeze.
func (l *Law) IceShare(t float64) float64 {
	switch l.branchAt(t) {
	case liquid:
		return 0
	case frozen:
		return 1
	}
	return (l.Upper - t) / (l.Upper - l.Lower)
}

// hair is how far a temperature may stand beyond its branch before it is moved to the next [K]: above rounding, and so
// small that the heat it misplaces (a drum: 7e8 J/K times hair) is below a hundredth of a joule.
const hair = 1e-11

// nextBranch moves from b towards the branch of t, one branch at a time, so that an iterate cannot leap over the
// freezing interval.
func (l *Law) nextBranch(b branch, t float64) branch {
	if b == liquid && t > l.Upper-hair || b == frozen && t < l.Lower+hair ||
		b == freezing && t > l.Lower-hair && t < l.Upper+hair {
		return b
	}
	to := l.branchAt(t)
	if b == liquid && to == frozen || b == frozen && to == liquid {
		return freezing
	}
	return to
}
