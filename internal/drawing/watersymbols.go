package drawing

import (
	"fmt"

	"suncellar/internal/draw"
)

// Symbols of a scheme follow the general practice of pipe drawings (ISO 14617, from memory): a valve is two triangles, point to point, filled where it is shut.

// symbols draws joints and valves.
func (s *schemeSheet) symbols() {
	for i, q := range s.in.Points {
		at := onLine{s.u[i], q.Z}
		if q.Vessel >= 0 || i == s.in.Inlet.End || s.hiddenAt(i) {
			continue
		}
		n := s.panelOf(at.u)
		x, y := n.x(at.u), s.y(n, at.z)
		g := &draw.Group{Class: fmt.Sprintf("joint-%d", i)}
		g.Add(&draw.Circle{Center: s.p.at(x, y), Radius: 3.5, Fill: draw.Ink, Pen: draw.Pen{Ink: draw.Ground, Width: 1.5}, Tip: q.Name + ", " + s.height(q.Z)})
		s.gSymbols.Add(g)
		s.spots = append(s.spots, Spot{"joint", i, q.Name, draw.Point{X: x, Y: y}})
	}
	used := map[SchemePlace]int{}
	for i, v := range s.in.Valves {
		at, ok := s.valveAt(i, used[v.On])
		used[v.On]++
		if ok {
			s.valve(i, at)
		}
	}
}

// hiddenAt tells whether a point belongs to a drum that is left out.
func (s *schemeSheet) hiddenAt(point int) bool {
	v := s.vesselOf(point)
	return v >= 0 && s.columnOf(vesselColumn, v).part != vesselColumn
}

// valveAt is where a valve stands: k of its pipe before it. False: in a bay that is not drawn.
func (s *schemeSheet) valveAt(i, k int) (onLine, bool) {
	v := s.in.Valves[i]
	step := wideValve * float64(k)
	switch v.On.Part {
	case InletEnd:
		c := s.columnOf(inletColumn, 0)
		_, z := s.collector()
		if s.in.Settling != nil {
			z = s.in.Settling.Outlet
		}
		return onLine{c.u0 + 26 + step, z}, true
	case OverflowAt:
		return onLine{s.columnOf(overflowColumn, 0).u0 + 24 + step, s.in.Overflow.Z}, true
	case DripAt:
		c := s.columnOf(dripColumn, v.On.Index)
		return onLine{c.u0 + 28 + step, s.in.Drips[v.On.Index].Z}, true
	}
	return s.onPipe(v.On.Index, i, step)
}

// onPipe is the column that is kept for a valve between two drums, else the middle of its pipe.
func (s *schemeSheet) onPipe(pipe, valve int, step float64) (onLine, bool) {
	q := s.in.Pipes[pipe]
	a, b := s.vesselOf(q.From), s.vesselOf(q.To)
	for _, c := range s.columns {
		if c.part == valveColumn && a >= 0 && b >= 0 && c.index == max(a, b) && min(a, b) == c.index-1 {
			order := 0
			for k, of := range s.valvesBefore(c.index) {
				if of == valve {
					order = k
				}
			}
			return onLine{c.mid() + wideValve*float64(order), s.in.Points[q.From].Z}, true
		}
	}
	if s.hiddenAt(q.From) || s.hiddenAt(q.To) {
		return onLine{}, false
	}
	return onLine{(s.u[q.From]+s.u[q.To])/2 + step, s.in.Points[q.From].Z}, true
}

// valve draws one; where another stands there already it moves up or down and is joined to its place.
func (s *schemeSheet) valve(i int, at onLine) {
	v, n := s.in.Valves[i], s.panelOf(at.u)
	x, y := n.x(at.u), s.y(n, at.z)
	g := &draw.Group{Class: fmt.Sprintf("valve-%d", i)}
	own := y
	for _, dy := range []float64{0, -30, 30, -60, 60, -90, 90} {
		if s.clear(draw.Point{X: x, Y: y + dy}) {
			own = y + dy
			break
		}
	}
	if own != y {
		g.Add(s.p.line(draw.Pen{Ink: draw.Ink, Width: 0.75}, x, y, x, own))
	}
	fill, state := draw.Ground, "open"
	if v.Shut {
		fill, state = draw.Ink, "shut"
	}
	pen := draw.Pen{Ink: draw.Ink, Width: 1.5}
	g.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x-11, own-8, 22, 16)}, Fill: draw.Ground},
		&draw.Area{Rings: [][]draw.Point{s.p.points(x-10, own-7, x-10, own+7, x, own)}, Fill: fill, Pen: pen, Tip: v.Name + ": " + state},
		&draw.Area{Rings: [][]draw.Point{s.p.points(x+10, own-7, x+10, own+7, x, own)}, Fill: fill, Pen: pen, Tip: v.Name + ": " + state})
	s.gSymbols.Add(g)
	n.room.take(rectOf(x-11, own-8, x+11, own+8))
	s.spots = append(s.spots, Spot{"valve", i, v.Name, draw.Point{X: x, Y: own}})
	s.marks = append(s.marks, schemeMark{text: v.Name, state: state, at: at, px: &draw.Point{X: x, Y: own}, part: SchemePlace{Nowhere, 0}, valve: true})
}

// clear tells whether a valve may stand at a place.
func (s *schemeSheet) clear(at draw.Point) bool {
	for _, o := range s.spots {
		if o.Kind == "valve" && abs(o.Px.X-at.X) < 27 && abs(o.Px.Y-at.Y) < 27 {
			return false
		}
	}
	return true
}

func abs(v float64) float64 { return max(v, -v) }

// mouth draws the end of the inlet: open, a flap, or a valve that lets water one way.
func (s *schemeSheet) mouth(at onLine) {
	n := s.panelOf(at.u)
	x, y := n.x(at.u), s.y(n, at.z)
	pen := draw.Pen{Ink: draw.Ink, Width: 1.5}
	switch s.in.Inlet.Mouth {
	case FlapMouth:
		s.gSymbols.Add(s.p.line(pen, x-4, y, x+7, y+6), &draw.Circle{Center: s.p.at(x-4, y), Radius: 2, Fill: draw.Ink})
	case OneWayMouth:
		s.gSymbols.Add(&draw.Area{Rings: [][]draw.Point{s.p.points(x-6, y-10, x+6, y-10, x, y)}, Fill: draw.Ground, Pen: pen}, s.p.line(pen, x-6, y, x+6, y))
	default:
		s.gSymbols.Add(s.p.line(pen, x-4, y, x-4, y-4), s.p.line(pen, x+4, y, x+4, y-4))
	}
}
