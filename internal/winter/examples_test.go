package winter_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

var update = flag.Bool("update", false, "write testdata/january.txt anew")

// january is a short run on a coarse ground: enough to tell when an example's winter moves, not how cold it is.
func january(p *plan.Plan) []plan.Change {
	changes := []plan.Change{
		{Path: "run.span", Value: "winter"}, {Path: "run.from", Value: "01-01"}, {Path: "run.until", Value: "01-31"}, {Path: "ground.built", Value: "12-20"},
	}
	if p.Shape != nil { // a section may stand on nothing
		changes = append(changes, plan.Change{Path: "ground.finest_cell", Value: "20 cm"}, plan.Change{Path: "ground.reach", Value: "4 m"})
	}
	return changes
}

func loadExample(t *testing.T, e examples.Example, changes ...plan.Change) *plan.Plan {
	t.Helper()
	p, findings := plan.Load(e.Name, e.Plan, house.Known(), changes...)
	if p != nil {
		_, more := house.Resolve(p)
		findings = append(findings, more...)
	}
	for _, f := range findings {
		t.Error(f)
	}
	if p == nil {
		t.FailNow()
	}
	return p
}

// figure is one number of a run and how far it may lie from the one kept.
type figure struct {
	name           string
	value, allowed float64
}

// figures are the numbers that are kept: temperatures within 0.05 K, hours within 2, sums within half a percent.
func figures(a *winter.Answer) []figure {
	outdoors, watched := a.Places[0], a.Places[a.Watched]
	sum := func(j map[string]float64) float64 {
		total := 0.0
		for _, v := range j {
			total += v / 3.6e6
		}
		return total
	}
	in, sun := sum(a.Result.Heat.InJ), 0.0
	for _, w := range a.Result.EnteredW {
		sun += w / 1e3
	}
	list := []figure{
		{"outdoor air, lowest [degC]", outdoors.LowestC, 0.05},
		{watched.Name + ", lowest [degC]", watched.LowestC, 0.05},
		{watched.Name + ", mean [degC]", watched.MeanC, 0.05},
		{watched.Name + ", below freezing [h]", float64(watched.HoursBelowZero), 2},
		{"sun that enters [kWh]", sun, 0.005 * sun},
		{"heat in, all causes [kWh]", in, 0.005 * in},
	}
	if n := len(a.Result.ReserveJ); n > 0 && a.Result.House.Plan.Store != nil {
		v := a.Result.ReserveJ[n-1] / 3.6e6
		list = append(list, figure{"water's heat above freezing at the end [kWh]", v, 0.005 * math.Abs(v)})
	}
	return list
}

const golden = "testdata/january.txt"

// The key numbers of each example stay what they were; a change that moves them renews them by -update and says so in CHANGELOG.md.
func TestExamplesInJanuary(t *testing.T) {
	t.Parallel()
	kept := readGolden(t)
	var out strings.Builder
	out.WriteString("# A coarse January of each example; written by go test ./internal/winter -run January -update\n")
	for _, e := range examples.All() {
		p := loadExample(t, e, january(loadExample(t, e))...)
		a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
		if err != nil {
			t.Fatalf("%s: %v", e.Name, err)
		}
		if r := a.Result.Heat.ImbalanceRel; !(r <= 1e-9) {
			t.Errorf("%s: %.2g of the heat is missing, the worst in %s", e.Name, r, a.Result.Heat.WorstPart)
		}
		if a.Watched < 0 || a.Other != nil || a.Result.Hours() != 31*24 {
			t.Fatalf("%s: place %d is watched, other snow case %v, %d hours", e.Name, a.Watched, a.Other != nil, a.Result.Hours())
		}
		for _, f := range figures(a) {
			key := e.Name + ": " + f.name
			fmt.Fprintf(&out, "%s = %.3f\n", key, f.value)
			want, ok := kept[key]
			if !*update && !(ok && math.Abs(f.value-want) <= f.allowed+0.0005) { // the file keeps three decimals
				t.Errorf("%s is %.3f, was %.3f, within %.3f (kept: %v)", key, f.value, want, f.allowed, ok)
			}
			delete(kept, key)
		}
	}
	if *update {
		if err := os.WriteFile(golden, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	for key := range kept {
		t.Errorf("%s is kept and no longer computed", key)
	}
}

func readGolden(t *testing.T) map[string]float64 {
	t.Helper()
	text, err := os.ReadFile(golden)
	if err != nil && !*update {
		t.Fatal(err)
	}
	kept := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		key, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if !ok {
			continue
		}
		var v float64
		if _, err := fmt.Sscan(value, &v); err != nil {
			t.Fatalf("%s: %q: %v", golden, line, err)
		}
		kept[key] = v
	}
	return kept
}
