package report

import (
	"fmt"

	"suncellar/internal/drill"
)

// DrillSteps are what to do against a fault, in order.
func (t Teller) DrillSteps(a *drill.Answer) []string {
	cold := "Put what covers you have (fleece, blankets, bubble sheet) over the beds before the evening, and jugs of hot water under them: lukewarm drums and covered beds carry a night."
	switch a.Kind {
	case drill.Leak:
		list := []string{"Electricity off outside the house if water stands on the floor."}
		if a.Leak.Repair != nil {
			list = append(list, t.RepairSteps(a.Leak.Repair)...)
		} else {
			list = append(list, "Let out what still stands in the bay by the lowest outlet, away from walls and footings; keep it in other vessels if there are any.")
		}
		return append(list, "Lead the water away from walls and footings, and keep people out from under stacked drums.", cold,
			"Mend it, wait until it has set, fill slowly and look at every joint of the bay. Write the level of each bay down every week from then on: a slow leak shows there first.")
	case drill.DrumFrozen:
		return []string{"Shut the valves on both sides of the bay before the ice in it melts: the water runs out when it thaws.", "Let it thaw slowly, by itself or with hot-water jugs; no flame on plastic.",
			"Let the drum run out in a controlled way, away from walls and footings, and take it out of the row.", "Look at the drums beside it: what froze one comes near the others.", cold}
	case drill.InletOpen:
		return []string{"Close the mouth with a rag, foam or a cap; take it out before it rains.", cold, "Fit a flap or a one-way valve (water.inlet.mouth) when it is milder, and look at it before each frost."}
	case drill.FlapFrozen:
		return []string{"Thaw it with hot water, from the side that is open; no flame on plastic.", "Close it, and put foam or a rag over it for the night.", "Let the pipe before it run empty: water that stands there freezes it again.", cold}
	case drill.VentStuck:
		return []string{fmt.Sprintf("Close %s by hand and tie it shut; unhook the opener if it is one with wax.", a.At), "If it does not close, hang a blanket or film over it from inside.", cold, "Mend it by day, before the vents are needed again."}
	case drill.PaneBroken:
		return []string{"Close the hole from inside with film or a board and tape, tied so that wind cannot take it.", "Draw the cover over it if there is one.", cold, "Put in the new pane by day, without wind."}
	case drill.CoverOff:
		return []string{"Draw it, even in the middle of the night: each hour counts.", cold, "If it is frozen fast or torn, hang what covers a part of the glazing over the beds."}
	case drill.DoorOpen:
		return []string{"Shut it. The walls and drums are still warm: the air is back within an hour or two.", "Look at the leaves nearest the door in the morning; what froze there is picked first.", "Put a spring or a weight on it."}
	}
	panic("report: no steps for a drill: " + string(a.Kind))
}

// drillAssumes are the assumptions of a fault.
func (t Teller) drillAssumes(a *drill.Answer) string {
	s := "Assumed: the snow of the plan's winter goes on by its own rules; beds and ground may freeze."
	switch a.Kind {
	case drill.Leak, drill.DrumFrozen:
		s += fmt.Sprintf(" A round hole of %s (own judgement unless asked), open to the air; drums that open pipes join fall together; water that goes into the ground takes all its heat along (the cold side), and wet ground conducts as before. The rain goes on coming to the drums, and runs out too.", t.bore(a.HoleM))
	case drill.PaneBroken:
		s += fmt.Sprintf(" %s of glazing is open, at the middle of its height; what is left of the glazing is as it was.", t.area(a.PaneM2))
	case drill.DoorOpen, drill.VentStuck:
		s += " It stands fully open at all hours of that time."
	case drill.InletOpen, drill.FlapFrozen:
		s += " The whole bore of the pipe is open to the outdoor air."
	}
	if !a.Forever {
		s += " How long it lasts is own judgement unless asked."
	}
	return s
}
