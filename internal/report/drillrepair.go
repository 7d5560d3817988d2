package report

import (
	"fmt"
	"math"

	"suncellar/internal/drill"
)

// Repair tells how to mend a joint, step by step.
func (t Teller) Repair(r *drill.Repair) string {
	p := &page{}
	p.head("To mend " + r.At.Name)
	for i, s := range t.RepairSteps(r) {
		p.hang(fmt.Sprintf("%d. ", i+1), s)
	}
	p.gap()
	for _, s := range t.MeanwhileSentences(r) {
		p.say(s)
	}
	p.head("Before you begin")
	for _, c := range repairCautions() {
		p.item(c)
	}
	return p.String()
}

// RepairSteps are what to shut and what to let out, in order.
func (t Teller) RepairSteps(r *drill.Repair) []string {
	var list []string
	parts := false
	for _, c := range r.Shut {
		v := &r.Scheme.Valves[c.Valve]
		parts = parts || v.Pipe >= 0
		s := "Shut " + v.Name
		if c.SavesM3 > 1e-9 {
			s += ": it holds back " + t.water(c.SavesM3)
		}
		s += "."
		if v.Assumed {
			s += " The plan does not write this valve; a bay is taken to begin with one."
		}
		list = append(list, s)
	}
	if !parts && len(r.Drains) > 0 {
		list = append(list, "No open valve stands between this joint and the drums whose water comes to it: nothing more can be held back.")
	}
	if r.Rain {
		list = append(list, "Lead the rain away before the inlet: it comes into this part, and no valve keeps it out.")
	}
	if len(r.Drains) == 0 {
		return append(list, "No water stands over the joint: nothing has to be let out. Open it.")
	}
	if r.Tap != nil {
		list = append(list, fmt.Sprintf("Use the tap first if it sits on this part, which the plan does not tell: it lets out %s, and what follows, told as if it did not, is less by that.", t.water(r.Tap.M3)))
	}
	for i := range r.Drains {
		list = append(list, t.drainStep(r, &r.Drains[i]))
	}
	return list
}

// drainStep is one outlet with what it takes.
func (t Teller) drainStep(r *drill.Repair, d *drill.Drain) string {
	what := fmt.Sprintf("%s out of %s, %s", t.water(d.M3), fallWords(r.House, d.Falls), t.downTo(d.Falls))
	switch d.By {
	case drill.ByTap:
		return "Let out by the tap: " + what + "."
	case drill.ByDrip:
		line := r.Scheme.Drips[d.Drip].Plan.Name
		s := fmt.Sprintf("Let out by the drip line %s, which is slow: %s.", line, what)
		if d.Opens {
			s = fmt.Sprintf("Open the drip line %s and let out by it, which is slow: %s.", line, what)
		}
		return s
	case drill.ByJoint:
		return fmt.Sprintf("Open the joint a little, with a hose or a trough below it: %s. Nothing lower lets it out.", what)
	}
	panic("report: no words for an outlet: " + string(d.By))
}

// downTo is where drums stand at the end.
func (t Teller) downTo(falls []drill.Fall) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, f := range falls {
		low, high = min(low, f.ToZ), max(high, f.ToZ)
	}
	if t.grade(low) == t.grade(high) {
		return "down to " + t.grade(low)
	}
	return fmt.Sprintf("down to between %s and %s", t.grade(low), t.grade(high))
}

// MeanwhileSentences are what goes on while a joint is mended.
func (t Teller) MeanwhileSentences(r *drill.Repair) []string {
	s := &r.Service
	first := "Meanwhile no drum is in use."
	if len(s.Vessels) > 0 {
		first = fmt.Sprintf("Meanwhile %s keep their water and their warmth.", vesselWords(r.House, s.Vessels))
	}
	rain := "No rain can be taken."
	switch {
	case s.Inlet && len(s.Fed) > 0 && s.Overflow:
		rain = fmt.Sprintf("Rain comes to %s, and the overflow takes what is too much.", vesselWords(r.House, s.Fed))
	case s.Inlet && len(s.Fed) > 0:
		rain = fmt.Sprintf("Rain comes to %s, and no overflow takes what is too much: lead it away before a rim spills into the house.", vesselWords(r.House, s.Fed))
	}
	if len(r.Scheme.Drips) == 0 {
		return []string{first, rain}
	}
	drips := "No drip line runs."
	var names []string
	for _, i := range s.Drips {
		names = append(names, r.Scheme.Drips[i].Plan.Name)
	}
	if len(names) > 0 {
		drips = fmt.Sprintf("Drip lines that still hang on water: %s.", list(names))
	}
	return []string{first, rain, drips}
}

// repairCautions are those of letting water out and mending.
func repairCautions() []string {
	return []string{
		"Switch off at the board, not at the lamp or plug, whatever electric stands where the water goes, and before you step into a wet place.",
		"Lead the water to where it soaks away clear of walls and footings, not onto the floor below the drums. Do not dig or compact beside full drums, nor behind a wall after a leak: wet ground gives way.",
		"A full drum of 208 L weighs 220 kg. Never stand below stacked drums, or between them and a wall, while they fill or empty; move none that is not empty.",
		"Thaw a frozen joint or valve by warm cloths or jugs of warm water, never by a flame. Ice can hold back water that comes at once when it melts: stand aside, and have the valves shut first.",
		"Wet floors freeze: strew sand, and have light. What comes off a roof is not drinking water: keep it off food and wash your hands.",
		"Drums that are let out give no warmth: mend in mild weather where it can wait. Where pipes are joined to the mains, local codes and a licensed plumber decide.",
	}
}
