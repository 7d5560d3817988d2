package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// DrawFlows draws a ledger as streams through the house, for any span of hours: heat that came in and what the stores gave at the left, heat that
// went out and what the stores took at the right, all to one scale; between them the house, as high as either side. What does not close is
// an open piece of the house, named.
//
// Errors: those of DrawLedger.
func DrawFlows(in Ledger, f Frame) (*draw.List, error) {
	p, err := newPage("flows", f)
	if err != nil {
		return nil, err
	}
	s, err := newSums(in)
	if err != nil {
		return nil, err
	}
	p.heading(in.Title, s.sentence(p.u))
	v := newStreams(p, in, s)
	v.draw()
	return p.finish(), nil
}

// Sizes of the streams [px].
const (
	streamGap  = 7.0  // between streams at their outer ends
	streamHead = 44.0 // between causes and stores, where a head stands
	houseWide  = 26.0
)

// stream is a share on its way: its outer end and where it meets the house [px].
type stream struct {
	Share
	store  bool
	y0, y1 float64 // outer end, upper edge first
	h0, h1 float64 // at the house
}

// side is the streams of one side.
type side struct {
	streams   []stream
	causes    float64 // kWh
	stores    float64 // kWh
	storeHead float64 // height of the head of the stores [px]
	bottom    float64
}

// streams is the layout of the picture.
type streams struct {
	p           *page
	s           sums
	nameW       float64
	x0, x1      float64 // outer ends of the streams
	m0, m1      float64 // the house
	top, perKWh float64
	in, out     side
}

func newStreams(p *page, in Ledger, s sums) *streams {
	v := &streams{p: p, s: s, nameW: math.Min(math.Round(p.w*0.25), 170)}
	room := min(p.w, 900)
	off := (p.w - room) / 2
	v.x0, v.x1 = off+margin+v.nameW+12, p.w-off-margin-v.nameW-24
	wide := houseWide
	if p.narrow {
		wide = 16
	}
	v.m0, v.m1 = p.w/2-wide/2, p.w/2+wide/2
	v.top = p.y + 2*lineText + 12
	var drawn, gained []Share
	for _, x := range in.Stored {
		if x.KWh < 0 {
			x.KWh = -x.KWh
			drawn = append(drawn, x)
		} else if x.KWh > 0 {
			gained = append(gained, x)
		}
	}
	v.perKWh = 300 / s.top()
	v.in, v.out = v.stack(in.In, drawn), v.stack(in.Out, gained)
	return v
}

// stack lays a side from the top down: causes, then stores below their head. Each has at least the height of its words.
func (v *streams) stack(causes, stores []Share) side {
	var out side
	y, h := v.top, v.top
	add := func(x Share, store bool) {
		if x.KWh == 0 {
			return
		}
		tall := x.KWh * v.perKWh
		need := float64(len(v.words(x)))*15 + 4
		pad := max(0, need-tall) / 2
		out.streams = append(out.streams, stream{x, store, y + pad, y + pad + tall, h, h + tall})
		y += max(tall, need) + streamGap
		h += tall
	}
	for _, x := range causes {
		out.causes += x.KWh
		add(x, false)
	}
	if len(stores) > 0 {
		out.storeHead = y + streamHead - 12
		y += streamHead
	}
	for _, x := range stores {
		out.stores += x.KWh
		add(x, true)
	}
	out.bottom = y
	return out
}

func (v *streams) words(x Share) []string {
	return append(wrap(x.Name, sizeText, false, v.nameW), v.p.u.Energy(x.KWh))
}

func (v *streams) draw() {
	p := v.p
	bands, names := &draw.Group{Class: "streams"}, &draw.Group{Class: "names"}
	for _, x := range v.in.streams {
		v.band(bands, x, v.x0, v.m0, true)
		v.name(names, x, v.x0-8, draw.End)
	}
	for _, x := range v.out.streams {
		v.band(bands, x, v.m1, v.x1, false)
		v.name(names, x, v.x1+20, draw.Start)
	}
	v.house(bands)
	for _, h := range []struct {
		x, y   float64
		word   string
		kWh    float64
		anchor draw.Anchor
		there  bool
	}{
		{v.x0 - 8, v.top - 20, "in", v.in.causes, draw.End, true}, {v.x1 + 20, v.top - 20, "out", v.out.causes, draw.Start, true},
		{v.x0 - 8, v.in.storeHead - 12, "from store", v.in.stores, draw.End, v.in.storeHead > 0}, {v.x1 + 20, v.out.storeHead - 12, "into store", v.out.stores, draw.Start, v.out.storeHead > 0},
	} {
		if h.there {
			names.Add(p.text(h.x, h.y, h.word, words{anchor: h.anchor, ink: draw.Ink2}), p.text(h.x, h.y+15, p.u.Energy(h.kWh), words{anchor: h.anchor, bold: true}))
		}
	}
	p.l.Add(bands, names)
	p.y = max(v.in.bottom, v.out.bottom, v.top+v.s.top()*v.perKWh)
	if v.s.gained+v.s.drawn > 0 {
		p.y += lineText
		names.Add(p.text((v.m0+v.m1)/2, p.y, "stored "+signedEnergy(p.u, v.s.gained-v.s.drawn), words{anchor: draw.Middle, bold: true}))
		p.y += 6
	}
}

// name writes cause and heat beside the outer end of a stream.
func (v *streams) name(g *draw.Group, x stream, at float64, a draw.Anchor) {
	lines := v.words(x.Share)
	mid := (x.y0 + x.y1) / 2
	for k, s := range lines {
		w := words{anchor: a, lift: draw.Center}
		if k == len(lines)-1 {
			w.ink = draw.Ink2
		}
		g.Add(v.p.text(at, mid+(float64(k)-float64(len(lines)-1)/2)*15, s, w))
	}
}

// band draws a stream: notched where it begins, pointed where it leaves.
func (v *streams) band(g *draw.Group, x stream, from, to float64, in bool) {
	p := v.p
	tall := x.y1 - x.y0
	tip := min(14, max(5, tall*0.4))
	flat := (to - from) * 0.22
	var ring []draw.Point
	if in {
		ring = append(ring, p.at(from, x.y0))
		ring = append(ring, p.curve(from+flat, x.y0, to, x.h0)...)
		ring = append(ring, p.curve(to, x.h1, from+flat, x.y1)...)
		ring = append(ring, p.at(from, x.y1), p.at(from+min(tip, tall), (x.y0+x.y1)/2))
	} else {
		ring = append(ring, p.curve(from, x.h0, to-flat, x.y0)...)
		ring = append(ring, p.at(to, x.y0), p.at(to+tip, (x.y0+x.y1)/2), p.at(to, x.y1))
		ring = append(ring, p.curve(to-flat, x.y1, from, x.h1)...)
	}
	fill, hatch, ink := x.Kind.fill()
	word := x.Name + " " + p.u.Energy(x.KWh)
	if x.store {
		word = "store, " + word
	}
	g.Add(&draw.Area{Rings: [][]draw.Point{ring}, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: x.Kind.outline(), Width: 1}, Tip: fmt.Sprintf("%s, %s of this side", word, share(x.KWh, v.of(in)))})
}

// of is the whole of a side [kWh].
func (v *streams) of(in bool) float64 {
	if in {
		return v.s.left()
	}
	return v.s.right()
}

// share is a part in words: "12 in 100".
func share(part, whole float64) string {
	return figure(100*part/whole, 0) + " in 100"
}

// house draws the bar between the sides, and what is open in it when the books do not close.
func (v *streams) house(g *draw.Group) {
	p := v.p
	high := v.s.top() * v.perKWh
	g.Add(&draw.Area{Rings: [][]draw.Point{p.box(v.m0, v.top, v.m1-v.m0, high)}, Fill: draw.Ground, Pen: draw.Pen{Ink: draw.Ink, Width: 2}, Tip: "the house"})
	open := math.Abs(v.s.open()) * v.perKWh
	if !v.s.closes() {
		x := v.m1 + 1
		if v.s.open() < 0 {
			x = v.m0 - 7
		}
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x, v.top+high-open, 6, open)}, Fill: draw.Ground, Hatch: draw.FrostHatch, HatchInk: draw.Ink, Pen: draw.Pen{Ink: draw.Ink, Width: 1, Dash: []float64{3, 2}},
			Tip: "not accounted for: " + p.u.Energy(math.Abs(v.s.open()))})
	}
	g.Add(p.text((v.m0+v.m1)/2, v.top-8, "house", words{anchor: draw.Middle, ink: draw.Ink2}))
}
