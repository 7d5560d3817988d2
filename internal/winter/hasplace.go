package winter

import (
	"fmt"
	"slices"
	"strings"

	"suncellar/internal/greenhouse"
	"suncellar/internal/unit"
)

// HasPlace refuses a place that a house does not have, with the places that it has or the one that may be meant. state is what is told of the house besides, such as " without
// its water".
func HasPlace(g *greenhouse.Greenhouse, name, state string) error {
	var names []string
	for _, p := range g.Places() {
		names = append(names, p.Name)
	}
	if slices.Contains(names, name) {
		return nil
	}
	hint := "places: " + strings.Join(names, "; ")
	if near, ok := unit.Nearest(name, names); ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return fmt.Errorf("place: %q is no place of this house%s\nhint: %s", name, state, hint)
}
