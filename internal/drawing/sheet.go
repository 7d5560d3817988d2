package drawing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/draw"
)

// Sheet is the winter of one place: one row per day, one column per hour.
type Sheet struct {
	Place string    // "bed 1, leaf tips, glazing side"
	Start time.Time // of the first hour; hours follow each other without clock changes
	AirC  []float64 // one value an hour [°C]; NaN is a gap
}

// DrawSheet draws the winter sheet: temperature by the colour scale, hatched
// below 0 °C with the frost line drawn round it, months at the side, the
// lowest hour marked. On a wide sheet each day's lowest and highest stand
// beside its row.
//
// Errors: no hour with a value, an infinite value.
func DrawSheet(in Sheet, f Frame) (*draw.List, error) {
	l, _, err := DrawSheetCells(in, f)
	return l, err
}

// DrawSheetCells is DrawSheet, and where its hours lie.
func DrawSheetCells(in Sheet, f Frame) (*draw.List, Cells, error) {
	p, err := newPage("sheet", f)
	if err != nil {
		return nil, Cells{}, err
	}
	s, err := newSheetGrid(in)
	if err != nil {
		return nil, Cells{}, err
	}
	low := in.AirC[s.low]
	frost := "No hour below freezing."
	if s.frostHours > 0 {
		frost = fmt.Sprintf("%s below freezing, on %s.", count(s.frostHours, "hour"), count(s.frostDays, "day"))
	}
	p.heading("Winter sheet: "+in.Place,
		fmt.Sprintf("Lowest %s, %s. %s", p.u.temp(low), s.time(s.low).Format("2 January 15:04"), frost),
		"One row per day, one column per hour.")
	at := p.drawSheet(s)
	return p.finish(), Cells{X: at.x, Y: at.y, Width: at.col, Height: at.row, Columns: 24, Lead: s.lead, Hours: len(in.AirC)}, nil
}

// count writes a number with its noun.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// sheetGrid is the series laid out by day and hour of the day.
type sheetGrid struct {
	in                    Sheet
	first                 time.Time // midnight before the first hour
	lead, days            int
	low                   int
	frostHours, frostDays int
}

func newSheetGrid(in Sheet) (*sheetGrid, error) {
	s := &sheetGrid{in: in, lead: in.Start.Hour(), low: -1}
	s.first = in.Start.Add(-time.Duration(s.lead) * time.Hour)
	s.days = (s.lead + len(in.AirC) + 23) / 24
	lastFrost := -1
	for i, c := range in.AirC {
		if math.IsInf(c, 0) {
			return nil, fmt.Errorf("sheet: %s: hour %d is infinite, must be finite or a gap", in.Place, i)
		}
		if math.IsNaN(c) {
			continue
		}
		if s.low < 0 || c < in.AirC[s.low] {
			s.low = i
		}
		if c < 0 {
			s.frostHours++
			if day := (i + s.lead) / 24; day != lastFrost {
				s.frostDays, lastFrost = s.frostDays+1, day
			}
		}
	}
	if s.low < 0 {
		return nil, fmt.Errorf("sheet: %s: %d hours and none with a value, must have one or more", in.Place, len(in.AirC))
	}
	return s, nil
}

// at returns the value of a cell; NaN outside the series.
func (s *sheetGrid) at(day, hour int) float64 {
	i := day*24 + hour - s.lead
	if day < 0 || hour < 0 || hour > 23 || i < 0 || i >= len(s.in.AirC) {
		return math.NaN()
	}
	return s.in.AirC[i]
}

func (s *sheetGrid) time(i int) time.Time { return s.in.Start.Add(time.Duration(i) * time.Hour) }

func (s *sheetGrid) date(day int) time.Time {
	return s.first.Add(time.Duration(day) * 24 * time.Hour)
}

// sheetPlace is where the grid stands on paper [px].
type sheetPlace struct{ x, y, col, row float64 }

// drawSheet draws all below the heading and tells where the grid stands.
func (p *page) drawSheet(s *sheetGrid) sheetPlace {
	at := sheetPlace{x: 44, row: math.Floor(min(max(620/float64(s.days), 3), 16))}
	side := 0.0
	if !p.narrow {
		side = math.Floor(p.w * 0.26)
	}
	at.col = math.Floor((p.w - at.x - margin - 6 - side) / 24)
	at.y = math.Ceil(p.y + 14)
	p.sheetCells(s, at)
	p.sheetFrostLine(s, at)
	p.sheetAxes(s, at)
	if side > 0 {
		p.sheetSide(s, at, at.x+24*at.col+36, p.w-margin-8)
	}
	p.sheetTips(s, at)
	p.sheetLowest(s, at)
	p.y = at.y + float64(s.days)*at.row + 18
	p.scaleKey(margin, min(p.w-2*margin, 456))
	return at
}

// sheetCells fills the cells, one area per colour, equal neighbours in a row
// joined, so that a winter stays a small file.
func (p *page) sheetCells(s *sheetGrid, at sheetPlace) {
	rings := map[draw.Token][][]draw.Point{}
	for day := range s.days {
		for hour := 0; hour < 24; {
			t, from := scaleToken(s.at(day, hour)), hour
			for hour++; hour < 24 && scaleToken(s.at(day, hour)) == t; hour++ {
			}
			rings[t] = append(rings[t], p.box(at.x+float64(from)*at.col, at.y+float64(day)*at.row, float64(hour-from)*at.col, at.row))
		}
	}
	g := &draw.Group{Class: "cells"}
	for t := draw.Cold6; t <= draw.Warm6; t++ {
		if len(rings[t]) == 0 {
			continue
		}
		a := &draw.Area{Rings: rings[t], Fill: t}
		if t <= draw.Cold1 {
			a.Hatch, a.HatchInk = draw.FrostHatch, draw.MarkOn(t)
		}
		g.Add(a)
	}
	p.l.Add(g)
}

// sheetFrostLine draws the border between frost and no frost.
func (p *page) sheetFrostLine(s *sheetGrid, at sheetPlace) {
	crossed := func(a, b float64) bool {
		return !math.IsNaN(a) && !math.IsNaN(b) && (a < 0) != (b < 0)
	}
	g := &draw.Group{Class: "frost-line"}
	pen := draw.Pen{Ink: draw.OnLight, Width: 1.25}
	for day := 0; day+1 < s.days; day++ {
		y := at.y + float64(day+1)*at.row
		eachRun(24, func(h int) bool { return crossed(s.at(day, h), s.at(day+1, h)) }, func(a, b int) {
			g.Add(p.line(pen, at.x+float64(a)*at.col, y, at.x+float64(b)*at.col, y))
		})
	}
	for h := 0; h+1 < 24; h++ {
		x := at.x + float64(h+1)*at.col
		eachRun(s.days, func(d int) bool { return crossed(s.at(d, h), s.at(d, h+1)) }, func(a, b int) {
			g.Add(p.line(pen, x, at.y+float64(a)*at.row, x, at.y+float64(b)*at.row))
		})
	}
	p.l.Add(g)
}

// eachRun calls do(a, b) for every longest run a..b-1 in 0..n-1 where in holds.
func eachRun(n int, in func(int) bool, do func(a, b int)) {
	from := -1
	for i := 0; i <= n; i++ {
		switch holds := i < n && in(i); {
		case holds && from < 0:
			from = i
		case !holds && from >= 0:
			do(from, i)
			from = -1
		}
	}
}

// sheetAxes writes the hours above and the months at the left.
func (p *page) sheetAxes(s *sheetGrid, at sheetPlace) {
	g := &draw.Group{Class: "axes"}
	for h := 0; h <= 24; h += 6 {
		x := at.x + float64(h)*at.col
		g.Add(p.line(axisPen(), x, at.y-5, x, at.y))
		g.Add(p.text(x, at.y-8, fmt.Sprintf("%d h", h), words{anchor: draw.Middle, ink: draw.Ink2}))
	}
	last := math.Inf(-1)
	for day := range s.days {
		d := s.date(day)
		if d.Day() != 1 && day != 0 {
			continue
		}
		y := at.y + float64(day)*at.row
		if d.Day() == 1 {
			g.Add(p.line(draw.Pen{Ink: draw.Ink2, Width: 1}, at.x-30, y, at.x, y))
		}
		untilNext := float64(time.Date(d.Year(), d.Month()+1, 1, 0, 0, 0, 0, d.Location()).Sub(d).Hours()/24) * at.row
		left := at.y + float64(s.days)*at.row - y
		if y-last < lineText || min(untilNext, left) < lineText {
			continue
		}
		last = y
		g.Add(p.text(margin, y+14, d.Format("Jan"), words{ink: draw.Ink2}))
	}
	p.l.Add(g)
}

// sheetTips lets every six hours answer with their values.
func (p *page) sheetTips(s *sheetGrid, at sheetPlace) {
	g := &draw.Group{Class: "values"}
	for day := range s.days {
		for h := 0; h < 24; h += 6 {
			values := make([]string, 6)
			for k := range values {
				values[k] = "no value"
				if c := s.at(day, h+k); !math.IsNaN(c) {
					values[k] = p.u.Degrees(c)
				}
			}
			g.Add(&draw.Area{
				Rings: [][]draw.Point{p.box(at.x+float64(h)*at.col, at.y+float64(day)*at.row, 6*at.col, at.row)},
				Tip:   fmt.Sprintf("%s, %d to %d h: %s %s", s.date(day).Format("2 January"), h, h+5, strings.Join(values, ", "), p.u.Degree),
			})
		}
	}
	p.l.Add(g)
}

// sheetLowest rings the lowest hour and writes its value beside it.
func (p *page) sheetLowest(s *sheetGrid, at sheetPlace) {
	i := s.low + s.lead
	x := at.x + (float64(i%24)+0.5)*at.col
	y := at.y + (float64(i/24)+0.5)*at.row
	g := &draw.Group{Class: "lowest"}
	g.Add(&draw.Circle{Center: p.at(x, y), Radius: 7, Pen: draw.Pen{Ink: draw.Ground, Width: 4}},
		&draw.Circle{Center: p.at(x, y), Radius: 7, Pen: draw.Pen{Ink: draw.Ink, Width: 2}})
	label := "lowest " + p.u.temp(s.in.AirC[s.low])
	w := words{bold: true, halo: draw.Ground, lift: draw.Center}
	tx := x + 12
	if tx+draw.TextWidth(label, sizeText, true) > at.x+24*at.col {
		tx, w.anchor = x-12, draw.End
	}
	// Kept within the rows, so that it clears hours above and key below.
	ty := max(at.y+8, min(y, at.y+float64(s.days)*at.row-8))
	g.Add(p.text(tx, ty, label, w))
	p.l.Add(g)
}
