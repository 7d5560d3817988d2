package report

import (
	"math"
	"strings"
	"testing"
	"time"

	"suncellar/internal/drill"
	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// triedPaper is an invented answer.
func triedPaper(kind drill.Kind) *drill.Answer {
	at := time.Date(2023, 1, 10, 17, 0, 0, 0, time.UTC)
	w := &winter.Answer{Prepared: &winter.Prepared{Plan: &plan.Plan{Name: "Test"}}, Places: []winter.Place{{Name: "bed, leaf tips"}}}
	return &drill.Answer{Winter: w, Kind: kind, At: "low vent", Begin: at, End: at.Add(16 * time.Hour), HoleM: 0.005, PaneM2: 1.5,
		Places: []drill.Place{
			{Name: "bed, leaf tips", Kind: greenhouse.LeafPlace, LowestC: [2]float64{1.5, -4.25}, UntilH: [2]float64{-1, 6.9}, BelowH: [2]int{0, 9}},
			{Name: "drums, top", Kind: greenhouse.WaterPlace, LowestC: [2]float64{3, math.Inf(1)}, UntilH: [2]float64{-1, 0}},
		}}
}

// Every kind of fault has a name, steps and what it rests on; figures are in the reader's units, hours are cut off and never rounded up, and a drum without water is dry.
func TestDrillIsTold(t *testing.T) {
	for _, k := range drill.Kinds {
		a := triedPaper(k)
		if k == drill.Leak || k == drill.DrumFrozen {
			a.Leak, a.Forever = &drill.LeakAnswer{M3: 2, HeatJ: 7.2e7, To: "cold sink", DrainH: 30, Again: drill.Refill{M3: 2, Days: []float64{20, 40, math.Inf(1)}}}, true
		}
		text := strings.Join(strings.Fields(Teller{}.Drill(a)), " ")
		for _, want := range []string{"Bed, leaf tips: -4.2 °C at the lowest, 1.5 °C as planned; below freezing after 6 hours, not below freezing as planned.", "2 places fall below their limit", "they can split", " dry ", "What to do, in this order", "Assumed: "} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in\n%s", k, want, text)
			}
		}
		if len(Teller{}.DrillSteps(a)) < 3 {
			t.Errorf("%s: too few steps", k)
		}
		if a.Leak == nil {
			continue
		}
		for _, want := range []string{"2000 L of water run out, and 20.0 kWh above freezing with them, into the cold sink; nine tenths of it within 1 day and 6 hours by a hole of 5 mm.", "brings again in 40 days in the middle of 3 years, in one year of ten in 20 days or less, in one of ten in more than a year or more"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in\n%s", k, want, text)
			}
		}
	}
	if us := (Teller{System: unit.US}).Drill(triedPaper(drill.PaneBroken)); !strings.Contains(us, "24.4 °F") || !strings.Contains(us, "ft²") {
		t.Errorf("in other units: %s", us)
	}
}
