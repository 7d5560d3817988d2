package report

import (
	"fmt"

	"suncellar/internal/water"
)

// waterCare lists what is to be done, in the order of the year.
func (t Teller) waterCare(p *page, a *water.Answer) {
	p.head("Care, in the order of the year")
	for i := range a.Care {
		p.item(t.careWords(a, &a.Care[i]))
	}
}

// careWords is one thing to do.
func (t Teller) careWords(a *water.Answer, c *water.Care) string {
	names := list(c.Names)
	switch c.Kind {
	case water.CleanRoof:
		return "In spring after the pollen, and in autumn when the leaves are down: clean gutter and outlet, and see that no water stands in the gutter, where mosquitoes breed (common practice, no source)."
	case water.NoFlush:
		return fmt.Sprintf("No first flush is planned: most of a roof's dirt comes in the first %s of runoff (Lay and others 2024), and all of it into the drums.", t.tenths(water.FlushEnoughM))
	case water.LargerFlush:
		return fmt.Sprintf("The first flush is small: most of a roof's dirt comes in the first %s of runoff (Lay and others 2024). A larger one keeps the drums cleaner and gives less water.", t.tenths(water.FlushEnoughM))
	case water.ScreenMouths:
		return fmt.Sprintf("Before it is warm: mesh over every opening, openings at most %s wide (Queensland's rule of 2005, by enHealth 2011, sect. 5.5), fitted without gaps, and clean: a clogged one spills.", t.millimetres(water.MeshM))
	case water.ScreenRunOut:
		return "The mouth of the overflow outside has such a mesh too, or a flap, against mosquitoes, mice and cold air; look after each storm that it is free (common practice, no source)."
	case water.KeepDark:
		return fmt.Sprintf("Keep light from the water of %s: white and clear drums let through enough for algae, which clog drippers. Paint or wrap them dark, and close the lids (common practice, no source).", names)
	case water.KeepLids:
		return "Keep the lids on: open tops let in light for algae, insects and children (common practice, no source)."
	case water.LookForGnats:
		return fmt.Sprintf("While the water is warm: look for wriggling larvae once a week; from egg to flight they need about %d days (from memory). Where there are any, find the opening.", water.BreedingDays)
	case water.CleanMud:
		return "Let out or siphon the mud as told under What settles, best in late summer when the drums are low; onto ornamental ground, not onto beds with food: lead and other metals gather in it (enHealth 2011, sect. 4.5)."
	case water.FlushLines:
		return fmt.Sprintf("Before the season and in the middle of it: open the ends of %s and let them run clear; clay and algae pass any settling. A sieve of 0.1 mm before the drippers (common practice, no source).", names)
	case water.EmptyFlush:
		return t.byFrost(a, c) + "empty the first flush, and leave its drain open until spring."
	case water.EmptySettling:
		return t.byFrost(a, c) + "drain the settling drum outside and leave its drain open, the roof's water led elsewhere; its mud goes with it."
	case water.DrainOutside:
		return t.byFrost(a, c) + fmt.Sprintf("drain what holds water outside: %s. A ball valve keeps water in its body: leave it half open.", list(outsideNames(a)))
	case water.LookAtMouth:
		return "In frost, each day that melts: look that the flap, valve and mouths of inlet and overflow move and are free of ice. From the ground: no ladder on ice."
	}
	panic("report: no words for a care: " + string(c.Kind))
}

// outsideNames are the pipes and valves outside that hold water.
func outsideNames(a *water.Answer) []string {
	var names []string
	if a.Freezing != nil {
		for i := range a.Freezing.Parts {
			if p := &a.Freezing.Parts[i]; p.Outside && p.Kind != water.FlushVessel && p.Kind != water.SettlingTank {
				names = append(names, freezeName(p))
			}
		}
	}
	return names
}

// byFrost is by when.
func (t Teller) byFrost(a *water.Answer, c *water.Care) string {
	if c.At.IsZero() {
		return "Before the first frost: "
	}
	return fmt.Sprintf("Before the first frost under a clear sky (%s in the simulated winter; it can come sooner): ", local(a.Winter, c.At).Format("2 January"))
}
