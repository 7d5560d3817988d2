package web

import (
	"context"
	"sort"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/folder"
	"suncellar/internal/report"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// WorthRequest asks what values of a plan are worth.
type WorthRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	Path string `json:"path,omitempty" maxLength:"300" doc:"of the value that is to be computed; left out: only what is known of this text already"`
	View
}

// WorthAnswer is what values are worth, as far as it is known of this text.
type WorthAnswer struct {
	Revision string     `json:"revision" doc:"of the text that was asked for"`
	Heard    string     `json:"heard" doc:"what the figures are of; empty where there is none"`
	Rows     []WorthRow `json:"rows"`
}

// WorthRow is what one more unit of one value does to the worst night.
type WorthRow struct {
	Path     string   `json:"path"`
	Sentence string   `json:"sentence" doc:"empty: more or less of it cannot be had"`
	LowestK  *float64 `json:"lowest_k,omitempty" doc:"by which the lowest of the watched place changes with one unit more, or with what is there or not [K]"`
}

// worths keeps what is known of the texts asked for last: their rows, and of the last the run that more rows need.
type worths struct {
	mu   sync.Mutex
	list []*worthOf // the one used last first
}

// worthOf is what is known of one text.
type worthOf struct {
	of     folder.Revision
	making sync.Mutex // of the run below
	fields *worth.Fields
	mu     sync.Mutex
	about  *worth.UnitAnswer
	rows   map[string]*worth.Worth // by path; nil: more or less of it cannot be had
}

// mostWorths is how many texts are remembered: a plan and the ones before it, for who goes back.
const mostWorths = 4

// at is what is known of a text; room for it is made.
func (w *worths) at(of folder.Revision) *worthOf {
	w.mu.Lock()
	defer w.mu.Unlock()
	for i, k := range w.list {
		if k.of == of {
			copy(w.list[1:i+1], w.list[:i])
			w.list[0] = k
			return k
		}
	}
	k := &worthOf{of: of, rows: map[string]*worth.Worth{}}
	w.list = append([]*worthOf{k}, w.list[:min(len(w.list), mostWorths-1)]...)
	return k
}

// put keeps the rows of an answer. A figure that was held against half its step comes before one that was not.
func (k *worthOf) put(a *worth.UnitAnswer) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.about = a
	for i := range a.Rows {
		w := &a.Rows[i]
		if old := k.rows[w.ID]; w.Kind == worth.Build && (old == nil || !old.HasHalf) {
			k.rows[w.ID] = w
		}
	}
}

// keepWorth keeps what a whole study came to, for the fields of its text.
func (s *Server) keepWorth(text string, a *worth.UnitAnswer) {
	s.worths.at(folder.RevisionOf([]byte(text))).put(a)
}

func (k *worthOf) has(path string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	_, ok := k.rows[path]
	return ok
}

// asker is the run that single values need, made when it is first asked for.
func (k *worthOf) asker(ctx context.Context, a *winter.Answer) (*worth.Fields, error) {
	k.making.Lock()
	defer k.making.Unlock()
	if k.fields == nil {
		f, err := worth.NewFields(ctx, worth.UnitRequest{Plan: a.Plan, First: a})
		if err != nil {
			return nil, err
		}
		k.fields = f
	}
	return k.fields, nil
}

// onlyOne lets go of the runs of all texts but one: each holds a winter.
func (w *worths) onlyOne(k *worthOf) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, other := range w.list {
		if other != k && other.making.TryLock() {
			other.fields = nil
			other.making.Unlock()
		}
	}
}

// worth serves single values.
func (s *Server) worth(api huma.API) {
	post(api, huma.Operation{OperationID: "worth", Path: "/api/worth", Summary: "What one more unit of a value does to the worst night",
		Description: "Computes one value, where it is asked for and not known yet, and answers with all that is known of this text. Who goes away before it is done stops it.", Errors: []int{422, 503}}, s.worthOf)
}

func (s *Server) worthOf(ctx context.Context, in *WorthRequest) (*WorthAnswer, error) {
	_, _, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	k := s.worths.at(folder.RevisionOf([]byte(in.Text)))
	if in.Path != "" && !k.has(in.Path) {
		if err := s.ranAway(ctx, s.computeWorth(ctx, in, k)); err != nil {
			return nil, err
		}
	}
	return k.told(t), nil
}

// computeWorth computes what one value is worth, on the winter of the plan.
func (s *Server) computeWorth(ctx context.Context, in *WorthRequest, k *worthOf) error {
	_, a, err := s.computed(ctx, &AnswerRequest{Name: in.Name, Text: in.Text, View: in.View})
	if err != nil || a.Watched < 0 {
		return err
	}
	return s.work.do(ctx, func() error {
		f, err := k.asker(ctx, a)
		if err != nil {
			return err
		}
		s.worths.onlyOne(k)
		one, err := f.Of(ctx, in.Path)
		if err != nil {
			return err
		}
		k.put(one)
		k.mu.Lock()
		defer k.mu.Unlock()
		if _, ok := k.rows[in.Path]; !ok {
			k.rows[in.Path] = nil
		}
		return nil
	})
}

// told is all that is known.
func (k *worthOf) told(t report.Teller) *WorthAnswer {
	k.mu.Lock()
	defer k.mu.Unlock()
	out := &WorthAnswer{Revision: string(k.of), Rows: []WorthRow{}}
	if k.about != nil {
		out.Heard = t.FieldsHeard(k.about)
	}
	for path, w := range k.rows {
		row := WorthRow{Path: path}
		if w != nil {
			row.Sentence = t.FieldWorth(w)
			if w.Err == nil {
				per := w.Per.LeafC * w.One.SI
				row.LowestK = &per
			}
		}
		out.Rows = append(out.Rows, row)
	}
	sort.Slice(out.Rows, func(i, j int) bool { return out.Rows[i].Path < out.Rows[j].Path })
	return out
}
