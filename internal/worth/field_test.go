package worth

import (
	"context"
	"math"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// fieldsOf is a small pit with its winter, ready to be asked.
func fieldsOf(t *testing.T, text string) (*plan.Plan, *winter.Answer, *Fields) {
	t.Helper()
	p, findings := plan.Load("pit.yaml", []byte(text), house.Known())
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := NewFields(context.Background(), UnitRequest{Plan: p, First: a})
	if err != nil {
		t.Fatal(err)
	}
	return p, a, f
}

// A value asked after alone is worth to the last bit what it is worth among all.
func TestFieldsAreWorthWhatTheyAreAmongAll(t *testing.T) {
	t.Parallel()
	p, a, f := fieldsOf(t, pit)
	all := perUnitOf(t, UnitRequest{Plan: p, First: a, Kinds: []Kind{Build}, NoHalves: true})
	for _, w := range all.Rows[:min(6, len(all.Rows))] {
		one, err := f.Of(context.Background(), w.ID)
		if err != nil || len(one.Rows) != 1 || one.Rows[0].Per != w.Per {
			t.Errorf("%s: alone %+v, %v, among all %+v", w.ID, one.Rows, err, w.Per)
		}
	}
}

// Whatever value of a plan is asked after: an answer with a row or none, its steps allowed, no number that is not finite, and no other winter.
func TestAnyFieldHasAnAnswer(t *testing.T) {
	t.Parallel()
	p, _, f := fieldsOf(t, pit)
	rows := map[string]bool{}
	for v := range p.Origins.All() {
		if q, ok := FieldParameter(p, f.own.whole.House, v.Path); ok && !q.Switch && (q.Step <= 0 || q.One.SI <= 0 || q.One.US <= 0) {
			t.Errorf("%s: %+v", v.Path, q)
		}
		if !strings.HasPrefix(v.Path, "ground") && !strings.HasPrefix(v.Path, "beds") && !strings.HasPrefix(v.Path, "site") && !strings.HasPrefix(v.Path, "run") {
			continue
		}
		one, err := f.Of(context.Background(), v.Path)
		if err != nil {
			t.Fatalf("%s: %v", v.Path, err)
		}
		for _, w := range one.Rows {
			rows[v.Path] = true
			if w.Err == nil && (math.IsNaN(w.Per.LeafC) || math.IsInf(w.Per.LeafC, 0)) {
				t.Errorf("%s: %+v", v.Path, w)
			}
		}
	}
	for path, want := range map[string]bool{"site.latitude": false, "site.elevation": false, "run.warm_up_days": false, "run.seed": false, "beds[0].level": true, "site.soil.moisture": true} {
		if rows[path] != want {
			t.Errorf("%s has a row: %v", path, rows[path])
		}
	}
	if one, err := f.Of(context.Background(), "no.such"); err != nil || len(one.Rows) != 0 {
		t.Errorf("%v, %v", one, err)
	}
}

// Who goes away stops it.
func TestFieldsEnd(t *testing.T) {
	t.Parallel()
	_, _, f := fieldsOf(t, pit)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := f.Of(ctx, "beds[0].level"); err == nil {
		t.Error("it goes on")
	}
}
