package drawing

import (
	"math"
	"strconv"

	"suncellar/internal/draw"
)

// schemeMark is something that is to be named on a scheme.
type schemeMark struct {
	text  string
	z     float64
	state string // of a valve: open or shut
	at    onLine
	dy    float64     // how far below its place it is named [px]
	px    *draw.Point // where it stands on the sheet, if not at its place
	part  SchemePlace
	plain bool // has no height of its own to tell
	valve bool
}

// mark keeps a name for a place with its height.
func (s *schemeSheet) mark(text string, z float64, at onLine, part SchemePart, index int) {
	s.marks = append(s.marks, schemeMark{text: text, z: z, at: at, part: SchemePlace{part, index}})
}

// words names everything: findings by numbers first, then valves, then places. Where there is no room beside a place for its words a letter stands there, and the words in the list.
func (s *schemeSheet) words() {
	for i, f := range s.in.Findings {
		s.finding(i, f)
	}
	for _, valves := range []bool{true, false} {
		for i := range s.marks {
			if m := &s.marks[i]; m.valve == valves {
				s.name(m)
			}
		}
	}
}

// paper is where a mark stands [px].
func (s *schemeSheet) paper(m *schemeMark) (*panel, draw.Point) {
	n := s.panelOf(m.at.u)
	if m.px != nil {
		return n, *m.px
	}
	return n, draw.Point{X: n.x(m.at.u), Y: s.y(n, m.at.z) + m.dy}
}

// name writes the words of a mark beside its place, or a letter there and the words into the list.
func (s *schemeSheet) name(m *schemeMark) {
	n, at := s.paper(m)
	r := 6.0
	if m.valve {
		r = 10
	}
	if !s.p.narrow {
		lines := wrap(m.text, sizeText, false, 124)
		switch {
		case m.valve:
			lines = append(lines, m.state)
		case !m.plain:
			lines = append(lines, s.height(m.z))
		}
		if s.write(n, at, r, 110, lines, words{boldLast: !m.plain, halo: draw.Ground}, false) {
			return
		}
	}
	key := letter(s.letters)
	short := key
	if m.valve {
		short += " " + m.state
	}
	if !s.write(n, at, r, 60, []string{short}, words{bold: true, halo: draw.Ground}, true) {
		key = ""
	} else {
		s.letters++
	}
	said := m.text
	switch {
	case m.valve:
		said += ": " + m.state
	case !m.plain:
		said += ", " + s.height(m.z)
	}
	s.listed = append(s.listed, numberedRow{key, said})
}

// letter is the key of row i: a to z, then aa, ab; without those that are taken for a figure.
func letter(i int) string {
	const letters = "abcdefghjkmnpqrstuvwxyz"
	if i < len(letters) {
		return letters[i : i+1]
	}
	return letter(i/len(letters)-1) + letter(i%len(letters))
}

// write sets lines beside a place, joined to it where they stand off; clear of pipes and drums, over them only where that is allowed. False: there is no room.
func (s *schemeSheet) write(n *panel, at draw.Point, r, reach float64, lines []string, w words, over bool) bool {
	wide := 0.0
	for i, l := range lines {
		bold := w.bold || w.boldLast && i == len(lines)-1
		wide = max(wide, draw.TextWidth(l, sizeText, bold))
	}
	box, ok := n.find(at.X, at.Y, r, wide+6, float64(len(lines))*15+3, reach, over)
	if !ok {
		return false
	}
	near := draw.Point{X: max(box.Min.X, min(at.X, box.Max.X)), Y: max(box.Min.Y, min(at.Y, box.Max.Y))}
	if math.Hypot(near.X-at.X, near.Y-at.Y) > r+6 {
		s.gLeads.Add(s.p.line(draw.Pen{Ink: draw.Ink2, Width: 0.75}, at.X, at.Y, near.X, near.Y))
	}
	x := (box.Min.X + box.Max.X) / 2
	for i, l := range lines {
		t := s.p.text(x, box.Min.Y+12.5+15*float64(i), l, words{anchor: draw.Middle, halo: w.halo, bold: w.bold || w.boldLast && i == len(lines)-1})
		s.gWords.Add(t)
	}
	return true
}

// find finds room near a place, clear of what is better left free; over it only where that is allowed and there is no other.
func (n *panel) find(x, y, r, w, h, reach float64, over bool) (draw.Rect, bool) {
	hard := len(n.room.taken)
	n.room.taken = append(n.room.taken, n.soft...)
	box, ok := n.room.find(x, y, r, w, h, reach)
	n.room.taken = n.room.taken[:hard]
	if ok {
		n.room.take(box)
	}
	if ok || !over {
		return box, ok
	}
	return n.room.find(x, y, r, w, h, reach)
}

// finding sets the number of a finding at its place.
func (s *schemeSheet) finding(i int, f SchemeFinding) {
	number := strconv.Itoa(i + 1)
	s.found = append(s.found, numberedRow{number, f.Text})
	at, ok := s.placeOf(f.At)
	if !ok {
		return
	}
	n, q := s.paper(&schemeMark{at: at})
	size := 2*9.5 + 2
	if i >= 9 {
		size += 8
	}
	box, ok := n.find(q.X, q.Y, 4, size, size, 120, true)
	if !ok {
		return
	}
	c := draw.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
	s.gWords.Add(s.p.line(draw.Pen{Ink: draw.Ink, Width: 1}, q.X, q.Y, c.X, c.Y), &draw.Circle{Center: s.p.at(q.X, q.Y), Radius: 2.5, Fill: draw.Ink},
		&draw.Circle{Center: s.p.at(c.X, c.Y), Radius: size/2 - 1, Fill: draw.Ink, Pen: draw.Pen{Ink: draw.Ground, Width: 1.5}, Tip: f.Text},
		s.p.text(c.X, c.Y, number, words{bold: true, ink: draw.Ground, anchor: draw.Middle, lift: draw.Center, tip: f.Text}))
}

// placeOf is where a part lies. False: nowhere on the picture.
func (s *schemeSheet) placeOf(at SchemePlace) (onLine, bool) {
	switch at.Part {
	case Nowhere:
		return onLine{}, false
	case VesselAt:
		return onLine{s.columnOf(vesselColumn, at.Index).mid(), s.in.Vessels[at.Index].Top}, true
	case PointAt:
		return onLine{s.u[at.Index], s.in.Points[at.Index].Z}, true
	}
	for i := range s.marks {
		if s.marks[i].part == at {
			return s.marks[i].at, true
		}
	}
	return onLine{}, false
}

// layers puts what was drawn onto the sheet, from the back to the front.
func (s *schemeSheet) layers() {
	for _, g := range []*draw.Group{s.gGround, s.gVessels, s.gLevels, s.gPipes, s.gSymbols, s.gLeads, s.gWords} {
		s.p.l.Add(g)
	}
}

// lists writes findings, and what is named by a letter, below the picture.
func (s *schemeSheet) lists() {
	s.list("findings", s.in.Heard, s.found)
	s.list("keys", "", s.listed)
}

// list writes rows below each other, each with its key before it.
func (s *schemeSheet) list(class, head string, rows []numberedRow) {
	if len(rows) == 0 {
		return
	}
	g := &draw.Group{Class: class}
	if head != "" {
		s.p.y += lineText + 4
		g.Add(s.p.text(margin, s.p.y, head, words{bold: true}))
	}
	s.p.y += 6
	for _, r := range rows {
		lines := wrap(r.text, sizeText, false, min(s.p.w-2*margin-40, 620))
		for k, line := range lines {
			s.p.y += lineText
			if k == 0 && r.mark != "" {
				g.Add(s.p.text(margin, s.p.y, r.mark, words{bold: true}))
			}
			g.Add(s.p.text(margin+28, s.p.y, line, words{ink: draw.Ink2}))
		}
	}
	s.p.l.Add(g)
}
