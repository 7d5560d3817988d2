package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/water"
)

// TurnValve is the change of the plan that opens a valve of the scheme, or shuts it. The valve before a bay that the plan does not write is written with it.
func TurnValve(a *water.Answer, i int) plan.Change {
	v := &a.Scheme.Valves[i]
	state := "shut"
	if v.Shut {
		state = "open"
	}
	if !v.Assumed {
		return plan.Change{Path: v.Path + ".state", Value: state, Origin: plan.Changed}
	}
	bay := a.Scheme.BayBehind(v.Pipe)
	at := a.House.BayNamed(bay)
	return plan.Change{Path: fmt.Sprintf("water.valves[%d]", len(a.Plan.Water.Valves)), Value: fmt.Sprintf("{name: %s, on: %s, state: %s}", quoted(v.Name), quoted(at), state), Origin: plan.Changed}
}

// quoted is a name as a plan file has it between quotes, whatever signs are in it.
func quoted(name string) string { return "'" + strings.ReplaceAll(name, "'", "''") + "'" }

// WaterBegin is the change that gives a plan without water the usual scheme: rain of its back roof, or of what else rain falls on, into its rows of drums. None: why there is none.
func WaterBegin(h *house.House) (changes []plan.Change, why string) {
	var rows []string
	for i := 0; h.Plan.Store != nil && i < len(h.Plan.Store.Rows); i++ {
		if r := &h.Plan.Store.Rows[i]; r.Drums > 0 {
			rows = append(rows, "{row: "+quoted(r.Name)+"}")
		}
	}
	if len(rows) == 0 {
		return nil, "The house has no drums yet: put a row of them on the page House first."
	}
	for _, roof := range catching(h) {
		c := plan.Change{Path: "water", Value: fmt.Sprintf("{catchments: [{name: %s, of: %s}], manifolds: [%s]}", quoted(roof), quoted(roof), strings.Join(rows, ", ")), Origin: plan.Changed}
		if stands(h, c) {
			return []plan.Change{c}, ""
		}
	}
	return nil, "The house has no roof that rain runs off. Write a catchment with area, slope and eave_height under water in the plan's text (page House)."
}

// catching are the faces that rain falls on, roofs first: the back roof before others, glazing last.
func catching(h *house.House) []string {
	var list []string
	for _, glazed := range []bool{false, true} {
		for i := range h.Faces {
			f := &h.Faces[i]
			if f.End != 0 || f.Behind != house.Air || f.Tilt > 80*math.Pi/180 || (f.Of == "glazing") != glazed || slices.Contains(list, f.Of) {
				continue
			}
			if f.Of == "back roof" {
				list = slices.Insert(list, 0, f.Of)
			} else {
				list = append(list, f.Of)
			}
		}
	}
	return list
}

// stands tells whether a plan with a change makes a house.
func stands(h *house.House, c plan.Change) bool {
	p, findings := h.Plan.Apply(c)
	if plan.Failed(append(findings, plan.Check(p, house.Known())...)) {
		return false
	}
	_, bad := house.Resolve(p)
	return !plan.Failed(bad)
}
