// Package carry answers how long a house lasts without sun: from the state of its simulated winter at a sunset, or with its
// water at a given temperature, it runs a stated sunless spell until a named place falls below a named limit.
//
// What it promises: the time is simulated, never scaled from the reserve; the spell is told in full with what of it was assumed;
// a limit that is not met in MaxDays is told as just that; ice is told apart and never counted as reserve, nor time on it as time.
package carry

import (
	"context"
	"fmt"
	"math"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// MaxDays is how long the spell is run at most [d].
const MaxDays = 60

// BeyondWords is what is told of a limit that is not met within MaxDays.
const BeyondWords = "more than 60 days at this cold"

// Request is what is asked.
type Request struct {
	Plan    *plan.Plan
	Year    *weather.Series // a year of hourly weather as read; nil: one is made from the plan's normals
	From    *plan.Date      // the day at whose sunset the spell begins; nil: that on which the winter's coldest ten days begin
	StoreC  *float64        // all water is put at this temperature at that sunset [°C]; nil: as the winter left it
	Spell   Spell
	Place   string          // that must not fall below the limit; "": the plan's, else the leaf (or air) that does so first
	LimitC  *float64        // [°C]; nil: the plan's run.limit
	Lose    float64         // share of the water that is gone from the start, 0..1
	BayLost string          // a bay, or a row of them, that stands empty from the start; "": none
	NoCover bool            // the cover is left off from the start
	Curve   *CurveRequest   // nil: no curve
	Band    bool            // with the band over what is not known of the house, to first order
	Houses  int             // and with that of so many drawn houses; 0: none
	AtOnce  int             // houses run at once for the bands; 0: as many as there are cores
	Control thermal.Control // of the step; the zero value is the program's
}

// Spell is the stated sunless spell. What is nil has the default told beside it.
type Spell struct {
	OutsideC       *float64 // mean outdoor air [°C]; nil: mean of the winter's coldest 72 h
	SwingK         *float64 // highest less lowest of a day [K]; nil: 8
	Clearness      *float64 // sun on level ground over that outside the air, 0..0.8; nil: 0.10, deep overcast; 0: no sun at all
	Cloud          *float64 // share of the sky under cloud, day and night; nil: 1
	WindMS         *float64 // [m/s]; nil: 2
	DewPointBelowK *float64 // below the lowest air of the day [K]; nil: 1
	SnowDepthM     *float64 // lying on level ground [m]; nil: as at the date
}

// Answer is how long the house lasts.
type Answer struct {
	*winter.Prepared
	Begin      time.Time // of the spell: the first whole hour after Sunset
	Sunset     time.Time // zero where the sun does not set on that day; the spell then begins at 16:00
	Spec       weather.SpellSpec
	Conditions []Condition // the same and the rest of what the time rests on, one by one

	Place    string
	PlaceWhy string // how the place was chosen: named; of the plan; the first of all leaf tips to fall below the limit; ...
	LimitC   float64
	Hours    float64 // from Begin until the place falls below the limit; 0: it is below at once; -1: not within MaxDays
	Beyond   bool    // the limit is not met within MaxDays, to be told as BeyondWords
	RanHours int     // how far the spell was run: a day beyond the crossing, so that it is seen how things go on

	IceAfterHours float64 // from Begin until part of the water is ice; -1: none while it was run

	HasWater bool    // false: no drums, or all their water is gone
	WaterM3  float64 // in the store during the spell
	ReserveJ float64 // heat above 0 °C of that water at Begin, ice not counted
	IceShare float64 // of that water, at Begin
	StoreC   float64 // its mean temperature at Begin; 0 where there is none
	LostM3   float64 // water that is gone
	LostJ    float64 // and the reserve that went with it
	Full     *Point  // the same at the same cold with all of the water and the cover; nil where nothing was lost or left off

	Lines      Lines
	Curve      *Curve // nil where none was asked for
	Band       *Band  // over what is not known of the house, to first order; nil where none was asked for
	Drawn      *Band  // the same by drawn houses
	Simplified []winter.Simplification
	Assumed    []plan.Value
	Cautions   []string
}

// Condition is one thing the time rests on.
type Condition struct {
	Name   string
	Value  float64
	Unit   string // SI; "" for a share
	Words  string // in place of a value
	Given  bool   // asked for; else Source tells where the value comes from
	Source string
}

// Lines are the spell by hour: value k holds k hours after Begin, so the first is the state at its begin.
type Lines struct {
	AirName  string    // the layer of air that AirC is of
	PlaceC   []float64 // the place asked for
	OutsideC []float64
	AirC     []float64
	StoreC   []float64 // mean of the water; nil where there is none
	ReserveJ []float64
	IceShare []float64
}

// Run answers a request.
func Run(ctx context.Context, req Request, progress winter.Progress) (*Answer, error) {
	if err := req.check(); err != nil {
		return nil, err
	}
	p, err := winter.Prepare(winter.Request{Plan: req.Plan, Year: req.Year, Control: req.Control})
	if err != nil {
		return nil, err
	}
	a := &Answer{Prepared: p, LimitC: req.Plan.Run.Limit, Assumed: req.Plan.Assumed(), Simplified: winter.Simplifications()}
	if req.LimitC != nil {
		a.LimitC = *req.LimitC
	}
	first, err := a.begin(req.From)
	if err != nil {
		return nil, err
	}
	if err := a.spell(req, first); err != nil {
		return nil, err
	}
	s, err := a.start(asked(req))
	if err != nil {
		return nil, err
	}
	w, err := a.watchers(req, asked(req), s.after)
	if err != nil {
		return nil, err
	}
	part := parts(req, progress)
	whole := part()
	if err := s.toSunset(ctx, first, whole); err != nil {
		return nil, fmt.Errorf("the winter up to the spell: %w", err)
	}
	s.takeOver(req)
	if err := s.sunless(ctx, w, first, whole); err != nil {
		return nil, fmt.Errorf("the sunless spell: %w", err)
	}
	if err := s.full(ctx, req); err != nil {
		return nil, fmt.Errorf("the same with all of the store: %w", err)
	}
	if req.Curve != nil {
		if err := s.curve(ctx, req, part()); err != nil {
			return nil, fmt.Errorf("the curve: %w", err)
		}
	}
	if req.Band {
		if a.Band, err = s.firstOrder(ctx, req, first, part()); err != nil {
			return nil, fmt.Errorf("what is not known of the house: %w", err)
		}
	}
	if req.Houses > 0 {
		if a.Drawn, err = s.drawn(ctx, req, first, part()); err != nil {
			return nil, fmt.Errorf("drawn houses: %w", err)
		}
	}
	a.Cautions = a.cautions(req)
	return a, nil
}

// check tells what of a request is out of bounds.
func (r Request) check() error {
	within := func(what string, v *float64, low, high float64, unit string) error {
		if v != nil && !(*v >= low && *v <= high) {
			return fmt.Errorf("%s is %g%s, must be %g to %g%s", what, *v, unit, low, high, unit)
		}
		return nil
	}
	if r.Plan == nil {
		panic("carry: no plan")
	}
	for _, err := range []error{
		within("store", r.StoreC, -20, 60, " °C"),
		within("limit", r.LimitC, -40, 40, " °C"),
		within("share of the water lost", &r.Lose, 0, 1, ""),
		r.Curve.check(),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// setup is how both networks are made: snow as it falls where snowfall is known, else bare.
func (a *Answer) setup() greenhouse.Setup {
	s := a.HarderFrost() // a spell freezes what the winter does not
	if !a.SnowKnown {
		s.Snow = greenhouse.SnowNever
	}
	return s
}

// coldestOf is the lowest value of a list, +Inf of an empty one.
func coldestOf(list []float64) float64 {
	low := math.Inf(1)
	for _, v := range list {
		low = math.Min(low, v)
	}
	return low
}
