package report

import (
	"fmt"

	"suncellar/internal/house"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// tubesLaid tells where buried tubes are to lie, with the cautions that go with their trench and their air.
func (t Teller) tubesLaid(p *page, h *house.House) {
	if len(h.Tubes) == 0 {
		return
	}
	p.head("Buried tubes")
	for i := range h.Tubes {
		row := &h.Tubes[i]
		low := row.Lanes[len(row.Lanes)-1].Z - row.Outer
		p.item(fmt.Sprintf("%s: %s of %s, %s in all, %s wide inside; %s, the lowest %s below grade; from %s to %s", row.Plan.Name, count(row.Plan.Count, "tube"), t.height(row.Plan.Length),
			t.height(float64(row.Plan.Count)*row.Plan.Length), t.depth(row.Plan.Diameter), count(row.Plan.Tiers, "tier"), t.height(-low), t.tubeEnd(h, row.Inlet), t.tubeEnd(h, row.Outlet)))
	}
	for _, c := range winter.TubeCautions(h) {
		p.item(c)
	}
}

func (t Teller) tubeEnd(h *house.House, e house.TubeEnd) string {
	if e.Outdoors {
		return fmt.Sprintf("outdoors, %s above grade", t.height(e.Z))
	}
	if z := e.Z - h.FloorZ; z < 0 {
		return t.height(-z) + " below the floor"
	}
	return t.height(e.Z-h.FloorZ) + " above the floor"
}

// tubes is what buried tubes did, one column a row of them.
func (t Teller) tubes(p *page, a *winter.Answer) {
	if len(a.Tubes) == 0 {
		return
	}
	p.head("Buried tubes")
	heads := []string{""}
	for i := range a.Tubes {
		heads = append(heads, a.Tubes[i].Name)
	}
	tab := newTable(heads)
	line := func(name string, figure func(r *winter.Tubes) string) {
		cells := []string{name}
		for i := range a.Tubes {
			cells = append(cells, figure(&a.Tubes[i]))
		}
		tab.row(cells...)
	}
	line("air by night, mean, "+t.flowUnit(), func(r *winter.Tubes) string { return t.flow(r.NightM3S) })
	line("air by day, mean, "+t.flowUnit(), func(r *winter.Tubes) string { return t.flow(r.DayM3S) })
	line("hours it stood still", func(r *winter.Tubes) string { return fmt.Sprint(r.StillHours) })
	line("hours it went from outlet to inlet", func(r *winter.Tubes) string { return fmt.Sprint(r.BackHours) })
	line("heat to the air, a night, kWh", func(r *winter.Tubes) string { return number(r.NightJ/3.6e6, 1) })
	line("heat to the air, a day, kWh", func(r *winter.Tubes) string { return number(r.DayJ/3.6e6, 1) })
	line("heat to the air, worst night, kWh", func(r *winter.Tubes) string { return number(r.WorstJ/3.6e6, 1) })
	line("water condensed, all, "+t.waterUnit(), func(r *winter.Tubes) string { return t.waterFigure(r.WaterKg / 1000) })
	line("electricity, a night, Wh", func(r *winter.Tubes) string { return number(r.FanNightWh, 0) })
	line("electricity, a day, Wh", func(r *winter.Tubes) string { return number(r.FanDayWh, 0) })
	line("pressure to be overcome, most, Pa", func(r *winter.Tubes) string { return number(r.HardestPa, 1) })
	p.table(tab)
	p.say("Heat to the air is negative where the tubes took heat from it. Night is the hours without sun, day the others; the worst night runs from noon to noon round the lowest.")
}

// flow is a flow of air without its unit [m³/s].
func (t Teller) flow(m3s float64) string { return number(unit.InMain(unit.Flow, m3s, t.System), 0) }

func (t Teller) flowUnit() string { return unit.Main(unit.Flow, t.System) }

// tubesNote is what a changed plan's tubes did, for a comparison.
func (t Teller) tubesNote(r *winter.Tubes) string {
	return fmt.Sprintf("tubes %s: %s %s of air by night, standing for %s; %s kWh to the air a night and %s kWh a day, %s kWh in the worst night of that plan; %s Wh of electricity a night",
		r.Name, t.flow(r.NightM3S), t.flowUnit(), count(r.StillHours, "hour"), number(r.NightJ/3.6e6, 1), number(r.DayJ/3.6e6, 1), number(r.WorstJ/3.6e6, 1), number(r.FanNightWh, 0))
}

// tubesJSON is a row of tubes in an answer.
type tubesJSON struct {
	Name       string  `json:"name"`
	NightM3S   float64 `json:"night_flow_m3s"`
	DayM3S     float64 `json:"day_flow_m3s"`
	StillHours int     `json:"hours_still"`
	BackHours  int     `json:"hours_from_outlet_to_inlet"`
	NightJ     float64 `json:"heat_to_air_night_j"`
	DayJ       float64 `json:"heat_to_air_day_j"`
	WorstJ     float64 `json:"heat_to_air_worst_night_j"`
	WaterKg    float64 `json:"condensed_kg"`
	FanNightWh float64 `json:"fan_night_wh"`
	FanDayWh   float64 `json:"fan_day_wh"`
	HardestPa  float64 `json:"loss_highest_pa"`
}

func tubesAsJSON(list []winter.Tubes) []tubesJSON {
	var out []tubesJSON
	for _, r := range list {
		out = append(out, tubesJSON(r))
	}
	return out
}
