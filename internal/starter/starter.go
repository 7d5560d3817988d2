// Package starter begins a plan: from a few answers it writes the text of a whole plan, with comments that say what to change first.
//
// What it promises: the text is a plan that passes every check as it is; what was not asked is written with the usual value and a
// comment, or left to the plan's own defaults, which are told as assumed; nothing in it is measured.
package starter

import (
	"bytes"
	_ "embed"
	"fmt"
	"math"
	"strings"
	"text/template"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// Answers are what a plan is begun from. Quantities are texts with their units, as they are written in a plan.
type Answers struct {
	Name      string
	Latitude  string // "46.9 deg"
	Longitude string
	Elevation string // "1240 m"
	TimeZone  string // "UTC-7"
	Units     string // "SI" or "US"
	Length    string // inside, along the house
	Width     string // inside, across
	Depth     string // of the floor below grade
	Glazing   string // a name of the library
	Drums     int    // below 0: two tiers along the back
	Climate   Normals
}

// Usual are the answers of somebody who only presses return; place and climate are not among them.
func Usual() Answers {
	return Answers{Name: "My greenhouse", Units: "SI", Length: "9 m", Width: "4.5 m", Depth: "1.1 m", Glazing: "twin_wall_10mm", Drums: -1}
}

//go:embed plan.tmpl
var planText string

// Write writes the plan. name stands for the file in errors. Errors: the findings of the plan that would come of it; a house too small
// for a bed, a path and a row of drums.
func Write(name string, a Answers) ([]byte, error) {
	a.Name = strings.Join(strings.Fields(a.Name), " ")
	s, err := a.shape(name)
	if err != nil {
		return nil, err
	}
	t := template.Must(template.New("plan").Funcs(template.FuncMap{"quote": quote}).Parse(planText))
	var b bytes.Buffer
	if err := t.Execute(&b, struct {
		Answers
		*shape
	}{a, s}); err != nil {
		panic("starter: " + err.Error())
	}
	p, findings := plan.Load(name, b.Bytes(), house.Known())
	if p != nil {
		_, more := house.Resolve(p)
		findings = append(findings, more...)
	}
	if err := plan.AsError(findings); err != nil {
		return nil, fmt.Errorf("the plan that would come of this is not right:\n%w", err)
	}
	return b.Bytes(), nil
}

// shape is what is worked out of the answers [m], written with two decimals.
type shape struct {
	Slope, DrumsAt, BedTo, SecondFrom, SecondTo, SinkFrom, SinkTo, LowVent, HighVent float64
	Second                                                                           bool
	Tiers, DrumCount                                                                 int
}

// Of the house that is written [m].
const (
	frontHeight = 0.35
	backHeight  = 1.3
	roofSlope   = 30 * math.Pi / 180
	drumRoom    = 0.65 // what a drum takes, with some air about it
	path        = 0.6  // before the drums
	bedMost     = 1.2  // reached from one side
	drumHeight  = 0.9
)

// shape lays beds, path and drums into the width. It reads the quantities by way of a plan, so that they are read as they will be.
func (a Answers) shape(name string) (*shape, error) {
	latitude, length, width, depth, err := a.sizes(name)
	if err != nil {
		return nil, err
	}
	s := &shape{Slope: math.Round(math.Max(40, math.Min(60, math.Abs(latitude)*180/math.Pi+5)))}
	free := width - drumRoom - path
	if free < 0.15+0.4 {
		return nil, fmt.Errorf("the house is %.2f m wide inside, must be at least %.2f m for a bed, a path and a row of drums; a smaller one is written by hand", width, drumRoom+path+0.15+0.4)
	}
	s.DrumsAt = width - drumRoom/2
	s.BedTo = math.Min(0.15+bedMost, free)
	s.SinkFrom, s.SinkTo = s.BedTo+0.1, s.BedTo+0.5
	s.SecondFrom, s.SecondTo = s.BedTo+0.6, math.Min(free, s.BedTo+0.6+bedMost)
	s.Second = s.SecondTo-s.SecondFrom >= 0.4
	tan := math.Tan(s.Slope * math.Pi / 180)
	ridge := frontHeight + tan*(backHeight-frontHeight+width*math.Tan(roofSlope))/(tan+math.Tan(roofSlope))
	s.LowVent, s.HighVent = depth+0.3, depth+ridge-0.5
	s.Tiers = 2
	if depth+backHeight+drumRoom/2*math.Tan(roofSlope) < 2*drumHeight {
		s.Tiers = 1
	}
	s.DrumCount = a.Drums
	if a.Drums < 0 {
		s.DrumCount = s.Tiers * int(length/0.6)
	}
	return s, nil
}

// sizes reads the numbers the shape follows from [rad, m].
func (a Answers) sizes(name string) (latitude, length, width, depth float64, err error) {
	text := fmt.Sprintf("site: {latitude: %s}\nshape: {length: %s, width: %s, depth: %s}\n", quote(a.Latitude), quote(a.Length), quote(a.Width), quote(a.Depth))
	p, findings := plan.Read(name, []byte(text))
	var bad []plan.Finding
	for _, f := range findings {
		switch f.Path {
		case "site.latitude", "shape.length", "shape.width", "shape.depth":
			f.Line = 0 // there is no file yet
			bad = append(bad, f)
		}
	}
	if err := plan.AsError(bad); err != nil {
		return 0, 0, 0, 0, err
	}
	return p.Site.Latitude, p.Shape.Length, p.Shape.Width, p.Shape.Depth, nil
}

// quote writes a text as YAML, so that whatever it holds stays a text.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", " ").Replace(s) + `"`
}

// Place is where the house will stand. Errors: findings of the three values.
func Place(a Answers) (weather.Place, error) {
	text := fmt.Sprintf("site: {latitude: %s, longitude: %s, elevation: %s}\n", quote(a.Latitude), quote(a.Longitude), quote(a.Elevation))
	p, findings := plan.Read("the answers", []byte(text))
	var bad []plan.Finding
	for _, f := range findings {
		switch f.Path {
		case "site.latitude", "site.longitude", "site.elevation":
			f.Line = 0
			bad = append(bad, f)
		}
	}
	if err := plan.AsError(bad); err != nil {
		return weather.Place{}, err
	}
	const degrees = 180 / math.Pi
	return weather.KnownPlace(p.Site.Latitude*degrees, p.Site.Longitude*degrees, p.Site.Elevation), nil
}
