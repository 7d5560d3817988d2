package house

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/pipes"
	"suncellar/internal/plan"
)

// firstDrum is the drum that the water comes to: the first of the first manifold, or the first of the store.
func (m *waterMaker) firstDrum() int {
	if len(m.p.Water.Manifolds) > 0 {
		return m.rowStacks(&m.p.Water.Manifolds[0])[0]
	}
	return 0
}

// rowStacks are the drums of a manifold, in the order in which the water comes to them.
func (m *waterMaker) rowStacks(of *plan.Manifold) []int {
	var list []int
	for i := range m.p.Store.Rows {
		if row := &m.p.Store.Rows[i]; row.Name == of.Row {
			for s := range row.Stacks() {
				list = append(list, m.stack[row.DrumName(s)])
			}
		}
	}
	if of.From == "right" {
		slices.Reverse(list)
	}
	return list
}

// inlet lays the pipe from gutter or settling drum.
func (m *waterMaker) inlet() {
	in := &m.p.Water.Inlet
	k := pipes.KEntry + pipes.KExit + float64(in.Bends)*pipes.KElbow
	switch in.Mouth {
	case "flap":
		k += pipes.KFlap
	case "one-way valve":
		k += pipes.KOneWay
	}
	pipe := WaterPipe{Tube: pipes.Tube{Diameter: in.Diameter, Length: in.Length, Roughness: rough(in.Material, in.Roughness), Fittings: k},
		Name: plan.InletEnd, Path: "water.inlet", From: -1, OneWay: in.Mouth == "one-way valve", Rigid: true}
	joined := slices.ContainsFunc(m.p.Water.Pipes, func(p plan.WaterPipe) bool { return p.From == plan.InletEnd })
	vessel, z := -1, 0.0
	if !joined {
		vessel = m.firstDrum()
		z = min(m.fillHeight(vessel), m.source()) // a pipe that nothing is said of is not laid uphill
	}
	if in.End != nil {
		z = *in.End
	}
	m.w.InletEnd = m.addPoint("end of the inlet", z, vessel)
	m.point[plan.InletEnd] = m.w.InletEnd
	pipe.To = m.w.InletEnd
	m.w.Highest = math.Inf(-1)
	if in.Highest != nil {
		m.w.Highest = *in.Highest
	}
	m.w.Inlet = pipe
}

// source is the height of the water that feeds the inlet, of the highest catchment where there is no settling drum [m].
func (m *waterMaker) source() float64 {
	if m.w.Settling != nil {
		return m.w.SettleOut
	}
	top := math.Inf(-1)
	for _, c := range m.w.Catchments {
		top = max(top, c.Outlet)
	}
	if math.IsInf(top, -1) { // no catchment could be resolved, which is told
		return math.Inf(1)
	}
	return top
}

// fillHeight is where a drum stands filled as its row's fill says [m].
func (m *waterMaker) fillHeight(v int) float64 {
	vessel := &m.w.Vessels[v]
	return vessel.Bottom + m.h.Rows[vessel.Bay.Row].Fill*(vessel.Top-vessel.Bottom)
}

func (m *waterMaker) points() {
	for _, p := range m.p.Water.Points {
		m.point[p.Name] = m.addPoint(p.Name, p.Height, -1)
	}
}

// manifolds lays a pipe along each row with a branch to each drum, and from the end of one row to the next.
func (m *waterMaker) manifolds() {
	last := -1
	for i := range m.p.Water.Manifolds {
		of, path := &m.p.Water.Manifolds[i], pathIndex("water.manifolds", i)
		drums := m.rowStacks(of)
		if len(drums) == 0 {
			continue
		}
		bottom := &m.w.Vessels[drums[0]]
		z := bottom.Bottom + overBottom
		if of.Height != nil {
			z = *of.Height
			m.meets(path+".height", bottom, z)
		}
		tube := pipes.Tube{Diameter: of.Diameter, Roughness: rough(of.Material, of.Roughness), Fittings: pipes.KTeeLine}
		for k, d := range drums {
			joint := m.addPoint(fmt.Sprintf("joint at %s", m.w.Vessels[d].Name), z, -1)
			along := WaterPipe{Tube: tube, Name: fmt.Sprintf("%s, to %s", of.Row, m.w.Vessels[d].Name), Path: path, From: last, To: joint, Rigid: true}
			along.Length = m.h.Rows[bottom.Bay.Row].Diameter
			if k == 0 && last >= 0 {
				along.Length = m.between(last, joint, i)
			}
			if last >= 0 {
				m.bayValve(d, k, drums)
				m.w.Pipes = append(m.w.Pipes, along)
			}
			branch := WaterPipe{Tube: tube, Name: fmt.Sprintf("branch to %s", m.w.Vessels[d].Name), Path: path, From: joint, To: m.addPoint(m.w.Vessels[d].Name, z, d), Rigid: of.Couplings == "rigid"}
			branch.Length, branch.Fittings = of.Branch, pipes.KTeeBranch+pipes.KEntry
			m.w.Pipes = append(m.w.Pipes, branch)
			last = joint
		}
		m.point["last joint"] = last
	}
}

// between is the length of the pipe from one row to the next: across the house and up or down [m].
func (m *waterMaker) between(from, to, i int) float64 {
	before, after := m.rowStacks(&m.p.Water.Manifolds[i-1]), m.rowStacks(&m.p.Water.Manifolds[i])
	a, b := m.h.Rows[m.w.Vessels[before[0]].Bay.Row].X, m.h.Rows[m.w.Vessels[after[0]].Bay.Row].X
	return math.Abs(a-b) + math.Abs(m.w.Points[from].Z-m.w.Points[to].Z) + 0.5
}

// bayValve adds the valve between two bays before the pipe to drum k, which begins the bay.
func (m *waterMaker) bayValve(d, k int, drums []int) {
	v := &m.w.Vessels[d]
	row := m.h.Rows[v.Bay.Row]
	if row.Bays < 2 || k == 0 || m.w.Vessels[drums[k-1]].Bay == v.Bay {
		return
	}
	m.w.Valves = append(m.w.Valves, WaterValve{Name: "valve before " + row.BayName(v.Bay.Bay), Path: v.Path + ".bays", Pipe: len(m.w.Pipes), Assumed: true})
}

// pipes lays those of the long form.
func (m *waterMaker) pipes() {
	for i := range m.p.Water.Pipes {
		of, path := &m.p.Water.Pipes[i], pathIndex("water.pipes", i)
		from := m.at(path+".from_height", of.From, of.FromHeight)
		to := m.at(path+".to_height", of.To, of.ToHeight)
		t := pipes.Tube{Diameter: of.Diameter, Length: of.Length, Roughness: rough(of.Material, of.Roughness), Fittings: pipes.KTeeLine + float64(of.Bends)*pipes.KElbow}
		for _, end := range []int{from, to} {
			if m.w.Points[end].Vessel >= 0 {
				t.Fittings += pipes.KEntry
			}
		}
		m.w.Pipes = append(m.w.Pipes, WaterPipe{Tube: t, Name: of.Name, Path: path, From: from, To: to, Rigid: of.Couplings == "rigid"})
	}
}

// waterOverflow finds where the overflow leaves, how high, and where it ends.
func (m *waterMaker) waterOverflow() {
	of := &m.p.Water.Overflow
	o := WaterOverflow{Tube: pipes.Tube{Diameter: of.Diameter, Length: of.Length, Roughness: pipes.RoughPlastic, Fittings: pipes.KEntry + pipes.KExit}, To: of.To}
	o.Vessel = m.lastDrum()
	if of.From != "" {
		o.Vessel = m.stack[of.From]
	}
	o.Z = m.fillHeight(o.Vessel)
	if of.Height != nil {
		o.Z = *of.Height
		m.meets("water.overflow.height", &m.w.Vessels[o.Vessel], o.Z)
	}
	switch {
	case of.End != nil:
		o.End = *of.End
	case of.To == "floor":
		o.End = m.h.FloorZ
	case of.To == "cold sink":
		o.End = m.h.SinkZ
	}
	if of.To == "cold sink" && !m.h.Sink {
		m.fail("water.overflow.to", "write outside or floor, or add cold_sink", "the house has no cold sink")
	}
	m.w.Overflow = o
}

// lastDrum is the last one that the water reaches.
func (m *waterMaker) lastDrum() int {
	if n := len(m.p.Water.Manifolds); n > 0 {
		if drums := m.rowStacks(&m.p.Water.Manifolds[n-1]); len(drums) > 0 {
			return drums[len(drums)-1]
		}
	}
	reached := m.reached(false)
	if len(reached) == 0 {
		return len(m.w.Vessels) - 1
	}
	return reached[len(reached)-1]
}

func (m *waterMaker) drips() {
	for i := range m.p.Water.DripLines {
		of, path := &m.p.Water.DripLines[i], pathIndex("water.drip_lines", i)
		d := DripLine{Plan: of, Path: path, Length: m.h.Length}
		if of.Length != nil {
			d.Length = *of.Length
		}
		for _, b := range m.h.Beds {
			if b.Name == of.Bed {
				d.Z = b.Z
			}
		}
		if of.Height != nil {
			d.Z = *of.Height
		}
		if d.From = m.point["last joint"]; of.From != "" {
			d.From = m.at(path+".from", of.From, nil)
		}
		if d.Emitters = int(d.Length/of.Spacing + 1e-9); d.Emitters < 1 || d.Emitters > mostEmitters {
			m.fail(path+".spacing", "spacing is from emitter to emitter", "%d emitters on a line of %.2f m, must be 1 to %d", d.Emitters, d.Length, mostEmitters)
		}
		m.w.Drips = append(m.w.Drips, d)
	}
}

// mostEmitters on one line: more are a mistake in its spacing.
const mostEmitters = 1000

// valves sets the valves of the plan; one on a bay is that which stands between the bays.
func (m *waterMaker) valves() {
	for i, of := range m.p.Water.Valves {
		v := WaterValve{Name: of.Name, Path: pathIndex("water.valves", i), Shut: of.State == "shut", Pipe: m.valvePipe(of.On)}
		loss := valveLoss[of.Kind]
		switch {
		case v.Pipe >= 0:
			p := &m.w.Pipes[v.Pipe]
			p.Fittings, p.Shut = p.Fittings+loss, p.Shut || v.Shut
			m.w.Valves = slices.DeleteFunc(m.w.Valves, func(o WaterValve) bool { return o.Assumed && o.Pipe == v.Pipe })
		case v.Pipe == OnInlet:
			m.w.Inlet.Fittings, m.w.Inlet.Shut = m.w.Inlet.Fittings+loss, m.w.Inlet.Shut || v.Shut
		case v.Pipe == OnOverflow:
			m.w.Overflow.Fittings, m.w.Overflow.Shut = m.w.Overflow.Fittings+loss, m.w.Overflow.Shut || v.Shut
		default:
			d := &m.w.Drips[OnDrip-v.Pipe]
			d.Shut = d.Shut || v.Shut
		}
		m.w.Valves = append(m.w.Valves, v)
	}
	for _, v := range m.w.Valves {
		if v.Assumed {
			m.w.Pipes[v.Pipe].Fittings += pipes.KBall
		}
	}
}

// valvePipe is what a valve sits on.
func (m *waterMaker) valvePipe(on string) int {
	switch on {
	case plan.InletEnd:
		return OnInlet
	case plan.OverflowEnd:
		return OnOverflow
	}
	for i, p := range m.w.Pipes {
		if p.Name == on {
			return i
		}
	}
	for i, d := range m.w.Drips {
		if d.Plan.Name == on {
			return OnDrip - i
		}
	}
	return m.bayPipe(on)
}

// bayPipe is the pipe of the manifold by which the water comes into a bay.
func (m *waterMaker) bayPipe(bay string) int {
	for i, p := range m.w.Pipes {
		v := m.jointOf(p.To)
		if v < 0 || p.From < 0 || m.w.Points[p.To].Vessel >= 0 {
			continue
		}
		in := m.w.Vessels[v].Bay
		if m.h.Rows[in.Row].BayName(in.Bay) == bay && (m.jointOf(p.From) < 0 || m.w.Vessels[m.jointOf(p.From)].Bay != in) {
			return i
		}
	}
	panic("house: no pipe leads into " + bay)
}

// jointOf is the drum that a joint of a manifold has its branch to, -1 for other points.
func (m *waterMaker) jointOf(point int) int {
	for _, p := range m.w.Pipes {
		if p.From == point && m.w.Points[p.To].Vessel >= 0 && m.w.Points[point].Vessel < 0 {
			return m.w.Points[p.To].Vessel
		}
	}
	return -1
}

// BayBehind is the bay that a pipe of a manifold leads into.
func (w *Water) BayBehind(pipe int) BayAt {
	m := waterMaker{w: w}
	return w.Vessels[m.jointOf(w.Pipes[pipe].To)].Bay
}

// fed finds the vessels that water reaches, and the height of the tap.
func (m *waterMaker) fed() {
	m.w.Fed = m.reached(true)
	m.w.DrawOff = math.Inf(1)
	for _, p := range m.w.Points {
		if p.Vessel >= 0 && slices.Contains(m.w.Fed, p.Vessel) {
			m.w.DrawOff = min(m.w.DrawOff, p.Z)
		}
	}
	if d := m.p.Water.DrawOff; d != nil {
		m.w.DrawOff = *d
	}
}

// reached are the vessels that hang together with the inlet's end, through all pipes or through open ones.
func (m *waterMaker) reached(open bool) []int {
	return m.w.Joined(m.w.InletEnd, func(p *WaterPipe) bool { return !open || !p.Shut })
}

// Joined are the vessels that pipes join with a point, in order; use tells which pipes count.
func (w *Water) Joined(point int, use func(*WaterPipe) bool) []int {
	seen := make([]bool, len(w.Points))
	vessel := make([]bool, len(w.Vessels))
	var visit func(p int)
	visit = func(p int) {
		if seen[p] {
			return
		}
		seen[p] = true
		if v := w.Points[p].Vessel; v >= 0 && !vessel[v] {
			vessel[v] = true
			for q := range w.Points {
				if w.Points[q].Vessel == v {
					visit(q)
				}
			}
		}
		for i := range w.Pipes {
			switch pipe := &w.Pipes[i]; {
			case !use(pipe):
			case pipe.From == p:
				visit(pipe.To)
			case pipe.To == p:
				visit(pipe.From)
			}
		}
	}
	visit(point)
	var list []int
	for v, in := range vessel {
		if in {
			list = append(list, v)
		}
	}
	return list
}
