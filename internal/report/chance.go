package report

import (
	"fmt"
	"math"

	"suncellar/internal/chance"
	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// Chance tells many winters to people.
func (t Teller) Chance(a *chance.Answer) string {
	p := &page{}
	p.say(fmt.Sprintf("%s, %s: %s", a.Plan.Name, monthsWords(a), wintersWords(a)))
	p.gap()
	for _, s := range t.chanceSentences(a) {
		p.say(s)
	}
	t.chanceMonths(p, a)
	t.chanceReturns(p, a)
	t.chanceHours(p, a)
	t.chanceHouse(p, a)
	t.chanceWorst(p, a)
	p.head("Before you rely on it")
	for _, c := range t.chanceCautions(a) {
		p.item(c)
	}
	p.head("In short")
	p.say(t.chanceSentences(a)[0])
	return p.String()
}

func monthsWords(a *chance.Answer) string {
	first, last := a.Span.HourStart(a.Skip), a.Span.End()
	return first.Format("2 January") + " to " + last.AddDate(0, 0, -1).Format("2 January")
}

func wintersWords(a *chance.Answer) string {
	if a.Made {
		return fmt.Sprintf("%d winters made from the plan's climate", len(a.Names))
	}
	return fmt.Sprintf("%d winters of a record, %s to %s", len(a.Names), a.Names[0], a.Names[len(a.Names)-1])
}

// chanceSentences are the answer in words; the first never says more than the rule of Answer.Stays allows.
func (t Teller) chanceSentences(a *chance.Answer) []string {
	if a.Watched < 0 {
		return []string{"No place inside is watched: the tables below are all there is."}
	}
	p := &a.Places[a.Watched]
	place, n := within(p.Name), len(a.Names)
	what, share := "Frost", p.Frost
	if a.LimitC != 0 {
		what, share = fmt.Sprintf("Less than %s", t.temp(a.LimitC)), p.Limit
	}
	out := []string{fmt.Sprintf("%s at %s %s (8 in 10: %s to %s in 100).", what, place, t.chanceWords(a, share), number(100*share.Lo, 0), number(100*share.Hi, 0))}
	lean := ""
	if p.LeanK > 0 {
		lean = fmt.Sprintf(", %s of its cold end for what made winters are not validated for", t.span(p.LeanK))
	}
	out = append(out, fmt.Sprintf("In the middle of these winters the lowest there is %s; in 8 winters of 10 it lies between %s and %s%s.", t.temp(p.Band.Middle), t.temp(p.Band.Lo), t.temp(p.Band.Hi), lean))
	if len(a.Worst) > 0 {
		w := a.Worst[0]
		out = append(out, fmt.Sprintf("The coldest of all %d, %s, comes down to %s on %s.", n, a.Names[w.Winter], t.temp(w.LowestC), when(w.At.In(a.Span.Start.Location()))))
	}
	if h := a.House; h != nil {
		out = append(out, fmt.Sprintf("Apart from that, what is not known of the house puts any one winter's lowest %s to %s off, in 8 houses of 10.", t.difference(h.Shift.Lo), t.difference(h.Shift.Hi)))
		out = append(out, t.sharesSentence(h))
	} else {
		out = append(out, "What is not known of the house is not in these figures.")
	}
	return out
}

// chanceWords are a share in words, and the figure.
func (t Teller) chanceWords(a *chance.Answer, s chance.Share) string {
	figure := fmt.Sprintf("in %d of %d winters", s.Of, s.Winters)
	switch {
	case a.Stays():
		return "is unlikely: it comes " + figure
	case s.Of == 0:
		return "comes in none of these " + fmt.Sprint(s.Winters) + " winters, but the lowests lie too near for it to be called unlikely"
	case s.Value() < 0.1:
		return "comes seldom, " + figure
	case s.Value() < 0.5:
		return "can come, " + figure
	case s.Value() < 0.9:
		return "is likely: it comes " + figure
	}
	return "is all but sure: it comes " + figure
}

func (t Teller) sharesSentence(h *chance.House) string {
	winters := number(100*h.WinterShare, 0)
	out := fmt.Sprintf("Of what makes lowests differ, %s %% is the winter and %s %% the house", winters, number(100-math.Round(100*h.WinterShare), 0))
	if len(h.Inputs) > 0 {
		out += fmt.Sprintf("; of the house most is %s, %s %%", h.Inputs[0].Label, number(100*h.Inputs[0].Share, 0))
	}
	return out + "."
}

// told tells whether places of a kind have a row: faces are left to JSON.
func told(kind greenhouse.PlaceKind) bool { return kind != greenhouse.FacePlace }

// chanceMonths is the chance of frost by place and month.
func (t Teller) chanceMonths(p *page, a *chance.Answer) {
	p.head(fmt.Sprintf("Winters of %d in which it falls below %s, by place and month", len(a.Names), t.temp(0)))
	heads := []string{"", "any"}
	for _, m := range a.Months {
		heads = append(heads, m.String()[:3])
	}
	tab := newTable(heads)
	for i := range a.Places {
		q := &a.Places[i]
		if !told(q.Kind) {
			continue
		}
		cells := []string{q.Name, fmt.Sprint(q.Frost.Of)}
		for _, s := range q.Month {
			cells = append(cells, fmt.Sprint(s.Of))
		}
		tab.row(cells...)
	}
	p.table(tab)
}

// chanceReturns is the lowest by return period, with its own error.
func (t Teller) chanceReturns(p *page, a *chance.Answer) {
	p.head(fmt.Sprintf("Lowest that comes once in so many winters [%s]", t.degree()))
	heads := []string{"one winter in"}
	for _, r := range a.Places[0].Returns {
		heads = append(heads, fmt.Sprint(r.Years))
	}
	tab := newTable(heads)
	for i := range a.Places {
		q := &a.Places[i]
		if !told(q.Kind) {
			continue
		}
		cells := []string{q.Name}
		for _, r := range q.Returns {
			cells = append(cells, t.figure(r.C))
		}
		tab.row(cells...)
		if i == a.Watched {
			own := []string{"  8 in 10 of its own error"}
			for _, r := range q.Returns {
				own = append(own, t.ownError(r))
			}
			tab.row(own...)
		}
	}
	p.table(tab)
	p.say(fmt.Sprintf("From the order of %d winters alone, no form of distribution assumed; \"?\" is what so many cannot tell, \"<\" that colder is possible than any of them.", len(a.Names)))
}

func (t Teller) ownError(r chance.Return) string {
	switch {
	case math.IsNaN(r.C):
		return "?"
	case math.IsNaN(r.Lo):
		return "< .. " + t.figure(r.Hi)
	}
	return t.figure(r.Lo) + " .. " + t.figure(r.Hi)
}

// chanceHours is how long it stays below.
func (t Teller) chanceHours(p *page, a *chance.Answer) {
	p.head("Hours of a winter below")
	heads := [][]string{{"", t.temp(0), t.temp(0)}, {"", "mean", "most"}}
	if a.LimitC != 0 {
		heads = [][]string{{"", t.temp(0), t.temp(0), t.temp(a.LimitC), t.temp(a.LimitC)}, {"", "mean", "most", "mean", "most"}}
	}
	tab := newTable(heads...)
	for i := range a.Places {
		q := &a.Places[i]
		if !told(q.Kind) || q.BelowH[0].Most+q.BelowH[1].Most == 0 {
			continue
		}
		cells := []string{q.Name, number(q.BelowH[0].Mean, 0), number(q.BelowH[0].Most, 0)}
		if a.LimitC != 0 {
			cells = append(cells, number(q.BelowH[1].Mean, 0), number(q.BelowH[1].Most, 0))
		}
		tab.row(cells...)
	}
	if len(tab.rows) == 0 {
		p.say("None, at any place.")
		return
	}
	p.table(tab)
}

// chanceHouse is the band of the house, apart from that of the winters.
func (t Teller) chanceHouse(p *page, a *chance.Answer) {
	if a.Watched < 0 {
		return
	}
	p.head("Two bands, apart: 8 of 10 lie within")
	tab := newTable([]string{"lowest at " + a.Places[a.Watched].Name + " [" + t.degree() + "]", "from", "middle", "to"})
	row := func(name string, b chance.Band) { tab.row(name, t.figure(b.Lo), t.figure(b.Middle), t.figure(b.Hi)) }
	b := a.Places[a.Watched].Band
	row("over winters, the house as planned", b)
	h := a.House
	if h == nil {
		p.table(tab)
		return
	}
	row("over what is not known of the house, the middle winter", chance.Band{Lo: b.Middle + h.Shift.Lo, Middle: b.Middle + h.Shift.Middle, Hi: b.Middle + h.Shift.Hi})
	row("both", h.Both)
	p.table(tab)
	t.inputShares(p, h.Inputs, h.Draws)
	p.say(fmt.Sprintf("%s drawn, each through one of the winters and beside the plan in the same one. Sources of the spreads: 'suncellar check'.", count(h.Draws, "house")))
}

// worstTold is how many of the coldest winters are told.
const worstTold = 8

// ColdSpell is the coldest night of one of many winters.
type ColdSpell struct{ Winter, Lowest, Night string }

// ChanceSentences are many winters in words: how likely frost is, the lowests over winters, and apart from them what is not known of the house.
func (t Teller) ChanceSentences(a *chance.Answer) []string { return t.chanceSentences(a) }

// ColdSpells are the coldest nights of all winters at the watched place, one a winter, the coldest first.
func (t Teller) ColdSpells(a *chance.Answer) []ColdSpell {
	list := []ColdSpell{}
	for _, w := range a.Worst[:min(worstTold, len(a.Worst))] {
		list = append(list, ColdSpell{a.Names[w.Winter], t.temp(w.LowestC), when(w.At.In(a.Span.Start.Location()))})
	}
	return list
}

// chanceWorst are the coldest winters, so that each can be looked at again.
func (t Teller) chanceWorst(p *page, a *chance.Answer) {
	if len(a.Worst) == 0 {
		return
	}
	p.head("Coldest winters")
	p.say("At " + a.Places[a.Watched].Name + ":")
	tab := newTable([]string{"", "winter", t.degree(), "night"})
	tab.left[1], tab.left[3] = true, true
	for i, w := range a.Worst[:min(worstTold, len(a.Worst))] {
		tab.row(fmt.Sprint(i+1), a.Names[w.Winter], t.figure(w.LowestC), shortDay(w.At.In(a.Span.Start.Location())))
	}
	p.table(tab)
	p.say("To look at one again: 'suncellar simulate PLAN --winter NAME', with the same --record where there was one.")
}

func (t Teller) chanceCautions(a *chance.Answer) []string {
	list := []string{
		"chance is over these winters; a climate that changes, or a place that is not quite this one, is not in them",
		"the ground without the house is that of one typical year for all winters",
	}
	if a.LeanOutdoorsK > 0 {
		list = append(list, fmt.Sprintf("made winters are not validated to be as cold as a record's, by up to %s outdoors: lower ends are colder by what that does inside (%s at the watched place), and the upper ends of chances hold it", t.span(a.LeanOutdoorsK), t.span(watchedLean(a))))
	}
	for _, l := range a.LeftOut {
		list = append(list, "left out of the record: "+l)
	}
	if a.Few != "" {
		list = append(list, a.Few)
	}
	if a.Made {
		list = append(list, "the winters are made from monthly means: how long and how cold their spells are is the generator's, see docs/validation.md for what that was held against and where it fails; a record of the place is better")
	}
	if len(a.Names) < 20 {
		list = append(list, fmt.Sprintf("%d winters are few: one in twenty cannot be told from them", len(a.Names)))
	}
	for _, f := range a.Failed {
		list = append(list, "not computed, and counted as cold: "+f)
	}
	if a.House != nil && a.House.Failed > 0 {
		list = append(list, fmt.Sprintf("%s could not be computed and are left out of the house's band", count(a.House.Failed, "drawn house")))
	}
	list = append(list, winter.FootingCautions(a.Prepared.House)...)
	return append(list, "what the physics simplifies and what the plan leaves to assumptions is told by 'suncellar simulate'")
}

// watchedLean is the lean at the place told first [K].
func watchedLean(a *chance.Answer) float64 {
	if a.Watched < 0 {
		return a.LeanOutdoorsK
	}
	return a.Places[a.Watched].LeanK
}
