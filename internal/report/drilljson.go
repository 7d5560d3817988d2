package report

import (
	"io"
	"math"
	"time"

	"suncellar/internal/drill"
)

type drillJSON struct {
	Schema    Schema           `json:"schema"`
	Plan      string           `json:"plan"`
	Kind      string           `json:"kind"`
	At        string           `json:"at"`
	Path      string           `json:"path"`
	Begin     string           `json:"begin"`
	End       string           `json:"end"`
	Sentences []string         `json:"sentences"`
	Steps     []string         `json:"steps"`
	Places    []drillPlaceJSON `json:"places"`
	ReserveJ  [2]float64       `json:"least_reserve_j"` // as planned, with the fault
	Leak      *leakJSON        `json:"leak,omitempty"`
	OpenL     float64          `json:"open_l"`
	HeatOpen  float64          `json:"heat_open_rel"`
	Cautions  []string         `json:"cautions"`
}

type drillPlaceJSON struct {
	Name    string      `json:"name"`
	Kind    string      `json:"kind"`
	LimitC  float64     `json:"limit_c"`
	LowestC [2]*float64 `json:"lowest_c"`      // null: dry
	UntilH  [2]*float64 `json:"below_after_h"` // null: never
	BelowH  [2]int      `json:"hours_below"`
}

type leakJSON struct {
	M3     float64       `json:"lost_m3"`
	HeatJ  float64       `json:"lost_j"`
	To     string        `json:"to"`
	HoleM  float64       `json:"hole_m"`
	DrainH *float64      `json:"nine_tenths_after_h"` // null: not before the winter's end
	HeldM3 float64       `json:"lost_with_valves_shut_m3"`
	HeldJ  float64       `json:"lost_with_valves_shut_j"`
	Bays   []bayLossJSON `json:"bays"`
	Again  []*float64    `json:"refill_days"` // a year of the rain each, sorted; null: not within a year
	Mend   *mendJSON     `json:"mended,omitempty"`
}

type bayLossJSON struct {
	Bay    string  `json:"bay"`
	HeldM3 float64 `json:"held_m3"`
	LostM3 float64 `json:"lost_m3"`
}

type mendJSON struct {
	SeenAt  string           `json:"seen_at"`
	GoneM3  float64          `json:"gone_m3"`
	KeptM3  float64          `json:"kept_m3"`
	DrainM3 float64          `json:"drained_m3"`
	LetOutH float64          `json:"drained_in_h"`
	SavedM3 float64          `json:"saved_m3"`
	SetH    *float64         `json:"sets_in_h"` // null: too cold
	SetC    float64          `json:"air_at_joint_c"`
	Places  []drillPlaceJSON `json:"places"` // ridden out, mended
	Reserve [2]float64       `json:"least_reserve_j"`
}

// DrillJSON writes the answer for programs.
func DrillJSON(w io.Writer, a *drill.Answer) error {
	t := Teller{}
	out := drillJSON{Schema: Schema{"suncellar.drill", 1}, Plan: a.Winter.Plan.Name, Kind: string(a.Kind), At: a.At, Path: a.Path, Begin: a.Begin.Format(time.RFC3339), End: a.End.Format(time.RFC3339),
		Sentences: t.DrillSentences(a), Steps: t.DrillSteps(a), Places: drillPlacesJSON(a.Places), ReserveJ: a.Reserve, OpenL: a.OpenL, HeatOpen: a.HeatOpen, Cautions: a.Cautions}
	if l := a.Leak; l != nil {
		j := &leakJSON{M3: l.M3, HeatJ: l.HeatJ, To: l.To, HoleM: a.HoleM, DrainH: known(l.DrainH), HeldM3: l.Held.M3, HeldJ: l.Held.HeatJ, Again: []*float64{}}
		for _, b := range l.Bays {
			j.Bays = append(j.Bays, bayLossJSON{b.Bay, b.HeldM3, b.LostM3})
		}
		for _, d := range l.Again.Days {
			j.Again = append(j.Again, finite(d))
		}
		if m := l.Mend; m != nil {
			j.Mend = &mendJSON{m.SeenAt.Format(time.RFC3339), m.GoneM3, m.KeptM3, m.DrainM3, m.LetOutH, m.SavedM3, finite(m.SetH), m.SetC, drillPlacesJSON(m.Places), m.Reserve}
		}
		out.Leak = j
	}
	return WriteJSON(w, out)
}

func drillPlacesJSON(list []drill.Place) []drillPlaceJSON {
	var out []drillPlaceJSON
	for i := range list {
		p := &list[i]
		out = append(out, drillPlaceJSON{p.Name, string(p.Kind), p.LimitC, [2]*float64{finite(p.LowestC[0]), finite(p.LowestC[1])}, [2]*float64{known(p.UntilH[0]), known(p.UntilH[1])}, p.BelowH})
	}
	return out
}

// known is a number that is not negative, nil for one that says never.
func known(v float64) *float64 {
	if v < 0 || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
