package report

import (
	"fmt"
	"math"

	"suncellar/internal/carry"
)

// What is not known of the house beside a carry-through.

// carryBest is the band that sentences are of: by drawn houses before that to first order; nil where there is none.
func carryBest(a *carry.Answer) *carry.Band {
	for _, b := range []*carry.Band{a.Drawn, a.Band} {
		if b != nil && b.Why == "" {
			return b
		}
	}
	return nil
}

// carryBy is what a band stands on, in a word or two.
func carryBy(b *carry.Band) string {
	if b.Drawn > 0 {
		return fmt.Sprintf("%d drawn", b.Drawn)
	}
	return "first order"
}

// carryByWords is the same in a sentence.
func carryByWords(b *carry.Band) string {
	if b.Drawn > 0 {
		return fmt.Sprintf("by %d drawn houses", b.Drawn)
	}
	return "to first order"
}

// curveBands are the bands of the curve's first case, to first order before drawn houses.
func curveBands(a *carry.Answer) []*carry.Band {
	var list []*carry.Band
	for _, b := range []*carry.Band{a.Band, a.Drawn} {
		if b != nil && b.Why == "" && b.Curve != nil {
			list = append(list, b)
		}
	}
	return list
}

// carrySure is how sure a time is: the band of the house, and what it means.
func (t Teller) carrySure(a *carry.Answer) string {
	const spell = "simulated from one state, through one stated spell"
	b := carryBest(a)
	switch {
	case b == nil && a.Band != nil:
		return "How sure: " + spell + ". " + a.Band.Why
	case b == nil:
		return "How sure: " + spell + "; what is not known of the house is not in this time."
	}
	what := "the time that counts is between " + lastsWords(b.Asked.Lo, b.Asked.MoreLo) + " and " + lastsWords(b.Asked.Hi, b.Asked.MoreHi)
	if b.Asked.MoreLo {
		what = "the time that counts is " + lastsWords(b.Asked.Lo, true)
	}
	return fmt.Sprintf("How sure: %s. In 8 of 10 houses built like this one %s, for what is not known of the house (%s): count on the shorter.", spell, what, carryByWords(b))
}

// lastsWords is a time that may be longer than what was run.
func lastsWords(hours float64, more bool) string {
	switch {
	case more:
		return "more than " + daysHours(hours)
	case hours == 0:
		return "none at all"
	}
	return daysHours(hours)
}

// timesWords are both ends in a cell, in days.
func timesWords(x carry.Times) string {
	end := func(h float64, more bool) string {
		switch {
		case more && h >= carry.MaxDays*24:
			return fmt.Sprintf("> %d", carry.MaxDays)
		case more:
			return "> " + days(h)
		}
		return days(h)
	}
	if x.MoreLo {
		return end(x.Lo, true)
	}
	return end(x.Lo, x.MoreLo) + " to " + end(x.Hi, x.MoreHi)
}

// carryBandNotes tell how the bands were found, or why there is none.
func (t Teller) carryBandNotes(p *page, a *carry.Answer) {
	if a.Band == nil && a.Drawn == nil {
		return
	}
	p.head(notKnownHead)
	if b := a.Band; b != nil && b.Why != "" {
		p.say(b.Why)
	} else if b != nil {
		p.say("8 in 10, to first order: " + t.askedWords(b) + ". Each thing that is not known is moved alone by one standard deviation, which moves the temperature of every hour; the time is read off the band of temperatures, for it leaps from night to night. The moved houses stand from 38 days before the spell on. Other spells, and snow that slides on another day, are not in it.")
	}
	if b := a.Drawn; b != nil && b.Why != "" {
		p.say(b.Why)
	} else if b != nil {
		s := fmt.Sprintf("8 in 10 of %s, each through the winter up to that sunset and from there through the spell: %s.", count(b.Drawn, "drawn house"), t.askedWords(b))
		if b.Failed > 0 {
			s += fmt.Sprintf(" %d more could not be computed and are left out.", b.Failed)
		}
		p.say(s)
	}
}

func (t Teller) askedWords(b *carry.Band) string {
	return lastsWords(b.Asked.Lo, b.Asked.MoreLo) + " to " + lastsWords(b.Asked.Hi, b.Asked.MoreHi)
}

// The band of a carry-through in JSON.
type carryBandJSON struct {
	Why    string      `json:"no_band_because,omitempty"`
	Over   string      `json:"over,omitempty"`
	Share  float64     `json:"share,omitempty"`
	Drawn  int         `json:"houses_drawn,omitempty"`
	Failed int         `json:"not_computed,omitempty"`
	Time   *timesJSON  `json:"time_that_counts,omitempty"`
	Curve  []timesJSON `json:"curve_full_store,omitempty"`
	LoC    []float64   `json:"by_hour_from_c,omitempty"`
	HiC    []float64   `json:"by_hour_to_c,omitempty"`
}

// timesJSON are ends in hours; one that is marked lies beyond what was run, and is longer.
type timesJSON struct {
	OutsideC *float64 `json:"outside_c,omitempty"`
	Lo       float64  `json:"from_hours"`
	MoreLo   bool     `json:"from_is_longer"`
	Hi       float64  `json:"to_hours"`
	MoreHi   bool     `json:"to_is_longer"`
}

func carryBandAsJSON(b *carry.Band, c *carry.Curve) *carryBandJSON {
	switch {
	case b == nil:
		return nil
	case b.Why != "":
		return &carryBandJSON{Why: b.Why}
	}
	times := func(x carry.Times) timesJSON { return timesJSON{nil, x.Lo, x.MoreLo, math.Max(x.Lo, x.Hi), x.MoreHi} }
	asked := times(b.Asked)
	out := &carryBandJSON{Over: "what is not known of the house, in this one spell", Share: 0.8, Drawn: b.Drawn, Failed: b.Failed, Time: &asked, LoC: b.LoC, HiC: b.HiC}
	for i, x := range b.Curve {
		j := times(x)
		j.OutsideC = &c.OutsideC[i]
		out.Curve = append(out.Curve, j)
	}
	return out
}
