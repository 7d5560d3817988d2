package drill

import (
	"context"
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// FootingRequest asks on which days of the winter a bay could stand empty while what it stands on is mended, the others in service.
type FootingRequest struct {
	Plan   *plan.Plan
	Winter *winter.Answer // of the plan
	Bay    string         // or a row; "": the first bay
	Days   int            // that the work takes; 0: UsualFootingDays
	Every  int            // a begin is tried on every so many days; 0: 7
}

// UsualFootingDays is how long it takes: a day to drain, dig out and lay, three for the cement to set at 5 °C or more. ACI 306R-88 has 2 days at 10 °C until a frost does no more harm, from memory;
// the rest is own judgement.
const UsualFootingDays = 4

// cementC is the coldest air at the floor in which cement is laid and sets without being warmed [°C]; common practice, no source.
const cementC = 5.0

// marginK is how far above its limit every leaf has to stay with a bay empty for a begin to be told as open; the rule for what is called safe.
const marginK = 2.0

// FootingAnswer is each begin that was tried.
type FootingAnswer struct {
	Winter   *winter.Answer
	Bay      string
	Days     int
	WaterM3  float64 // that has to stand elsewhere or is let go
	Begins   []FootingBegin
	Cautions []string
}

// FootingBegin is a day on which the bay is emptied.
type FootingBegin struct {
	Begin   time.Time
	LowestC [2]float64 // of all leaves, or of the air where there are none, until three days after the work: without and with the bay empty
	FloorC  float64    // lowest air at the floor while it sets
	Open    bool       // no leaf comes within marginK of the limit
	Sets    bool       // the air at the floor stays at cementC or more
}

// Footing tries the begins. The water is let out at noon of the first day; it comes back at the same temperature as the rest of the store's on the last, where it was kept, which the
// answer leaves open: the begins are judged before it does.
func Footing(ctx context.Context, req FootingRequest, progress winter.Progress) (*FootingAnswer, error) {
	w := req.Winter
	bay := strings.TrimSpace(req.Bay)
	if names := w.House.BayNames(); bay == "" && len(names) > 0 {
		bay = names[0]
	}
	if len(w.House.BaysNamed(bay)) == 0 {
		return nil, fmt.Errorf("there is no bay or row %q in this house\nhint: bays: %s", bay, strings.Join(w.House.BayNames(), "; "))
	}
	a := &FootingAnswer{Winter: w, Bay: bay, Days: req.Days, Cautions: footingCautions(w)}
	if a.Days == 0 {
		a.Days = UsualFootingDays
	}
	every := req.Every
	if every == 0 {
		every = 7
	}
	t := &trial{a: &Answer{Winter: w, Kind: Leak}, req: Request{Plan: req.Plan}}
	g, err := greenhouse.New(w.House, t.setup())
	if err != nil {
		return nil, err
	}
	at := 0
	for first := w.Skip + midday; first+24*(a.Days+3) <= len(w.Span.Hours); first += 24 * every {
		piece := w.Span
		piece.Start, piece.Hours = w.Span.HourStart(at), w.Span.Hours[at:first]
		r, err := g.Run(ctx, &piece, greenhouse.Options{Skip: len(piece.Hours) - 1, Spans: w.Sun[at:first]})
		if err != nil {
			return nil, err
		}
		at = first
		b, err := t.tryFooting(ctx, a, g.State(), r, first)
		if err != nil {
			return nil, err
		}
		a.Begins = append(a.Begins, *b)
		if progress != nil {
			progress(first, len(w.Span.Hours))
		}
	}
	if len(a.Begins) == 0 {
		return nil, fmt.Errorf("the winter that is run is too short for %d days of work", a.Days)
	}
	return a, nil
}

// tryFooting runs the days of work from a state, with the bay full and with it empty.
func (t *trial) tryFooting(ctx context.Context, a *FootingAnswer, state greenhouse.State, before *greenhouse.Result, first int) (*FootingBegin, error) {
	w := a.Winter
	b := &FootingBegin{Begin: w.Span.HourStart(first)}
	held := 0.0
	for _, of := range before.Bays {
		for _, at := range w.House.BaysNamed(a.Bay) {
			if w.House.BayNamed(at) == of.Name {
				held += of.M3[0]
			}
		}
	}
	a.WaterM3 = math.Max(a.WaterM3, held)
	whole := 1.0
	t.a.Begin = b.Begin
	empty := w.Plan.WithEvents(plan.StoreEvent{Kind: "drain", Bay: a.Bay, From: dateOf(b.Begin), Hour: b.Begin.Hour(), Share: &whole, To: "outside"})
	end := first + 24*(a.Days+3)
	for k, p := range []*plan.Plan{w.Plan, empty} {
		r, _, err := t.stretch(ctx, p, state, first, end)
		if err != nil {
			return nil, fmt.Errorf("with %s empty from %s: %w", a.Bay, b.Begin.Format("01-02"), err)
		}
		b.LowestC[k] = coldestLeaf(r)
		if k == 1 {
			b.FloorC = math.Inf(1)
			for _, c := range t.airAt(r, w.House.FloorZ).C[:24*a.Days] {
				b.FloorC = math.Min(b.FloorC, c)
			}
		}
	}
	b.Open, b.Sets = min(b.LowestC[0], b.LowestC[1]) >= w.LimitC+marginK, b.FloorC >= cementC // an empty bay can come out the milder by snow that slides earlier
	return b, nil
}

// coldestLeaf is the lowest of all leaves, or of all air where there are none [°C].
func coldestLeaf(r *greenhouse.Result) float64 {
	for _, kind := range []greenhouse.PlaceKind{greenhouse.LeafPlace, greenhouse.AirPlace} {
		low := math.Inf(1)
		for i := range r.Traces {
			if r.Traces[i].Kind == kind {
				c, _ := r.Traces[i].Lowest()
				low = math.Min(low, c)
			}
		}
		if !math.IsInf(low, 1) {
			return low
		}
	}
	return math.NaN()
}

func footingCautions(w *winter.Answer) []string {
	return append([]string{
		"One winter, as it was computed: a colder week can fall into any of these days. Look at the forecast before a bay is emptied, and do it by day.",
		"No digging or compacting beside full drums or behind a wall after a leak: wet ground gives way without warning. Empty what stands next to the hole, and keep out of it. Local codes and a licensed engineer decide what a footing must carry.",
		"Drums that stand on others are emptied before those below them, and nobody stands below them meanwhile.",
	}, winter.FootingCautions(w.House)...)
}
