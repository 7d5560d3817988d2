package report

import (
	"fmt"
	"strings"

	"suncellar/internal/winter"
)

// heat tells how hot the house became, where anything passed 30 °C.
func (t Teller) heat(p *page, a *winter.Answer) {
	h := &a.Heat
	if !h.Overheats() {
		return
	}
	p.head("Heat")
	warm, hot := strings.TrimSuffix(t.figure(winter.WarmC), ".0"), strings.TrimSuffix(t.figure(winter.HotC), ".0")
	tab := newTable([]string{"", "highest", "", "above " + warm, "", "above " + hot, ""}, []string{"", t.degree(), "at", "hours", t.degree() + " h", "hours", t.degree() + " h"})
	for i := range h.Places {
		k := &h.Places[i]
		tab.row(k.Name, t.figure(k.C), shortDay(local(a, k.At)), number(float64(k.HoursWarm), 0), t.degreeHours(k.KhWarm), number(float64(k.HoursHot), 0), t.degreeHours(k.KhHot))
	}
	p.table(tab)
	s := fmt.Sprintf("Hottest day: %s, air inside up to %s, outdoors up to %s.", local(a, h.Day).Format("2 January"), t.temp(h.AirC), t.temp(h.OutdoorC))
	if h.Water != nil {
		s += fmt.Sprintf(" Warmest water: %s, %s.", t.temp(h.Water.C), h.Water.Name)
	}
	if h.Soil != nil {
		s += fmt.Sprintf(" Warmest bed soil: %s, %s.", t.temp(h.Soil.C), h.Soil.Name)
	}
	p.say(s)
}

type heatPeaksJSON struct {
	HottestDay   string       `json:"hottest_day"`
	AirC         float64      `json:"air_highest_c"`
	OutdoorC     *float64     `json:"outdoor_highest_that_day_c,omitempty"`
	WarmC        float64      `json:"warm_above_c"`
	HotC         float64      `json:"hot_above_c"`
	Places       []hotJSON    `json:"places"`
	WarmestWater *highestJSON `json:"water,omitempty"`
	WarmestSoil  *highestJSON `json:"soil,omitempty"`
}

type hotJSON struct {
	Name      string  `json:"name"`
	Kind      string  `json:"kind"`
	HighestC  float64 `json:"highest_c"`
	HighestAt string  `json:"highest_at"`
	HoursWarm int     `json:"hours_warm"`
	KhWarm    float64 `json:"degree_hours_warm_kh"`
	HoursHot  int     `json:"hours_hot"`
	KhHot     float64 `json:"degree_hours_hot_kh"`
}

type highestJSON struct {
	Name      string  `json:"name"`
	HighestC  float64 `json:"highest_c"`
	HighestAt string  `json:"highest_at"`
}

func heatAsJSON(a *winter.Answer) heatPeaksJSON {
	h := &a.Heat
	out := heatPeaksJSON{HottestDay: local(a, h.Day).Format("2006-01-02"), AirC: h.AirC, OutdoorC: finite(h.OutdoorC), WarmC: winter.WarmC, HotC: winter.HotC, Places: []hotJSON{}}
	for i := range h.Places {
		k := &h.Places[i]
		out.Places = append(out.Places, hotJSON{k.Name, string(k.Kind), k.C, stamp(local(a, k.At)), k.HoursWarm, k.KhWarm, k.HoursHot, k.KhHot})
	}
	highest := func(p *winter.Peak) *highestJSON {
		if p == nil {
			return nil
		}
		return &highestJSON{p.Name, p.C, stamp(local(a, p.At))}
	}
	out.WarmestWater, out.WarmestSoil = highest(h.Water), highest(h.Soil)
	return out
}
