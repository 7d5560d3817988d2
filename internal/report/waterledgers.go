package report

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/carry"
	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// DrawSentences are what a draw costs, and when the rain gives it back; none where none was asked for.
func (t Teller) DrawSentences(a *water.Answer) []string {
	if a.Ledgers == nil || a.Ledgers.Draw == nil {
		return nil
	}
	d := a.Ledgers.Draw
	s := fmt.Sprintf("%s of water taken on %s, onto %s, take %s kWh with them.", t.water(d.TakenM3), when(local(a.Ledgers.Winter, d.At)), d.Bed, number(d.HeatJ/3.6e6, 1))
	if d.TakenM3 < d.VolumeM3-1e-4 {
		s += fmt.Sprintf(" %s were asked for; there are no more.", t.water(d.VolumeM3))
	}
	list := []string{s, t.drawCosts(d) + " " + t.drawCarry(d)}
	if d.KeptM3 > 0 && d.HeldM3-d.TakenM3 < d.KeptM3-1e-6 {
		list = append(list, fmt.Sprintf("That is %s into what the plan keeps on that day, %s.", t.water(d.KeptM3-d.HeldM3+d.TakenM3), t.water(d.KeptM3)))
	}
	return append(list, t.drawBack(a, d))
}

// drawCosts is what the place that loses most has lost until the end of the winter.
func (t Teller) drawCosts(d *water.DrawAnswer) string {
	worst := slices.MaxFunc(d.Places, func(x, y water.PlaceCost) int { return sign(x.BeforeC - x.AfterC - (y.BeforeC - y.AfterC)) })
	by := worst.BeforeC - worst.AfterC
	if by < 0.005 {
		return "No place has a lower lowest for it in the rest of this winter."
	}
	return fmt.Sprintf("The lowest of the rest of the winter falls by %s at most, at %s: to %s from %s.", t.fine(by), worst.Name, t.fineTemp(worst.AfterC), t.fineTemp(worst.BeforeC))
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// drawCarry is what it costs of the time without sun from that evening on.
func (t Teller) drawCarry(d *water.DrawAnswer) string {
	with, without := d.Carry, d.CarryBefore
	of := func(c *carry.Answer) string {
		if c.Beyond {
			return carry.BeyondWords
		}
		return daysHours(c.Hours)
	}
	cold := fmt.Sprintf("Without sun from that evening on, at %s outside on the mean, %s stays above %s for %s, for %s without the draw", t.temp(with.Spec.MeanC), without.Place, t.temp(with.LimitC), of(with), of(without))
	if with.Beyond || without.Beyond {
		return cold + "."
	}
	return fmt.Sprintf("%s: %s hours less.", cold, number(math.Max(0, without.Hours-with.Hours), 1))
}

// drawBack is when the rain has given it back.
func (t Teller) drawBack(a *water.Answer, d *water.DrawAnswer) string {
	n := len(d.BackDays)
	if n == 0 {
		return "When the rain gives it back is not known: " + noYears(a) + "."
	}
	never := 0
	for _, v := range d.BackDays {
		if math.IsInf(v, 1) {
			never++
		}
	}
	at := func(share float64) float64 { return d.BackDays[min(n-1, int(share*float64(n)))] }
	day := func(v float64) string {
		if math.IsInf(v, 1) {
			return "more than a year"
		}
		return count(int(v), "day")
	}
	s := fmt.Sprintf("The drums hold as much as without it again after %s in the middle of %s; in one year of ten after %s or sooner, in one of ten after %s or later.", day(at(0.5)), count(n, "year"), day(at(0.1)), day(at(0.9)))
	if never > 0 {
		s += fmt.Sprintf(" In %s of them not within a year.", count(never, "year"))
	}
	if d.InWinterH >= 0 {
		s += fmt.Sprintf(" In the simulated winter it is after %s.", daysHours(d.InWinterH))
	} else {
		s += " In the simulated winter it is not before its end."
	}
	if d.ShortDays >= 0.05 {
		s += fmt.Sprintf(" Until then the beds get less than planned on %s more days in the mean.", number(d.ShortDays, 1))
	}
	return s
}

func noYears(a *water.Answer) string {
	if a.NoRain != "" {
		return a.NoRain
	}
	return "the rain is of less than two years"
}

// waterLedgers tell what rain and use do in the simulated winter.
func (t Teller) waterLedgers(p *page, a *water.Answer) {
	l := a.Ledgers
	if l == nil {
		return
	}
	p.head("Water and warmth of the simulated winter")
	for _, s := range t.ledgerItems(a) {
		p.item(s)
	}
	t.drawPlaces(p, l.Draw)
	p.say(ledgerNote(l))
}

// ledgerNote says what the ledgers rest on.
func ledgerNote(l *water.Ledgers) string {
	return "All from one winter (" + l.Winter.Year.Name + "), for the house as planned: differences of a few hundredths of a degree are within the steps of the reckoning."
}

// WaterLedger is what rain and use move and cost in the simulated winter, a sentence each; nil where there is none.
func (t Teller) WaterLedger(a *water.Answer) []string {
	if a.Ledgers == nil {
		return nil
	}
	var list []string
	for _, s := range t.ledgerItems(a) {
		list = append(list, upper(s)+".")
	}
	return append(list, ledgerNote(a.Ledgers))
}

// ledgerItems are what rain and use move and cost.
func (t Teller) ledgerItems(a *water.Answer) (list []string) {
	l := a.Ledgers
	item := func(s string) { list = append(list, s) }
	r := l.Rain
	if r.CaughtM3 > 0 {
		item(fmt.Sprintf("%s come off the roofs at %s in the mean and bring %s kWh; they drive %s over the overflow, which take %s kWh away", t.water(r.CaughtM3), t.temp(r.CaughtC), number(l.RainJ/3.6e6, 1), t.water(r.OverM3), number(l.OverJ/3.6e6, 1)))
	} else {
		item("no rain comes to the drums in it")
	}
	if r.PastM3+r.FlushedM3 > 0 {
		item(fmt.Sprintf("%s are let go as first flush, %s go past the drums", t.water(r.FlushedM3), t.water(r.PastM3)))
	}
	if r.WantedM3 > 0 {
		item(fmt.Sprintf("the beds want %s and get %s, with %s kWh; short on %s, on %s of them because water is kept", t.water(r.WantedM3), t.water(r.UsedM3), number(l.DrawnJ/3.6e6, 1), count(r.ShortDays, "day"), count(r.KeptDays, "day")))
	}
	item(fmt.Sprintf("the drums hold %s when it begins and %s when it ends", t.water(l.WaterBeginM3), t.water(l.WaterEndM3)))
	item(fmt.Sprintf("%s: lowest %s; with neither rain nor use %s, so that they cost %s", l.Place, t.fineTemp(l.LowestC), t.fineTemp(l.StillC), t.fine(l.StillC-l.LowestC)))
	switch {
	case l.Kept:
		item(fmt.Sprintf("with nothing kept its lowest would be %s, and the beds would get %s: what is kept is worth %s here", t.fineTemp(l.FreeC), t.water(l.FreeM3), t.fine(l.LowestC-l.FreeC)))
	case r.WantedM3 > 0:
		item("nothing is kept (keep): the beds may drink the drums down to the lowest that can be used")
	}
	item(fmt.Sprintf("the books of the water are open by %s L, those of the heat by %s of it", tiny(l.OpenL), tiny(l.HeatOpen)))
	return list
}

// drawPlaces is the lowest of each place after a draw.
func (t Teller) drawPlaces(p *page, d *water.DrawAnswer) {
	if d == nil {
		return
	}
	tab := newTable([]string{"lowest after the draw, " + t.degree(), "without", "with", "less by"})
	for _, c := range d.Places {
		tab.row(c.Name, t.hundredths(c.BeforeC), t.hundredths(c.AfterC), t.fine(c.BeforeC-c.AfterC))
	}
	p.table(tab)
}

// hundredths is a temperature with hundredths, without its unit: for what differs by little.
func (t Teller) hundredths(c float64) string {
	return number(unit.InMain(unit.Temperature, c, t.System), 2)
}

func (t Teller) fineTemp(c float64) string { return t.hundredths(c) + " " + t.degree() }
