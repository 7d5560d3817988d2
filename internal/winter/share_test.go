package winter

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"suncellar/examples"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// short is Larch Hollow on a coarse mesh through twelve days.
func short(t *testing.T, changes ...plan.Change) *plan.Plan {
	t.Helper()
	all := append([]plan.Change{{Path: "ground.built", Value: "01-01"}, {Path: "run.from", Value: "01-03"}, {Path: "run.until", Value: "01-12"},
		{Path: "ground.finest_cell", Value: "20 cm"}, {Path: "ground.reach", Value: "4 m"}}, changes...)
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), all...)
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	return p
}

// TestSnowLog: with the snow of its own log a run is the same bit for bit; a changed house has the first one's snow.
func TestSnowLog(t *testing.T) {
	t.Parallel()
	p, err := Prepare(Request{Plan: short(t)})
	if err != nil {
		t.Fatal(err)
	}
	var log greenhouse.SnowLog
	run := func(p *Prepared, snow greenhouse.SnowCase) *greenhouse.Result {
		r, err := p.SimulateLogged(context.Background(), snow, &log, nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	first := run(p, greenhouse.SnowFalls)
	if log.Faces() < 2 {
		t.Fatalf("%d faces in the log, must be glazing and roof", log.Faces())
	}
	lies := 0
	for _, m := range first.SnowM {
		if m > 0 {
			lies++
		}
	}
	if lies == 0 || lies == len(first.SnowM) {
		t.Fatalf("snow lies for %d of %d hours: nothing slides in this test", lies, len(first.SnowM))
	}
	if again := run(p, greenhouse.SnowLogged); !reflect.DeepEqual(again.SnowM, first.SnowM) || !reflect.DeepEqual(again.Traces[1].C, first.Traces[1].C) {
		t.Error("a run with its own snow is another run")
	}
	warm := short(t, plan.Change{Path: "cover", Value: "{r_value: 1 m2K/W, side: outside}"}) // glass under it is cold: snow would stay
	q, err := p.With(warm)
	if err != nil {
		t.Fatal(err)
	}
	free, err := q.Simulate(context.Background(), greenhouse.SnowFalls, nil)
	if err != nil {
		t.Fatal(err)
	}
	if held := run(q, greenhouse.SnowLogged); !reflect.DeepEqual(held.SnowM, first.SnowM) || reflect.DeepEqual(free.SnowM, first.SnowM) {
		t.Errorf("snow of a changed house: as logged %v, by itself otherwise %v", reflect.DeepEqual(held.SnowM, first.SnowM), !reflect.DeepEqual(free.SnowM, first.SnowM))
	}
}

// Snow that lies by rule takes no heat to melt, in a run that reads it from a log as in the one that wrote it.
func TestSnowLogOfSnowThatLies(t *testing.T) {
	t.Parallel()
	p, err := Prepare(Request{Plan: short(t)})
	if err != nil {
		t.Fatal(err)
	}
	var log greenhouse.SnowLog
	var runs []*greenhouse.Result
	for _, snow := range []greenhouse.SnowCase{greenhouse.SnowLies, greenhouse.SnowLogged} {
		r, err := p.SimulateLogged(context.Background(), snow, &log, nil)
		if err != nil {
			t.Fatal(err)
		}
		runs = append(runs, r)
	}
	if slices.Max(runs[0].SnowM) == 0 {
		t.Fatal("no snow lies in this test")
	}
	for i := range runs[0].Traces {
		if a, b := runs[0].Traces[i], runs[1].Traces[i]; !reflect.DeepEqual(a.C, b.C) {
			low, _ := a.Lowest()
			again, _ := b.Lowest()
			t.Errorf("%s: lowest %.2f °C, from the log %.2f °C", a.Name, low, again)
		}
	}
}

// TestWith: a changed plan that shares a winter runs as one prepared by itself, bit for bit; a stretch cut from the front is a run
// that begins there.
func TestWith(t *testing.T) {
	t.Parallel()
	run := func(p *Prepared) *greenhouse.Result {
		r, err := p.Simulate(context.Background(), greenhouse.SnowFalls, nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	prepare := func(p *plan.Plan) *Prepared {
		q, err := Prepare(Request{Plan: p})
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	first := prepare(short(t))
	for _, c := range []plan.Change{{Path: "leakage.area", Value: "400 cm2"}, {Path: "site.soil.moisture", Value: "70 %"},
		{Path: "site.soil_layers", Value: "[{to: 50 cm, texture: sand, moisture: 10 %}]"}} {
		changed := short(t, c)
		shared, err := first.With(changed)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := run(shared), run(prepare(changed)); !reflect.DeepEqual(a.ReserveJ, b.ReserveJ) || !reflect.DeepEqual(a.Traces[1].C, b.Traces[1].C) {
			t.Errorf("%s: shared and own winter differ", c)
		}
	}
	later := prepare(short(t, plan.Change{Path: "ground.built", Value: "01-03"}, plan.Change{Path: "run.from", Value: "01-05"}))
	if a, b := run(first.Cut(48, len(first.Span.Hours)-48, 48)), run(later); !a.Start.Equal(b.Start) || !reflect.DeepEqual(a.Traces[1].C, b.Traces[1].C) {
		t.Error("a stretch cut from a winter is not the run that begins there")
	}
	if got := first.Cut(48, 100, 10).Lying(); got != first.Lying() {
		t.Errorf("snow lies %v in the stretch, %v in the whole", got, first.Lying())
	}
	for _, c := range []plan.Change{{Path: "site.albedo", Value: "30 %"}, {Path: "run.seed", Value: "2"}, {Path: "climate.year_lowest", Value: "-30 degC"}, {Path: "snow", Value: "none"}} {
		if first.Same(short(t, c)) {
			t.Errorf("%s: said to share its winter", c)
		}
	}
}
