package unknown

import (
	"fmt"
	"math"
)

// spread is one standard deviation below the plan's value and above it: as factors, both above 1, or as distances, the factors 0.
type spread struct {
	under, over float64 // factors
	down, up    float64 // distances
}

// times is a log-normal spread by a factor, by a normal one by a distance.
func times(f float64) spread { return spread{under: f, over: f} }
func by(s float64) spread    { return spread{down: s, up: s} }

func (s spread) log() bool { return s.under > 0 }

// word is the name of its distribution.
func (s spread) word() string {
	if s.log() {
		return "log-normal"
	}
	return "normal"
}

// value is what lies z standard deviations from x0.
func (s spread) value(x0, z float64) float64 {
	switch {
	case s.log() && z < 0:
		return x0 * math.Pow(s.under, z)
	case s.log():
		return x0 * math.Pow(s.over, z)
	case z < 0:
		return x0 + s.down*z
	}
	return x0 + s.up*z
}

// between is a spread of the same sort with x0 as its median and 8 in 10 between low and high; low < x0 < high, and above 0.
func (s spread) between(x0, low, high float64) spread {
	if s.log() {
		return spread{under: math.Pow(x0/low, 1/EightInTen), over: math.Pow(high/x0, 1/EightInTen)}
	}
	return spread{down: (x0 - low) / EightInTen, up: (high - x0) / EightInTen}
}

// words tells one standard deviation. All that has a distance is a share.
func (s spread) words() string {
	a, b, form := s.down*100, s.up*100, "%.2g %%"
	if s.log() {
		a, b, form = s.under, s.over, "%.3g"
	}
	less, more := fmt.Sprintf(form, a), fmt.Sprintf(form, b)
	switch {
	case s.log() && less == more:
		return "times or over " + more
	case s.log():
		return "times " + more + " or over " + less
	case less == more:
		return more
	}
	return more + " more or " + less + " less"
}
