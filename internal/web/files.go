package web

import (
	"context"
	"io"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/report"
	"suncellar/internal/winter"
)

// FileRequest asks for a table of a winter as a file.
type FileRequest struct {
	DetailRequest
	Of string `json:"of" enum:"places,hours,heat,light,not-known,assumed"`
}

// files are tables of a winter as CSV, in SI with units in their heads: every hour of a winter is some megabytes, so it is written as it goes.
func (s *Server) files(api huma.API) {
	op := huma.Operation{OperationID: "winter-csv", Method: http.MethodPost, Path: "/api/winter/csv", Summary: "A table of a winter as CSV", Errors: []int{422, 503},
		Description: "Values are SI, with their units in the heads; instants are RFC 3339 with the offset of the plan's zone.",
		Responses:   map[string]*huma.Response{"200": {Description: "the table", Content: map[string]*huma.MediaType{"text/csv": {Schema: &huma.Schema{Type: "string"}}}}}}
	huma.Register(api, op, func(ctx context.Context, in *answered[FileRequest]) (*huma.StreamResponse, error) {
		t, a, err := s.computed(ctx, in.Body.winter())
		if err != nil {
			return nil, err
		}
		write, err := s.table(ctx, t, a, &in.Body)
		if err != nil {
			return nil, err
		}
		return &huma.StreamResponse{Body: func(c huma.Context) {
			c.SetHeader("Content-Type", "text/csv; charset=utf-8; header=present")
			if err := write(c.BodyWriter()); err != nil {
				s.Log.Warn("a table was not sent whole", "reason", err.Error())
			}
		}}, nil
	})
}

// table is how the table that is asked for is written.
func (s *Server) table(ctx context.Context, t report.Teller, a *winter.Answer, in *FileRequest) (func(io.Writer) error, error) {
	switch in.Of {
	case "places":
		return func(w io.Writer) error { return report.PlacesCSV(w, a) }, nil
	case "light":
		return func(w io.Writer) error { return report.LightCSV(w, a) }, nil
	case "assumed":
		return func(w io.Writer) error { return report.AssumedCSV(w, a) }, nil
	case "not-known":
		of, err := s.ofHouse(ctx, a)
		return func(w io.Writer) error { return report.NotKnownCSV(w, of) }, err
	}
	of, err := report.HoursOfDays(a, in.From, in.Until)
	if err != nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, err.Error())
	}
	if in.Of == "hours" {
		return func(w io.Writer) error { return report.HoursOver(w, a, of) }, nil
	}
	b, err := t.Books(a, of)
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return report.BooksCSV(w, a, of, b) }, nil
}
