package winter

import (
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// A plan that says no snow falls is run once, without snow, whatever its weather holds; one that says nothing takes the
// weather's, and where that has none either, snowfall is not known.
func TestSnowIsKnown(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what      string
		set       string // of snow
		snowyFile bool
		known     bool
		falls     bool
	}{
		{"months of the plan", "", false, true, true},
		{"the plan says none", "{list: []}", false, true, false},
		{"the plan says none, the file has some", "{list: []}", true, true, false},
		{"nothing is said", "none", false, false, false},
		{"nothing is said, the file has some", "none", true, true, true},
	} {
		var changes []plan.Change
		if row.set != "" {
			changes = []plan.Change{{Path: "snow", Value: row.set}}
		}
		p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), changes...)
		if p == nil {
			t.Fatal(findings)
		}
		req := Request{Plan: p}
		if row.snowyFile {
			year, err := Make(p, 1)
			if err != nil {
				t.Fatal(err)
			}
			year.Hours[100].SnowfallM = 0.1
			req.Year = &year
		}
		got, err := Prepare(req)
		if err != nil {
			t.Fatal(err)
		}
		falls := false
		for _, h := range got.Year.Hours {
			falls = falls || h.SnowfallM > 0 || h.SnowDepthM > 0
		}
		if got.SnowKnown != row.known || falls != row.falls {
			t.Errorf("%s: known %v, falls %v; want %v, %v", row.what, got.SnowKnown, falls, row.known, row.falls)
		}
	}
}
