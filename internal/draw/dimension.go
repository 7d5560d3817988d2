package draw

import "math"

// Dimension is a measured distance as a draughtsman writes it: two extension
// lines, a dimension line with slanted ticks, the figure above it. It is an
// item of its own so that a writer with a native kind can use that.
type Dimension struct {
	A, B   Point   // the measured points [model units]
	Offset float64 // of the dimension line from A-B, to the left of A→B as seen on paper [px]
	Text   string
	Size   float64 // height of the figure [px]; 0 means 12.8
}

// Sizes of the parts of a dimension [px].
const (
	tickHalf  = 4.0
	extGap    = 3.0
	extBeyond = 4.0
	figureGap = 4.0
)

// Parts returns the dimension as lines and a text in the units of the list.
// Two points that coincide have no direction and give no parts.
func (d *Dimension) Parts(l *List) []Item {
	a, b := l.Paper(d.A), l.Paper(d.B)
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length == 0 {
		return nil
	}
	u := Point{(b.X - a.X) / length, (b.Y - a.Y) / length}
	n := Point{u.Y, -u.X} // left of A→B with y downward
	side := math.Copysign(1, d.Offset)
	at := func(p Point, along, off float64) Point {
		return l.Model(Point{p.X + along*u.X + off*n.X, p.Y + along*u.Y + off*n.Y})
	}
	thin := Pen{Ink: Ink2, Width: 0.75}
	items := []Item{&Line{Points: []Point{at(a, 0, d.Offset), at(b, 0, d.Offset)}, Pen: thin}}
	for _, p := range []Point{a, b} {
		if math.Abs(d.Offset) > extGap {
			items = append(items, &Line{Points: []Point{at(p, 0, side*extGap), at(p, 0, d.Offset+side*extBeyond)}, Pen: thin})
		}
		items = append(items, &Line{
			Points: []Point{at(p, -tickHalf, d.Offset-tickHalf), at(p, tickHalf, d.Offset+tickHalf)},
			Pen:    Pen{Ink: Ink, Width: 1.25},
		})
	}
	return append(items, d.Figure(l))
}

// Figure returns the text of the dimension where it will stand: readable from
// below or from the right, on the upper side of its line.
func (d *Dimension) Figure(l *List) *Text {
	a, b := l.Paper(d.A), l.Paper(d.B)
	length := max(math.Hypot(b.X-a.X, b.Y-a.Y), 1e-9)
	n := Point{(b.Y - a.Y) / length, -(b.X - a.X) / length}
	turn := -math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi
	if turn > 90.01 {
		turn -= 180
	} else if turn <= -89.99 {
		turn += 180
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	up := Point{-sin, -cos} // away from the baseline, on paper
	mid := Point{(a.X+b.X)/2 + n.X*d.Offset + up.X*figureGap, (a.Y+b.Y)/2 + n.Y*d.Offset + up.Y*figureGap}
	size := d.Size
	if size == 0 {
		size = 12.8
	}
	return &Text{At: l.Model(mid), Text: d.Text, Size: size, Anchor: Middle, Turn: turn, Ink: Ink, Halo: Ground}
}
