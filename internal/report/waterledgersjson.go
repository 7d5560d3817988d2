package report

import (
	"math"
	"time"

	"suncellar/internal/water"
)

type waterLedgersJSON struct {
	Place       string       `json:"place"`
	LowestC     float64      `json:"lowest_c"`
	StillC      float64      `json:"lowest_without_rain_and_use_c"`
	FreeC       *float64     `json:"lowest_with_nothing_kept_c,omitempty"`
	FreeM3      *float64     `json:"used_with_nothing_kept_m3,omitempty"`
	CaughtM3    float64      `json:"caught_m3"`
	CaughtC     *float64     `json:"caught_c"` // null: nothing was caught
	CaughtJ     float64      `json:"caught_j"`
	FlushedM3   float64      `json:"flushed_m3"`
	PastM3      float64      `json:"past_m3"`
	OverM3      float64      `json:"over_m3"`
	OverJ       float64      `json:"over_j"`
	WantedM3    float64      `json:"wanted_m3"`
	UsedM3      float64      `json:"used_m3"`
	DrawnJ      float64      `json:"drawn_j"`
	ShortDays   int          `json:"short_days"`
	KeptDays    int          `json:"kept_days"`
	BeginM3     float64      `json:"begin_m3"`
	EndM3       float64      `json:"end_m3"`
	OpenL       float64      `json:"open_l"`
	HeatOpenRel float64      `json:"heat_open_rel"`
	Draw        *drawnAsJSON `json:"draw,omitempty"`
}

type drawnAsJSON struct {
	At         string          `json:"at"`
	Bed        string          `json:"bed"`
	WantedM3   float64         `json:"wanted_m3"`
	TakenM3    float64         `json:"taken_m3"`
	HeldM3     float64         `json:"held_before_m3"`
	KeptM3     float64         `json:"kept_m3"`
	HeatJ      float64         `json:"heat_j"`
	Places     []placeCostJSON `json:"places"`
	CarryPlace string          `json:"carry_place"`
	OutsideC   float64         `json:"carry_outside_c"`
	LimitC     float64         `json:"carry_limit_c"`
	CarryH     *float64        `json:"carry_h"`          // null: not within the days that are run
	CarryWasH  *float64        `json:"carry_without_h"`  // the same
	BackDays   []*float64      `json:"back_days"`        // a year each, sorted; null: not within a year
	InWinterH  *float64        `json:"back_in_winter_h"` // null: not before its end
	ShortDays  float64         `json:"short_days_more"`
}

type placeCostJSON struct {
	Name     string  `json:"name"`
	WithoutC float64 `json:"lowest_without_c"`
	WithC    float64 `json:"lowest_with_c"`
}

func ledgersAsJSON(l *water.Ledgers) *waterLedgersJSON {
	if l == nil {
		return nil
	}
	r := &l.Rain
	out := &waterLedgersJSON{Place: l.Place, LowestC: l.LowestC, StillC: l.StillC, CaughtM3: r.CaughtM3, CaughtJ: l.RainJ, FlushedM3: r.FlushedM3, PastM3: r.PastM3, OverM3: r.OverM3, OverJ: l.OverJ,
		WantedM3: r.WantedM3, UsedM3: r.UsedM3, DrawnJ: l.DrawnJ, ShortDays: r.ShortDays, KeptDays: r.KeptDays, BeginM3: l.WaterBeginM3, EndM3: l.WaterEndM3, OpenL: l.OpenL, HeatOpenRel: l.HeatOpen}
	if r.CaughtM3 > 0 {
		out.CaughtC = &r.CaughtC
	}
	if l.Kept {
		out.FreeC, out.FreeM3 = &l.FreeC, &l.FreeM3
	}
	if d := l.Draw; d != nil {
		j := &drawnAsJSON{At: d.At.Format(time.RFC3339), Bed: d.Bed, WantedM3: d.VolumeM3, TakenM3: d.TakenM3, HeldM3: d.HeldM3, KeptM3: d.KeptM3, HeatJ: d.HeatJ, CarryPlace: d.CarryBefore.Place,
			OutsideC: d.Carry.Spec.MeanC, LimitC: d.Carry.LimitC, BackDays: []*float64{}, ShortDays: d.ShortDays}
		for _, c := range d.Places {
			j.Places = append(j.Places, placeCostJSON{c.Name, c.BeforeC, c.AfterC})
		}
		if !d.Carry.Beyond {
			j.CarryH = &d.Carry.Hours
		}
		if !d.CarryBefore.Beyond {
			j.CarryWasH = &d.CarryBefore.Hours
		}
		if d.InWinterH >= 0 {
			j.InWinterH = &d.InWinterH
		}
		for _, v := range d.BackDays {
			if math.IsInf(v, 1) {
				j.BackDays = append(j.BackDays, nil)
			} else {
				j.BackDays = append(j.BackDays, &v)
			}
		}
		out.Draw = j
	}
	return out
}
