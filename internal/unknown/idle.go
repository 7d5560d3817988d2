package unknown

import (
	"fmt"
	"slices"

	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// Idle warns of what the plan says below unknown that nothing in the house answers to: a cover's fit without a cover, say.
func Idle(p *plan.Plan, h *house.House) []plan.Finding {
	var list []plan.Finding
	inputs := Of(p, h)
	for _, key := range plan.UnknownKeys() {
		if p.Unknown.Of(key) == nil || slices.ContainsFunc(inputs, func(in Input) bool { return in.ID == key }) {
			continue
		}
		list = append(list, p.Place(plan.Finding{Path: plan.Join("unknown", key), Severity: plan.Warning,
			Message: fmt.Sprintf("has nothing to act on: %s", needs[key]), Hint: "leave it out"}))
	}
	return list
}

// needs is what a key acts on.
var needs = map[string]string{
	"leakage":           "the plan has no leakage",
	"soil_moisture":     "no face has earth behind it",
	"soil_conductivity": "no face has earth behind it",
	"dirt":              "there is no dirt on the glazing, or no glazing",
	"ageing":            "the glazing is new or does not age, or there is none",
	"drum_factor":       "there is no water, or surfaces.inside fixes the films",
	"inside_factor":     "surfaces.inside fixes the films",
	"cover_fit":         "there is no cover, or its edge is measured",
	"snowfall":          "the plan says of no snow that falls, or there is no glazing",
}
