package web

import (
	"context"

	"suncellar/internal/folder"
	"suncellar/internal/report"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// BandAnswer is the band of a winter over what is not known of the house.
type BandAnswer struct {
	Revision string     `json:"revision" doc:"of the text that was asked for"`
	Sentence string     `json:"sentence" doc:"the winter's first sentence, with the band in mind"`
	Surely   string     `json:"surely" doc:"the band in words and what it means; or why there is none"`
	LowC     *float64   `json:"low_c,omitempty" doc:"8 in 10 houses lie between these two"`
	HighC    *float64   `json:"high_c,omitempty"`
	Degree   string     `json:"degree" doc:"unit of differences as told"`
	Houses   int        `json:"houses" doc:"that were drawn for it; 0: to first order"`
	GaveWay  bool       `json:"gave_way,omitempty" doc:"of drawn houses: something else was asked for meanwhile; ask again when all is quiet"`
	Things   []NotKnown `json:"things" doc:"what is not known, each alone"`
}

// NotKnown is one thing that is not known of a house.
type NotKnown struct {
	Name    string  `json:"name"`
	Spread  string  `json:"spread" doc:"one standard deviation in words"`
	Source  string  `json:"source"`
	ColderK float64 `json:"colder_k" doc:"what one deviation to the colder side does to the watched place's lowest"`
	WarmerK float64 `json:"warmer_k"`
	Colder  string  `json:"colder" doc:"as told, without unit"`
	Warmer  string  `json:"warmer"`
}

// band computes the band of a winter, which is computed first where it is not kept.
func (s *Server) band(ctx context.Context, in *AnswerRequest) (*BandAnswer, error) {
	t, a, err := s.computed(ctx, in)
	if err != nil {
		return nil, err
	}
	of, err := s.ofHouse(ctx, a)
	if err != nil {
		return nil, err
	}
	out := &BandAnswer{Revision: string(folder.RevisionOf([]byte(in.Text))), Sentence: t.Sentence(a, of), Surely: t.Surely(a, of), Degree: t.DegreeApart(), Things: []NotKnown{}}
	if of.Why != "" {
		out.Surely = of.Why
		return out, nil
	}
	if b := of.Order.Band; b != nil {
		out.LowC, out.HighC = &b.Lo.LeafC, &b.Hi.LeafC
	}
	for _, n := range of.NotKnown() {
		out.Things = append(out.Things, NotKnown{n.Name, n.Spread, n.Source, n.ColderK, n.WarmerK, t.FigureApart(n.ColderK), t.FigureApart(n.WarmerK)})
	}
	return out, nil
}

// ofHouse is what is not known of the house beside a winter; computed where it is not kept.
func (s *Server) ofHouse(ctx context.Context, a *winter.Answer) (report.OfHouse, error) {
	if of := s.winters.ofHouse(a); of != nil {
		return *of, nil
	}
	of := report.OfHouse{Why: worth.WhyNoBand(a)}
	if of.Why == "" {
		err := s.work.do(ctx, func() (err error) {
			of.Order, err = worth.BandOf(ctx, a, 1, nil)
			return err
		})
		if err != nil {
			return of, s.ranAway(ctx, err)
		}
	}
	s.winters.keep(a, &of)
	return of, nil
}
