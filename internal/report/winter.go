package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Winter tells a winter to people, and beside it what is not known of the house.
func (t Teller) Winter(a *winter.Answer, of OfHouse) string {
	p := &page{}
	p.say(Title(a))
	p.gap()
	p.say(t.firstSentence(a, of))
	if a.Watched >= 0 {
		p.say(t.figureSentence(a, of))
		p.gap()
		p.say(t.why(a))
		if advice := advice(a); advice != "" {
			p.say(advice)
		}
	}
	t.places(p, a)
	p.head("Before you rely on it")
	for _, c := range cautions(a) {
		p.item(c)
	}
	t.ofHouse(p, a, of)
	t.heat(p, a)
	t.soil(p, a)
	t.store(p, a)
	t.air(p, a)
	t.tubes(p, a)
	t.months(p, a)
	t.stripLight(p, a)
	t.ledger(p, a)
	t.snowCases(p, a)
	t.old(p, a)
	p.head("What the physics treats more simply than it is")
	for _, s := range a.Simplified {
		p.item(s.Item + ": " + s.How)
	}
	t.assumed(p, a.Assumed)
	p.head("Weather, what was done to it")
	weatherNotes(p, a.Year.Notes)
	w := a.Result.Work
	p.item(fmt.Sprintf("computed: %s that count, %s, %s of earth and walls, %s solves an hour", count(a.Result.Hours(), "hour"), count(w.Nodes, "node"), count(w.Cells, "cell"), number(w.SolvesPerHour, 0)))
	p.head("In short")
	p.say(t.firstSentence(a, of))
	if a.Watched >= 0 {
		p.say(t.figureSentence(a, of))
	}
	return p.String()
}

// span is the first and the last day that count.
func span(a *winter.Answer) string {
	n := a.Result.Hours()
	first, last := local(a, a.Result.Start), local(a, a.Result.Time(n-1)).Add(-time.Minute)
	return first.Format("2 January") + " to " + last.Format("2 January")
}

func weatherWords(a *winter.Answer) string {
	if a.Name != "" {
		return a.Name
	}
	if a.Made {
		return fmt.Sprintf("weather made from the plan's climate, seed %d", a.Plan.Run.Seed)
	}
	return "weather of " + a.Year.Name
}

// places is the table of leaves and air.
func (t Teller) places(p *page, a *winter.Answer) {
	p.head("Places")
	tab := newTable([]string{"", "above", "lowest", "", "below freezing", ""}, []string{"", "floor", t.degree(), "at", "hours", t.degree() + " h"})
	limit := newTable([]string{"below the limit, " + t.temp(a.LimitC), "hours", t.degree() + " h"})
	for i := range a.Places {
		pl := &a.Places[i]
		if pl.Kind != greenhouse.LeafPlace && pl.Kind != greenhouse.AirPlace && pl.Kind != greenhouse.OutPlace {
			continue
		}
		height := ""
		if pl.Kind != greenhouse.OutPlace {
			height = t.height(pl.HeightM)
		}
		tab.row(pl.Name, height, t.figure(pl.LowestC), shortDay(local(a, pl.LowestAt)), number(float64(pl.HoursBelowZero), 0), t.degreeHours(pl.KhBelowZero))
		limit.row(pl.Name, number(float64(pl.HoursBelowLimit), 0), t.degreeHours(pl.KhBelowLimit))
	}
	p.table(tab)
	if a.LimitC != 0 { // freezing itself stands above
		p.line("")
		p.table(limit)
	}
}

// soil is the table of the beds' soil.
func (t Teller) soil(p *page, a *winter.Answer) {
	tab := newTable([]string{"", "lowest", "", "mean", "freezing"}, []string{"", t.degree(), "at", t.degree(), "hours"})
	for i := range a.Places {
		pl := &a.Places[i]
		if pl.Kind == greenhouse.SoilPlace {
			tab.row(pl.Name, t.figure(pl.LowestC), shortDay(local(a, pl.LowestAt)), t.figure(pl.MeanC), number(float64(pl.HoursBelowZero), 0))
		}
	}
	if len(tab.rows) > 0 {
		p.head("Bed soil")
		p.table(tab)
	}
}

// PlaceNote is what has to be known to read a place's figures, by its index: water that ran dry is none to speak of at the end; "" for nothing.
func PlaceNote(a *winter.Answer, i int) string {
	if tr := &a.Result.Traces[i]; tr.Kind == greenhouse.WaterPlace && a.Result.RanDry(tr.Bay, a.Result.Hours()-1) {
		return "ran dry"
	}
	return ""
}

// store is the table of the water.
func (t Teller) store(p *page, a *winter.Answer) {
	tab := newTable([]string{"", "lowest", "", "highest", "mean"}, []string{"", t.degree(), "at", t.degree(), t.degree()})
	for i := range a.Places {
		pl := &a.Places[i]
		if pl.Kind == greenhouse.WaterPlace {
			name := pl.Name
			if note := PlaceNote(a, i); note != "" {
				name += " (" + note + ")"
			}
			tab.row(name, t.figure(pl.LowestC), shortDay(local(a, pl.LowestAt)), t.figure(pl.HighestC), t.figure(pl.MeanC))
		}
	}
	if len(tab.rows) == 0 {
		return
	}
	p.head("Store")
	p.table(tab)
	r := a.Result
	least, ice := reserve(r)
	s := fmt.Sprintf("%s of water. Its heat above freezing is least on %s: %s kWh.", t.water(a.House.Water()), when(local(a, r.Time(least))), kWh(r.ReserveJ[least]))
	if ice > 0.0005 {
		s += fmt.Sprintf(" At the worst %s %% of it is ice, and a drum that freezes can split.", number(100*ice, 1))
	}
	p.say(s)
	t.waterLedger(p, r)
}

// month is what one calendar month came to.
type month struct {
	begin                  time.Time
	hours, watchedBelow    int
	outdoor, watched, soil float64 // lowest [°C]
	water                  float64 // mean [°C]
	mol, sunWh             float64
}

// monthsOf sums a winter up by calendar month.
func monthsOf(a *winter.Answer) []month {
	var list []month
	r := a.Result
	outdoor, soil := r.Trace("outdoor air"), coldestOf(a, greenhouse.SoilPlace)
	for i := range r.Hours() {
		at := local(a, r.Time(i)).Add(-30 * time.Minute)
		if len(list) == 0 || list[len(list)-1].begin.Month() != at.Month() {
			list = append(list, month{begin: at, outdoor: math.Inf(1), watched: math.Inf(1), soil: math.Inf(1)})
		}
		m := &list[len(list)-1]
		m.hours++
		if outdoor != nil {
			m.outdoor = math.Min(m.outdoor, outdoor.C[i])
		}
		if a.Watched >= 0 {
			c := r.Traces[a.Watched].C[i]
			m.watched = math.Min(m.watched, c)
			if c < 0 {
				m.watchedBelow++
			}
		}
		if soil != nil {
			m.soil = math.Min(m.soil, soil.C[i])
		}
		if low, high, ok := waterRange(r, i); ok {
			m.water += (low + high) / 2
		}
		m.mol += r.BedMol[i]
		m.sunWh += r.EnteredW[i]
	}
	return list
}

func (t Teller) months(p *page, a *winter.Answer) {
	p.head("Month by month")
	t.monthTable(p, a, monthsOf(a), coldestOf(a, greenhouse.SoilPlace))
}

func (t Teller) monthTable(p *page, a *winter.Answer, list []month, soil *greenhouse.Trace) {
	_, _, water := waterRange(a.Result, 0)
	d := t.degree()
	heads := [2][]string{{"lowest " + d, "outdoors"}, {"", ""}}
	if a.Watched >= 0 {
		heads[0], heads[1] = append(heads[0], "watched", "hours"), append(heads[1], "", "< "+strings.TrimSuffix(t.figure(0), ".0")+" "+d)
	}
	if soil != nil {
		heads[0], heads[1] = append(heads[0], "bed soil"), append(heads[1], "")
	}
	if water {
		heads[0], heads[1] = append(heads[0], "water"), append(heads[1], "mean")
	}
	beds := len(a.House.Beds) > 0
	if beds {
		heads[0], heads[1] = append(heads[0], "light at beds"), append(heads[1], "mol/m² a day")
	}
	heads[0], heads[1] = append(heads[0], "sun in"), append(heads[1], "kWh a day")
	tab := newTable(heads[0], heads[1])
	for _, m := range list {
		days := float64(m.hours) / 24
		cells := []string{m.begin.Format("January"), t.figure(m.outdoor)}
		if a.Watched >= 0 {
			cells = append(cells, t.figure(m.watched), fmt.Sprint(m.watchedBelow))
		}
		if soil != nil {
			cells = append(cells, t.figure(m.soil))
		}
		if water {
			cells = append(cells, t.figure(m.water/float64(m.hours)))
		}
		if beds {
			cells = append(cells, number(m.mol/days, 1))
		}
		tab.row(append(cells, number(m.sunWh/1000/days, 1))...)
	}
	p.table(tab)
	var notes []string
	if a.Watched >= 0 {
		notes = append(notes, "watched place: "+a.Places[a.Watched].Name)
	}
	if soil != nil {
		notes = append(notes, "bed soil: "+soil.Name)
	}
	if beds {
		notes = append(notes, "light: photosynthetic, level, mean of all beds")
	}
	p.say(upper(strings.Join(notes, "; ")) + ".")
}

// coldestOf is the trace of a kind that falls lowest; of soil, at the middle depth of 10 cm.
func coldestOf(a *winter.Answer, kind greenhouse.PlaceKind) *greenhouse.Trace {
	best, low := -1, math.Inf(1)
	for i := range a.Places {
		p := &a.Places[i]
		if p.Kind != kind || p.InSoil && math.Abs(p.DepthM-0.10) > 1e-6 {
			continue
		}
		if p.LowestC < low {
			best, low = i, p.LowestC
		}
	}
	if best < 0 {
		return nil
	}
	return &a.Result.Traces[best]
}

// snowCases sets both cases beside each other, the colder first.
func (t Teller) snowCases(p *page, a *winter.Answer) {
	if a.Other == nil {
		return
	}
	p.head("Snowfall is not known: the house with snow lying, and with its glazing bare")
	tab := newTable([]string{"lowest " + t.degree(), a.SnowCase, a.OtherCase})
	for i := range a.Places {
		if k := a.Places[i].Kind; k == greenhouse.LeafPlace || k == greenhouse.AirPlace || k == greenhouse.SoilPlace || k == greenhouse.WaterPlace {
			c, _ := a.Other.Traces[i].Lowest()
			tab.row(a.Places[i].Name, t.figure(a.Places[i].LowestC), t.figure(c))
		}
	}
	p.table(tab)
	p.say("Snow lies through the coldest ten days in that case; whether it would, nobody told. All tables above are of the colder case.")
}

func weatherNotes(p *page, notes []weather.Note) {
	if len(notes) == 0 {
		p.item("nothing")
	}
	for _, n := range notes {
		p.item(n.String())
	}
}
