package greenhouse

import "suncellar/internal/thermal"

// TubesTrace is what one row of buried tubes did, by hour.
type TubesTrace struct {
	Name    string
	FlowM3S []float64 // through all its tubes, from inlet to outlet positive, mean of the hour; as air of the start's temperature
	HeatJ   []float64 // that the air took up in them, without that of vapour; negative: gave off
	WaterKg []float64 // that condensed in them
	FanWh   []float64
	LossPa  []float64 // of friction and fittings, greatest in the hour
}

func (t *tubes) record(r *TubesTrace) {
	flows := t.g.Net.Flows()
	heat := -flows[t.soil].HourJ
	if t.wet >= 0 {
		heat += flows[t.wet].HourJ
	}
	watt := 0.0
	if t.fan {
		watt = t.row.Plan.Fan.Power
	}
	r.FlowM3S = append(r.FlowM3S, t.moved.airM3/thermal.HourS)
	r.HeatJ = append(r.HeatJ, heat)
	r.WaterKg = append(r.WaterKg, t.moved.waterKg)
	r.FanWh = append(r.FanWh, watt)
	r.LossPa = append(r.LossPa, t.moved.lossPa)
}
