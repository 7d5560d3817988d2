package worth

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Compare answers a request.
//
// Variants that cannot be computed do not stop the others: the answer is then whole but for their rows, and the error joins theirs,
// each a *ChangeError. Where the first plan cannot be computed, or ctx ends, there is no answer.
func Compare(ctx context.Context, req Request, progress winter.Progress) (*Answer, error) {
	if req.Plan == nil {
		panic("worth: no plan")
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	c := &comparison{req: req, year: req.Year, count: newCounter(1+len(req.Variants), progress)}
	if err := c.prepareFirst(); err != nil {
		return nil, err
	}
	rows := make([]Row, len(req.Variants))
	for i, v := range req.Variants {
		rows[i].Variant = v
	}
	var firstErr error
	err := winter.AtOnce(ctx, 1+len(rows), req.AtOnce, func(i int) {
		progress := c.count.of(i)
		if i > 0 {
			c.run(ctx, &rows[i-1], progress)
			return
		}
		if c.first, firstErr = c.prepared.Answer(ctx, progress); firstErr != nil {
			cancel() // nothing to compare with
		} else if progress != nil {
			progress(1, 1)
		}
	})
	if firstErr != nil {
		return nil, firstErr
	}
	if err != nil {
		return nil, err
	}
	return c.answer(rows)
}

// comparison is one request on its way.
type comparison struct {
	req      Request
	year     *weather.Series // that all share
	made     bool            // from the first plan's normals
	prepared *winter.Prepared
	first    *winter.Answer
	count    *counter
}

// prepareFirst makes the weather once, and refuses a place that the first plan does not have before anything is run.
func (c *comparison) prepareFirst() error {
	p := c.req.Plan
	if c.year == nil && p.Climate != nil {
		made, err := winter.Make(p, uint64(p.Run.Seed))
		if err != nil {
			return err
		}
		c.year, c.made = &made, true
	}
	var err error
	if c.prepared, err = c.prepare(p, c.year); err != nil {
		return err
	}
	c.prepared.Made = c.made
	if c.req.Place == "" {
		return nil
	}
	g, err := greenhouse.New(c.prepared.House, c.prepared.Setup()) // a hundredth of a winter, and only where a place is named
	if err != nil {
		return err
	}
	return winter.HasPlace(g, c.req.Place, "")
}

func (c *comparison) prepare(p *plan.Plan, year *weather.Series) (*winter.Prepared, error) {
	return winter.Prepare(winter.Request{Plan: p, Year: year, From: c.req.From, Until: c.req.Until, Control: c.req.Control})
}

// run computes one variant's winter.
func (c *comparison) run(ctx context.Context, row *Row, progress winter.Progress) {
	fail := func(err error) { row.Err = &ChangeError{row.Variant.Name(), err} }
	if progress != nil {
		defer progress(1, 1)
	}
	p, findings := c.req.read(row.Variant)
	row.Findings = findings
	if err := plan.AsError(findings); err != nil {
		fail(err)
		return
	}
	year := c.year
	if c.made && changesWeather(row.Variant) {
		year = nil
		row.Notes = append(row.Notes, "the change is of what weather is made from: this plan runs through a made winter of its own")
	}
	prepared, err := c.prepare(p, year)
	if err != nil {
		fail(err)
		return
	}
	prepared.Made = c.made
	if row.Winter, err = prepared.Answer(ctx, progress); err != nil {
		fail(err)
	}
}

// changesWeather tells whether the winter that is made from a plan's normals would be another one.
func changesWeather(v Variant) bool {
	return slices.ContainsFunc(v.Changes, func(c plan.Change) bool {
		for _, of := range []string{"climate", "run.seed", "site.latitude", "site.longitude", "site.elevation", "site.time_zone"} {
			if rest, ok := strings.CutPrefix(c.Path, of); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
				return true
			}
		}
		return false
	})
}

// answer puts the rows beside the first plan.
func (c *comparison) answer(rows []Row) (*Answer, error) {
	a := &Answer{First: c.first, LimitC: c.first.LimitC, Rows: rows, Simplified: c.first.Simplified, Cautions: slices.Clone(c.first.Cautions)}
	if a.Place = c.req.Place; a.Place == "" {
		if c.first.Watched < 0 {
			return nil, fmt.Errorf("the plan has no place to compare at")
		}
		a.Place = c.first.Places[c.first.Watched].Name
	}
	a.base()
	var bad []error
	for i := range rows {
		if rows[i].Err != nil {
			bad = append(bad, rows[i].Err)
			continue
		}
		a.compare(&rows[i])
		a.caution(rows[i].Winter.Cautions)
	}
	return a, errors.Join(bad...)
}

// caution adds the cautions of a variant that the first plan has not: they stand where the result stands.
func (a *Answer) caution(list []string) {
	for _, c := range list {
		if !slices.Contains(a.Cautions, c) {
			a.Cautions = append(a.Cautions, c)
		}
	}
}
