package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"suncellar/internal/draw"
)

// levelWords returns what stands at a level mark: on a narrow sheet the figure
// alone, its name then goes below the picture.
func (s *sectionSheet) levelWords(l Level) []string {
	h := s.p.u.Length(l.Z)
	if l.Z > 0 {
		h = "+" + h
	}
	if s.p.narrow {
		return []string{h}
	}
	return []string{l.Name, h}
}

// levels marks heights at the right, moved apart, each joined to its height.
func (s *sectionSheet) levels() {
	g := &draw.Group{Class: "levels"}
	x := s.frame.Max.X
	want, height := make([]float64, len(s.in.Levels)), make([]float64, len(s.in.Levels))
	for i, l := range s.in.Levels {
		want[i] = s.paper(Point{0, l.Z}).Y
		height[i] = float64(len(s.levelWords(l)))*lineText + 2
	}
	for i, y := range spread(want, height, s.frame.Min.Y, s.frame.Max.Y+40) {
		l := s.in.Levels[i]
		g.Add(s.p.line(draw.Pen{Ink: draw.Ink2, Width: 0.75}, x-14, want[i], x+2, want[i], x+14, y))
		g.Add(&draw.Area{Rings: [][]draw.Point{s.p.points(x-8, want[i], x-12, want[i]-7, x-4, want[i]-7)}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 1}, Tip: l.Name + " " + s.p.u.Length(l.Z)})
		s.room.take(draw.Rect{Min: draw.Point{X: x - 16, Y: want[i] - 9}, Max: draw.Point{X: x + 2, Y: want[i] + 2}})
		lines := s.levelWords(l)
		for k, line := range lines {
			w := words{lift: draw.Center}
			if k < len(lines)-1 {
				w.ink = draw.Ink2
			}
			g.Add(s.p.text(x+17, y+(float64(k)-float64(len(lines)-1)/2)*lineText, line, w))
		}
	}
	s.p.l.Add(g)
}

// spans writes dimensions: across in rows below, upright in columns left.
func (s *sectionSheet) spans() {
	g := &draw.Group{Class: "dimensions"}
	var rows [][]draw.Rect
	upright := 0
	for _, sp := range s.shortFirst() {
		if sp.Upright {
			upright++
			s.upright(g, sp, s.frame.Min.X-10-spanStep*float64(upright-1))
			continue
		}
		length := math.Abs(sp.B.X - sp.A.X)
		a, b := s.paper(sp.A).X, s.paper(sp.B).X
		text := s.p.u.Length(length)
		half := max(math.Abs(b-a), draw.TextWidth(text, sizeText, false)+8) / 2
		box := draw.Rect{Min: draw.Point{X: (a+b)/2 - half}, Max: draw.Point{X: (a+b)/2 + half, Y: 1}}
		row := rowFor(&rows, box)
		z := min(sp.A.Z, sp.B.Z)
		dim := &draw.Dimension{A: draw.Point{X: min(sp.A.X, sp.B.X), Y: z}, B: draw.Point{X: max(sp.A.X, sp.B.X), Y: z}, Text: text}
		dim.Offset = -(s.frame.Max.Y + 20 + spanStep*float64(row) - s.paper(Point{0, z}).Y)
		g.Add(dim)
	}
	s.p.y += 8 + spanStep*float64(len(rows))
	s.p.l.Add(g)
}

// shortFirst returns the spans by length, so that long ones stand further out.
func (s *sectionSheet) shortFirst() []Span {
	out := slices.Clone(s.in.Spans)
	length := func(sp Span) float64 { return math.Hypot(sp.B.X-sp.A.X, sp.B.Z-sp.A.Z) }
	slices.SortStableFunc(out, func(a, b Span) int { return cmp.Compare(length(a), length(b)) })
	return out
}

func (s *sectionSheet) upright(g *draw.Group, sp Span, x float64) {
	ax := min(sp.A.X, sp.B.X)
	text := s.p.u.Length(math.Abs(sp.B.Z - sp.A.Z))
	dim := &draw.Dimension{A: draw.Point{X: ax, Y: min(sp.A.Z, sp.B.Z)}, B: draw.Point{X: ax, Y: max(sp.A.Z, sp.B.Z)}, Text: text}
	dim.Offset = s.paper(Point{ax, 0}).X - x
	g.Add(dim)
	s.room.take(s.p.l.TextBox(dim.Figure(s.p.l)))
}

// rowFor returns the first row where a box is clear of its neighbours and
// takes the room.
func rowFor(rows *[][]draw.Rect, box draw.Rect) int {
	for i, row := range *rows {
		clear := true
		for _, b := range row {
			clear = clear && !b.Overlaps(box)
		}
		if clear {
			(*rows)[i] = append(row, box)
			return i
		}
	}
	*rows = append(*rows, []draw.Rect{box})
	return len(*rows) - 1
}

// places draws the marks and then their words: beside them where all find
// room, otherwise numbers in the marks and the words below. Names of beds,
// drums and sinks come last and stand only where there is room left.
func (s *sectionSheet) places() {
	marks := &draw.Group{Class: "places"}
	if s.p.narrow || !s.direct() {
		for i, pl := range s.in.Places {
			s.number(marks, pl, i+1)
		}
	} else {
		for _, pl := range s.in.Places {
			s.mark(marks, pl, pl.At, 6)
		}
	}
	s.parts()
	s.p.l.Add(marks, s.names)
}

// direct writes every place's words beside it; where one finds no room none
// is written and it returns false.
func (s *sectionSheet) direct() bool {
	taken, written := len(s.room.taken), len(s.names.Items)
	for _, pl := range s.in.Places {
		q := s.paper(pl.At)
		s.room.take(draw.Rect{Min: q, Max: q}.Grow(8))
	}
	for _, pl := range s.in.Places {
		lines := append(wrap(pl.Label, sizeText, false, 120), s.values(pl)...)
		q := s.paper(pl.At)
		box, ok := s.room.find(q.X, q.Y, 8, widest(lines, sizeText)*1.07+6, float64(len(lines))*15+2, 150)
		if !ok {
			s.room.taken, s.names.Items = s.room.taken[:taken], s.names.Items[:written]
			return false
		}
		near := draw.Point{X: max(box.Min.X, min(q.X, box.Max.X)), Y: max(box.Min.Y, min(q.Y, box.Max.Y))}
		if math.Hypot(near.X-q.X, near.Y-q.Y) > 10 {
			s.names.Add(s.p.line(draw.Pen{Ink: draw.Ink, Width: 0.75}, q.X, q.Y, near.X, near.Y))
		}
		s.write(box, lines, words{boldLast: len(s.values(pl)) > 0})
	}
	return true
}

func (s *sectionSheet) values(pl Place) []string {
	if math.IsNaN(pl.LowestC) {
		return nil
	}
	return []string{s.p.u.temp(pl.LowestC)}
}

// number draws a place as a numbered mark, moved aside and joined to its spot
// where another mark stands, and keeps its words for below.
func (s *sectionSheet) number(g *draw.Group, pl Place, number int) {
	const r = 9.5
	q := s.paper(pl.At)
	at := pl.At
	box := draw.Rect{Min: q, Max: q}.Grow(r + 1)
	if s.room.free(box) {
		s.room.take(box)
	} else if found, ok := s.room.find(q.X, q.Y, 0, 2*r+2, 2*r+2, 80); ok {
		c := draw.Point{X: (found.Min.X + found.Max.X) / 2, Y: (found.Min.Y + found.Max.Y) / 2}
		m := s.p.l.Model(c)
		at = Point{m.X, m.Y}
		g.Add(s.p.line(draw.Pen{Ink: draw.Ink, Width: 1}, q.X, q.Y, c.X, c.Y),
			&draw.Circle{Center: draw.Point{X: pl.At.X, Y: pl.At.Z}, Radius: 2.5 / s.p.l.Scale, Fill: draw.Ink})
	}
	fill := s.mark(g, pl, at, r)
	n := strconv.Itoa(number)
	g.Add(&draw.Text{At: draw.Point{X: at.X, Y: at.Z}, Text: n, Size: sizeText, Bold: true, Anchor: draw.Middle, Lift: draw.Center,
		Ink: draw.MarkOn(fill), Halo: fill, Tip: s.said(pl)})
	s.numbered = append(s.numbered, numberedRow{n, s.said(pl)})
}

func (s *sectionSheet) said(pl Place) string {
	if math.IsNaN(pl.LowestC) {
		return pl.Label
	}
	return pl.Label + ", lowest " + s.p.u.temp(pl.LowestC)
}

// mark draws a place as a disc of radius r [px] in the colour of its lowest
// value, hatched below 0 °C, and returns its fill.
func (s *sectionSheet) mark(g *draw.Group, pl Place, at Point, r float64) draw.Token {
	c := draw.Point{X: at.X, Y: at.Z}
	fill, hatch, ink := paintOf(pl.LowestC)
	if fill == draw.None {
		fill = draw.Ground
	}
	g.Add(&draw.Circle{Center: c, Radius: (r + 1.5) / s.p.l.Scale, Fill: draw.Ground},
		&draw.Circle{Center: c, Radius: r / s.p.l.Scale, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: draw.Ink, Width: 1.5}, Tip: s.said(pl)})
	return fill
}

// parts writes the names of beds, sinks and drums where there is room.
func (s *sectionSheet) parts() {
	for _, b := range append(append([]Part{}, s.in.Beds...), s.in.Sinks...) {
		s.part(b)
	}
	seen := map[string]bool{}
	for _, d := range s.in.Drums {
		if !seen[d.Name] {
			s.part(Part{d.Name, d.outline()})
		}
		seen[d.Name] = true
	}
}

// part writes a name in the middle of a part that is wide enough for it; on a
// wide sheet it may also stand beside it.
func (s *sectionSheet) part(b Part) {
	if b.Name == "" {
		return
	}
	lo, hi := bounds(b.Outline)
	q := s.paper(Point{(lo.X + hi.X) / 2, (lo.Z + hi.Z) / 2})
	across := (hi.X - lo.X) * s.p.l.Scale
	lines := wrap(b.Name, sizeText, false, across)
	w, h := widest(lines, sizeText)+4, 15*float64(len(lines))
	box := draw.Rect{Min: draw.Point{X: q.X - w/2, Y: q.Y - h/2}, Max: draw.Point{X: q.X + w/2, Y: q.Y + h/2}}
	fits := w < across+12 && h < (hi.Z-lo.Z)*s.p.l.Scale
	switch {
	case fits && s.room.free(box):
		s.room.take(box)
	case s.p.narrow:
		return
	default:
		found, ok := s.room.find(q.X, q.Y, 2, w, h, 30)
		if !ok {
			return
		}
		box = found
	}
	s.write(box, lines, words{ink: draw.Ink2})
}

// scaleBar draws a bar of round lengths below the section.
func (s *sectionSheet) scaleBar() {
	u := s.p.u.LengthUnit
	step := roundStep(46/s.p.l.Scale/u) * u
	w := step * s.p.l.Scale
	x, y := s.frame.Min.X+10, s.p.y+14
	g := &draw.Group{Class: "scale"}
	for i, fill := range []draw.Token{draw.Ink2, draw.Ground} {
		g.Add(&draw.Area{Rings: [][]draw.Point{s.p.box(x+float64(i)*w, y, w, 5)}, Fill: fill, Pen: draw.Pen{Ink: draw.Ink2, Width: 1}})
	}
	for i := range 3 {
		text := "0"
		if i > 0 {
			text = s.p.u.Length(float64(i) * step)
		}
		g.Add(s.p.text(x+float64(i)*w, y+20, text, words{anchor: draw.Middle, ink: draw.Ink2}))
	}
	s.p.l.Add(g)
	s.p.y = y + 24
}

// lists writes what has no room in the picture below it, and the key of the
// temperature scale where there are values.
func (s *sectionSheet) lists() {
	p := s.p
	g := &draw.Group{Class: "list"}
	rows := s.numbered
	if p.narrow {
		for _, l := range s.in.Levels {
			rows = append(rows, numberedRow{"", "level " + s.levelWords(l)[0] + ": " + l.Name})
		}
	}
	p.y += 4
	for _, r := range rows {
		p.y += 3
		for i, line := range wrap(r.text, sizeText, false, p.w-2*margin-24) {
			p.y += lineText
			if i == 0 && r.mark != "" {
				g.Add(p.text(margin, p.y, r.mark, words{bold: true}))
			}
			g.Add(p.text(margin+24, p.y, line, words{}))
		}
	}
	p.l.Add(g)
	for _, pl := range s.in.Places {
		if !math.IsNaN(pl.LowestC) {
			p.y += 18
			p.scaleKey(margin, min(p.w-2*margin, 456))
			return
		}
	}
}
