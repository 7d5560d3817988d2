package winter

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
)

// Two days of invented figures: by night the tubes give, by day they stand or go back.
func TestTubesAreSummedByNightAndDay(t *testing.T) {
	r := &greenhouse.Result{Start: time.Date(2023, 1, 1, 0, 0, 0, 0, time.UTC)}
	tr := greenhouse.TubesTrace{Name: "row"}
	for i := range 48 {
		hour := i % 24
		sun, flow, heat, fan := 0.0, 0.02, 3.6e5, 10.0
		if hour >= 8 && hour < 16 {
			sun, flow, heat, fan = 300, 0, 0, 0
			if hour >= 14 {
				flow, heat = -0.01, -7.2e5
			}
		}
		r.GlobalWM2 = append(r.GlobalWM2, sun)
		tr.FlowM3S, tr.HeatJ, tr.FanWh = append(tr.FlowM3S, flow), append(tr.HeatJ, heat), append(tr.FanWh, fan)
		tr.WaterKg, tr.LossPa = append(tr.WaterKg, 0.25), append(tr.LossPa, float64(i))
	}
	r.Tubes = []greenhouse.TubesTrace{tr}
	got := tubes(r, time.Date(2023, 1, 2, 7, 0, 0, 0, time.UTC))[0]
	want := Tubes{Name: "row", NightM3S: 0.02, DayM3S: 0.0025, StillHours: 12, BackHours: 4, NightJ: 16 * 3.6e5, DayJ: -2 * 7.2e5,
		WorstJ: 16*3.6e5 - 2*7.2e5, WaterKg: 12, FanNightWh: 160, HardestPa: 47}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"night flow", got.NightM3S, want.NightM3S}, {"day flow", got.DayM3S, want.DayM3S}, {"night heat", got.NightJ, want.NightJ}, {"day heat", got.DayJ, want.DayJ},
		{"worst night", got.WorstJ, want.WorstJ}, {"water", got.WaterKg, want.WaterKg}, {"fan", got.FanNightWh, want.FanNightWh}, {"loss", got.HardestPa, want.HardestPa},
		{"still", float64(got.StillHours), float64(want.StillHours)}, {"back", float64(got.BackHours), float64(want.BackHours)}, {"fan by day", got.FanDayWh, 0}} {
		if math.Abs(c.got-c.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}
