package report

import (
	"context"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"suncellar/internal/carry"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// Water that comes and goes is told by bay and cause, its heat stands under one cause of the house, and that ledger closes.
func TestWaterLedgerIsTold(t *testing.T) {
	text := strings.Replace(pit, "at: 3.2 m}]", `at: 3.2 m, bays: 2}], events: [
  {kind: leak, bay: 'drums, bay 1', from: 12-03, rate: 20 L/h, to: floor}, {kind: drain, bay: 'drums, bay 2', from: 12-04, share: 10 %, to: floor},
  {kind: draw, bay: 'drums, bay 2', from: 12-06, until: 12-08, volume: 25 L, bed: bed},
  {kind: refill, bay: 'drums, bay 1', from: 12-10, volume: 2000 L, rate: 100 L/h, temperature: 9 degC}]`, 1)
	p, findings := plan.Load("pit.yaml", []byte(text+"snow: {list: []}\n"), house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r := a.Result; r.Water.OpenL > 1e-9 || r.Heat.ImbalanceRel > 1e-9 {
		t.Errorf("%g L and %g of the heat are missing", r.Water.OpenL, r.Heat.ImbalanceRel)
	}
	told := Teller{}.Winter(a, OfHouse{})
	for _, want := range []string{"- drums, bay 1: leak, to floor, ", "- drums, bay 2: draw, onto bed, 75 L", "- drums, bay 2: drain, to floor, 79 L", "- drums, bay 1: refill, ",
		"wanted and not there, or without room", causeWater, "switch electricity off outside the house", "no digging or compacting"} {
		if !strings.Contains(told, want) {
			t.Errorf("%q is not told", want)
		}
	}
	for line := range strings.Lines(told) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > Width {
			t.Errorf("%d columns: %s", n, line)
		}
	}
	for _, f := range a.Result.Flows {
		if name, _ := causeOf(a.House, f.Name); f.Crosses && name == causeOther {
			t.Errorf("%s has no cause", f.Name)
		}
	}
	own, _ := sides(causes(a.Result, 0, a.Result.Hours()))
	in, out := sum(own)
	stored := 0.0
	for name, j := range a.Result.Heat.StoredJ {
		if name != earthPart {
			stored += j
		}
	}
	if open := in - out - stored; math.Abs(open) > 1e-6*in {
		t.Errorf("the house's own ledger is open by %.3g J of %.3g", open, in)
	}
	if a, err := small(); err != nil || strings.Contains(Teller{}.Winter(a, OfHouse{}), "Water of the store") {
		t.Errorf("a store to which nothing happens has a ledger of water (%v)", err)
	}
}

// A bar counts whole signs of what counts and no more, sets ice apart, and shows what goes on.
func TestBars(t *testing.T) {
	for _, c := range []struct {
		p    carry.Point
		want string
	}{
		{carry.Point{Hours: 47}, "==="}, {carry.Point{Hours: 48}, "===="}, {carry.Point{Hours: 11}, ""},
		{carry.Point{Hours: 24, OnIce: 13}, "==~~"}, {carry.Point{Hours: 1440, Beyond: true}, "==========>"},
		{carry.Point{Hours: 48, OnIce: 1392, Beyond: true}, "====~~~~~~>"},
	} {
		if got := bar(c.p, 0.5, 10); got != c.want {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
	for _, c := range []struct {
		p    carry.Point
		want string
	}{
		{carry.Point{Hours: 47.9}, "1.9"}, {carry.Point{Hours: 48}, "2.0"}, {carry.Point{Hours: 24, OnIce: 12}, "1.0 + 0.5 ice"},
		{carry.Point{Hours: 1440, Beyond: true}, "> 60"}, {carry.Point{Hours: 240, OnIce: 1200, Beyond: true}, "10.0, then ice"},
	} {
		if got := pointWords(c.p); got != c.want {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
}
