package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// SVGOptions says how a list is written. The zero value is a file that
// follows the reader's theme.
type SVGOptions struct {
	ID    string // prefix of all ids, unique on a page that holds several pictures; empty: the name of the list
	Theme Theme  // Auto: light, dark where the reader asks for dark, light on paper
}

// SVG writes the list as one self-contained SVG file: no font, script or
// image from elsewhere. Colours are custom properties of the root element, so
// a page may set its own. The same list gives the same bytes.
//
// Errors: what Check finds, an ID that cannot stand in an id, a failed write.
func SVG(w io.Writer, l *List, o SVGOptions) error {
	if err := l.Check(); err != nil {
		return err
	}
	if o.ID == "" {
		o.ID = l.Name
	}
	if !isName(o.ID) {
		return fmt.Errorf("picture %s: id %q, must be letters, digits and hyphens, a letter first", l.Name, o.ID)
	}
	buf := bufio.NewWriter(w)
	s := &svgWriter{w: buf, l: l, id: o.ID}
	use := findUse(l)
	s.open()
	s.style(use, o.Theme)
	s.defs(use)
	width, height := l.Size()
	s.printf("<path class=\"f-ground\" d=\"M0 0H%sV%sH0z\"/>\n", num(width), num(height))
	s.items(l.Items)
	s.printf("</svg>\n")
	if err := buf.Flush(); err != nil {
		return fmt.Errorf("picture %s: write: %w", l.Name, err)
	}
	return nil
}

// svgWriter carries what every part of one file needs. Write errors stay in
// the buffered writer and come out of its Flush.
type svgWriter struct {
	w     *bufio.Writer
	l     *List
	id    string
	clips int // clip paths written so far, in drawing order
}

func (s *svgWriter) printf(format string, args ...any) { fmt.Fprintf(s.w, format, args...) }

func (s *svgWriter) open() {
	w, h := s.l.Size()
	s.printf("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"sc-picture\" viewBox=\"0 0 %s %s\" width=\"%s\" height=\"%s\" role=\"img\" aria-labelledby=\"%s-title %s-desc\">\n",
		num(w), num(h), num(w), num(h), s.id, s.id)
	s.printf("<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", s.id, escape(s.l.Title), s.id, escape(s.l.Desc))
}

func (s *svgWriter) items(items []Item) {
	for _, it := range items {
		s.item(it)
	}
}

func (s *svgWriter) item(it Item) {
	switch v := it.(type) {
	case *Line:
		s.shape(fmt.Sprintf("path d=\"%s\"", s.path(v.Points, false)), "path", look{pen: v.Pen, tip: v.Tip})
	case *Area:
		var d strings.Builder
		for _, r := range v.Rings {
			d.WriteString(s.path(r, true))
		}
		rule := ""
		if len(v.Rings) > 1 {
			rule = " fill-rule=\"evenodd\""
		}
		s.shape(fmt.Sprintf("path d=\"%s\"%s", d.String(), rule), "path", look{v.Fill, v.Hatch, v.HatchInk, v.Pen, v.Tip})
	case *Circle:
		c := s.l.Paper(v.Center)
		s.shape(fmt.Sprintf("circle cx=\"%s\" cy=\"%s\" r=\"%s\"", num(c.X), num(c.Y), num(v.Radius*s.l.scale())), "circle",
			look{v.Fill, v.Hatch, v.HatchInk, v.Pen, v.Tip})
	case *Text:
		s.text(v)
	case *Dimension:
		s.printf("<g class=\"dimension\">\n")
		s.items(v.Parts(s.l))
		s.printf("</g>\n")
	case *Group:
		s.group(v)
	}
}

// look is what the drawn shapes have in common.
type look struct {
	fill     Token
	hatch    Hatch
	hatchInk Token
	pen      Pen
	tip      string
}

// shape writes one shape; a hatch lies over the fill as a second shape.
func (s *svgWriter) shape(head, name string, k look) {
	if k.hatch == Plain {
		s.leaf(head, name, k.classes(), dash(k.pen), k.tip)
		return
	}
	s.printf("<g>")
	if k.tip != "" {
		s.printf("<title>%s</title>", escape(k.tip))
	}
	if k.fill != None {
		s.leaf(head, name, "f-"+k.fill.String(), "", "")
	}
	over := fmt.Sprintf(" fill=\"url(#%s)\"", patternID(s.id, k.hatch, k.hatchInk))
	s.leaf(head+over, name, k.pen.class(), dash(k.pen), "")
	s.printf("</g>\n")
}

// classes returns the classes that paint the shape: f-token fills, s-token
// strokes, n is unfilled, h is unseen but answers to the pointer.
func (k look) classes() string {
	cls := "n"
	switch {
	case k.fill != None:
		cls = "f-" + k.fill.String()
	case k.tip != "" && k.pen.Ink == None && k.hatch == Plain:
		cls = "h"
	}
	return strings.TrimSpace(cls + " " + k.pen.class())
}

// class returns the class that strokes; empty for no stroke.
func (p Pen) class() string {
	if p.Ink == None {
		return ""
	}
	return "s-" + p.Ink.String()
}

func (s *svgWriter) leaf(head, name, classes, attrs, tip string) {
	s.printf("<%s", head)
	if classes != "" {
		s.printf(" class=\"%s\"", classes)
	}
	s.printf("%s", attrs)
	if tip == "" {
		s.printf("/>\n")
		return
	}
	s.printf("><title>%s</title></%s>\n", escape(tip), name)
}

func dash(p Pen) string {
	if p.Ink == None {
		return ""
	}
	out := ""
	if p.Width != 0 && p.Width != 1 {
		out = fmt.Sprintf(" stroke-width=\"%s\"", num(p.Width))
	}
	if len(p.Dash) == 0 {
		return out
	}
	parts := make([]string, len(p.Dash))
	for i, d := range p.Dash {
		parts[i] = num(d)
	}
	return out + fmt.Sprintf(" stroke-dasharray=\"%s\"", strings.Join(parts, " "))
}

func (s *svgWriter) text(t *Text) {
	at := s.l.Paper(t.At)
	drop := liftDrop(t.Lift) * t.Size
	ink := t.Ink
	if ink == None {
		ink = Ink
	}
	cls := "f-" + ink.String()
	if t.Anchor == Middle {
		cls += " m"
	} else if t.Anchor == End {
		cls += " e"
	}
	if t.Bold {
		cls += " b"
	}
	if t.Halo != None {
		cls += " o s-" + t.Halo.String()
	}
	turn := ""
	if t.Turn != 0 {
		turn = fmt.Sprintf(" transform=\"rotate(%s %s %s)\"", num(-t.Turn), num(at.X), num(at.Y))
	}
	tip := ""
	if t.Tip != "" {
		tip = "<title>" + escape(t.Tip) + "</title>"
	}
	s.printf("<text x=\"%s\" y=\"%s\" font-size=\"%s\" class=\"%s\"%s>%s%s</text>\n",
		num(at.X), num(at.Y+drop), num(t.Size), cls, turn, tip, escape(t.Text))
}

func (s *svgWriter) group(g *Group) {
	clip := ""
	if g.Clip != nil {
		s.clips++
		a, b := s.l.Paper(g.Clip.Min), s.l.Paper(g.Clip.Max)
		s.printf("<clipPath id=\"%s-clip%d\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n",
			s.id, s.clips, num(min(a.X, b.X)), num(min(a.Y, b.Y)), num(math.Abs(b.X-a.X)), num(math.Abs(b.Y-a.Y)))
		clip = fmt.Sprintf(" clip-path=\"url(#%s-clip%d)\"", s.id, s.clips)
	}
	class := ""
	if g.Class != "" {
		class = fmt.Sprintf(" class=\"%s\"", g.Class)
	}
	s.printf("<g%s%s>\n", class, clip)
	if g.Tip != "" {
		s.printf("<title>%s</title>\n", escape(g.Tip))
	}
	s.items(g.Items)
	s.printf("</g>\n")
}

// path writes points with the shortest commands: H and V where they serve.
func (s *svgWriter) path(ps []Point, closed bool) string {
	var b strings.Builder
	lastX, lastY := "", ""
	for i, p := range ps {
		q := s.l.Paper(p)
		x, y := num(q.X), num(q.Y)
		switch {
		case i == 0:
			b.WriteString("M" + x + " " + y)
		case x == lastX && y == lastY:
			continue
		case y == lastY:
			b.WriteString("H" + x)
		case x == lastX:
			b.WriteString("V" + y)
		default:
			b.WriteString("L" + x + " " + y)
		}
		lastX, lastY = x, y
	}
	if closed {
		b.WriteByte('z')
	}
	return b.String()
}

// num writes a number of pixels to a hundredth, without idle zeros.
func num(v float64) string {
	s := strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes any text safe inside an element; what XML cannot hold becomes
// the replacement character.
func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a strings.Builder never fails
	return b.String()
}
