package report

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/unit"
	"suncellar/internal/water"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// coldWater is an answer with an invented list of what freezes.
func coldWater(t *testing.T, f water.Freezing) *water.Answer {
	t.Helper()
	a := watered(t, "water.settling_drum={base: 0.3 m, outlet: 0.9 m}", "water.catchments[0].eave_height=3 m", "run.from=01-10", "run.until=01-12", "ground.built=01-05", "ground.finest_cell=30 cm", "ground.reach=3 m")
	a.Winter = &winter.Answer{Prepared: &winter.Prepared{Plan: a.Plan}, Result: &greenhouse.Result{}, SnowCase: "as snow falls"}
	a.Freezing = &f
	return a
}

// What came within 2 K of freezing is never told as safe, and what freezes is told with day and hour.
func TestFreezingIsTold(t *testing.T) {
	at := time.Date(2001, 1, 14, 7, 0, 0, 0, weather.Zone(-7*time.Hour))
	text := func(a *water.Answer) string { return strings.Join(strings.Fields(Teller{}.Water(a)), " ") }
	near := water.FreezePart{Kind: water.ManifoldPipe, Name: "back drums", LowestC: 1.2, LowestAt: at}
	ice := water.FreezePart{Kind: water.FlushVessel, Name: "first flush", Outside: true, First: at.Add(-48 * time.Hour), MostIce: 0.3, IceHours: 9}
	drum := water.FreezeDrum{Bay: "back drums, bay 1", Fill: 0.98, First: at, Ice: 0.5, IceAt: at, Head: 0.02, Need: 0.044, TightAt: at}
	for _, c := range []struct {
		f    water.Freezing
		want string
	}{
		{water.Freezing{Parts: []water.FreezePart{near}}, "None of the parts that hold water freezes; nearest: manifold of back drums at +1.2 °C on 14 January 07:00, which is too near to count on."},
		{water.Freezing{Parts: []water.FreezePart{ice, near}, Drains: []string{"inlet pipe", "overflow pipe"}}, "First to freeze: first flush while full, with ice from 12 January 07:00 on, 30 % of it at most. Inside nothing of them freezes; nearest: manifold of back drums at +1.2 °C"},
		{water.Freezing{Drums: []water.FreezeDrum{drum}}, "Back drums, bay 1 is filled too full: ice from 14 January 07:00 on, 50 % of the water on 14 January 07:00, which takes 4.4 % of a drum more room (ice is 9 % larger), and there are 2.0 %"},
		{water.Freezing{Drums: []water.FreezeDrum{{Bay: "b", Stacked: true, Fill: 1, First: at, Ice: 0.01, IceAt: at, TightAt: at}}}, "B has ice from 14 January 07:00 on, 1.0 % of the water at most, on 14 January 07:00, and the lower of its stacked drums are full"},
		{water.Freezing{Drums: []water.FreezeDrum{{Bay: "b", LowestC: 3, LowAt: at}}}, "No ice in the drums; nearest: b at +3.0 °C on 14 January 07:00. No drum is ever to be let freeze"},
	} {
		if got := text(coldWater(t, c.f)); !strings.Contains(got, c.want) || strings.Contains(got, "safe") {
			t.Errorf("%q is missing, or something is called safe, in\n%s", c.want, got)
		}
	}
	a := coldWater(t, water.Freezing{})
	a.Freezing = nil
	if got := text(a); !strings.Contains(got, "Not known: no winter was run") {
		t.Errorf("without a winter:\n%s", got)
	}
}

// Every part and every care has words in both systems.
func TestCareHasWords(t *testing.T) {
	a := coldWater(t, water.Freezing{})
	for _, kind := range []water.CareKind{water.CleanRoof, water.ScreenMouths, water.ScreenRunOut, water.LargerFlush, water.NoFlush, water.KeepDark, water.KeepLids, water.LookForGnats, water.CleanMud,
		water.FlushLines, water.EmptyFlush, water.EmptySettling, water.DrainOutside, water.LookAtMouth} {
		for _, system := range []unit.System{unit.SI, unit.US} {
			if s := (Teller{System: system}).careWords(a, &water.Care{Kind: kind, Names: []string{"one", "two"}}); !strings.HasSuffix(s, ".") || strings.Contains(s, "  ") {
				t.Errorf("%s: %q", kind, s)
			}
		}
	}
	var names []string
	for _, kind := range []water.FreezeKind{water.InletPipe, water.InletFoot, water.InletMouth, water.FlushVessel, water.SettlingTank, water.OverflowPipe, water.ManifoldPipe, water.PlainPipe, water.DeadLeg, water.ValveBody, water.DripPipe} {
		name := freezeName(&water.FreezePart{Kind: kind, Name: "n"})
		if name == "" || slices.Contains(names, name) {
			t.Errorf("%s is called %q", kind, name)
		}
		names = append(names, name)
	}
}

// Shares and intervals are never rounded to the better side.
func TestSettlingIsNotRoundedUp(t *testing.T) {
	for v, want := range map[float64]string{1: "all", 0.999: "99 %", 0.109: "10 %", 0.004: "< 1 %"} {
		if got := caught(v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
	for v, want := range map[float64]string{40: "once in more than 30 years", 3.9: "once in 3 years", 1.9: "once a year", 0.5: "every 6 months", 0.09: "every month", 0.01: "every month"} {
		if got := every(v); got != want {
			t.Errorf("%g years: %q, want %q", v, got, want)
		}
	}
	if micrometres(math.Inf(1)) != "none" || micrometres(2e-6) != "2.0 µm" || micrometres(31.4e-6) != "31 µm" {
		t.Error("sizes of grains")
	}
	told := Teller{System: unit.US}.Water(coldWater(t, water.Freezing{}))
	for _, want := range []string{"The settling drum: ", "lie below the drain", "clean"} {
		if !strings.Contains(strings.Join(strings.Fields(told), " "), want) {
			t.Errorf("%q is missing in\n%s", want, told)
		}
	}
}
