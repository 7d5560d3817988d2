package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/folder"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/water"
)

// DrawRequest asks what water taken once costs.
type DrawRequest struct {
	Name   string `json:"name" maxLength:"120"`
	Text   string `json:"text" maxLength:"1048576"`
	Volume string `json:"volume" maxLength:"40" doc:"such as 300 L"`
	On     string `json:"on,omitempty" maxLength:"40" doc:"day on which it is taken, such as 01-15; left out: the first of the coldest ten days"`
	Bed    string `json:"bed,omitempty" maxLength:"200" doc:"that it goes onto; left out: the largest"`
	View
}

// DrawAnswer is what a draw costs, and when the rain gives it back.
type DrawAnswer struct {
	Revision  string   `json:"revision" doc:"of the text that was asked for"`
	Sentences []string `json:"sentences"`
	Table     Table    `json:"table" doc:"lowest of each place, without and with it"`
	Cautions  []string `json:"cautions"`
}

// draws serves single draws of water.
func (s *Server) draws(api huma.API) {
	post(api, huma.Operation{OperationID: "water-draw", Path: "/api/water/draw", Summary: "What water taken once costs the winter, and when the rain gives it back",
		Description: "The location of an error is the field that it is of.", Errors: []int{422, 503}}, s.draw)
}

// mostDrawn is the most that is taken on one day [m³].
const mostDrawn = 200

// draw runs the winter with water taken once.
func (s *Server) draw(ctx context.Context, in *DrawRequest) (*DrawAnswer, error) {
	p, _, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	if p.Water == nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, "the plan says nothing of its water")
	}
	d := &water.Draw{Bed: in.Bed}
	if in.Volume == "" {
		return nil, fieldError("volume", `how much is taken? write it as "300 L" or "80 gal"`)
	}
	if d.VolumeM3, err = typedValue("volume", in.Volume, unit.Volume, 1e-3, mostDrawn, "1 L to 200 m3"); err != nil {
		return nil, err
	}
	on, err := dayTyped("on", in.On)
	if err != nil {
		return nil, err
	}
	if on != nil {
		d.On = *on
	}
	req := water.Request{Plan: p, Draw: d}
	if req.Winter, err = s.neededWinter(ctx, in.Name, in.Text, in.View, p); err != nil {
		return nil, err
	}
	var a *water.Answer
	if err = s.work.do(ctx, func() error { a, err = water.Run(ctx, req, nil); return err }); err != nil {
		return nil, s.atField(ctx, err)
	}
	if a.Ledgers == nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, "no drum is fed by the scheme, or no place is watched: there is nothing to draw from, or nobody to lose by it")
	}
	return &DrawAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Sentences: t.DrawSentences(a), Table: tableOf(t.DrawTable(a)), Cautions: report.DrawCautions()}, nil
}
