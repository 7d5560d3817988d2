package worth

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// moved is one change that a prediction is held against: a parameter by its ID, taken from the plan's value to another, in the
// parameter's own measure.
type moved struct {
	id string
	to float64
}

// twenty changes of Larch Hollow, each of a tenth of the value or more, or of one unit. They were written down before the first run.
var twenty = []moved{
	{"builds.block wall.layers[1].thickness", 0.10}, {"builds.roof.layers[1].thickness", 0.23}, {"builds.end wall.layers[1].thickness", 0.18},
	{"ground.boards[0].reach", 1.2}, {"store.rows[0].drums", 24}, {"store.rows[0].drums", 16}, {"store.rows[0].fill", 0.82},
	{"frame.share", 0.13}, {"frame.dirt", 0.10}, {"shape.depth", 1.3}, {"shape.length", 10.5}, {"shape.front_height", 0.5}, {"shape.back_height", 1.5},
	{"shape.glazing_slope", 52 * degree}, {"shape.back_roof_slope", 35 * degree}, {"leakage.area", 0.025}, {"leakage.area", 0.035},
	{"vents", 0.55 * 1.3}, {"beds.level", 0.10}, {"cold_sink.depth", 0.45},
}

// verdict is one row of the table of predictions [K on the worst night of the leaves].
type verdict struct {
	name                  string
	predicted, full, same float64 // from the sensitivities; computed again; computed again with the plan's own snow
}

func (v verdict) met() bool {
	miss := math.Abs(v.predicted - v.full)
	return miss <= 0.2 || miss <= 0.25*math.Abs(v.full)
}

// again is a winter computed again with one change: what it does to the lowest of the leaves [K], with its own snow and with the plan's.
type again struct{ full, same float64 }

// computeAgain runs the whole winter of every change.
func computeAgain(t *testing.T, first *winter.Answer, changes []moved) []again {
	t.Helper()
	prepared, at := first.Prepared, placesOf(first)
	u := &perUnit{a: &UnitAnswer{First: first, At: at, Rung: coarsestRung, Whole: true}, whole: prepared, stretch: prepared}
	own, err := u.measure(context.Background(), prepared, first.Snow())
	if err != nil {
		t.Fatal(err)
	}
	before, _ := first.Result.Trace(at.Leaf).Lowest()
	all := Parameters(first.Plan, first.House)
	list := make([]again, len(changes))
	var seats errgroup
	for k, c := range changes {
		seats.run(func() error {
			i := slices.IndexFunc(all, func(p Parameter) bool { return p.ID == c.id })
			changed, findings := (Request{Plan: first.Plan}).read(Variant{Changes: all[i].Set(c.to)})
			if err := plan.AsError(findings); err != nil {
				return err
			}
			q, err := prepared.With(changed)
			if err != nil {
				return err
			}
			r, err := q.Simulate(context.Background(), first.Snow(), nil)
			if err != nil {
				return err
			}
			lowest, _ := r.Trace(at.Leaf).Lowest()
			held, err := u.measure(context.Background(), q, snowLogged)
			list[k] = again{lowest - before, held.LeafC - own.LeafC}
			return err
		})
	}
	if err := seats.wait(); err != nil {
		t.Fatal(err)
	}
	return list
}

// errgroup runs two things at once.
type errgroup struct {
	seats chan struct{}
	all   sync.WaitGroup
	mu    sync.Mutex
	bad   error
}

func (g *errgroup) run(do func() error) {
	if g.seats == nil {
		g.seats = make(chan struct{}, 2)
	}
	g.all.Go(func() {
		g.seats <- struct{}{}
		defer func() { <-g.seats }()
		if err := do(); err != nil {
			g.mu.Lock()
			g.bad = errors.Join(g.bad, err)
			g.mu.Unlock()
		}
	})
}

func (g *errgroup) wait() error { g.all.Wait(); return g.bad }

// predict puts what the sensitivities say beside it.
func predict(t *testing.T, a *UnitAnswer, changes []moved, computed []again) []verdict {
	t.Helper()
	var list []verdict
	for k, c := range changes {
		w := rowOf(t, a, c.id)
		if w.Err != nil {
			t.Fatalf("%s: %v", c.id, w.Err)
		}
		name := fmt.Sprintf("%s, %+.3g of %s", w.Label, (c.to-w.At)/w.One.SI, w.One.In)
		list = append(list, verdict{name, w.Per.LeafC * (c.to - w.At), computed[k].full, computed[k].same})
	}
	return list
}

// tableOf is the table of docs/physics/worth.md.
func tableOf(list []verdict) string {
	var b strings.Builder
	b.WriteString("| change | predicted [K] | computed again [K] | the same with the plan's snow [K] | within 0.2 K or 25 % |\n| --- | ---: | ---: | ---: | --- |\n")
	for _, v := range list {
		fmt.Fprintf(&b, "| %s | %+.3f | %+.3f | %+.3f | %s |\n", v.name, v.predicted, v.full, v.same, map[bool]string{true: "yes", false: "no"}[v.met()])
	}
	return b.String()
}

// spearman is the rank correlation of two columns: the linear correlation of their ranks. No two values here are equal.
func spearman(list []verdict, x, y func(verdict) float64) float64 {
	rank := func(of func(verdict) float64) []float64 {
		order := make([]int, len(list))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(of(list[a]), of(list[b])) })
		ranks := make([]float64, len(list))
		for r, i := range order {
			ranks[i] = float64(r)
		}
		return ranks
	}
	a, b := rank(x), rank(y)
	sum, n := 0.0, float64(len(list))
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return 1 - 6*sum/(n*(n*n-1))
}

func predictedOf(v verdict) float64 { return v.predicted }
func fullOf(v verdict) float64      { return v.full }
func sameOf(v verdict) float64      { return v.same }

func TestSpearman(t *testing.T) {
	list := []verdict{{predicted: 1, full: 10, same: 3}, {predicted: 2, full: 20, same: 2}, {predicted: 3, full: 25, same: 1}}
	if got := spearman(list, predictedOf, fullOf); got != 1 {
		t.Errorf("same order: %g", got)
	}
	if got := spearman(list, predictedOf, sameOf); got != -1 {
		t.Errorf("turned order: %g", got)
	}
}

// unsettled is pairs whose order another step turns although one unit of each differs by 0.05 K or more on the worst night.
func unsettled(a *UnitAnswer) []string {
	var list []string
	for i := range a.Rows {
		for k := range a.Rows[:i] {
			x, y := &a.Rows[i], &a.Rows[k]
			if !x.HasHalf || !y.HasHalf {
				continue
			}
			whole, half := x.Per.LeafC*x.One.SI-y.Per.LeafC*y.One.SI, x.Half.LeafC*x.One.SI-y.Half.LeafC*y.One.SI
			if whole*half < 0 && math.Abs(whole) >= 0.05 {
				list = append(list, fmt.Sprintf("%s and %s: %+.3f K apart, %+.3f K with half the step", x.Label, y.Label, whole, half))
			}
		}
	}
	return list
}

// TestTwentyChanges: what the sensitivities say of twenty changes against twenty winters computed again. With SUNCELLAR_LONG=1, ten
// minutes; the committed copy of its table is in docs/physics/worth.md.
func TestTwentyChanges(t *testing.T) {
	if os.Getenv("SUNCELLAR_LONG") == "" {
		t.Skip("set SUNCELLAR_LONG=1: it computes some hundred winters")
	}
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known())
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	first, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var only []string
	for _, c := range twenty {
		only = append(only, c.id)
	}
	computed := computeAgain(t, first, twenty)
	for _, whole := range []bool{false, true} {
		a := perUnitOf(t, UnitRequest{Plan: p, Whole: whole, First: first, Only: only})
		list := predict(t, a, twenty, computed)
		rho, held := spearman(list, predictedOf, fullOf), spearman(list, predictedOf, sameOf)
		fmt.Printf("whole winter %v\n%srank correlation %.3f, with the plan's snow %.3f\n", whole, tableOf(list), rho, held)
		if rho < 0.9 {
			t.Errorf("whole winter %v: rank correlation %.3f, must be 0.9 at least", whole, rho)
		}
		for _, v := range list {
			if !v.met() {
				t.Errorf("whole winter %v: %s: predicted %+.3f K, computed again %+.3f K", whole, v.name, v.predicted, v.full)
			}
		}
		for _, pair := range unsettled(a) {
			t.Errorf("whole winter %v: half the step turns the order of %s", whole, pair)
		}
	}
}

// TestFewChanges is the same on a small house through a few days.
func TestFewChanges(t *testing.T) {
	t.Parallel()
	req := request(t, pit)
	a := perUnitOf(t, UnitRequest{Plan: req.Plan, Year: req.Year, Kinds: []Kind{Build}})
	few := []moved{{"builds.wall.layers[1].thickness", 0.17}, {"store.rows[0].drums", 10}, {"leakage.area", 0.0075}, {"frame.dirt", 0.1}, {"shape.glazing_slope", 50 * degree}, {"shape.depth", 1.1}}
	list := predict(t, a, few, computeAgain(t, a.First, few))
	if rho := spearman(list, predictedOf, fullOf); rho < 0.9 {
		t.Errorf("rank correlation %.3f, must be 0.9 at least\n%s", rho, tableOf(list))
	}
	for _, v := range list {
		if !v.met() {
			t.Errorf("%s: predicted %+.3f K, computed again %+.3f K", v.name, v.predicted, v.full)
		}
	}
	for _, pair := range unsettled(a) {
		t.Errorf("half the step turns the order of %s", pair)
	}
}
