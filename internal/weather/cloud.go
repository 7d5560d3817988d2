package weather

import (
	"math"

	"suncellar/internal/sun"
)

// eveningHours is how many hours of good sun at dusk and at dawn speak for the night between [h]; one hour alone
// carries the error of a low sun. No source.
const eveningHours = 3

// cloud fills the share of cloud: by day from the sun, otherwise by a straight line from what the evening's last
// hours of sun said to what the morning's first say.
func (c completion) cloud() {
	open := 0
	byDay := make([]float64, len(c.Hours))
	for i, h := range c.Hours {
		byDay[i] = h.CloudShare
		if !math.IsNaN(h.CloudShare) {
			continue
		}
		open++
		if share, ok := sun.CloudShare(h.GlobalWM2, c.clearGlobal(i), c.suns[i]); ok {
			byDay[i] = share
		}
	}
	if open == 0 {
		return
	}
	carried := carry(byDay)
	c.fill(cloud, Derived, "by day from what the sun lacks to a cloudless sky, carried through the night", func(i int) float64 { return carried[i] })
	c.fill(cloud, Assumed, "half, the sun never stands high enough to tell", func(int) float64 { return assumedCloud })
}

// carry bridges the unknown stretches of values between the means of the known ones beside them.
func carry(values []float64) []float64 {
	out := append([]float64(nil), values...)
	for first := 0; first < len(out); first++ {
		if !math.IsNaN(values[first]) {
			continue
		}
		after := first
		for after < len(values) && math.IsNaN(values[after]) {
			after++
		}
		a, b := meanKnown(values, first-1, -1), meanKnown(values, after, 1)
		if math.IsNaN(a) {
			a = b
		}
		if math.IsNaN(b) {
			b = a
		}
		for i := first; i < after; i++ {
			out[i] = a + (b-a)*float64(i-first+1)/float64(after-first+1)
		}
		first = after
	}
	return out
}

// meanKnown is the mean of up to eveningHours known values from i on in the direction step; NaN when the first is not known.
func meanKnown(values []float64, i, step int) float64 {
	sum, n := 0.0, 0
	for ; n < eveningHours && i >= 0 && i < len(values) && !math.IsNaN(values[i]); i += step {
		sum += values[i]
		n++
	}
	return sum / float64(n)
}
