package cli

import (
	"encoding/json"
	"fmt"
	"sync"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// note writes one line to standard error, in the format asked for.
func (a *app) note(level, text string) {
	if a.logFormat == "json" {
		line, _ := json.Marshal(struct {
			Level string `json:"level"`
			Text  string `json:"text"`
		}{level, text})
		fmt.Fprintf(a.Err, "%s\n", line)
		return
	}
	fmt.Fprintln(a.Err, text)
}

// When progress is shown.
const (
	barAfter  = time.Second
	lineEvery = 10 * time.Second
)

// progress shows how far a run is: a bar on a terminal once it takes over a second, else a plain line every ten seconds.
type progress struct {
	mu    sync.Mutex
	a     *app
	what  string
	begin time.Time
	last  time.Time
	box   *mpb.Progress
	bar   *mpb.Bar
}

func (a *app) progress(what string) *progress {
	now := time.Now()
	return &progress{a: a, what: what, begin: now, last: now}
}

// at is told how far the run is.
func (p *progress) at(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if total <= 0 {
		return
	}
	now := time.Now()
	if p.a.ErrTerminal && p.a.logFormat == "text" {
		if p.bar == nil && now.Sub(p.begin) >= barAfter {
			p.open()
		}
		if p.bar != nil {
			p.bar.SetCurrent(int64(min(done, total)) * barSteps / int64(total))
		}
		return
	}
	if now.Sub(p.last) >= lineEvery {
		p.last = now
		p.a.note("progress", fmt.Sprintf("%s: %d %%", p.what, 100*done/total))
	}
}

// barSteps is into how many parts a run is parted for its bar, and barColumns how wide that is at most.
const (
	barSteps   = 1000
	barColumns = 80
)

func (p *progress) open() {
	p.box = mpb.New(mpb.WithOutput(p.a.Err), mpb.WithWidth(min(p.a.ErrColumns, barColumns)), mpb.WithAutoRefresh())
	p.bar = p.box.New(barSteps, mpb.BarStyle().Lbound("[").Filler("=").Tip("=").Padding(" ").Rbound("]"),
		mpb.BarRemoveOnComplete(),
		mpb.PrependDecorators(decor.Name(p.what+" ")),
		mpb.AppendDecorators(decor.Percentage()))
}

// close takes the bar away.
func (p *progress) close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		return
	}
	p.bar.Abort(true)
	p.box.Wait()
	p.bar = nil
}
