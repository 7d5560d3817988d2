package report

import (
	"math"

	"suncellar/internal/water"
)

type rainJSON struct {
	Source      string           `json:"source"`
	Days        int              `json:"days"`
	Unknown     int              `json:"days_unknown"`
	CaughtM3    float64          `json:"caught_m3"`
	FlushedM3   float64          `json:"flushed_m3"`
	ShedM3      float64          `json:"shed_m3"`
	LostM3      float64          `json:"lost_m3"`
	SnowShare   float64          `json:"snow_share"`
	SpilledM3   float64          `json:"spilled_m3"`
	WantedM3    float64          `json:"wanted_m3"`
	GivenM3     float64          `json:"given_m3"`
	ChangeM3    float64          `json:"change_m3"`
	OpenM3      float64          `json:"open_m3"`
	Reliability *float64         `json:"reliability"` // null: nothing is used
	DaysWanted  int              `json:"days_wanted"`
	DaysShort   int              `json:"days_short"`
	DaysNone    int              `json:"days_none"`
	DaysKept    int              `json:"days_kept"`
	Longest     int              `json:"longest_short_days"`
	Months      []waterMonthJSON `json:"months"`
	Drums       int              `json:"drums"`
	Curve       []curvePointJSON `json:"curve"`
}

type waterMonthJSON struct {
	Month     int     `json:"month"`
	CaughtM3  float64 `json:"caught_m3"`
	SpilledM3 float64 `json:"spilled_m3"`
	WantedM3  float64 `json:"wanted_m3"`
	GivenM3   float64 `json:"given_m3"`
	LowestM3  float64 `json:"lowest_m3"`
	DaysShort float64 `json:"days_short"`
}

type curvePointJSON struct {
	Drums       int     `json:"drums"`
	Reliability float64 `json:"reliability"`
	GivenM3     float64 `json:"given_m3_year"`
	SpilledM3   float64 `json:"spilled_m3_year"`
}

// rainAsJSON is the balance: sums over all days, months in the mean of a year; nil where no rain is known.
func rainAsJSON(b *water.Balance) *rainJSON {
	if b == nil {
		return nil
	}
	out := &rainJSON{Source: b.Source, Days: b.Days, Unknown: b.Unknown, CaughtM3: b.Caught, FlushedM3: b.Flushed, ShedM3: b.Shed, LostM3: b.Lost, SnowShare: b.SnowShare,
		SpilledM3: b.Spilled, WantedM3: b.Wanted, GivenM3: b.Given, ChangeM3: b.Change, OpenM3: b.Open, DaysWanted: b.DaysWanted, DaysShort: b.DaysShort, DaysNone: b.DaysNone,
		DaysKept: b.DaysKept, Longest: b.LongestShort, Drums: b.Drums, Curve: []curvePointJSON{}}
	if b.Use {
		r := b.Reliability()
		out.Reliability = &r
	}
	for m := range b.Months {
		of := &b.Months[m]
		lowest := of.Lowest
		if math.IsInf(lowest, 0) {
			lowest = 0
		}
		out.Months = append(out.Months, waterMonthJSON{m + 1, of.Caught, of.Spilled, of.Wanted, of.Given, lowest, of.DaysShort})
	}
	for _, c := range b.Curve {
		out.Curve = append(out.Curve, curvePointJSON{c.Drums, c.Reliability, c.Given, c.Spilled})
	}
	return out
}
