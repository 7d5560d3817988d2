package draw

import "math"

// Shape of a letter relative to the size of the text. Cap and descent are
// rounded from common system faces (from memory).
const (
	capHeight = 0.72
	ascent    = 0.76
	descent   = 0.22
)

// wider is how much wider than the table below the widest common system face
// sets the same text (from memory; seen in rendering: 1.10 to 1.15).
const wider = 1.13

// TextWidth estimates the width of a text [px], rather too wide than too
// narrow, since the face is the reader's own.
//
// Letter widths are those of a common sans-serif in thousandths of its size
// (Adobe Core 14 font metrics, Helvetica, from memory), times 1.13.
func TextWidth(text string, size float64, bold bool) float64 {
	sum := 0
	for _, r := range text {
		sum += letterWidth(r)
	}
	w := float64(sum) / 1000 * size * wider
	if bold {
		w *= 1.14 // seen in rendering: DejaVu Sans 1.12 to 1.13
	}
	return w
}

func letterWidth(r rune) int {
	upper := [26]int{667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611}
	lower := [26]int{556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500}
	switch {
	case 'a' <= r && r <= 'z':
		return lower[r-'a']
	case 'A' <= r && r <= 'Z':
		return upper[r-'A']
	case '0' <= r && r <= '9':
		return 556
	case r > 0x2e80:
		return 1000
	}
	switch r {
	case ' ', '.', ',', ':', ';', '/', '!', '|', '·', '\u00a0', '\u2009':
		return 278
	case '-', '(', ')', '\'', '’', '[', ']':
		return 333
	case '°':
		return 400
	case '%':
		return 889
	default:
		return 600
	}
}

// TextBox returns the rectangle a text is estimated to cover on paper [px,
// y downward]; for a turned text the rectangle around it.
func (l *List) TextBox(t *Text) Rect {
	at := l.Paper(t.At)
	w := TextWidth(t.Text, t.Size, t.Bold)
	x := -anchorShare(t.Anchor) * w
	y := liftDrop(t.Lift) * t.Size
	box := Rect{Point{x, y - ascent*t.Size}, Point{x + w, y + descent*t.Size}}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	out := Rect{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
	for _, p := range box.Ring() {
		q := Point{at.X + p.X*cos + p.Y*sin, at.Y - p.X*sin + p.Y*cos}
		out.Min = Point{min(out.Min.X, q.X), min(out.Min.Y, q.Y)}
		out.Max = Point{max(out.Max.X, q.X), max(out.Max.Y, q.Y)}
	}
	return out
}

func anchorShare(a Anchor) float64 {
	switch a {
	case Middle:
		return 0.5
	case End:
		return 1
	default:
		return 0
	}
}

// liftDrop returns how far the baseline lies below the position, in sizes.
func liftDrop(l Lift) float64 {
	switch l {
	case Center:
		return capHeight / 2
	case Top:
		return capHeight
	default:
		return 0
	}
}
