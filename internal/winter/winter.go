// Package winter runs a plan through one winter (or one whole year) of hourly weather and answers: how cold each place became and
// when, what the store did, where the heat went, and what all that rests on.
package winter

import (
	"context"
	"fmt"
	"math"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// Progress is told how far a run is; nil is allowed.
type Progress func(done, total int)

// Request is what is asked.
type Request struct {
	Plan    *plan.Plan
	Year    *weather.Series // a year of hourly weather as read; nil: one is made from the plan's normals
	From    *plan.Date      // other first day than the plan's
	Until   *plan.Date      // other last day
	Control thermal.Control // of the step; the zero value is the program's
	Old     bool            // the house is run once more as it is after some years, see Old
}

// Prepared is what all runs of one plan and one year share: geometry, complete weather with its snow, and the ground as it is
// without the house.
type Prepared struct {
	Plan   *plan.Plan
	House  *house.House
	Year   weather.Series // complete, a whole year
	Span   weather.Series // from the day the house is set into the ground to the last day
	Sun    []sun.Span     // over each hour of Span
	Skip   int            // hours of Span before the first that counts
	Ground *greenhouse.Undisturbed
	Made   bool   // the weather was made from normals
	Name   string // of the winter, where it is another one than the year's own; see In
	Number uint64 // of that winter: added to the seed of made snowfalls
	// SnowKnown tells that snowfall comes from the plan or the file; else both cases are run.
	SnowKnown bool
	// AwayKm and HigherM are how far the site lies from the weather's place, and how much higher; 0 where that is not known.
	AwayKm, HigherM float64
	Control         thermal.Control

	req   Request
	age   int              // whole years that the house has stood before
	Earth greenhouse.Earth // the ground that runs begin on; the zero value is the quickest

	Keep  bool // results keep the warmth that From begins from
	begun *greenhouse.Begun

	lying [2]time.Time // when snow lies by rule, where that was taken over from a longer run

	ring weather.Series // the year that was prepared: of the ground without the house, and of the years that an older one has stood
}

// Prepare makes what runs share.
func Prepare(req Request) (*Prepared, error) {
	h, bad := house.Resolve(req.Plan)
	if err := plan.AsError(bad); err != nil {
		return nil, err
	}
	p := &Prepared{Plan: req.Plan, House: h, Control: req.Control, req: req, age: req.Plan.Ground.Age}
	if err := p.weather(req); err != nil {
		return nil, err
	}
	if err := p.span(req); err != nil {
		return nil, err
	}
	p.Sun = greenhouse.Spans(req.Plan, &p.Span)
	if hasSoil(h) {
		u, err := greenhouse.UndisturbedGround(req.Plan, &p.ring)
		if err != nil {
			return nil, err
		}
		p.Ground = u
	}
	return p, nil
}

func hasSoil(h *house.House) bool {
	for i := range h.Faces {
		if h.Faces[i].Behind == house.Soil {
			return true
		}
	}
	return false
}

// PlaceOf is the site as weather knows places.
func PlaceOf(p *plan.Plan) weather.Place {
	const degrees = 180 / math.Pi
	return weather.KnownPlace(p.Site.Latitude*degrees, p.Site.Longitude*degrees, p.Site.Elevation)
}

// weather completes the year and lays the snow.
func (p *Prepared) weather(req Request) error {
	site := PlaceOf(p.Plan)
	year := req.Year
	if year == nil {
		if p.Plan.Climate == nil {
			return fmt.Errorf("no weather: name a file with --year, or write climate: into the plan")
		}
		made, err := Make(p.Plan, uint64(p.Plan.Run.Seed))
		if err != nil {
			return err
		}
		year, p.Made = &made, true
	}
	if err := p.near(year.Place); err != nil {
		return err
	}
	s, err := weather.Complete(*year, site)
	if err != nil {
		return err
	}
	if s, err = p.snow(s); err != nil {
		return err
	}
	p.Year, p.ring = s, s
	return nil
}

// farthestDeg is how far the weather's place may lie from the site, in latitude and in longitude [°]. Beyond it the file's sun stands
// elsewhere in the sky than the site's by a third of an hour or more.
const farthestDeg = 5.0

// near refuses weather of a place too far away, and notes what a nearer one differs by.
func (p *Prepared) near(of weather.Place) error {
	site := PlaceOf(p.Plan)
	if of.ElevationKnown {
		p.HigherM = site.ElevationM - of.ElevationM
	}
	if !of.PositionKnown {
		return nil
	}
	north := math.Abs(site.LatitudeDeg - of.LatitudeDeg)
	east := math.Abs(math.Remainder(site.LongitudeDeg-of.LongitudeDeg, 360))
	p.AwayKm = 111 * math.Hypot(north, east*math.Cos(p.Plan.Site.Latitude))
	if north <= farthestDeg && east <= farthestDeg {
		return nil
	}
	path := "site.latitude"
	if east > north {
		path = "site.longitude"
	}
	return plan.AsError([]plan.Finding{p.Plan.Place(plan.Finding{Path: path,
		Message: fmt.Sprintf("the weather is of %.2f°, %.2f°, the site at %.2f°, %.2f°: %.0f km apart, must be within %g° of latitude and of longitude",
			of.LatitudeDeg, of.LongitudeDeg, site.LatitudeDeg, site.LongitudeDeg, p.AwayKm, farthestDeg),
		Hint: "take the weather of a place near the site, or put the site right"})})
}

// snow lays the plan's snowfalls, which may be none at all, else those of a file that has them.
func (p *Prepared) snow(s weather.Series) (weather.Series, error) {
	sn := p.Plan.Snow
	switch {
	case sn.Never() || sn != nil && len(sn.List) > 0:
		events := make([]weather.SnowEvent, 0, len(sn.List))
		for _, f := range sn.List {
			fall := time.Date(s.Start.Year(), time.Month(f.Date.Month), f.Date.Day, 6, 0, 0, 0, s.Start.Location())
			if fall.Before(s.Start) {
				fall = fall.AddDate(1, 0, 0)
			}
			if !fall.Add(6 * time.Hour).After(s.End()) {
				events = append(events, weather.SnowEvent{Time: fall, DepthM: f.Depth, Hours: 6})
			}
		}
		out, err := s.WithSnowfalls(events)
		p.SnowKnown = true
		return out, err
	case sn != nil && sn.Fall != nil:
		p.SnowKnown = true
		days := [12]float64{}
		if sn.Days != nil {
			days = *sn.Days
		}
		return s.WithSnowNormals(*sn.Fall, days, uint64(sn.Seed)+p.Number), nil
	}
	for _, h := range s.Hours {
		if h.SnowfallM > 0 {
			p.SnowKnown = true
			break
		}
	}
	return s, nil
}

// span cuts the hours that are run: from the day the house is built, or for a house on no soil from some days before, to the last.
func (p *Prepared) span(req Request) error {
	run := p.Plan.Run
	if run.Span == "whole year" {
		n := min(run.WarmUp, 300) * 24
		y := p.Year
		if len(y.Hours) < 8760 {
			return fmt.Errorf("run: whole year needs 8760 h of weather, %s has %d", y.Name, len(y.Hours))
		}
		s := y
		s.Hours = append(make([]weather.Hour, 0, n+(p.age+1)*len(y.Hours)), y.Hours[len(y.Hours)-n:]...)
		for range p.age {
			s.Hours = append(s.Hours, y.Hours...)
		}
		p.Skip = len(s.Hours)
		s.Hours = append(s.Hours, y.Hours...)
		s.Start = y.Start.Add(-time.Duration(p.Skip) * time.Hour)
		p.Span = s
		return nil
	}
	from, until := run.From, run.Until
	if req.From != nil {
		from = *req.From
	}
	if req.Until != nil {
		until = *req.Until
	}
	begin := p.Plan.Ground.Built
	s, err := p.fromBuilt(begin, from, until)
	if err != nil {
		return err
	}
	older, err := p.older(begin)
	if err != nil {
		return err
	}
	s.Hours = append(older, s.Hours...)
	s.Start = s.Start.Add(-time.Duration(len(older)) * time.Hour)
	p.Span = s
	for i := len(older); i < len(s.Hours); i++ {
		if t := s.HourStart(i); int(t.Month()) == from.Month && t.Day() == from.Day && t.Hour() == 0 {
			p.Skip = i
			return nil
		}
	}
	return fmt.Errorf("run.from: %02d-%02d does not lie between the day the house is built, %02d-%02d, and the last day, %02d-%02d",
		from.Month, from.Day, begin.Month, begin.Day, until.Month, until.Day)
}

// fromBuilt is the hours from the day the house is built to the last day. Where that comes round past the built day again, as for a summer, the
// hours up to the first day that counts and those after it are laid end to end.
func (p *Prepared) fromBuilt(begin, from, until plan.Date) (weather.Series, error) {
	days := func(d plan.Date) int { // from the built day
		n := time.Date(2001, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC).YearDay() - time.Date(2001, time.Month(begin.Month), begin.Day, 0, 0, 0, 0, time.UTC).YearDay()
		return (n + 365) % 365
	}
	if days(until) >= days(from) || days(from) == 0 {
		return p.Year.Winter(monthDay(begin), monthDay(until))
	}
	eve := time.Date(2001, time.Month(from.Month), from.Day-1, 0, 0, 0, 0, time.UTC)
	s, err := p.Year.Winter(monthDay(begin), weather.MonthDay{Month: eve.Month(), Day: eve.Day()})
	if err != nil {
		return s, err
	}
	rest, err := p.Year.Winter(monthDay(from), monthDay(until))
	s.Hours = append(s.Hours, rest.Hours...)
	return s, err
}

// older is the hours of the years that the house has stood before, each from the day it was built.
func (p *Prepared) older(begin plan.Date) ([]weather.Hour, error) {
	var hours []weather.Hour
	y := p.ring
	for range p.age {
		for i := range y.Hours {
			if t := y.HourStart(i); int(t.Month()) == begin.Month && t.Day() == begin.Day && t.Hour() == 0 {
				hours = append(append(hours, y.Hours[i:]...), y.Hours[:i]...)
				break
			}
		}
	}
	if len(hours) < p.age*8760 {
		return nil, fmt.Errorf("ground.age: the weather does not hold a whole year from %02d-%02d", begin.Month, begin.Day)
	}
	return hours, nil
}

func monthDay(d plan.Date) weather.MonthDay {
	return weather.MonthDay{Month: time.Month(d.Month), Day: d.Day}
}

// Setup is how a run of the prepared plan begins.
func (p *Prepared) Setup() greenhouse.Setup {
	s := greenhouse.Setup{Control: p.Control, Earth: p.Earth, Begun: p.begun}
	sum, n := 0.0, min(240, len(p.Span.Hours))
	for _, h := range p.Span.Hours[:n] {
		sum += h.AirC
	}
	s.StartC = sum / float64(n)
	if p.Ground != nil {
		first := p.Span.Start
		s.Ground, s.FrostM = p.Ground.Profile(int(first.Month()), first.Day()), &p.Ground.FrostM
	}
	return s
}

// spellFrostM is how deep the ground outdoors may freeze where more freezes than in the winter itself [m].
const spellFrostM = 1.2

// HarderFrost is Setup for hours in which more freezes than in the winter itself, as in a sunless spell or by a fault: the beds and the earth under the room may, and the ground outdoors deeper.
func (p *Prepared) HarderFrost() greenhouse.Setup {
	s := p.Setup()
	s.Earth = max(s.Earth, greenhouse.FrostInside)
	if s.FrostM != nil {
		deeper := max(*s.FrostM, spellFrostM)
		s.FrostM = &deeper
	}
	return s
}

// lyingLead is how long before the coldest ten days snow comes to lie, in the case that it does [h].
const lyingLead = 48

// Lying is the time in which snow lies in the case that it does: the coldest ten days of the hours that count, and two days before.
func (p *Prepared) Lying() [2]time.Time {
	if fixed(p.lying) {
		return p.lying
	}
	counted := p.Span
	counted.Hours = counted.Hours[p.Skip:]
	counted.Start = p.Span.HourStart(p.Skip)
	begin, _, ok := counted.Coldest(min(240, len(counted.Hours)))
	if !ok {
		return [2]time.Time{}
	}
	return [2]time.Time{begin.Add(-lyingLead * time.Hour), begin.Add(240 * time.Hour)}
}

// Simulate runs the prepared plan once under a snow case.
func (p *Prepared) Simulate(ctx context.Context, snow greenhouse.SnowCase, progress Progress) (*greenhouse.Result, error) {
	return p.SimulateLogged(ctx, snow, nil, progress)
}

// SimulateLogged runs it with a log of the snow on panes and roofs: written, or for greenhouse.SnowLogged read.
func (p *Prepared) SimulateLogged(ctx context.Context, snow greenhouse.SnowCase, log *greenhouse.SnowLog, progress Progress) (*greenhouse.Result, error) {
	setup := p.Setup()
	setup.Snow, setup.Log = snow, log
	if snow == greenhouse.SnowLies {
		setup.Lying = p.Lying()
	}
	_, r, err := greenhouse.Simulate(ctx, p.House, setup, &p.Span, greenhouse.Options{Skip: p.Skip, Spans: p.Sun, Progress: progress, Keep: p.Keep})
	return r, err
}
