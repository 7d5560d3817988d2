package report

import (
	"math"

	"suncellar/internal/water"
)

// WaterNumbersCSV is what WaterNumbers tells, as a file in SI.
func WaterNumbersCSV(a *water.Answer) string {
	l := &a.Levels
	rows := [][]string{{"what", "value", "unit"}}
	add := func(what string, v float64, unit string) {
		if !math.IsInf(v, 0) && !math.IsNaN(v) {
			rows = append(rows, []string{what, figureSI(v), unit})
		}
	}
	const above = "m above grade"
	if len(a.Scheme.Fed) > 0 {
		add("full, the water stands", l.FullZ, above)
		add("used down to", l.LowestZ, above)
		add("in the drums when full", l.FullM3, "m3")
		add("of it for use", max(0, l.UsableM3), "m3")
	}
	for _, k := range a.Plan.Water.Keep {
		days := " from " + dayWords(k.From.Month, k.From.Day) + " until " + dayWords(k.Until.Month, k.Until.Day)
		add("kept"+days, k.Volume, "m3")
		if k.Volume <= l.FullM3 {
			add("kept, the water stands"+days, a.KeptZ(k.Volume), above)
		}
	}
	add("rain", a.RainMS, "m/s")
	add("empty to full in it", a.Fill.FillS, "s")
	for _, s := range a.Drips {
		for _, line := range s.Lines {
			add("head at the last dripper of "+line.Name+", drums "+s.Name, line.Heads[len(line.Heads)-1], "m")
			add("evenness of "+line.Name+", drums "+s.Name, line.Evenness, "")
		}
	}
	return csvOf(rows)
}

// ValvesCSV is every valve and how it stands, as a file.
func ValvesCSV(a *water.Answer) string {
	rows := [][]string{{"valve", "path", "stands"}}
	for _, v := range a.Scheme.Valves {
		stands := "open"
		if v.Shut {
			stands = "shut"
		}
		rows = append(rows, []string{v.Name, v.Path, stands})
	}
	return csvOf(rows)
}
