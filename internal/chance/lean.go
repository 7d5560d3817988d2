package chance

import (
	"context"

	"suncellar/internal/ensemble"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Made winters are not validated to be as cold as a record's: what their validation does not exclude (weather.MadeWinters) is put on the cold side. The coldest of them are run
// once more, colder outdoors by that much, and what this does to each place lowers its cold ends and is counted into the upper end of its chances. Middles stay.

// leanOn is how many of the coldest winters are run again.
const leanOn = 6

// colder are winters colder by so many kelvin.
type colder struct {
	ensemble.Winters
	byK float64
}

func (c colder) Weather(k int) (weather.Series, error) {
	s, err := c.Winters.Weather(k)
	if err != nil {
		return s, err
	}
	return s.Warmer(-c.byK), nil
}

// lean finds the lean of every place and puts it on.
func (a *Answer) lean(ctx context.Context, req ensemble.Request, planned []ensemble.Summary, progress winter.Progress) error {
	byK := weather.MadeWinters.ColderK
	again := ensemble.Request{Base: req.Base, Winters: colder{req.Winters, byK}, AtOnce: req.AtOnce}
	for _, w := range a.Worst[:min(leanOn, len(a.Worst))] {
		again.Runs = append(again.Runs, ensemble.Run{Winter: w.Winter})
	}
	out, err := ensemble.Simulate(ctx, again, progress)
	if err != nil {
		return err
	}
	a.Runs += len(out)
	a.LeanOutdoorsK = byK
	for i := range a.Places {
		sum, n := 0.0, 0
		for k := range out {
			if own := &out[k]; own.Err == nil {
				sum, n = sum+planned[own.Winter].Places[i].LowestC-own.Places[i].LowestC, n+1
			}
		}
		leanK := byK // where nothing could be run, as much as outdoors
		if n > 0 {
			leanK = max(0, sum/float64(n))
		}
		a.Places[i].leanBy(leanK, a.LimitC)
	}
	return nil
}

// leanBy puts a lean on the cold side of a place.
func (p *Place) leanBy(k, limitC float64) {
	p.LeanK = k
	frost, limit := 0, 0
	for _, c := range p.LowestC {
		if c-k < 0 {
			frost++
		}
		if c-k < limitC {
			limit++
		}
	}
	p.Frost.Hi = shareOf(frost, len(p.LowestC)).Hi
	p.Limit.Hi = shareOf(limit, len(p.LowestC)).Hi
	p.Band.Lo -= k
	for i := range p.Returns {
		p.Returns[i].Lo -= k
	}
}
