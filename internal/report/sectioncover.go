package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// layersOf are the layers of a build as they are drawn: a bare resistance as thick as wool of it.
func (t Teller) layersOf(b *house.Build) []drawing.Layer {
	var list []drawing.Layer
	for _, l := range b.Layers {
		thick := drawnThick(l)
		if thick <= 0 {
			continue
		}
		d := drawing.Layer{Name: strings.ReplaceAll(l.Name, "_", " "), Hatch: hatchOf(l), Thickness: thick}
		if l.Thickness <= 0 {
			d.Told = t.resists(l.R) + ", drawn as thick as wool of it"
		}
		list = append(list, d)
	}
	return list
}

// resists is a thermal resistance with its unit [m²K/W].
func (t Teller) resists(r float64) string {
	digits := 2
	if t.System == unit.US {
		digits = 0
	}
	return unit.Format(unit.Resistance, r, t.System, digits)
}

// cover is the cover of the glazing as it is drawn; nil where there is none.
func (t Teller) cover(h *house.House) *drawing.Cover {
	c := h.Plan.Cover
	if c == nil || h.GlazedArea() == 0 {
		return nil
	}
	return &drawing.Cover{Name: t.coverWords(h.Plan), Outside: c.Side == "outside", Thickness: c.RValue * wool, Panes: panes(h)}
}

// panes are the glazed edges of the section and its windows.
func panes(h *house.House) [][2]drawing.Point {
	var list [][2]drawing.Point
	for i := range h.Faces {
		if f := &h.Faces[i]; f.End == 0 && f.Glass != nil && !hole(h, i) {
			list = append(list, [2]drawing.Point{drawing.Point(f.A), drawing.Point(f.B)})
		}
	}
	for _, w := range windows(h) {
		list = append(list, [2]drawing.Point{w.A, w.B})
	}
	return list
}

// windows are those of the section's faces, each as long as it is high and in the middle of its face: where in it they sit the plan does not say.
func windows(h *house.House) []drawing.Pane {
	var list []drawing.Pane
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.End != 0 || f.Glass == nil || !hole(h, i) {
			continue
		}
		w := drawing.Pane{Name: f.Name + ", where in its wall the plan does not say"}
		half := 0.5
		for _, of := range h.Plan.Windows {
			if of.Name == f.Name {
				half = math.Min(half, of.Height/2/math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z))
			}
		}
		for k := range h.Faces[:i] {
			if o := &h.Faces[k]; o.End == 0 && o.A == f.A && o.B == f.B && o.Build != nil {
				for _, l := range o.Build.Layers {
					w.Depth += drawnThick(l)
				}
				break
			}
		}
		at := func(share float64) drawing.Point {
			return drawing.Point{X: f.A.X + share*(f.B.X-f.A.X), Z: f.A.Z + share*(f.B.Z-f.A.Z)}
		}
		w.A, w.B = at(0.5-half), at(0.5+half)
		list = append(list, w)
	}
	return list
}

// coverWords say what a cover is and when it is drawn.
func (t Teller) coverWords(p *plan.Plan) string {
	c := p.Cover
	words := fmt.Sprintf("night cover of %s, %s", t.resists(c.RValue), c.Side)
	rule := ""
	if c.AirBelow != nil {
		rule = " when it is below " + t.temp(*c.AirBelow) + " outdoors"
	}
	if c.SunBelow != nil {
		rule += fmt.Sprintf(" when the sun is below %s W/m²", number(*c.SunBelow, 0))
	}
	switch text, always := asWritten(p, "cover.hours"), c.Hours.Until-c.Hours.From >= 24; {
	case rule != "" && (text == "" || always):
		words += ", drawn" + rule
	case always:
		words += ", drawn day and night"
	default:
		words += ", drawn " + strings.ReplaceAll(text, "-", " to ") + rule
	}
	return words + ", " + date(c.From) + " to " + date(c.Until)
}

// asWritten is a value as it is written, or as its default is; "" where the plan has none.
func asWritten(p *plan.Plan, path string) string {
	v, _ := p.Origins.At(path)
	return v.Text
}

// date is a day of the plan in words, with its year where it has one.
func date(d plan.Date) string {
	at := time.Date(max(d.Year, 2000), time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC)
	if d.Year == 0 {
		return at.Format("2 January")
	}
	return at.Format("2 January 2006")
}
