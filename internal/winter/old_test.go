package winter

import (
	"context"
	"errors"
	"slices"
	"testing"

	"suncellar/internal/plan"
)

// The older house is shown beside, and is the house that the plan's ground.age would make; its soil is warmer.
func TestOldIsShownBeside(t *testing.T) {
	if testing.Short() {
		t.Skip("four years of a house")
	}
	t.Parallel()
	january := []plan.Change{{Path: "run.from", Value: "01-01"}, {Path: "run.until", Value: "01-20"}, {Path: "ground.built", Value: "12-20"}, {Path: "ground.finest_cell", Value: "30 cm"}, {Path: "ground.reach", Value: "3 m"}}
	ask := func(changes ...plan.Change) Request {
		return Request{Plan: coarse(t, append(january, changes...)...), Old: true}
	}
	a, err := Run(context.Background(), ask(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if a.Old == nil || a.Old.Years != OldYears || a.Skip != 12*24 {
		t.Fatalf("older house %v, %d h before the first that counts", a.Old, a.Skip)
	}
	if a.Old.Result.Heat.ImbalanceRel > 1e-9 {
		t.Errorf("the older house's heat is open by %.2g", a.Old.Result.Heat.ImbalanceRel)
	}
	warmer := 0
	for i, p := range a.Places {
		if old, _ := a.Old.Result.Traces[i].Lowest(); p.InSoil && old > p.LowestC {
			warmer++
		}
	}
	if warmer != 6 {
		t.Errorf("%d of 6 places in the soil are warmer in the older house", warmer)
	}
	// the hours of the older house are those of the plan's ground.age
	aged := *a.Prepared
	aged.age += OldYears
	given := &Prepared{Plan: ask(plan.Change{Path: "ground.age", Value: "2"}).Plan, age: 2, Year: a.Year, ring: a.Year}
	if err := errors.Join(aged.span(a.req), given.span(a.req)); err != nil {
		t.Fatal(err)
	}
	if aged.Skip != given.Skip || aged.Skip != a.Skip+OldYears*8760 || !slices.Equal(aged.Span.Hours[:aged.Skip:aged.Skip], given.Span.Hours[:given.Skip:given.Skip]) {
		t.Errorf("%d hours before the first that counts, %d with ground.age, %d alone", aged.Skip, given.Skip, a.Skip)
	}
}
