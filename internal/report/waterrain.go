package report

import (
	"fmt"
	"time"

	"suncellar/internal/water"
)

// yearsSentence is what the years of rain come to, "" where none are known.
func (t Teller) yearsSentence(a *water.Answer) string {
	b := a.Rain
	switch {
	case b == nil:
		return ""
	case b.Caught == 0:
		return "No rain comes to the drums."
	case !b.Use:
		return fmt.Sprintf("In a year the roofs bring %s into the drums and %s spill, in the mean of %s.", t.water(b.Caught/b.Years), t.water(b.Spilled/b.Years), b.Source)
	case b.DaysWanted == 0:
		return "The plan uses no water."
	case b.DaysShort == 0:
		return fmt.Sprintf("In %s the water that is wanted was there on every day; a drier year can come.", b.Source)
	}
	return fmt.Sprintf("In %s the water that is wanted was there on %s %% of the days that want any; it was short for %s in a row at worst.", b.Source, share(b.Reliability()), count(b.LongestShort, "day"))
}

// share is a share in percent that is never rounded up to all.
func share(v float64) string {
	if v < 1 && v > 0.999 {
		return "99.9"
	}
	return number(100*v, 1)
}

// waterRain tells the balance of the years, by month, and over the number of drums.
func (t Teller) waterRain(p *page, a *water.Answer) {
	p.head("Rain through the years")
	b := a.Rain
	if b == nil {
		p.say("Not known: " + a.NoRain + ".")
		return
	}
	t.yearBooks(p, b)
	t.waterMonths(p, b)
	if !b.Use {
		p.say("The plan says nothing of use (use_a_day), so that no reliability is told.")
		return
	}
	t.waterCurve(p, b)
	p.say("Water is used before that of the day comes in (yield after spillage), which gives the lower reliability. The drums begin as the first year leaves them.")
}

// yearBooks are the sums of a year.
func (t Teller) yearBooks(p *page, b *water.Balance) {
	year := func(m3 float64) string { return t.water(m3 / b.Years) }
	p.say(fmt.Sprintf("%s, %s days. In the mean of a year:", upper(b.Source), number(float64(b.Days), 0)))
	p.item(fmt.Sprintf("%s come into the drums, %s %% of it fell as snow", year(b.Caught), number(100*b.SnowShare, 0)))
	for _, row := range []struct {
		m3   float64
		what string
	}{{b.Flushed, "let go as first flush"}, {b.Shed, "slid off as snow"}, {b.Lost, "lost off roofs whose water does not come as far as the drums, or not as high as the water in them"}} {
		if row.m3 > 0 {
			p.item(fmt.Sprintf("%s %s", year(row.m3), row.what))
		}
	}
	p.item(year(b.Spilled) + " spill, since the drums are full")
	if b.Use {
		p.item(fmt.Sprintf("%s are wanted, %s are given; short on %s days, with nothing at all on %s", year(b.Wanted), year(b.Given), number(float64(b.DaysShort)/b.Years, 1), number(float64(b.DaysNone)/b.Years, 1)))
	}
	if b.DaysKept > 0 {
		p.item(fmt.Sprintf("on %s of those days the water was there and was kept (keep)", number(float64(b.DaysKept)/b.Years, 1)))
	}
	if b.Unknown > 0 {
		p.item(fmt.Sprintf("the rain of %s is not known and is counted as none", count(b.Unknown, "day")))
	}
	p.item(fmt.Sprintf("in less out less stored is %s L over all years", tiny(1000*b.Open)))
}

// waterMonths is a line for each month.
func (t Teller) waterMonths(p *page, b *water.Balance) {
	tab := newTable([]string{"mean of", "comes", "spills", "wanted", "given", "days", "lowest of"}, []string{"the years", "in", "", "", "", "short", "all years"})
	for m := range b.Months {
		of := &b.Months[m]
		tab.row(time.Month(m + 1).String()[:3], t.water(of.Caught), t.water(of.Spilled), t.water(of.Wanted), t.water(of.Given), number(of.DaysShort, 1), t.water(of.Lowest))
	}
	p.table(tab)
}

// waterCurve is reliability over the number of drums.
func (t Teller) waterCurve(p *page, b *water.Balance) {
	p.head("How many drums")
	tab := newTable([]string{"drums", "reliability", "given a year", "spilled a year"})
	for _, c := range b.Curve {
		name := fmt.Sprint(c.Drums)
		if c.Drums == b.Drums {
			name += " (the plan)"
		}
		tab.row(name, share(c.Reliability)+" %", t.water(c.Given), t.water(c.Spilled))
	}
	p.table(tab)
	p.say("Drums as they stand in the plan, more or fewer of them; water kept by date is as many litres for all.")
}
