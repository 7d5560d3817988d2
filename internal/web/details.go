package web

import (
	"context"
	"math"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/report"
	"suncellar/internal/winter"
)

// Details of a winter: any of its days, places and tables, each asked for by itself. The winter is kept, so that nothing is computed again.

// DetailRequest asks for a part of the winter of a plan.
type DetailRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	View
	From    string `json:"from,omitempty" maxLength:"40" doc:"first day, such as 2001-11-24; left out: of the whole run, or of its worst days"`
	Until   string `json:"until,omitempty" maxLength:"40" doc:"last day; left out: of the run"`
	Place   string `json:"place,omitempty" maxLength:"200" doc:"whose sheet; left out: the watched one's"`
	Columns bool   `json:"columns,omitempty" doc:"heat drawn as columns, not as streams"`
}

// HourPicture is a picture of hours that tells what is under the pointer. Hour i has the cell of column (i + lead) mod columns and row (i + lead) div columns.
type HourPicture struct {
	From    string   `json:"from"`
	Until   string   `json:"until"`
	Picture Picture  `json:"picture"`
	Cells   Cells    `json:"cells"`
	When    []string `json:"when" doc:"each hour's end in words"`
	Days    []string `json:"days" doc:"each hour's day, as days are asked for"`
	Series  []Series `json:"series"`
}

// Cells is where hours lie on a picture [px, y downward].
type Cells struct {
	X       float64 `json:"x"`
	Y       float64 `json:"y"`
	Width   float64 `json:"width"`
	Height  float64 `json:"height"`
	Columns int     `json:"columns"`
	Lead    int     `json:"lead"`
}

// Series is what one thing came to hour by hour.
type Series struct {
	Name string    `json:"name"`
	Kind string    `json:"kind" doc:"of the quantity"`
	Unit string    `json:"unit" doc:"of what is told; empty: it has its own"`
	SI   []float64 `json:"si" doc:"to a thousandth; temperatures in °C"`
	Told []string  `json:"told"`
}

// PartsPicture is the section coloured by lowests, with what is told of each part.
type PartsPicture struct {
	Picture Picture `json:"picture"`
	Parts   []Part  `json:"parts" doc:"in the order in which they are drawn"`
}

// Part is one part of a section.
type Part struct {
	Name    string       `json:"name"`
	LowestC float64      `json:"lowest_c"`
	Told    string       `json:"told"`
	Outline [][2]float64 `json:"outline" doc:"on the picture [px, y downward]; two points are a line"`
}

// HeatBooks is the heat of the house over some days.
type HeatBooks struct {
	From    string    `json:"from"`
	Until   string    `json:"until"`
	Title   string    `json:"title"`
	Picture *Picture  `json:"picture,omitempty" doc:"left out where no heat moved"`
	Rows    []BookRow `json:"rows" doc:"by cause, netted by hour"`
	Sum     BookRow   `json:"sum"`
	Stored  []BookRow `json:"stored" doc:"more at the end, told as out"`
	Left    BookRow   `json:"left" doc:"in less out less stored"`
	Words   string    `json:"words" doc:"how stored was found, and what that says of the books"`
}

// BookRow is one line of a ledger.
type BookRow struct {
	Name string  `json:"name"`
	InJ  float64 `json:"in_j"`
	OutJ float64 `json:"out_j"`
	In   string  `json:"in" doc:"as told [kWh]"`
	Out  string  `json:"out"`
}

// details registers the requests.
func (s *Server) details(api huma.API) {
	detail(s, api, "spell", "Ten days of a winter as lines, the worst or from a day on", func(t report.Teller, a *winter.Answer, in *DetailRequest) (*HourPicture, error) {
		of, err := report.TenDays(a, in.From)
		if err != nil {
			return nil, err
		}
		return hourPicture(t.Spell(a, of))
	})
	detail(s, api, "sheet", "The winter sheet of a place", func(t report.Teller, a *winter.Answer, in *DetailRequest) (*HourPicture, error) {
		return hourPicture(t.Sheet(a, in.Place))
	})
	detail(s, api, "section", "The section coloured by the lowest of every place", func(t report.Teller, a *winter.Answer, _ *DetailRequest) (*PartsPicture, error) {
		return partsPicture(t, a)
	})
	detail(s, api, "heat", "The heat of the house over some days: in, out, stored, by cause", heatBooks)
	s.files(api)
}

// detail registers one request that a kept winter answers.
func detail[T any](s *Server, api huma.API, name, summary string, tell func(report.Teller, *winter.Answer, *DetailRequest) (*T, error)) {
	post(api, huma.Operation{OperationID: "winter-" + name, Path: "/api/winter/" + name, Summary: summary, Errors: []int{422, 503}},
		func(ctx context.Context, in *DetailRequest) (*T, error) {
			t, a, err := s.computed(ctx, in.winter())
			if err != nil {
				return nil, err
			}
			out, err := tell(t, a, in)
			if err != nil {
				return nil, huma.NewError(http.StatusUnprocessableEntity, err.Error())
			}
			return out, nil
		})
}

// winter is the request for the winter that a detail is of.
func (in *DetailRequest) winter() *AnswerRequest {
	return &AnswerRequest{Name: in.Name, Text: in.Text, View: in.View}
}

func hourPicture(h *report.ToldHours, err error) (*HourPicture, error) {
	if err != nil {
		return nil, err
	}
	p, err := pictureOf(report.Picture{Name: h.Name, List: h.List})
	if err != nil {
		return nil, err
	}
	c := h.Cells
	out := &HourPicture{From: h.From, Until: h.Until, Picture: *p, Cells: Cells{c.X, c.Y, c.Width, c.Height, c.Columns, c.Lead}, When: h.When, Days: h.Days}
	for _, s := range h.Series {
		si := make([]float64, len(s.SI))
		for i, v := range s.SI {
			si[i] = math.Round(v*1000) / 1000
		}
		out.Series = append(out.Series, Series{s.Name, s.Kind, s.Unit, si, s.Told})
	}
	return out, nil
}

func partsPicture(t report.Teller, a *winter.Answer) (*PartsPicture, error) {
	l, parts, err := t.SectionParts(a)
	if err != nil {
		return nil, err
	}
	p, err := pictureOf(report.Picture{Name: "section-lowest.svg", List: l})
	if err != nil {
		return nil, err
	}
	out := &PartsPicture{Picture: *p, Parts: []Part{}}
	for _, o := range parts {
		q := Part{Name: o.Name, LowestC: o.LowestC, Told: o.Told}
		for _, at := range o.Px {
			q.Outline = append(q.Outline, [2]float64{math.Round(at.X*10) / 10, math.Round(at.Y*10) / 10})
		}
		out.Parts = append(out.Parts, q)
	}
	return out, nil
}

func heatBooks(t report.Teller, a *winter.Answer, in *DetailRequest) (*HeatBooks, error) {
	of, err := report.HoursOfDays(a, in.From, in.Until)
	if err != nil {
		return nil, err
	}
	b, err := t.Books(a, of)
	if err != nil {
		return nil, err
	}
	out := &HeatBooks{Title: b.Title, Words: b.Words, Rows: bookRows(b.Rows), Stored: bookRows(b.Stored), Sum: bookRow(b.Sum), Left: bookRow(b.Left)}
	out.From, out.Until = report.FirstAndLast(a, of)
	if b.Empty() {
		return out, nil
	}
	p, err := t.BooksPicture(b, in.Columns)
	if err != nil {
		return nil, err
	}
	out.Picture, err = pictureOf(p)
	return out, err
}

func bookRow(r report.BookRow) BookRow { return BookRow{r.Name, r.InJ, r.OutJ, r.ToldIn, r.ToldOut} }

func bookRows(list []report.BookRow) []BookRow {
	out := []BookRow{}
	for _, r := range list {
		out = append(out, bookRow(r))
	}
	return out
}
