package worth

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"suncellar/internal/plan"
)

// steps is how the derivative of a parameter is taken.
type steps struct {
	h, half float64 // [in the parameter's measure]; half 0: not run
	notes   []string
	err     error
}

// choose takes the parameters, a step for each that the plan's rules allow, and with them all runs.
func (u *perUnit) choose() {
	if u.req.Field != "" {
		if p, ok := FieldParameter(u.req.Plan, u.whole.House, u.req.Field); ok {
			u.params = append(u.params, p)
			u.steps = append(u.steps, u.stepsOf(0))
		}
		return
	}
	for _, p := range Parameters(u.req.Plan, u.whole.House) {
		if (u.req.Kinds == nil || slices.Contains(u.req.Kinds, p.Kind)) && (u.req.Only == nil || slices.Contains(u.req.Only, p.ID)) {
			u.params = append(u.params, p)
		}
	}
	for i := range u.params {
		u.steps = append(u.steps, u.stepsOf(i))
	}
}

// halvings is how often a step that the rules of the plan forbid is halved.
const halvings = 2

// stepsOf finds the runs of a parameter: both sides at its step; else both at a smaller one; else one side.
func (u *perUnit) stepsOf(i int) steps {
	p := &u.params[i]
	if p.Switch {
		t, bad := u.trial(i, 1)
		if bad == nil {
			u.trials = append(u.trials, t)
		}
		return steps{h: 1, err: bad}
	}
	var broken error
	for _, h := range p.ladder() {
		up, badUp := u.trial(i, h)
		down, badDown := u.trial(i, -h)
		if badUp == nil && badDown == nil {
			return u.take(i, h, broken, up, down)
		}
		broken = cmp.Or(broken, badUp, badDown)
	}
	for _, h := range p.ladder() {
		for _, dx := range []float64{h, -h} {
			if t, bad := u.trial(i, dx); bad == nil {
				return u.take(i, h, broken, t)
			}
		}
	}
	return steps{err: broken}
}

// ladder is the steps that are tried, the largest first.
func (p *Parameter) ladder() []float64 {
	var list []float64
	for h := p.Step; h > 0 && len(list) <= halvings; h = p.half(h) {
		list = append(list, h)
	}
	return list
}

// half is half a step, 0 where there is none.
func (p *Parameter) half(h float64) float64 {
	if p.Whole {
		return float64(int(h / 2))
	}
	return h / 2
}

// take keeps the runs of a step, and those of its half.
func (u *perUnit) take(i int, h float64, broken error, sides ...trial) steps {
	p := &u.params[i]
	s := steps{h: h}
	if !u.req.NoHalves {
		s.half = p.half(h)
	}
	u.trials = append(u.trials, sides...)
	if s.half > 0 {
		for _, t := range sides {
			if half, bad := u.trial(i, math.Copysign(s.half, t.dx)); bad == nil {
				u.trials = append(u.trials, half)
			}
		}
	}
	switch {
	case broken != nil && len(sides) == 2:
		s.notes = append(s.notes, fmt.Sprintf("half the usual step, or less: %s", first(broken)))
	case broken != nil && sides[0].dx > 0:
		s.notes = append(s.notes, fmt.Sprintf("taken towards more only: %s", first(broken)))
	case broken != nil:
		s.notes = append(s.notes, fmt.Sprintf("taken towards less only: %s", first(broken)))
	}
	return s
}

// first is the first of joined findings without its place.
func first(err error) string {
	if many, ok := err.(interface{ Unwrap() []error }); ok && len(many.Unwrap()) > 0 {
		err = many.Unwrap()[0]
	}
	if f, ok := err.(plan.Finding); ok {
		return f.Message
	}
	return err.Error()
}

// trial makes the plan with a parameter moved by dx, and checks it as a file would be.
func (u *perUnit) trial(i int, dx float64) (trial, error) {
	p := &u.params[i]
	changes := p.Set(p.At + dx)
	if u.req.Plan.Unknown != (plan.Unknown{}) {
		changes = append(changes, plan.Change{Path: "unknown", Value: "none", Origin: plan.Changed}) // a run is of one house; its ends hold the plan's value, not this one
	}
	changed, findings := (Request{Plan: u.req.Plan, Year: u.req.Year}).read(Variant{Changes: changes})
	if err := plan.AsError(findings); err != nil {
		return trial{}, err
	}
	return trial{of: i, dx: dx, plan: changed}, nil
}
