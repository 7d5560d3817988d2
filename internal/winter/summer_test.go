package winter

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// coarse is Larch Hollow on a ground that computes quickly.
func coarse(t *testing.T, changes ...plan.Change) *plan.Plan {
	t.Helper()
	changes = append([]plan.Change{{Path: "ground.finest_cell", Value: "20 cm"}, {Path: "ground.reach", Value: "4 m"}}, changes...)
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), changes...)
	if p == nil {
		t.Fatal(findings)
	}
	return p
}

// Heat is counted above the limits, hour by hour.
func TestHeatIsCounted(t *testing.T) {
	start := time.Date(2001, 7, 1, 0, 0, 0, 0, time.UTC)
	trace := func(name string, kind greenhouse.PlaceKind, c ...float64) greenhouse.Trace {
		return greenhouse.Trace{Place: greenhouse.Place{Name: name, Kind: kind}, C: c}
	}
	r := &greenhouse.Result{Start: start, Traces: []greenhouse.Trace{
		trace("outdoor air", greenhouse.OutPlace, 20, 31, 22, 21),
		trace("air", greenhouse.AirPlace, 30, 36.5, 33, 29),
		trace("leaf", greenhouse.LeafPlace, 31, 35, 30, 20),
		trace("water", greenhouse.WaterPlace, 18, 19, 26, 25),
	}}
	h := heatOf(r)
	air, leaf := h.Places[0], h.Places[1]
	if air.HoursWarm != 2 || math.Abs(air.KhWarm-9.5) > 1e-12 || air.HoursHot != 1 || math.Abs(air.KhHot-1.5) > 1e-12 || air.C != 36.5 || !air.At.Equal(start.Add(2*time.Hour)) {
		t.Errorf("air: %+v", air)
	}
	if leaf.HoursWarm != 2 || leaf.HoursHot != 0 {
		t.Errorf("leaf: %+v", leaf)
	}
	if !h.Day.Equal(start) || h.AirC != 36.5 || h.OutdoorC != 31 || h.Water.C != 26 || h.Soil != nil || !h.Overheats() {
		t.Errorf("%+v", h)
	}
	if n := len(heatCautions(&h)); n != 2 {
		t.Errorf("%d cautions: %v", n, heatCautions(&h))
	}
}

// A summer is reached from the day the house is built, through the winter before it; the hours follow one another.
func TestSummerSpan(t *testing.T) {
	p := coarse(t)
	day := func(m, d int) *plan.Date { return &plan.Date{Month: m, Day: d} }
	for _, row := range []struct {
		from, until *plan.Date
		days        int
	}{{day(5, 1), day(9, 30), 153}, {day(6, 1), day(8, 31), 92}, {day(10, 1), day(4, 30), 212}, {day(9, 1), day(9, 10), 10}} {
		got, req := &Prepared{Plan: p}, Request{Plan: p, From: row.from, Until: row.until}
		if err := errors.Join(got.weather(req), got.span(req)); err != nil {
			t.Fatalf("%v to %v: %v", *row.from, *row.until, err)
		}
		first := got.Span.HourStart(got.Skip)
		last := got.Span.End().Add(-time.Minute)
		if n := (len(got.Span.Hours) - got.Skip) / 24; n != row.days || first.Month() != time.Month(row.from.Month) || first.Day() != row.from.Day || last.Day() != row.until.Day {
			t.Errorf("%v to %v: %d days from %v to %v, want %d", *row.from, *row.until, n, first, last, row.days)
		}
		if s := got.Span.Start; s.Month() != 9 || s.Day() != 1 {
			t.Errorf("%v: begins on %v", *row.from, s)
		}
	}
}

// A whole year with the panels of the pole side off from May to September runs, its books close, and the summer is cooler for it
// while the winter is as it was.
func TestWholeYearWithPanelsOff(t *testing.T) {
	if testing.Short() {
		t.Skip("two whole years")
	}
	t.Parallel()
	year := func(changes ...plan.Change) *Answer {
		p := coarse(t, append(changes, plan.Change{Path: "run", Value: "whole year"})...)
		a, err := Run(context.Background(), Request{Plan: p}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Result.Heat.ImbalanceRel > 1e-9 || a.Result.Vapour.OpenKg > 1e-6 || a.Result.Hours() != 8760 {
			t.Errorf("heat open by %.2g, vapour by %.2g kg, %d h", a.Result.Heat.ImbalanceRel, a.Result.Vapour.OpenKg, a.Result.Hours())
		}
		return a
	}
	shut, open := year(), year(plan.Change{Path: "taken_off", Value: "[{face: back roof, from: 05-01, until: 09-30}]"})
	hours := func(a *Answer) (n int, kh float64) {
		for _, p := range a.Heat.Places {
			if p.Name == "canopy air" {
				return p.HoursWarm, p.KhWarm
			}
		}
		t.Fatal("no canopy air")
		return 0, 0
	}
	ns, ks := hours(shut)
	no, ko := hours(open)
	if no >= ns || ko >= 0.7*ks {
		t.Errorf("canopy above 30 °C: %d h and %.0f K h with the panels off, %d h and %.0f K h with them on", no, ko, ns, ks)
	}
	t.Logf("canopy above 30 °C: %d h and %.0f K h with the panels off, %d h and %.0f K h with them on", no, ko, ns, ks)
	for _, c := range []*Answer{shut, open} {
		if c.Heat.Water == nil || c.Heat.Water.C > 60 {
			t.Errorf("water %+v", c.Heat.Water)
		}
	}
	// until the panels go nothing differs but the thousandth of resistance that they lie on, and where the search for the vents' setting stops
	a, b := shut.Result.Trace("canopy air"), open.Result.Trace("canopy air")
	for i := range 24 * 120 {
		if math.Abs(a.C[i]-b.C[i]) > 0.1 {
			t.Fatalf("hour %d, in spring: %.3f °C with the panels to be taken off, %.3f °C without", i, b.C[i], a.C[i])
		}
	}
}

// A part whose dates have a year that the weather does not is told to be left out.
func TestOutOfDate(t *testing.T) {
	for _, row := range []struct {
		from, until string
		told        int
	}{{"10-15", "04-15", 0}, {"2026-10-15", "2027-04-15", 1}, {"2001-12-01", "2002-02-01", 0}} {
		p := coarse(t, plan.Change{Path: "cover", Value: "{r_value: R-4, from: " + row.from + ", until: " + row.until + "}"})
		got := &Prepared{Plan: p}
		if err := errors.Join(got.weather(Request{Plan: p}), got.span(Request{Plan: p})); err != nil {
			t.Fatal(err)
		}
		a := &Answer{Prepared: got}
		if told := a.outOfDate(); len(told) != row.told {
			t.Errorf("%s to %s: %v", row.from, row.until, told)
		}
	}
}
