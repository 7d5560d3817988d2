package report

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/unit"
	"suncellar/internal/unknown"
	"suncellar/internal/worth"
)

// unitRow is a row as it is told: by the reader's unit, and towards less where more of it would make the worst night colder.
type unitRow struct {
	*worth.Worth
	name  string // "mineral wool of roof, 1 cm more"
	per   worth.Measures
	noise worth.Measures
}

// Worth tells to people what one more unit of each thing is worth, and what is not known of the house.
func (t Teller) Worth(a *worth.UnitAnswer, of OfHouse) string {
	p := &page{}
	p.say(fmt.Sprintf("%s, %s: %s", a.First.Plan.Name, span(a.First), weatherWords(a.First)))
	p.gap()
	built, unknown, outdoors, failed := t.unitRows(a)
	for _, s := range t.WorthSentences(a, of) {
		p.say(s)
	}
	if len(built) > 0 {
		t.unitTables(p, a, built)
	}
	if of.Why != "" {
		p.head(notKnownHead)
		p.say(of.Why)
	} else if len(unknown) > 0 {
		t.unknownTable(p, a, unknown)
	}
	t.drawnHouses(p, a.First, of)
	if len(outdoors) > 0 {
		t.outdoorsTable(p, a, outdoors)
	}
	t.unitNotes(p, slices.Concat(built, unknown, outdoors), failed)
	p.head("Before you rely on it")
	for _, c := range unitCautions(a, built) {
		p.item(c)
	}
	p.say("What the physics simplifies and what the plan leaves to assumptions is told by 'suncellar simulate' and in --json. Two or more changes together: 'suncellar compare'.")
	return p.String()
}

// WorthSentences tell what does most, and the band of the house.
func (t Teller) WorthSentences(a *worth.UnitAnswer, of OfHouse) []string {
	built, _, _, _ := t.unitRows(a)
	list := t.unitSentences(a, built)
	if s := t.bandSentence(a, of); s != "" {
		list = append(list, s)
	}
	list = append(list, "How sure: one winter, and small steps from this plan. "+t.runWords(a))
	return list
}

// unitRows are the rows that were computed, the most on the worst night first, and those that failed.
func (t Teller) unitRows(a *worth.UnitAnswer) (built, unknown, outdoors []unitRow, failed []*worth.Worth) {
	for i := range a.Rows {
		w := &a.Rows[i]
		switch {
		case w.Err != nil:
			failed = append(failed, w)
		case w.Kind == worth.Unknown:
			unknown = append(unknown, unitRow{w, w.Label, w.Per, w.Noise()})
		case w.Kind == worth.Outdoors:
			outdoors = append(outdoors, t.unitRow(w))
		default:
			built = append(built, t.unitRow(w))
		}
	}
	slices.SortStableFunc(built, func(x, y unitRow) int { return cmp.Compare(math.Abs(y.per.LeafC), math.Abs(x.per.LeafC)) })
	reach := func(r unitRow) float64 { return max(math.Abs(r.More.LeafC), math.Abs(r.Less.LeafC)) }
	slices.SortStableFunc(unknown, func(x, y unitRow) int { return cmp.Compare(reach(y), reach(x)) })
	return built, unknown, outdoors, failed
}

// unitRow tells a row by the reader's unit.
func (t Teller) unitRow(w *worth.Worth) unitRow {
	if w.Switch {
		return unitRow{w, w.Label, w.Per, w.Noise()}
	}
	k, in := w.One.SI, w.One.In
	if t.System == unit.US {
		k, in = w.One.US, w.One.Us
	}
	r := unitRow{w, fmt.Sprintf("%s, %s more", w.Label, in), w.Per.Times(k), w.Noise().Times(k)}
	if r.per.LeafC < 0 {
		r.name, r.per = fmt.Sprintf("%s, %s less", w.Label, in), r.per.Times(-1)
	}
	return r
}

// least is the worth that is worth a sentence [K].
const least = 0.05

// unitSentences tell what does most, of what is there or not and of what comes by the unit.
func (t Teller) unitSentences(a *worth.UnitAnswer, built []unitRow) []string {
	lowest, at := a.First.Result.Trace(a.At.Leaf).Lowest()
	planned := fmt.Sprintf("As planned the lowest of %s is %s, on %s, %s.", within(a.At.Leaf), t.temp(lowest), when(local(a.First, a.First.Result.Time(at))), t.snowWords(a.First.SnowCase))
	var one, some []string
	for _, r := range built {
		if r.per.LeafC < least {
			continue
		}
		said := fmt.Sprintf("%s: %s", r.name, t.fine(r.per.LeafC))
		if r.Switch && len(one) < 2 {
			one = append(one, said)
		} else if !r.Switch && len(some) < 4 {
			some = append(some, said)
		}
	}
	out := []string{planned}
	if len(some) > 0 {
		out = append(out, fmt.Sprintf("On the worst night, at %s, one unit is worth: %s.", strings.TrimSuffix(within(a.At.Leaf), ","), strings.Join(some, "; ")))
	}
	if len(one) > 0 {
		out = append(out, fmt.Sprintf("Of what is there or not: %s.", strings.Join(one, "; ")))
	}
	if len(out) == 1 {
		out = append(out, fmt.Sprintf("No one unit of anything makes the worst night %s warmer there, %s.", t.fine(least), oneWinter))
	}
	return out
}

// fine is a difference of temperature with its unit, to the hundredth [K].
func (t Teller) fine(k float64) string {
	return number(unit.InMain(unit.TemperatureDifference, k, t.System), 2) + " " + unit.Main(unit.TemperatureDifference, t.System)
}

// bandSentence is the band at the leaves, "" where there is none. It never speaks of winters: it holds none.
func (t Teller) bandSentence(a *worth.UnitAnswer, of OfHouse) string {
	of.Order = a
	lo, hi, by, ok := of.lowest(a.First)
	if !ok {
		return ""
	}
	return fmt.Sprintf("In 8 of 10 houses built like this one the lowest of %s is %s in this same winter, for what is not known of the house (%s); as planned it is %s. What other winters bring is not in that band.",
		within(a.At.Leaf), t.between(lo, hi), by, t.temp(a.First.Places[a.First.Watched].LowestC))
}

// runWords tell through which hours and how the differences were taken.
func (t Teller) runWords(a *worth.UnitAnswer) string {
	day := "2 January"
	words := fmt.Sprintf("%d runs of the whole winter, in which the lowest as planned is %s", a.Runs, t.temp(a.Base.LeafC))
	if !a.Whole {
		words = fmt.Sprintf("%d runs from %s to %s, in which the house stands from the first day and the lowests of the days from %s on are compared, as planned %s: the winter before them is left out (--whole takes it in)",
			a.Runs, local(a.First, a.Built).Format(day), local(a.First, a.Until).AddDate(0, 0, -1).Format(day), local(a.First, a.From).Format(day), t.temp(a.Base.LeafC))
	}
	return words + ", all in the same steps and, but for glazing, cover and brushing, with the snow that lies as planned; a change can also shift the day that snow slides, and so a night by some tenths of a degree."
}

// unitColumn is one figure of every row of a table.
type unitColumn struct {
	heads [3]string
	of    func(r unitRow) string
}

// unitTable puts rows and figures together.
func unitTable(rows []unitRow, of []unitColumn) *table {
	heads := [3][]string{{""}, {""}, {"one unit"}}
	for _, c := range of {
		for k := range heads {
			heads[k] = append(heads[k], c.heads[k])
		}
	}
	tab := newTable(heads[0], heads[1], heads[2])
	for _, r := range rows {
		cells := []string{r.name}
		for _, c := range of {
			cells = append(cells, c.of(r))
		}
		tab.row(cells...)
	}
	return tab
}

// unitTables are what can be built: on the worst night, and over the hours that are compared.
func (t Teller) unitTables(p *page, a *worth.UnitAnswer, rows []unitRow) {
	d := t.degree()
	first, second := t.watched(a)
	p.head("What can be built: degrees on the worst night")
	p.table(unitTable(rows, t.nightColumns(a)))
	p.say(fmt.Sprintf("Places: %s. Each lowest is compared whenever it comes. Half step: how far the first figure moves when the step is halved.", t.unitPlaces(a)))
	over := "over the winter"
	if !a.Whole {
		over = fmt.Sprintf("over the days from %s to %s", local(a.First, a.From).Format("2 January"), local(a.First, a.Until).AddDate(0, 0, -1).Format("2 January"))
	}
	cold := func(kh float64) float64 { return unit.InMain(unit.DegreeHours, kh, t.System) }
	winter := []unitColumn{
		{[3]string{first + " " + second + " below", t.figure(a.First.LimitC) + " " + d, d + " h"}, func(r unitRow) string { return signed(cold(r.per.ColdKh), 1) }},
		{[3]string{"light", "mol/m²", "a day"}, func(r unitRow) string { return signed(r.per.LightMol, 2) }},
	}
	planned := fmt.Sprintf("As planned: %s %s h, light %s mol/m² a day", number(cold(a.Base.ColdKh), 0), d, number(a.Base.LightMol, 2))
	if a.At.Water {
		winter = append(winter, unitColumn{[3]string{"heat in", "water", "kWh"}, func(r unitRow) string { return signed(r.per.ReserveJ/3.6e6, 1) }})
		planned += fmt.Sprintf(", heat in the water %s kWh (above freezing, mean)", number(a.Base.ReserveJ/3.6e6, 1))
	}
	p.head("What can be built: " + over)
	p.table(unitTable(rows, winter))
	p.say(planned + ". Light: on level ground at the beds.")
}

// nightColumns are the degrees on the worst night at every place that the house has.
func (t Teller) nightColumns(a *worth.UnitAnswer) []unitColumn {
	d := t.degree()
	first, second := t.watched(a)
	diff := func(k float64) string {
		return signed(unit.InMain(unit.TemperatureDifference, k, t.System), 2)
	}
	night := []unitColumn{{[3]string{first, second, d}, func(r unitRow) string { return diff(r.per.LeafC) }}}
	if a.At.Air != a.At.Leaf {
		night = append(night, unitColumn{[3]string{"top", "air", d}, func(r unitRow) string { return diff(r.per.AirC) }})
	}
	if a.At.Soil != "" {
		night = append(night, unitColumn{[3]string{"soil", "10 cm", d}, func(r unitRow) string { return diff(r.per.SoilC) }})
	}
	if a.At.Water {
		night = append(night, unitColumn{[3]string{"", "water", d}, func(r unitRow) string { return diff(r.per.StoreC) }})
	}
	night = append(night, unitColumn{[3]string{"half", "step", "±"}, func(r unitRow) string {
		if !r.HasHalf {
			return ""
		}
		return number(unit.InMain(unit.TemperatureDifference, r.noise.LeafC, t.System), 2)
	}})
	return night
}

// outdoorsTable is what the weather does. It is told apart from the house: another winter brings it.
func (t Teller) outdoorsTable(p *page, a *worth.UnitAnswer, rows []unitRow) {
	p.head("Outdoors: degrees on the worst night")
	p.table(unitTable(rows, t.nightColumns(a)))
	p.say("All hours of the run moved alike. This is what another winter, or a colder site than the weather's, would do; no band of the house holds it.")
}

// watched is the watched place in two words for the heads of tables.
func (t Teller) watched(a *worth.UnitAnswer) (first, second string) {
	if a.First.Places[a.First.Watched].Kind == greenhouse.LeafPlace {
		return "leaf", "tips"
	}
	return "this", "place"
}

// unitPlaces names where the figures hold.
func (t Teller) unitPlaces(a *worth.UnitAnswer) string {
	list := []string{a.At.Leaf}
	if a.At.Air != "" && a.At.Air != a.At.Leaf {
		list = append(list, a.At.Air)
	}
	if a.At.Soil != "" {
		list = append(list, a.At.Soil)
	}
	if a.At.Water {
		list = append(list, "the mean of all water")
	}
	return strings.Join(list, "; ")
}

// unknownTable is what is not known, and the band that it makes.
func (t Teller) unknownTable(p *page, a *worth.UnitAnswer, rows []unitRow) {
	d := t.degree()
	p.head(notKnownHead + ": degrees on the worst night")
	first, second := t.watched(a)
	place := first + " " + second
	tab := newTable([]string{"", place, place, ""}, []string{"", "if more", "if less", ""}, []string{"", d, d, "more or less by"})
	tab.left[3] = true
	for _, r := range rows {
		cells := []string{r.name, "", "", r.One.In}
		for i, side := range []struct {
			has bool
			m   worth.Measures
		}{{r.HasMore, r.More}, {r.HasLess, r.Less}} {
			if side.has {
				cells[i+1] = signed(unit.InMain(unit.TemperatureDifference, side.m.LeafC, t.System), 2)
			}
		}
		tab.row(cells...)
	}
	p.table(tab)
	p.say("More or less by: one standard deviation; where each comes from is told in --json, by 'suncellar check' and in docs/physics/unknown.md." + notMoved(a))
	if a.Band == nil {
		p.say("One of them could not be computed: there is no band.")
		return
	}
	b := a.Band
	tab = newTable([]string{"8 in 10 houses of this plan, this winter", "from", "middle", "to"})
	row := func(name string, lo, middle, hi float64) { tab.row(name, t.figure(lo), t.figure(middle), t.figure(hi)) }
	row(a.At.Leaf, b.Lo.LeafC, b.Middle.LeafC, b.Hi.LeafC)
	if a.At.Air != a.At.Leaf {
		row(a.At.Air, b.Lo.AirC, b.Middle.AirC, b.Hi.AirC)
	}
	if a.At.Soil != "" {
		row(a.At.Soil, b.Lo.SoilC, b.Middle.SoilC, b.Hi.SoilC)
	}
	if a.At.Water {
		row("mean of all water", b.Lo.StoreC, b.Middle.StoreC, b.Hi.StoreC)
	}
	p.gap()
	p.table(tab)
	p.say(fmt.Sprintf("Lowest of each place [%s], to first order: each unknown moved alone. Beyond freezing of the water the lower ends are too cold. Measuring what moves most is worth most.", d))
}

// notMoved tells what is not known, or said to be known, and is in no row.
func notMoved(a *worth.UnitAnswer) string {
	var known []string
	snow := ""
	for _, in := range unknown.Of(a.First.Plan, a.First.House) {
		switch {
		case !in.On:
			known = append(known, in.Label)
		case in.Snow:
			snow = " How much snow falls is not known either, and not moved: all runs have the plan's."
		}
	}
	if len(known) > 0 {
		return snow + " Taken as known by the plan: " + strings.Join(known, ", ") + "."
	}
	return snow
}

// unitNotes tell what has to be known to read the rows, and which rows could not be computed.
func (t Teller) unitNotes(p *page, rows []unitRow, failed []*worth.Worth) {
	var notes []string
	for _, r := range rows {
		for _, n := range r.Notes {
			notes = append(notes, r.Label+": "+n)
		}
	}
	for _, w := range failed {
		notes = append(notes, fmt.Sprintf("%s: not computed: %v", w.Label, w.Err))
	}
	if len(notes) == 0 {
		return
	}
	p.head("To be known with it")
	for _, n := range notes {
		p.item(n)
	}
}

// unitCautions stand with the rows that suggest digging, snow left or brushed, or fuller drums.
func unitCautions(a *worth.UnitAnswer, built []unitRow) []string {
	var list []string
	dig, brush, leave, fuller := false, false, false, false
	for _, r := range built {
		dig = dig || r.Deeper && r.per.LeafC > 0
		brush = brush || r.Snow && r.per.LeafC > 0
		leave = leave || r.Snow && r.per.LeafC <= 0
		fuller = fuller || strings.HasSuffix(r.ID, ".fill") && r.Per.LeafC > 0
	}
	if dig {
		list = append(list, "Depth is told by its degrees alone. Walls of earth can fall without warning: slope or shore them, keep spoil and weight back from the edge, and never dig beside full drums, a standing wall or its footing. Local codes and licensed people decide.")
	}
	if leave {
		list = append(list, "Snow left lying: not offered. Whether this roof carries it is not checked here, whatever it does for the night.")
	}
	if brush {
		list = append(list, "Brush snow from the ground with a soft rake, never from a ladder or under the zone where it slides.")
	}
	if fuller {
		list = append(list, "Fuller drums have less room for ice: 5 to 15 % of head space keeps them from splitting.")
	}
	return append(list, cautionsWith(a.First, a.First.Cautions)...)
}

// fineFrame is the frame of pictures whose differences are told to the hundredth.
func (t Teller) fineFrame() drawing.Frame {
	f := t.Frame()
	f.Units.Difference = func(k float64) string {
		return minus(signed(unit.InMain(unit.TemperatureDifference, k, t.System), 2))
	}
	return f
}

// leastDrawn is the worth from which a thing is drawn [K].
const leastDrawn = 0.005

// WorthPictures draws what one unit of each thing does on the worst night, what is there or not, and how far what is not known moves it.
func (t Teller) WorthPictures(a *worth.UnitAnswer) ([]Picture, error) {
	built, unknown, _, _ := t.unitRows(a)
	lowest, at := a.First.Result.Trace(a.At.Leaf).Lowest()
	sentence := fmt.Sprintf("%s: %s on %s as planned, in this one winter.", upper(a.At.Leaf), minus(t.temp(lowest)), local(a.First, a.First.Result.Time(at)).Format("2 January"))
	var out []Picture
	draw := func(name string, in drawing.Compare) error {
		if len(in.Changes) == 0 {
			return nil
		}
		l, err := drawing.DrawCompare(in, t.fineFrame())
		if err != nil {
			return fmt.Errorf("picture %s: %w", name, err)
		}
		out = append(out, Picture{name, l})
		return nil
	}
	units := drawing.Compare{Title: "What one unit of each thing is worth on the worst night", Sentence: sentence + " A band is what half the step would make of it."}
	switches := drawing.Compare{Title: "What is there or not: its worth on the worst night", Sentence: sentence}
	for _, r := range built {
		in := &units
		if r.Switch {
			in = &switches
		}
		if math.Abs(r.per.LeafC) >= leastDrawn {
			in.Changes = append(in.Changes, drawing.Change{Name: r.name, K: r.per.LeafC, Lo: r.per.LeafC - r.noise.LeafC, Hi: r.per.LeafC + r.noise.LeafC})
		}
	}
	if err := errors.Join(draw("worth.svg", units), draw("there-or-not.svg", switches)); err != nil {
		return nil, err
	}
	guesses := drawing.Compare{Title: "What is not known of the house, on the worst night", Sentence: sentence + " Bar: its colder side; band: both sides of one standard deviation."}
	for _, r := range unknown {
		more, less := r.Move()
		lo, hi := min(more.LeafC, less.LeafC), max(more.LeafC, less.LeafC)
		guesses.Changes = append(guesses.Changes, drawing.Change{Name: r.name, K: lo, Lo: lo, Hi: hi, Note: r.One.In})
	}
	return out, draw("unknown.svg", guesses)
}
