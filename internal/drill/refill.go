package drill

import (
	"math"
	"slices"
	"time"

	"suncellar/internal/plan"
)

// Refill is how long the rain takes to bring a volume at a season.
type Refill struct {
	M3   float64
	Days []float64 // in each year of the rain, sorted; +Inf where a year does not suffice; nil where no rain is known
}

// yearDays is how many days a refill is looked for.
const yearDays = 365

// refill counts the days of rain from a date on until so much has come to the drums, nothing being used.
func (t *trial) refill(m3 float64, from time.Time) Refill {
	r := Refill{M3: m3}
	w := t.a.Winter.House.Scheme
	if w == nil {
		return r
	}
	roofs := w.Roofs()
	for i, day := range t.req.Rain {
		roofs.Day(day)
		if day.Month != from.Month() || day.Day != from.Day() || i+1+yearDays > len(t.req.Rain) {
			continue
		}
		on, came, after := roofs.Copy(), 0.0, math.Inf(1)
		for k, d := range t.req.Rain[i+1 : i+1+yearDays] {
			ran := on.Day(d)
			for c, q := range ran.Off {
				if w.RunsOn(c, plan.DayOf(d.Month, d.Day)) {
					came += q
				}
			}
			if came >= m3 {
				after = float64(k + 1)
				break
			}
		}
		r.Days = append(r.Days, after)
	}
	slices.Sort(r.Days)
	return r
}

// At is the days in which a share of the years has brought it, the quickest first; +Inf where they do not within a year, NaN where no rain is known.
func (r *Refill) At(share float64) float64 {
	if len(r.Days) == 0 {
		return math.NaN()
	}
	return r.Days[min(len(r.Days)-1, int(share*float64(len(r.Days))))]
}
