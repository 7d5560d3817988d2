package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"suncellar/internal/drill"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// jointOdds is where the odds of joints stand in a plan.
const jointOdds = "water.joint_odds."

// Joints tells what each joint of the water pipes costs when it fails, and where more valves save most.
func (t Teller) Joints(a *drill.Table) string {
	p := &page{}
	p.say(a.House.Plan.Name + ", the joints of its water pipes")
	p.gap()
	for _, s := range t.JointSentences(a) {
		p.say(s)
	}
	t.jointTable(p, a)
	t.valvePlaces(p, a)
	p.head("Before you rely on it")
	for _, c := range JointCautions() {
		p.item(c)
	}
	if values := oddsAssumed(a.House.Plan); len(values) > 0 {
		p.head("Assumed, since the plan says nothing")
		for _, v := range values {
			p.item(fmt.Sprintf("%s: %s (%s)", v.Path, v.Text, v.Source))
		}
	}
	return p.String()
}

// JointSentences tell the costliest joints, what valves cannot save, how often a joint fails, and what is lost in the mean.
func (t Teller) JointSentences(a *drill.Table) []string {
	ranked := costliest(a)
	if len(ranked) == 0 || ranked[0].Now.M3 <= 0 {
		return []string{"No joint lets any water out: none lies below the water of a drum that an open pipe joins it to. A failed wall of a drum is no joint."}
	}
	return []string{t.costliestSentence(a, ranked), t.savedSentence(a, ranked), oddsSentence(a), t.expectedSentence(a)}
}

// costliest are the joints by what runs out with the valves as planned, then by what no valve saves.
func costliest(a *drill.Table) []*drill.JointLoss {
	var ranked []*drill.JointLoss
	for i := range a.Joints {
		ranked = append(ranked, &a.Joints[i])
	}
	slices.SortStableFunc(ranked, func(x, y *drill.JointLoss) int {
		if d := x.Now.M3 - y.Now.M3; math.Abs(d) > 1e-9 { // less is the order in which drums were summed
			return cmp.Compare(y.Now.M3, x.Now.M3)
		}
		if d := x.Shut.M3 - y.Shut.M3; math.Abs(d) > 1e-9 {
			return cmp.Compare(y.Shut.M3, x.Shut.M3)
		}
		return 0
	})
	return ranked
}

// toldJoints is how many are told in the sentence.
const toldJoints = 3

func (t Teller) costliestSentence(a *drill.Table, ranked []*drill.JointLoss) string {
	var names []string
	first := ranked[:min(toldJoints, len(ranked))]
	for _, j := range first {
		if j.Now.M3 > 0 {
			names = append(names, fmt.Sprintf("%s (%s)", j.Name, t.lossWords(a, j.Now)))
		}
	}
	alike := 0
	for _, j := range ranked[len(first):] {
		if math.Abs(j.Now.M3-first[len(first)-1].Now.M3) < 1e-9 && j.Now.M3 > 0 {
			alike++
		}
	}
	s := "With the valves as the plan has them, most water runs out by " + strings.Join(names, "; ")
	if alike > 0 {
		s += fmt.Sprintf("; and as much by %d more", alike)
	}
	return s + "."
}

// lossWords is a loss with its share of heat.
func (t Teller) lossWords(a *drill.Table, l drill.Loss) string {
	s := t.water(l.M3)
	if a.Warm {
		s += ", " + kWh(l.HeatJ) + " kWh"
	}
	return s
}

func (t Teller) savedSentence(a *drill.Table, ranked []*drill.JointLoss) string {
	worst := ranked[0]
	for _, j := range ranked {
		if j.Shut.M3 > worst.Shut.M3+1e-9 {
			worst = j
		}
	}
	if !slices.Contains(drill.Valved(a.Scheme), true) {
		return "No valve parts the drums: none of it can be held."
	}
	if worst.Shut.M3 <= 0 {
		return "With every valve shut no joint lets water out."
	}
	return fmt.Sprintf("With every valve shut in time, %s still lets out most: %s, from %s.", worst.Name, t.lossWords(a, worst.Shut), fallWords(a.House, worst.Shut.Falls))
}

// oddsSentence is how often one joint or another fails, each for itself.
func oddsSentence(a *drill.Table) string {
	sound := 1.0
	for i := range a.Joints {
		sound *= 1 - a.Joints[i].Odds
	}
	o := a.Scheme.Plan.JointOdds
	return fmt.Sprintf("At %s %% a winter for a joint with a rigid coupling and %s %% for one with flexible ones alone, one or more of the %s fail in %s of 100 winters; nobody counts such failures, so take this as an order of size.",
		percent(o.Rigid), percent(o.Flexible), count(len(a.Joints), "joint"), number(100*(1-sound), 0))
}

func (t Teller) expectedSentence(a *drill.Table) string {
	s := fmt.Sprintf("In the mean of winters about %s run out with the valves as planned and %s with all of them shut in time", t.meanWater(a.DrawnM3), t.meanWater(a.Places[0].ExpectedM3))
	if len(a.Places) > 1 && a.Places[1].ExpectedM3 < a.Places[0].ExpectedM3-1e-9 {
		s += fmt.Sprintf("; one valve more, %s, brings that to %s", valvePlace(a, a.Places[1].Pipes[0]), t.meanWater(a.Places[1].ExpectedM3))
	}
	return s + "."
}

// meanWater is water in the mean of winters: no finer than its odds are known, but for little of it to a tenth [m³].
func (t Teller) meanWater(m3 float64) string {
	switch {
	case m3 >= 0.01 || m3 == 0:
		return t.water(m3)
	case t.System == unit.US:
		return unit.Format(unit.Volume, m3, unit.US, 1)
	}
	return number(m3*1000, 1) + " L"
}

// jointTable is a line for each joint, the costliest first.
func (t Teller) jointTable(p *page, a *drill.Table) {
	ranked := slices.DeleteFunc(costliest(a), func(j *drill.JointLoss) bool { return j.Now.M3 <= 0 })
	if len(ranked) == 0 {
		return
	}
	p.head("What runs out at each joint")
	first, second := []string{"each joint", "odds a", "valves as", "heat", "drums", "all", "falling with"}, []string{"", "winter", "planned", "kWh", "", "shut", "all shut"}
	cells := func(j *drill.JointLoss) []string {
		return []string{j.Name, percent(j.Odds) + " %", t.water(j.Now.M3), kWh(j.Now.HeatJ), fmt.Sprint(len(j.Now.Falls)), t.water(j.Shut.M3), fallWords(a.House, j.Shut.Falls)}
	}
	const heat = 3
	unheated := func(row []string) []string {
		if a.Warm {
			return row
		}
		return slices.Delete(row, heat, heat+1)
	}
	tab := newTable(unheated(first), unheated(second))
	tab.left[len(tab.heads[0])-1] = true
	for _, row := range alike(ranked, cells) {
		tab.row(unheated(row)...)
	}
	p.table(tab)
	if s := dryJoints(len(a.Joints) - len(ranked)); s != "" {
		p.say(s)
	}
	p.say(fallsNote + heatNote(a))
}

// fallsNote is how far a drum falls.
const fallsNote = "A drum falls to where the pipe by which its water leaves meets it, not to its bottom, and never below the joint."

// dryJoints tells of the joints that lose nothing; "" for none.
func dryJoints(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("At %s beside these nothing runs out: no water that comes to it stands higher.", count(n, "joint"))
}

func heatNote(a *drill.Table) string {
	if a.Warm {
		return " Heat is that above 0 °C."
	}
	return ""
}

// valvePlaces tells where one, two and three more valves save most.
func (t Teller) valvePlaces(p *page, a *drill.Table) {
	p.head("Where more valves are worth most")
	if len(a.Places) == 1 {
		p.say("Every pipe has a valve.")
		return
	}
	p.item(fmt.Sprintf("none more: %s a winter", t.meanWater(a.Places[0].ExpectedM3)))
	for i, place := range a.Places[1:] {
		if place.ExpectedM3 > a.Places[i].ExpectedM3-1e-9 {
			p.item(fmt.Sprintf("%s: saves nothing more", moreValves(i+1)))
			continue
		}
		var at []string
		for _, pipe := range place.Pipes {
			at = append(at, valvePlace(a, pipe))
		}
		p.item(fmt.Sprintf("%s: %s a winter, saves %s; %s", moreValves(i+1), t.meanWater(place.ExpectedM3), t.meanWater(a.Places[0].ExpectedM3-place.ExpectedM3), strings.Join(at, "; ")))
	}
	p.say(valvesNote)
}

// valvesNote is what valves more are reckoned by.
const valvesNote = "What runs out in the mean of winters, reckoned as if every valve, old and new, were kept shut through the frosts or shut before the water has run out. One that stands open while nobody is there saves nothing."

func moreValves(n int) string {
	return [...]string{"one more", "two more", "three more"}[n-1]
}

// valvePlace is where a valve would sit, by the joints on both sides.
func valvePlace(a *drill.Table, pipe int) string {
	of := &a.Scheme.Pipes[pipe]
	return fmt.Sprintf("between %s and %s", jointAt(a, of.From), jointAt(a, of.To))
}

// jointAt is the joint of a point by name.
func jointAt(a *drill.Table, point int) string { return a.At(point).Name }

// fallWords names the vessels that fall.
func fallWords(h *house.House, falls []drill.Fall) string {
	var list []int
	for _, f := range falls {
		list = append(list, f.Vessel)
	}
	return vesselWords(h, list)
}

// vesselWords names vessels, in order, those side by side together: "back drums, drums 1 to 5; side drums, drum 2".
func vesselWords(h *house.House, vessels []int) string {
	names := vesselNames(h.Scheme, vessels)
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(together(names), "; ")
}

// alike are the rows of joints, those whose cells are the same but for the number of the drum as one, where the first of them stands.
func alike(joints []*drill.JointLoss, cells func(*drill.JointLoss) []string) [][]string {
	type group struct {
		names []string
		cells []string
	}
	var groups []*group
	known := map[string]*group{}
	for _, j := range joints {
		row := cells(j)
		stem, _, _ := numbered(j.Name)
		key := stem + "\n" + strings.Join(row[1:], "\n")
		if known[key] == nil {
			known[key] = &group{cells: row}
			groups = append(groups, known[key])
		}
		known[key].names = append(known[key].names, j.Name)
	}
	var rows [][]string
	for _, g := range groups {
		for _, name := range together(g.names) {
			rows = append(rows, append([]string{name}, g.cells[1:]...))
		}
	}
	return rows
}

// together joins names of drums that follow one another by number: "drum 1", "drum 2", "drum 3" are "drums 1 to 3".
func together(names []string) []string {
	var out []string
	for i := 0; i < len(names); {
		stem, first, ok := numbered(names[i])
		k := i + 1
		for last := first; ok && k < len(names); k++ {
			s, n, is := numbered(names[k])
			if !is || s != stem || n != last+1 {
				break
			}
			last = n
		}
		name := names[i]
		if k > i+1 {
			name = fmt.Sprintf("%ss %d to %d", stem, first, first+k-i-1)
		}
		out = append(out, name)
		i = k
	}
	return out
}

// numbered parts a name such as "joint at back drums, drum 3" before its number; it is the whole name where it does not end so.
func numbered(name string) (stem string, n int, ok bool) {
	at := strings.LastIndex(name, " drum ")
	if at < 0 {
		return name, 0, false
	}
	n, err := strconv.Atoi(name[at+len(" drum "):])
	if err != nil {
		return name, 0, false
	}
	return name[:at+len(" drum")], n, true
}

// percent is a share in percent to three figures.
func percent(share float64) string { return fmt.Sprintf("%.3g", 100*share) }

// oddsAssumed are the odds that the plan leaves out.
func oddsAssumed(p *plan.Plan) []plan.Value {
	var list []plan.Value
	for v := range p.Origins.All() {
		if v.Origin == plan.Assumed && strings.HasPrefix(v.Path, jointOdds) {
			list = append(list, v)
		}
	}
	return list
}

// JointCautions are those of failed joints.
func JointCautions() []string {
	return []string{
		"The odds are own judgement, and each joint is taken to fail for itself: one hard frost can break several at once, and then more runs out than is told here. A failed wall of a drum is not counted.",
		"What a valve holds is told as if it were shut in time. With the bays parted, rain comes only into the one where the inlet ends, and may find no overflow there: keep room below its rims or lead the rain away, and open the valves again before the others want water.",
		"A crest in a pipe is not counted on to hold water: a full pipe goes on as a siphon. Where air breaks it sooner, less runs out.",
		"Water that stands in the pipes, and rain that comes meanwhile, come on top.",
	}
}
