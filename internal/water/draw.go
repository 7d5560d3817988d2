package water

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"suncellar/internal/carry"
	"suncellar/internal/catchment"
	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// Draw is water taken once from the drums.
type Draw struct {
	VolumeM3 float64
	On       plan.Date // zero: the first of the coldest ten days
	Bed      string    // that it goes onto; "": the largest
}

// DrawAnswer is what a draw costs, and when the rain gives it back.
type DrawAnswer struct {
	Draw
	At                 time.Time
	TakenM3            float64 // less than asked for where no more was there
	HeldM3, KeptM3     float64 // before it; what the plan keeps on that day
	HeatJ              float64 // above 0 °C that it takes out of the drums
	Places             []PlaceCost
	Carry, CarryBefore *carry.Answer // without sun from that evening on, with the draw and without
	BackDays           []float64     // days until the drums hold as much as without it, a year of the rain each, sorted; +Inf where they do not within a year; nil where no rain is known
	InWinterH          float64       // hours until they do in the simulated winter itself; -1: not in it
	ShortDays          float64       // on which the beds get less than wanted because of it, in the mean of the years
	hour               int           // of the winter's result
}

// PlaceCost is the lowest of a place from the draw to the end of the winter, with it and without [°C].
type PlaceCost struct {
	Name            string
	BeforeC, AfterC float64
}

// drawHour is the hour of the clock at which it is taken [h].
const drawHour = 12

// draw runs the winter with water taken once.
func (a *Answer) draw(ctx context.Context, d *Draw) (*DrawAnswer, error) {
	out := &DrawAnswer{Draw: *d}
	base := a.Winter.Result
	if d.On.Month == 0 {
		first := base.Time(a.Winter.Spell.From)
		out.On = plan.DayOf(first.Month(), first.Day())
		d = &out.Draw
	}
	hour := -1
	for i := range base.Hours() {
		if at := base.Time(i).Add(-time.Hour); at.Hour() == drawHour && int(at.Month()) == d.On.Month && at.Day() == d.On.Day {
			hour, out.At, out.hour = i, at, i
			break
		}
	}
	if hour < 1 {
		return nil, &winter.Asked{Of: "on", Err: fmt.Errorf("the day of the draw, %02d-%02d, is no day of the winter that is run, %s to %s", d.On.Month, d.On.Day, base.Start.Format("01-02"), base.Time(base.Hours()-1).Format("01-02"))}
	}
	if err := a.bedOf(out); err != nil {
		return nil, err
	}
	changed, held := a.withDraw(out, hour-1)
	out.HeldM3, out.KeptM3 = held, a.Plan.Water.Kept(d.On)
	with, err := a.otherwise(ctx, changed)
	if err != nil {
		return nil, fmt.Errorf("the winter with the draw: %w", err)
	}
	cause := "draw, onto " + out.Bed
	for i, b := range with.Water.Bays {
		before := base.Water.Bays[i]
		out.TakenM3 += (b.OutL[cause] - before.OutL[cause]) / 1000
	}
	out.HeatJ = flowAt(with, "water drawn for beds", hour) - flowAt(base, "water drawn for beds", hour)
	for i := range base.Traces {
		t := &base.Traces[i]
		if t.Kind == greenhouse.LeafPlace || t.Kind == greenhouse.AirPlace {
			out.Places = append(out.Places, PlaceCost{t.Name, slices.Min(t.C[hour:]), slices.Min(with.Trace(t.Name).C[hour:])})
		}
	}
	if out.CarryBefore, err = a.carries(ctx, a.Plan, d.On); err != nil {
		return nil, err
	}
	if out.Carry, err = a.carries(ctx, changed, d.On); err != nil {
		return nil, err
	}
	out.InWinterH = -1
	for i := hour; i < base.Hours() && out.InWinterH < 0; i++ {
		if with.WaterM3[i] >= base.WaterM3[i]-1e-4 {
			out.InWinterH = float64(i - hour)
		}
	}
	a.givenBack(out)
	return out, nil
}

// carries is how long a plan lasts without sun from the evening of a day on, in the winter of the answer.
func (a *Answer) carries(ctx context.Context, p *plan.Plan, on plan.Date) (*carry.Answer, error) {
	year := a.Winter.Year
	c, err := carry.Run(ctx, carry.Request{Plan: p, Year: &year, From: &on}, nil)
	if err != nil {
		return nil, fmt.Errorf("how long the house lasts without sun: %w", err)
	}
	return c, nil
}

// flowAt is what a flow took out in an hour [J].
func flowAt(r *greenhouse.Result, name string, hour int) float64 {
	for _, f := range r.Flows {
		if f.Name == name {
			return -float64(f.J[hour])
		}
	}
	return 0
}

// bedOf finds the bed of a draw.
func (a *Answer) bedOf(d *DrawAnswer) error {
	var names []string
	asked, found, widest := d.Bed, "", 0.0
	for _, b := range a.House.Beds {
		names = append(names, b.Name)
		if w := b.X1 - b.X0; asked == b.Name || asked == "" && w > widest {
			found, widest = b.Name, w
		}
	}
	if found == "" {
		return &winter.Asked{Of: "bed", Err: fmt.Errorf("there is no bed %q for the draw\nhint: beds: %s", asked, strings.Join(names, "; "))}
	}
	d.Bed = found
	return nil
}

// withDraw is the plan with a draw out of the drums that are fed: out of those that stand highest at the end of an hour, down to one level. It tells what they held [m³].
func (a *Answer) withDraw(d *DrawAnswer, hour int) (*plan.Plan, float64) {
	type part struct{ base, stack, full, has float64 }
	bays := map[string]*part{}
	held := 0.0
	for _, v := range a.Scheme.Fed {
		vessel := &a.Scheme.Vessels[v]
		name := a.House.BayNamed(vessel.Bay)
		if bays[name] == nil {
			bays[name] = &part{base: vessel.Bottom, stack: vessel.Top - vessel.Bottom}
		}
		bays[name].full += vessel.Volume
	}
	for _, b := range a.Winter.Result.Bays {
		if p := bays[b.Name]; p != nil {
			p.has = b.M3[hour]
			held += p.has
		}
	}
	above := func(p *part, z float64) float64 {
		return math.Max(0, p.has-p.full*math.Min(1, math.Max(0, (z-p.base)/p.stack)))
	}
	low, high := a.lowestBottom(), a.Levels.FullZ+10
	for range 80 {
		sum, mid := 0.0, (low+high)/2
		for _, p := range bays {
			sum += above(p, mid)
		}
		if sum > d.VolumeM3 {
			low = mid
		} else {
			high = mid
		}
	}
	var draws []plan.StoreEvent
	for _, b := range a.Winter.Result.Bays { // in their order
		if p := bays[b.Name]; p != nil {
			if v := above(p, high); v > 0 {
				draws = append(draws, plan.StoreEvent{Kind: "draw", Bay: b.Name, From: d.On, Hour: drawHour, Volume: &v, Bed: d.Bed, To: "outside"})
			}
		}
	}
	return a.Plan.WithEvents(draws...), held
}

// givenBack finds, for each year of the rain, how many days after the draw the drums hold as much as they would without it.
func (a *Answer) givenBack(d *DrawAnswer) {
	if a.Rain == nil {
		return
	}
	r := a.passageOf(a.tank(), a.days, 1)
	for i, day := range a.days {
		r.day(day)
		if rest := a.days[i+1:]; int(day.Month) == d.On.Month && day.Day == d.On.Day && len(rest) >= leastDays {
			days, short := r.back(rest[:leastDays], d.TakenM3)
			d.BackDays = append(d.BackDays, days)
			d.ShortDays += float64(short)
		}
	}
	if n := len(d.BackDays); n > 0 {
		d.ShortDays /= float64(n)
	}
	slices.Sort(d.BackDays)
}

// back is after how many days a store that has had a volume taken out holds as much as one that has not [d], +Inf where the days do not suffice; and on how many more of them it is short.
func (r *passage) back(days []catchment.Day, m3 float64) (after float64, short int) {
	with, without := r.copy(), r.copy()
	with.held = math.Max(0, with.held-m3)
	for i, d := range days {
		with.day(d)
		without.day(d)
		if with.held >= without.held-1e-4 {
			return float64(i + 1), with.b.DaysShort - without.b.DaysShort
		}
	}
	return math.Inf(1), with.b.DaysShort - without.b.DaysShort
}
