package winter

import (
	"fmt"
	"time"

	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// Make makes a typical year from the plan's normals.
func Make(p *plan.Plan, seed uint64) (weather.Series, error) {
	s, err := weather.Typical(normals(p.Climate), PlaceOf(p), seed)
	if err != nil {
		return weather.Series{}, fmt.Errorf("making weather from the plan's climate: %w", err)
	}
	return s, nil
}

// Years prepares arbitrarily many plausible years from the plan's normals; its seed is the plan's run.seed.
func Years(p *plan.Plan) (*weather.Years, error) {
	y, err := weather.NewYears(normals(p.Climate), spread(p.Climate), PlaceOf(p), uint64(p.Run.Seed))
	if err != nil {
		return nil, fmt.Errorf("making winters from the plan's climate: %w", err)
	}
	return y, nil
}

// SpellRequest asks for a cold dull spell in a made year.
type SpellRequest struct {
	Days  int
	From  *plan.Date // first day; nil: so that its middle is that of the coldest month
	MeanC *float64   // mean air [°C]; nil: what the normals give (weather.Normals.DullSpell)
}

// MakeWithSpell makes a typical year from the plan's normals and sets a cold dull spell into it.
func MakeWithSpell(p *plan.Plan, seed uint64, req SpellRequest) (weather.Series, error) {
	s, err := Make(p, seed)
	if err != nil {
		return weather.Series{}, err
	}
	spec, month, err := normals(p.Climate).DullSpell(req.Days)
	if err != nil {
		return weather.Series{}, err
	}
	if req.MeanC != nil {
		spec.MeanC = *req.MeanC
	}
	from := middle(s.Start, month).AddDate(0, 0, -req.Days/2)
	if req.From != nil {
		from = time.Date(s.Start.Year(), time.Month(req.From.Month), req.From.Day, 0, 0, 0, 0, s.Start.Location())
	}
	if from.Before(s.Start) { // a spell that begins in December: the typical year is a ring
		from = from.AddDate(1, 0, 0)
	}
	return s.WithSpell(spec, from)
}

// middle is the first instant of the day in the middle of a month of the year that begins at start.
func middle(start time.Time, month time.Month) time.Time {
	first := time.Date(start.Year(), month, 1, 0, 0, 0, 0, start.Location())
	length := int(first.AddDate(0, 1, 0).Sub(first).Hours() / 24)
	return first.AddDate(0, 0, length/2)
}

// normals are the plan's climate as weather knows it; its snow is laid by the plan.
func normals(c *plan.Climate) weather.Normals {
	n := weather.Normals{MeanLowC: c.MeanLow, MeanHighC: c.MeanHigh, DailySunKWhM2: c.Sun, WetDays: c.WetDays, WindMS: c.Wind}
	for m := range 12 {
		n.PrecipMM[m] = c.Precipitation[m] * 1000
	}
	if c.DewPoint != nil {
		n.DewPointC = c.DewPoint[:]
	}
	if c.YearLowest != nil {
		n.YearLowestC, n.YearLowestKnown = *c.YearLowest, true
	}
	return n
}

// spread is how the plan's climate differs from year to year and from day to day; zeros where the plan does not say.
func spread(c *plan.Climate) weather.Spread {
	var s weather.Spread
	for _, row := range []struct {
		to   *[12]float64
		from *[12]float64
	}{{&s.MonthK, c.MonthSpread}, {&s.LowK, c.LowSpread}, {&s.HighK, c.HighSpread}} {
		if row.from != nil {
			*row.to = *row.from
		}
	}
	return s
}
