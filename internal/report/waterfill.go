package report

import (
	"fmt"
	"math"

	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// waterFill tells how fast the drums fill, and where they spill first.
func (t Teller) waterFill(p *page, a *water.Answer) {
	f := &a.Fill
	p.head("Filling")
	if math.IsInf(f.FillS, 1) {
		p.say("No rain comes to the drums.")
	} else {
		p.say(fmt.Sprintf("In a rain of %s the roofs give %s, and empty drums are full after %s. While they fill, their levels lie at most %s apart.",
			t.rainRate(a.RainMS), t.waterFlow(f.CaughtM3S, 0), t.fillTime(f.FillS), t.millimetres(f.UnevenM)))
	}
	if len(f.Roofs) > 1 {
		for _, r := range f.Roofs {
			s := fmt.Sprintf("%s: %s", r.Name, t.waterFlow(r.FlowM3S, 0))
			if !r.Runs {
				s += ", which does not come as far as the drums"
			}
			p.item(s)
		}
	}
	tab := newTable([]string{"where it is too much", "from rain of", "at a flow of"})
	for _, l := range f.Limits {
		rain := t.rainRate(l.RainMS)
		if l.RainMS*3600 > beyondRain {
			rain = "no rain known"
		}
		tab.row(partWords(l), rain, t.waterFlow(l.FlowM3S, 0))
	}
	p.table(tab)
	p.say("Gutters by EN 12056-3, from memory; pipes by Darcy and Weisbach with Colebrook's friction, full of water and clean. A leaf in the outlet makes all of this smaller.")
}

// beyondRain is more than any rain of an hour on record [m/h]: 305 mm in 42 minutes, from memory.
const beyondRain = 0.436

// partWords is a part that overflows.
func partWords(l water.Limit) string {
	switch l.Part {
	case water.GutterPart:
		return "gutter of " + l.Name
	case water.OutletPart:
		return "outlet of the gutter of " + l.Name
	case water.InletPart:
		return "inlet, backs up with the drums full"
	case water.ManifoldPart:
		return "manifold: " + l.Name + " runs over its rim"
	case water.OverflowPart:
		return "overflow: " + l.Name + " runs over its rim"
	}
	panic("report: no words for a part: " + string(l.Part))
}

// fillTime is a time in minutes, hours or days [s].
func (t Teller) fillTime(s float64) string {
	switch h := s / 3600; {
	case h < 2:
		return number(s/60, 0) + " min"
	case h < 72:
		return number(h, 1) + " h"
	default:
		return number(h/24, 1) + " days of such rain"
	}
}

// millimetres is a small height [m].
func (t Teller) millimetres(m float64) string {
	if t.System == unit.US {
		return number(m/0.0254, 1) + " in"
	}
	return number(1000*m, 0) + " mm"
}

// waterDrips tells what the drippers get, full, half full and nearly empty.
func (t Teller) waterDrips(p *page, a *water.Answer) {
	if len(a.Scheme.Drips) == 0 {
		return
	}
	p.head("Drip lines")
	if len(a.Drips) == 0 {
		p.say("No drip line runs.")
		return
	}
	p.say("All that are open at once; the head is the height of water that presses at an emitter.")
	for i := range a.Drips[0].Lines {
		t.dripTable(p, a, i)
	}
	p.gap()
	p.say("Evenness is the emission uniformity of Keller and Karmeli (1974): from 90 % good, from 80 % fair, below 70 % poor (classes from memory). Water stands in " + t.plainUnit() + " above grade.")
}

// dripTable is one drip line, or equal ones side by side, over the height of the water.
func (t Teller) dripTable(p *page, a *water.Answer, i int) {
	name := a.Drips[0].Lines[i].Name
	beside := 1
	if of := a.DripLine(name); of != nil && of.Plan.Lines > 1 {
		beside = of.Plan.Lines
		name += fmt.Sprintf(", %d side by side", beside)
	}
	p.gap()
	p.say(upper(name) + ":")
	tab := newTable([]string{"", "water", "head at", "head at", "each,", "all", "even-", "dry"}, []string{"", "stands", "first", "last", "mean", "together", "ness", ""})
	for _, s := range a.Drips {
		l := s.Lines[i]
		mean := l.FlowM3S / float64(beside*len(l.Flows))
		tab.row(s.Name, t.plainHeight(s.Z), t.depth(l.Heads[0]), t.depth(l.Heads[len(l.Heads)-1]), t.waterFlow(mean, 2), t.waterFlow(l.FlowM3S, 1), number(100*l.Evenness, 0)+" %", dryOf(l))
	}
	p.table(tab)
}

// plainHeight is a height above grade without words.
func (t Teller) plainHeight(z float64) string {
	if z < 0 {
		return "-" + t.height(-z)
	}
	return t.height(z)
}

func (t Teller) plainUnit() string {
	if t.System == unit.US {
		return "feet and inches"
	}
	return "metres"
}

func dryOf(l water.Line) string {
	if l.Dry == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d", l.Dry, len(l.Flows))
}

// waterPipes lists the flow in each pipe while the drums fill.
func (t Teller) waterPipes(p *page, a *water.Answer) {
	if len(a.Fill.Pipes) == 0 {
		return
	}
	p.head("Flow in each pipe, half full, in a rain of " + t.rainRate(a.RainMS))
	tab := newTable([]string{"pipe", "flow", "speed", "loss of head"})
	for _, f := range a.Fill.Pipes {
		tab.row(f.Name, t.waterFlow(math.Abs(f.FlowM3S), 0), t.pipeSpeed(f.SpeedMS), t.millimetres(f.LossM))
	}
	p.table(tab)
}

func (t Teller) pipeSpeed(ms float64) string {
	if t.System == unit.US {
		return number(ms/0.3048, 2) + " ft/s"
	}
	return number(ms, 2) + " m/s"
}
