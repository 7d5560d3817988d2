package report

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"

	"suncellar/internal/plan"
	"suncellar/internal/water"
)

// What a page shows of a plan's water by itself.

// WaterPair is a value under its name.
type WaterPair struct{ Name, Told string }

// WaterFound is a finding in words.
type WaterFound struct {
	Text, Hint, Path string
	Line             int
	Stops            bool
}

// WaterFindings are the findings, in the order of their numbers on the scheme.
func (t Teller) WaterFindings(a *water.Answer) []WaterFound {
	var list []WaterFound
	for i := range a.Findings {
		f := &a.Findings[i]
		list = append(list, WaterFound{t.waterFinding(a, f), waterHint(f), f.Path, f.Line, f.Stops})
	}
	return list
}

// WaterRuns is the first sentence: whether the water runs by gravity.
func (t Teller) WaterRuns(a *water.Answer) string { return t.runsSentence(a) }

// WaterNumbers are levels, what can be used, time to fill, and what presses at the drippers.
func (t Teller) WaterNumbers(a *water.Answer) []WaterPair {
	l := &a.Levels
	if len(a.Scheme.Fed) == 0 {
		return []WaterPair{{"Water in the drums", "none: no drum is fed"}}
	}
	lowest := "Used by the drip lines down to"
	if l.ByCan {
		lowest = "Used by can, at the tap, down to"
	}
	list := []WaterPair{{"Full, the water stands", t.grade(l.FullZ)}, {lowest, t.grade(l.LowestZ)}, {"In the drums when full", t.water(l.FullM3)}, {"Of it for use", t.water(max(0, l.UsableM3))}}
	for _, k := range a.Plan.Water.Keep {
		stands := t.grade(a.KeptZ(k.Volume))
		if k.Volume > l.FullM3 {
			stands = "which is more than the drums hold"
		}
		list = append(list, WaterPair{fmt.Sprintf("Kept from %s until %s", dayWords(k.From.Month, k.From.Day), dayWords(k.Until.Month, k.Until.Day)), t.water(k.Volume) + ", " + stands})
	}
	fills := "no rain comes in"
	if !math.IsInf(a.Fill.FillS, 1) {
		fills = t.fillTime(a.Fill.FillS)
	}
	list = append(list, WaterPair{"Empty to full in a rain of " + t.rainRate(a.RainMS), fills})
	return append(list, t.dripNumbers(a)...)
}

// dayWords is a day of any year.
func dayWords(month, day int) string { return fmt.Sprintf("%d %s", day, time.Month(month)) }

// dripNumbers are, of each drip line, what presses at its last emitter and how even it is, from full to nearly empty.
func (t Teller) dripNumbers(a *water.Answer) []WaterPair {
	if len(a.Drips) == 0 {
		return nil
	}
	first, last := &a.Drips[0], &a.Drips[len(a.Drips)-1]
	var list []WaterPair
	for i, line := range first.Lines {
		end := last.Lines[i]
		list = append(list,
			WaterPair{"Head at the drippers of " + line.Name, fmt.Sprintf("%s %s, %s %s", t.depth(line.Heads[len(line.Heads)-1]), first.Name, t.depth(end.Heads[len(end.Heads)-1]), last.Name)},
			WaterPair{"Evenness of " + line.Name, fmt.Sprintf("%s %% %s, %s %% %s", number(100*line.Evenness, 0), first.Name, number(100*end.Evenness, 0), last.Name)})
	}
	return list
}

// WaterTables are which rain is too much for what, and each drip line over the height of the water.
func (t Teller) WaterTables(a *water.Answer) []Table {
	list := []Table{t.limitsTable(a)}
	if len(a.Drips) == 0 {
		return list
	}
	for i, line := range a.Drips[0].Lines {
		tab := Table{Title: "Drip line: " + line.Name, Heads: []string{"Drums", "water stands", "head at first", "head at last", "all together", "evenness", "dry"},
			Note: "All lines that are open at once. Evenness is the emission uniformity of Keller and Karmeli (1974): from 90 % good, from 80 % fair, below 70 % poor (classes from memory)."}
		tab.File, tab.SI = fileName("drip-line", line.Name), [][]string{{"drums", "water stands above grade [m]", "head at first [m]", "head at last [m]", "all together [m3/s]", "evenness", "dry emitters of one line"}}
		for _, s := range a.Drips {
			l := s.Lines[i]
			tab.SI = append(tab.SI, []string{s.Name, figureSI(s.Z), figureSI(l.Heads[0]), figureSI(l.Heads[len(l.Heads)-1]), figureSI(l.FlowM3S), figureSI(l.Evenness), fmt.Sprint(l.Dry)})
			tab.Rows = append(tab.Rows, []string{s.Name, t.grade(s.Z), t.depth(l.Heads[0]), t.depth(l.Heads[len(l.Heads)-1]), t.waterFlow(l.FlowM3S, 1), number(100*l.Evenness, 0) + " %", dryOf(l)})
		}
		list = append(list, tab)
	}
	return list
}

// limitsTable is which rain is too much for which part, the least first.
func (t Teller) limitsTable(a *water.Answer) Table {
	tab := Table{Title: "Which rain is too much for what", Heads: []string{"Where it runs over", "from rain of", "at a flow of"},
		Note: "Gutters by EN 12056-3, from memory; pipes by Darcy and Weisbach with Colebrook's friction, full of water and clean. A leaf in the outlet makes all of this smaller."}
	tab.File, tab.SI = "rain-too-much.csv", [][]string{{"where it runs over", "from rain of [m/s]", "at a flow of [m3/s]"}}
	for _, l := range a.Fill.Limits {
		tab.SI = append(tab.SI, []string{partWords(l), figureSI(l.RainMS), figureSI(l.FlowM3S)})
		rain := t.rainRate(l.RainMS)
		if l.RainMS*3600 > beyondRain {
			rain = "no rain known"
		}
		tab.Rows = append(tab.Rows, []string{partWords(l), rain, t.waterFlow(l.FlowM3S, 0)})
	}
	return tab
}

// WaterYears tells of the years of rain: a sentence, months and the number of drums; why not, where no rain is known.
func (t Teller) WaterYears(a *water.Answer) (sentence string, tables []Table) {
	b := a.Rain
	if b == nil {
		return "No years of rain are told: " + a.NoRain + ".", nil
	}
	months := Table{Title: "Months, in the mean of the years", Heads: []string{"Month", "caught", "used", "wanted", "spilled", "days short", "lowest of all years"},
		Note: upper(b.Source) + ". Of what is caught the first flush is taken off. Water is used before that of the day comes in, which gives the lower reliability."}
	if len(a.Plan.Water.Keep) > 0 {
		months.Heads = append(months.Heads, "kept")
	}
	months.File, months.SI = "water-months.csv", [][]string{{"month", "caught [m3]", "used [m3]", "wanted [m3]", "spilled [m3]", "days short", "lowest of all years [m3]", "kept [m3]"}}
	for m := range b.Months {
		of := &b.Months[m]
		months.SI = append(months.SI, []string{fmt.Sprint(m + 1), figureSI(of.Caught), figureSI(of.Given), figureSI(of.Wanted), figureSI(of.Spilled), figureSI(of.DaysShort), figureSI(of.Lowest), figureSI(keptIn(a, m+1))})
		row := []string{time.Month(m + 1).String(), t.water(of.Caught), t.water(of.Given), t.water(of.Wanted), t.water(of.Spilled), number(of.DaysShort, 1), t.water(of.Lowest)}
		if len(a.Plan.Water.Keep) > 0 {
			row = append(row, t.keptWords(keptIn(a, m+1)))
		}
		months.Rows = append(months.Rows, row)
	}
	tables = append(tables, months)
	if len(b.Curve) > 0 {
		curve := Table{Title: "How many drums", Heads: []string{"Drums", "reliability", "given a year", "spilled a year"}, Note: "Drums as they stand in the plan, more or fewer of them; water kept by date is as many litres for all."}
		curve.File, curve.SI = "how-many-drums.csv", [][]string{{"drums", "reliability", "given a year [m3]", "spilled a year [m3]"}}
		for _, c := range b.Curve {
			curve.SI = append(curve.SI, []string{fmt.Sprint(c.Drums), figureSI(c.Reliability), figureSI(c.Given), figureSI(c.Spilled)})
			name := fmt.Sprint(c.Drums)
			if c.Drums == b.Drums {
				name += " (the plan)"
			}
			curve.Rows = append(curve.Rows, []string{name, share(c.Reliability) + " %", t.water(c.Given), t.water(c.Spilled)})
		}
		tables = append(tables, curve)
	}
	return t.yearsSentence(a), tables
}

// keptIn is the most that is kept on a day of a month [m³].
func keptIn(a *water.Answer, month int) float64 {
	most := 0.0
	for _, k := range a.Plan.Water.Keep {
		for day := 1; day <= 31; day++ {
			if (plan.Date{Month: month, Day: day}).Between(k.From, k.Until) {
				most = max(most, k.Volume)
			}
		}
	}
	return most
}

// keptWords is what is kept, "" for nothing.
func (t Teller) keptWords(m3 float64) string {
	if m3 == 0 {
		return ""
	}
	return t.water(m3)
}

// fileName is the name of a table's file, with that of a part of the plan in letters that every file system takes.
func fileName(of, name string) string {
	plain := strings.Map(func(r rune) rune {
		if r < 128 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return unicode.ToLower(r)
		}
		return '-'
	}, name)
	return of + "-" + plain + ".csv"
}
