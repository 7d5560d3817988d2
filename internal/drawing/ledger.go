package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// Ledger is the heat of a house over a time: in, out, stored.
type Ledger struct {
	Title  string  // "Heat of the winter, 1 October to 30 April"
	In     []Share // heat that came in, by cause
	Out    []Share // heat that went out, by cause
	Stored []Share // gained by each store; negative: drawn from it

	ByDifference bool // what is stored was not found for itself but is what in and out leave: said, since such sides always meet
}

// Share is one cause with its heat.
type Share struct {
	Name string // the same cause has the same name in both columns
	Kind Kind
	KWh  float64 // in and out: 0 or more [kWh]
}

// DrawLedger draws two columns to one scale, heat in at the left and heat out
// at the right, with what the stores gained or gave between them, so that
// both sides close at the same height. A cause found on both sides is joined
// by a band. What does not close is drawn and named.
//
// Errors: no heat at all, negative heat in or out, a value not finite.
func DrawLedger(in Ledger, f Frame) (*draw.List, error) {
	p, err := newPage("ledger", f)
	if err != nil {
		return nil, err
	}
	s, err := newSums(in)
	if err != nil {
		return nil, err
	}
	p.heading(in.Title, s.sentence(p.u))
	b := newBooks(p, in, s)
	b.draw(in)
	return p.finish(), nil
}

// sums are the totals of a ledger [kWh].
type sums struct {
	in, out, gained, drawn float64
	byDifference           bool
}

func newSums(in Ledger) (sums, error) {
	s := sums{byDifference: in.ByDifference}
	for _, side := range []struct {
		name   string
		shares []Share
	}{{"heat in", in.In}, {"heat out", in.Out}, {"stored", in.Stored}} {
		for _, x := range side.shares {
			if math.IsNaN(x.KWh) || math.IsInf(x.KWh, 0) || x.KWh < 0 && side.name != "stored" {
				return s, fmt.Errorf("ledger: %s: %s: %g kWh, must be finite, in and out 0 or more", side.name, x.Name, x.KWh)
			}
			switch {
			case side.name == "heat in":
				s.in += x.KWh
			case side.name == "heat out":
				s.out += x.KWh
			case x.KWh > 0:
				s.gained += x.KWh
			default:
				s.drawn -= x.KWh
			}
		}
	}
	if s.top() == 0 {
		return s, fmt.Errorf("ledger: no heat in, out or stored, must have some")
	}
	return s, nil
}

func (s sums) left() float64  { return s.in + s.drawn }
func (s sums) right() float64 { return s.out + s.gained }
func (s sums) top() float64   { return max(s.left(), s.right()) }
func (s sums) open() float64  { return s.left() - s.right() }

// closes tells whether the sides agree to what can be seen in figures.
func (s sums) closes() bool { return math.Abs(s.open()) <= 0.0005*s.top() }

func (s sums) sentence(u Units) string {
	out := fmt.Sprintf("In %s", u.Energy(s.in))
	if s.drawn > 0 {
		out += fmt.Sprintf(" and %s drawn from store", u.Energy(s.drawn))
	}
	out += fmt.Sprintf("; out %s", u.Energy(s.out))
	if s.gained > 0 {
		out += fmt.Sprintf(" and %s put into store", u.Energy(s.gained))
	}
	if s.byDifference {
		return out + ". Stored is the difference of the two."
	}
	if s.closes() {
		return out + ". The sides are equal."
	}
	return out + fmt.Sprintf(". The sides differ by %s: the books do not close.", u.Energy(math.Abs(s.open())))
}

// block is a share at its place in a column [px].
type block struct {
	Share
	y0, y1 float64 // y0 is the upper edge
}

// books is the layout of the columns.
type books struct {
	p             *page
	s             sums
	nameW, col    float64
	rise          float64 // of the middle head above the outer ones, where they would touch [px]
	xIn, xOut     float64 // left edges of the outer columns
	xMid0, xMid1  float64 // the store between them
	y0, y1        float64
	in, out       []block
	drawn, gained []block
}

func newBooks(p *page, in Ledger, s sums) *books {
	b := &books{p: p, s: s, col: math.Round(p.w * 0.09)}
	b.nameW = math.Min(math.Round(p.w*0.25), 190)
	room := min(p.w, 800)
	off := (p.w - room) / 2
	b.xIn = off + margin + b.nameW + 18
	b.xOut = p.w - b.xIn - b.col
	b.xMid0, b.xMid1 = p.w/2-b.col/2, p.w/2+b.col/2
	if p.w < 700 {
		b.rise = 2*lineText + 2
	}
	b.y0 = p.y + 2*lineText + 6 + b.rise
	b.y1 = b.y0 + max(320, b.wordsHeight(in.In), b.wordsHeight(in.Out))
	b.in, b.out = b.stack(in.In, 0), b.stack(in.Out, 0)
	var drawn, gained []Share
	for _, x := range in.Stored {
		if x.KWh > 0 {
			gained = append(gained, x)
		} else if x.KWh < 0 {
			drawn = append(drawn, x)
		}
	}
	b.drawn, b.gained = b.stack(drawn, s.in), b.stack(gained, s.out)
	return b
}

func (b *books) y(kWh float64) float64 { return b.y1 - kWh/b.s.top()*(b.y1-b.y0) }

// stack puts shares on each other from a height on, the first at the bottom.
func (b *books) stack(shares []Share, from float64) []block {
	var out []block
	for _, x := range shares {
		h := math.Abs(x.KWh)
		if h == 0 {
			continue
		}
		out = append(out, block{x, b.y(from + h), b.y(from)})
		from += h
	}
	return out
}

func (b *books) draw(in Ledger) {
	bands := &draw.Group{Class: "bands"}
	columns := &draw.Group{Class: "columns"}
	names := &draw.Group{Class: "names"}
	b.joined(bands)
	b.column(columns, b.in, b.xIn, b.col)
	b.column(columns, b.out, b.xOut, b.col)
	half := b.col / 2
	switch {
	case len(b.drawn) == 0:
		b.column(columns, b.gained, b.xMid0, b.col)
	case len(b.gained) == 0:
		b.column(columns, b.drawn, b.xMid0, b.col)
	default:
		b.column(columns, b.drawn, b.xMid0, half)
		b.column(columns, b.gained, b.xMid0+half, half)
	}
	b.closing(columns)
	b.names(names, b.in, b.xIn-14, b.xIn, draw.End)
	b.names(names, b.out, b.xOut+b.col+14, b.xOut+b.col, draw.Start)
	b.heads(names)
	b.p.l.Add(bands, columns, names)
	b.p.y = b.y1 + 14
	b.storeNames()
}

// joined draws a band between blocks of the same name.
func (b *books) joined(g *draw.Group) {
	for _, x := range b.in {
		for _, y := range b.out {
			if x.Name != y.Name {
				continue
			}
			l, r := b.xIn+b.col, b.xOut
			ring := b.p.points(l, x.y0)
			ring = append(ring, b.p.curve(l, x.y0, r, y.y0)...)
			ring = append(ring, b.p.curve(r, y.y1, l, x.y1)...)
			g.Add(&draw.Area{Rings: [][]draw.Point{ring}, Fill: draw.Ground2, Pen: hairline(),
				Tip: fmt.Sprintf("%s: in %s, out %s", x.Name, b.p.u.Energy(x.KWh), b.p.u.Energy(y.KWh))})
		}
	}
}

// curve returns points of an even S from one height to another, the first
// left out of nothing: both ends are in it.
func (p *page) curve(x0, y0, x1, y1 float64) []draw.Point {
	const n = 16
	ps := make([]draw.Point, 0, n+1)
	for i := range n + 1 {
		t := float64(i) / n
		ps = append(ps, p.at(x0+(x1-x0)*t, y0+(y1-y0)*t*t*(3-2*t)))
	}
	return ps
}

func (b *books) column(g *draw.Group, blocks []block, x, w float64) {
	for _, k := range blocks {
		fill, hatch, ink := k.Kind.fill()
		g.Add(&draw.Area{
			Rings: [][]draw.Point{b.p.box(x, k.y0, w, k.y1-k.y0)}, Fill: fill, Hatch: hatch, HatchInk: ink,
			Pen: draw.Pen{Ink: draw.Ground, Width: 1.5},
			Tip: fmt.Sprintf("%s %s", k.Name, b.p.u.Energy(k.KWh)),
		})
		inset := draw.Pen{Ink: k.Kind.outline(), Width: 1}
		if k.y1-k.y0 > 3 {
			g.Add(&draw.Area{Rings: [][]draw.Point{b.p.box(x+0.75, k.y0+1, w-1.5, k.y1-k.y0-2)}, Pen: inset})
		}
	}
}

// closing draws the common foot, and at the top of each side the line that
// shows whether they meet.
func (b *books) closing(g *draw.Group) {
	p := b.p
	g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, b.xIn-4, b.y1, b.xOut+b.col+4, b.y1))
	top := draw.Pen{Ink: draw.Ink, Width: 1.5}
	if b.s.closes() {
		g.Add(p.line(top, b.xIn-4, b.y0, b.xOut+b.col+4, b.y0))
	} else {
		g.Add(p.line(top, b.xIn-4, b.y(b.s.left()), b.xMid0, b.y(b.s.left())), p.line(top, b.xMid1, b.y(b.s.right()), b.xOut+b.col+4, b.y(b.s.right())))
	}
	dash := draw.Pen{Ink: draw.Ink2, Width: 1, Dash: []float64{3, 3}}
	if len(b.drawn) > 0 {
		g.Add(p.line(dash, b.xIn+b.col, b.y(b.s.in), b.xMid0, b.y(b.s.in)))
	}
	if len(b.gained) > 0 {
		g.Add(p.line(dash, b.xMid1, b.y(b.s.out), b.xOut, b.y(b.s.out)))
	}
}
