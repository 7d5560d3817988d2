package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// names writes cause and heat beside a column, moved apart, joined by lines.
func (b *books) names(g *draw.Group, blocks []block, x, edge float64, a draw.Anchor) {
	lines := make([][]string, len(blocks))
	want, height := make([]float64, len(blocks)), make([]float64, len(blocks))
	for i, k := range blocks {
		lines[i] = b.words(k.Share)
		want[i], height[i] = (k.y0+k.y1)/2, float64(len(lines[i]))*lineText+4
	}
	for i, y := range spread(want, height, b.y0-2, b.y1+6) {
		near := x + math.Copysign(3, edge-x)
		g.Add(b.p.line(draw.Pen{Ink: draw.Ink2, Width: 0.75}, edge, want[i], near, y))
		for k, s := range lines[i] {
			w := words{anchor: a, lift: draw.Center}
			if k == len(lines[i])-1 {
				w.ink = draw.Ink2
			}
			g.Add(b.p.text(x, y-(height[i]-4)/2+(float64(k)+0.5)*lineText, s, w))
		}
	}
}

// words returns the lines that stand beside a block.
func (b *books) words(x Share) []string {
	return append(wrap(x.Name, sizeText, false, b.nameW), b.p.u.Energy(x.KWh))
}

// wordsHeight returns the height the words of a column need [px].
func (b *books) wordsHeight(shares []Share) float64 {
	h := 0.0
	for _, x := range shares {
		h += float64(len(b.words(x)))*lineText + 4
	}
	return h
}

// heads writes the sum of each column over it.
func (b *books) heads(g *draw.Group) {
	p := b.p
	in, out, left, right := b.xIn+b.col/2, b.xOut+b.col/2, draw.Middle, draw.Middle
	if b.rise > 0 {
		in, out, left, right = b.xIn+b.col, b.xOut, draw.End, draw.Start
	}
	for _, h := range []struct {
		x, rise   float64
		word, sum string
		anchor    draw.Anchor
	}{
		{in, 0, "in", p.u.Energy(b.s.in), left}, {out, 0, "out", p.u.Energy(b.s.out), right},
		{p.w / 2, b.rise, "stored", signedEnergy(p.u, b.s.gained-b.s.drawn), draw.Middle},
	} {
		g.Add(p.text(h.x, b.y0-lineText-10-h.rise, h.word, words{anchor: h.anchor, ink: draw.Ink2}))
		g.Add(p.text(h.x, b.y0-10-h.rise, h.sum, words{anchor: h.anchor, bold: true}))
	}
}

func signedEnergy(u Units, kWh float64) string {
	s := u.Energy(kWh)
	if kWh > 0 {
		return "+" + s
	}
	return s
}

// storeNames lists below what each store gained or gave: the blocks between
// the columns are too narrow for words.
func (b *books) storeNames() {
	p := b.p
	g := &draw.Group{Class: "stores"}
	for _, k := range append(append([]block{}, b.gained...), b.drawn...) {
		fill, hatch, ink := k.Kind.fill()
		x := max(margin, b.xIn-b.nameW)
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(x, p.y+7, 14, 11)}, Fill: fill, Hatch: hatch, HatchInk: ink, Pen: draw.Pen{Ink: k.Kind.outline(), Width: 1}})
		for _, line := range wrap("stored: "+k.Name+" "+signedEnergy(p.u, k.KWh), sizeText, false, p.w-x-22-margin) {
			p.y += lineText
			g.Add(p.text(x+22, p.y, line, words{}))
		}
	}
	p.l.Add(g)
}
