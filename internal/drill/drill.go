package drill

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/catchment"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Kind is a kind of fault.
type Kind string

// The kinds of faults that a winter is run with.
const (
	Leak       Kind = "leak"  // a joint fails, or a bay runs out where the plan says nothing of its pipes
	DrumFrozen Kind = "drum"  // a drum has split by frost and runs out
	InletOpen  Kind = "inlet" // the pipe that brings the rain stands open to the cold
	FlapFrozen Kind = "flap"  // the flap at its end is frozen ajar: cold comes in, rain does not
	VentStuck  Kind = "vent"  // a vent stays open
	PaneBroken Kind = "pane"  // a pane of the glazing is gone
	CoverOff   Kind = "cover" // the cover is left off
	DoorOpen   Kind = "door"  // a door is left open
)

// Kinds are all of them.
var Kinds = []Kind{Leak, DrumFrozen, InletOpen, FlapFrozen, VentStuck, PaneBroken, CoverOff, DoorOpen}

// Request is a fault to be tried on paper.
type Request struct {
	Plan     *plan.Plan
	Year     *weather.Series // a year of hourly weather as read; nil: one is made from the plan's normals
	Winter   *winter.Answer  // of that plan and year, where it was run already
	Kind     Kind
	At       string     // joint, drum, bay, vent, face of glazing, door; "": the first, of joints the one that costs most
	On       *plan.Date // nil: so that the fault is there in the coldest night
	LastsH   float64    // until it is mended [h]; 0: as Lasts has it; of leaks see NoticedD
	HoleM    float64    // diameter of the hole of a leak; 0: UsualHoleM
	PaneM2   float64    // that is broken; 0: UsualPaneM2
	To       string     // where the water of a leak goes: floor, cold sink, soil, outside; "": soil
	NoticedD int        // days until somebody sees a leak; 0: 1
	SpareM3  float64    // room in other vessels for water that is let out for a repair
	Rain     []catchment.Day
}

// The usual fault; own judgement, told with each answer.
const (
	UsualHoleM  = 0.005
	UsualPaneM2 = 1.0
)

// Lasts is how long a fault lasts where nothing is said [h]: of what is done by hand, until somebody comes in the morning; of what has to be mended, three days. 0: nobody mends it.
// Own judgement.
func Lasts(k Kind) float64 {
	switch k {
	case CoverOff, DoorOpen:
		return 16
	case Leak, DrumFrozen:
		return 0
	}
	return 72
}

// Answer is what a fault costs.
type Answer struct {
	Winter     *winter.Answer // as planned
	Kind       Kind
	At         string
	Path       string // of the plan
	Begin, End time.Time
	Forever    bool // it lasts to the end of the winter
	HoleM      float64
	PaneM2     float64
	Places     []Place
	Reserve    [2]float64 // least reserve of the store from Begin on, without and with [J]
	Leak       *LeakAnswer
	OpenL      float64 // of the books of the water [L], and of the heat as a share, the worse of all runs
	HeatOpen   float64
	Cautions   []string
}

// Place is how a place fares from the begin of a fault on, without it and with it.
type Place struct {
	Name    string
	Kind    greenhouse.PlaceKind
	LimitC  float64 // of leaves and air the plan's, of water and soil 0 °C
	LowestC [2]float64
	UntilH  [2]float64 // hours from Begin until it is below the limit; 0: it is at once; -1: it is not
	BelowH  [2]int     // hours below it
}

// Run tries a fault. Errors: a [winter.Asked] of "on", "at" or "pane" where the plan cannot have it so; those of a run.
func Run(ctx context.Context, req Request, progress winter.Progress) (*Answer, error) {
	w := req.Winter
	if w == nil {
		var err error
		if w, err = winter.Run(ctx, winter.Request{Plan: req.Plan, Year: req.Year}, progress); err != nil {
			return nil, err
		}
	}
	if w.Watched < 0 {
		return nil, errors.New("the house has no place whose winter is watched")
	}
	a := &Answer{Winter: w, Kind: req.Kind, HoleM: req.HoleM, PaneM2: req.PaneM2}
	if a.HoleM == 0 {
		a.HoleM = UsualHoleM
	}
	if a.PaneM2 == 0 {
		a.PaneM2 = UsualPaneM2
	}
	t := &trial{a: a, req: req}
	if err := t.when(); err != nil {
		return nil, &winter.Asked{Of: "on", Err: err}
	}
	if err := t.begin(ctx); err != nil {
		return nil, err
	}
	changed, err := t.fault()
	if asked := (*winter.Asked)(nil); err != nil && !errors.As(err, &asked) {
		err = &winter.Asked{Of: "at", Err: err}
	}
	if err != nil {
		return nil, err
	}
	with, err := t.run(ctx, changed)
	if err != nil {
		return nil, fmt.Errorf("the winter with the fault: %w", err)
	}
	a.Places, a.Reserve = t.compare(t.base, with)
	if a.Leak != nil {
		if err := t.leaked(ctx, with); err != nil {
			return nil, err
		}
	}
	a.cautions()
	return a, nil
}

// trial is a fault under way: the state of the house when it begins, and the rest of its winter without it.
type trial struct {
	a     *Answer
	req   Request
	first int // hour of the span at which it begins
	lasts int // hours
	state greenhouse.State
	start map[string]float64 // temperature of each place then [°C]
	base  *greenhouse.Result // from then on
	m3    map[string]float64 // water of each bay then
}

// evening is the hour of the clock at which what is left open by day is not closed [h], and midday that at which a leak begins.
const (
	evening = 17
	midday  = 12
)

// when finds the hours at which the fault begins and ends.
func (t *trial) when() error {
	a := t.a
	hour, day := evening, t.req.On
	if t.a.Kind == Leak || t.a.Kind == DrumFrozen {
		hour = midday
	}
	coldest := a.Winter.Places[a.Winter.Watched].LowestAt
	begin := time.Time{}
	if day == nil { // the last such hour 8 h or more before the lowest
		begin = time.Date(coldest.Year(), coldest.Month(), coldest.Day(), hour, 0, 0, 0, coldest.Location())
		for coldest.Sub(begin) < 8*time.Hour {
			begin = begin.AddDate(0, 0, -1)
		}
		begin = latest(begin, a.Winter.Span.HourStart(a.Winter.Skip))
	}
	t.first = -1
	for i := max(1, a.Winter.Skip); i < len(a.Winter.Span.Hours); i++ {
		at := a.Winter.Span.HourStart(i)
		if day == nil && !at.Before(begin) || day != nil && at.Hour() == hour && int(at.Month()) == day.Month && at.Day() == day.Day {
			t.first = i
			break
		}
	}
	last := len(a.Winter.Span.Hours)
	switch {
	case t.first >= 0 && last-t.first >= 24:
	case day == nil:
		return fmt.Errorf("the winter that is run, %d h, is too short for a fault before its coldest night", last-a.Winter.Skip)
	default:
		return fmt.Errorf("the day of the fault, %02d-%02d, is no day of the winter that is run, %s to %s", day.Month, day.Day,
			a.Winter.Span.HourStart(a.Winter.Skip).Format("01-02"), a.Winter.Span.HourStart(last-24).Format("01-02"))
	}
	lasts := t.req.LastsH
	if lasts == 0 {
		lasts = Lasts(a.Kind)
	}
	t.lasts = last - t.first
	a.Forever = lasts == 0 || int(math.Ceil(lasts)) >= t.lasts
	if !a.Forever {
		t.lasts = int(math.Ceil(lasts))
	}
	a.Begin = a.Winter.Span.HourStart(t.first)
	a.End = a.Begin.Add(time.Duration(t.lasts) * time.Hour)
	return nil
}

func latest(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}

// setup is how all networks of a trial are made: beds and ground under the room may freeze in them, as they do where a fault lets the cold in.
func (t *trial) setup() greenhouse.Setup {
	w := t.a.Winter
	s := w.HarderFrost()
	s.Snow = w.Snow()
	if s.Snow == greenhouse.SnowLies {
		s.Lying = w.Lying()
	}
	return s
}

// begin runs the winter up to the fault, and the rest of it without.
func (t *trial) begin(ctx context.Context) error {
	w := t.a.Winter
	g, err := greenhouse.New(w.House, t.setup())
	if err != nil {
		return err
	}
	before := w.Span
	before.Hours = before.Hours[:t.first]
	r, err := g.Run(ctx, &before, greenhouse.Options{Skip: t.first - 1, Spans: w.Sun[:t.first]})
	if err != nil {
		return fmt.Errorf("the winter up to the fault: %w", err)
	}
	t.state, t.start, t.m3 = g.State(), map[string]float64{}, map[string]float64{}
	for i := range r.Traces {
		t.start[r.Traces[i].Name] = r.Traces[i].C[0]
	}
	for _, b := range r.Bays {
		t.m3[b.Name] = b.M3[0]
	}
	t.base, err = t.run(ctx, w.Plan)
	return err
}

// run is the rest of the winter from the state at which the fault begins: with a changed plan as long as it lasts, then with the plan's own.
func (t *trial) run(ctx context.Context, changed *plan.Plan) (*greenhouse.Result, error) {
	end := len(t.a.Winter.Span.Hours)
	if t.a.Forever || changed == t.a.Winter.Plan || t.a.Leak != nil { // a leak goes by the dates of its events
		r, _, err := t.stretch(ctx, changed, t.state, t.first, end)
		return r, err
	}
	r, state, err := t.stretch(ctx, changed, t.state, t.first, t.first+t.lasts)
	if err != nil {
		return nil, err
	}
	rest, _, err := t.stretch(ctx, t.a.Winter.Plan, state, t.first+t.lasts, end)
	if err != nil {
		return nil, err
	}
	for i := range r.Traces {
		r.Traces[i].C = append(r.Traces[i].C, rest.Trace(r.Traces[i].Name).C...)
	}
	for i := range r.Bays {
		r.Bays[i].M3 = append(r.Bays[i].M3, rest.Bays[i].M3...)
	}
	r.ReserveJ = append(r.ReserveJ, rest.ReserveJ...)
	return r, nil
}

// stretch runs some hours from a state.
func (t *trial) stretch(ctx context.Context, p *plan.Plan, from greenhouse.State, begin, end int) (*greenhouse.Result, greenhouse.State, error) {
	w := t.a.Winter
	h := w.House
	if p != w.Plan {
		var bad []plan.Finding
		if h, bad = house.Resolve(p); len(bad) > 0 {
			return nil, from, plan.AsError(bad)
		}
	}
	g, err := greenhouse.New(h, t.setup())
	if err != nil {
		return nil, from, err
	}
	g.Load(from, nil)
	span := w.Span
	span.Start, span.Hours = w.Span.HourStart(begin), w.Span.Hours[begin:end]
	r, err := g.Run(ctx, &span, greenhouse.Options{Spans: w.Sun[begin:end]})
	if err != nil {
		return nil, from, err
	}
	if err := r.CheckBooks(); err != nil {
		return nil, from, err
	}
	t.a.OpenL, t.a.HeatOpen = max(t.a.OpenL, r.Water.OpenL), max(t.a.HeatOpen, r.Heat.ImbalanceRel)
	return r, g.State(), nil
}

// compare is how each place fares in two runs from the begin of the fault on, and the least reserve of each.
func (t *trial) compare(one, other *greenhouse.Result) (list []Place, reserve [2]float64) {
	for i := range one.Traces {
		tr := &one.Traces[i]
		p := Place{Name: tr.Name, Kind: tr.Kind, LimitC: t.a.Winter.LimitC}
		switch tr.Kind {
		case greenhouse.WaterPlace, greenhouse.SoilPlace:
			p.LimitC = 0
		case greenhouse.OutPlace, greenhouse.FacePlace:
			continue
		}
		for k, r := range []*greenhouse.Result{one, other} {
			dry := func(h int) bool { return tr.Kind == greenhouse.WaterPlace && r.RanDry(tr.Bay, h) }
			p.LowestC[k], p.UntilH[k], p.BelowH[k] = below(r.Trace(tr.Name).C, t.start[tr.Name], p.LimitC, dry)
		}
		list = append(list, p)
	}
	return list, [2]float64{slices.Min(one.ReserveJ), slices.Min(other.ReserveJ)}
}

// below is the lowest of a line, the hours until it falls below a limit, and those that it is below it; hours in which there is no water are passed over.
func below(c []float64, start, limit float64, dry func(int) bool) (lowest, until float64, hours int) {
	lowest, until = math.Inf(1), -1
	before := start
	for h, v := range c {
		if dry(h) {
			continue
		}
		lowest = min(lowest, v)
		if v < limit {
			if hours++; until < 0 {
				until = float64(h)
				if before > limit {
					until += (before - limit) / (before - v)
				}
			}
		}
		before = v
	}
	if start < limit {
		until = 0
	}
	return lowest, until, hours
}

// WaterC is the temperature of each vessel's water when the winter's reserve is least; nil where no winter was run.
func WaterC(h *house.House, w *winter.Answer) func(vessel int) float64 {
	if w == nil || h.Scheme == nil {
		return nil
	}
	at := 0
	for i, q := range w.Result.ReserveJ {
		if q < w.Result.ReserveJ[at] {
			at = i
		}
	}
	return func(vessel int) float64 {
		return bayC(w.Result, h.BayNamed(h.Scheme.Vessels[vessel].Bay), func(tr *greenhouse.Trace) float64 { return tr.C[at] })
	}
}

// bayC is the mean temperature of a bay's water, of each of whose places one is told [°C]; 0 where it has none.
func bayC(r *greenhouse.Result, bay string, of func(*greenhouse.Trace) float64) float64 {
	sum, n := 0.0, 0.0
	for i := range r.Traces {
		if tr := &r.Traces[i]; tr.Kind == greenhouse.WaterPlace && tr.Bay == bay {
			sum += of(tr)
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}
