package report

import (
	"io"
	"time"

	"suncellar/internal/chance"
)

// The JSON answer of chance. Shares are of winters, 0 to 1; every band holds 8 of 10; what cannot be told is null.
type chanceJSON struct {
	Schema    Schema             `json:"schema"`
	Plan      string             `json:"plan"`
	LimitC    float64            `json:"limit_c"`
	Watched   string             `json:"watched,omitempty"`
	Sentences []string           `json:"sentences"`
	Made      bool               `json:"winters_made"`
	Winters   []string           `json:"winters"`
	Months    []int              `json:"months"`
	Places    []chancePlaceJSON  `json:"places"`
	House     *chanceHouseJSON   `json:"house,omitempty"`
	Worst     []chanceWinterJSON `json:"coldest_winters"`
	LeanK     float64            `json:"made_winters_too_mild_by_up_to_k"`
	Failed    []string           `json:"not_computed"`
	Runs      int                `json:"runs"`
	Cautions  []string           `json:"cautions"`
}

type chancePlaceJSON struct {
	Name        string       `json:"name"`
	Kind        string       `json:"kind"`
	Frost       shareJSON    `json:"winters_below_zero"`
	Limit       shareJSON    `json:"winters_below_limit"`
	Month       []shareJSON  `json:"months_below_zero"`
	OverWinters bandJSON     `json:"lowest_over_winters"`
	Returns     []returnJSON `json:"returns"`
	ZeroH       hoursJSON    `json:"hours_below_zero"`
	LimitH      hoursJSON    `json:"hours_below_limit"`
	LowestC     []*float64   `json:"lowest_c"`
}

type shareJSON struct {
	Of      int     `json:"of"`
	Winters int     `json:"winters"`
	Lo      float64 `json:"from"`
	Hi      float64 `json:"to"`
}

type bandJSON struct {
	Lo     *float64 `json:"from_c"`
	Middle *float64 `json:"middle_c"`
	Hi     *float64 `json:"to_c"`
}

type shiftJSON struct {
	Lo     float64 `json:"from_k"`
	Middle float64 `json:"middle_k"`
	Hi     float64 `json:"to_k"`
}

type returnJSON struct {
	Years   int      `json:"years"`
	LowestC *float64 `json:"lowest_c"`
	Lo      *float64 `json:"from_c"`
	Hi      *float64 `json:"to_c"`
}

type hoursJSON struct {
	Mean float64 `json:"mean_h"`
	Most float64 `json:"most_h"`
}

type chanceHouseJSON struct {
	Draws        int               `json:"houses_drawn"`
	Failed       int               `json:"not_computed"`
	Shift        shiftJSON         `json:"lowest_off_the_plan"`
	Both         bandJSON          `json:"lowest_over_both"`
	WintersShare float64           `json:"share_of_winters"`
	Inputs       []chanceInputJSON `json:"not_known"`
}

type chanceInputJSON struct {
	Label        string  `json:"label"`
	Spread       string  `json:"one_deviation"`
	Source       string  `json:"source"`
	PerDeviation float64 `json:"lowest_by_one_deviation_k"`
	Share        float64 `json:"share_of_house"`
}

type chanceWinterJSON struct {
	Name    string  `json:"name"`
	LowestC float64 `json:"lowest_c"`
	At      string  `json:"at"`
}

// ChanceJSON writes an answer for programs.
func (t Teller) ChanceJSON(w io.Writer, a *chance.Answer) error {
	out := chanceJSON{Schema: Schema{"suncellar.chance", 1}, Plan: a.Plan.Name, LimitC: a.LimitC, Sentences: t.chanceSentences(a), Made: a.Made,
		Winters: a.Names, LeanK: a.LeanOutdoorsK, Failed: append([]string{}, a.Failed...), Runs: a.Runs, Cautions: t.chanceCautions(a)}
	if a.Watched >= 0 {
		out.Watched = a.Places[a.Watched].Name
	}
	for _, m := range a.Months {
		out.Months = append(out.Months, int(m))
	}
	for i := range a.Places {
		out.Places = append(out.Places, chancePlaceAsJSON(&a.Places[i]))
	}
	if h := a.House; h != nil {
		j := &chanceHouseJSON{Draws: h.Draws, Failed: h.Failed, Shift: shiftJSON{h.Shift.Lo, h.Shift.Middle, h.Shift.Hi}, Both: bandOfWinters(h.Both), WintersShare: h.WinterShare, Inputs: []chanceInputJSON{}}
		for _, in := range h.Inputs {
			j.Inputs = append(j.Inputs, chanceInputJSON(in))
		}
		out.House = j
	}
	for _, s := range a.Worst {
		out.Worst = append(out.Worst, chanceWinterJSON{a.Names[s.Winter], s.LowestC, s.At.In(a.Span.Start.Location()).Format(time.RFC3339)})
	}
	return WriteJSON(w, out)
}

func chancePlaceAsJSON(p *chance.Place) chancePlaceJSON {
	out := chancePlaceJSON{Name: p.Name, Kind: string(p.Kind), Frost: shareAsJSON(p.Frost), Limit: shareAsJSON(p.Limit), OverWinters: bandOfWinters(p.Band),
		ZeroH: hoursJSON(p.BelowH[0]), LimitH: hoursJSON(p.BelowH[1])}
	for _, s := range p.Month {
		out.Month = append(out.Month, shareAsJSON(s))
	}
	for _, r := range p.Returns {
		out.Returns = append(out.Returns, returnJSON{r.Years, finite(r.C), finite(r.Lo), finite(r.Hi)})
	}
	for _, c := range p.LowestC {
		out.LowestC = append(out.LowestC, finite(c))
	}
	return out
}

func shareAsJSON(s chance.Share) shareJSON { return shareJSON(s) }

func bandOfWinters(b chance.Band) bandJSON {
	return bandJSON{finite(b.Lo), finite(b.Middle), finite(b.Hi)}
}

// The band over drawn houses in one winter.
type housesJSON struct {
	Draws  int               `json:"houses_drawn"`
	Failed int               `json:"not_computed"`
	Share  float64           `json:"share"`
	Places []housesPlaceJSON `json:"places"`
}

type housesPlaceJSON struct {
	Name     string            `json:"name"`
	PlannedC float64           `json:"planned_lowest_c"`
	Lowest   bandJSON          `json:"lowest"`
	Inputs   []chanceInputJSON `json:"not_known"`
}

// housesAsJSON is nil where none were drawn.
func housesAsJSON(h *chance.Houses) *housesJSON {
	if h == nil {
		return nil
	}
	out := &housesJSON{Draws: h.Draws, Failed: h.Failed, Share: 0.8}
	for _, p := range h.Places {
		j := housesPlaceJSON{Name: p.Name, PlannedC: p.PlannedC, Lowest: bandOfWinters(p.Band), Inputs: []chanceInputJSON{}}
		for _, in := range p.Inputs {
			j.Inputs = append(j.Inputs, chanceInputJSON(in))
		}
		out.Places = append(out.Places, j)
	}
	return out
}
