package winter

import (
	"context"
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// Answer is what a winter came to.
type Answer struct {
	*Prepared
	Result     *greenhouse.Result // the colder one where two snow cases were run
	SnowCase   string             // in words: as snow falls; bare; snow lying
	Other      *greenhouse.Result // the milder snow case, nil when there was one run
	OtherCase  string
	Places     []Place
	Watched    int // index in Places of the place that is told first, -1 none
	LimitC     float64
	Spell      Span // the worst ten days
	Heat       Heat
	Old        *Old    // nil where it was not asked for, or the house touches no soil
	Tubes      []Tubes // one a row of buried tubes
	Simplified []Simplification
	Assumed    []plan.Value
	Cautions   []string
}

// Span is a stretch of recorded hours, From included and To not.
type Span struct{ From, To int }

// Place is one place's winter.
type Place struct {
	Name            string
	Kind            greenhouse.PlaceKind
	HeightM         float64 // above the floor; for soil see DepthM
	DepthM          float64 // below the top of the bed, for soil
	InSoil          bool
	LowestC         float64
	LowestAt        time.Time
	HighestC        float64
	MeanC           float64
	HoursBelowZero  int
	KhBelowZero     float64 // degree-hours below 0 °C [K h]
	HoursBelowLimit int
	KhBelowLimit    float64
}

// Run answers a request. Where snowfall is not known, the house is run bare and with snow lying through the coldest ten days, and
// the colder is told first.
func Run(ctx context.Context, req Request, progress Progress) (*Answer, error) {
	p, err := Prepare(req)
	if err != nil {
		return nil, err
	}
	return p.Answer(ctx, progress)
}

// Answer runs what was prepared.
func (p *Prepared) Answer(ctx context.Context, progress Progress) (*Answer, error) {
	a := &Answer{Prepared: p, LimitC: p.Plan.Run.Limit, Watched: -1}
	var err error
	if p.SnowKnown || !greenhouse.HoldsSnow(p.House) {
		snow := greenhouse.SnowFalls
		a.SnowCase = "as snow falls"
		if !p.SnowKnown {
			snow, a.SnowCase = greenhouse.SnowNever, "glazing bare"
		}
		if a.Result, err = p.Simulate(ctx, snow, progress); err != nil {
			return nil, err
		}
	} else if err = a.bothSnows(ctx, progress); err != nil {
		return nil, err
	}
	for i := range a.Result.Traces {
		a.Places = append(a.Places, a.place(&a.Result.Traces[i]))
	}
	if err := a.watch(); err != nil {
		return nil, err
	}
	a.Spell = a.worstSpell()
	a.Heat = heatOf(a.Result)
	if p.req.Old {
		if a.Old, err = p.old(ctx, a.Snow(), progress); err != nil {
			return nil, err
		}
	}
	a.Tubes = tubes(a.Result, a.lowestAt())
	a.Simplified = simplifications()
	a.Assumed = p.Plan.Assumed()
	a.Cautions = cautions(a)
	return a, nil
}

// Snow is the snow case of Result.
func (a *Answer) Snow() greenhouse.SnowCase {
	switch a.SnowCase {
	case "as snow falls":
		return greenhouse.SnowFalls
	case "snow lying":
		return greenhouse.SnowLies
	}
	return greenhouse.SnowNever
}

func (a *Answer) bothSnows(ctx context.Context, progress Progress) error {
	half := func(first int) Progress {
		if progress == nil {
			return nil
		}
		return func(done, total int) { progress(first*total+done, 2*total) }
	}
	bare, err := a.Simulate(ctx, greenhouse.SnowNever, half(0))
	if err != nil {
		return err
	}
	lying, err := a.Simulate(ctx, greenhouse.SnowLies, half(1))
	if err != nil {
		return err
	}
	a.Result, a.SnowCase, a.Other, a.OtherCase = bare, "glazing bare", lying, "snow lying"
	if coldest(lying) < coldest(bare) {
		a.Result, a.SnowCase, a.Other, a.OtherCase = lying, "snow lying", bare, "glazing bare"
	}
	return nil
}

// coldest is the lowest of all leaves, or of all air where there are no beds [°C].
func coldest(r *greenhouse.Result) float64 {
	low := math.Inf(1)
	for _, kind := range []greenhouse.PlaceKind{greenhouse.LeafPlace, greenhouse.AirPlace} {
		for i := range r.Traces {
			if r.Traces[i].Kind == kind {
				c, _ := r.Traces[i].Lowest()
				low = math.Min(low, c)
			}
		}
		if !math.IsInf(low, 1) {
			return low
		}
	}
	return low
}

func (a *Answer) place(t *greenhouse.Trace) Place {
	p := Place{Name: t.Name, Kind: t.Kind, HeightM: t.HeightM, DepthM: t.DepthM, InSoil: t.InSoil, HighestC: math.Inf(-1)}
	low, at := t.Lowest()
	p.LowestC, p.LowestAt = low, a.Result.Time(at)
	for _, c := range t.C {
		p.HighestC = math.Max(p.HighestC, c)
		p.MeanC += c / float64(len(t.C))
		if c < 0 {
			p.HoursBelowZero++
			p.KhBelowZero -= c
		}
		if c < a.LimitC {
			p.HoursBelowLimit++
			p.KhBelowLimit += a.LimitC - c
		}
	}
	return p
}

// watch finds the place that is told first: the plan's, else the coldest leaf, else the coldest air.
func (a *Answer) watch() error {
	if name := a.Plan.Run.Place; name != "" {
		return a.watchNamed(name)
	}
	for _, kind := range []greenhouse.PlaceKind{greenhouse.LeafPlace, greenhouse.AirPlace} {
		for i, p := range a.Places {
			if p.Kind == kind && (a.Watched < 0 || p.LowestC < a.Places[a.Watched].LowestC) {
				a.Watched = i
			}
		}
		if a.Watched >= 0 {
			break
		}
	}
	return nil
}

func (a *Answer) watchNamed(name string) error {
	names := make([]string, 0, len(a.Places))
	for i, p := range a.Places {
		if p.Name == name {
			a.Watched = i
			return nil
		}
		names = append(names, p.Name)
	}
	f := plan.Finding{Path: "run.place", Message: fmt.Sprintf("no place is called %q", name), Hint: "places are: " + strings.Join(names, "; ")}
	if near, ok := unit.Nearest(name, names); ok {
		f.Hint = fmt.Sprintf("did you mean %q?", near)
	}
	return plan.AsError([]plan.Finding{a.Plan.Place(f)})
}

// lowestAt is when the watched place is lowest; without one, the begin of the run.
func (a *Answer) lowestAt() time.Time {
	if a.Watched < 0 {
		return a.Result.Start
	}
	return a.Places[a.Watched].LowestAt
}

// worstSpell is the ten days round the watched place's lowest: seven before and three after, within the run.
func (a *Answer) worstSpell() Span {
	n := a.Result.Hours()
	if a.Watched < 0 {
		return Span{0, min(n, 240)}
	}
	_, at := a.Result.Traces[a.Watched].Lowest()
	from := max(0, at/24*24-7*24)
	from = min(from, max(0, n-240))
	return Span{from, min(n, from+240)}
}
