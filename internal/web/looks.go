package web

import (
	"bytes"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/unknown"
)

// LookRequest is a plan's text with changes that are to be made in it.
type LookRequest struct {
	Name     string   `json:"name" maxLength:"120" doc:"what the plan is called in findings"`
	Text     string   `json:"text" maxLength:"1048576"`
	Changes  []Change `json:"changes,omitempty" maxItems:"50" doc:"made in their order"`
	Drags    []Drag   `json:"drags,omitempty" maxItems:"4" doc:"moves of grips in the section of the text as it stands; made before the changes"`
	Acts     []Done   `json:"acts,omitempty" maxItems:"1" doc:"done to a part of the section; before the changes"`
	Pictures []string `json:"pictures,omitempty" maxItems:"4" doc:"of the house that are wanted: floor-plan.svg, view.svg"`
	Hide     []string `json:"hide,omitempty" maxItems:"4" enum:"winter sun,summer sun,snow,measures" doc:"what is left out of the section"`
	Snow
	Azimuth float64 `json:"azimuth,omitempty" minimum:"-360" maximum:"360" doc:"from where the view is seen, clockwise from before the glazing [degrees]"`
	View
}

// Change is one value of a plan set otherwise, as typed.
type Change struct {
	Path  string `json:"path" maxLength:"300"`
	Value string `json:"value" maxLength:"4000" doc:"as it would be written in the file; none takes it out"`
}

// View is how answers are told and drawn.
type View struct {
	Units string  `json:"units,omitempty" enum:",SI,US" doc:"left out: the plan's"`
	Width float64 `json:"width,omitempty" minimum:"0" maximum:"1600" doc:"of pictures [px]; 0: the usual one"`
}

// Look is what can be told of a plan without computing a winter.
type Look struct {
	Text     string    `json:"text" doc:"with the changes made"`
	Findings []Finding `json:"findings"`
	Fields   []Field   `json:"fields" doc:"every value of the plan, in the order of the plan file's table"`
	Section  *Section  `json:"section,omitempty" doc:"left out where the plan makes no house"`
	Pictures []Picture `json:"pictures" doc:"of the house, those that were asked for"`
	Good     bool      `json:"good" doc:"whether a winter can be computed"`
}

// Finding is one thing that is wrong with a plan.
type Finding struct {
	Path    string `json:"path" doc:"of the value; empty for the document itself"`
	Line    int    `json:"line" doc:"from 1; 0 where there is none"`
	Column  int    `json:"column"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
	Warning bool   `json:"warning" doc:"the plan is computed all the same"`
}

// Field is one value of a plan.
type Field struct {
	Path    string   `json:"path"`
	Text    string   `json:"text" doc:"as written, or as the default is written"`
	Line    int      `json:"line"`
	Origin  string   `json:"origin" enum:"given,assumed,fitted,changed"`
	Source  string   `json:"source,omitempty" doc:"of an assumed value"`
	Doc     string   `json:"doc"`
	Kind    string   `json:"kind,omitempty" doc:"of a quantity: length, temperature, ..."`
	SI      *float64 `json:"si,omitempty" doc:"of a quantity, in the unit of its kind"`
	Allowed string   `json:"allowed,omitempty"`
	LeftOut string   `json:"left_out,omitempty" doc:"what it would be if the plan did not say it, with the source of that"`
	Words   []string `json:"words,omitempty" doc:"what may be chosen"`
}

// Picture is a picture that stands in the page.
type Picture struct {
	Name string `json:"name"`
	SVG  string `json:"svg"`
}

// looks is everything that is told at once while somebody types.
func (s *Server) looks(api huma.API) {
	post(api, huma.Operation{OperationID: "look", Path: "/api/look", Summary: "A plan with changes: its text, what is wrong with it, its values, its section"}, quick(look))
}

// read reads a plan as a file would be, changes made, and all that is wrong with it.
func read(name string, text []byte) (*plan.Plan, *house.House, []plan.Finding) {
	p, findings := plan.Apply(name, text)
	if p == nil {
		return nil, nil, findings
	}
	findings = append(findings, plan.Check(p, house.Known())...)
	if plan.Failed(findings) {
		return p, nil, findings
	}
	h, more := house.Resolve(p)
	findings = append(findings, more...)
	if plan.Failed(more) {
		return p, nil, findings
	}
	return p, h, append(findings, unknown.Idle(p, h)...)
}

// edited is the text with the changes made in it, all its other bytes as they are.
func edited(in *LookRequest) ([]byte, error) {
	text := []byte(in.Text)
	var changes []plan.Change
	if len(in.Drags)+len(in.Acts) > 0 {
		var err error
		if changes, err = byHand(in); err != nil {
			return nil, err
		}
	}
	for _, c := range in.Changes {
		changes = append(changes, plan.Change{Path: c.Path, Value: c.Value, Origin: plan.Changed})
	}
	if len(changes) == 0 {
		return text, nil
	}
	return plan.Edit(in.Name, text, changes...)
}

// byHand are the changes of what is done to the section.
func byHand(in *LookRequest) ([]plan.Change, error) {
	p, h, findings := read(in.Name, []byte(in.Text))
	if h == nil {
		return nil, plan.AsError(findings)
	}
	changes, err := dragged(p, h, in.Drags)
	if err != nil || len(in.Acts) == 0 {
		return changes, err
	}
	t, err := tellerOf(in.View, p)
	if err != nil {
		return nil, err
	}
	more, err := done(t, h, in.Acts[0])
	return append(changes, more...), err
}

func look(in *LookRequest) (*Look, error) {
	text, err := edited(in)
	if err != nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, err.Error())
	}
	p, h, findings := read(in.Name, text)
	out := &Look{Text: string(text), Findings: []Finding{}, Fields: []Field{}, Pictures: []Picture{}, Good: h != nil}
	for _, f := range findings {
		out.Findings = append(out.Findings, Finding{f.Path, f.Line, f.Column, f.Message, f.Hint, f.Severity == plan.Warning})
	}
	if p != nil {
		out.Fields = fieldsOf(p, text, findings)
	}
	if h == nil {
		return out, nil
	}
	t, err := tellerOf(in.View, p)
	if err != nil {
		return nil, err
	}
	if out.Section, err = sectionOf(t, h, in); err != nil {
		return nil, err
	}
	for _, name := range in.Pictures {
		var list *draw.List
		switch name {
		case "floor-plan.svg":
			list, err = drawing.DrawFloorPlan(t.FloorPlan(h, nil), t.Frame())
		case "view.svg":
			list, err = drawing.DrawView(t.View(h, in.Azimuth), t.Frame())
		default:
			continue
		}
		if err != nil {
			return nil, err
		}
		p, err := pictureOf(report.Picture{Name: name, List: list})
		if err != nil {
			return nil, err
		}
		out.Pictures = append(out.Pictures, *p)
	}
	return out, err
}

// fieldsOf are all values of a plan, in the order of the plan file's table. What could not be read as a value stands where it is written, so that it can be put right there.
func fieldsOf(p *plan.Plan, text []byte, findings []plan.Finding) []Field {
	list := []Field{}
	there := map[string]bool{}
	for v := range p.Origins.All() {
		f := Field{Path: v.Path, Text: v.Text, Line: v.Line, Origin: v.Origin.String(), Source: v.Source, Doc: v.Doc}
		if v.Quantity.Kind != 0 {
			si := v.Quantity.SI
			f.Kind, f.SI = v.Quantity.Kind.String(), &si
		}
		f.Allowed, f.Words = plan.Rule(v.Path, v.Quantity)
		if text, source := plan.Default(v.Path); text != "" && v.Origin != plan.Assumed {
			f.LeftOut = text + " (" + source + ")"
		}
		there[v.Path] = true
		list = append(list, f)
	}
	for _, bad := range findings {
		from, to, ok := plan.Range(text, bad.Path)
		if !ok || there[bad.Path] || bad.Path == "" {
			continue
		}
		f := Field{Path: bad.Path, Text: string(text[from:to]), Line: bad.Line, Origin: plan.Given.String()}
		f.Allowed, f.Words = plan.Rule(bad.Path, unit.Quantity{})
		there[bad.Path] = true
		list = slices.Insert(list, besides(list, f), f)
	}
	return list
}

// besides is where a field belongs: behind the last of the same part that is written before it.
func besides(list []Field, f Field) int {
	part, _, _ := strings.Cut(f.Path, ".")
	at := len(list)
	for i := range list {
		if own, _, _ := strings.Cut(list[i].Path, "."); own == part && (list[i].Line < f.Line || at == len(list)) {
			at = i + 1
		}
	}
	return at
}

// toldOf is a plan that makes a house, and how it is told; else what is wrong with it.
func toldOf(name, text string, v View) (*plan.Plan, *house.House, report.Teller, error) {
	p, h, findings := read(name, []byte(text))
	if h == nil {
		return nil, nil, report.Teller{}, wrong(findings)
	}
	t, err := tellerOf(v, p)
	return p, h, t, err
}

func tellerOf(v View, p *plan.Plan) (report.Teller, error) {
	units := v.Units
	if units == "" {
		units = p.Units
	}
	t, err := report.NewTeller(units)
	t.Width = v.Width
	return t, err
}

// pictureOf writes a picture for the page.
func pictureOf(p report.Picture) (*Picture, error) {
	var b bytes.Buffer
	if err := draw.SVG(&b, p.List, draw.SVGOptions{}); err != nil {
		return nil, err
	}
	return &Picture{p.Name, b.String()}, nil
}
