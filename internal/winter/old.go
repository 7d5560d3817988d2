package winter

import (
	"context"

	"suncellar/internal/greenhouse"
)

// OldYears is how many years longer the house of the old state has stood. Two are nearly all of it: on Larch Hollow three more move no place's
// lowest by more than 0.01 K.
const OldYears = 2

// Old is the same winter of the same house when it has stood for years and warmed its ground.
type Old struct {
	Years  int // that it has stood before this winter
	Result *greenhouse.Result
}

// old runs the house once more after OldYears years with it, under the same snow. Nil where it touches no soil. It is a run of whole years: about three times
// the work of a winter for each.
func (p *Prepared) old(ctx context.Context, snow greenhouse.SnowCase, progress Progress) (*Old, error) {
	if p.Ground == nil {
		return nil, nil
	}
	aged := *p
	aged.age = p.age + OldYears
	if err := aged.span(p.req); err != nil {
		return nil, err
	}
	aged.Sun = greenhouse.Spans(aged.Plan, &aged.Span)
	r, err := aged.Simulate(ctx, snow, progress)
	if err != nil {
		return nil, err
	}
	return &Old{aged.age, r}, nil
}
