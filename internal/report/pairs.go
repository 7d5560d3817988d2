package report

import (
	"fmt"

	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// OfPairs is what is told of what is not known of the house beside a comparison. The zero value tells nothing of it.
type OfPairs struct {
	Order, Drawn *worth.Pairs // to first order; by drawn houses, nil where none were asked for
}

// best is the pairs that sentences and pictures are of: the drawn houses before the first order; nil where there are none.
func (o OfPairs) best() *worth.Pairs {
	for _, p := range []*worth.Pairs{o.Drawn, o.Order} {
		if p != nil && p.Why == "" {
			return p
		}
	}
	return nil
}

// pairsBy is what pairs stand on, in words.
func pairsBy(p *worth.Pairs) string {
	if p.Drawn > 0 {
		return fmt.Sprintf("by %d drawn houses", p.Drawn)
	}
	return "to first order"
}

// pairSentence is the band of the change that does most, "" where there is none or it does no good.
func (t Teller) pairSentence(a *worth.Answer, of OfPairs) string {
	p, best := of.best(), bestRow(a)
	if p == nil || best < 0 || a.Rows[best].By.NightK <= 0 || p.Rows[best].Why != "" || !p.Rows[best].HasNight {
		return ""
	}
	b := p.Rows[best].Night
	s := fmt.Sprintf("In 8 of 10 houses built like this one it is worth between %s and %s on that night, for what is not known of the house (%s).", t.step(b.Lo), t.difference(b.Hi), pairsBy(p))
	if b.Lo <= 0 {
		s += " It may be worth nothing."
	}
	return s
}

// step is a signed difference of temperature without its unit [K].
func (t Teller) step(k float64) string {
	return signed(unit.InMain(unit.TemperatureDifference, k, t.System), 1)
}

// pairs are the tables of both kinds.
func (t Teller) pairs(p *page, a *worth.Answer, of OfPairs) {
	t.pairTable(p, a, of.Order, notKnownHead+": what 8 in 10 houses lie between")
	t.pairTable(p, a, of.Drawn, notKnownHead+": the same by drawn houses")
}

func (t Teller) pairTable(p *page, a *worth.Answer, b *worth.Pairs, head string) {
	if b == nil {
		return
	}
	p.head(head)
	if b.Why != "" {
		p.say(b.Why)
		return
	}
	d := t.degree()
	tab := newTable([]string{"", "own", "lowest", "change", "of it", "change on", "worst night"}, []string{"change", "from", "to " + d, "from", "to " + d, "from", "to " + d})
	tab.row("as planned", t.figure(b.Base.Lo), t.figure(b.Base.Hi))
	var notes []string
	for i := range b.Rows {
		r, name := &b.Rows[i], a.Rows[i].Variant.Name()
		if r.Why != "" {
			tab.row(name, "not told")
			notes = append(notes, name+": no band, "+r.Why)
			continue
		}
		cells := []string{name, t.figure(r.Own.Lo), t.figure(r.Own.Hi), t.step(r.Lowest.Lo), t.step(r.Lowest.Hi)}
		if r.HasNight {
			cells = append(cells, t.step(r.Night.Lo), t.step(r.Night.Hi))
		}
		tab.row(cells...)
	}
	p.table(tab)
	p.say(t.pairWords(a, b))
	for _, n := range notes {
		p.item(n)
	}
}

// pairWords tell how the bands were found.
func (t Teller) pairWords(a *worth.Answer, b *worth.Pairs) string {
	const alike = "a house that leaks twice as much as its plan is compared with the changed house that leaks twice as much as its own"
	if b.Drawn > 0 {
		s := fmt.Sprintf("%s drawn of each plan with the same dice, each through its whole winter with its own snow: %s. Other winters are not in it.", count(b.Drawn, "house"), alike)
		if b.Failed > 0 {
			s += fmt.Sprintf(" %d more could not be computed and are left out.", b.Failed)
		}
		return s
	}
	through := "the whole winter"
	if !b.Whole {
		through = "the weeks round the worst nights, from houses that stand from " + local(a.First, b.Built).Format("2 January") + " on"
	}
	return fmt.Sprintf("To first order, through %s: each thing that is not known is moved alone by one standard deviation, in the plan and with the change: %s. Other winters are not in it.", through, alike)
}

// The bands of a comparison in JSON, in the order of its changes.
type pairsJSON struct {
	Over      string        `json:"over"`
	Share     float64       `json:"share"`
	Drawn     int           `json:"houses_drawn,omitempty"`
	Failed    int           `json:"not_computed,omitempty"`
	AsPlanned bandJSON      `json:"as_planned_lowest"`
	Changes   []pairRowJSON `json:"changes"`
}

type pairRowJSON struct {
	Name   string     `json:"name"`
	Why    string     `json:"no_band_because,omitempty"`
	Own    *bandJSON  `json:"lowest,omitempty"`
	Lowest *shiftJSON `json:"by_lowest,omitempty"`
	Night  *shiftJSON `json:"by_worst_night,omitempty"`
}

// pairsAsJSON is nil, and says why, where there are none.
func pairsAsJSON(a *worth.Answer, b *worth.Pairs) (*pairsJSON, string) {
	if b == nil || b.Why != "" {
		if b == nil {
			return nil, ""
		}
		return nil, b.Why
	}
	out := &pairsJSON{Over: "what is not known of the house, in this one winter", Share: 0.8, Drawn: b.Drawn, Failed: b.Failed, AsPlanned: endsAsJSON(b.Base), Changes: []pairRowJSON{}}
	for i := range b.Rows {
		r := &b.Rows[i]
		j := pairRowJSON{Name: a.Rows[i].Variant.Name(), Why: r.Why}
		if r.Why == "" {
			own, lowest, night := endsAsJSON(r.Own), shiftJSON(r.Lowest), shiftJSON(r.Night)
			j.Own, j.Lowest = &own, &lowest
			if r.HasNight {
				j.Night = &night
			}
		}
		out.Changes = append(out.Changes, j)
	}
	return out, ""
}

func endsAsJSON(e worth.Ends) bandJSON { return bandJSON{finite(e.Lo), finite(e.Middle), finite(e.Hi)} }
