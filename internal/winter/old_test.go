package winter

import (
	"context"
	"testing"

	"suncellar/internal/plan"
)

// The older house is shown beside, and is the house that the plan's ground.age would make; what is told first is not moved by it.
func TestOldIsShownBeside(t *testing.T) {
	if testing.Short() {
		t.Skip("four years of a house")
	}
	t.Parallel()
	january := []plan.Change{{Path: "run.from", Value: "01-01"}, {Path: "run.until", Value: "01-20"}, {Path: "ground.built", Value: "12-20"}, {Path: "ground.finest_cell", Value: "30 cm"}, {Path: "ground.reach", Value: "3 m"}}
	run := func(old bool, changes ...plan.Change) *Answer {
		a, err := Run(context.Background(), Request{Plan: coarse(t, append(january, changes...)...), Old: old}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	plain, beside, aged := run(false), run(true), run(false, plan.Change{Path: "ground.age", Value: "2"})
	if plain.Old != nil || beside.Old == nil || beside.Old.Years != OldYears {
		t.Fatalf("older houses: %v, %v", plain.Old, beside.Old)
	}
	warmer := 0
	for i := range plain.Places {
		if plain.Places[i].LowestC != beside.Places[i].LowestC {
			t.Errorf("%s: %g °C alone, %g °C with the older house beside", plain.Places[i].Name, plain.Places[i].LowestC, beside.Places[i].LowestC)
		}
		old, _ := beside.Old.Result.Traces[i].Lowest()
		if old != aged.Places[i].LowestC {
			t.Errorf("%s: %g °C in the older house, %g °C with ground.age", plain.Places[i].Name, old, aged.Places[i].LowestC)
		}
		if plain.Places[i].InSoil && old > plain.Places[i].LowestC {
			warmer++
		}
	}
	if warmer != 6 {
		t.Errorf("%d of 6 places in the soil are warmer in the older house", warmer)
	}
}
