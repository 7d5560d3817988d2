// Package chance answers how likely frost is over many winters, how cold the one-in-so-many winters are, and how far the lowest lies off for what is not known of
// the house: two bands, one over winters and one over unknown inputs, never mixed.
//
// What it promises: the same answer whatever the number of workers; a share or a return level never without its own error; what a few winters cannot tell is not
// told; a winter that could not be computed is told and counts as cold.
package chance

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/ensemble"
	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Request is what is asked.
type Request struct {
	Plan    *plan.Plan
	Year    *weather.Series  // of the ground without the house; nil: one is made from the plan's normals
	Winters ensemble.Winters // nil: made ones, Count of them, from the plan's run.seed
	Count   int              // of made winters; 0: 100
	Draws   int              // of unknown inputs; 0: 60, below 0: none
	From    *plan.Date       // other first day than the plan's
	Until   *plan.Date       // other last day
	AtOnce  int              // runs at once; 0: as many as there are cores
}

// usualWinters is the number of made winters where none is asked for: one in twenty is then told with a cold end.
const usualWinters = 100

// Answer is what many winters come to.
type Answer struct {
	*winter.Prepared
	LimitC  float64
	Made    bool     // winters were made, not observed
	Names   []string // of the winters
	Months  []time.Month
	Places  []Place
	Watched int     // place told first; -1: none
	Worst   []Night // of each winter, the coldest first
	House   *House  // what is not known of the house; nil where nothing is asked of it
	Failed  []string
	LeftOut []string // winters of a record that were left out, and why
	Few     string   // why a wider band is due; "" where the winters are enough
	Runs    int
	// LeanOutdoorsK is by how much made winters may be too mild [K]; 0 for observed ones.
	LeanOutdoorsK float64
}

// Place is one place over all winters.
type Place struct {
	Name    string
	Kind    greenhouse.PlaceKind
	LowestC []float64 // by winter; -Inf of one that failed
	Frost   Share     // winters in which it came below 0 °C
	Limit   Share     // below the plan's limit
	Month   []Share   // below 0 °C, by month of the answer
	Band    Band      // of the lowests, over winters alone
	Returns []Return
	BelowH  [2]Hours // hours a winter below 0 °C and below the plan's limit
	LeanK   float64  // by which its cold ends are colder, for what made winters are not validated for [K]
}

// Hours is hours of a winter: the mean of all and the most of one.
type Hours struct{ Mean, Most float64 }

// Night is a winter's coldest at the watched place.
type Night struct {
	Winter  int
	LowestC float64
	At      time.Time
}

// returnYears are the return periods told.
var returnYears = [...]int{2, 5, 10, 20}

// Run answers.
func Run(ctx context.Context, req Request, progress winter.Progress) (*Answer, error) {
	if req.Plan.Run.Span == "whole year" {
		return nil, plan.AsError([]plan.Finding{req.Plan.Place(plan.Finding{Path: "run.span", Message: "chance goes from winter to winter, not through a whole year",
			Hint: "leave it out, or set it with --set to a span from run.from to run.until"})})
	}
	base, err := winter.Prepare(winter.Request{Plan: req.Plan, Year: req.Year, From: req.From, Until: req.Until})
	if err != nil {
		return nil, err
	}
	a := &Answer{Prepared: base, LimitC: req.Plan.Run.Limit, Watched: -1}
	if req.Winters == nil {
		if req.Winters, err = Made(req.Plan, req.Count); err != nil {
			return nil, err
		}
		a.Made = true
	}
	if o, ok := req.Winters.(*Observed); ok {
		a.Few = o.Few
		for _, l := range o.LeftOut {
			a.LeftOut = append(a.LeftOut, l.Name+": "+l.Reason)
		}
	}
	if req.Winters.Len() < fewest {
		return nil, fmt.Errorf("%d winters are too few to speak of chance, at least %d are needed", req.Winters.Len(), fewest)
	}
	inputs := inputsOf(base, req)
	e := ensemble.Request{Base: base, Winters: req.Winters, Plans: inputs.plans(), AtOnce: req.AtOnce}
	e.Runs = append(ensemble.Each(1, req.Winters.Len()), inputs.runs(req.Winters.Len())...)
	out, err := ensemble.Simulate(ctx, e, progress)
	if err != nil {
		return nil, err
	}
	a.Runs = len(out)
	n := req.Winters.Len()
	if err := a.take(out[:n], req.Winters); err != nil {
		return nil, err
	}
	if a.Made {
		if err := a.lean(ctx, e, out[:n], nil); err != nil {
			return nil, err
		}
	}
	a.House = inputs.house(a, out[:n], out[n:])
	return a, nil
}

// Stays tells whether a limit may be said to hold at the watched place: the middle of the lowests lies more than 2 K above it, and the lower end of the wider of
// the bands, over winters or over winters and house together, lies above it. Without the house's band nothing is said to hold.
func (a *Answer) Stays() bool {
	if a.Watched < 0 || a.House == nil || len(a.Failed) > 0 || a.House.Failed > 0 {
		return false
	}
	b := a.Places[a.Watched].Band
	return b.Middle > a.LimitC+staysK && math.Min(b.Lo, a.House.Both.Lo) > a.LimitC && math.Min(b.Lo, b.Middle+a.House.Shift.Lo) > a.LimitC
}

// staysK is how far above a limit the middle of the lowests has to lie before the limit may be said to hold [K]; own judgement.
const staysK = 2

// fewest is the least number of winters that shares are told of.
const fewest = 5

// take sums up the winters of the plan as it is.
func (a *Answer) take(out []ensemble.Summary, winters ensemble.Winters) error {
	first := -1
	for k := range out {
		a.Names = append(a.Names, winters.Name(k))
		if out[k].Err != nil {
			a.Failed = append(a.Failed, out[k].Err.Error())
		} else if first < 0 {
			first = k
		}
	}
	if first < 0 || len(a.Failed) > len(out)/10 {
		return fmt.Errorf("%d of %d winters could not be computed, the first: %s", len(a.Failed), len(out), a.Failed[0])
	}
	a.Months = monthsOf(&out[first])
	for i := range out[first].Places {
		a.Places = append(a.Places, a.place(out, i, first))
	}
	a.watch()
	a.rank(out)
	return nil
}

// monthsOf are the months that count, from the first on.
func monthsOf(s *ensemble.Summary) []time.Month {
	there := func(m int) bool { return !math.IsNaN(float64(s.Places[0].MonthC[m%12])) }
	begin := 0
	for m := range 12 {
		if there(m) && !there(m+11) {
			begin = m
		}
	}
	var list []time.Month
	for m := begin; m < begin+12 && there(m); m++ {
		list = append(list, time.Month(m%12+1))
	}
	return list
}

// place sums up one place.
func (a *Answer) place(out []ensemble.Summary, i, first int) Place {
	p := Place{Name: out[first].Places[i].Name, Kind: out[first].Places[i].Kind}
	n := len(out)
	month := make([]int, len(a.Months))
	frost, limit := 0, 0
	for k := range out {
		low := math.Inf(-1) // a winter that failed counts as cold
		if out[k].Err == nil {
			q := &out[k].Places[i]
			low = q.LowestC
			for b := range q.Below {
				h := float64(q.Below[b])
				p.BelowH[b].Mean += h / float64(n-len(a.Failed))
				p.BelowH[b].Most = max(p.BelowH[b].Most, h)
			}
			for m, name := range a.Months {
				if q.MonthC[name-1] < 0 {
					month[m]++
				}
			}
		}
		if low < 0 {
			frost++
		}
		if low < a.LimitC {
			limit++
		}
		p.LowestC = append(p.LowestC, low)
	}
	p.Frost, p.Limit = shareOf(frost, n), shareOf(limit, n)
	for _, k := range month {
		p.Month = append(p.Month, shareOf(k+len(a.Failed), n))
	}
	sorted := slices.Clone(p.LowestC)
	slices.Sort(sorted)
	p.Band = BandOf(sorted)
	for _, y := range returnYears {
		p.Returns = append(p.Returns, returnOf(sorted, y))
	}
	return p
}

// watch finds the place that is told first: the plan's, else the leaves, else the air, whichever is coldest in the middle of the winters.
func (a *Answer) watch() {
	for _, want := range []func(p *Place) bool{
		func(p *Place) bool { return p.Name == a.Plan.Run.Place },
		func(p *Place) bool { return p.Kind == greenhouse.LeafPlace },
		func(p *Place) bool { return p.Kind == greenhouse.AirPlace },
	} {
		for i := range a.Places {
			if p := &a.Places[i]; want(p) && (a.Watched < 0 || p.Band.Middle < a.Places[a.Watched].Band.Middle) {
				a.Watched = i
			}
		}
		if a.Watched >= 0 {
			return
		}
	}
}

// rank puts the winters in order of the watched place's lowest, coldest first.
func (a *Answer) rank(out []ensemble.Summary) {
	if a.Watched < 0 {
		return
	}
	for k := range out {
		if out[k].Err == nil {
			p := &out[k].Places[a.Watched]
			a.Worst = append(a.Worst, Night{k, p.LowestC, p.LowestAt})
		}
	}
	slices.SortStableFunc(a.Worst, func(x, y Night) int { return cmp.Compare(x.LowestC, y.LowestC) })
}
