package drawing

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"suncellar/internal/draw"
)

// Return is how cold one place gets in one winter of so many.
type Return struct {
	Title    string
	Sentence string
	Place    string
	Kind     Kind
	Points   []ReturnPoint // the commonest first, each colder than or as cold as the one before
	LowestC  []float64     // lowest of each winter that was run, in any order; may be empty [°C]
}

// ReturnPoint is the temperature that one winter in so many falls to or below.
type ReturnPoint struct {
	OneIn float64 // winters, above 1
	C     float64 // [°C]
	LoC   float64 // colder end of its error; NaN: open, colder is possible [°C]
	HiC   float64 // warmer end [°C]
}

// colderPossible is said where the colder end of an error is open.
const colderPossible = "colder is possible"

// DrawReturn draws the lowest temperature over one winter in so many, spaced by
// the logarithm of the number: points with their error as whiskers, an open end
// as an arrow. At the left, on the same axis, stands the lowest of every
// winter: as points, the warmest first, on a narrow sheet as ticks. A value
// that has no room beside its point is said below the picture.
//
// Points rarer than the winters that were run are reached by a broken line and
// said to be beyond them.
//
// Errors: no point; winters that are not above 1 or do not rise; temperatures
// that are not finite, or rise; an error that does not hold its value.
func DrawReturn(in Return, f Frame) (*draw.List, error) {
	p, err := newPage("return", f)
	if err != nil {
		return nil, err
	}
	if err := in.check(); err != nil {
		return nil, fmt.Errorf("return: %w", err)
	}
	p.heading(in.Title, in.Sentence)
	p.l.Desc = strings.TrimSpace(p.l.Desc + " " + in.words(p.u))
	c := newReturnChart(p, in)
	c.plot()
	return p.finish(), nil
}

func (in Return) check() error {
	if len(in.Points) == 0 {
		return fmt.Errorf("no point, must have one or more")
	}
	for i, pt := range in.Points {
		if !(pt.OneIn > 1) || math.IsInf(pt.OneIn, 0) {
			return fmt.Errorf("one winter in %g, must be above 1 and finite", pt.OneIn)
		}
		if math.IsNaN(pt.C+pt.HiC) || math.IsInf(pt.C, 0) || math.IsInf(pt.HiC, 0) || math.IsInf(pt.LoC, 0) {
			return fmt.Errorf("one winter in %g: %g °C (%g to %g), must be finite; only the lower end may be open (NaN)", pt.OneIn, pt.C, pt.LoC, pt.HiC)
		}
		if pt.LoC > pt.C || pt.HiC < pt.C {
			return fmt.Errorf("one winter in %g: %g °C lies outside its error %g to %g °C", pt.OneIn, pt.C, pt.LoC, pt.HiC)
		}
		if i == 0 {
			continue
		}
		if before := in.Points[i-1]; pt.OneIn <= before.OneIn || pt.C > before.C {
			return fmt.Errorf("one winter in %g is %g °C after one in %g with %g °C, must be rarer and no warmer", pt.OneIn, pt.C, before.OneIn, before.C)
		}
	}
	for i, v := range in.LowestC {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("lowest of winter %d is %g °C, must be finite", i+1, v)
		}
	}
	return nil
}

func (pt ReturnPoint) open() bool { return math.IsNaN(pt.LoC) }

// winters is a number of winters without idle decimals.
func (pt ReturnPoint) winters() string {
	return strings.TrimSuffix(figure(pt.OneIn, 1), ".0")
}

// tip tells a point with its error.
func (pt ReturnPoint) tip(u Units) string {
	out := fmt.Sprintf("one winter in %s: %s or below", pt.winters(), u.temp(pt.C))
	if pt.open() {
		return out + fmt.Sprintf(" (at most %s; %s)", u.temp(pt.HiC), colderPossible)
	}
	return out + fmt.Sprintf(" (%s to %s)", u.temp(pt.LoC), u.temp(pt.HiC))
}

// beyond tells that a point is rarer than the winters that were run can show.
func (in Return) beyond(i int) bool {
	return len(in.LowestC) > 0 && in.Points[i].OneIn > float64(len(in.LowestC))
}

func (in Return) anyOpen() bool {
	return slices.ContainsFunc(in.Points, ReturnPoint.open)
}

// words tells every point for those who cannot see the picture.
func (in Return) words(u Units) string {
	var out []string
	for _, pt := range in.Points {
		out = append(out, pt.tip(u))
	}
	said := in.Place + ": " + strings.Join(out, ", ") + "."
	if n := len(in.LowestC); n > 0 {
		said += fmt.Sprintf(" Coldest of %d winters: %s.", n, u.temp(slices.Min(in.LowestC)))
	}
	return said
}

// sorted returns the lowest of each winter, the warmest first.
func (in Return) sorted() []float64 {
	out := append([]float64{}, in.LowestC...)
	sort.Sort(sort.Reverse(sort.Float64Slice(out)))
	return out
}
