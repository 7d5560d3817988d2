package carry

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"suncellar/internal/greenhouse"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// The curve: how long the house lasts over the cold outside, for the whole store and for what may go wrong with it. The winter up to the sunset
// is run once; each point is a run of its own from there.
//
// What it promises: every point is simulated but for those beyond MaxDays that are milder than one beyond, which is told; time with ice in
// the drums is apart from the time that counts; the same request gives the same curve whatever the number of workers.

// CurveRequest asks for a curve.
type CurveRequest struct {
	OutsideC []float64 // mean outdoor airs [°C]; nil: DefaultOutside
	Workers  int       // runs at a time; 0: one for each processor
}

// DefaultOutside are the mean outdoor airs of a curve, the mildest first [°C].
func DefaultOutside() []float64 { return []float64{-5, -10, -15, -20, -25, -30, -35} }

// The most points of a curve, and the bounds of its outdoor air [°C].
const (
	mostOutside              = 24
	coldestAsked, mildestAsk = -60.0, 30.0
)

func (r *CurveRequest) check() error {
	if r == nil {
		return nil
	}
	if n := len(r.OutsideC); n == 1 || n > mostOutside {
		return fmt.Errorf("curve has %d outdoor temperatures, must be 2 to %d", n, mostOutside)
	}
	for _, c := range r.OutsideC {
		if !(c >= coldestAsked && c <= mildestAsk) {
			return fmt.Errorf("curve: outdoor air is %g °C, must be %g to %g °C", c, coldestAsked, mildestAsk)
		}
	}
	return nil
}

// Case is what is there of store and cover.
type Case struct {
	Name    string
	Lose    float64 // share of the water that is gone
	BayLost string
	NoCover bool
}

// asked is the case of a request.
func asked(r Request) Case { return Case{Lose: r.Lose, BayLost: r.BayLost, NoCover: r.NoCover} }

// Curve is the carry-through over the cold outside.
type Curve struct {
	OutsideC []float64 // mean outdoor airs, the mildest first [°C]
	Cases    []CurveCase
}

// CurveCase is the curve of one case.
type CurveCase struct {
	Case
	WaterM3  float64
	ReserveJ float64 // heat of that water above 0 °C at the begin [J]
	FreezeJ  float64 // what its freezing would give besides, which is not counted [J]
	Points   []Point // by Curve.OutsideC
}

// Point is the carry-through at one cold.
type Point struct {
	Hours     float64 // that count: until the place falls below the limit or ice begins in the drums, whichever is first; at most MaxDays
	OnIce     float64 // besides, with ice in the drums, until the place falls below the limit: not to be counted [h]
	Beyond    bool    // the limit is not met within MaxDays
	ByLaw     bool    // not run: it is so at a greater cold already
	Place     string  // that fell below first, or is coldest
	ReserveJ  float64 // left when the place falls below the limit, or at the end [J]
	IceShare  float64 // of the water then
	StillIceJ float64 // what freezing the rest of the water would give then [J]
}

// curve runs all cases at all colds.
func (s *passage) curve(ctx context.Context, req Request, progress winter.Progress) error {
	a := s.a
	c := &Curve{OutsideC: slices.Clone(req.Curve.OutsideC)}
	if c.OutsideC == nil {
		c.OutsideC = DefaultOutside()
	}
	slices.Sort(c.OutsideC)
	slices.Reverse(c.OutsideC)
	c.OutsideC = slices.Compact(c.OutsideC)
	for _, k := range s.cases(req) {
		c.Cases = append(c.Cases, CurveCase{Case: k, Points: make([]Point, len(c.OutsideC))})
	}
	total := len(c.Cases) * len(c.OutsideC)
	count := &counter{tell: progress, total: total}
	errs := make([]error, len(c.Cases))
	ended := winter.AtOnce(ctx, len(c.Cases), req.Curve.Workers, func(k int) {
		errs[k] = s.oneCase(ctx, req, &c.Cases[k], c.OutsideC, count)
	})
	for _, err := range append(errs, ended) {
		if err != nil {
			return err
		}
	}
	a.Curve = c
	return nil
}

// parts gives, call by call, the progress of each part of a request: the spell, the curve, the bands, each the same share of the whole.
func parts(req Request, progress winter.Progress) func() winter.Progress {
	n, next := 1, 0
	for _, asked := range []bool{req.Curve != nil, req.Band, req.Houses > 0} {
		if asked {
			n++
		}
	}
	return func() winter.Progress {
		k := next
		next++
		if progress == nil {
			return nil
		}
		return func(done, total int) { progress(k*total+done, n*total) }
	}
}

// counter tells how many points are done.
type counter struct {
	mu          sync.Mutex
	tell        winter.Progress
	done, total int
}

func (c *counter) add() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.done++
	if c.tell != nil {
		c.tell(c.done, c.total)
	}
}

// cases are those of a request: the whole store, what was asked for, one bay lost where there are more, the cover left off where there is one.
func (s *passage) cases(req Request) []Case {
	list := []Case{{Name: "full store"}}
	water := s.before.WaterM3() > 0
	if !water {
		list[0].Name = "as planned"
	}
	if req.Lose > 0 && water {
		list = append(list, Case{Name: fmt.Sprintf("%.3g %% of the store", 100*(1-req.Lose)), Lose: req.Lose})
	}
	if bay := s.bayToLose(req); bay != "" && water {
		list = append(list, Case{Name: bay + " lost", BayLost: bay})
	}
	if s.a.Plan.Cover != nil {
		list = append(list, Case{Name: "cover left off", NoCover: true})
	}
	return list
}

// bayToLose is the bay asked for, else the one with the most water that does not hold the place; "" where there is but one.
func (s *passage) bayToLose(req Request) string {
	if req.BayLost != "" {
		return req.BayLost
	}
	names := s.a.House.BayNames()
	if len(names) < 2 {
		return ""
	}
	place := req.Place
	if place == "" {
		place = s.a.Plan.Run.Place
	}
	best, most := "", 0.0
	for _, name := range names {
		at := s.a.House.BaysNamed(name)[0]
		row := s.a.House.Rows[at.Row]
		holds := place != "" && len(place) > len(name) && place[:len(name)+1] == name+","
		if v := row.Water() / float64(row.Bays); v > most+1e-9 && !holds {
			best, most = name, v
		}
	}
	return best
}

// oneCase runs a case from the greatest cold to the least; what is beyond MaxDays at one cold is so at every milder.
func (s *passage) oneCase(ctx context.Context, req Request, c *CurveCase, outside []float64, count *counter) error {
	beyond := false
	for i := len(outside) - 1; i >= 0; i-- {
		p := &c.Points[i]
		if beyond {
			*p = c.Points[i+1]
			p.ByLaw = true
		} else if err := s.point(ctx, req, c, outside[i], p); err != nil {
			return fmt.Errorf("%s at %g °C outside: %w", c.Name, outside[i], err)
		}
		beyond = p.Beyond && p.OnIce == 0 && p.IceShare == 0
		count.add()
	}
	return nil
}

// point runs one case at one cold.
func (s *passage) point(ctx context.Context, req Request, c *CurveCase, outsideC float64, p *Point) error {
	a := s.a
	g, err := a.build(c.Case)
	if err != nil {
		return err
	}
	g.Load(s.state, nil)
	var ice0 float64
	c.WaterM3 = g.WaterM3()
	c.ReserveJ, ice0 = g.Reserve()
	c.FreezeJ = greenhouse.FreezingJ(c.WaterM3, ice0)
	w, err := a.watchers(req, c.Case, g)
	if err != nil {
		return err
	}
	spec := a.Spec
	spec.MeanC = outsideC
	spell, err := weather.Spell(spec, winter.PlaceOf(a.Plan), a.Begin)
	if err != nil {
		return err
	}
	r, err := g.Run(ctx, &spell, greenhouse.Options{Stop: func(r *greenhouse.Result) bool {
		if r.Hours() == 1 {
			w.begin(s, r)
		}
		return w.look(r)
	}})
	if err != nil {
		return err
	}
	*p = w.point(ice0, r)
	return nil
}

// full runs the spell with all of the store and the cover, where the request takes any of it away: what is left is told beside it.
func (s *passage) full(ctx context.Context, req Request) error {
	if k := asked(req); k.Lose == 0 && k.BayLost == "" && !(k.NoCover && s.a.Plan.Cover != nil) {
		return nil
	}
	s.a.Full = &Point{}
	return s.point(ctx, req, &CurveCase{}, s.a.Spec.MeanC, s.a.Full)
}

// point is what a run came to.
func (w *watchers) point(ice0 float64, r *greenhouse.Result) Point {
	last := r.Hours() - 1
	p := Point{Hours: w.hours, ReserveJ: r.ReserveJ[last], IceShare: r.IceShare[last]}
	p.StillIceJ = greenhouse.FreezingJ(r.WaterM3[last], p.IceShare)
	var found Answer
	w.settle(&found, r)
	p.Place = found.Place
	if found.Beyond {
		p.Beyond, p.Hours = true, MaxDays*24
	}
	if ice := iceAfter(ice0, r.IceShare); ice >= 0 && ice < p.Hours {
		p.Hours, p.OnIce = ice, p.Hours-ice
	}
	return p
}

// iceBegins is the share of the water that is ice from which on there is ice in the drums; as it is told too.
const iceBegins = 0.0005

// iceAfter is the hour from which on there is ice in the drums, -1 when there is none.
func iceAfter(atBegin float64, share []float64) float64 {
	if atBegin > iceBegins {
		return 0
	}
	for i, x := range share {
		if x > iceBegins {
			return float64(i)
		}
	}
	return -1
}
