package web

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/chance"
	"suncellar/internal/folder"
	"suncellar/internal/report"
	"suncellar/internal/worth"
)

// The band by drawn houses, while a plan is left alone. It is computed while nobody waits for anything else, on half of the cores, and ends when somebody does.

// DrawnRequest asks for the band of a winter by so many drawn houses.
type DrawnRequest struct {
	AnswerRequest
	Houses int `json:"houses" minimum:"5" maximum:"200" doc:"those that were drawn for fewer before are not run again"`
}

// drawn keeps the houses that were drawn last, and the text that they are of.
type drawn struct {
	mu     sync.Mutex
	of     folder.Revision
	houses *chance.Houses
}

// find gives the houses of a text, nil where none were drawn.
func (d *drawn) find(of folder.Revision) *chance.Houses {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.of != of {
		return nil
	}
	return d.houses
}

func (d *drawn) keep(of folder.Revision, h *chance.Houses) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.of, d.houses = of, h
}

// bandDrawn is the request.
func (s *Server) bandDrawn(api huma.API) {
	post(api, huma.Operation{OperationID: "band-drawn", Path: "/api/band/drawn", Summary: "The same by drawn houses, computed while nobody waits for anything else",
		Description: "Who goes away stops it. Where anything else is asked for meanwhile it ends, and the answer says that it gave way.", Errors: []int{422, 503}}, s.drawnBand)
}

// drawnBand draws houses for a winter, which is computed first where it is not kept.
func (s *Server) drawnBand(ctx context.Context, in *DrawnRequest) (*BandAnswer, error) {
	t, a, err := s.computed(ctx, &in.AnswerRequest)
	if err != nil {
		return nil, err
	}
	rev := folder.RevisionOf([]byte(in.Text))
	out := &BandAnswer{Revision: string(rev), Things: []NotKnown{}}
	if out.Surely = worth.WhyNotDrawn(a); out.Surely != "" {
		out.Sentence = t.Sentence(a, report.OfHouse{})
		return out, nil
	}
	of := report.OfHouse{}
	err = s.work.whileIdle(ctx, func(ctx context.Context) error {
		var err error
		of.Drawn, err = s.drawn.find(rev).Grow(ctx, a, in.Houses, max(1, runtime.GOMAXPROCS(0)/2), nil)
		return err
	})
	if errors.Is(err, errGivesWay) {
		out.GaveWay = true
		return out, nil
	}
	if err != nil {
		return nil, s.ranAway(ctx, err)
	}
	s.drawn.keep(rev, of.Drawn)
	out.Houses, out.Sentence = of.Drawn.Draws, t.Sentence(a, of)
	out.Surely = t.Surely(a, of) + " " + report.DrawnError(of.Drawn.Draws)
	if a.Watched >= 0 {
		if p := of.Drawn.Place(a.Places[a.Watched].Name); p != nil {
			out.LowC, out.HighC = &p.Band.Lo, &p.Band.Hi
		}
	}
	return out, nil
}
