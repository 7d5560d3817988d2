package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/folder"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/winter"
)

// AnswerRequest asks for the winter of a plan.
type AnswerRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	View
	Pictures []string `json:"pictures,omitempty" maxItems:"20" doc:"names of pictures that are wanted; none: no picture"`
	Brief    bool     `json:"brief,omitempty" doc:"while something is dragged: the answer is not kept, and the whole text is left out"`
}

// WinterAnswer is what a winter came to.
type WinterAnswer struct {
	Revision string    `json:"revision" doc:"of the text that was asked for"`
	Title    string    `json:"title" doc:"which house, which days, which weather"`
	Sentence string    `json:"sentence"`
	Note     string    `json:"note,omitempty" doc:"how it differs from the whole winter, where it does"`
	Lowest   string    `json:"lowest" doc:"of the watched place: how cold, when, where"`
	Watched  string    `json:"watched,omitempty" doc:"place that is told first"`
	LimitC   float64   `json:"limit_c"`
	From     time.Time `json:"from"`
	Until    time.Time `json:"until"`
	Degree   string    `json:"degree" doc:"unit of temperatures as told"`
	Zone     string    `json:"zone" doc:"which time all times are, in words"`
	Places   []PlaceAt `json:"places"`
	Days     []DaysOf  `json:"days" doc:"runs of days to choose from: all, the worst, each month"`
	Light    *Table    `json:"light,omitempty" doc:"on each strip of the beds"`
	Pictures []Picture `json:"pictures"`
	Snow
	Assumed  []Assumed `json:"assumed"`
	Cautions []string  `json:"cautions"`
	Text     string    `json:"text,omitempty" doc:"the whole answer as it is told at a prompt"`
	TookMS   float64   `json:"took_ms" doc:"from question to answer, in the program"`
}

// DaysOf is a run of whole days under a name.
type DaysOf struct {
	Name  string `json:"name"`
	From  string `json:"from" doc:"first day, such as 2001-11-24; the year is that of the weather, and means nothing where that is made or typical"`
	Until string `json:"until" doc:"last day"`
}

// Table is a table ready to be set: the first column names, the others are figures.
type Table struct {
	Title string     `json:"title"`
	Heads []string   `json:"heads"`
	Rows  [][]string `json:"rows"`
	Note  string     `json:"note"`
	File  string     `json:"file,omitempty" doc:"what it is called as a file; left out: it has none of its own"`
	CSV   string     `json:"csv,omitempty" doc:"that file: SI, with units in the heads"`
}

func tableOf(t report.Table) Table {
	return Table{t.Title, t.Heads, t.Rows, t.Note, t.File, t.CSV()}
}

func tablesOf(list []report.Table) []Table {
	out := []Table{}
	for _, t := range list {
		out = append(out, tableOf(t))
	}
	return out
}

// PlaceAt is one place's winter: in SI, and as it is told.
type PlaceAt struct {
	Name       string    `json:"name"`
	Kind       string    `json:"kind"`
	LowestC    float64   `json:"lowest_c"`
	LowestAt   time.Time `json:"lowest_at"`
	HighestC   float64   `json:"highest_c"`
	MeanC      float64   `json:"mean_c"`
	FrostHours int       `json:"frost_h" doc:"hours below 0 °C"`
	LimitHours int       `json:"limit_h" doc:"hours below the limit"`

	Lowest     string `json:"lowest" doc:"as told, without unit"`
	LowestWhen string `json:"lowest_when"`
	Highest    string `json:"highest"`
	Mean       string `json:"mean"`
	Note       string `json:"note,omitempty" doc:"what has to be known to read these"`
}

// Assumed is a value that the plan leaves out.
type Assumed struct {
	Path   string `json:"path"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

// answers are those that take computing.
func (s *Server) answers(api huma.API) {
	post(api, huma.Operation{OperationID: "winter", Path: "/api/winter", Summary: "The winter of a plan",
		Description: "Computes the whole winter of the text as it stands. Who goes away before it is done stops it.", Errors: []int{422, 503}}, s.winter)
	post(api, huma.Operation{OperationID: "band", Path: "/api/band", Summary: "How far a winter's lowest may lie for what is not known of the house",
		Description: "To first order: each thing that is not known is moved one standard deviation either way, in the same winter.", Errors: []int{422, 503}}, s.band)
	s.bandDrawn(api)
}

// computed is a plan read and its winter, with how it is told.
func (s *Server) computed(ctx context.Context, in *AnswerRequest) (report.Teller, *winter.Answer, error) {
	p, _, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return t, nil, err
	}
	a := s.winters.find(folder.RevisionOf([]byte(in.Text))) // nothing to compute: no need to stand in line
	if a != nil {
		return t, a, s.ranAway(ctx, a.Result.CheckBooks())
	}
	err = s.work.do(ctx, func() error {
		if a, err = s.winters.answer(ctx, in, p); err != nil {
			return err
		}
		return a.Result.CheckBooks()
	})
	return t, a, s.ranAway(ctx, err)
}

// winter computes and tells a winter.
func (s *Server) winter(ctx context.Context, in *AnswerRequest) (*WinterAnswer, error) {
	began := time.Now()
	t, a, err := s.computed(ctx, in)
	if err != nil {
		return nil, err
	}
	out := told(t, a)
	if !in.Brief {
		out.Text = t.Winter(a, report.OfHouse{})
	}
	out.Revision = string(folder.RevisionOf([]byte(in.Text)))
	list, err := t.PicturesOf(a, in.Pictures)
	if err != nil {
		return nil, err
	}
	if out.Pictures, err = written(list); err != nil {
		return nil, err
	}
	out.TookMS = float64(time.Since(began).Microseconds()) / 1000
	return out, nil
}

// told is a winter without its pictures.
func told(t report.Teller, a *winter.Answer) *WinterAnswer {
	zone := time.FixedZone(a.Plan.Site.TimeZone.Name, a.Plan.Site.TimeZone.OffsetS)
	out := &WinterAnswer{Title: report.Title(a), Sentence: t.Sentence(a, report.OfHouse{}), Lowest: t.Lowest(a), LimitC: a.LimitC, From: a.Result.Start.In(zone), Until: a.Result.Time(a.Result.Hours() - 1).In(zone), Places: []PlaceAt{}, Assumed: []Assumed{},
		Cautions: a.Cautions, Degree: t.Degree(), Zone: report.ZoneWords(a)}
	if a.Carried() {
		out.Note = report.WhileDragged
	}
	out.SnowM, out.GroundSnowM = report.DeepestSnow(a)
	if a.Watched >= 0 {
		out.Watched = a.Places[a.Watched].Name
	}
	for i := range a.Places {
		p := &a.Places[i]
		out.Places = append(out.Places, PlaceAt{p.Name, string(p.Kind), p.LowestC, p.LowestAt.In(zone), p.HighestC, p.MeanC, p.HoursBelowZero, p.HoursBelowLimit,
			t.Figure(p.LowestC), report.LowestWhen(a, p), t.Figure(p.HighestC), t.Figure(p.MeanC), report.PlaceNote(a, i)})
	}
	for _, d := range report.DaysToChoose(a) {
		out.Days = append(out.Days, DaysOf(d))
	}
	if l := t.LightTable(a); l != nil {
		light := tableOf(*l)
		out.Light = &light
	}
	for _, v := range a.Assumed {
		out.Assumed = append(out.Assumed, Assumed{v.Path, v.Text, v.Source})
	}
	return out
}

// written writes pictures for the page.
func written(list []report.Picture) ([]Picture, error) {
	out := []Picture{}
	for _, p := range list {
		q, err := pictureOf(p)
		if err != nil {
			return nil, err
		}
		out = append(out, *q)
	}
	return out, nil
}

// wrong is the error of a plan that makes no house: each finding with its path.
func wrong(findings []plan.Finding) error {
	var details []error
	for _, f := range findings {
		if f.Severity == plan.Error {
			details = append(details, &huma.ErrorDetail{Message: f.Message, Location: f.Path, Value: f.Line})
		}
	}
	return huma.NewError(http.StatusUnprocessableEntity, "something is wrong in the plan", details...)
}

// ranAway is the error of a computation, nil for none.
func (s *Server) ranAway(ctx context.Context, err error) error {
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		return huma.NewError(499, "who asked went away")
	}
	var status huma.StatusError
	if errors.As(err, &status) {
		return err
	}
	var finding plan.Finding
	if errors.As(err, &finding) {
		return wrong([]plan.Finding{finding})
	}
	s.Log.Error("a winter", "reason", err.Error())
	return huma.NewError(http.StatusUnprocessableEntity, fmt.Sprintf("the winter cannot be computed: %v", err))
}
