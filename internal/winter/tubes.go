package winter

import (
	"math"
	"time"

	"suncellar/internal/greenhouse"
)

// Tubes is what a row of buried tubes did in the hours that count. Night is the hours without any sun, a night's worth of a figure its
// sum over them by the number of days.
type Tubes struct {
	Name       string
	NightM3S   float64 // air through all its tubes, mean of the hours of night, whichever way [m³/s]
	DayM3S     float64
	StillHours int     // hours in which no air moved
	BackHours  int     // hours in which it went from outlet to inlet
	NightJ     float64 // heat that the air took up, a night; negative: gave off
	DayJ       float64 // the same, a day
	WorstJ     float64 // the same in the noon-to-noon night round the lowest of the watched place
	WaterKg    float64 // that condensed in them, in all
	FanNightWh float64 // electricity, a night
	FanDayWh   float64
	HardestPa  float64 // greatest loss of pressure, which a fan has to give
}

// stillM3S is the flow below which air is told to stand [m³/s]: a litre in ten minutes.
const stillM3S = 1e-3 / 600

// tubes sums up all rows of a run.
func tubes(r *greenhouse.Result, lowest time.Time) []Tubes {
	var list []Tubes
	from, until := nightRound(lowest)
	for k := range r.Tubes {
		tr := &r.Tubes[k]
		t := Tubes{Name: tr.Name}
		nights, days := 0.0, 0.0
		for i, q := range tr.FlowM3S {
			size := math.Abs(q)
			switch {
			case size < stillM3S:
				t.StillHours++
			case q < 0:
				t.BackHours++
			}
			if r.GlobalWM2[i] <= 0 {
				nights++
				t.NightM3S += size
				t.NightJ += tr.HeatJ[i]
				t.FanNightWh += tr.FanWh[i]
			} else {
				days++
				t.DayM3S += size
				t.DayJ += tr.HeatJ[i]
				t.FanDayWh += tr.FanWh[i]
			}
			if at := r.Time(i); at.After(from) && !at.After(until) {
				t.WorstJ += tr.HeatJ[i]
			}
			t.WaterKg += tr.WaterKg[i]
			t.HardestPa = math.Max(t.HardestPa, tr.LossPa[i])
		}
		t.NightM3S /= math.Max(1, nights)
		t.DayM3S /= math.Max(1, days)
		whole := math.Max(1, float64(r.Hours())/24)
		for _, sum := range []*float64{&t.NightJ, &t.DayJ, &t.FanNightWh, &t.FanDayWh} {
			*sum /= whole
		}
		list = append(list, t)
	}
	return list
}

// nightRound is the noons before and after an instant; noon itself ends a night.
func nightRound(t time.Time) (from, until time.Time) {
	until = time.Date(t.Year(), t.Month(), t.Day(), 12, 0, 0, 0, t.Location())
	if t.After(until) {
		until = until.AddDate(0, 0, 1)
	}
	return until.AddDate(0, 0, -1), until
}
