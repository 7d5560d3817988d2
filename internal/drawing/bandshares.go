package drawing

import "suncellar/internal/draw"

// shareRows is the layout of the shares below the bands: both lists on one
// scale of 0 to 100 per cent.
type shareRows struct {
	p      *page
	in     Bands
	nameW  float64 // 0: names stand above [px]
	x0, x1 float64 // 0 and 100 per cent [px]
}

func newShareRows(p *page, in Bands) *shareRows {
	r := &shareRows{p: p, in: in}
	for _, list := range [][]BandShare{in.Matters, in.Inputs} {
		for _, s := range list {
			r.nameW = max(r.nameW, draw.TextWidth(s.Name, sizeText, false))
		}
	}
	r.nameW = min(r.nameW, p.w*0.32)
	r.x0, r.x1 = margin+r.nameW+16, p.w-margin-draw.TextWidth("under 1 %", sizeText, true)-8
	if p.narrow {
		r.nameW, r.x0 = 0, margin
	}
	return r
}

func (r *shareRows) draw() {
	p, g := r.p, &draw.Group{Class: "shares"}
	for _, list := range []struct {
		title  string
		shares []BandShare
	}{{"Which matters more", r.in.Matters}, {"What each thing not known adds to the band of the house", r.in.Inputs}} {
		if len(list.shares) == 0 {
			continue
		}
		p.y += 8
		r.say(g, list.title, words{bold: true})
		p.y += 6
		for _, s := range largestFirst(list.shares) {
			r.row(g, s)
		}
	}
	if len(g.Items) > 0 {
		r.say(g, r.in.SharesOf, words{ink: draw.Ink2})
		p.l.Add(g)
	}
}

func (r *shareRows) say(g *draw.Group, text string, w words) {
	for _, s := range wrap(text, sizeText, w.bold, min(r.p.w-2*margin, 560)) {
		r.p.y += lineText
		g.Add(r.p.text(margin, r.p.y, s, w))
	}
}

// row draws one share and moves below it.
func (r *shareRows) row(g *draw.Group, s BandShare) {
	p := r.p
	const rise = 14.0
	width := r.nameW
	if width == 0 {
		width = p.w - 2*margin
	}
	y := p.y
	for _, line := range wrap(s.Name, sizeText, false, width) {
		y += lineText
		g.Add(p.text(margin, y-3, line, words{halo: draw.Ground}))
	}
	top := max(p.y+(y-p.y-rise)/2, p.y)
	if r.nameW == 0 {
		top = y + 2
	}
	tip := s.Name + ": " + percent(s.Share)
	reach := (r.x1 - r.x0) * s.Share
	if s.Share > 0 {
		g.Add(&draw.Area{Rings: [][]draw.Point{p.box(r.x0, top, reach, rise)}, Fill: draw.Ink2, Tip: tip})
	}
	g.Add(p.line(draw.Pen{Ink: draw.Ink, Width: 1.5}, r.x0, top-2, r.x0, top+rise+2))
	g.Add(p.text(r.x0+reach+8, top+rise/2, percent(s.Share), words{bold: true, lift: draw.Center, tip: tip}))
	p.y = max(top+rise, y) + 8
}
