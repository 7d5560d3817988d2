package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// onLine is a place of a scheme: along its line, and a height.
type onLine struct{ u, z float64 }

// run draws a pipe through places, level and upright in turn. Where it leaves a panel it goes on in the next, with an arrow at either edge.
func (s *schemeSheet) run(g *draw.Group, pen draw.Pen, tip string, at ...onLine) {
	for i := 1; i < len(at); i++ {
		a, b := at[i-1], at[i]
		if a.u != b.u {
			s.level(g, pen, tip, min(a.u, b.u), max(a.u, b.u), a.z)
		}
		if a.z != b.z {
			n := s.panelOf(b.u)
			x := n.x(b.u)
			s.stroke(g, n, pen, tip, x, s.y(n, a.z), x, s.y(n, b.z))
		}
	}
}

// level draws a level piece of a pipe, in every panel that it crosses.
func (s *schemeSheet) level(g *draw.Group, pen draw.Pen, tip string, u0, u1, z float64) {
	for i, n := range s.panels {
		a, b := max(u0, n.u0), min(u1, n.u1)
		if a >= b {
			continue
		}
		y := s.y(n, z)
		xa, xb := n.x(a), n.x(b)
		if u1 > n.u1+1e-9 && i < len(s.panels)-1 {
			s.arrow(g, pen.Ink, xb, y)
			xb -= 6
		}
		if u0 < n.u0-1e-9 && i > 0 {
			s.arrow(g, pen.Ink, xa+6, y)
			xa += 6
		}
		s.stroke(g, n, pen, tip, xa, y, xb, y)
	}
}

// stroke draws one piece with a rim that keeps it off what it crosses.
func (s *schemeSheet) stroke(g *draw.Group, n *panel, pen draw.Pen, tip string, x0, y0, x1, y1 float64) {
	rim := draw.Pen{Ink: draw.Ground, Width: pen.Width + 3}
	thin := s.p.line(pen, x0, y0, x1, y1)
	thin.Tip = tip
	g.Add(s.p.line(rim, x0, y0, x1, y1), thin)
	n.soft = append(n.soft, rectOf(x0, y0, x1, y1).Grow(2))
}

// arrow is a small head that points along the line, its tip at x.
func (s *schemeSheet) arrow(g *draw.Group, ink draw.Token, x, y float64) {
	g.Add(&draw.Area{Rings: [][]draw.Point{s.p.points(x, y, x-7, y-4, x-7, y+4)}, Fill: ink})
}

// falls is a small head that points down, its tip at y.
func (s *schemeSheet) falls(g *draw.Group, ink draw.Token, x, y float64) {
	g.Add(&draw.Area{Rings: [][]draw.Point{s.p.points(x, y, x-4, y-7, x+4, y-7)}, Fill: ink})
}

func rectOf(x0, y0, x1, y1 float64) draw.Rect {
	return draw.Rect{Min: draw.Point{X: min(x0, x1), Y: min(y0, y1)}, Max: draw.Point{X: max(x0, x1), Y: max(y0, y1)}}
}

func pipePen() draw.Pen { return draw.Pen{Ink: draw.Ink, Width: 2} }

// ground draws the axis of heights, grade outdoors and the floor indoors.
func (s *schemeSheet) ground() {
	inside := s.insideFrom()
	for _, n := range s.panels {
		s.axis(n)
		for _, part := range []struct{ from, to, z float64 }{{n.u0, min(n.u1, inside), 0}, {max(n.u0, inside), n.u1, s.in.FloorZ}} {
			if part.from >= part.to || part.z < n.low {
				continue
			}
			x0, x1, y := n.x(part.from), n.x(part.to), s.y(n, part.z)
			s.gGround.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x0, y, x1-x0, 9)}, Hatch: draw.Soil, HatchInk: draw.Earth},
				s.p.line(draw.Pen{Ink: draw.Earth, Width: 2}, x0, y, x1, y))
			n.room.take(rectOf(x0, y-1, x1, y+1))
		}
		if inside > n.u0 && inside < n.u1 && s.in.FloorZ != 0 {
			x, foot := n.x(inside), min(n.y1, s.y(n, s.in.FloorZ))
			s.gGround.Add(s.p.line(draw.Pen{Ink: draw.Earth, Width: 2}, x, s.y(n, 0), x, foot))
			n.soft = append(n.soft, rectOf(x-2, s.y(n, 0), x+2, foot))
		}
	}
}

// insideFrom is where along the line the house begins.
func (s *schemeSheet) insideFrom() float64 { return s.columnOf(inletColumn, 0).end() - 4 }

// axis draws the heights at the left of a panel.
func (s *schemeSheet) axis(n *panel) {
	p := s.p
	unit := p.u.LengthUnit
	ticks := roundTicks(n.low/unit, n.top/unit, int((n.y1-n.y0)/34))
	decimals := 0
	if len(ticks) > 1 && ticks[1]-ticks[0] < 1 {
		decimals = 1
	}
	if len(ticks) > 1 && ticks[1]-ticks[0] < 0.1 {
		decimals = 2
	}
	x := n.x0 - 4
	s.gGround.Add(p.line(axisPen(), x, n.y0-4, x, n.y1+4))
	for _, t := range ticks {
		y := s.y(n, t*unit)
		s.gGround.Add(p.line(axisPen(), x-4, y, x, y), p.text(x-7, y, figure(t, decimals), words{anchor: draw.End, lift: draw.Center, ink: draw.Ink2}))
	}
	y := n.room.room.Min.Y - 4
	s.gGround.Add(p.text(margin, y, p.lengthName()+" from grade", words{ink: draw.Ink2}))
	n.room.take(rectOf(margin, y-13, margin+draw.TextWidth(p.lengthName()+" from grade", sizeText, false)+4, y+5))
}

// lengthName is the reader's unit of length.
func (p *page) lengthName() string {
	if p.u.LengthUnit == 1 {
		return "m"
	}
	return "ft"
}

// levelPen is how a level is drawn.
func (k LevelKind) pen() draw.Pen {
	switch k {
	case FullLevel:
		return draw.Pen{Ink: draw.Water, Width: 2}
	case LowestLevel:
		return draw.Pen{Ink: draw.Water, Width: 1.5, Dash: []float64{8, 4}}
	case KeptLevel:
		return draw.Pen{Ink: draw.Water, Width: 1.5, Dash: []float64{2, 3}}
	case GradeLevel:
		return draw.Pen{Ink: draw.Ink2, Width: 1, Dash: []float64{9, 3, 2, 3}}
	}
	return draw.Pen{Ink: draw.Ink2, Width: 0.75}
}

// shown tells whether a panel shows a level: those of the water where there are drums, beds or the overflow.
func (s *schemeSheet) shown(n *panel, l SchemeLevel) bool {
	if l.Kind == GradeLevel {
		return true
	}
	return l.Z >= n.low-1e-9 && l.Z <= n.top+1e-9 && s.has(n, vesselColumn, gapColumn, bayColumn, overflowColumn, dripColumn)
}

// levelLines are the words of a level, its height below its name.
func (s *schemeSheet) levelLines(l SchemeLevel) []string {
	return append(wrap(l.Name, sizeText, false, s.levelRoom()-20), s.height(l.Z))
}

// height is a height with its sign.
func (s *schemeSheet) height(z float64) string {
	if h := s.p.u.Length(z); z > 0 {
		return "+" + h
	} else {
		return h
	}
}

// levelsTall is the height that the words of a panel's levels need [px].
func (s *schemeSheet) levelsTall(n *panel) float64 {
	h := 0.0
	for _, l := range s.in.Levels {
		if s.shown(n, l) {
			h += float64(len(s.levelLines(l)))*lineText + 4
		}
	}
	return h
}

// levels draws heights as lines across, their names at the right, moved apart.
func (s *schemeSheet) levels() {
	for _, n := range s.panels {
		var list []SchemeLevel
		var want, tall []float64
		for _, l := range s.in.Levels {
			if s.shown(n, l) {
				list = append(list, l)
				want, tall = append(want, s.y(n, l.Z)), append(tall, float64(len(s.levelLines(l)))*lineText+4)
			}
		}
		for i, y := range spread(want, tall, n.y0-20, n.y1+24) {
			l := list[i]
			line := s.p.line(l.Kind.pen(), s.levelFrom(n, l), want[i], n.x1+2, want[i])
			line.Tip = l.Name + ", " + s.height(l.Z)
			s.gLevels.Add(line, s.p.line(draw.Pen{Ink: draw.Ink2, Width: 0.75}, n.x1+2, want[i], n.x1+6, want[i], n.x1+13, y))
			n.soft = append(n.soft, rectOf(n.x0, want[i]-2, n.x1, want[i]+2))
			lines := s.levelLines(l)
			for k, text := range lines {
				w := words{lift: draw.Center}
				if k < len(lines)-1 {
					w.ink = draw.Ink2
				}
				s.gLevels.Add(s.p.text(n.x1+16, y+(float64(k)-float64(len(lines)-1)/2)*lineText, text, w))
			}
		}
	}
}

// levelFrom is where the line of a level begins: grade goes all along, the others from the first drum on.
func (s *schemeSheet) levelFrom(n *panel, l SchemeLevel) float64 {
	if l.Kind == GradeLevel {
		return n.x0
	}
	return n.x(max(n.u0, s.insideFrom()))
}

// roofs draws each roof with its gutter, and the pipe from there to the settling drum or the inlet.
func (s *schemeSheet) roofs() {
	to, z := s.collector()
	for i, r := range s.in.Roofs {
		c := s.columnOf(roofColumn, i)
		n := s.panelOf(c.mid())
		x, y := n.x(c.mid())+8, s.y(n, r.Eave)
		slope := max(5*math.Pi/180, min(r.Slope, 55*math.Pi/180))
		reach := min(34, 40/math.Tan(slope))
		sheet := s.p.line(draw.Pen{Ink: draw.Ink, Width: 4}, x-reach, y-reach*math.Tan(slope), x, y)
		sheet.Tip = r.Name
		yo := max(s.y(n, r.Outlet), y+2)
		s.gVessels.Add(sheet, s.p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, x-2, y+1, x-2, yo-2, x+1, yo, x+7, yo, x+10, yo-2, x+10, y+1))
		n.soft = append(n.soft, rectOf(x-reach, y-reach*math.Tan(slope), x+10, yo))
		u := n.u0 + (x+4-n.x0)/n.stretch
		s.run(s.gPipes, pipePen(), "from the gutter of "+r.Name, onLine{u, r.Outlet}, onLine{u, z}, onLine{to, z})
		s.mark("eave of "+r.Name, r.Eave, onLine{c.mid(), r.Eave}, RoofAt, i)
		s.mark("outlet of its gutter", r.Outlet, onLine{u, r.Outlet}, GutterAt, i)
	}
	if s.in.Flush != "" {
		s.firstFlush(z)
	}
	if s.in.Settling != nil {
		s.settling(to, z)
	}
}

// collector is where the water of all roofs comes together: over the settling drum, or where the inlet begins.
func (s *schemeSheet) collector() (u, z float64) {
	z = math.Inf(1)
	for _, r := range s.in.Roofs {
		z = min(z, r.Outlet)
	}
	if s.in.Settling != nil {
		return s.columnOf(settlingColumn, 0).mid(), z
	}
	return s.columnOf(inletColumn, 0).u0 + 6, z
}

// firstFlush hangs a vessel on the pipe from the roofs. How tall it is is not known: it is dashed.
func (s *schemeSheet) firstFlush(z float64) {
	c := s.columnOf(flushColumn, 0)
	n := s.panelOf(c.mid())
	x, y := n.x(c.mid()), s.y(n, z)
	s.gVessels.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x-6, y+6, 12, 40)}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5, Dash: []float64{4, 2}}, Tip: s.in.Flush})
	s.gPipes.Add(s.p.line(pipePen(), x, y, x, y+6))
	n.soft = append(n.soft, rectOf(x-7, y, x+7, y+47))
	s.marks = append(s.marks, schemeMark{text: s.in.Flush, at: onLine{c.mid(), z}, dy: 46, part: SchemePlace{Nowhere, 0}, plain: true})
}

// settling draws the settling drum, filled to its outlet.
func (s *schemeSheet) settling(u, z float64) {
	d := s.in.Settling
	c := s.columnOf(settlingColumn, 0)
	s.run(s.gPipes, pipePen(), "", onLine{u, z}, onLine{u, max(min(z, d.Top), d.Outlet)})
	s.vessel(c, SchemeVessel{Name: d.Name, Bottom: d.Bottom, Top: d.Top}, min(d.Outlet, d.Top), 26)
	s.mark("rim of the "+d.Name, d.Top, onLine{c.mid() - 10, d.Top}, Nowhere, 0)
	s.mark("outlet of the "+d.Name, d.Outlet, onLine{c.mid() + 13, d.Outlet}, SettlingAt, 0)
}

// vessel draws one with its water, w [px] wide.
func (s *schemeSheet) vessel(c column, v SchemeVessel, water, w float64) {
	n := s.panelOf(c.mid())
	x := n.x(c.mid()) - w/2
	top, bottom := s.y(n, v.Top), s.y(n, v.Bottom)
	tip := fmt.Sprintf("%s, bottom %s, rim %s", v.Name, s.height(v.Bottom), s.height(v.Top))
	if z := min(water, v.Top); z > v.Bottom {
		s.gVessels.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x, s.y(n, z), w, bottom-s.y(n, z))}, Fill: draw.Ground2, Hatch: draw.WaterHatch, HatchInk: draw.Water})
	}
	for k := 1; k < v.Stacked; k++ {
		y := bottom + (top-bottom)*float64(k)/float64(v.Stacked)
		s.gVessels.Add(s.p.line(draw.Pen{Ink: draw.Ink, Width: 1}, x, y, x+w, y))
	}
	s.gVessels.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x, top, w, bottom-top)}, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}, Tip: tip})
	n.soft = append(n.soft, rectOf(x-1, top, x+w+1, bottom))
}

// vessels draws the drums that are shown, and tells of those that are not.
func (s *schemeSheet) vessels() {
	for _, c := range s.columns {
		n := s.panelOf(c.mid())
		switch c.part {
		case vesselColumn:
			v := s.in.Vessels[c.index]
			water := math.Inf(-1)
			if v.Fed {
				water = s.in.FullZ
			}
			s.vessel(c, v, water, min(24, wideDrum*n.stretch-6))
		case gapColumn, bayColumn:
			s.leftOut(n, c)
		}
	}
	told := map[[2]float64]bool{}
	for _, bay := range s.byBay() {
		s.rim(bay, told)
	}
}

// leftOut draws a gap: three dots and how many are not drawn.
func (s *schemeSheet) leftOut(n *panel, c column) {
	x, z := n.x(c.mid()), (s.zLow+s.zTop)/2
	for _, v := range s.in.Vessels {
		if v.Bay == c.bay {
			z = (v.Bottom + v.Top) / 2
			break
		}
	}
	y := s.y(n, z)
	for _, dx := range []float64{-7, 0, 7} {
		s.gVessels.Add(&draw.Circle{Center: s.p.at(x+dx, y), Radius: 1.8, Fill: draw.Ink})
	}
	n.room.take(rectOf(x-10, y-3, x+10, y+3))
	text := fmt.Sprintf("+ %d", c.index)
	if c.part == bayColumn {
		text = fmt.Sprintf("+ %d bays", c.index)
		if c.index == 1 {
			text = "+ 1 bay"
		}
	}
	t := s.p.text(x, y-10, text, words{anchor: draw.Middle, halo: draw.Ground})
	if box := s.p.l.TextBox(t); n.room.free(box) {
		n.room.take(box)
		s.gVessels.Add(t)
	}
}

// rim names a bay at its first drum, with the height of its rim. Where bottoms are is told once for all that stand alike.
func (s *schemeSheet) rim(bay []int, told map[[2]float64]bool) {
	v := s.in.Vessels[bay[0]]
	c := s.columnOf(vesselColumn, bay[0])
	if stand := [2]float64{v.Bottom, v.Top}; !told[stand] {
		told[stand] = true
		s.listed = append(s.listed, numberedRow{"", fmt.Sprintf("%s: bottoms %s, rims %s", v.Row, s.height(v.Bottom), s.height(v.Top))})
	}
	if c.part != vesselColumn {
		return
	}
	name := v.Bay
	if drums := len(bay) * max(1, v.Stacked); drums > 1 {
		name += fmt.Sprintf(", %d drums", drums)
	}
	s.mark(name+", rim", v.Top, onLine{c.mid(), v.Top}, Nowhere, 0)
}

// pipes draws inlet, pipes between the drums, overflow, tap and drip lines.
func (s *schemeSheet) pipes() {
	for _, q := range s.in.Pipes {
		a, b := onLine{s.u[q.From], s.in.Points[q.From].Z}, onLine{s.u[q.To], s.in.Points[q.To].Z}
		s.run(s.gPipes, pipePen(), "", a, b)
	}
	s.inlet()
	s.overflow()
	if s.in.Tap != nil {
		s.tap()
	}
	for i := range s.in.Drips {
		s.drip(i)
	}
}

// inlet leads from gutter or settling drum over its highest place to its end.
func (s *schemeSheet) inlet() {
	in, c := s.in.Inlet, s.columnOf(inletColumn, 0)
	u, z := s.collector()
	if s.in.Settling != nil {
		u, z = s.columnOf(settlingColumn, 0).mid()+13, s.in.Settling.Outlet
	}
	end := onLine{s.u[in.End], s.in.Points[in.End].Z}
	if s.in.Points[in.End].Vessel >= 0 {
		end.u -= 6
	}
	way := []onLine{{u, z}}
	if !math.IsNaN(in.Highest) {
		top := onLine{c.end() - 14, in.Highest}
		way = append(way, onLine{top.u, z}, top)
		s.mark("highest place of the inlet", in.Highest, top, InletHighest, 0)
	}
	last := way[len(way)-1]
	way = append(way, onLine{end.u, last.z}, end)
	s.run(s.gPipes, pipePen(), "inlet", way...)
	s.mouth(end)
	text := "end of the inlet"
	if in.Words != "" {
		text += ", " + in.Words
	}
	s.mark(text, end.z, end, InletEnd, 0)
}

// overflow leads from its drum to its end.
func (s *schemeSheet) overflow() {
	o, c := s.in.Overflow, s.columnOf(overflowColumn, 0)
	from := onLine{s.columnOf(vesselColumn, o.Vessel).mid() + 8, o.Z}
	end := onLine{c.end() - 14, o.End}
	s.run(s.gPipes, pipePen(), o.Name, from, onLine{end.u, o.Z}, end)
	n := s.panelOf(end.u)
	if o.End <= o.Z {
		s.falls(s.gSymbols, draw.Ink, n.x(end.u), s.y(n, o.End))
	}
	s.mark(o.Name, o.Z, onLine{c.u0 + 4, o.Z}, OverflowAt, 0)
	s.mark("its end", o.End, end, OverflowEnd, 0)
}

// tap draws where cans are filled.
func (s *schemeSheet) tap() {
	c := s.columnOf(tapColumn, 0)
	last := s.in.Vessels[len(s.in.Vessels)-1]
	from := s.columnOf(vesselColumn, len(s.in.Vessels)-1)
	at := onLine{c.mid(), s.in.Tap.Z}
	if last.Bottom <= at.z && at.z <= last.Top {
		s.run(s.gPipes, pipePen(), s.in.Tap.Name, onLine{from.mid() + 10, at.z}, at)
	}
	n := s.panelOf(at.u)
	x, y := n.x(at.u), s.y(n, at.z)
	s.gSymbols.Add(s.p.line(pipePen(), x, y, x, y+6), s.p.line(pipePen(), x-5, y-6, x+5, y-6), s.p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, x, y-6, x, y))
	n.soft = append(n.soft, rectOf(x-6, y-8, x+6, y+8))
	s.mark(s.in.Tap.Name, at.z, at, TapAt, 0)
}

// drip leads to a bed and along it.
func (s *schemeSheet) drip(i int) {
	d, c := s.in.Drips[i], s.columnOf(dripColumn, i)
	n := s.panelOf(c.mid())
	from := onLine{s.u[d.From], s.in.Points[d.From].Z}
	foot := onLine{c.u0 + 8, from.z}
	s.run(s.gPipes, draw.Pen{Ink: draw.Ink, Width: 1.5}, "to "+d.Name, from, foot, onLine{foot.u, d.Z}, onLine{c.end() - 6, d.Z})
	x0, x1, y := n.x(c.end()-wideDrip+14), n.x(c.end()-6), s.y(n, d.Z)
	s.gGround.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x0, s.y(n, d.BedZ), x1-x0, 10)}, Fill: draw.Ground2, Hatch: draw.Soil, HatchInk: draw.Leaf, Pen: draw.Pen{Ink: draw.Leaf, Width: 1}})
	for x := x0 + 6; x <= x1; x += 12 {
		s.gSymbols.Add(&draw.Circle{Center: s.p.at(x, y), Radius: 2.5, Fill: draw.Water, Pen: draw.Pen{Ink: draw.Ground, Width: 1}})
	}
	text := "emitters of " + d.Name
	if d.Emitters != "" {
		text += ", " + d.Emitters
	}
	s.mark(text, d.Z, onLine{c.end() - wideDrip/2, d.Z}, DripAt, i)
}
