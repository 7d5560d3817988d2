// Package unknown holds what is not known of a house: one table of prior spreads (priors.go), which the band of the first order (package
// worth) and random draws of whole houses both use. It says nothing of other winters.
//
// A spread is a map from so many standard deviations z to a value, with the plan's own value at z = 0:
//
//	a factor    x = x0 f^z      log-normal; f one factor below the plan's value and one above, mostly the same
//	a distance  x = x0 + s z    normal; s likewise
//
// z is a standard normal, cut at 3 where houses are drawn (Draw). The plan's own value is the median, and 8 in 10 houses lie between
// z = -1.2816 and z = 1.2816. A grower's own ends (key unknown of the plan) are taken as these 8 in 10: the band is told by that share
// too. Where they lie unevenly about the plan's value, each side has its own f or s; the median and both ends are then held exactly.
//
// Values beyond what a plan may hold are set to its limit, so that the limit is a little likelier than the curve has it. Draws do that and
// tell it (Settle); Changes leave it to the caller, whose steps have to be as long as they say.
package unknown

import (
	"math"
	"strconv"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// EightInTen is the standard normal deviate that 8 of 10 lie within.
const EightInTen = 1.2815515655446004

// Basis is what a spread stands on.
type Basis string

// The bases. No spread was found published: Trade is judged from figures that the trade gives.
const (
	Judgement Basis = "own judgement"
	Trade     Basis = "trade"
	Written   Basis = "the plan"
)

// Input is one thing that is not known of a house.
type Input struct {
	ID           string    // key of the plan below unknown
	Path         string    // first value of the plan that it sets
	Label        string    // in the trade's words
	At           float64   // that value as planned, in the unit of its kind; of snowfall 1, as it is times every fall
	Kind         unit.Kind // of At
	Distribution string    // log-normal or normal, as the package says
	Words        string    // one standard deviation in words
	Source       string    // where the spread is from
	Basis        Basis
	On           bool // false: the plan says that it is known
	Snow         bool // it acts by snow that falls: of no use where runs share the snow of another

	spread spread
	late   bool // its values follow from others that are not known: it is set after them
	p      *plan.Plan
	values func(*plan.Plan) []value
}

// value is a number of the plan that an input sets.
type value struct {
	path string
	at   float64
	held bool // it goes along with the first, and stays within what a plan may hold without being asked
}

// Of lists what is not known of a house, in a fixed order: also what the plan switches off, so that draws for two plans can be compared.
func Of(p *plan.Plan, h *house.House) []Input {
	var list []Input
	for i := range priors {
		r := &priors[i]
		values := r.values(p)
		if len(values) == 0 || r.of != nil && !r.of(p, h) || r.spread.log() && values[0].at <= 0 {
			continue
		}
		in := Input{ID: r.id, Path: values[0].path, Label: r.label, At: values[0].at, Kind: r.kind, Distribution: r.spread.word(), Words: r.words, Source: r.source, Basis: r.basis,
			On: true, Snow: r.id == "snowfall", spread: r.spread, late: r.late, p: p, values: r.values}
		if v, ok := p.Origins.At(in.Path); ok && v.Quantity.Kind != 0 {
			in.Kind = v.Quantity.Kind
		}
		if in.Snow {
			in.At, in.Kind = 1, unit.Ratio
		}
		in.written(p.Unknown.Of(r.id))
		list = append(list, in)
	}
	return list
}

// written takes what the plan itself says.
func (in *Input) written(s *plan.Spread) {
	switch {
	case s == nil:
		return
	case s.Off:
		in.On, in.Words, in.Basis, in.Source = false, "off", Written, "the plan takes its value as known"
		return
	}
	low, high := s.Low, s.High
	if s.Path == "" {
		low, high = low*in.At, high*in.At
	}
	in.spread = in.spread.between(in.At, low, high)
	in.Words, in.Basis = in.spread.words(), Written
	in.Source = "the plan: " + s.Text + ", taken as 8 in 10 houses"
}

// Value is the first value at so many standard deviations, within what a plan may hold; of snowfall it is times every fall.
func (in *Input) Value(z float64) float64 {
	x := in.spread.value(in.At, z)
	if in.Snow {
		return x
	}
	return within(in.Path, x)
}

// Changes makes the plan so many standard deviations otherwise: none for z = 0, or where the input is switched off. Those that go along
// with it, such as layers of soil, move by as many of theirs.
func (in *Input) Changes(z float64) []plan.Change {
	if z == 0 || !in.On {
		return nil
	}
	var list []plan.Change
	for _, v := range in.values(in.p) {
		x := in.spread.value(v.at, z)
		if v.held {
			x = within(v.path, x)
		}
		list = append(list, write(in.p, v.path, x))
	}
	return list
}

// within holds a value to what the plan allows.
func within(path string, x float64) float64 {
	low, high, ok := plan.Allowed(path)
	if !ok {
		panic("unknown: " + path + " is no number of a plan")
	}
	return math.Min(high, math.Max(low, x))
}

// write sets a number in the unit the plan uses there, or bare where it does not stand there yet.
func write(p *plan.Plan, path string, x float64) plan.Change {
	if _, stands := p.Origins.At(path); !stands {
		text := strconv.FormatFloat(x, 'g', -1, 64)
		if strings.HasSuffix(path, ".conductivity") {
			text += " W/mK"
		}
		return plan.Change{Path: path, Value: text, Origin: plan.Changed}
	}
	c, err := p.Written(path, x)
	if err != nil {
		panic("unknown: " + err.Error())
	}
	return c
}
