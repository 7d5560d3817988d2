package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/report"
)

// Section is the section of a house with what can be taken hold of in it.
type Section struct {
	Picture
	WidthPx        float64 `json:"width_px"`
	HeightPx       float64 `json:"height_px"`
	MetresPerPixel float64 `json:"metres_per_pixel"`
	OriginX        float64 `json:"origin_x_px" doc:"where the section's origin lies in the picture: at the front, at grade"`
	OriginY        float64 `json:"origin_y_px" doc:"downward"`
	Grips          []Grip  `json:"grips"`
	Acts           []Act   `json:"acts" doc:"what can be done to the house as a whole"`
	Snow
}

// Snow is how deep snow lay in a winter.
type Snow struct {
	SnowM       float64 `json:"snow_m" required:"false" minimum:"0" maximum:"19" doc:"deepest on the glazing [m]"`
	GroundSnowM float64 `json:"ground_snow_m" required:"false" minimum:"0" maximum:"19" doc:"deepest on the ground [m]"`
}

// Act is something that can be done to a part at once.
type Act struct {
	Label string   `json:"label" doc:"what it does, as a button says it"`
	Paths []string `json:"paths" doc:"values of the plan that change with it"`
}

// Done is an act that is done.
type Done struct {
	Grip  string `json:"grip" maxLength:"200" doc:"name of the grip of the part; empty: the house as a whole"`
	Label string `json:"label" maxLength:"200"`
}

// Grip is something that can be taken hold of, at its place in the picture.
type Grip struct {
	Name string  `json:"name"`
	Kind string  `json:"kind" doc:"corner, edge, bed, row, sink, board, layer, cover"`
	X    float64 `json:"x" doc:"[px]"`
	Y    float64 `json:"y" doc:"downward [px]"`
	Ways []Way   `json:"ways" doc:"straight lines along which it can be moved, two at most"`
	Acts []Act   `json:"acts" doc:"what can be done to it beside moving it"`
}

// Way is a straight line along which a grip can be moved.
type Way struct {
	X     float64  `json:"x" doc:"unit vector in the picture"`
	Y     float64  `json:"y" doc:"downward"`
	Paths []string `json:"paths" doc:"values of the plan that change with it"`
}

// Drag moves a grip along one of its ways.
type Drag struct {
	Grip   string  `json:"grip" maxLength:"200" doc:"its name"`
	Way    int     `json:"way" minimum:"0" maximum:"1"`
	Metres float64 `json:"metres" minimum:"-100" maximum:"100"`
}

// sectionOf draws the section with its grips. What can be neither moved nor acted on has none.
func sectionOf(t report.Teller, h *house.House, in *LookRequest) (*Section, error) {
	hidden := func(what string) bool { return slices.Contains(in.Hide, what) }
	shown := report.Shown{WinterSun: !hidden("winter sun"), SummerSun: !hidden("summer sun"), Measures: !hidden("measures")}
	if !hidden("snow") {
		shown.SnowM, shown.GroundSnowM = in.SnowM, in.GroundSnowM
	}
	list, err := drawing.DrawSection(t.SectionShown(h, shown), t.Frame())
	if err != nil {
		return nil, err
	}
	p, err := pictureOf(report.Picture{Name: "section.svg", List: list})
	if err != nil {
		return nil, err
	}
	grips, err := drawing.GripsOn(list, handlesOf(h))
	if err != nil {
		return nil, err
	}
	s := &Section{Picture: *p, MetresPerPixel: grips.MetresPerPixel, Grips: []Grip{}, Acts: actsOf(t.HouseActs(h)), Snow: in.Snow}
	s.WidthPx, s.HeightPx = list.Size()
	s.OriginX, s.OriginY = grips.Origin.X, grips.Origin.Y
	for _, g := range grips.Grips {
		out := Grip{Name: g.Name, Kind: g.Kind, X: g.Px.X, Y: g.Px.Y, Ways: []Way{}, Acts: actsOf(t.Acts(h, g.Handle))}
		if len(g.Ways)+len(out.Acts) == 0 || !on(list, g.Px) {
			continue
		}
		for _, w := range g.Ways {
			way := Way{X: w.Along.X, Y: -w.Along.Z}
			for _, set := range w.Sets {
				way.Paths = append(way.Paths, set.Path)
			}
			out.Ways = append(out.Ways, way)
		}
		s.Grips = append(s.Grips, out)
	}
	return s, nil
}

func actsOf(list []report.Act) []Act {
	out := []Act{}
	for _, a := range list {
		act := Act{Label: a.Label, Paths: []string{}}
		for _, c := range a.Changes {
			act.Paths = append(act.Paths, c.Path)
		}
		out = append(out, act)
	}
	return out
}

// done are the changes that an act makes in the plan as it stands.
func done(t report.Teller, h *house.House, d Done) ([]plan.Change, error) {
	acts := t.HouseActs(h)
	if d.Grip != "" {
		acts = nil
		handles := handlesOf(h)
		if i := indexOf(handles, d.Grip); i >= 0 {
			acts = t.Acts(h, handles[i])
		}
	}
	for _, a := range acts {
		if a.Label == d.Label {
			return a.Changes, nil
		}
	}
	return nil, huma.NewError(http.StatusUnprocessableEntity, fmt.Sprintf("%q cannot be done to %q in the plan as it stands", d.Label, d.Grip))
}

func on(l *draw.List, at draw.Point) bool {
	w, h := l.Size()
	return at.X >= 0 && at.X <= w && at.Y >= 0 && at.Y <= h
}

// dragged are the changes that drags make, in the plan's own units, as fine as a hand can.
func dragged(p *plan.Plan, h *house.House, drags []Drag) ([]plan.Change, error) {
	var list []plan.Change
	handles := handlesOf(h)
	for _, d := range drags {
		i := indexOf(handles, d.Grip)
		if i < 0 || d.Way >= len(handles[i].Ways) {
			return nil, huma.NewError(http.StatusUnprocessableEntity, fmt.Sprintf("nothing in this section is called %q with %d ways to move", d.Grip, d.Way+1))
		}
		settings := handles[i].Drag(handles[i].Ways[d.Way], d.Metres)
		for k := range settings {
			step := finest
			switch {
			case settings[k].Slope:
				step = finestSlope
			case settings[k].Resistance:
				step = finestR
			}
			settings[k].Value = math.Round(settings[k].Value/step) * step
		}
		changes, err := report.Changes(p, settings)
		if err != nil {
			return nil, err
		}
		list = append(list, changes...)
	}
	return list, nil
}

// What a hand sets: lengths to half a centimetre, slopes to half a degree, resistances to what half a centimetre of wool does not quite reach.
const (
	finest      = 0.005               // [m]
	finestR     = 0.1                 // [m²K/W]
	finestSlope = 0.5 * math.Pi / 180 // [rad]
)

// handlesOf are the handles of a house, each with a name of its own.
func handlesOf(h *house.House) []drawing.Handle {
	list := report.Handles(h)
	times := map[string]int{}
	for i := range list {
		times[list[i].Name]++
		if n := times[list[i].Name]; n > 1 {
			list[i].Name += fmt.Sprintf(", number %d", n)
		}
	}
	return list
}

func indexOf(handles []drawing.Handle, name string) int {
	for i := range handles {
		if handles[i].Name == name {
			return i
		}
	}
	return -1
}
