// Package draw holds a picture as a list of simple items (lines, areas,
// circles, texts, dimensions, groups) and writes it as SVG.
//
// It knows nothing of what is drawn. What it promises:
//
//   - Positions are in model units (metres, pixels, kilowatt-hours: the list
//     says how many paper pixels one unit is). Text sizes, line widths, dashes
//     and hatches are in paper pixels (1/96 inch), so they do not grow with
//     the scale of the model.
//   - Items carry no colours, only tokens; a writer resolves them for the
//     theme it writes. Both themes define every token.
//   - The same list gives the same bytes, always.
//   - A list with a position that is not finite, an unknown token or an empty
//     sheet is refused with an error that names the item.
//
// Writers walk the items with a type switch. A new writer has to know Line,
// Area, Circle, Text and Group; a Dimension takes itself apart (Parts).
package draw

// Point is a position in model units.
type Point struct{ X, Y float64 }

// Rect is a rectangle with its sides along the axes; Min is below Max on both.
type Rect struct{ Min, Max Point }

// Width returns the extent along x.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height returns the extent along y.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }

// Overlaps tells whether two rectangles share more than an edge.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X < s.Max.X && s.Min.X < r.Max.X && r.Min.Y < s.Max.Y && s.Min.Y < r.Max.Y
}

// Holds tells whether s lies within r; edges may touch.
func (r Rect) Holds(s Rect) bool {
	return r.Min.X <= s.Min.X && s.Max.X <= r.Max.X && r.Min.Y <= s.Min.Y && s.Max.Y <= r.Max.Y
}

// Grow returns r with every side moved outward by d.
func (r Rect) Grow(d float64) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Ring returns the corners of r in order, without repeating the first.
func (r Rect) Ring() []Point {
	return []Point{r.Min, {r.Max.X, r.Min.Y}, r.Max, {r.Min.X, r.Max.Y}}
}

// List is one picture.
type List struct {
	Name  string  // short name, letters, digits and hyphens: prefix of ids in the file
	Title string  // one line: what the picture shows
	Desc  string  // a sentence or two with the values that matter, for those who cannot see it
	Sheet Rect    // the part of the model that is shown [model units]
	Scale float64 // paper pixels to one model unit; 0 means 1
	Up    bool    // y grows upward (as in a section); otherwise downward (as on a screen)
	Items []Item  // drawn in order, later over earlier
}

// Item is one of *Line, *Area, *Circle, *Text, *Dimension, *Group.
type Item interface{ item() }

// Pen is how a line is drawn. The zero pen draws nothing.
type Pen struct {
	Ink   Token     // None: no line
	Width float64   // [px]; 0 means 1
	Dash  []float64 // lengths of stroke and gap in turn [px]; empty: a full line
}

// Line is an open polyline of two points or more.
type Line struct {
	Points []Point
	Pen    Pen
	Tip    string // exact value shown on hover; may be empty
}

// Area is one or more closed rings with an inside. Rings are filled by the
// even-odd rule, so a ring within a ring is a hole. An area without fill,
// hatch and pen is not seen but still answers to the pointer with its tip.
type Area struct {
	Rings    [][]Point // each of three points or more, the first not repeated
	Fill     Token     // None: not filled
	Hatch    Hatch     // Plain: no hatch
	HatchInk Token     // ink of the hatch; None means Ink
	Pen      Pen
	Tip      string
}

// Circle is a full circle; its radius is in model units.
type Circle struct {
	Center   Point
	Radius   float64 // [model units]
	Fill     Token
	Hatch    Hatch
	HatchInk Token
	Pen      Pen
	Tip      string
}

// Anchor is the part of a text that stands at its position, along the line.
type Anchor int

// Anchors along the line.
const (
	Start Anchor = iota
	Middle
	End
)

// Lift is the part of a text that stands at its position, across the line.
type Lift int

// Lifts across the line.
const (
	Baseline Lift = iota // the line the letters stand on
	Center               // half the height of a capital
	Top                  // the top of a capital
)

// Text is one line of text.
type Text struct {
	At     Point
	Text   string
	Size   float64 // height of the letters [px]
	Anchor Anchor
	Lift   Lift
	Turn   float64 // counter-clockwise on paper, about At [degrees]
	Bold   bool
	Ink    Token // None means Ink
	Halo   Token // a rim of this token keeps the text off what it crosses; None: no rim
	Tip    string
}

// Group is a layer: items that belong together, under a class.
type Group struct {
	Class string // layer name, letters, digits and hyphens; may be empty
	Tip   string
	Clip  *Rect // items are cut at this rectangle; nil: not cut
	Items []Item
}

func (*Line) item()      {}
func (*Area) item()      {}
func (*Circle) item()    {}
func (*Text) item()      {}
func (*Dimension) item() {}
func (*Group) item()     {}

// Add appends items to the list.
func (l *List) Add(items ...Item) { l.Items = append(l.Items, items...) }

// Add appends items to the group.
func (g *Group) Add(items ...Item) { g.Items = append(g.Items, items...) }

// scale returns the paper pixels to one model unit.
func (l *List) scale() float64 {
	if l.Scale == 0 {
		return 1
	}
	return l.Scale
}

// Size returns width and height of the sheet [px].
func (l *List) Size() (width, height float64) {
	return l.Sheet.Width() * l.scale(), l.Sheet.Height() * l.scale()
}

// Paper returns where a model position falls on paper: pixels from the upper
// left corner of the sheet, y downward.
func (l *List) Paper(p Point) Point {
	x, y := (p.X-l.Sheet.Min.X)*l.scale(), (p.Y-l.Sheet.Min.Y)*l.scale()
	if l.Up {
		y = (l.Sheet.Max.Y - p.Y) * l.scale()
	}
	return Point{x, y}
}

// Model is the inverse of Paper.
func (l *List) Model(p Point) Point {
	x, y := l.Sheet.Min.X+p.X/l.scale(), l.Sheet.Min.Y+p.Y/l.scale()
	if l.Up {
		y = l.Sheet.Max.Y - p.Y/l.scale()
	}
	return Point{x, y}
}

// Walk calls visit for every item in drawing order, a group before its own.
// Dimensions are visited as they are, not as their parts.
func (l *List) Walk(visit func(Item)) { walk(l.Items, visit) }

func walk(items []Item, visit func(Item)) {
	for _, it := range items {
		visit(it)
		if g, ok := it.(*Group); ok {
			walk(g.Items, visit)
		}
	}
}
