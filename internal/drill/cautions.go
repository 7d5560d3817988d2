package drill

import (
	"slices"

	"suncellar/internal/winter"
)

// cautions belong to the answer and stand with it.
func (a *Answer) cautions() {
	list := []string{
		"A fault tried on paper in one winter, on the house as planned: a colder night, more wind or a second fault brings the limit sooner. No hour told here is a promise.",
	}
	switch a.Kind {
	case Leak, DrumFrozen:
		list = append(list,
			"Water on the floor or in the ground: switch electricity off outside the house before anybody wades in. Where it is cold it turns to ice underfoot.",
			"No digging or compacting beside full drums or behind a wall after a leak: softened ground gives way. Where a footing was wetted, have it looked at before the drums are filled again; local codes and a licensed engineer decide.",
			"Drums that stand on others are emptied before those below them, and nobody stands below them meanwhile.")
	case VentStuck, PaneBroken:
		list = append(list, "Glazing and vents are reached from a ladder: on firm ground, tied, with somebody at its foot, never in wind, on ice or from the snow's way down. Broken glass and sheets are handled with gloves; a board or film tied over the hole holds till morning.")
	case InletOpen, FlapFrozen:
		list = append(list, "No flame on frozen plastic: warm it with hot water, from the end that is open. A rag or foam in the mouth keeps the cold out; take it out before it rains.")
	}
	list = append(list, "No unvented burner for heat: it kills in a closed house. Hot-water jugs first; electric heaters only with a residual-current device and away from water.")
	if a.Leak != nil || slices.Contains([]Kind{PaneBroken, CoverOff}, a.Kind) {
		list = append(list, "Drums are never to be let freeze: they split.")
	}
	a.Cautions = append(list, winter.FootingCautions(a.Winter.House)...)
}
