package greenhouse

import (
	"math"
	"strings"
	"testing"
	"time"
)

// A vent that stands open lets in as much whether or not others in the plan, shut, are beside it.
func TestShutVentsDoNotCount(t *testing.T) {
	flow := func(vents string, open ...float64) float64 {
		h := mustHouse(t, strings.Replace(smallPit, "beds: [", "vents: ["+vents+"]\nbeds: [", 1))
		g, r := mustRun(t, h, Setup{StartC: 9, Ground: flat(9), Snow: SnowNever}, spellAt(t, h, cold(1, -5), time.January, 5))
		books(t, r)
		q, _ := g.flows.ventFlow(open, 8, -5)
		return q
	}
	const one, other = "{name: one, in: left end, area: 0.5 m2, height: 1 m}", "{name: other, in: right end, area: 0.3 m2, height: 2 m}"
	alone, beside := flow(one, 1), flow(one+", "+other, 1, 0)
	if !(alone > 0) || math.Abs(beside-alone) > 1e-12 {
		t.Errorf("%g m3/s alone, %g beside one that is shut", alone, beside)
	}
}
