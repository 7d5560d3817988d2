package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/thirst"
	"suncellar/internal/unit"
)

// Thirst tells to people what the beds of a winter need to drink.
func (t Teller) Thirst(a *thirst.Answer) string {
	p := &page{}
	p.say(a.Winter.Plan.Name + ", what the beds drink, " + span(a.Winter))
	p.gap()
	for _, s := range t.ThirstSentences(a) {
		p.say(s)
	}
	t.waterings(p, a)
	for i := range a.Beds {
		t.bedMonths(p, &a.Beds[i])
	}
	p.say("Booked: what the winter itself took from leaves and soil as vapour.")
	p.head("Before you water")
	for _, c := range a.Cautions {
		p.item(c)
	}
	t.crops(p, a)
	p.head("What this rests on")
	for _, c := range a.Choices {
		p.item(c.Item + ": " + c.How)
	}
	t.assumed(p, a.Assumed)
	return p.String()
}

// ThirstSentences tell how often to water, how much is needed and by which of two reckonings, the first watering, what the plan draws, and want where there is any.
func (t Teller) ThirstSentences(a *thirst.Answer) []string {
	list := []string{t.howOften(a), t.howMuch(a)}
	if w, b := firstWatering(a); w != nil {
		list = append(list, fmt.Sprintf("First of all: %s on %s, %s (%s).", b.Name, w.Begin.Format("2 January"), t.water(w.Litres/1000), t.film(w.MM)))
	}
	if drawn := a.PlannedL(); drawn > 0 {
		s := fmt.Sprintf("The plan draws %s for the beds, which is counted.", t.water(drawn/1000))
		for i := range a.Beds {
			if b := &a.Beds[i]; b.DrainedMM >= 0.5 {
				s += fmt.Sprintf(" Of what goes onto %s %s finds no room in the soil of its roots and drains.", within(b.Name), t.water(b.DrainedMM*b.AreaM2/1000))
			}
		}
		list = append(list, s)
	}
	for i := range a.Beds {
		if s := t.want(&a.Beds[i]); s != "" {
			list = append(list, s)
		}
	}
	return list
}

// howOften is the answer in words.
func (t Teller) howOften(a *thirst.Answer) string {
	least, most := len(a.Beds[0].Waterings), 0
	for i := range a.Beds {
		least, most = min(least, len(a.Beds[i].Waterings)), max(most, len(a.Beds[i].Waterings))
	}
	beside := ""
	if a.PlannedL() > 0 {
		beside = " beside what the plan draws"
	}
	switch {
	case most == 0:
		return fmt.Sprintf("No bed asks for water in these %s%s, if its soil is full on the first day.", count(a.Days, "day"), beside)
	case least == most:
		return fmt.Sprintf("Water each bed %s in these %s%s, if its soil is full on the first day.", times(most), count(a.Days, "day"), beside)
	}
	return fmt.Sprintf("Water the beds %d to %s in these %s%s, each as its soil dries, if it is full on the first day.", least, times(most), count(a.Days, "day"), beside)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// howMuch is the need, and how sure it is. The greater of both reckonings is what a store has to be able to give.
func (t Teller) howMuch(a *thirst.Answer) string {
	area := 0.0
	for i := range a.Beds {
		area += a.Beds[i].AreaM2
	}
	need, booked := a.NeedL(), a.Booked.L()
	s := fmt.Sprintf("Their need is about %s, %s a day on the mean, by FAO paper 56 in the air and light of this one winter; the winter's own leaves and soil gave off about %s.",
		t.about(need), t.film(need/area/float64(a.Days)), t.about(booked))
	return s + fmt.Sprintf(" Nobody has measured which is nearer: let roof and store be able to give %s, and water by the soil.", t.about(max(need, booked)))
}

// about is an amount of water to two digits, since no more of it is known [L].
func (t Teller) about(litres float64) string {
	v := unit.InMain(unit.Volume, litres/1000, t.System)
	if t.System != unit.US {
		v = litres
	}
	if v <= 0 {
		return t.water(0)
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return t.water(litres / 1000 * math.Round(v/step) * step / v)
}

func firstWatering(a *thirst.Answer) (first *thirst.Watering, of *thirst.Bed) {
	for i := range a.Beds {
		if b := &a.Beds[i]; len(b.Waterings) > 0 && (first == nil || b.Waterings[0].Begin.Before(first.Begin)) {
			first, of = &b.Waterings[0], b
		}
	}
	return first, of
}

// want tells of a bed that gets less than it needs, since its soil is frozen; "" where none does.
func (t Teller) want(b *thirst.Bed) string {
	short := b.NeedMM - b.LostMM
	if short < 0.05 {
		return ""
	}
	return fmt.Sprintf("%s lacks %s of its need while its soil is frozen: it cannot be watered then, and plants in it wilt in the sun.", upper(b.Name), t.film(short))
}

// film is a depth of water: millimetres, or hundredths of an inch.
func (t Teller) film(mm float64) string {
	if t.System == unit.US {
		return t.filmFigure(mm) + " in"
	}
	return t.filmFigure(mm) + " mm"
}

func (t Teller) filmFigure(mm float64) string {
	if t.System == unit.US {
		return number(mm/25.4, 2)
	}
	if mm < 10 {
		return number(mm, 1)
	}
	return number(mm, 0)
}

func (t Teller) filmUnit() string {
	if t.System == unit.US {
		return "in"
	}
	return "mm"
}

// dated is a watering with its bed.
type dated struct {
	*thirst.Watering
	bed string
}

// inOrder are all waterings by date.
func inOrder(a *thirst.Answer) []dated {
	var list []dated
	for i := range a.Beds {
		for k := range a.Beds[i].Waterings {
			list = append(list, dated{&a.Beds[i].Waterings[k], a.Beds[i].Name})
		}
	}
	slices.SortStableFunc(list, func(x, y dated) int { return cmp.Compare(x.Begin.Unix(), y.Begin.Unix()) })
	return list
}

// waterings is the table of dates.
func (t Teller) waterings(p *page, a *thirst.Answer) {
	list := inOrder(a)
	if len(list) == 0 {
		return
	}
	p.head("When to water, and how much")
	tab := newTable([]string{"morning of", "bed", "water", "that is", "soil at 5 cm", ""})
	tab.left[1], tab.left[5] = true, true
	for _, w := range list {
		note := ""
		if w.LateD > 0 {
			note = count(w.LateD, "day") + " late: frozen soil"
		}
		tab.row(w.Begin.Format("2 January"), w.bed, t.water(w.Litres/1000), t.film(w.MM), t.temp(w.SoilC), note)
	}
	p.table(tab)
	p.say("Up to field capacity, over the whole bed, without loss on the way. Soil is the lowest of the day.")
}

// thirstMonth is a bed's calendar month.
type thirstMonth struct {
	begin                time.Time
	days                 int
	airC, mol            float64 // means of the days
	needMM, wateredMM    float64
	bookedL              float64
	plannedMM, lacksMost float64
}

func monthsOfBed(b *thirst.Bed) []thirstMonth {
	var list []thirstMonth
	for i := range b.Days {
		d := &b.Days[i]
		if len(list) == 0 || list[len(list)-1].begin.Month() != d.Begin.Month() {
			list = append(list, thirstMonth{begin: d.Begin})
		}
		m := &list[len(list)-1]
		m.days++
		m.airC, m.mol, m.needMM, m.bookedL = m.airC+d.AirC, m.mol+d.LightMol, m.needMM+d.NeedMM, m.bookedL+d.Booked.L()
		m.wateredMM, m.plannedMM, m.lacksMost = m.wateredMM+d.WateredMM, m.plannedMM+d.PlannedMM, max(m.lacksMost, d.LacksMM)
	}
	for i := range list {
		m := &list[i]
		n := float64(m.days)
		m.airC, m.mol = m.airC/n, m.mol/n
	}
	return list
}

// bedMonths is a bed's table of months: the need, and beside it what the winter itself booked as vapour of leaves and soil; what the plan draws has a column where there is any.
func (t Teller) bedMonths(p *page, b *thirst.Bed) {
	p.head(upper(b.Name) + ", " + t.area(b.AreaM2))
	row := func(name string, m *thirstMonth, mean ...string) []string {
		cells := append([]string{name, number(float64(m.days), 0)}, mean...)
		cells = append(cells, t.filmFigure(m.needMM), t.water(m.needMM*b.AreaM2/1000), t.water(m.bookedL/1000))
		if b.PlannedMM > 0 {
			cells = append(cells, t.some(m.plannedMM*b.AreaM2))
		}
		return append(cells, t.some(m.wateredMM*b.AreaM2), t.filmFigure(m.lacksMost))
	}
	high, low := []string{"", "", "air,", "light", "need", "need", "booked", "to be", "lacking"}, []string{"", "days", "mean", "mol/m²d", t.filmUnit(), "", "", "given", "most, " + t.filmUnit()}
	if b.PlannedMM > 0 {
		high, low = slices.Insert(high, 7, "drawn by"), slices.Insert(low, 7, "the plan")
	}
	tab, total := newTable(high, low), thirstMonth{}
	months := monthsOfBed(b)
	for i := range months {
		m := &months[i]
		tab.row(row(m.begin.Format("January"), m, t.figure(m.airC), number(m.mol, 1))...)
		total.days, total.needMM, total.bookedL = total.days+m.days, total.needMM+m.needMM, total.bookedL+m.bookedL
		total.wateredMM, total.plannedMM, total.lacksMost = total.wateredMM+m.wateredMM, total.plannedMM+m.plannedMM, max(total.lacksMost, m.lacksMost)
	}
	tab.sum(row("in all", &total, "", "")...)
	p.table(tab)
}

// crops tells what each bed was taken for.
func (t Teller) crops(p *page, a *thirst.Answer) {
	p.head("What grows, in what soil")
	for i := range a.Beds {
		p.item(t.crop(&a.Beds[i]))
	}
}

func (t Teller) crop(b *thirst.Bed) string {
	c := &b.Crop
	s := fmt.Sprintf("%s: %s", b.Name, c.Name)
	if c.As != "" {
		s += " (figures of " + c.As + ")"
	}
	if b.Sown != nil {
		s += fmt.Sprintf(", sown %s, crop coefficient %s, then %s, then %s", b.Sown.Format("2 January"), number(c.Ini, 2), number(c.Mid, 2), number(c.End, 2))
	} else {
		s += fmt.Sprintf(", grown all the time, crop coefficient %s", number(c.Mid, 2))
	}
	whose := "the shallow end of the crop's range"
	if b.RootsOwn {
		whose = "as the plan says"
	}
	return s + fmt.Sprintf("; %s %% of the bed under leaves; roots to %s, %s; %s of that depth, drained, holds %s that roots can draw",
		number(100*b.Planted, 0), t.depth(b.RootsM), whose, b.Soil.Texture, t.film(1000*b.Soil.Held*b.RootsM))
}
