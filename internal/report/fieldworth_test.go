package report

import (
	"context"
	"errors"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// Wanted: by hand from the figures of each row.
func TestFieldWorth(t *testing.T) {
	one := worth.Amount{SI: 0.01, In: "1 cm", US: 0.0254, Us: "1 in"}
	per := func(k float64) worth.Measures { return worth.Measures{LeafC: k} }
	for _, row := range []struct {
		what   string
		teller Teller
		w      worth.Worth
		want   string
	}{
		{"a centimetre", Teller{}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(12), More: per(12), Less: per(-12), HasMore: true, HasLess: true}, "1 cm more: +0.12 °C on the worst night."},
		{"an inch", Teller{System: unit.US}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(12), More: per(12), Less: per(-12), HasMore: true, HasLess: true}, "1 in more: +0.55 °F on the worst night."},
		{"colder", Teller{}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(-3), More: per(-3), HasMore: true, Less: per(3), HasLess: true}, "1 cm more: −0.03 °C on the worst night."},
		{"nothing", Teller{}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(0.1), More: per(0.1), HasMore: true, Less: per(-0.1), HasLess: true}, "1 cm more: less than 0.01 °C either way on the worst night."},
		{"a best", Teller{}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(0), More: per(-10), HasMore: true, Less: per(-10), HasLess: true}, "1 cm more: −0.10 °C; 1 cm less: −0.10 °C on the worst night."},
		{"one side", Teller{}, worth.Worth{Parameter: worth.Parameter{One: one}, Per: per(-20), Less: per(20), HasLess: true}, "1 cm less: +0.20 °C on the worst night."},
		{"a switch", Teller{}, worth.Worth{Parameter: worth.Parameter{Switch: true, Label: "night cover, as planned"}, Per: per(2.9), More: per(2.9), HasMore: true}, "+2.90 °C on the worst night: night cover, as planned."},
		{"not to be had", Teller{}, worth.Worth{Err: errors.Join(plan.Finding{File: "p", Line: 3, Path: "a", Message: "too high", Hint: "less"})}, "One unit more or less cannot be had: too high."},
	} {
		if got := row.teller.FieldWorth(&row.w); got != row.want {
			t.Errorf("%s: %s, want %s", row.what, got, row.want)
		}
	}
}

// What the words say is so: of a run made anew a wall that is thicker is warmer, one that is thinner colder.
func TestFieldWorthHasTheSignOfTheRun(t *testing.T) {
	text := strings.Replace(string(example(t, "crow-loft.yaml")), "span: whole year", "span: winter, from: 01-05, until: 01-12, warm_up_days: 3", 1)
	p, findings := plan.Load("c.yaml", []byte(text), house.Known())
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := worth.NewFields(context.Background(), worth.UnitRequest{Plan: p, First: a})
	if err != nil {
		t.Fatal(err)
	}
	one, err := f.Of(context.Background(), "builds.board roof.layers[1].thickness")
	if err != nil || len(one.Rows) != 1 || !one.Rows[0].HasMore || !one.Rows[0].HasLess {
		t.Fatalf("%+v, %v", one, err)
	}
	w := one.Rows[0]
	if said := (Teller{}).FieldWorth(&w); !strings.HasPrefix(said, "1 cm more: +") {
		t.Error(said)
	}
	w.HasMore = false
	if said := (Teller{}).FieldWorth(&w); !strings.HasPrefix(said, "1 cm less: −") {
		t.Error(said)
	}
}
