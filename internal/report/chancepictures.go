package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/chance"
	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
)

// ChancePictures draws the chance of frost by month and place, the lowest of the watched place by one winter in so many, and the two bands apart. What cannot
// be told is left out.
func (t Teller) ChancePictures(a *chance.Answer) ([]Picture, error) {
	var list []Picture
	add := func(name string, l *draw.List, err error) error {
		if err != nil {
			return fmt.Errorf("picture %s: %w", name, err)
		}
		list = append(list, Picture{name, l})
		return nil
	}
	months, err := drawing.DrawChance(t.chanceByMonth(a), t.Frame())
	if err := add("chance.svg", months, err); err != nil {
		return nil, err
	}
	if a.Watched < 0 {
		return list, nil
	}
	if in := t.returnsOf(a); len(in.Points) > 0 {
		returns, err := drawing.DrawReturn(in, t.Frame())
		if err := add("one-winter-in.svg", returns, err); err != nil {
			return nil, err
		}
	}
	if a.House != nil {
		bands, err := drawing.DrawBands(t.bandsOf(a), t.Frame())
		if err := add("bands.svg", bands, err); err != nil {
			return nil, err
		}
	}
	return list, nil
}

func (t Teller) chanceByMonth(a *chance.Answer) drawing.Chance {
	in := drawing.Chance{Title: "Chance of frost, by month and place", Sentence: t.chanceSentences(a)[0], Winters: len(a.Names)}
	for _, m := range a.Months {
		in.Months = append(in.Months, m.String()[:3])
	}
	share := func(s chance.Share) drawing.FrostShare { return drawing.FrostShare{Of: s.Of, Lo: s.Lo, Hi: s.Hi} }
	for i := range a.Places {
		p := &a.Places[i]
		if !told(p.Kind) || p.Kind == greenhouse.OutPlace {
			continue
		}
		q := drawing.ChancePlace{Name: p.Name, Kind: kindOf(p.Name, p.Kind), Any: share(p.Frost)}
		for _, s := range p.Month {
			q.Month = append(q.Month, share(s))
		}
		in.Places = append(in.Places, q)
	}
	return in
}

func (t Teller) returnsOf(a *chance.Answer) drawing.Return {
	p := &a.Places[a.Watched]
	in := drawing.Return{Title: "Lowest that comes once in so many winters", Sentence: minus(strings.Replace(t.chanceSentences(a)[1], "the lowest there", "the lowest at "+within(p.Name), 1)), Place: p.Name, Kind: kindOf(p.Name, p.Kind)}
	for _, r := range p.Returns {
		if !math.IsNaN(r.C) && !math.IsInf(r.C, 0) && !math.IsNaN(r.Hi) && !math.IsInf(r.Lo, 0) {
			in.Points = append(in.Points, drawing.ReturnPoint{OneIn: float64(r.Years), C: r.C, LoC: r.Lo, HiC: r.Hi})
		}
	}
	for _, c := range p.LowestC {
		if !math.IsInf(c, 0) {
			in.LowestC = append(in.LowestC, c)
		}
	}
	return in
}

func (t Teller) bandsOf(a *chance.Answer) drawing.Bands {
	p, h := &a.Places[a.Watched], a.House
	band := func(b chance.Band, note string) drawing.Band {
		return drawing.Band{LoC: b.Lo, MidC: b.Middle, HiC: b.Hi, Note: note}
	}
	m := p.Band.Middle
	planned := "the house as planned"
	if p.LeanK > 0 {
		planned += minus(fmt.Sprintf("; %s of the cold end for what made winters are not validated for", t.span(p.LeanK)))
	}
	both := band(h.Both, "")
	in := drawing.Bands{Title: "Two bands, apart: 8 in 10 lie within", Sentence: t.sharesSentence(h), Place: p.Name,
		Winters: band(p.Band, planned),
		House:   band(chance.Band{Lo: m + h.Shift.Lo, Middle: m + h.Shift.Middle, Hi: m + h.Shift.Hi}, "the middle winter"), Both: &both,
		Matters: []drawing.BandShare{{Name: "the winter", Share: h.WinterShare}, {Name: "the house", Share: 1 - h.WinterShare}}}
	for _, i := range h.Inputs {
		in.Inputs = append(in.Inputs, drawing.BandShare{Name: i.Label, Share: i.Share})
	}
	return in
}
