package cli

import (
	"errors"
	"fmt"
	"os"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/record"
	"suncellar/internal/unknown"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// planOptions is how a plan is read.
type planOptions struct {
	sets []string // path=value
	year bool     // a weather file is given
}

// readPlan reads a plan with its changes. Warnings are told; errors are returned all at once.
func (a *app) readPlan(path string, o planOptions) (*plan.Plan, []plan.Finding, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, fmt.Errorf("reading the plan: %w", plainPath(err))
	}
	return a.loadPlan(path, text, o)
}

// loadPlan checks the text of a plan, the geometry of its house with it.
func (a *app) loadPlan(name string, text []byte, o planOptions) (*plan.Plan, []plan.Finding, error) {
	changes, err := parseChanges("--set", o.sets)
	if err != nil {
		return nil, nil, err
	}
	known := house.Known()
	known.Weather = o.year
	p, findings := plan.Load(name, text, known, changes...)
	if p != nil {
		h, more := house.Resolve(p)
		findings = append(findings, more...)
		if !plan.Failed(more) {
			findings = append(findings, unknown.Idle(p, h)...)
		}
	}
	return p, findings, input(plan.AsError(findings))
}

// parseChanges reads path=value texts, all at once.
func parseChanges(flag string, texts []string) ([]plan.Change, error) {
	var changes []plan.Change
	var bad []error
	for _, text := range texts {
		c, err := plan.ParseChange(text)
		if err != nil {
			bad = append(bad, fmt.Errorf("%s: %w", flag, err))
			continue
		}
		changes = append(changes, c)
	}
	return changes, input(errors.Join(bad...))
}

// warn tells the findings that do not keep a plan from being computed.
func (a *app) warn(findings []plan.Finding) {
	for _, f := range findings {
		if f.Severity == plan.Warning {
			a.note("warning", f.Error())
		}
	}
}

// readYear reads a weather file, "" gives nil: then weather is made from the plan's climate.
func (a *app) readYear(path string, p *plan.Plan) (*weather.Series, error) {
	if path == "" {
		return nil, nil
	}
	var o weather.ReadOptions
	if p != nil {
		o = weather.ReadOptions{UTCOffset: time.Duration(p.Site.TimeZone.OffsetS) * time.Second, ZoneGiven: true}
	}
	s, err := weather.Open(path, o)
	if err != nil {
		return nil, plainPath(err)
	}
	return &s, nil
}

// openRecord reads a long record; what it does not tell of its place is the plan's.
func (a *app) openRecord(path string, p *plan.Plan) (*record.Record, error) {
	r, err := record.Open(path, record.Options{Place: winter.PlaceOf(p), UTCOffset: time.Duration(p.Site.TimeZone.OffsetS) * time.Second, ZoneGiven: true})
	return r, plainPath(err)
}

// plainPath leaves the system call out of the message of a file error.
func plainPath(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return fmt.Errorf("%s: %w", p.Path, p.Err)
	}
	return err
}

// parseDay reads 10-01 as the plan does; "" gives nil.
func parseDay(flag, text string) (*plan.Date, error) {
	if text == "" {
		return nil, nil
	}
	t, err := time.Parse("01-02", text)
	if err != nil {
		return nil, usage("write it as 10-01, month before day", "%s is %q, must be a month and a day", flag, text)
	}
	if t.Month() == 2 && t.Day() == 29 {
		return nil, usage("write 02-28", "%s is %q, a day of leap years only", flag, text)
	}
	return &plan.Date{Month: int(t.Month()), Day: t.Day()}, nil
}
