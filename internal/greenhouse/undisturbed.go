package greenhouse

import (
	"fmt"
	"math"
	"time"

	"suncellar/internal/ground"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// Undisturbed is ground without a house: its yearly-periodic temperature under one year of weather.
type Undisturbed struct {
	MeanC float64 // of the year at 1 m depth
	Turns int     // years run until periodic
	MoveK float64 // how far a cell still moved in the last
	// FrostM is the depth above which ground froze at any time of the last year, snow and all [m].
	FrostM float64
	at     map[int]func(depth float64) float64
	start  time.Time
}

// Profile gives temperature by depth [°C] on a day of any year.
func (u *Undisturbed) Profile(month, day int) func(depthM float64) float64 {
	return u.at[dayKey(time.Month(month), day)]
}

func dayKey(m time.Month, d int) int {
	if m == time.February && d == 29 {
		d = 28
	}
	return int(m)*100 + d
}

// maxTurns and stillK are when the search for the periodic state ends.
const (
	maxTurns = 6
	stillK   = 0.05
)

// UndisturbedGround runs a column of a site's soil under a whole year of weather until no cell moves more than 0.05 K from one
// year to the next, six years at the most. The deep ground, which would take decades, is moved to the yearly mean of what lies above
// it after each year.
func UndisturbedGround(p *plan.Plan, year *weather.Series) (*Undisturbed, error) {
	if n := len(year.Hours); n < 8760 {
		return nil, fmt.Errorf("ground: the weather has %d h, a whole year (8760 h) is needed to find the ground's own temperature", n)
	}
	soil, err := SoilOf(p.Site)
	if err != nil {
		return nil, err
	}
	mean, amplitude := yearWave(year)
	wave := ground.Harmonic{Mean: mean + 1, Amplitude: amplitude, Warmest: 205, Diffusivity: soil.Below.K / soil.Below.C}
	if p.Site.Latitude < 0 {
		wave.Warmest = 23
	}
	o, err := NewOpenGround(p, func(d float64) float64 { return wave.At(soil.waveDepth(d), 1) })
	if err != nil {
		return nil, err
	}
	column, body := o.column, o.body
	o.site.neverRains = dry(year)
	u := &Undisturbed{at: map[int]func(float64) float64{}, start: year.Start}
	before := year.Hours[len(year.Hours)-1]
	first := body.State()
	hours := make([]hour, len(year.Hours)) // the sun of a year is the same in every turn
	spans := Spans(p, year)
	for i := range hours {
		hours[i] = o.site.hourAt(year, i, before, spans[i])
		before = year.Hours[i]
	}
	for u.Turns = 1; ; u.Turns++ {
		sum := make([]float64, body.Len())
		u.FrostM = 0
		for i := range year.Hours {
			h := &hours[i]
			if err := o.advance(h); err != nil {
				return nil, err
			}
			for c := range sum {
				sum[c] += body.T(c)
				if body.T(c) < 0 {
					u.FrostM = math.Max(u.FrostM, column.Depth(c))
				}
			}
			if h.start.Hour() == 0 {
				u.at[dayKey(h.start.Month(), h.start.Day())] = column.Profile(body)
			}
		}
		last := body.State()
		u.MoveK = 0
		for c := range last {
			u.MoveK = math.Max(u.MoveK, math.Abs(last[c]-first[c]))
		}
		u.MeanC = sum[shallow(column)] / float64(len(year.Hours))
		if u.MoveK <= stillK || u.Turns == maxTurns {
			return u, nil
		}
		// below the yearly wave's reach every cell goes to the mean at 1 m
		for c := range last {
			if d := column.Depth(c); d > 2 {
				last[c] += (u.MeanC - sum[c]/float64(len(year.Hours))) * math.Min(1, (d-2)/2)
			}
		}
		body.SetState(last)
		first = last
	}
}

func shallow(c *ground.Column) int {
	best := 0
	for i := range c.Len() {
		if math.Abs(c.Depth(i)-1) < math.Abs(c.Depth(best)-1) {
			best = i
		}
	}
	return best
}

// yearWave is the mean and the half span of the monthly means of the air [°C, K].
func yearWave(s *weather.Series) (mean, amplitude float64) {
	var sum [12]float64
	var n [12]int
	for i := range s.Hours {
		m := s.HourStart(i).Month() - 1
		sum[m] += s.Hours[i].AirC
		n[m]++
		mean += s.Hours[i].AirC
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for m := range sum {
		if n[m] > 0 {
			lo, hi = math.Min(lo, sum[m]/float64(n[m])), math.Max(hi, sum[m]/float64(n[m]))
		}
	}
	return mean / float64(len(s.Hours)), (hi - lo) / 2
}
