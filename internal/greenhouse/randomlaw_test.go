package greenhouse

import (
	"context"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// On random plans too: half the leakage, or more board in roof and end walls, never lowers any place's lowest in steady cold without sun. Walls in the earth are
// another thing: board there keeps the earth's warmth out.
func TestLessLossIsNeverColderOnRandomPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := anyPlan(t)
		text = steadyOnly(text)
		spec := weather.SpellSpec{Days: 6, MeanC: rapid.Float64Range(-25, -5).Draw(t, "mean"), Cloud: 1, WindMS: rapid.Float64Range(0.5, 6).Draw(t, "wind"), DewPointBelowK: 3}
		usual, ok := lowsOf(t, text+"leakage: {area: 150 cm2}\n", spec)
		if !ok {
			t.Skip("does not fit, or is colder than outdoors somewhere")
		}
		tight, _ := lowsOf(t, text+"leakage: {area: 75 cm2}\n", spec)
		compareLows(t, "tighter", usual, tight)
		thick, _ := lowsOf(t, strings.Replace(text, "mineral_wool, thickness: 81 mm", "mineral_wool, thickness: 140 mm", 1)+"leakage: {area: 150 cm2}\n", spec)
		compareLows(t, "thicker roof and ends", usual, thick)
	})
}

// steadyOnly takes out of a plan what goes by the clock or by rule, since the law is one of steady cold, and its leakage.
func steadyOnly(text string) string {
	var kept []string
	for _, line := range strings.SplitAfter(text, "\n") {
		key, _, _ := strings.Cut(line, ":")
		switch key {
		case "leakage", "fans", "heat", "vents", "cover":
		default:
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}

// frozenSlackK is what freezing ground may do to a law of sign at a face or in soil [K]: the conductance of a cell follows its ice in halves, and its
// temperature is let be within 0.1 K of its heat's (package thermal). With both ten times finer the law holds within slackK.
const frozenSlackK = 0.1

// lawTolerance is that of the steps here, a tenth of the usual [K]: the usual one moves the lowest air of a room with a swapping of layers by up to 0.04 K, more than
// the law is held to.
const lawTolerance = 0.1

func compareLows(t *rapid.T, what string, usual, better map[string]float64) {
	for name, c := range usual {
		slack := 2 * slackK
		if strings.Contains(name, "inner face") || strings.Contains(name, "soil") {
			slack = frozenSlackK
		}
		if b, ok := better[name]; ok && b < c-slack {
			t.Errorf("%s: %s is %.3f °C, before %.3f °C", what, name, b, c)
		}
	}
}

func lowsOf(t *rapid.T, text string, spec weather.SpellSpec) (map[string]float64, bool) {
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load("drawn.yaml", []byte(text), known)
	if err := plan.AsError(findings); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	h, bad := house.Resolve(p)
	if len(bad) > 0 {
		return nil, false
	}
	w, err := weather.Spell(spec, placeOf(h), time.Date(2023, 1, 10, 0, 0, 0, 0, time.FixedZone("", -7*3600)))
	if err != nil {
		t.Fatal(err)
	}
	g, err := New(h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever, Control: thermal.Control{Tolerance: lawTolerance}})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	r, err := g.Run(context.Background(), &w, Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	m := lows(r)
	for _, c := range m {
		if c < spec.MeanC {
			return m, false
		}
	}
	return m, true
}
