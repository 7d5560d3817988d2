package prices

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/unit"
)

// Check warns of prices of things that neither the program nor the plan knows: a name that is misspelled prices nothing.
func (l *List) Check(p *plan.Plan) []plan.Finding {
	known := house.Known()
	names := slices.Concat(known.Materials, known.Glazings, known.Drums, quantities.Things(), slices.Sorted(maps.Keys(p.Materials)), slices.Sorted(maps.Keys(p.Glazings)))
	parts := map[string]bool{}
	for _, row := range plan.Table() {
		if row.Part == "" {
			part, _, _ := strings.Cut(row.Path, "[")
			parts[part] = true
		}
	}
	var list []plan.Finding
	for i := range l.Prices {
		price := &l.Prices[i]
		warn := func(hint, format string, args ...any) {
			list = append(list, plan.Finding{File: l.File, Line: price.Line, Column: 1, Path: price.Path, Message: fmt.Sprintf(format, args...), Hint: hint, Severity: plan.Warning})
		}
		if price.Per == Change {
			part, _, _ := strings.Cut(price.Name, ".")
			if part, _, _ = strings.Cut(part, "["); !parts[part] {
				warn("a price per change is written with the path of a value, such as leakage.area", "the plan has no part %q", part)
			}
			continue
		}
		if slices.ContainsFunc(names, func(n string) bool { return price.same(n) }) {
			continue
		}
		hint := "things are called as in the plan file"
		if near, ok := unit.Nearest(price.Name, names); ok {
			hint = "did you mean " + near + "?"
		}
		warn(hint, "nothing is called %q", price.Name)
	}
	return list
}
