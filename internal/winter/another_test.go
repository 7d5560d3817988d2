package winter

import (
	"context"
	"strings"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// fortnight is the demo house from 5 to 17 January, of which the last week counts.
func fortnight(t *testing.T, changes ...plan.Change) *Prepared {
	t.Helper()
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow, append([]plan.Change{
		{Path: "ground.built", Value: "01-05", Origin: plan.Changed},
		{Path: "run.from", Value: "01-10", Origin: plan.Changed},
		{Path: "run.until", Value: "01-17", Origin: plan.Changed}}, changes...)...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	base, err := Prepare(Request{Plan: p})
	if err != nil {
		t.Fatal(err)
	}
	return base
}

func lowest(t *testing.T, p *Prepared) float64 {
	t.Helper()
	a, err := p.Answer(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return a.Places[a.Watched].LowestC
}

// The same year as another winter is the same winter; one 5 K colder is colder, in a year as in the hours alone.
func TestAnotherWinter(t *testing.T) {
	base := fortnight(t)
	own := lowest(t, base)
	again, err := base.In(base.Year, "again", 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := lowest(t, again); got != own {
		t.Errorf("the same year gives %.6f °C, %.6f", got, own)
	}
	colder := base.Year.Warmer(-5)
	year, err := base.In(colder, "colder", 0)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Date(colder.Start.Year(), 1, 5, 0, 0, 0, 0, colder.Start.Location())
	hours, err := base.In(colder.Between(begin, begin.AddDate(0, 0, 13)), "colder hours", 0)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := lowest(t, year), lowest(t, hours); a >= own || b >= own { // their snow is drawn for other stretches
		t.Errorf("5 K colder: %.3f °C from a year, %.3f from its hours, %.3f before", a, b, own)
	}
	for i, h := range hours.Span.Hours {
		if h.AirC != year.Span.Hours[i].AirC || h.SkyLongwaveWM2 != year.Span.Hours[i].SkyLongwaveWM2 {
			t.Fatalf("hour %d: %.2f °C of a year, %.2f of its hours", i, year.Span.Hours[i].AirC, h.AirC)
		}
	}
	if year.Name != "colder" || year.Ground != base.Ground {
		t.Errorf("%q has another ground or name", year.Name)
	}
}

// An old house has stood in the years that were prepared, whatever the winter.
func TestAnotherWinterOfAnOldHouse(t *testing.T) {
	base := fortnight(t, plan.Change{Path: "ground.age", Value: "1", Origin: plan.Changed})
	begin := time.Date(base.Year.Start.Year(), 1, 5, 0, 0, 0, 0, base.Year.Start.Location())
	q, err := base.In(base.Year.Between(begin, begin.AddDate(0, 0, 13)), "hours", 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(q.Span.Hours) != len(base.Span.Hours) || q.Skip != base.Skip || q.Span.Hours[100] != base.Span.Hours[100] {
		t.Errorf("%d hours of which %d do not count, %d and %d before", len(q.Span.Hours), q.Skip, len(base.Span.Hours), base.Skip)
	}
}

// Weather that does not fit is refused with its reason.
func TestAnotherWinterRefuses(t *testing.T) {
	base := fortnight(t)
	far := base.Year.Clone()
	far.Place = weather.KnownPlace(10, 20, 5)
	begin := time.Date(base.Year.Start.Year(), 3, 1, 0, 0, 0, 0, base.Year.Start.Location())
	for _, c := range []struct {
		name string
		w    weather.Series
		want string
	}{{"far away", far, "km apart"}, {"too short", base.Year.Between(begin, begin.AddDate(0, 0, 9)), "does not cover"}} {
		if _, err := base.In(c.w, c.name, 0); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.want)
		}
	}
}

// Another soil has the ground of the year that was prepared, in another winter as before it was put there: a stretch of hours has no ground of its own.
func TestAnotherWinterOnAnotherSoil(t *testing.T) {
	base := fortnight(t)
	begin := time.Date(base.Year.Start.Year(), 1, 5, 0, 0, 0, 0, base.Year.Start.Location())
	hours, err := base.In(base.Year.Between(begin, begin.AddDate(0, 0, 13)), "hours", 0)
	if err != nil {
		t.Fatal(err)
	}
	wet, findings := base.Plan.Apply(plan.Change{Path: "site.soil.moisture", Value: "90 %", Origin: plan.Changed})
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	before, err := base.ToPutInto(wet)
	if err != nil {
		t.Fatal(err)
	}
	in, err := hours.ToPutInto(wet)
	if err != nil {
		t.Fatal(err)
	}
	for _, depth := range []float64{0.1, 1, 3} {
		a, b := before.Ground.Profile(1, 5)(depth), in.Ground.Profile(1, 5)(depth)
		if a != b || a == base.Ground.Profile(1, 5)(depth) {
			t.Errorf("%.1f m deep: %.3f °C, %.3f before it was put into its hours, the drier soil's %.3f", depth, b, a, base.Ground.Profile(1, 5)(depth))
		}
	}
}
