package report

import (
	"fmt"

	"suncellar/internal/chance"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// WhileDragged is what has to be known of the winter of a house that is being shaped.
const WhileDragged = "While you drag: to about two tenths of a degree, begun in the warmth of ground and water as the plan last stood at rest."

// OfHouse is what is told of what is not known of the house beside a winter. The zero value tells nothing of it.
type OfHouse struct {
	Order       *worth.UnitAnswer // its band to first order; nil: none
	Why         string            // why there is none, a sentence
	Drawn       *chance.Houses    // its band by drawn houses; nil: none
	WhyNotDrawn string            // why there is none though it was asked for
}

// asked tells whether anything is to be told.
func (o OfHouse) asked() bool { return o != OfHouse{} }

// lowest is the band of the watched place's lowest and what it stands on, the drawn houses before the first order.
func (o OfHouse) lowest(a *winter.Answer) (lo, hi float64, by string, ok bool) {
	if a.Watched < 0 {
		return 0, 0, "", false
	}
	if o.Drawn != nil {
		if q := o.Drawn.Place(a.Places[a.Watched].Name); q != nil {
			return q.Band.Lo, q.Band.Hi, fmt.Sprintf("by %d drawn houses", o.Drawn.Draws), true
		}
	}
	if o.Order != nil && o.Order.Band != nil {
		return o.Order.Band.Lo.LeafC, o.Order.Band.Hi.LeafC, "to first order", true
	}
	return 0, 0, "", false
}

// surely is how sure the lowest of a winter is: the band of the house, what it means, and that it holds no other winter.
func (t Teller) surely(a *winter.Answer, of OfHouse) string {
	lo, hi, by, ok := of.lowest(a)
	if !ok {
		return "How sure: one winter and one set of inputs; what other winters or unknown inputs would change is not in this figure."
	}
	return fmt.Sprintf("How sure: in 8 of 10 houses built like this one the lowest there is %s in this same winter, for what is not known of the house (%s). %s Other winters are not in that band.",
		t.between(lo, hi), by, t.bandMeans(lo, a.Places[a.Watched].LowestC, hi, a.LimitC))
}

// between is the two ends of a band of temperatures.
func (t Teller) between(lo, hi float64) string {
	return "between " + t.figure(lo) + " and " + t.temp(hi)
}

// bandMeans is what the band of the house means for a limit. That a limit holds is never said: a winter alone cannot tell it.
func (t Teller) bandMeans(lo, middle, hi, limitC float64) string {
	limit := "freezing"
	if limitC != 0 {
		limit = t.temp(limitC)
	}
	switch {
	case hi < limitC:
		return fmt.Sprintf("All of it lies below %s.", limit)
	case lo < limitC:
		return fmt.Sprintf("It reaches to both sides of %s: what is not known decides.", limit)
	case middle < limitC+closeK:
		return fmt.Sprintf("Its middle lies within %s of %s, too near to count upon.", t.span(closeK), limit)
	}
	return fmt.Sprintf("All of it lies above %s; whether that holds in other winters is for 'suncellar chance' to tell.", limit)
}

// ofHouse is the part of an answer that tells what is not known of the house, thing by thing.
func (t Teller) ofHouse(p *page, a *winter.Answer, of OfHouse) {
	if !of.asked() {
		return
	}
	switch {
	case of.Order == nil && of.Why != "":
		p.head(notKnownHead)
		p.say(of.Why)
	case of.Order != nil:
		_, unknown, _, failed := t.unitRows(of.Order)
		t.unknownTable(p, of.Order, unknown)
		t.unitNotes(p, unknown, failed)
	}
	t.drawnHouses(p, a, of)
}

const notKnownHead = "What is not known of the house"

// drawnHouses is the same by drawn houses, where they were asked for.
func (t Teller) drawnHouses(p *page, a *winter.Answer, of OfHouse) {
	h := of.Drawn
	if h == nil && of.WhyNotDrawn == "" {
		return
	}
	p.head(notKnownHead + ": drawn houses in this winter")
	if h == nil {
		p.say(of.WhyNotDrawn)
		return
	}
	tab := newTable([]string{"lowest [" + t.degree() + "], 8 in 10 houses of this plan", "planned", "from", "middle", "to"})
	for i := range h.Places {
		q := &h.Places[i]
		if told(q.Kind) {
			tab.row(q.Name, t.figure(q.PlannedC), t.figure(q.Band.Lo), t.figure(q.Band.Middle), t.figure(q.Band.Hi))
		}
	}
	p.table(tab)
	if a.Watched >= 0 {
		t.inputShares(p, h.Place(a.Places[a.Watched].Name).Inputs, h.Draws)
	}
	words := fmt.Sprintf("%s drawn, each run through the whole of the same winter; what other winters bring is not in it.", count(h.Draws, "house"))
	if lo, hi, ok := firstOrder(of); ok && a.Watched >= 0 {
		words += fmt.Sprintf(" To first order the band at %s is %s to %s.", within(a.Places[a.Watched].Name), t.figure(lo), t.temp(hi))
	}
	if h.Failed > 0 {
		words += fmt.Sprintf(" %d more could not be computed and are left out.", h.Failed)
	}
	p.say(words)
}

// firstOrder is the band of the first order where there is one.
func firstOrder(of OfHouse) (lo, hi float64, ok bool) {
	if of.Order == nil || of.Order.Band == nil {
		return 0, 0, false
	}
	return of.Order.Band.Lo.LeafC, of.Order.Band.Hi.LeafC, true
}

// inputShares is what each thing that is not known contributes.
func (t Teller) inputShares(p *page, inputs []chance.Input, draws int) {
	p.gap()
	if len(inputs) == 0 {
		p.say(fmt.Sprintf("%s are too few to tell what each thing that is not known contributes.", count(draws, "drawn house")))
		return
	}
	tab := newTable([]string{"not known", "share of", "one more", ""}, []string{"", "the house", t.degree(), "one deviation is"})
	tab.left[3] = true
	for _, in := range inputs {
		tab.row(in.Label, number(100*in.Share, 0)+" %", signed(unit.InMain(unit.TemperatureDifference, in.PerDeviation, t.System), 2), in.Spread)
	}
	p.table(tab)
}
