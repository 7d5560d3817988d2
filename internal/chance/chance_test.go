package chance

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/ensemble"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// shifted are winters of one year, each some kelvin warmer than the one before.
type shifted struct {
	year   weather.Series
	n      int
	byK    float64
	broken int // the winter that cannot be made; -1: none
}

func (s shifted) Len() int          { return s.n }
func (s shifted) Name(k int) string { return fmt.Sprintf("winter %d", k) }
func (s shifted) Weather(k int) (weather.Series, error) {
	if k == s.broken {
		return weather.Series{}, errors.New("the record has a hole")
	}
	return s.year.Warmer(s.byK * float64(k)), nil
}

// week is a request about a week of the demo house's January and some days before, in winters each 2 K warmer than the one before.
func week(t *testing.T, n int, changes ...plan.Change) Request {
	t.Helper()
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow, append([]plan.Change{
		{Path: "ground.built", Value: "01-20", Origin: plan.Changed},
		{Path: "run.from", Value: "01-27", Origin: plan.Changed},
		{Path: "run.until", Value: "02-03", Origin: plan.Changed}}, changes...)...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	y, err := winter.Make(p, 1)
	if err != nil {
		t.Fatal(err)
	}
	return Request{Plan: p, Winters: shifted{y, n, 2, -1}, Draws: -1}
}

func mustRun(t *testing.T, req Request) *Answer {
	t.Helper()
	a, err := Run(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every figure of an answer counted again from the lowests that it lists.
func TestAnswerCountsItsWinters(t *testing.T) {
	a := mustRun(t, week(t, 6))
	if len(a.Months) != 2 || a.Months[0] != time.January || a.Months[1] != time.February {
		t.Errorf("months %v, want January and February", a.Months)
	}
	for _, p := range a.Places {
		frost, middle := 0, BandOf(p.LowestC).Middle
		for _, c := range p.LowestC {
			if c < 0 {
				frost++
			}
		}
		if p.Frost.Of != frost || p.Frost.Winters != 6 || p.Band.Middle != middle || len(p.LowestC) != 6 {
			t.Errorf("%s: %+v, counted %d below zero, middle %.3f", p.Name, p, frost, middle)
		}
		if most := max(p.Month[0].Of, p.Month[1].Of); p.Frost.Of < most || p.Frost.Of > p.Month[0].Of+p.Month[1].Of {
			t.Errorf("%s: %d winters with frost, %d and %d by month", p.Name, p.Frost.Of, p.Month[0].Of, p.Month[1].Of)
		}
	}
	if a.Watched < 0 || !strings.Contains(a.Places[a.Watched].Name, "leaf") {
		t.Fatalf("watched place %d, want the coldest leaf", a.Watched)
	}
	if len(a.Worst) != 6 {
		t.Fatalf("%d winters are ranked", len(a.Worst))
	}
	for i, w := range a.Worst {
		if w.LowestC != a.Places[a.Watched].LowestC[w.Winter] || i > 0 && w.LowestC < a.Worst[i-1].LowestC {
			t.Errorf("place %d of the coldest: %+v", i+1, w)
		}
	}
	if a.Worst[5].Winter < 3 {
		t.Errorf("the mildest inside is winter %d, which is one of the colder outdoors", a.Worst[5].Winter)
	}
}

// A winter that fails counts as cold, is told by name, and nothing is then said to hold; most failing is no answer at all.
func TestFailedWintersAreCold(t *testing.T) {
	req := week(t, 11)
	w := req.Winters.(shifted)
	w.byK, w.broken = 4, 10 // the warmest
	req.Winters = w
	a := mustRun(t, req)
	if len(a.Failed) != 1 || !strings.Contains(a.Failed[0], "winter 10: the record has a hole") {
		t.Fatalf("failed: %v", a.Failed)
	}
	p := a.Places[a.Watched]
	if !math.IsInf(p.LowestC[10], -1) || p.Frost.Of < 1 || a.Stays() {
		t.Errorf("the winter that failed counts as %.1f °C, %d with frost, stays %v", p.LowestC[10], p.Frost.Of, a.Stays())
	}
	w.n, w.broken = 5, 0
	req.Winters = w
	if _, err := Run(context.Background(), req, nil); err == nil || !strings.Contains(err.Error(), "1 of 5 winters could not be computed") {
		t.Errorf("a fifth of the winters failed: %v", err)
	}
}

func TestTooFewWinters(t *testing.T) {
	req := week(t, 3)
	if _, err := Run(context.Background(), req, nil); err == nil || !strings.Contains(err.Error(), "3 winters are too few") {
		t.Errorf("three winters: %v", err)
	}
	req = week(t, 3, plan.Change{Path: "run.span", Value: "whole year", Origin: plan.Changed})
	req.Winters = shifted{req.Winters.(shifted).year, 6, 1, -1}
	if _, err := Run(context.Background(), req, nil); err == nil || !strings.Contains(err.Error(), "whole year") {
		t.Errorf("a whole year: %v", err)
	}
}

// Nothing is said to hold but by the rule: the middle more than 2 K above the limit, and both bands above it.
func TestStaysByTheRule(t *testing.T) {
	place := func(lo, middle float64) []Place { return []Place{{Band: Band{Lo: lo, Middle: middle, Hi: middle + 1}}} }
	house := func(shift, both float64) *House { return &House{Shift: Band{Lo: shift}, Both: Band{Lo: both}} }
	for _, c := range []struct {
		name  string
		a     Answer
		stays bool
	}{
		{"well above", Answer{Places: place(1, 3), House: house(-1, 0.5)}, true},
		{"the middle too near", Answer{Places: place(1, 1.9), House: house(-1, 0.5)}, false},
		{"winters reach below", Answer{Places: place(-0.1, 3), House: house(-1, 0.5)}, false},
		{"house and winters reach below", Answer{Places: place(1, 3), House: house(-1, -0.1)}, false},
		{"the house alone reaches below", Answer{Places: place(1, 3), House: house(-3.1, 0.5)}, false},
		{"the house is not known", Answer{Places: place(1, 3)}, false},
		{"a winter failed", Answer{Places: place(1, 3), House: house(-1, 0.5), Failed: []string{"x"}}, false},
		{"above another limit", Answer{Places: place(6, 9), House: house(-1, 5.5), LimitC: 5}, true},
		{"below another limit", Answer{Places: place(4.9, 9), House: house(-1, 5.5), LimitC: 5}, false},
	} {
		if got := c.a.Stays(); got != c.stays {
			t.Errorf("%s: stays %v", c.name, got)
		}
	}
}

var _ ensemble.Winters = shifted{}
