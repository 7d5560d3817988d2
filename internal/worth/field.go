package worth

import (
	"context"
	"slices"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// Fields answers what one more unit of single values of a plan is worth, one after the other: what they have in common, the plan's own run through the
// weeks round its worst night, is made once.
type Fields struct{ own *perUnit }

// NewFields makes that run. The plan's own winter has to be there (req.First); of the other wishes of the request none are asked.
func NewFields(ctx context.Context, req UnitRequest) (*Fields, error) {
	if req.First == nil {
		panic("worth: no winter of the plan")
	}
	u := &perUnit{req: UnitRequest{Plan: req.Plan, First: req.First, NoHalves: true, AtOnce: req.AtOnce}, a: &UnitAnswer{First: req.First}}
	if err := u.prepare(); err != nil {
		return nil, err
	}
	if err := u.own(ctx, nil); err != nil {
		return nil, err
	}
	return &Fields{u}, nil
}

// Of is the answer for one value: with one row, or with none where more or less of it cannot be had. It may be asked from several goroutines at once.
func (f *Fields) Of(ctx context.Context, path string) (*UnitAnswer, error) {
	u, a := *f.own, *f.own.a
	u.a, u.req.Field = &a, path
	u.choose()
	for i := range u.trials {
		if !u.stretch.Same(u.trials[i].plan) { // it would be another winter
			return u.a, nil
		}
	}
	if err := u.run(ctx, newCounter(1+len(u.trials), nil)); err != nil {
		return nil, err
	}
	u.rows()
	return u.a, nil
}

// parts are those of a plan whose numbers are asked after singly: what is built, and the soil. Place, climate, snow and the days of a run are not a choice.
var parts = []string{"materials", "glazings", "builds", "shape", "section", "ends", "doors", "windows", "frame", "leakage", "cover", "vents", "store.rows", "beds", "cold_sink", "ground", "tubes", "surfaces", "site.soil"}

// FieldParameter is the parameter of one value of the plan: the one that Parameters lists for it, else for any number of what is built one of its own, by the unit of its kind.
func FieldParameter(p *plan.Plan, h *house.House, path string) (Parameter, bool) {
	list := Parameters(p, h)
	if i := slices.IndexFunc(list, func(q Parameter) bool { return q.ID == path && q.Kind == Build }); i >= 0 {
		return list[i], true
	}
	v, ok := p.Origins.At(path)
	built := slices.ContainsFunc(parts, func(part string) bool {
		rest, is := strings.CutPrefix(path, part)
		return is && rest != "" && strings.ContainsAny(rest[:1], ".[_")
	})
	if !ok || !built || v.Quantity.Kind == 0 {
		return Parameter{}, false
	}
	q := Parameter{ID: path, Label: words(path), Kind: Build, At: v.Quantity.SI}
	if q.One, ok = oneOf(v.Quantity); !ok {
		return Parameter{}, false
	}
	t := &things{p: p, h: h}
	q.set = t.at(path)
	switch q.Step = stepOf(q.At, q.One); {
	case v.Quantity.Kind == unit.Count:
		q.Whole, q.Step = true, 1
	case q.At <= 0 || v.Quantity.Kind == unit.Temperature:
		q.Step = q.One.SI
	}
	return q, true
}

// thin is the length up to which a thing is measured by its thickness [m].
const thin = 0.3

// oneOf is one unit of a quantity, by what is bought or dug at once; of a kind that nobody buys by the unit a tenth of it. false: there is none of it.
func oneOf(q unit.Quantity) (Amount, bool) {
	switch q.Kind {
	case unit.Length:
		if q.SI < thin {
			return oneThick, true
		}
		return oneFar, true
	case unit.Area:
		return oneVent, true
	case unit.Angle:
		return oneSlope, true
	case unit.Share, unit.Moisture:
		return fivePart, true
	case unit.Resistance:
		return oneR, true
	case unit.Temperature, unit.TemperatureDifference:
		return oneCold, true
	case unit.Count:
		return Amount{1, "1", 1, "1"}, true
	}
	tenth := 0.1 * q.SI
	return Amount{tenth, "a tenth", tenth, "a tenth"}, tenth > 0
}
