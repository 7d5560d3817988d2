package web

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// choicesStudy computes all choices and the bands of their differences.
func choicesStudy(ctx context.Context, in *StudyRequest, p *plan.Plan, t report.Teller, progress winter.Progress) (*studied, error) {
	req := worth.Request{Plan: p}
	var bad []error
	for i, c := range in.Choices.List {
		changes, err := c.parsed()
		if err != nil {
			bad = append(bad, fmt.Errorf("choice %d: %w", i+1, err))
		}
		req.Variants = append(req.Variants, worth.Variant{Label: strings.TrimSpace(c.Name), Changes: changes})
	}
	if len(req.Variants) == 0 {
		bad = append(bad, errors.New("no choice to compute: add one first"))
	}
	if err := errors.Join(bad...); err != nil {
		return nil, err
	}
	a, err := worth.Compare(ctx, req, part(progress, 0, winterShare))
	if a == nil {
		return nil, err // what is wrong with single choices is told in their rows
	}
	for _, w := range append([]*winter.Answer{a.First}, wintersOf(a)...) {
		if err := w.Result.CheckBooks(); err != nil {
			return nil, err
		}
	}
	var of report.OfPairs
	if of.Order, err = worth.FirstOrder(ctx, a, 0, part(progress, winterShare, 1)); err != nil {
		return nil, err
	}
	var costs *report.Costs
	if list, ok := pricesOf(in.Choices.Prices, p, &PricesLook{}); ok {
		costs = report.CostsOf(list, a)
	}
	pictures, err := t.ComparePictures(a, of, costs)
	if err != nil {
		return nil, err
	}
	out := &Choices{Rows: []ChoiceTold{}}
	for _, c := range t.Choices(a, of, costs) {
		out.Rows = append(out.Rows, ChoiceTold{c.Name, c.Error, c.Night, c.Band, c.Lowest, c.Below, c.Light, c.Water, c.Cost, c.PerMoney, append([]string{}, c.Notes...), append([]string{}, c.Costs...), c.NightK, c.PerK, c.Money})
	}
	return &studied{sentences: t.ChoicesSentences(a, of, costs), text: t.Compare(a, of, costs), pictures: pictures, choices: out}, nil
}

// wintersOf are those of the choices that could be computed.
func wintersOf(a *worth.Answer) []*winter.Answer {
	var list []*winter.Answer
	for i := range a.Rows {
		if a.Rows[i].Err == nil {
			list = append(list, a.Rows[i].Winter)
		}
	}
	return list
}

// winterShare is how much of a study of choices the winters take; the rest is their bands.
const winterShare = 0.25

// part tells the progress of one part of a work as that of the whole, in thousandths.
func part(tell winter.Progress, from, to float64) winter.Progress {
	return func(done, total int) {
		tell(int(1000*(from+(to-from)*float64(done)/float64(max(1, total)))), 1000)
	}
}
