package carry

import "math"

// Times are the ends that the time that counts lies between in 8 of 10 houses: until the place falls below the limit or ice begins in the drums, whichever is first.
type Times struct {
	Lo, Hi         float64 // [h]
	MoreLo, MoreHi bool    // the end lies beyond what was run, that is beyond Lo or Hi
}

// read takes the times at which both ends first fall below a limit.
func read(lo, hi []float64, limitC float64) Times {
	t := Times{}
	t.Lo, t.MoreLo = below(lo, limitC)
	t.Hi, t.MoreHi = below(hi, limitC)
	return t
}

// below is the hour at which a temperature first falls below a limit; else the last hour, and true.
func below(c []float64, limitC float64) (hours float64, more bool) {
	for h := range c {
		before := c[max(0, h-1)]
		if share, crosses := crossing(before, c[h], limitC); crosses {
			return math.Max(0, float64(h-1)+share), false
		}
	}
	return float64(len(c) - 1), true
}

// earlier is whichever of two ends the time, at both ends of the band.
func earlier(x, y Times) Times {
	first := func(a float64, aMore bool, b float64, bMore bool) (float64, bool) {
		switch {
		case aMore && !bMore:
			return b, false
		case bMore && !aMore:
			return a, false
		}
		return math.Min(a, b), aMore
	}
	var t Times
	t.Lo, t.MoreLo = first(x.Lo, x.MoreLo, y.Lo, y.MoreLo)
	t.Hi, t.MoreHi = first(x.Hi, x.MoreHi, y.Hi, y.MoreHi)
	return t
}
