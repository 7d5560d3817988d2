package drill

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// LeakAnswer is what a leak takes, and what a repair saves.
type LeakAnswer struct {
	Joint  *Joint // nil for a bay, and for a drum
	Falls  []Fall // of vessels, with the valves as they stand; nil where the plan says nothing of its pipes
	Bays   []BayLoss
	M3     float64 // that run out in the end, where no rain comes
	HeatJ  float64 // above 0 °C, as warm as the water is when it begins
	To     string
	DrainH float64 // hours until nine tenths of it have run out; -1: not before the winter's end
	OutM3  float64 // that ran out by the winter's end, rain with it

	Held   Loss    // what is lost with all valves shut in time, which nothing saves
	Repair *Repair // of a joint
	Mend   *Mend   // nil where there is nothing to shut or to mend
	Again  Refill
}

// BayLoss is what a bay loses.
type BayLoss struct {
	Bay    string
	HeldM3 float64
	LostM3 float64
	level  float64 // above the bottom of the drums at which it ends [m]
	area   float64 // of its water [m²]
}

// leak finds what runs out, and writes it into the plan as events.
func (t *trial) leak() (*plan.Plan, error) {
	a := t.a
	l := &LeakAnswer{To: t.req.To, DrainH: -1}
	if l.To == "" {
		l.To = "soil"
	}
	if !slices.Contains([]string{"floor", "cold sink", "soil", "outside"}, l.To) {
		return nil, fmt.Errorf("water of a leak goes to %q, must be one of floor, cold sink, soil, outside", l.To)
	}
	if l.To == "cold sink" && !a.Winter.House.Sink {
		return nil, fmt.Errorf("the house has no cold sink for the water of a leak\nhint: let it go to the floor, the soil or outside")
	}
	a.Leak = l
	if err := t.falls(); err != nil {
		return nil, err
	}
	for _, b := range l.Bays {
		l.M3 += b.LostM3
		l.HeatJ += b.LostM3 * heat(t.bayC(b.Bay))
	}
	if l.M3 <= emptied {
		return nil, fmt.Errorf("no water stands above %s when the fault begins, %s: nothing runs out", a.At, a.Begin.Format("01-02"))
	}
	return a.Winter.Plan.WithEvents(t.leakEvents(nil)...), nil
}

// bayC is the mean temperature of a bay when the fault begins [°C].
func (t *trial) bayC(bay string) float64 {
	return bayC(t.base, bay, func(tr *greenhouse.Trace) float64 { return t.start[tr.Name] })
}

// bay is a bay as it stands when the fault begins, nothing of it lost.
func (t *trial) bay(at house.BayAt) BayLoss {
	row := &t.a.Winter.House.Rows[at.Row]
	name := row.BayName(at.Bay)
	return BayLoss{Bay: name, HeldM3: t.m3[name], area: row.Volume * float64(row.Drums) / float64(row.Bays) / (row.Top - row.Base)}
}

// heights are where the vessels of the scheme stand when the fault begins.
func (t *trial) heights() []float64 {
	h := t.a.Winter.House
	var list []float64
	for i := range h.Scheme.Vessels {
		v := &h.Scheme.Vessels[i]
		b := t.bay(v.Bay)
		list = append(list, math.Min(v.Top, v.Bottom+b.HeldM3/b.area))
	}
	return list
}

// falls finds which bays run out, and how far.
func (t *trial) falls() error {
	h := t.a.Winter.House
	if h.Scheme == nil || t.isBay() {
		return t.bayFalls()
	}
	w, l, heights := h.Scheme, t.a.Leak, t.heights()
	j, err := t.joint(heights)
	if err != nil {
		return err
	}
	open := func(p int) bool { return !w.Pipes[p].Shut }
	valved := Valved(w)
	g := newGraph(w)
	l.Falls = g.falls(j.Point, standing(w, heights), open)
	held := g.falls(j.Point, standing(w, heights), func(p int) bool { return !valved[p] })
	if t.a.Kind == DrumFrozen { // its wall is split: all of its own water goes
		v := w.Points[j.Point].Vessel
		l.Falls, held = t.emptied(l.Falls, v, heights), t.emptied(held, v, heights)
	} else {
		l.Joint = &j
		if l.Repair, err = RepairOf(h, j, heights); err != nil {
			return err
		}
	}
	t.a.Path = j.Path
	for _, f := range held {
		l.Held.M3 += f.LostM3
		l.Held.HeatJ += f.LostM3 * heat(t.bayC(h.BayNamed(w.Vessels[f.Vessel].Bay)))
	}
	l.Held.Falls = held
	l.Bays = t.byBay(l.Falls)
	return nil
}

// emptied adds that a vessel runs out to its bottom.
func (t *trial) emptied(falls []Fall, v int, heights []float64) []Fall {
	vessel := &t.a.Winter.House.Scheme.Vessels[v]
	falls = slices.DeleteFunc(slices.Clone(falls), func(f Fall) bool { return f.Vessel == v })
	return append(falls, Fall{Vessel: v, ToZ: vessel.Bottom, LostM3: vessel.Holds(heights[v])})
}

// joint finds the joint that fails, or the lowest one at the drum that is split; where none is named, the one that costs most.
func (t *trial) joint(heights []float64) (Joint, error) {
	w := t.a.Winter.House.Scheme
	asked := strings.TrimSpace(t.req.At)
	if t.a.Kind == DrumFrozen {
		return t.drumJoint(asked)
	}
	if asked != "" {
		j, err := FindJoint(w, asked)
		t.a.At = j.Name
		return j, err
	}
	table, err := Joints(t.a.Winter.House, nil, heights)
	if err != nil {
		return Joint{}, err
	}
	worst := -1
	for i := range table.Joints {
		if worst < 0 || table.Joints[i].Now.M3 > table.Joints[worst].Now.M3 {
			worst = i
		}
	}
	if worst < 0 {
		return Joint{}, fmt.Errorf("no pipe of the plan's water ends anywhere: there is no joint that could fail")
	}
	t.a.At = table.Joints[worst].Name
	return table.Joints[worst].Joint, nil
}

// drumJoint is where the lowest pipe meets a drum.
func (t *trial) drumJoint(asked string) (Joint, error) {
	w := t.a.Winter.House.Scheme
	var names []string
	for _, v := range w.Vessels {
		names = append(names, v.Name)
	}
	i, err := t.named("drum", "drums in its water", names)
	if err != nil {
		return Joint{}, err
	}
	low := -1
	for p := range w.Points {
		if w.Points[p].Vessel == i && (low < 0 || w.Points[p].Z < w.Points[low].Z) {
			low = p
		}
	}
	if low < 0 {
		return Joint{}, fmt.Errorf("no pipe meets %s: it would lose its own water alone\nhint: name a bay with the drill leak", names[i])
	}
	return Joint{Name: names[i], Path: w.Vessels[i].Path, Point: low, Z: w.Points[low].Z}, nil
}

// isBay tells whether a bay or a row is named.
func (t *trial) isBay() bool { return len(t.a.Winter.House.BaysNamed(strings.TrimSpace(t.req.At))) > 0 }

// bayFalls is that a bay, or all bays of a row, run out to the bottom.
func (t *trial) bayFalls() error {
	h := t.a.Winter.House
	asked := strings.TrimSpace(t.req.At)
	if asked == "" && len(h.BayNames()) > 0 {
		asked = h.BayNames()[0]
	}
	bays := h.BaysNamed(asked)
	if len(bays) == 0 {
		hint := "bays: " + strings.Join(h.BayNames(), "; ")
		if len(h.BayNames()) == 0 {
			hint = "the house has no drums"
		}
		return fmt.Errorf("there is no bay or row %q, and the plan says nothing of its pipes (water)\nhint: %s", asked, hint)
	}
	t.a.At, t.a.Path = asked, fmt.Sprintf("store.rows[%d]", bays[0].Row)
	for _, at := range bays {
		b := t.bay(at)
		b.LostM3 = b.HeldM3
		t.a.Leak.Bays = append(t.a.Leak.Bays, b)
	}
	return nil
}

// byBay sums the falls of vessels by bay: the level at which a bay's water then stands as a whole is that of what is left in it.
func (t *trial) byBay(falls []Fall) []BayLoss {
	h := t.a.Winter.House
	var list []BayLoss
	for _, f := range falls {
		bay := t.bay(h.Scheme.Vessels[f.Vessel].Bay)
		k := slices.IndexFunc(list, func(b BayLoss) bool { return b.Bay == bay.Bay })
		if k < 0 {
			k = len(list)
			list = append(list, bay)
		}
		list[k].LostM3 = math.Min(list[k].HeldM3, list[k].LostM3+f.LostM3)
	}
	for k := range list {
		list[k].level = (list[k].HeldM3 - list[k].LostM3) / list[k].area
	}
	return list
}

// leakEvents are the leak as events of the store, until it is mended where that is so. One hole drains all bays that hang together: each by as much of it as its share of their water's
// area, so that their levels fall together.
func (t *trial) leakEvents(until *time.Time) []plan.StoreEvent {
	l := t.a.Leak
	area := 0.0
	for _, b := range l.Bays {
		if b.LostM3 > 0 {
			area += b.area
		}
	}
	var list []plan.StoreEvent
	for _, b := range l.Bays {
		if b.LostM3 <= 0 {
			continue
		}
		hole, level := t.a.HoleM*math.Sqrt(b.area/area), b.level
		e := plan.StoreEvent{Kind: "leak", Bay: b.Bay, From: dateOf(t.a.Begin), Hour: t.a.Begin.Hour(), Hole: &hole, Level: &level, To: l.To}
		if until != nil {
			d := dateOf(*until)
			e.Until = &d
		}
		list = append(list, e)
	}
	return list
}

// dateOf is the day of an instant, of any year.
func dateOf(at time.Time) plan.Date { return plan.DayOf(at.Month(), at.Day()) }

// leaked tells how the leak ran, and runs the winter with it mended.
func (t *trial) leaked(ctx context.Context, with *greenhouse.Result) error {
	l := t.a.Leak
	cause := "leak, to " + l.To
	for _, b := range with.Water.Bays {
		l.OutM3 += b.OutL[cause] / 1000
	}
	for _, b := range t.base.Water.Bays { // a leak that the plan has itself
		l.OutM3 -= b.OutL[cause] / 1000
	}
	l.DrainH = t.drained(with)
	l.Again = t.refill(l.M3, t.a.Begin)
	return t.mend(ctx, with)
}

// drained is the hours until nine tenths of what runs out have.
func (t *trial) drained(with *greenhouse.Result) float64 {
	for h := range with.Hours() {
		gone := 0.0
		for k := range with.Bays {
			gone += t.base.Bays[k].M3[h] - with.Bays[k].M3[h]
		}
		if gone >= 0.9*t.a.Leak.M3 {
			return float64(h + 1)
		}
	}
	return -1
}
