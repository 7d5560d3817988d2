package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"suncellar/internal/carry"
	"suncellar/internal/chance"
	"suncellar/internal/folder"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// Studies take from seconds to minutes. They tell how far they are as they go, and stop when who asked goes away.

// StudyRequest asks for a study of a plan.
type StudyRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	View
	Carry   CarryOptions   `json:"carry,omitempty"`
	Winters WintersOptions `json:"winters,omitempty"`
	Choices ChoicesOptions `json:"choices,omitempty"`
}

// CarryOptions are those of how long it lasts without sun, as typed; what is left out is as at a prompt.
type CarryOptions struct {
	Outside  string `json:"outside,omitempty" maxLength:"40" doc:"mean outdoor air, such as -15 degC"`
	Gone     string `json:"gone,omitempty" maxLength:"40" doc:"share of the water that is gone, such as 50 %"`
	BayLost  string `json:"bay_lost,omitempty" maxLength:"120" doc:"a bay, or a row, that stands empty"`
	CoverOff bool   `json:"cover_off,omitempty"`
	Curve    bool   `json:"curve,omitempty" doc:"with a curve over other colds"`
}

// WintersOptions are those of many winters.
type WintersOptions struct {
	Count  int `json:"count,omitempty" minimum:"0" maximum:"1000" doc:"of made winters; 0: a hundred"`
	Houses int `json:"houses,omitempty" minimum:"-1" maximum:"1000" doc:"drawn from what is not known; 0: sixty, -1: none"`
}

// Progress is how far a study is.
type Progress struct {
	Done  int `json:"done"`
	Total int `json:"total"`
}

// StudyAnswer is what a study came to.
type StudyAnswer struct {
	Revision  string      `json:"revision" doc:"of the text that was asked for"`
	Sentences []string    `json:"sentences" doc:"what it came to, in short"`
	Text      string      `json:"text" doc:"as it is told at a prompt"`
	Pictures  []Picture   `json:"pictures"`
	Choices   *Choices    `json:"choices,omitempty" doc:"of choices alone"`
	Spells    []ColdSpell `json:"spells,omitempty" doc:"of many winters alone: the coldest night of each at the watched place, the coldest first"`
	Worths    []WorthTold `json:"worths,omitempty" doc:"of worth alone: what can be built, the one that does most first"`
	Reads     []string    `json:"reads,omitempty" doc:"how the pictures are read"`
}

// WorthTold is one more unit of a thing.
type WorthTold struct {
	Name    string `json:"name"`
	Night   string `json:"night" doc:"warmer on the worst night"`
	Light   string `json:"light" doc:"at the beds, a day"`
	Changes string `json:"changes" doc:"that are one unit more, as a choice has them"`
}

// ColdSpell is the coldest night of one of many winters.
type ColdSpell struct {
	Winter string `json:"winter"`
	Lowest string `json:"lowest"`
	Night  string `json:"night"`
}

// StudyFailed says why there is no answer.
type StudyFailed struct {
	Detail string `json:"detail"`
}

// study answers a request.
type study func(ctx context.Context, in *StudyRequest, p *plan.Plan, t report.Teller, progress winter.Progress) (*studied, error)

// studied is what a study came to, before it is written for the page.
type studied struct {
	sentences []string
	text      string
	pictures  []report.Picture
	choices   *Choices
	spells    []ColdSpell
	worths    []WorthTold
	reads     []string
}

// studies are served as streams of events: progress, then answer or failed.
func (s *Server) studies(api huma.API) {
	for _, of := range []struct {
		name, summary string
		do            study
	}{
		{"carry", "How long the house lasts without sun", carryStudy},
		{"winters", "How likely frost is over many winters", wintersStudy},
		{"worth", "What one more unit of each thing is worth", s.worthStudy},
		{"choices", "What each of several changes buys, and what it costs", choicesStudy},
	} {
		op := huma.Operation{OperationID: "study-" + of.name, Method: http.MethodPost, Path: "/api/studies/" + of.name, Summary: of.summary,
			Description: "A stream of events: progress as it goes, then answer, or failed. Who goes away stops it."}
		sse.Register(api, op, map[string]any{"progress": Progress{}, "answer": StudyAnswer{}, "failed": StudyFailed{}}, func(ctx context.Context, in *answered[StudyRequest], send sse.Sender) {
			answer, err := s.study(ctx, &in.Body, of.do, teller(send))
			switch {
			case ctx.Err() != nil:
			case err != nil:
				_ = send.Data(StudyFailed{err.Error()})
			default:
				_ = send.Data(*answer)
			}
		})
	}
}

// often is how often progress is told.
const often = 100 * time.Millisecond

// teller tells progress, from whatever worker, not too often.
func teller(send sse.Sender) winter.Progress {
	var mu sync.Mutex
	var last time.Time
	return func(done, total int) {
		mu.Lock()
		defer mu.Unlock()
		if now := time.Now(); now.Sub(last) >= often {
			last = now
			_ = send.Data(Progress{done, total})
		}
	}
}

// study computes one, in its turn.
func (s *Server) study(ctx context.Context, in *StudyRequest, do study, progress winter.Progress) (*StudyAnswer, error) {
	p, h, findings := read(in.Name, []byte(in.Text))
	if h == nil {
		return nil, plan.AsError(findings)
	}
	t, err := tellerOf(in.View, p)
	if err != nil {
		return nil, err
	}
	var of *studied
	err = s.work.do(ctx, func() error {
		of, err = do(ctx, in, p, t, progress)
		return err
	})
	if err != nil {
		return nil, err
	}
	out := &StudyAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Sentences: append([]string{}, of.sentences...), Text: of.text, Choices: of.choices, Spells: of.spells, Worths: of.worths, Reads: of.reads}
	if out.Pictures, err = written(of.pictures); err != nil {
		return nil, err
	}
	return out, nil
}

func carryStudy(ctx context.Context, in *StudyRequest, p *plan.Plan, t report.Teller, progress winter.Progress) (*studied, error) {
	req := carry.Request{Plan: p, Band: true, BayLost: in.Carry.BayLost, NoCover: in.Carry.CoverOff}
	if in.Carry.Curve {
		req.Curve = &carry.CurveRequest{}
	}
	var bad []error
	if in.Carry.Outside != "" {
		q, err := unit.Parse(unit.Temperature, in.Carry.Outside)
		if err != nil {
			bad = append(bad, fmt.Errorf("outside: %w", err))
		}
		req.Spell.OutsideC = &q.SI
	}
	if in.Carry.Gone != "" {
		q, err := unit.Parse(unit.Share, in.Carry.Gone)
		switch {
		case err != nil:
			bad = append(bad, fmt.Errorf("share of the water that is gone: %w", err))
		case !(q.SI >= 0 && q.SI <= 1):
			bad = append(bad, fmt.Errorf("share of the water that is gone is %s, must be 0 to 100 %%", in.Carry.Gone))
		}
		req.Lose = q.SI
	}
	if err := errors.Join(bad...); err != nil {
		return nil, err
	}
	a, err := carry.Run(ctx, req, progress)
	if err != nil {
		return nil, err
	}
	list, err := t.CarryPictures(a)
	return &studied{sentences: t.CarrySentences(a), text: t.Carry(a), pictures: list}, err
}

func wintersStudy(ctx context.Context, in *StudyRequest, p *plan.Plan, t report.Teller, progress winter.Progress) (*studied, error) {
	a, err := chance.Run(ctx, chance.Request{Plan: p, Count: in.Winters.Count, Draws: in.Winters.Houses}, progress)
	if err != nil {
		return nil, err
	}
	list, err := t.ChancePictures(a)
	out := &studied{sentences: t.ChanceSentences(a), text: t.Chance(a), pictures: list}
	for _, c := range t.ColdSpells(a) {
		out.spells = append(out.spells, ColdSpell(c))
	}
	return out, err
}

func (s *Server) worthStudy(ctx context.Context, in *StudyRequest, p *plan.Plan, t report.Teller, progress winter.Progress) (*studied, error) {
	a, err := worth.PerUnit(ctx, worth.UnitRequest{Plan: p}, progress)
	if err != nil {
		return nil, err
	}
	if err := a.First.Result.CheckBooks(); err != nil {
		return nil, err
	}
	s.keepWorth(in.Text, a)
	list, err := t.WorthPictures(a)
	of := report.OfHouse{Why: worth.WhyNoBand(a.First)}
	out := &studied{sentences: t.WorthSentences(a, of), text: t.Worth(a, of), pictures: list, reads: report.WorthReads()}
	for _, r := range t.WorthRows(a) {
		var changes []string
		for _, c := range r.Changes {
			changes = append(changes, c.String())
		}
		out.worths = append(out.worths, WorthTold{r.Name, r.Night, r.Light, strings.Join(changes, "; ")})
	}
	return out, err
}
