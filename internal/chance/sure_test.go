package chance

import (
	"context"
	"math"
	"reflect"
	"testing"

	"suncellar/examples"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// The band over what is not known of the demo house, to first order (package worth) and by drawn houses: both ends within a fifth of its width, to the middle of
// December, in which the house's coldest night of the winter lies. What is asked is told; the first run of the whole winter gave -6.5 to 0.3 and -6.4 to -0.3 °C.
func TestFirstOrderAndDrawnHousesAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("runs sixty houses")
	}
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow, plan.Change{Path: "run.until", Value: "12-15", Origin: plan.Changed})
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	first, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	order, err := worth.PerUnit(context.Background(), worth.UnitRequest{Plan: p, First: first, Kinds: []worth.Kind{worth.Unknown}, NoHalves: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := Sure(context.Background(), first, 0, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := order.Band.Lo.LeafC, order.Band.Hi.LeafC
	q := drawn.Place(order.At.Leaf)
	width := math.Max(hi-lo, q.Band.Hi-q.Band.Lo)
	t.Logf("%s: first order %.2f to %.2f °C, %d drawn houses %.2f to %.2f °C", q.Name, lo, hi, drawn.Draws, q.Band.Lo, q.Band.Hi)
	if math.Abs(lo-q.Band.Lo) > width/5 || math.Abs(hi-q.Band.Hi) > width/5 {
		t.Errorf("apart by more than a fifth of %.2f K", width)
	}
	if drawn.Failed > 0 || len(q.Inputs) == 0 || q.Inputs[0].Label != "leakage" {
		t.Errorf("%d houses failed; most is %+v, must be leakage as to first order", drawn.Failed, q.Inputs)
	}
}

// Houses that are drawn in two goes are those that are drawn in one.
func TestGrowIsSure(t *testing.T) {
	t.Parallel()
	p, findings := plan.Apply("crow-loft.yaml", examples.All()[2].Plan, plan.Change{Path: "run", Value: "{from: 01-05, until: 01-08}", Origin: plan.Changed})
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	first, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	few, err := Sure(context.Background(), first, 4, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	more, err := few.Grow(context.Background(), first, 7, 1, func(_, total int) { ran = total })
	if err != nil {
		t.Fatal(err)
	}
	all, err := Sure(context.Background(), first, 7, 0, nil)
	if err != nil || !reflect.DeepEqual(more.Places, all.Places) || more.Draws != 7 || few.Draws != 4 {
		t.Errorf("%d houses then %d are not %d at once: %v", few.Draws, more.Draws, all.Draws, err)
	}
	if ran != 3 {
		t.Errorf("%d were run again or anew, want 3", ran)
	}
}
