// Package drawing makes the pictures: the section, plain and with results, the
// floor plan, the block view; the winter sheet, the worst spell, the ledger as
// columns and as streams, hours of sun; the comparison of changes, the
// carry-through, the reserve, and what many winters tell: chance of frost, cold
// by rarity, the two bands. Handles say what of a section can be dragged.
//
// Plain structs with numbers and words go in, a *draw.List comes out; the
// package knows no simulation, no plan and no file. It promises:
//
//   - A picture is laid out for the width it is asked for, from 320 px (a
//     phone) to 1600 px. No text is smaller than 12.8 px; by the widths that
//     draw.TextWidth estimates none leaves the sheet and no two lie on each
//     other, unless a single word is wider than its room.
//   - Colour never speaks alone: below 0 °C there is a hatch and a drawn line,
//     lines differ by width or dash as well, and each has its name at its end.
//   - Exact values answer to the pointer (tips) and the values that matter are
//     in the picture's description.
//   - Values are SI: °C, K, m, kWh, W/m2. Units turns them into the reader's.
//   - What cannot be drawn (no values, lengths that differ, infinite numbers)
//     is an error that says picture, what is wrong and what is allowed. NaN in
//     a series is a gap: drawn as a gap and named so.
package drawing

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/draw"
)

// Frame is how a picture is wanted.
type Frame struct {
	Width float64 // [px], 320 to 1600; 0 means 720
	Units Units   // what is left out is metric
}

// Sizes of text, spaces and limits of the layout [px].
const (
	sizeTitle = 16.0
	sizeText  = 12.8
	lineText  = 17.0 // from baseline to baseline
	margin    = 12.0
	narrowMax = 560.0 // below it a picture is laid out for a phone
)

// page is a picture under way: positions are paper pixels, y downward, and
// flow down from p.y.
type page struct {
	l      *draw.List
	u      Units
	w      float64
	y      float64
	narrow bool
}

func newPage(name string, f Frame) (*page, error) {
	if f.Width == 0 {
		f.Width = 720
	}
	if !(f.Width >= 320 && f.Width <= 1600) {
		return nil, fmt.Errorf("%s: width %g px, must be 320 to 1600", name, f.Width)
	}
	l := &draw.List{Name: name, Scale: 1, Sheet: draw.Rect{Max: draw.Point{X: f.Width}}}
	return &page{l: l, u: f.Units.withDefaults(), w: f.Width, narrow: f.Width < narrowMax}, nil
}

// heading writes title and sentences from the top and keeps both for those
// who cannot see the picture.
func (p *page) heading(title string, sentences ...string) {
	p.l.Title = title
	p.l.Desc = strings.Join(sentences, " ")
	g := &draw.Group{Class: "heading"}
	p.y = margin
	for _, line := range wrap(title, sizeTitle, true, p.w-2*margin) {
		p.y += 16
		g.Add(p.text(margin, p.y, line, words{size: sizeTitle, bold: true}))
		p.y += 5
	}
	for _, s := range sentences {
		for _, line := range wrap(s, sizeText, false, min(p.w-2*margin, 560)) {
			p.y += lineText
			g.Add(p.text(margin, p.y, line, words{ink: draw.Ink2}))
		}
	}
	p.y += 12
	p.l.Add(g)
}

// finish closes the sheet below what has been drawn.
func (p *page) finish() *draw.List {
	bottom := p.l.Model(draw.Point{X: 0, Y: math.Ceil(p.y + margin)})
	if p.l.Up {
		p.l.Sheet.Min.Y = bottom.Y
	} else {
		p.l.Sheet.Max.Y = bottom.Y
	}
	return p.l
}

// words is how a text is set; the zero value is plain text of 12.8 px in ink,
// starting at its position on the baseline.
type words struct {
	size     float64
	bold     bool
	boldLast bool // of several lines the last is bold: a value under its name
	ink      draw.Token
	anchor   draw.Anchor
	lift     draw.Lift
	halo     draw.Token
	tip      string
}

func (p *page) at(x, y float64) draw.Point { return p.l.Model(draw.Point{X: x, Y: y}) }

func (p *page) text(x, y float64, s string, w words) *draw.Text {
	if w.size == 0 {
		w.size = sizeText
	}
	return &draw.Text{At: p.at(x, y), Text: s, Size: w.size, Bold: w.bold, Ink: w.ink, Anchor: w.anchor, Lift: w.lift, Halo: w.halo, Tip: w.tip}
}

func (p *page) line(pen draw.Pen, xy ...float64) *draw.Line {
	return &draw.Line{Points: p.points(xy...), Pen: pen}
}

// points pairs x, y, x, y, ... into model positions.
func (p *page) points(xy ...float64) []draw.Point {
	ps := make([]draw.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		ps = append(ps, p.at(xy[i], xy[i+1]))
	}
	return ps
}

// box returns the corners of a rectangle given by its upper left corner.
func (p *page) box(x, y, w, h float64) []draw.Point {
	return p.points(x, y, x+w, y, x+w, y+h, x, y+h)
}

func hairline() draw.Pen { return draw.Pen{Ink: draw.Rule, Width: 1} }
func axisPen() draw.Pen  { return draw.Pen{Ink: draw.Ink2, Width: 1} }
func frostPen() draw.Pen { return draw.Pen{Ink: draw.Frost, Width: 2} }
