package web

import (
	"context"
	"sync"

	"suncellar/internal/folder"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// winters keeps what is dear to make again: the weather and the ground of the plans asked for last, and the last answers.
type winters struct {
	mu       sync.Mutex
	prepared []*winter.Prepared // the one used last first
	answers  []kept
}

// kept is an answer and the text it is of.
type kept struct {
	of     folder.Revision
	answer *winter.Answer
}

// How many are kept: two windows on two plans each. An answer of a winter holds some megabytes.
const (
	mostPrepared = 4
	mostAnswers  = 4
)

func newWinters() *winters { return &winters{} }

// prepare is a plan made ready, with weather and ground of one before it where they are the same.
func (w *winters) prepare(p *plan.Plan) (*winter.Prepared, error) {
	var found *winter.Prepared
	w.mu.Lock()
	for _, q := range w.prepared {
		if q.Same(p) {
			found = q
			break
		}
	}
	w.mu.Unlock()
	var err error
	if found != nil {
		found, err = found.With(p)
	} else {
		found, err = winter.Prepare(winter.Request{Plan: p})
	}
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	list := []*winter.Prepared{found}
	for _, q := range w.prepared {
		if len(list) < mostPrepared && !q.Same(p) {
			list = append(list, q)
		}
	}
	w.prepared = list
	return found, nil
}

// answer is the winter of a plan, which text tells from others; computed where it is not kept.
func (w *winters) answer(ctx context.Context, text []byte, p *plan.Plan, progress winter.Progress) (*winter.Answer, error) {
	of := folder.RevisionOf(text)
	if a := w.find(of); a != nil {
		return a, nil
	}
	ready, err := w.prepare(p)
	if err != nil {
		return nil, err
	}
	a, err := ready.Answer(ctx, progress)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.answers = append([]kept{{of, a}}, w.answers[:min(len(w.answers), mostAnswers-1)]...)
	return a, nil
}

func (w *winters) find(of folder.Revision) *winter.Answer {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, k := range w.answers {
		if k.of == of {
			return k.answer
		}
	}
	return nil
}
