package web

import (
	"context"
	"fmt"
	"math"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/drill"
	"suncellar/internal/folder"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/water"
	"suncellar/internal/winter"
)

// WaterRequest asks what the water of a plan comes to.
type WaterRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	Rain string `json:"rain,omitempty" maxLength:"40" doc:"that filling is told for, such as 25 mm/h; left out: a hard shower"`
	View
}

// WaterAnswer is the scheme of a plan's water and what follows from it at once.
type WaterAnswer struct {
	Revision   string       `json:"revision" doc:"of the text that was asked for"`
	Missing    bool         `json:"missing" doc:"the plan says nothing of its water"`
	Begin      []Change     `json:"begin,omitempty" doc:"of a plan without water: changes that give it the usual scheme"`
	Why        string       `json:"why,omitempty" doc:"why there are none"`
	Sentence   string       `json:"sentence,omitempty" doc:"whether the water runs by gravity"`
	Numbers    []WaterPair  `json:"numbers" doc:"levels, what can be used, time to fill, what presses at the drippers"`
	NumbersCSV string       `json:"numbers_csv,omitempty" doc:"the same as a file, SI"`
	Scheme     *WaterScheme `json:"scheme,omitempty"`
	Findings   []WaterFound `json:"findings" doc:"in the order of their numbers on the scheme"`
	Tables     []Table      `json:"tables" doc:"which rain is too much for what; each drip line"`
	Cautions   []string     `json:"cautions"`
}

// WaterPair is a value under its name, as told.
type WaterPair struct {
	Name string `json:"name"`
	Told string `json:"told"`
}

// WaterFound is a finding.
type WaterFound struct {
	Text  string `json:"text"`
	Hint  string `json:"hint"`
	Path  string `json:"path"`
	Line  int    `json:"line" doc:"from 1; 0 where there is none"`
	Stops bool   `json:"stops" doc:"water does not run as the plan means it to"`
}

// WaterScheme is the picture with what can be laid hold of in it.
type WaterScheme struct {
	Picture
	WidthPx   float64      `json:"width_px"`
	HeightPx  float64      `json:"height_px"`
	Valves    []WaterValve `json:"valves"`
	Joints    []WaterJoint `json:"joints"`
	ValvesCSV string       `json:"valves_csv" doc:"the valves as a file"`
}

// WaterValve is a valve with the change that turns it.
type WaterValve struct {
	Name  string   `json:"name"`
	Shut  bool     `json:"shut"`
	Shown bool     `json:"shown" doc:"it stands on the picture; else its bay is left out there"`
	X     float64  `json:"x" doc:"[px]"`
	Y     float64  `json:"y" doc:"downward [px]"`
	Turn  []Change `json:"turn" doc:"opens it where it is shut, shuts it where it is open"`
}

// WaterJoint is a joint of pipes on the picture.
type WaterJoint struct {
	Name string  `json:"name" doc:"as a drill takes it"`
	X    float64 `json:"x" doc:"[px]"`
	Y    float64 `json:"y" doc:"downward [px]"`
}

// WaterYears is how the store fares through years of rain.
type WaterYears struct {
	Revision string    `json:"revision" doc:"of the text that was asked for"`
	Sentence string    `json:"sentence"`
	Tables   []Table   `json:"tables" doc:"months; the number of drums"`
	Ledger   []string  `json:"ledger" doc:"what rain and use cost the simulated winter; none where there is none, or no drum is fed"`
	Pictures []Picture `json:"pictures" doc:"reliability over the number of drums"`
	Cautions []string  `json:"cautions"`
	Text     string    `json:"text" doc:"the whole answer as it is told at a prompt"`
}

// waters serves the water of a plan.
func (s *Server) waters(api huma.API) {
	post(api, huma.Operation{OperationID: "water", Path: "/api/water", Summary: "The scheme of a plan's water, and what follows from it at once", Errors: []int{422, 503}}, s.water)
	post(api, huma.Operation{OperationID: "water-years", Path: "/api/water/years", Summary: "How the drums fare through years of rain", Errors: []int{422, 503}}, s.waterYears)
}

// hardestRain is the most that filling is told for [m/s]: 1 m/h.
const hardestRain = 1.0 / 3600

// rainOf reads the rain that filling is told for; 0 for the usual one.
func rainOf(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	q, err := unit.Parse(unit.Speed, text)
	if err == nil && !(q.SI > 0 && q.SI <= hardestRain) {
		err = fmt.Errorf("%s, must be above 0 and at most 1000 mm/h", text)
	}
	if err != nil {
		return 0, huma.NewError(http.StatusUnprocessableEntity, fmt.Sprintf(`rain: %v; write it as "25 mm/h" or "1 in/h"`, err))
	}
	return q.SI, nil
}

// water tells the scheme, or how a plan without one gets it.
func (s *Server) water(ctx context.Context, in *WaterRequest) (*WaterAnswer, error) {
	p, h, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	out := &WaterAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Numbers: []WaterPair{}, Findings: []WaterFound{}, Tables: []Table{}, Cautions: []string{}}
	if p.Water == nil {
		out.Missing = true
		out.Begin, out.Why = beginning(h)
		return out, nil
	}
	req := water.Request{Plan: p, SchemeOnly: true}
	if req.RainMS, err = rainOf(in.Rain); err != nil {
		return nil, err
	}
	var a *water.Answer
	if err = s.work.do(ctx, func() error { a, err = water.Run(ctx, req, nil); return err }); err != nil {
		return nil, s.ranAway(ctx, err)
	}
	out.Sentence, out.Cautions = t.WaterRuns(a), a.Cautions
	for _, n := range t.WaterNumbers(a) {
		out.Numbers = append(out.Numbers, WaterPair(n))
	}
	for _, f := range t.WaterFindings(a) {
		out.Findings = append(out.Findings, WaterFound(f))
	}
	out.Tables, out.NumbersCSV = tablesOf(t.WaterTables(a)), report.WaterNumbersCSV(a)
	out.Scheme, err = schemeOf(t, a)
	return out, err
}

func beginning(h *house.House) ([]Change, string) {
	changes, why := report.WaterBegin(h)
	return typed(changes), why
}

// typed are changes as the page asks for them.
func typed(changes []plan.Change) []Change {
	list := []Change{}
	for _, c := range changes {
		list = append(list, Change{c.Path, c.Value})
	}
	return list
}

// schemeOf draws the scheme and says where its valves and joints are.
func schemeOf(t report.Teller, a *water.Answer) (*WaterScheme, error) {
	list, spots, err := t.WaterScheme(a)
	if err != nil {
		return nil, err
	}
	p, err := pictureOf(report.Picture{Name: "water-scheme.svg", List: list})
	if err != nil {
		return nil, err
	}
	out := &WaterScheme{Picture: *p, Valves: []WaterValve{}, Joints: []WaterJoint{}, ValvesCSV: report.ValvesCSV(a)}
	out.WidthPx, out.HeightPx = list.Size()
	for i, v := range a.Scheme.Valves {
		out.Valves = append(out.Valves, WaterValve{Name: v.Name, Shut: v.Shut, Turn: typed([]plan.Change{report.TurnValve(a, i)})})
	}
	names := map[int]string{} // of joints by their points
	for _, j := range drill.All(a.Scheme) {
		names[j.Point] = j.Name
	}
	for _, s := range spots {
		x, y := math.Round(s.Px.X*10)/10, math.Round(s.Px.Y*10)/10
		if s.Kind == "valve" {
			v := &out.Valves[s.Index]
			v.Shown, v.X, v.Y = true, x, y
			continue
		}
		if name := names[s.Index]; name != "" { // where nothing ends nothing can fail
			out.Joints = append(out.Joints, WaterJoint{name, x, y})
		}
	}
	return out, nil
}

// waterYears runs the years, with the winter of the plan, which is kept.
func (s *Server) waterYears(ctx context.Context, in *WaterRequest) (*WaterYears, error) {
	p, _, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	if p.Water == nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, "the plan says nothing of its water")
	}
	req := water.Request{Plan: p}
	if req.RainMS, err = rainOf(in.Rain); err != nil {
		return nil, err
	}
	if req.Winter, err = s.winterOf(ctx, in, p); err != nil {
		return nil, err
	}
	var a *water.Answer
	if err = s.work.do(ctx, func() error { a, err = water.Run(ctx, req, nil); return err }); err != nil {
		return nil, s.ranAway(ctx, err)
	}
	out := &WaterYears{Revision: string(folder.RevisionOf([]byte(in.Text))), Cautions: a.Cautions, Text: t.Water(a)}
	sentence, tables := t.WaterYears(a)
	out.Sentence, out.Tables, out.Ledger = sentence, tablesOf(tables), append([]string{}, t.WaterLedger(a)...)
	list, err := t.DrumsPicture(a)
	if err != nil {
		return nil, err
	}
	out.Pictures, err = written(list)
	return out, err
}

// winterOf is the winter of the plan, kept or computed; nil where there is no weather for it.
func (s *Server) winterOf(ctx context.Context, in *WaterRequest, p *plan.Plan) (*winter.Answer, error) {
	if p.Climate == nil {
		return nil, nil
	}
	_, a, err := s.computed(ctx, &AnswerRequest{Name: in.Name, Text: in.Text, View: in.View})
	return a, err
}
