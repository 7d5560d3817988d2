package report

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// FieldWorth tells what one more unit of one value of the plan does to the worst night: "1 cm more: +0.12 °C on the worst night". Where a step up and a step down do not mirror each other both are told.
func (t Teller) FieldWorth(w *worth.Worth) string {
	if w.Err != nil {
		return "One unit more or less cannot be had: " + reason(w.Err) + "."
	}
	const where = " on the worst night"
	one, in := w.One.SI, w.One.In
	if t.System == unit.US {
		one, in = w.One.US, w.One.Us
	}
	switch {
	case w.Switch:
		return t.signedFine(w.Per.LeafC) + where + ": " + w.Label + "."
	case w.HasMore && !w.HasLess:
		return in + " more: " + t.signedFine(w.More.LeafC*one) + where + "."
	case w.HasLess && !w.HasMore:
		return in + " less: " + t.signedFine(w.Less.LeafC*one) + where + "."
	case bent(w.More.LeafC*one, -w.Less.LeafC*one):
		return fmt.Sprintf("%s more: %s; %s less: %s%s.", in, t.signedFine(w.More.LeafC*one), in, t.signedFine(w.Less.LeafC*one), where)
	}
	return in + " more: " + t.signedFine(w.Per.LeafC*one) + where + "."
}

// bent tells whether what a unit more gives and what a unit less takes [K] lie too far apart for one figure to stand for both.
func bent(more, less float64) bool {
	return math.Abs(more-less) > 0.03 && math.Abs(more-less) > 0.3*math.Abs(more+less)/2
}

// signedFine is a difference of temperature to the hundredth; what rounds to nothing is told as such [K].
func (t Teller) signedFine(k float64) string {
	v := unit.InMain(unit.TemperatureDifference, k, t.System)
	degree := unit.Main(unit.TemperatureDifference, t.System)
	if math.Abs(v) < 0.005 {
		return "less than 0.01 " + degree + " either way"
	}
	return minus(signed(v, 2)) + " " + degree
}

// FieldsHeard says what the figures of single values are of, once above them.
func (t Teller) FieldsHeard(a *worth.UnitAnswer) string {
	return fmt.Sprintf("What a unit of a value does to the lowest of %s in this one winter, all else as planned, for small changes of this plan. No band is told with it.", strings.TrimSuffix(within(a.At.Leaf), ","))
}

// reason is what kept a changed plan from being one, without place and hint.
func reason(err error) string {
	var f plan.Finding
	if errors.As(err, &f) {
		return f.Message
	}
	return err.Error()
}
