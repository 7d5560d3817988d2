package report

import (
	"fmt"
	"math"
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

// Pictures draws a winter: the section with its lowest temperatures, the worst ten days, the winter of the watched place hour by
// hour, and the ledger of the house. What a house cannot have (a sheet where no place is watched) is left out.
func (t Teller) Pictures(a *winter.Answer) ([]Picture, error) {
	var list []Picture
	add := func(name string, l *draw.List, err error) error {
		if err != nil {
			return fmt.Errorf("picture %s: %w", name, err)
		}
		list = append(list, Picture{name, l})
		return nil
	}
	section, err := drawing.DrawSection(t.Section(a.House, a), t.Frame())
	if err := add("section.svg", section, err); err != nil {
		return nil, err
	}
	if a.Watched >= 0 && a.Spell.To-a.Spell.From >= 2 {
		spell, err := drawing.DrawSpell(spellOf(a), t.Frame())
		if err := add("worst-ten-days.svg", spell, err); err != nil {
			return nil, err
		}
		sheet, err := drawing.DrawSheet(sheetOf(a), t.Frame())
		if err := add("winter-sheet.svg", sheet, err); err != nil {
			return nil, err
		}
	}
	if l := ledgerOf(a); len(l.In)+len(l.Out) > 0 {
		ledger, err := drawing.DrawLedger(l, t.Frame())
		if err := add("ledger.svg", ledger, err); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// sheetOf is the whole winter of the watched place. Values stand at the ends of hours; a last one at midnight would begin a day of its own.
func sheetOf(a *winter.Answer) drawing.Sheet {
	trace := &a.Result.Traces[a.Watched]
	start := local(a, a.Result.Time(0))
	n := len(trace.C)
	if _, low := trace.Lowest(); n > 24 && low != n-1 && start.Add(time.Duration(n-1)*time.Hour).Hour() == 0 {
		n--
	}
	return drawing.Sheet{Place: trace.Name, Start: start, AirC: trace.C[:n]}
}

// spellOf is the worst ten days: outdoors, the watched place, air, soil, cold sink and water.
func spellOf(a *winter.Answer) drawing.Spell {
	r, from, to := a.Result, a.Spell.From, a.Spell.To
	first, last := local(a, r.Time(from)), local(a, r.Time(to-1)).Add(-time.Minute)
	s := drawing.Spell{
		Title: fmt.Sprintf("Worst ten days: %s to %s", first.Format("2 January"), last.Format("2 January")), Start: first,
		Sun: r.GlobalWM2[from:to], SnowOn: "on the glazing",
	}
	if to-from != 240 {
		s.Title = fmt.Sprintf("Worst days: %s to %s", first.Format("2 January"), last.Format("2 January"))
	}
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
	if soil := coldestOf(a, greenhouse.SoilPlace); soil != nil {
		line(soil.Name, drawing.Soil, soil)
	}
	watched := &r.Traces[a.Watched]
	for i := range r.Traces {
		t := &r.Traces[i]
		if t.Kind == greenhouse.AirPlace && t != watched && t.Name != "bed air" {
			line(t.Name, kindOf(t.Name, t.Kind), t)
		}
	}
	line(watched.Name, kindOf(watched.Name, watched.Kind), watched)
	return s
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
