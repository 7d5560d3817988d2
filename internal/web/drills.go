package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"time"

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

// DrillsRequest asks which faults a plan can have, and what its joints lose.
type DrillsRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	View
}

// DrillsAnswer is what can be tried, and the table of joints.
type DrillsAnswer struct {
	Revision string       `json:"revision" doc:"of the text that was asked for"`
	Faults   []DrillFault `json:"faults"`
	Joints   *Joints      `json:"joints,omitempty" doc:"left out: the plan says nothing of its water"`
}

// DrillFault is a fault that the plan can have.
type DrillFault struct {
	Kind  string   `json:"kind"`
	Told  string   `json:"told"`
	Ask   string   `json:"ask,omitempty" doc:"what the names are of; left out: it can be in one place alone"`
	First string   `json:"first,omitempty" doc:"which one is taken where none is named"`
	Where []string `json:"where" doc:"names"`
}

// Joints is what each joint of the pipes loses when it fails, and where more valves are worth most.
type Joints struct {
	Warm      bool     `json:"warm" doc:"with the heat of the water, as the kept winter has it"`
	Sentences []string `json:"sentences"`
	Tables    []Table  `json:"tables"`
	Cautions  []string `json:"cautions"`
}

// DrillRequest is a fault to be tried on paper.
type DrillRequest struct {
	DrillsRequest
	Kind  string `json:"kind" enum:"leak,drum,inlet,flap,vent,pane,cover,door"`
	At    string `json:"at,omitempty" maxLength:"200" doc:"one of its names; left out: the first, of joints the one that costs most"`
	On    string `json:"on,omitempty" maxLength:"40" doc:"day on which it begins, such as 01-15; left out: so that it is there in the coldest night"`
	Hole  string `json:"hole,omitempty" maxLength:"40" doc:"leak, drum: its diameter, such as 5 mm"`
	To    string `json:"to,omitempty" enum:",soil,floor,cold sink,outside" doc:"leak, drum: where the water goes; left out: soil"`
	Spare string `json:"spare,omitempty" maxLength:"40" doc:"leak: room in other vessels for water that is let out for the repair, such as 400 L"`
	Lasts string `json:"lasts,omitempty" maxLength:"40" doc:"all but leak and drum: until it is mended, such as 48 h; left out: a night for cover and door, three days for the others"`
	Seen  string `json:"seen,omitempty" maxLength:"40" doc:"leak: until somebody sees it, whole days such as 2 d; left out: one"`
	Pane  string `json:"pane,omitempty" maxLength:"40" doc:"pane: how much is gone, such as 1 m2"`
}

// DrillAnswer is what a fault costs, and what is to be done.
type DrillAnswer struct {
	Revision  string   `json:"revision" doc:"of the text that was asked for"`
	Title     string   `json:"title"`
	Sentences []string `json:"sentences"`
	Tables    []Table  `json:"tables" doc:"places as planned and with the fault; of a leak, ridden out and mended"`
	Steps     []string `json:"steps" doc:"what to do, in this order"`
	Cautions  []string `json:"cautions"`
	Text      string   `json:"text" doc:"the whole answer as it is told at a prompt"`
}

// drills serves faults tried on paper.
func (s *Server) drills(api huma.API) {
	post(api, huma.Operation{OperationID: "drills", Path: "/api/drills", Summary: "Faults that a plan can have, and what each joint of its pipes loses",
		Description: "Computes no winter; the heat of the water is told where that of the text is kept.", Errors: []int{422, 503}}, s.drillable)
	post(api, huma.Operation{OperationID: "drill", Path: "/api/drills/try", Summary: "A fault tried on paper in the winter of a plan",
		Description: "The location of an error is the field that it is of.", Errors: []int{422, 503}}, s.drill)
}

// drillable tells what can be tried.
func (s *Server) drillable(ctx context.Context, in *DrillsRequest) (*DrillsAnswer, error) {
	_, h, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	out := &DrillsAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Faults: []DrillFault{}}
	for _, f := range report.DrillFaults(h) {
		out.Faults = append(out.Faults, DrillFault{string(f.Kind), f.Told, f.Ask, f.First, append([]string{}, f.Where...)})
	}
	if h.Scheme == nil {
		return out, nil
	}
	var table *drill.Table
	if err := s.work.do(ctx, func() error {
		table, err = drill.Joints(h, drill.WaterC(h, s.winters.find(folder.RevisionOf([]byte(in.Text)))), nil)
		return err
	}); err != nil {
		return nil, s.ranAway(ctx, err)
	}
	out.Joints = &Joints{Warm: table.Warm, Sentences: t.JointSentences(table), Tables: tablesOf(t.JointTables(table)), Cautions: report.JointCautions()}
	return out, nil
}

// drill tries a fault in the kept winter of the plan.
func (s *Server) drill(ctx context.Context, in *DrillRequest) (*DrillAnswer, error) {
	p, h, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	req, err := in.read(h)
	if err != nil {
		return nil, err
	}
	if req.Winter, err = s.neededWinter(ctx, in.Name, in.Text, in.View, p); err != nil {
		return nil, err
	}
	req.Plan = p
	var a *drill.Answer
	if err = s.work.do(ctx, func() error {
		if req.Kind == drill.Leak || req.Kind == drill.DrumFrozen {
			if req.Rain, _, _, err = water.RainDays(ctx, p, nil, 0, nil); err != nil {
				return err
			}
		}
		a, err = drill.Run(ctx, req, nil)
		return err
	}); err != nil {
		return nil, s.atField(ctx, err)
	}
	return &DrillAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Title: report.DrillName(a), Sentences: t.DrillSentences(a), Tables: tablesOf(t.DrillTables(a)),
		Steps: t.DrillSteps(a), Cautions: t.DrillCautions(a), Text: t.Drill(a)}, nil
}

// read reads what was typed. Errors: 422 with the field.
func (in *DrillRequest) read(h *house.House) (drill.Request, error) {
	req := drill.Request{Kind: drill.Kind(in.Kind), At: in.At, To: in.To}
	where, can := drill.Can(h, req.Kind)
	switch {
	case !can:
		return req, fieldError("kind", "the plan cannot have this fault: it has nothing that it could happen to")
	case in.At != "" && !slices.Contains(where, in.At):
		return req, fieldError("at", fmt.Sprintf("%q is not in the plan, or this fault cannot happen to it; pick one of the list", in.At))
	}
	on, err := dayTyped("on", in.On)
	if err != nil {
		return req, err
	}
	req.On = on
	var seenS float64
	for _, q := range []struct {
		field, text string
		kind        unit.Kind
		low, high   float64
		to          *float64
		allowed     string
	}{
		{"hole", in.Hole, unit.Length, 0.0002, 0.2, &req.HoleM, "0.2 mm to 200 mm"},
		{"pane", in.Pane, unit.Area, 0.01, 100, &req.PaneM2, "0.01 m2 to 100 m2"},
		{"spare", in.Spare, unit.Volume, 0, 200, &req.SpareM3, "0 L to 200 m3"},
		{"lasts", in.Lasts, unit.Duration, 3600, 8760 * 3600, &req.LastsH, "1 h to 365 d"},
		{"seen", in.Seen, unit.Duration, 3600, 60 * 24 * 3600, &seenS, "1 h to 60 d"},
	} {
		if q.text == "" {
			continue
		}
		if *q.to, err = typedValue(q.field, q.text, q.kind, q.low, q.high, q.allowed); err != nil {
			return req, err
		}
	}
	req.LastsH /= 3600
	req.NoticedD = int(math.Ceil(seenS / 86400)) // at a noon: sooner is not reckoned
	return req, nil
}

// typedValue reads a quantity within limits. Errors: 422 with the field.
func typedValue(field, text string, kind unit.Kind, low, high float64, allowed string) (float64, error) {
	q, err := unit.Parse(kind, text)
	if err == nil && !(q.SI >= low && q.SI <= high) {
		err = fmt.Errorf("%s, must be %s", text, allowed)
	}
	if err != nil {
		return 0, fieldError(field, err.Error())
	}
	return q.SI, nil
}

// dayTyped reads a day of any year, month before day; nil for none. Errors: 422 with the field.
func dayTyped(field, text string) (*plan.Date, error) {
	if text == "" {
		return nil, nil
	}
	at, err := time.Parse("01-02", text)
	if err != nil {
		return nil, fieldError(field, fmt.Sprintf("%q is no day; write month and day, such as 01-15", text))
	}
	if at.Month() == time.February && at.Day() == 29 {
		return nil, fieldError(field, "29 February is a day of leap years only; write 02-28")
	}
	return &plan.Date{Month: int(at.Month()), Day: at.Day()}, nil
}

// fieldError is a 422 that belongs to a field of the request.
func fieldError(field, message string) error {
	return huma.NewError(http.StatusUnprocessableEntity, message, &huma.ErrorDetail{Message: message, Location: field})
}

// atField is the error of a computation: with its field where what was asked cannot be.
func (s *Server) atField(ctx context.Context, err error) error {
	var asked *winter.Asked
	if errors.As(err, &asked) && ctx.Err() == nil {
		return fieldError(asked.Of, asked.Error())
	}
	return s.ranAway(ctx, err)
}

// neededWinter is the kept winter of a plan, for what cannot be told without.
func (s *Server) neededWinter(ctx context.Context, name, text string, v View, p *plan.Plan) (*winter.Answer, error) {
	a, err := s.winterOf(ctx, &WaterRequest{Name: name, Text: text, View: v}, p)
	if err == nil && a == nil {
		err = huma.NewError(http.StatusUnprocessableEntity, "there is no weather to try it in: the plan has no climate")
	}
	return a, err
}
