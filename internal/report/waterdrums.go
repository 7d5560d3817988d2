package report

import (
	"fmt"

	"suncellar/internal/drawing"
	"suncellar/internal/water"
)

// drumsCurve is the balance that has a curve to draw; nil where none has.
func drumsCurve(a *water.Answer) *water.Balance {
	if a.Rain == nil || len(a.Rain.Curve) < 2 {
		return nil
	}
	return a.Rain
}

// drums is reliability over the number of drums.
func (t Teller) drums(a *water.Answer, b *water.Balance) drawing.DrumsCurve {
	in := drawing.DrumsCurve{Title: "How many drums: reliability", Across: "drums", Plan: -1,
		Sentences: []string{"Reliability is the share of the days that want water on which all of it was there, in " + b.Source + ". Drums as they stand in the plan, more or fewer of them."}}
	for i, c := range b.Curve {
		if c.Drums == b.Drums {
			in.Plan = i
		}
		words := share(c.Reliability) + " %"
		in.Points = append(in.Points, drawing.DrumsPoint{Drums: c.Drums, Share: c.Reliability, Words: words,
			Tip: fmt.Sprintf("%s: %s, %s given and %s spilled a year", count(c.Drums, "drum"), words, t.water(c.Given), t.water(c.Spilled))})
	}
	return in
}
