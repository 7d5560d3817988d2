package report

import (
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// Picture is a picture of an answer and the name of its file.
type Picture struct {
	Name string
	List *draw.List
}

// pictureWidth is the width pictures of answers are laid out for [px].
const pictureWidth = 900

// Frame is how pictures of answers are wanted.
func (t Teller) Frame() drawing.Frame {
	f := drawing.Frame{Width: t.Width, Units: t.pictures()}
	if f.Width == 0 {
		f.Width = pictureWidth
	}
	return f
}

// named is a picture that can be drawn.
type named struct {
	name string
	draw func() (*draw.List, error)
}

// drawAll draws pictures, in their order.
func drawAll(list []named) ([]Picture, error) {
	var out []Picture
	for _, n := range list {
		l, err := n.draw()
		if err != nil {
			return nil, fmt.Errorf("picture %s: %w", n.name, err)
		}
		out = append(out, Picture{n.name, l})
	}
	return out, nil
}

// Pictures draws a winter: the section with its lowest temperatures, the worst ten days, the winter of the watched place hour by
// hour, and the ledger of the house. What a house cannot have (a sheet where no place is watched) is left out.
func (t Teller) Pictures(a *winter.Answer) ([]Picture, error) { return drawAll(t.winterPictures(a)) }

// PicturesOf draws those of Pictures and HousePictures that are called so, in the order of the names; a name that the house has no picture of is passed over.
func (t Teller) PicturesOf(a *winter.Answer, names []string) ([]Picture, error) {
	all := append(t.winterPictures(a), t.housePictures(a)...)
	var wanted []named
	for _, name := range names {
		if i := slices.IndexFunc(all, func(n named) bool { return n.name == name }); i >= 0 {
			wanted = append(wanted, all[i])
		}
	}
	return drawAll(wanted)
}

func (t Teller) winterPictures(a *winter.Answer) []named {
	list := []named{{"section.svg", func() (*draw.List, error) { return t.SectionPicture(a.House, a) }}}
	if a.Watched >= 0 && a.Spell.To-a.Spell.From >= 2 {
		list = append(list,
			named{"worst-ten-days.svg", func() (*draw.List, error) { return drawing.DrawSpell(spellOf(a, a.Spell), t.Frame()) }},
			named{"winter-sheet.svg", func() (*draw.List, error) { return drawing.DrawSheet(sheetOf(a, a.Watched), t.Frame()) }})
	}
	if l := ledgerOf(a); len(l.In)+len(l.Out) > 0 {
		list = append(list, named{"ledger.svg", func() (*draw.List, error) { return drawing.DrawLedger(l, t.Frame()) }})
	}
	return list
}

// sheetOf is the whole winter of a place, by its index. Values stand at the ends of hours; a last one at midnight would begin a day of its own.
func sheetOf(a *winter.Answer, place int) drawing.Sheet {
	trace := &a.Result.Traces[place]
	start := local(a, a.Result.Time(0))
	n := len(trace.C)
	if _, low := trace.Lowest(); n > 24 && low != n-1 && start.Add(time.Duration(n-1)*time.Hour).Hour() == 0 {
		n--
	}
	return drawing.Sheet{Place: trace.Name, Start: start, AirC: trace.C[:n]}
}

// spellOf is some days, the worst ten or others: outdoors, the watched place, air, soil, cold sink and water.
func spellOf(a *winter.Answer, of winter.Span) drawing.Spell {
	r, from, to := a.Result, of.From, of.To
	s := drawing.Spell{Title: spellTitle(a, of), Start: local(a, r.Time(from)), Sun: r.GlobalWM2[from:to], SnowOn: "on the glazing"}
	for i := from; i < to; i++ {
		if r.SnowM[i] > 0 {
			s.Snow = r.SnowM[from:to]
			break
		}
	}
	line := func(name string, kind drawing.Kind, t *greenhouse.Trace) {
		if t != nil {
			s.Lines = append(s.Lines, drawing.Series{Name: name, Kind: kind, TempC: t.C[from:to]})
		}
	}
	line("outside", drawing.Outside, r.Trace("outdoor air"))
	if water := waterMean(r, from, to); water != nil {
		s.Lines = append(s.Lines, drawing.Series{Name: "water", Kind: drawing.Store, TempC: water})
	}
	if soil := coldestOf(a, greenhouse.SoilPlace); soil != nil && (a.Watched < 0 || soil != &r.Traces[a.Watched]) {
		line(soil.Name, drawing.Soil, soil)
	}
	for i := range r.Traces {
		t := &r.Traces[i]
		if t.Kind == greenhouse.AirPlace && i != a.Watched && t.Name != "bed air" {
			line(t.Name, kindOf(t.Name, t.Kind), t)
		}
	}
	if a.Watched >= 0 {
		watched := &r.Traces[a.Watched]
		line(watched.Name, kindOf(watched.Name, watched.Kind), watched)
	}
	return s
}

// spellTitle names the days of a spell: "Worst ten days: 4 January to 13 January".
func spellTitle(a *winter.Answer, of winter.Span) string {
	first, last := local(a, a.Result.Time(of.From)), local(a, a.Result.Time(of.To-1)).Add(-time.Minute)
	name := "Days"
	switch ten := of.To-of.From == 240; {
	case of == a.Spell && ten:
		name = "Worst ten days"
	case of == a.Spell:
		name = "Worst days"
	case ten:
		name = "Ten days"
	}
	return fmt.Sprintf("%s: %s to %s", name, first.Format("2 January"), last.Format("2 January"))
}

func kindOf(name string, kind greenhouse.PlaceKind) drawing.Kind {
	switch {
	case kind == greenhouse.LeafPlace:
		return drawing.Leaf
	case kind == greenhouse.SoilPlace:
		return drawing.Soil
	case kind == greenhouse.WaterPlace:
		return drawing.Store
	case kind == greenhouse.OutPlace:
		return drawing.Outside
	case name == "cold sink air":
		return drawing.Sink
	case kind == greenhouse.AirPlace:
		return drawing.Air
	}
	return drawing.Other
}

// waterMean is the middle between the coldest and the warmest water, hour by hour; nil where there is no store.
func waterMean(r *greenhouse.Result, from, to int) []float64 {
	var out []float64
	for i := from; i < to; i++ {
		low, high, ok := waterRange(r, i)
		if !ok {
			return nil
		}
		out = append(out, (low+high)/2)
	}
	return out
}

// ledgerOf is the heat of the house over the whole run.
func ledgerOf(a *winter.Answer) drawing.Ledger {
	r := a.Result
	l := drawing.Ledger{Title: "Heat of the house, " + span(a)}
	own, _ := sides(causes(r, 0, r.Hours()))
	for _, c := range own {
		if c.in > 0.05*3.6e6 {
			l.In = append(l.In, drawing.Share{Name: c.name, Kind: c.kind, KWh: c.in / 3.6e6})
		}
		if c.out > 0.05*3.6e6 {
			l.Out = append(l.Out, drawing.Share{Name: c.name, Kind: c.kind, KWh: c.out / 3.6e6})
		}
	}
	for _, name := range heldParts {
		if j := r.Heat.StoredJ[name]; name != earthPart && math.Abs(j) > 0.05*3.6e6 {
			l.Stored = append(l.Stored, drawing.Share{Name: name, Kind: map[string]drawing.Kind{"water": drawing.Store}[name], KWh: j / 3.6e6})
		}
	}
	return l
}
