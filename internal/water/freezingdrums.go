package water

import (
	"math"
	"slices"

	"suncellar/internal/greenhouse"
)

// freezeDrums finds the ice in each bay and whether it has room.
func (a *Answer) freezeDrums() []FreezeDrum {
	r := a.Winter.Result
	var list []FreezeDrum
	for i := range r.Bays {
		d := FreezeDrum{Bay: r.Bays[i].Name, LowestC: math.Inf(1)}
		d.Fill, d.Stacked = a.filledShare(d.Bay)
		d.Head = 1 - d.Fill
		for h := range r.Hours() {
			ice, low := bayIce(r, d.Bay, h)
			if low < d.LowestC {
				d.LowestC, d.LowAt = low, r.Time(h)
			}
			if ice > 0 && d.First.IsZero() {
				d.First = r.Time(h)
			}
			if ice > d.Ice {
				d.Ice, d.IceAt = ice, r.Time(h)
			}
			if d.TightAt.IsZero() && ice > 0 && d.Fill*ice*iceRoom > d.Head {
				d.TightAt = r.Time(h)
			}
		}
		d.Need = d.Fill * d.Ice * iceRoom
		list = append(list, d)
	}
	return list
}

// bayIce is the share of ice in a bay at the end of an hour, of its layers that hold as much each, and its lowest water [°C].
func bayIce(r *greenhouse.Result, bay string, hour int) (ice, low float64) {
	n := 0.0
	low = math.Inf(1)
	for i := range r.Traces {
		if t := &r.Traces[i]; t.Kind == greenhouse.WaterPlace && t.Bay == bay {
			ice += greenhouse.WaterIce(t.C[hour])
			low = min(low, t.C[hour])
			n++
		}
	}
	return ice / max(1, n), low
}

// filledShare is how full the fullest drum of a bay is: by the level of the water where it is fed, else by its row; and whether it stands below others, and so is full.
func (a *Answer) filledShare(bay string) (share float64, stacked bool) {
	for i := range a.Scheme.Vessels {
		v := &a.Scheme.Vessels[i]
		row := &a.House.Rows[v.Bay.Row]
		if row.BayName(v.Bay.Bay) != bay {
			continue
		}
		if row.Tiers > 1 {
			return 1, true
		}
		of := row.Fill
		if slices.Contains(a.Scheme.Fed, i) {
			of = v.Holds(a.Levels.FullZ) / v.Volume
		}
		share = max(share, of)
	}
	return share, false
}
