package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"suncellar/internal/water"
)

// waterFreezing tells what freezes first and when, what runs empty, and the ice in the drums.
func (t Teller) waterFreezing(p *page, a *water.Answer) {
	p.head("What freezes")
	f := a.Freezing
	if f == nil {
		p.say("Not known: no winter was run, since the plan has no climate.")
		return
	}
	p.say("In the simulated winter, " + a.Winter.SnowCase + ". It is one winter: a colder one freezes more, and sooner.")
	p.gap()
	for _, s := range t.freezeSentences(a) {
		p.say(s)
	}
	t.freezeTable(p, a)
	if len(f.Drains) > 0 {
		p.say(fmt.Sprintf("Taken to run empty by themselves, and so not reckoned: %s. A sag, or melt water that comes in frost, still freezes in them.", list(f.Drains)))
	}
	p.say("Water is taken to stand still and to give heat to its air alone, through wall and film (25 W/m²K outside, 10 inside; own judgement after ISO 6946); outdoors everything is 2 K colder than the air, as under a clear sky. Ice grows inward from the wall after Plank (1913, from memory). " +
		"First flush and settling drum are taken as full all winter; what the drums give the pipes inside is left out. All of that is the cold side.")
	p.gap()
	for _, s := range t.freezeDrums(a) {
		p.say(s)
	}
	p.say("No drum is ever to be let freeze: ice splits walls and fittings long before a drum is solid. Thaw a frozen pipe with warm water or cloths from its open end on, never with a flame, and nothing electric beside water; a pipe that was frozen may leak once it thaws.")
}

// freezeSentences are what freezes first, and how near the inside came.
func (t Teller) freezeSentences(a *water.Answer) []string {
	var list []string
	parts := a.Freezing.Parts
	if len(parts) == 0 {
		return []string{"No part beside the drums is known to hold water."}
	}
	if first := &parts[0]; first.First.IsZero() {
		list = append(list, "None of the parts that hold water freezes; "+t.nearest(a, first))
	} else {
		list = append(list, fmt.Sprintf("First to freeze: %s, with ice from %s on%s.", freezeName(first), when(local(a.Winter, first.First)), t.solid(a, first)))
	}
	in := slices.IndexFunc(parts, func(p water.FreezePart) bool { return !p.Outside && !p.First.IsZero() })
	near := slices.IndexFunc(parts, func(p water.FreezePart) bool { return !p.Outside })
	switch {
	case in > 0:
		list = append(list, fmt.Sprintf("First inside: %s, with ice from %s on%s.", freezeName(&parts[in]), when(local(a.Winter, parts[in].First)), t.solid(a, &parts[in])))
	case in < 0 && near > 0:
		list = append(list, "Inside nothing of them freezes; "+t.nearest(a, &parts[near]))
	}
	return list
}

// solid is when it is ice through and through.
func (t Teller) solid(a *water.Answer, p *water.FreezePart) string {
	if p.Solid.IsZero() {
		return fmt.Sprintf(", %s at most", iceShare(p.MostIce))
	}
	return " and solid from " + when(local(a.Winter, p.Solid))
}

// iceShare is the share of a pipe's water that is ice.
func iceShare(v float64) string {
	if v < 0.01 {
		return "below 1 %"
	}
	return number(100*v, 0) + " % of it"
}

// nearest is how near a part came to freezing.
func (t Teller) nearest(a *water.Answer, p *water.FreezePart) string {
	return fmt.Sprintf("nearest: %s at %s on %s%s.", freezeName(p), signedTemp(t, p.LowestC), when(local(a.Winter, p.LowestAt)), tooNear(p.LowestC))
}

// tooNear is what is said of water that came within 2 K of freezing.
func tooNear(c float64) string {
	if c <= 2 {
		return ", which is too near to count on"
	}
	return ""
}

func signedTemp(t Teller, c float64) string {
	if s := t.temp(c); c > 0 && !strings.HasPrefix(s, "-") {
		return "+" + s
	}
	return t.temp(c)
}

// freezeTable lists the parts, the first to freeze first.
func (t Teller) freezeTable(p *page, a *water.Answer) {
	if len(a.Freezing.Parts) == 0 {
		return
	}
	day := func(at time.Time) string {
		if at.IsZero() {
			return ""
		}
		return shortDay(local(a.Winter, at))
	}
	tab := newTable([]string{"what holds water", "first ice", "solid from", "hours", "lowest,"}, []string{"", "", "", "of ice", t.degree()})
	for i := range a.Freezing.Parts {
		of := &a.Freezing.Parts[i]
		name := freezeName(of)
		if of.Others > 0 {
			name += fmt.Sprintf(" and %d more", of.Others)
		}
		cells := []string{name, "none", "", "", t.figure(of.LowestC)}
		if !of.First.IsZero() {
			cells = []string{name, day(of.First), day(of.Solid), fmt.Sprint(of.IceHours), "ice"}
			if of.Solid.IsZero() {
				cells[2] = iceShare(of.MostIce)
			}
		}
		tab.row(cells...)
	}
	p.table(tab)
}

// freezeName is a part in words.
func freezeName(p *water.FreezePart) string {
	switch p.Kind {
	case water.InletPipe:
		return "inlet pipe outside"
	case water.InletFoot:
		return "foot of the inlet"
	case water.InletMouth:
		return p.Name + " at the inlet's end"
	case water.FlushVessel:
		return "first flush while full"
	case water.SettlingTank:
		return "settling drum"
	case water.OverflowPipe:
		return "overflow pipe"
	case water.ManifoldPipe:
		return "manifold of " + p.Name
	case water.PlainPipe:
		return "pipe " + p.Name
	case water.DeadLeg:
		return "dead leg " + p.Name
	case water.ValveBody:
		if strings.HasPrefix(p.Name, "valve") {
			return p.Name
		}
		return "valve " + p.Name
	case water.DripPipe:
		return "drip line " + p.Name
	}
	panic("report: no words for what freezes: " + string(p.Kind))
}

// freezeDrums are the drums: ice, its room, or how near they came.
func (t Teller) freezeDrums(a *water.Answer) []string {
	var list []string
	near := -1
	for i := range a.Freezing.Drums {
		d := &a.Freezing.Drums[i]
		switch {
		case d.First.IsZero():
			if near < 0 || d.LowestC < a.Freezing.Drums[near].LowestC {
				near = i
			}
		case d.Stacked:
			list = append(list, fmt.Sprintf("%s has ice from %s on, %s %% of the water at most, on %s, and the lower of its stacked drums are full to the top: ice there has no room at all.",
				upper(d.Bay), when(local(a.Winter, d.First)), number(100*d.Ice, 1), when(local(a.Winter, d.IceAt))))
		case !d.TightAt.IsZero():
			list = append(list, fmt.Sprintf("%s is filled too full: ice from %s on, %s %% of the water on %s, which takes %s %% of a drum more room (ice is 9 %% larger), and there are %s %%; too little from %s on. Fill it less.",
				upper(d.Bay), when(local(a.Winter, d.First)), number(100*d.Ice, 0), when(local(a.Winter, d.IceAt)), number(100*d.Need, 1), number(100*d.Head, 1), when(local(a.Winter, d.TightAt))))
		default:
			list = append(list, fmt.Sprintf("%s has ice from %s on, %s %% of the water at most, on %s. It takes %s %% of a drum more room than its water, of %s %% that are free: that saves the drum only where the water can rise.",
				upper(d.Bay), when(local(a.Winter, d.First)), number(100*d.Ice, 1), when(local(a.Winter, d.IceAt)), number(100*d.Need, 1), number(100*d.Head, 1)))
		}
	}
	if near >= 0 {
		d := &a.Freezing.Drums[near]
		lead := "No ice in the drums"
		if len(list) > 0 {
			lead = "None in the others"
		}
		list = append(list, fmt.Sprintf("%s; nearest: %s at %s on %s%s.", lead, d.Bay, signedTemp(t, d.LowestC), when(local(a.Winter, d.LowAt)), tooNear(d.LowestC)))
	}
	return list
}
