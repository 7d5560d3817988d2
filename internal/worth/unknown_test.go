package worth

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// layered is the small pit on layered soil, all of whose figures of the first order are written otherwise than they are left out.
var layered = strings.NewReplacer(
	"site:\n", "site:\n  soil_layers: [{to: 30 cm, moisture: 10 %}, {to: 1 m, texture: sand, conductivity: 1.2 W/mK}]\n",
	"leakage: {area: 60 cm2}", "leakage: {air_changes: 0.8 ach}\ncover: {r_value: 0.7 m2K/W, fit: 60 %}\nframe: {dirt: 3 %}\nsurfaces: {drum_factor: 0.9}",
).Replace(pit)

// A plan's own spreads are the rows' steps, what it takes as known is none, and a thing may be moved beyond the ends of its spread: the
// moved plan is one house.
func TestThePlansOwnSpreads(t *testing.T) {
	p := load(t, strings.Replace(pit, "store:", "unknown: {leakage: 55 to 65 cm2, dirt: 4.9 to 5.2 %, soil_moisture: 49 to 80 %, inside_factor: off}\nstore:", 1))
	h, _ := house.Resolve(p)
	seen := map[string]Parameter{}
	for _, q := range Parameters(p, h) {
		seen[q.ID] = q
	}
	if _, on := seen["surfaces.inside_factor, not known"]; on {
		t.Error("a film that is taken as known has a row")
	}
	if q := seen["site.soil.moisture, not known"]; q.Set(1)[0].Value != "73.4091243822 %" || q.One.In != "23 % more or 0.78 % less" || !strings.HasPrefix(q.Prior, "the plan: 49 to 80 %") {
		t.Errorf("moisture of the soil by %s: %v, from %s", q.One.In, q.Set(1), q.Prior)
	}
	for _, id := range []string{"leakage.area", "frame.dirt", "leakage.area, not known", "frame.dirt, not known"} {
		u := &perUnit{req: UnitRequest{Plan: p}, params: []Parameter{seen[id]}}
		if s := u.stepsOf(0); s.err != nil || s.notes != nil || s.h != seen[id].Step {
			t.Errorf("%s moved by %g: %v %v", id, s.h, s.notes, s.err)
		}
	}
}

// The first-order rows move the plan as they did before the spreads had a table of their own: testdata/unknown.txt was written by the
// code of that time, to the last digit.
func TestUnknownRowsStay(t *testing.T) {
	want, err := os.ReadFile("testdata/unknown.txt")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	mine := []examples.Example{{Name: "pit", Plan: []byte(pit)}, {Name: "layered", Plan: []byte(layered)}, {Name: "box", Plan: []byte(box)}}
	for _, c := range append(mine, examples.All()...) {
		p, findings := plan.Load(c.Name, c.Plan, house.Known())
		if p == nil {
			t.Fatal(plan.AsError(findings))
		}
		h, _ := house.Resolve(p)
		for _, q := range Parameters(p, h) {
			if q.Kind != Unknown {
				continue
			}
			fmt.Fprintf(&b, "%s | %s | %s | %s\n", c.Name, q.ID, q.Label, q.One.In)
			for _, z := range []float64{1, -1, 0.5, -0.25} {
				for _, change := range q.Set(z) {
					fmt.Fprintf(&b, "  %+g: %s\n", z, change)
				}
			}
		}
	}
	if b.String() != string(want) {
		t.Errorf("rows of what is not known:\n%s\nwanted:\n%s", b.String(), want)
	}
}
