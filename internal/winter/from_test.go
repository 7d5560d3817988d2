package winter

import (
	"context"
	"math"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// TestFrom: a house that has been changed, begun in the warmth that the one before stood in on the first of October, has the lowests of its own whole winter
// within 0.15 K; and a house that is not changed, within 0.1 K.
func TestFrom(t *testing.T) {
	t.Parallel()
	load := func(changes ...plan.Change) *Prepared {
		p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(),
			append([]plan.Change{{Path: "ground.finest_cell", Value: "20 cm"}, {Path: "ground.reach", Value: "4 m"}, {Path: "run.until", Value: "01-15"}}, changes...)...)
		if p == nil {
			t.Fatal(plan.AsError(findings))
		}
		q, err := Prepare(Request{Plan: p})
		if err != nil {
			t.Fatal(err)
		}
		q.Keep = true
		return q
	}
	run := func(p *Prepared) *Answer {
		a, err := p.Answer(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	rest := run(load())
	for _, c := range []struct {
		within  float64
		changes []plan.Change
	}{
		{0.1, nil},
		{0.15, []plan.Change{{Path: "shape.width", Value: "5.2 m"}}},
		{0.15, []plan.Change{{Path: "shape.depth", Value: "1.4 m"}}},
		{0.15, []plan.Change{{Path: "store.rows[0].drums", Value: "22"}}},
	} {
		whole := load(c.changes...)
		quick := whole.From(rest.Result)
		if !quick.Carried() || quick.Skip != 0 {
			t.Fatal("nothing is carried")
		}
		a, b := run(whole), run(quick)
		if a.Result.Hours() != b.Result.Hours() || !a.Result.Start.Equal(b.Result.Start) {
			t.Errorf("%v: %d hours from %v, must be %d from %v", c.changes, b.Result.Hours(), b.Result.Start, a.Result.Hours(), a.Result.Start)
		}
		for i := range a.Places {
			d := b.Places[i].LowestC - a.Places[i].LowestC
			if !(math.Abs(d) <= c.within) {
				t.Errorf("%v: %s: %.2f °C at the lowest, %.2f in its whole winter", c.changes, a.Places[i].Name, b.Places[i].LowestC, a.Places[i].LowestC)
			}
		}
	}
}
