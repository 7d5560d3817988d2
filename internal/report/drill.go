package report

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/drill"
	"suncellar/internal/greenhouse"
)

// Drill tells what a fault costs, and what to do.
func (t Teller) Drill(a *drill.Answer) string {
	p := &page{}
	p.say(fmt.Sprintf("%s, a fault tried on paper: %s", a.Winter.Plan.Name, drillName(a)))
	p.gap()
	for _, s := range t.DrillSentences(a) {
		p.say(s)
	}
	p.head("From " + when(local(a.Winter, a.Begin)) + " to the end of the winter, " + t.degree())
	p.table(t.drillPlaces(a.Places, "planned", "fault"))
	p.say(t.drillNote(a))
	t.drillMended(p, a)
	p.head("What to do, in this order")
	for i, s := range t.DrillSteps(a) {
		p.hang(fmt.Sprintf("%d. ", i+1), s)
	}
	p.head("Before you rely on it")
	for _, c := range t.DrillCautions(a) {
		p.item(c)
	}
	return p.String()
}

// drillNote says how the table of places is read, and what is left of the store.
func (t Teller) drillNote(a *drill.Answer) string {
	return fmt.Sprintf("The reserve of the store is %s kWh at its least, %s kWh as planned. Hours count from the begin of the fault until the place is below its limit: leaves and air %s, water and soil %s; '-' is never.",
		number(a.Reserve[1]/3.6e6, 1), number(a.Reserve[0]/3.6e6, 1), t.temp(a.Winter.LimitC), t.temp(0))
}

// DrillCautions are what to know before a drill is relied on, with what is assumed.
func (t Teller) DrillCautions(a *drill.Answer) []string {
	return append(slices.Clone(a.Cautions), t.drillAssumes(a))
}

// drillName is the fault in a few words.
func drillName(a *drill.Answer) string {
	switch a.Kind {
	case drill.Leak:
		return "a leak at " + a.At
	case drill.DrumFrozen:
		return a.At + " has split by frost"
	case drill.InletOpen:
		return a.At + " stands open to the cold"
	case drill.FlapFrozen:
		return "the flap of the " + a.At + " is frozen ajar"
	case drill.VentStuck:
		return a.At + " stays open"
	case drill.PaneBroken:
		return "a pane of " + a.At + " is gone"
	case drill.CoverOff:
		return "the cover is left off"
	case drill.DoorOpen:
		return a.At + " is left open"
	}
	panic("report: no words for a drill: " + string(a.Kind))
}

// DrillSentences are the fault, what it does to the watched place and to others, what runs out and what a repair is worth.
func (t Teller) DrillSentences(a *drill.Answer) []string {
	list := []string{t.drillSpan(a)}
	if a.Leak != nil {
		list = append(list, t.leakSentence(a), t.valvesSentence(a))
	}
	list = append(list, t.drillWatched(a), t.drillOthers(a))
	if a.Leak != nil {
		list = append(list, t.mendSentence(a), t.againSentence("What runs out", &a.Leak.Again))
	}
	var told []string
	for _, s := range list {
		if s != "" {
			told = append(told, s)
		}
	}
	return told
}

func (t Teller) drillSpan(a *drill.Answer) string {
	begin := when(local(a.Winter, a.Begin))
	if a.Forever {
		return fmt.Sprintf("%s from %s on, to the end of the winter that is run.", upper(drillName(a)), begin)
	}
	return fmt.Sprintf("%s from %s to %s.", upper(drillName(a)), begin, when(local(a.Winter, a.End)))
}

func (t Teller) leakSentence(a *drill.Answer) string {
	l := a.Leak
	s := fmt.Sprintf("%s of water run out, and %s kWh above freezing with them, %s", t.water(l.M3), number(l.HeatJ/3.6e6, 1), goesTo(l.To))
	if l.DrainH >= 0 {
		return s + fmt.Sprintf("; nine tenths of it within %s by a hole of %s.", daysHours(l.DrainH), t.bore(a.HoleM))
	}
	return s + fmt.Sprintf("; by a hole of %s not all of it before the winter's end.", t.bore(a.HoleM))
}

func goesTo(to string) string {
	switch to {
	case "soil":
		return "into the ground under what the drums stand on, which it softens: a footing there can settle"
	case "floor":
		return "over the floor"
	case "cold sink":
		return "into the cold sink"
	}
	return "outside"
}

// valvesSentence is what the valves would save.
func (t Teller) valvesSentence(a *drill.Answer) string {
	l := a.Leak
	switch {
	case l.Falls == nil:
		return ""
	case l.M3-l.Held.M3 > 1e-3:
		return fmt.Sprintf("With the valves of the plan shut in time %s of it would be lost, and %s saved.", t.water(l.Held.M3), t.water(l.M3-l.Held.M3))
	}
	return "No valve of the plan would save any of it: the table of joints tells where one would be worth most."
}

func (t Teller) drillWatched(a *drill.Answer) string {
	name := a.Winter.Places[a.Winter.Watched].Name
	for i := range a.Places {
		if p := &a.Places[i]; p.Name == name {
			return fmt.Sprintf("%s: %s at the lowest, %s as planned; %s, %s as planned.", upper(p.Name), t.temp(p.LowestC[1]), t.temp(p.LowestC[0]), t.untilWords(p.UntilH[1], p.LimitC), t.untilWords(p.UntilH[0], p.LimitC))
		}
	}
	return ""
}

func (t Teller) untilWords(h, limitC float64) string {
	limit := t.temp(limitC)
	if limitC == 0 {
		limit = "freezing"
	}
	switch {
	case h < 0:
		return "not below " + limit
	case h == 0:
		return "below " + limit + " at once"
	}
	return "below " + limit + " after " + daysHours(h)
}

// drillOthers counts the places that the fault brings below their limit.
func (t Teller) drillOthers(a *drill.Answer) string {
	more, drums := 0, 0
	for i := range a.Places {
		if p := &a.Places[i]; p.UntilH[0] < 0 && p.UntilH[1] >= 0 {
			more++
			if p.Kind == greenhouse.WaterPlace {
				drums++
			}
		}
	}
	s := ""
	switch {
	case more == 1:
		s = "One place falls below its limit that would not without the fault."
	case more > 1:
		s = fmt.Sprintf("%d places fall below their limit that would not without the fault.", more)
	}
	if drums > 0 {
		s += " Water in the drums freezes: they can split."
	}
	return s
}

// mendSentence is what the repair is worth.
func (t Teller) mendSentence(a *drill.Answer) string {
	m := a.Leak.Mend
	if m == nil {
		return ""
	}
	s := fmt.Sprintf("Seen on %s, when %s are gone: the valves that are shut keep %s, and %s have to be let out for the repair", when(local(a.Winter, m.SeenAt)), t.water(m.GoneM3), t.water(m.KeptM3), t.water(m.DrainM3))
	if m.SavedM3 > 1e-4 {
		s += fmt.Sprintf(", of which %s find room in other vessels", t.water(m.SavedM3))
	}
	if m.LetOutH > 0 {
		s += fmt.Sprintf("; by the bore of the pipe that takes %s", minutes(m.LetOutH))
	}
	s += ". " + t.setSentence(a, m)
	worst, by := "", math.Inf(-1)
	for i := range m.Places {
		p := &m.Places[i]
		if p.Kind != greenhouse.LeafPlace && p.Kind != greenhouse.AirPlace {
			continue
		}
		if d := p.LowestC[1] - p.LowestC[0]; math.Abs(d) > by {
			worst, by = fmt.Sprintf("%s is at %s at the lowest if it is mended then, at %s if it is ridden out", p.Name, t.temp(p.LowestC[1]), t.temp(p.LowestC[0])), math.Abs(d)
		}
	}
	switch {
	case by < 0.05:
		s += " Mended then or ridden out, no place differs by a tenth of a degree at its lowest: mend it in milder days."
	default:
		s += " " + upper(worst) + "."
	}
	return s
}

func (t Teller) setSentence(a *drill.Answer, m *drill.Mend) string {
	if math.IsInf(m.SetH, 1) {
		return fmt.Sprintf("Glue does not set there then: the air at the joint falls to %s. Stop it with a clamp or a plug, and glue it when it is warmer, or warm the place with hot-water jugs.", t.temp(m.SetC))
	}
	return fmt.Sprintf("Glue takes about %s hours to set there (air at the joint not below %s; own judgement), so that it holds water from %s on.", number(m.SetH, 0), t.temp(m.SetC), when(local(a.Winter, m.MendedAt)))
}

// againSentence is how long the rain takes to bring a volume at that season, "" where nothing is to be brought.
func (t Teller) againSentence(what string, r *drill.Refill) string {
	if len(r.Days) == 0 || r.M3 <= 1e-3 {
		return ""
	}
	day := func(v float64) string {
		if math.IsInf(v, 1) {
			return "more than a year"
		}
		return count(int(v), "day")
	}
	return fmt.Sprintf("%s, %s, the rain of that season brings again in %s in the middle of %s, in one year of ten in %s or less, in one of ten in %s or more, nothing being used meanwhile.",
		what, t.water(r.M3), day(r.At(0.5)), count(len(r.Days), "year"), day(r.At(0.1)), day(r.At(0.9)))
}

// drillPlaces is the table of places.
func (t Teller) drillPlaces(list []drill.Place, without, with string) *table {
	tab := newTable([]string{"", "lowest", "", "below after", "", "hours below", ""}, []string{"", without, with, without, with, without, with})
	for i := range list {
		tab.row(t.drillRow(&list[i])...)
	}
	return tab
}

// drillRow is a place: lowest, hours until it is below its limit, hours below it, each without and with.
func (t Teller) drillRow(p *drill.Place) []string {
	hours := func(h float64) string {
		if h < 0 {
			return "-"
		}
		return number(math.Floor(h), 0) + " h"
	}
	return []string{p.Name, t.lowestOf(p, 0), t.lowestOf(p, 1), hours(p.UntilH[0]), hours(p.UntilH[1]), number(float64(p.BelowH[0]), 0), number(float64(p.BelowH[1]), 0)}
}

// lowestOf is the lowest of a place, "dry" where no water is left in it.
func (t Teller) lowestOf(p *drill.Place, k int) string {
	if math.IsInf(p.LowestC[k], 1) {
		return "dry"
	}
	return t.figure(p.LowestC[k])
}

// drillMended compares the leak ridden out with the leak mended.
func (t Teller) drillMended(p *page, a *drill.Answer) {
	if a.Leak == nil || a.Leak.Mend == nil {
		return
	}
	m := a.Leak.Mend
	p.head("Ridden out, or seen and mended, " + t.degree())
	p.table(t.drillPlaces(m.Places, "ridden", "mended"))
	for _, s := range t.mendedSentences(m) {
		p.say(s)
	}
}

// mendedSentences are what is left of the store if a leak is mended, and when the rain brings what is missing then.
func (t Teller) mendedSentences(m *drill.Mend) []string {
	list := []string{fmt.Sprintf("The reserve is %s kWh at its least if it is mended, %s kWh if it is ridden out.", number(m.Reserve[1]/3.6e6, 1), number(m.Reserve[0]/3.6e6, 1))}
	if s := t.againSentence("What is missing when it is mended", &m.Again); s != "" {
		list = append(list, s)
	}
	return list
}

// bore is a small diameter.
func (t Teller) bore(m float64) string { return number(m*1000, 0) + " mm" }

// minutes is a time of hours that may be short.
func minutes(h float64) string {
	if h < 2 {
		return fmt.Sprintf("about %s minutes", number(math.Max(1, math.Ceil(h*60)), 0))
	}
	return fmt.Sprintf("about %s hours", number(h, 0))
}
