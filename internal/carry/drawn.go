package carry

import (
	"context"
	"fmt"
	"slices"

	"suncellar/internal/numeric"
	"suncellar/internal/plan"
	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// drawn finds the band by drawn houses: each through its whole winter up to the sunset, with its own snow, and from there through the spell and the colds of the curve's first case. A tenth
// of them last shorter than Lo, a tenth longer than Hi; one that lasts beyond MaxDays counts as just that, so that the ends below it are as they are.
func (s *passage) drawn(ctx context.Context, req Request, first int, progress winter.Progress) (*Band, error) {
	a := s.a
	all := unknown.Of(a.Plan, a.House)
	switch {
	case a.Plan.Run.Span == "whole year":
		return &Band{Why: "Houses are drawn for a winter, from run.from to run.until; this plan runs a whole year: no house was drawn."}, nil
	case !notKnown(all):
		return &Band{Why: "The plan takes everything as known: no house was drawn."}, nil
	}
	z := unknown.Houses(all, uint64(a.Plan.Run.Seed), req.Houses)
	count := &counter{tell: progress, total: len(z)}
	lasts, errs := make([][]float64, len(z)), make([]error, len(z))
	err := winter.AtOnce(ctx, len(z), req.AtOnce, func(i int) {
		p, err := unknown.Apply(a.Plan, all, z[i])
		if err == nil {
			lasts[i], err = s.lasts(ctx, req, first, p)
		}
		errs[i] = err
		count.add()
	})
	if err != nil {
		return nil, err
	}
	b := &Band{}
	var good [][]float64
	for i := range z {
		if errs[i] != nil {
			b.Failed++
			err = errs[i]
			continue
		}
		good = append(good, lasts[i])
	}
	if b.Failed > len(z)/10 {
		return &Band{Why: fmt.Sprintf("%d of %d drawn houses could not be computed: there is no band (%v).", b.Failed, len(z), err)}, nil
	}
	b.Drawn = len(good)
	b.Asked = timesOf(good, 0)
	if a.Curve != nil {
		for i := range a.Curve.OutsideC {
			b.Curve = append(b.Curve, timesOf(good, i+1))
		}
	}
	return b, nil
}

// lasts is how long a drawn house lasts in the spell that was asked for and in the colds of the curve [h].
func (s *passage) lasts(ctx context.Context, req Request, first int, drawn *plan.Plan) ([]float64, error) {
	a := s.a
	p, err := a.Prepared.Drawn(drawn)
	if err != nil {
		return nil, err
	}
	o, err := a.atSunset(ctx, req, p, first, nil, false)
	if err != nil {
		return nil, err
	}
	var own Point
	if err := o.point(ctx, req, &CurveCase{Case: asked(req)}, a.Spec.MeanC, &own); err != nil {
		return nil, err
	}
	list := []float64{own.Hours}
	if a.Curve == nil {
		return list, nil
	}
	c := &CurveCase{Case: a.Curve.Cases[0].Case, Points: make([]Point, len(a.Curve.OutsideC))}
	if err := o.oneCase(ctx, req, c, a.Curve.OutsideC, &counter{}); err != nil {
		return nil, err
	}
	for _, x := range c.Points {
		list = append(list, x.Hours)
	}
	return list, nil
}

// timesOf is the band of one spell over all houses.
func timesOf(houses [][]float64, k int) Times {
	var hours []float64
	for _, h := range houses {
		hours = append(hours, h[k])
	}
	slices.Sort(hours)
	t := Times{Lo: numeric.Quantile(hours, 0.1), Hi: numeric.Quantile(hours, 0.9)}
	t.MoreLo, t.MoreHi = t.Lo >= MaxDays*24, t.Hi >= MaxDays*24
	return t
}

// notKnown tells whether anything is unknown of a house.
func notKnown(all []unknown.Input) bool {
	return slices.ContainsFunc(all, func(in unknown.Input) bool { return in.On })
}
