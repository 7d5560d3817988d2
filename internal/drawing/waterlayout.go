package drawing

import (
	"math"
	"slices"

	"suncellar/internal/draw"
)

// A scheme is laid out along a line of its own, u, from the roofs to the beds, in columns [px]; the sheet shows pieces of it one below the other, panels.

// column is what stands above one piece of that line.
type column struct {
	part  columnPart
	index int // of roof, vessel or drip line; of a gap: how many drums are left out
	u0    float64
	wide  float64
	bay   string // of vessels and gaps
}

func (c column) mid() float64 { return c.u0 + c.wide/2 }
func (c column) end() float64 { return c.u0 + c.wide }

type columnPart int

const (
	roofColumn columnPart = iota
	flushColumn
	settlingColumn
	inletColumn
	vesselColumn
	gapColumn // drums that are left out
	bayColumn // bays that are left out
	valveColumn
	overflowColumn
	tapColumn
	dripColumn
)

// Widths of columns [px], and how many bays of drums are drawn at most.
const (
	wideRoof, wideFlush, wideSettling, wideInlet = 54.0, 34.0, 52.0, 44.0
	wideDrum, wideGap, wideValve                 = 30.0, 38.0, 50.0
	wideOverflow, wideTap, wideDrip              = 58.0, 40.0, 92.0
	mostBays, mostOfBay                          = 9, 3
)

// panel is a piece of the line on the sheet.
type panel struct {
	u0, u1   float64
	x0, x1   float64 // [px]
	y0, y1   float64 // of the highest and the lowest height
	stretch  float64
	low, top float64 // heights at its edges
	room     placer
	soft     []draw.Rect // better left free
}

func (n *panel) x(u float64) float64 { return n.x0 + (u-n.u0)*n.stretch }

// schemeSheet is a scheme under way.
type schemeSheet struct {
	p          *page
	in         WaterScheme
	columns    []column
	panels     []*panel
	zLow, zTop float64
	tall       float64 // of the heights [px]
	u          []float64
	spots      []Spot
	marks      []schemeMark
	listed     []numberedRow
	letters    int // that are used
	found      []numberedRow

	gGround, gLevels, gVessels, gPipes, gSymbols, gLeads, gWords *draw.Group
}

func newSchemeSheet(p *page, in WaterScheme) *schemeSheet {
	s := &schemeSheet{p: p, in: in, tall: 300}
	if p.narrow {
		s.tall = 250
	}
	s.gGround, s.gLevels, s.gVessels = &draw.Group{Class: "ground"}, &draw.Group{Class: "levels"}, &draw.Group{Class: "drums"}
	s.gPipes, s.gSymbols, s.gLeads, s.gWords = &draw.Group{Class: "pipes"}, &draw.Group{Class: "symbols"}, &draw.Group{Class: "leads"}, &draw.Group{Class: "words"}
	s.zLow, s.zTop = slices.Min(in.heights()), slices.Max(in.heights())
	if s.zTop-s.zLow < 0.5 {
		s.zTop = s.zLow + 0.5
	}
	s.columns = s.allColumns()
	s.u = s.pointPlaces()
	s.panels = s.cut()
	return s
}

// segments are runs of columns that stay together where they can.
func (s *schemeSheet) segments() [][]column {
	var catch []column
	for i := range s.in.Roofs {
		catch = append(catch, column{part: roofColumn, index: i, wide: wideRoof})
	}
	if s.in.Flush != "" {
		catch = append(catch, column{part: flushColumn, wide: wideFlush})
	}
	if s.in.Settling != nil {
		catch = append(catch, column{part: settlingColumn, wide: wideSettling})
	}
	catch = append(catch, column{part: inletColumn, wide: wideInlet + wideValve*float64(s.valvesOn(InletEnd, 0))})
	list := append([][]column{catch}, s.bays()...)
	list = append(list, []column{{part: overflowColumn, wide: wideOverflow + wideValve*float64(s.valvesOn(OverflowAt, 0))}})
	if s.in.Tap != nil {
		list = append(list, []column{{part: tapColumn, wide: wideTap}})
	}
	for i := range s.in.Drips {
		list = append(list, []column{{part: dripColumn, index: i, wide: wideDrip + wideValve*float64(s.valvesOn(DripAt, i))}})
	}
	return list
}

func (s *schemeSheet) valvesOn(part SchemePart, index int) int {
	n := 0
	for _, v := range s.in.Valves {
		if v.On.Part == part && (part != DripAt || v.On.Index == index) {
			n++
		}
	}
	return n
}

// allColumns sets the columns along the line.
func (s *schemeSheet) allColumns() []column {
	var list []column
	u := 0.0
	for _, seg := range s.segments() {
		for _, c := range seg {
			c.u0 = u
			u += c.wide
			list = append(list, c)
		}
	}
	return list
}

// wanted tells which vessels have to be drawn: those at valves, inlet, overflow, drip lines and findings.
func (s *schemeSheet) wanted() []bool {
	list := make([]bool, len(s.in.Vessels))
	want := func(point int) {
		if v := s.vesselOf(point); v >= 0 {
			list[v] = true
		}
	}
	list[s.in.Overflow.Vessel] = true
	want(s.in.Inlet.End)
	for _, d := range s.in.Drips {
		want(d.From)
	}
	for _, f := range s.in.Findings {
		if f.At.Part == VesselAt {
			list[f.At.Index] = true
		}
	}
	return list
}

// bays are the columns of the drums, bay by bay: all of a small bay, of another the first, the last and those that are wanted, with a gap that tells how many are left out.
func (s *schemeSheet) bays() [][]column {
	var list [][]column
	wanted := s.wanted()
	byBay := s.byBay()
	hidden := s.hiddenBays(byBay, wanted)
	for b, vessels := range byBay {
		name := s.in.Vessels[vessels[0]].Bay
		if hidden[b] {
			if b > 0 && hidden[b-1] {
				list[len(list)-1][0].index++
			} else {
				list = append(list, []column{{part: bayColumn, index: 1, wide: wideDrip, bay: name}})
			}
			continue
		}
		var seg []column
		for k, v := range vessels {
			keep := len(vessels) <= mostOfBay || k == 0 || k == len(vessels)-1 || wanted[v]
			switch n := len(seg) - 1; {
			case keep:
				for range s.valvesBefore(v) {
					seg = append(seg, column{part: valveColumn, index: v, wide: wideValve, bay: name})
				}
				seg = append(seg, column{part: vesselColumn, index: v, wide: wideDrum, bay: name})
			case seg[n].part == gapColumn:
				seg[n].index++
			default:
				seg = append(seg, column{part: gapColumn, index: 1, wide: wideGap, bay: name})
			}
		}
		list = append(list, seg)
	}
	return list
}

// byBay are the vessels of each bay, as they are given.
func (s *schemeSheet) byBay() [][]int {
	var list [][]int
	for i, v := range s.in.Vessels {
		if i == 0 || s.in.Vessels[i-1].Bay != v.Bay {
			list = append(list, nil)
		}
		list[len(list)-1] = append(list[len(list)-1], i)
	}
	return list
}

// hiddenBays are those in the middle of very many; one with a drum that is wanted is drawn.
func (s *schemeSheet) hiddenBays(bays [][]int, wanted []bool) []bool {
	hidden := make([]bool, len(bays))
	for b, vessels := range bays {
		if len(bays) <= mostBays || b < mostBays/2 || b >= len(bays)-mostBays/2 {
			continue
		}
		hidden[b] = !slices.ContainsFunc(vessels, func(v int) bool { return wanted[v] })
	}
	return hidden
}

// vesselOf is the vessel of a point: its own, or the one that a pipe joins a joint with; -1 where there is none or several.
func (s *schemeSheet) vesselOf(point int) int {
	if v := s.in.Points[point].Vessel; v >= 0 {
		return v
	}
	found := -1
	for _, p := range s.in.Pipes {
		other := -1
		switch point {
		case p.From:
			other = p.To
		case p.To:
			other = p.From
		}
		if other < 0 || s.in.Points[other].Vessel < 0 {
			continue
		}
		if v := s.in.Points[other].Vessel; found >= 0 && found != v {
			return -1
		}
		found = s.in.Points[other].Vessel
	}
	return found
}

// valvesBefore are the valves that sit on pipes from the vessel before to this one.
func (s *schemeSheet) valvesBefore(vessel int) []int {
	var list []int
	for i, v := range s.in.Valves {
		if v.On.Part != PipeAt {
			continue
		}
		p := s.in.Pipes[v.On.Index]
		a, b := s.vesselOf(p.From), s.vesselOf(p.To)
		if a >= 0 && b >= 0 && max(a, b) == vessel && min(a, b) == vessel-1 {
			list = append(list, i)
		}
	}
	return list
}

// cut shares the columns out among panels.
func (s *schemeSheet) cut() []*panel {
	x0, x1 := margin+40, s.p.w-margin-s.levelRoom()
	inner := (x1 - x0) / leastStretch
	var list []*panel
	at, from := 0, 0.0
	last := 0.0
	flush := func() {
		if last > from {
			list = append(list, &panel{u0: from, u1: last, x0: x0, x1: x1, stretch: min(2.2, (x1-x0)/(last-from))})
		}
		from = last
	}
	for _, seg := range s.segments() {
		wide := 0.0
		for _, c := range seg {
			wide += c.wide
		}
		if last+wide-from > inner && wide <= inner {
			flush()
		}
		for range seg {
			c := s.columns[at]
			if c.end()-from > inner {
				flush()
			}
			last = c.end()
			at++
		}
	}
	flush()
	for _, n := range list {
		s.stand(n)
	}
	return list
}

// leastStretch is how far columns are drawn closer together, so that fewer panels do.
const leastStretch = 0.75

// stand gives a panel its place on the sheet: as tall as what it shows, all to one scale.
func (s *schemeSheet) stand(n *panel) {
	list := s.heightsIn(n)
	n.low, n.top = slices.Min(list), slices.Max(list)
	above := 20.0
	if s.has(n, roofColumn) {
		above = 44
	}
	n.y0 = s.p.y + above + 30
	n.y1 = n.y0 + max(40, s.tall*(n.top-n.low)/(s.zTop-s.zLow))
	n.room = placer{room: draw.Rect{Min: draw.Point{X: n.x0, Y: n.y0 - above - 8}, Max: draw.Point{X: n.x1, Y: n.y1 + 28}}}
	s.p.y = max(n.y1+34, n.y0-20+s.levelsTall(n)+4)
}

// heightsIn are those that a panel has to show: grade and all that is drawn in it.
func (s *schemeSheet) heightsIn(n *panel) []float64 {
	list := []float64{0}
	for _, c := range s.columns {
		if c.mid() < n.u0 || c.mid() > n.u1 {
			continue
		}
		switch c.part {
		case roofColumn:
			list = append(list, s.in.Roofs[c.index].Eave, s.in.Roofs[c.index].Outlet)
		case flushColumn:
			_, z := s.collector()
			list = append(list, z)
		case settlingColumn:
			_, z := s.collector()
			list = append(list, z, s.in.Settling.Bottom, s.in.Settling.Top, s.in.Settling.Outlet)
		case inletColumn:
			list = append(list, s.inletHeights()...)
		case vesselColumn:
			v := s.in.Vessels[c.index]
			list = append(list, v.Bottom, v.Top, s.in.FloorZ)
		case overflowColumn:
			list = append(list, s.in.Overflow.Z, s.in.Overflow.End, s.in.FloorZ)
		case tapColumn:
			list = append(list, s.in.Tap.Z, s.in.FloorZ)
		case dripColumn:
			d := s.in.Drips[c.index]
			list = append(list, d.Z, d.BedZ, s.in.Points[d.From].Z, s.in.FloorZ)
		}
	}
	return s.throughPipes(n, list)
}

// inletHeights are those of the inlet from its beginning to its end.
func (s *schemeSheet) inletHeights() []float64 {
	_, z := s.collector()
	if s.in.Settling != nil {
		z = s.in.Settling.Outlet
	}
	list := []float64{z, s.in.Points[s.in.Inlet.End].Z}
	if !math.IsNaN(s.in.Inlet.Highest) {
		list = append(list, s.in.Inlet.Highest)
	}
	return list
}

// throughPipes adds the heights of pipes that cross a panel.
func (s *schemeSheet) throughPipes(n *panel, list []float64) []float64 {
	cross := func(u0, u1 float64) bool { return min(u0, u1) <= n.u1 && max(u0, u1) >= n.u0 }
	for _, q := range s.in.Pipes {
		if cross(s.u[q.From], s.u[q.To]) {
			list = append(list, s.in.Points[q.From].Z, s.in.Points[q.To].Z)
		}
	}
	if in := s.columnOf(inletColumn, 0); cross(in.u0, s.u[s.in.Inlet.End]) {
		list = append(list, s.inletHeights()...)
	}
	if cross(s.columnOf(vesselColumn, s.in.Overflow.Vessel).mid(), s.columnOf(overflowColumn, 0).end()) {
		list = append(list, s.in.Overflow.Z, s.in.Overflow.End)
	}
	for i, d := range s.in.Drips {
		if cross(s.u[d.From], s.columnOf(dripColumn, i).end()) {
			list = append(list, s.in.Points[d.From].Z)
		}
	}
	return list
}

func (s *schemeSheet) has(n *panel, parts ...columnPart) bool {
	return slices.ContainsFunc(s.columns, func(c column) bool {
		return slices.Contains(parts, c.part) && c.mid() > n.u0 && c.mid() < n.u1
	})
}

// levelRoom is the width for names of levels at the right of a panel.
func (s *schemeSheet) levelRoom() float64 {
	if s.p.narrow {
		return 84
	}
	return 140
}

// y is where a height lies in a panel [px].
func (s *schemeSheet) y(n *panel, z float64) float64 {
	return n.y0 + (n.top-z)/(s.zTop-s.zLow)*s.tall
}

// panelOf is the panel that shows a place of the line.
func (s *schemeSheet) panelOf(u float64) *panel {
	for _, n := range s.panels {
		if u <= n.u1+1e-9 {
			return n
		}
	}
	return s.panels[len(s.panels)-1]
}

// columnOf is the column of a part; the gap it is left out in, where it is not drawn.
func (s *schemeSheet) columnOf(part columnPart, index int) column {
	for _, c := range s.columns {
		if c.part == part && (c.index == index || part != roofColumn && part != vesselColumn && part != dripColumn) {
			return c
		}
	}
	if part != vesselColumn {
		return s.columns[0]
	}
	last := s.columns[0] // of the last drum drawn before it; it is left out in the gap that follows
	for _, c := range s.columns {
		switch c.part {
		case vesselColumn:
			if c.index > index {
				return last
			}
			last = c
		case gapColumn, bayColumn:
			last = c
		}
	}
	return last
}

// pointPlaces are where the points lie along the line: over their drum; joints of several between what they are joined with.
func (s *schemeSheet) pointPlaces() []float64 {
	u := make([]float64, len(s.in.Points))
	free := []int{}
	for i := range s.in.Points {
		u[i] = math.NaN()
		if v := s.vesselOf(i); v >= 0 {
			u[i] = s.columnOf(vesselColumn, v).mid()
			continue
		}
		free = append(free, i)
		if i == s.in.Inlet.End {
			u[i] = s.columnOf(inletColumn, 0).end() - 8
		}
	}
	for range 20 {
		for _, i := range free {
			if i != s.in.Inlet.End {
				u[i] = s.between(u, i)
			}
		}
	}
	for k, i := range free {
		if math.IsNaN(u[i]) {
			u[i] = s.columnOf(inletColumn, 0).end() - 8
		}
		for _, j := range free[:k] { // two at one place are drawn beside each other
			if math.Abs(u[i]-u[j]) < 12 && math.Abs(s.in.Points[i].Z-s.in.Points[j].Z)/(s.zTop-s.zLow)*s.tall < 12 {
				u[i] = u[j] + 14
			}
		}
	}
	return u
}

// between is the middle of what a joint is joined with; NaN where none of that has a place.
func (s *schemeSheet) between(u []float64, point int) float64 {
	sum, n := 0.0, 0.0
	for _, p := range s.in.Pipes {
		for _, e := range [2][2]int{{p.From, p.To}, {p.To, p.From}} {
			if e[0] == point && e[1] != point && !math.IsNaN(u[e[1]]) {
				sum += u[e[1]]
				n++
			}
		}
	}
	return sum / n
}
