package report

import (
	"fmt"

	"suncellar/internal/chance"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// Houses is the part of a winter's answer that tells its band over drawn houses.
func (t Teller) Houses(a *winter.Answer, h *chance.Houses) string {
	p := &page{}
	p.head("What is not known of the house: drawn houses in this winter")
	if h == nil {
		p.say("The plan takes everything as known: no house was drawn.")
		return p.String()
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
	if h.Failed > 0 {
		words += fmt.Sprintf(" %d more could not be computed and are left out.", h.Failed)
	}
	p.say(words)
	return p.String()
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
