package web

import (
	"context"
	"errors"
	"net/http"
	"runtime"
	"sync"

	"github.com/danielgtaylor/huma/v2"
)

// line lets as many long works run at once as there are cores; some more wait, the others are refused.
type line struct {
	seats, places chan struct{}

	mu      sync.Mutex
	waiting int                // works that somebody waits for
	idle    context.CancelFunc // ends the work that is done while nobody waits; nil: there is none
}

// waiting is how many works wait for each that runs.
const waiting = 8

func newLine() *line {
	n := runtime.GOMAXPROCS(0)
	return &line{seats: make(chan struct{}, n), places: make(chan struct{}, n*(1+waiting))}
}

// errGivesWay is the error of a work that is only done while nobody waits for another.
var errGivesWay = errors.New("somebody waits for another answer")

// do does a work that somebody waits for: what is done while nobody waits ends at once.
func (l *line) do(ctx context.Context, work func() error) error {
	l.mu.Lock()
	l.waiting++
	if l.idle != nil {
		l.idle()
	}
	l.mu.Unlock()
	defer func() {
		l.mu.Lock()
		l.waiting--
		l.mu.Unlock()
	}()
	return l.seated(ctx, work)
}

// whileIdle does a work while nobody waits for another. It has no seat: whoever comes ends it. Errors: the work's; errGivesWay.
func (l *line) whileIdle(ctx context.Context, work func(context.Context) error) error {
	mine, cancel := context.WithCancel(ctx)
	defer cancel()
	l.mu.Lock()
	if l.waiting > 0 || l.idle != nil {
		l.mu.Unlock()
		return errGivesWay
	}
	l.idle = cancel
	l.mu.Unlock()
	defer func() {
		l.mu.Lock()
		l.idle = nil
		l.mu.Unlock()
	}()
	err := work(mine)
	if ctx.Err() == nil && mine.Err() != nil {
		return errGivesWay
	}
	return err
}

// seated does a work when its turn comes. Errors: the work's; ctx's; 503 where the line is full.
func (l *line) seated(ctx context.Context, work func() error) error {
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
