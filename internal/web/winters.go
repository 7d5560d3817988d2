package web

import (
	"context"
	"sync"

	"suncellar/internal/folder"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/winter"
)

// winters keeps what is dear to make again: the weather and the ground of the plans asked for last, and the last answers.
type winters struct {
	mu       sync.Mutex
	prepared []*winter.Prepared // the one used last first
	answers  []kept
}

// kept is an answer, the text it is of, and what is not known of the house beside it, once that was asked for.
type kept struct {
	of     folder.Revision
	answer *winter.Answer
	house  *report.OfHouse
}

// How many are kept: two windows, or a plan and the one before. An answer of a winter holds ten megabytes.
const (
	mostPrepared = 2
	mostAnswers  = 2
)

// While something is dragged a step's error is judged by briefK [K], and the finest cell of the ground is briefWider times as wide: a fifth quicker than the whole winter from
// the same begin, and lowests of Larch Hollow within 0.16 K, on the cold side (TestWinterWhileDragged).
const (
	briefK     = 1.5
	briefWider = 2.0
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

// answer is the winter of a plan; computed where it is not kept.
func (w *winters) answer(ctx context.Context, in *AnswerRequest, p *plan.Plan) (*winter.Answer, error) {
	of := folder.RevisionOf([]byte(in.Text))
	if a := w.find(of); a != nil {
		return a, nil
	}
	ready, err := w.prepare(p)
	if err != nil {
		return nil, err
	}
	if in.Brief {
		return w.fromRest(ready).Rough(briefK, briefWider).Answer(ctx, nil)
	}
	whole := *ready // shared with others, who do not keep
	whole.Keep = true
	a, err := whole.Answer(ctx, nil)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.answers = append([]kept{{of, a, nil}}, w.answers[:min(len(w.answers), mostAnswers-1)]...)
	return a, nil
}

// fromRest lets a winter begin as that of the last text at rest did, where it runs through the same hours.
func (w *winters) fromRest(p *winter.Prepared) *winter.Prepared {
	if k, ok := w.first(func(k *kept) bool { return k.answer.Same(p.Plan) }); ok {
		return p.From(k.answer.Result)
	}
	return p
}

// first is the first kept answer that is so.
func (w *winters) first(is func(k *kept) bool) (kept, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for i := range w.answers {
		if is(&w.answers[i]) {
			return w.answers[i], true
		}
	}
	return kept{}, false
}

// find is the answer to a text, nil where it is not kept.
func (w *winters) find(of folder.Revision) *winter.Answer {
	k, _ := w.first(func(k *kept) bool { return k.of == of })
	return k.answer
}

// ofHouse is what is kept beside an answer, nil for nothing.
func (w *winters) ofHouse(a *winter.Answer) *report.OfHouse {
	k, _ := w.first(func(k *kept) bool { return k.answer == a })
	return k.house
}

// keep keeps what is not known of the house beside an answer, as long as that is kept.
func (w *winters) keep(a *winter.Answer, of *report.OfHouse) {
	w.first(func(k *kept) bool {
		if k.answer != a {
			return false
		}
		k.house = of
		return true
	})
}
