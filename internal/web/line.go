package web

import (
	"context"
	"net/http"
	"runtime"

	"github.com/danielgtaylor/huma/v2"
)

// line lets as many long works run at once as there are cores; some more wait, the others are refused.
type line struct {
	seats, places chan struct{}
}

// waiting is how many works wait for each that runs.
const waiting = 8

func newLine() *line {
	n := runtime.GOMAXPROCS(0)
	return &line{seats: make(chan struct{}, n), places: make(chan struct{}, n*(1+waiting))}
}

// do does a work when its turn comes. Errors: the work's; ctx's; 503 where the line is full.
func (l *line) do(ctx context.Context, work func() error) error {
	select {
	case l.places <- struct{}{}:
		defer func() { <-l.places }()
	default:
		return huma.NewError(http.StatusServiceUnavailable, "more is asked at once than this machine computes; try again in a moment")
	}
	select {
	case l.seats <- struct{}{}:
		defer func() { <-l.seats }()
	case <-ctx.Done():
		return ctx.Err()
	}
	return work()
}
