package drill

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/pipes"
	"suncellar/internal/plan"
)

// Mend is the winter with the leak seen, shut off and mended, beside that in which it runs out.
type Mend struct {
	SeenAt   time.Time
	GoneM3   float64 // that had run out by then
	DrainM3  float64 // what has to be let out of the part that is shut off
	LetOutH  float64 // that this takes through the bore of the pipe at the joint [h]
	SavedM3  float64 // of it into other vessels, and back into the drums when it is mended
	KeptM3   float64 // that would have run out and stays, in drums behind valves
	MendedAt time.Time
	SetH     float64 // that glue takes to set [h]; +Inf: it does not, as cold as it is
	SetC     float64 // lowest of the air at the joint while it sets [°C]
	Places   []Place // from the begin of the fault on: without a repair, and with it
	Reserve  [2]float64
	Again    Refill // of what is missing when it is mended
}

// How long the glue of a pipe sets before water may stand on it [h], by the coldest air beside it. Common practice, no source: not worked below freezing, where the joint is wet and ices; from 5 °C on
// labels ask for about half an hour for small pipes. The figures are own judgement on the slow side.
const (
	setWarmH, setWarmC = 2.0, 5.0
	setColdH           = 24.0
)

// setting is how long glue sets at a lowest temperature [°C].
func setting(lowC float64) float64 {
	switch {
	case lowC >= setWarmC:
		return setWarmH
	case lowC > 0:
		return setColdH
	}
	return math.Inf(1)
}

// backC is the temperature of water that has stood in other vessels and is filled in again, where the air beside the drums is no colder [°C]; own judgement.
const backC = 5

// mend runs the winter with the leak seen and mended.
func (t *trial) mend(ctx context.Context, ride *greenhouse.Result) error {
	l := t.a.Leak
	days := max(1, t.req.NoticedD)
	seen := 24 * days
	if l.Repair == nil || seen+24 >= ride.Hours() {
		return nil
	}
	m := &Mend{SeenAt: t.a.Begin.Add(time.Duration(seen) * time.Hour)}
	events := t.leakEvents(&m.SeenAt)
	area := 0.0
	part := map[string]float64{} // what the part that is shut off still has to lose, by bay
	for _, b := range t.byBay(l.Held.Falls) {
		part[b.Bay] = b.LostM3
	}
	for _, b := range l.Bays {
		k := slices.IndexFunc(ride.Bays, func(x greenhouse.BayTrace) bool { return x.Name == b.Bay })
		now := ride.Bays[k].M3[seen-1]
		gone := math.Max(0, b.HeldM3-now)
		m.GoneM3 += gone
		left := math.Max(0, b.LostM3-gone)
		drain := 0.0
		if b.LostM3 > 0 {
			drain = left * math.Min(1, part[b.Bay]/b.LostM3)
		}
		m.KeptM3 += left - drain
		if drain <= emptied {
			continue
		}
		m.DrainM3 += drain
		area += b.area
		level := (now - drain) / b.area
		events = append(events, plan.StoreEvent{Kind: "drain", Bay: b.Bay, From: dateOf(m.SeenAt), Hour: m.SeenAt.Hour(), Level: &level, To: "outside"})
	}
	m.LetOutH = t.letOut(m.DrainM3, area)
	t.sets(m, ride, seen)
	m.SavedM3 = math.Min(m.DrainM3, t.req.SpareM3)
	if !math.IsInf(m.SetH, 1) {
		m.MendedAt = m.SeenAt.Add(time.Duration(math.Ceil(m.SetH)+1) * time.Hour)
		events = append(events, t.fillBack(m, part)...)
	}
	p := t.a.Winter.Plan.WithEvents(events...)
	mended, err := t.run(ctx, p)
	if err != nil {
		return fmt.Errorf("the winter with the leak mended: %w", err)
	}
	m.Places, m.Reserve = t.compare(ride, mended)
	m.Again = t.refill(m.GoneM3+m.DrainM3-m.SavedM3, m.SeenAt)
	l.Mend = m
	return nil
}

// letOut is how long water of a level area [m²] takes to run out through the narrowest pipe at the joint [h], freely: Torricelli's time to the last tenth of its height,
// (2 V/Q)(1 - sqrt 0.1) with the flow Q of the begin. A hose on it makes it longer.
func (t *trial) letOut(m3, area float64) float64 {
	bore := math.Inf(1)
	for _, i := range t.a.Leak.Joint.Pipes {
		bore = math.Min(bore, t.a.Winter.House.Scheme.Pipes[i].Diameter)
	}
	if m3 <= 0 || math.IsInf(bore, 1) {
		return 0
	}
	return 2 * m3 / pipes.Orifice(bore, m3/area) * (1 - math.Sqrt(0.1)) / 3600
}

// fillBack is the saved water that comes back into the bays it came from.
func (t *trial) fillBack(m *Mend, part map[string]float64) []plan.StoreEvent {
	sum := 0.0
	for _, b := range t.a.Leak.Bays {
		sum += part[b.Bay]
	}
	if m.SavedM3 <= emptied || sum == 0 {
		return nil
	}
	var list []plan.StoreEvent
	for _, b := range t.a.Leak.Bays {
		if v := m.SavedM3 * part[b.Bay] / sum; v > emptied {
			c := float64(backC)
			list = append(list, plan.StoreEvent{Kind: "refill", Bay: b.Bay, From: dateOf(m.MendedAt), Hour: m.MendedAt.Hour(), Volume: &v, WaterC: &c, To: "outside"})
		}
	}
	return list
}

// sets finds how long the glue sets: by the lowest air beside the joint in that time, which is looked for with the longer time first.
func (t *trial) sets(m *Mend, ride *greenhouse.Result, seen int) {
	low := func(hours float64) float64 {
		c := math.Inf(1)
		air := t.airAt(ride, t.a.Leak.Joint.Z)
		for h := seen; h < min(len(air.C), seen+int(hours)+1); h++ {
			c = min(c, air.C[h])
		}
		return c
	}
	m.SetC = low(setWarmH)
	if m.SetH = setting(m.SetC); m.SetH > setWarmH {
		m.SetC = low(setColdH)
		m.SetH = setting(m.SetC)
	}
}

// airAt is the layer of air at a height [m].
func (t *trial) airAt(r *greenhouse.Result, z float64) *greenhouse.Trace {
	var best *greenhouse.Trace
	for i := range r.Traces {
		if tr := &r.Traces[i]; tr.Kind == greenhouse.AirPlace && (best == nil || math.Abs(tr.Z-z) < math.Abs(best.Z-z)) {
			best = tr
		}
	}
	return best
}
