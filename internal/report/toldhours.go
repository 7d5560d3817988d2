package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// What a page shows of a winter beside its pictures: values as they are told in the reader's units, so that the page rounds and words nothing.

// Figure is a temperature without its unit, as tables and pictures have it [°C].
func (t Teller) Figure(c float64) string { return minus(t.figure(c)) }

// Degree is the unit of Figure.
func (t Teller) Degree() string { return t.degree() }

// FigureApart is how far two temperatures lie apart, signed, without its unit [K].
func (t Teller) FigureApart(k float64) string {
	return minus(signed(unit.InMain(unit.TemperatureDifference, k, t.System), 1))
}

// DegreeApart is the unit of FigureApart.
func (t Teller) DegreeApart() string { return unit.Main(unit.TemperatureDifference, t.System) }

// Title is which house, which days, which weather.
func Title(a *winter.Answer) string { return a.Plan.Name + ", " + span(a) + ": " + weatherWords(a) }

// When is the end of a recorded hour in words, in the plan's zone.
func When(a *winter.Answer, i int) string { return when(local(a, a.Result.Time(i))) }

// LowestWhen is when a place is lowest, in words.
func LowestWhen(a *winter.Answer, p *winter.Place) string { return when(local(a, p.LowestAt)) }

// ZoneWords says which time all times are.
func ZoneWords(a *winter.Answer) string {
	return "Times are standard time of the plan's zone, " + minus(local(a, a.Result.Start).Format("UTC-07:00")) + "; values hold at the end of their hour."
}

// ToldSeries is what one thing came to hour by hour: in SI, and as told.
type ToldSeries struct {
	Name, Kind, Unit string // Unit: of what is told
	SI               []float64
	Told             []string
}

// ToldHours is a picture of hours with where each lies on it and what is told of it.
type ToldHours struct {
	Name        string
	List        *draw.List
	Cells       drawing.Cells
	From, Until string   // first and last day
	When        []string // each hour's end in words
	Days        []string // each hour's day, as days are asked for
	Series      []ToldSeries
}

// Spell is some days of a winter as lines.
func (t Teller) Spell(a *winter.Answer, of winter.Span) (*ToldHours, error) {
	if of.To-of.From < 2 {
		return nil, fmt.Errorf("a spell of %s, must be 2 or more", count(of.To-of.From, "hour"))
	}
	in := spellOf(a, of)
	l, cells, err := drawing.DrawSpellCells(in, t.Frame())
	if err != nil {
		return nil, err
	}
	out := t.toldHours(a, of, l, cells)
	out.Name = "ten-days.svg"
	for _, s := range in.Lines {
		out.Series = append(out.Series, t.temperatures(s.Name, s.TempC))
	}
	out.Series = append(out.Series, ToldSeries{"sun on level ground", unit.Irradiance.String(), "W/m²", in.Sun, each(in.Sun, func(w float64) string { return number(w, 0) })})
	if len(in.Snow) > 0 {
		out.Series = append(out.Series, ToldSeries{"snow on the glazing", unit.Length.String(), "", in.Snow, each(in.Snow, t.pictures().Snow)})
	}
	return out, nil
}

// Sheet is the whole winter of a place, "" for the watched one.
func (t Teller) Sheet(a *winter.Answer, place string) (*ToldHours, error) {
	at := a.Watched
	if place != "" || at < 0 {
		at = slices.IndexFunc(a.Places, func(p winter.Place) bool { return p.Name == place || place == "" })
	}
	if at < 0 {
		return nil, fmt.Errorf("no place is called %q", place)
	}
	in := sheetOf(a, at)
	l, cells, err := drawing.DrawSheetCells(in, t.Frame())
	if err != nil {
		return nil, err
	}
	n := len(in.AirC)
	out := t.toldHours(a, winter.Span{From: 0, To: n}, l, cells)
	out.Name = "winter-sheet.svg"
	for i := range out.Days { // a day is a row here, which begins with the value of midnight
		out.Days[i] = min(local(a, a.Result.Time(i)).Format(dayForm), out.Until)
	}
	out.Series = append(out.Series, t.temperatures(in.Place, in.AirC))
	if outdoor := a.Result.Trace("outdoor air"); outdoor != nil && outdoor.Name != in.Place {
		out.Series = append(out.Series, t.temperatures("outdoor air", outdoor.C[:n]))
	}
	return out, nil
}

func (t Teller) toldHours(a *winter.Answer, of winter.Span, l *draw.List, cells drawing.Cells) *ToldHours {
	out := &ToldHours{List: l, Cells: cells}
	out.From, out.Until = FirstAndLast(a, of)
	for i := of.From; i < of.To; i++ {
		out.When = append(out.When, When(a, i))
		out.Days = append(out.Days, beginOf(a, i).Format(dayForm))
	}
	return out
}

func (t Teller) temperatures(name string, c []float64) ToldSeries {
	return ToldSeries{name, unit.Temperature.String(), t.degree(), c, each(c, t.Figure)}
}

func each(v []float64, tell func(float64) string) []string {
	out := make([]string, len(v))
	for i, x := range v {
		out[i] = tell(x)
	}
	return out
}

// ToldPart is a part of the section on its picture and what is told of it.
type ToldPart struct {
	drawing.Outline
	Told string
}

// SectionParts is the section coloured by the lowest of every place, with its parts.
func (t Teller) SectionParts(a *winter.Answer) (*draw.List, []ToldPart, error) {
	in := t.SectionLowest(a)
	l, err := drawing.DrawSectionResult(in, t.Frame())
	if err != nil {
		return nil, nil, err
	}
	var list []ToldPart
	for _, o := range drawing.OutlinesOn(l, in) {
		list = append(list, ToldPart{o, t.partWords(a, o.Warm)})
	}
	return l, list, nil
}

// partWords is a part's lowest and when it comes; of water the colder of bays that stand behind each other.
func (t Teller) partWords(a *winter.Answer, w drawing.Warm) string {
	best := -1
	for i := range a.Places {
		p := &a.Places[i]
		if math.Abs(p.LowestC-w.LowestC) > 1e-9 {
			continue
		}
		if p.Name == w.Name || best < 0 && w.Kind == drawing.Store && p.Kind == greenhouse.WaterPlace {
			best = i
		}
	}
	if best < 0 {
		return w.Name + ": lowest " + minus(t.temp(w.LowestC))
	}
	p := &a.Places[best]
	words := []string{p.Name + ": lowest " + minus(t.temp(p.LowestC)), LowestWhen(a, p)}
	if p.HoursBelowZero > 0 {
		words = append(words, count(p.HoursBelowZero, "hour")+" below freezing")
	}
	return strings.Join(words, ", ")
}
