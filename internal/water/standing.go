package water

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/house"
)

// wallWMK is the conductivity of pipe walls by material [W/mK]: polyethylene of the plastics, which passes the most; from memory.
var wallWMK = map[string]float64{"plastic": 0.4, "rubber hose": 0.16, "steel": 50, "galvanised steel": 50, "copper": 380}

// wallShare is a pipe's wall over its bore; own judgement, pipes of low pressure.
const wallShare = 0.06

// flushBore is the bore of the vessel of a first flush [m]: a standing pipe; common practice, no source.
const flushBore = 0.1

// mouthBore is the water that a flap or one-way valve keeps at its seat [m]; own judgement.
const mouthBore = 0.01

func pipeOf(bore float64, material string, film float64) Still {
	return Still{bore, wallShare * bore, wallWMK[material], film}
}

// tankOf is an upright vessel as a pipe with as much surface for its water: 4/D = 4/D' + 2/h. Its wall is let be.
func tankOf(bore, depth, film float64) Still {
	return Still{4 / (4/bore + 2/depth), 1e-3, wallWMK["steel"], film}
}

// drains names a part that is taken to run empty.
func (s *standing) drains(name string) { s.f.Drains = append(s.f.Drains, name) }

// outside lists what stands outside: gutter, first flush, settling drum, inlet and overflow.
func (s *standing) outside() {
	w, out := s.a.Scheme, s.outdoors()
	s.drains("gutter outlet")
	if f := w.Plan.FirstFlush; f != nil && (f.Volume == nil || *f.Volume > 0) {
		s.add(FreezePart{Kind: FlushVessel, Name: "first flush", Outside: true, Still: pipeOf(flushBore, "plastic", filmOutside)}, out)
	}
	if v := w.Settling; v != nil {
		bore, depth := math.Sqrt(4*surface(v)/math.Pi), w.SettleOut-v.Bottom
		if w.Plan.Settling.Stands == "inside" {
			s.add(FreezePart{Kind: SettlingTank, Name: v.Name, Still: tankOf(bore, depth, filmInside)}, s.layer(v.Bottom))
		} else {
			s.add(FreezePart{Kind: SettlingTank, Name: v.Name, Outside: true, Still: tankOf(bore, depth, filmOutside)}, out)
		}
	}
	s.inlet(out)
	s.overflow(out)
}

// inlet tells whether the pipe from the roof runs empty: not where a valve shuts it, or where it climbs over a highest place and so has a dip before it. Its foot stands in water where
// it ends below that of the drums.
func (s *standing) inlet(out air) {
	w := s.a.Scheme
	in, end := &w.Plan.Inlet, w.Points[w.InletEnd]
	if w.Inlet.Shut || !math.IsInf(w.Highest, -1) {
		s.add(FreezePart{Kind: InletPipe, Name: "inlet", Outside: true, Still: pipeOf(in.Diameter, in.Material, filmOutside)}, out)
	} else {
		s.drains("inlet pipe")
	}
	if end.Z < s.a.Levels.FullZ-1e-6 && len(w.Fed) > 0 {
		s.add(FreezePart{Kind: InletFoot, Name: "inlet", Still: pipeOf(in.Diameter, in.Material, filmInside)}, s.layer(end.Z))
	}
	if in.Mouth != "open pipe" {
		s.add(FreezePart{Kind: InletMouth, Name: in.Mouth, Still: pipeOf(mouthBore, "steel", filmInside)}, between(out, s.layer(end.Z)))
	}
}

// overflow runs empty where it falls and is open.
func (s *standing) overflow(out air) {
	o := &s.a.Scheme.Overflow
	if !o.Shut && o.End <= o.Z+1e-9 {
		s.drains("overflow pipe")
		return
	}
	p := FreezePart{Kind: OverflowPipe, Name: "overflow", Outside: o.To == "outside", Still: pipeOf(o.Diameter, "plastic", filmInside)}
	if !p.Outside {
		s.add(p, s.layer(min(o.Z, o.End)))
		return
	}
	p.Still.FilmWM2K = filmOutside
	s.add(p, out)
}

// inside lists manifolds, dead legs, valves and drip lines.
func (s *standing) inside() {
	w := s.a.Scheme
	dead := deadLegs(w)
	told := map[string]bool{}
	for i := range w.Pipes {
		p := &w.Pipes[i]
		z := min(w.Points[p.From].Z, w.Points[p.To].Z)
		kind, name, material := s.written(p)
		part := FreezePart{Kind: kind, Name: name, Still: pipeOf(p.Diameter, material, filmInside)}
		switch {
		case !s.wet(p):
			continue
		case dead[i]:
			part.Kind, part.Name = DeadLeg, p.Name
		case told[p.Path]:
			continue
		default:
			told[p.Path] = true
		}
		s.add(part, s.layer(z))
	}
	s.valves()
	for i := range w.Drips {
		d := &w.Drips[i]
		if !s.a.Scheme.DripRuns(i) || d.Z >= s.a.Levels.FullZ {
			s.drains("drip line " + d.Plan.Name)
			continue
		}
		s.add(FreezePart{Kind: DripPipe, Name: d.Plan.Name, Still: pipeOf(d.Plan.Diameter, "plastic", filmInside)}, s.layer(d.Z))
	}
}

// valves are those of the plan and between bays. Where one on the inlet or an overflow to the outside sits is not said: outside, the cold side.
func (s *standing) valves() {
	w := s.a.Scheme
	for _, v := range w.Valves {
		p := FreezePart{Kind: ValveBody, Name: v.Name}
		bore, in := 0.0, air{}
		switch {
		case v.Pipe >= 0:
			of := &w.Pipes[v.Pipe]
			if !s.wet(of) {
				continue
			}
			bore, in = of.Diameter, s.layer(min(w.Points[of.From].Z, w.Points[of.To].Z))
		case v.Pipe == house.OnInlet:
			bore, in, p.Outside = w.Inlet.Diameter, s.outdoors(), true
		case v.Pipe == house.OnOverflow:
			bore, in = w.Overflow.Diameter, s.layer(min(w.Overflow.Z, w.Overflow.End))
			if w.Overflow.To == "outside" {
				in, p.Outside = s.outdoors(), true
			}
		default:
			d := &w.Drips[house.OnDrip-v.Pipe]
			bore, in = d.Plan.Diameter, s.layer(min(d.Z, w.Points[d.From].Z))
		}
		p.Still = pipeOf(bore, "steel", filmInside)
		if p.Outside {
			p.Still.FilmWM2K = filmOutside
		}
		s.add(p, in)
	}
}

// wet tells whether water comes to a pipe: one of its ends hangs on a drum that is fed, and it lies below the water at its highest.
func (s *standing) wet(p *house.WaterPipe) bool {
	w := s.a.Scheme
	if min(w.Points[p.From].Z, w.Points[p.To].Z) >= s.a.Levels.FullZ {
		return false
	}
	for _, end := range []int{p.From, p.To} {
		for _, v := range w.Joined(end, func(o *house.WaterPipe) bool { return !o.Shut }) {
			if slices.Contains(w.Fed, v) {
				return true
			}
		}
	}
	return false
}

// written is what the plan has of a pipe: a manifold, by its row, or a pipe of the long form; and what it is made of.
func (s *standing) written(p *house.WaterPipe) (kind FreezeKind, name, material string) {
	of := s.a.Scheme.Plan
	for i := range of.Manifolds {
		if m := &of.Manifolds[i]; p.Path == fmt.Sprintf("water.manifolds[%d]", i) {
			return ManifoldPipe, m.Row, m.Material
		}
	}
	for i := range of.Pipes {
		if m := &of.Pipes[i]; p.Path == fmt.Sprintf("water.pipes[%d]", i) {
			return PlainPipe, m.Name, m.Material
		}
	}
	panic("water: no pipe is written at " + p.Path)
}

// deadLegs are the pipes that lead to nothing open: shut, or behind an end where nothing else hangs.
func deadLegs(w *house.Water) []bool {
	dead := make([]bool, len(w.Pipes))
	for i := range w.Pipes {
		dead[i] = w.Pipes[i].Shut
	}
	for again := true; again; {
		again = false
		for i := range w.Pipes {
			if p := &w.Pipes[i]; !dead[i] && (endsBlind(w, dead, i, p.From) || endsBlind(w, dead, i, p.To)) {
				dead[i], again = true, true
			}
		}
	}
	return dead
}

// endsBlind tells whether a pipe's end has neither drum, inlet, open drip line nor another open pipe.
func endsBlind(w *house.Water, dead []bool, pipe, end int) bool {
	if w.Points[end].Vessel >= 0 || end == w.InletEnd && !w.Inlet.Shut {
		return false
	}
	for i := range w.Drips {
		if w.Drips[i].From == end && !w.Drips[i].Shut {
			return false
		}
	}
	for i := range w.Pipes {
		if p := &w.Pipes[i]; i != pipe && !dead[i] && (p.From == end || p.To == end) {
			return false
		}
	}
	return true
}
