package web

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/folder"
)

// PlanList is what the folder holds.
type PlanList struct {
	Folder string      `json:"folder" doc:"its path, for people"`
	Plans  []PlanEntry `json:"plans"`
}

// PlanEntry is one plan of the list.
type PlanEntry struct {
	Name     string    `json:"name"`
	Bytes    int64     `json:"bytes"`
	Modified time.Time `json:"modified"`
}

// PlanText is a plan as it lies on the disk.
type PlanText struct {
	Name     string `json:"name"`
	Text     string `json:"text"`
	Revision string `json:"revision" doc:"tells this text from others; goes along when it is replaced"`
}

// PlanWrite is a text that is to be kept.
type PlanWrite struct {
	Text     string `json:"text" maxLength:"1048576"`
	Revision string `json:"revision" doc:"of the text that is replaced; empty for a plan that is not there yet"`
}

type named struct {
	Name string `path:"name" maxLength:"120"`
}

type answered[T any] struct{ Body T }

// post registers a request that has a body and is answered with one.
func post[In, Out any](api huma.API, op huma.Operation, do func(context.Context, *In) (*Out, error)) {
	op.Method = http.MethodPost
	huma.Register(api, op, func(ctx context.Context, in *answered[In]) (*answered[Out], error) {
		out, err := do(ctx, &in.Body)
		if err != nil {
			return nil, err
		}
		return &answered[Out]{*out}, nil
	})
}

// quick is a request that nothing has to be computed for, so that nobody has to wait for it to be stopped.
func quick[In, Out any](do func(*In) (*Out, error)) func(context.Context, *In) (*Out, error) {
	return func(_ context.Context, in *In) (*Out, error) { return do(in) }
}

// plans are the plans of the folder: listed, read, written.
func (s *Server) plans(api huma.API) {
	huma.Register(api, huma.Operation{OperationID: "list-plans", Method: http.MethodGet, Path: "/api/plans", Summary: "The plans of the folder"},
		func(context.Context, *struct{}) (*answered[PlanList], error) {
			entries, err := s.Plans.List()
			if err != nil {
				return nil, s.failed(err)
			}
			out := PlanList{Folder: s.Plans.Path(), Plans: []PlanEntry{}}
			for _, e := range entries {
				out.Plans = append(out.Plans, PlanEntry(e))
			}
			return &answered[PlanList]{out}, nil
		})
	huma.Register(api, huma.Operation{OperationID: "read-plan", Method: http.MethodGet, Path: "/api/plans/{name}", Summary: "A plan's text; of a list of prices that is not there, none and no revision", Errors: []int{404}},
		func(_ context.Context, in *named) (*answered[PlanText], error) {
			f, err := s.Plans.Read(in.Name)
			if in.Name == folder.Prices && errors.Is(err, fs.ErrNotExist) { // a folder may have none: that is no fault
				return &answered[PlanText]{PlanText{Name: in.Name}}, nil
			}
			if err != nil {
				return nil, s.failed(err)
			}
			return &answered[PlanText]{textOf(f)}, nil
		})
	huma.Register(api, huma.Operation{OperationID: "write-plan", Method: http.MethodPut, Path: "/api/plans/{name}", Summary: "Keep a plan's text on the disk",
		Description: "Answers when the text is on the disk. Where the plan was changed meanwhile nothing is written, and the answer (409) has what lies there.", Errors: []int{409, 507}},
		func(_ context.Context, in *struct {
			Name string `path:"name" maxLength:"120"`
			Body PlanWrite
		}) (*answered[PlanText], error) {
			f, err := s.Plans.Write(in.Name, []byte(in.Body.Text), folder.Revision(in.Body.Revision))
			if err != nil {
				return nil, s.failed(err)
			}
			return &answered[PlanText]{textOf(f)}, nil
		})
}

func textOf(f folder.File) PlanText { return PlanText{f.Name, string(f.Text), string(f.Revision)} }

// Conflict is the error of a plan that was changed meanwhile, with what lies on the disk.
type Conflict struct {
	huma.ErrorModel
	Disk *PlanText `json:"disk,omitempty" doc:"what lies there; left out where the plan was taken away"`
}

// failed gives an error of the folder its status.
func (s *Server) failed(err error) error {
	var conflict *folder.ConflictError
	var name *folder.NameError
	switch {
	case errors.As(err, &conflict):
		c := &Conflict{ErrorModel: huma.ErrorModel{Title: http.StatusText(http.StatusConflict), Status: http.StatusConflict, Detail: err.Error()}}
		if conflict.Disk.Text != nil {
			t := textOf(conflict.Disk)
			c.Disk = &t
		}
		return c
	case errors.As(err, &name):
		return huma.NewError(http.StatusNotFound, err.Error())
	case errors.Is(err, fs.ErrNotExist):
		return huma.NewError(http.StatusNotFound, err.Error())
	}
	s.Log.Error("the folder of plans", "reason", err.Error())
	return huma.NewError(http.StatusInsufficientStorage, err.Error())
}
