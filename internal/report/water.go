package report

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// Water tells what the water of a plan comes to.
func (t Teller) Water(a *water.Answer) string {
	p := &page{}
	p.say(a.Plan.Name + ", its water")
	p.gap()
	for _, s := range t.WaterSentences(a) {
		p.say(s)
	}
	t.waterFindings(p, a)
	t.waterFill(p, a)
	t.waterDrips(p, a)
	t.waterRain(p, a)
	t.waterLedgers(p, a)
	t.waterSettled(p, a)
	t.waterFreezing(p, a)
	t.waterCare(p, a)
	p.head("Before you rely on it")
	for _, c := range a.Cautions {
		p.item(c)
	}
	t.waterAssumed(p, a)
	t.waterPipes(p, a)
	return p.String()
}

// WaterSentences tell whether the water runs, what the drums hold, what the years give, and what a draw costs.
func (t Teller) WaterSentences(a *water.Answer) []string {
	list := []string{t.runsSentence(a), t.holdsSentence(a)}
	if s := t.yearsSentence(a); s != "" {
		list = append(list, s)
	}
	return append(list, t.DrawSentences(a)...)
}

// runsSentence is whether it runs by gravity.
func (t Teller) runsSentence(a *water.Answer) string {
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Stops {
			return "The water does not run as planned. " + t.waterFinding(a, f)
		}
	}
	if len(a.Findings) > 0 {
		return fmt.Sprintf("The water runs by gravity, from roof to drums to beds; %s below.", isTold(len(a.Findings)))
	}
	return "The water runs by gravity, from the roof to the drums, to the overflow and to every drip line, by the heights of the plan."
}

func isTold(n int) string {
	if n == 1 {
		return "one doubt is told"
	}
	return fmt.Sprintf("%d doubts are told", n)
}

// holdsSentence is what the drums hold, and how much of it can be used.
func (t Teller) holdsSentence(a *water.Answer) string {
	l := &a.Levels
	if len(a.Scheme.Fed) == 0 {
		return "No drum is fed."
	}
	by := "the drip lines can use"
	if l.ByCan {
		by = "can be taken at the tap"
	}
	return fmt.Sprintf("Full, the water stands %s and is %s; of it %s %s, down to %s.",
		t.grade(l.FullZ), t.water(l.FullM3), t.water(max(0, l.UsableM3)), by, t.grade(l.LowestZ))
}

// grade is a height above or below grade.
func (t Teller) grade(z float64) string {
	switch s := t.height(math.Abs(z)); {
	case strings.Trim(s, "0.' \"mfti") == "":
		return "at grade"
	case z < 0:
		return s + " below grade"
	default:
		return s + " above grade"
	}
}

// waterFlow is water by the hour [m³/s].
func (t Teller) waterFlow(m3s float64, decimals int) string {
	if t.System == unit.US {
		return number(m3s*3600/0.003785411784, decimals+1) + " gal/h"
	}
	return number(m3s*3.6e6, decimals) + " L/h"
}

// rainRate is a rain by the hour [m/s].
func (t Teller) rainRate(ms float64) string {
	if t.System == unit.US {
		return number(ms*3600/0.0254, 1) + " in/h"
	}
	return number(ms*3.6e6, 0) + " mm/h"
}

// thousand is the amount of water that a pump's work is told for [m³], and its name.
func (t Teller) thousand() (m3 float64, name string) {
	if t.System == unit.US {
		return 100 * 0.003785411784, "100 gal"
	}
	return 1, "1000 L"
}

// waterFindings lists them with their places in the plan.
func (t Teller) waterFindings(p *page, a *water.Answer) {
	if len(a.Findings) == 0 {
		return
	}
	p.head("Where it does not run, or not all of it")
	for i := range a.Findings {
		f := &a.Findings[i]
		p.item(t.waterFinding(a, f) + " " + waterHint(f) + " (" + placed(f.Finding) + ")")
	}
}

// placed is where in the plan a finding is.
func placed(f plan.Finding) string {
	if f.Line == 0 {
		return f.Path
	}
	return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.Path)
}

// waterFinding is a finding in a sentence.
func (t Teller) waterFinding(a *water.Answer, f *water.Finding) string {
	by := t.height(f.HeightM)
	switch f.Kind {
	case water.Uphill:
		s := fmt.Sprintf("on the way of %s water cannot get past the %s, which lies %s higher than the water before it can stand.", f.Way, f.Name, by)
		switch {
		case f.LiftM > 0:
			s += " " + t.lift(a, f)
		case f.Way == plan.OverflowEnd:
			s += " What the drums cannot hold spills over a rim into the house."
		}
		return upper(s)
	case water.RoofLow:
		return fmt.Sprintf("%s lies too low: its water can fill the drums to %s below their overflow and no higher. %s", upper(f.Way), by, t.lift(a, f))
	case water.Spills:
		return fmt.Sprintf("%s, rim %s below the overflow: water spills there before the others are full.", drums(f), by)
	case water.NeverFills:
		return fmt.Sprintf("%s, bottom %s above the overflow: no water ever gets there.", drums(f), by)
	case water.NotFed:
		return fmt.Sprintf("%s: no water comes, every way there is shut by a valve.", drums(f))
	case water.OverflowOff:
		return fmt.Sprintf("The overflow takes nothing away: it is shut, or no open pipe leads to %s. What the drums cannot hold spills over a rim into the house.", f.Name)
	case water.InletShut:
		return "The inlet is shut by a valve: no rain comes in."
	case water.DripShut:
		return fmt.Sprintf("The drip line %s is shut by a valve.", f.Name)
	case water.DripUnfed:
		return fmt.Sprintf("The drip line %s gets nothing: no open pipe leads to it from a drum with water.", f.Name)
	case water.OverWater:
		return fmt.Sprintf("%s lies %s above the water at its highest: air gathers there, and nothing runs over it.", upper(f.Name), by)
	case water.DeadWater:
		return fmt.Sprintf("The drip line %s lies so high that the lowest %s of the water cannot reach it: %s stay in the drums, for a can or for their warmth.", f.Name, by, t.water(f.VolumeM3))
	}
	panic("report: no words for a finding of water: " + string(f.Kind))
}

// waterHint is what can be done about a finding.
func waterHint(f *water.Finding) string {
	switch f.Kind {
	case water.Uphill:
		switch {
		case f.Way == plan.OverflowEnd:
			return "Lead it to a place that lies lower, or stand the drums higher."
		case f.LiftM > 0:
			return "Stand the drums higher, or lay the line lower."
		}
		return "Lay it lower, or catch the water of a higher roof."
	case water.RoofLow:
		return "Catch the water of a higher roof, stand the drums lower, or give the overflow a lower height."
	case water.Spills, water.NeverFills:
		return "Bring the rims and bottoms of all drums that hang together to where the water stands, or part them."
	case water.NotFed, water.InletShut, water.DripShut:
		return "Open a valve (water.valves)."
	case water.OverflowOff:
		return "Open it, or let it leave a drum that is fed (water.overflow.from)."
	case water.DripUnfed:
		return "Open a valve, or let it leave a drum or point that is fed."
	case water.OverWater:
		return "Lay it below the water."
	case water.DeadWater:
		return "Stand the drums higher to use it."
	}
	panic("report: no hint for a finding of water: " + string(f.Kind))
}

// drums names the drum of a finding, and how many others it is about.
func drums(f *water.Finding) string {
	if f.Drums < 2 {
		return upper(f.Name)
	}
	return fmt.Sprintf("%s and %d more", upper(f.Name), f.Drums-1)
}

// lift is what a pump would take.
func (t Teller) lift(a *water.Answer, f *water.Finding) string {
	m3, name := t.thousand()
	return fmt.Sprintf("A pump would have to lift it by %s, and takes %s Wh for %s (%s %% of its power in the water).", t.height(f.LiftM), number(f.LiftJ*m3/3600, 1), name, number(100*a.Scheme.Plan.Pump, 0))
}

// waterAssumed lists what the plan leaves open.
func (t Teller) waterAssumed(p *page, a *water.Answer) {
	values := waterValues(a.Plan)
	if len(values) == 0 {
		return
	}
	p.head("Assumed, since the plan says nothing")
	told := map[string]bool{}
	for _, v := range values {
		line := fmt.Sprintf("%s: %s (%s)", numbers.ReplaceAllString(v.Path, ""), v.Text, v.Source)
		if !told[line] {
			told[line] = true
			p.item(line)
		}
	}
	for _, c := range a.Scheme.Catchments {
		if c.Assumed {
			p.item(fmt.Sprintf("%s.runoff: %s %% (by its surface; Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 4 has 75 to 90 %% of most roofs, single figures common practice, no source)", c.Path, number(100*c.Runoff, 0)))
		}
	}
}

// numbers are the places of parts in a list: what is assumed alike of several is told once.
var numbers = regexp.MustCompile(`\[\d+\]`)

// waterValues are the assumed values of the water; the odds of its joints stand with them ([Teller.Joints]).
func waterValues(p *plan.Plan) []plan.Value {
	var list []plan.Value
	for v := range p.Origins.All() {
		if v.Origin == plan.Assumed && strings.HasPrefix(v.Path, "water.") && !strings.HasPrefix(v.Path, jointOdds) {
			list = append(list, v)
		}
	}
	return list
}
