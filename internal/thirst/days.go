package thirst

import (
	"math"
	"time"

	"suncellar/internal/cropwater"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/winter"
)

// frozenC is the temperature of the soil 5 cm down below which a bed is not watered [°C]: what is poured on would freeze. Own judgement.
const frozenC = 0.5

// reckon takes a bed through its days, from field capacity on.
func (b *Bed) reckon(h hours, draws draws) {
	zone := cropwater.Zone{}
	late := 0
	for d := range len(h.airC) / 24 {
		day := h.day(d)
		day.Begin = draws.begin(d)
		basal, roots := b.stage(&day)
		day.NeedMM = day.Coefficient * day.ReferenceMM
		day.AvailableMM = cropwater.AvailableMM(b.Soil, roots)
		easy := cropwater.EasyShare(b.Crop.Easy, day.NeedMM)
		day.EasyMM = easy * day.AvailableMM
		day.PlannedMM = draws.mm(d)
		if zone.LacksMM+day.NeedMM-day.PlannedMM > day.EasyMM {
			if late = late + 1; day.SoilC >= frozenC {
				day.WateredMM = math.Max(0, zone.LacksMM-day.PlannedMM)
				b.water(&day, late-1)
			}
		} else {
			late = 0
		}
		if day.WateredMM > 0 {
			late = 0
		}
		lost, drained := zone.Pass(day.NeedMM, day.PlannedMM+day.WateredMM, day.AvailableMM, easy)
		day.LostMM, day.LacksMM = lost, zone.LacksMM
		b.NeedMM += day.NeedMM
		b.LeavesMM += b.Planted * basal * day.ReferenceMM
		b.PlannedMM += day.PlannedMM
		b.LostMM += lost
		b.DrainedMM += drained
		b.Booked.LeavesL += day.Booked.LeavesL
		b.Booked.SoilL += day.Booked.SoilL
		b.Days = append(b.Days, day)
	}
}

// day is what the hours of day d come to.
func (h *hours) day(d int) Day {
	day := Day{SoilC: math.Inf(1)}
	for i := 24 * d; i < 24*d+24; i++ {
		day.ReferenceMM += h.referenceMM(i)
		day.AirC += h.airC[i] / 24
		day.LightMol += sun.PhotonsMolM2(h.sunWM2[i] * 3600)
		day.SoilC = math.Min(day.SoilC, h.soilC[i])
		day.Booked.LeavesL += h.booked[i].Leaves // a kg is a litre
		day.Booked.SoilL += h.booked[i].Soil
	}
	return day
}

// stage sets the coefficient of a day, and tells that of leaves alone and how deep roots draw. A bed that is not said to be sown is grown all the time. The share without
// leaves loses what bare, watered soil does, as the bed does in its initial stage; own judgement.
func (b *Bed) stage(day *Day) (basal, rootsM float64) {
	c := &b.Crop
	kc, basal, rootsM := c.Mid, c.BasalMid, b.RootsM
	if b.Sown != nil {
		since := day.Begin.Sub(*b.Sown).Hours() / 24
		kc, basal, rootsM = c.Coefficient(since), c.Basal(since), c.RootsM(since, b.RootsM)
		if since < 0 {
			basal = 0
		}
	}
	day.Coefficient = b.Planted*kc + (1-b.Planted)*c.Ini
	return basal, rootsM
}

func (b *Bed) water(day *Day, lateD int) {
	if day.WateredMM > 0 {
		b.Waterings = append(b.Waterings, Watering{Begin: day.Begin, MM: day.WateredMM, Litres: day.WateredMM * b.AreaM2, SoilC: day.SoilC, LateD: lateD})
	}
}

// draws is the water that the plan draws for one bed.
type draws struct {
	w      *winter.Answer
	events []plan.StoreEvent
	times  []float64   // of each event: how many bays give its volume
	use    [12]float64 // of the plan's water, on a day of each month [m³]
	area   float64
	came   float64 // of what the plan wants, the share that came
}

// drawsOf is the water that the plan draws for a bed. What came in all is that of the winter's books; it is spread over the dates as the plan has it.
func drawsOf(w *winter.Answer, b *Bed) draws {
	d := draws{w: w, area: b.AreaM2}
	for i := range w.House.Events {
		if e := &w.House.Events[i]; e.Kind == "draw" && e.Bed == b.Name && e.Volume != nil {
			d.events = append(d.events, e.StoreEvent)
			d.times = append(d.times, float64(len(e.Bays)))
		}
	}
	usedL := used(w, b.Name)
	if all := w.Result.Water.Rain.UsedM3 * 1000; usedL > 0 && all > 0 {
		for m, v := range w.Plan.Water.Use {
			d.use[m] = v * usedL / all
		}
	}
	wanted, cameL := 0.0, usedL
	for k := range w.Result.Hours() / 24 {
		wanted += d.wantedM3(k)
	}
	for _, bay := range w.Result.Water.Bays {
		cameL += bay.OutL["draw, onto "+b.Name]
	}
	if wanted > 0 {
		d.came = cameL / 1000 / wanted
	}
	return d
}

// used is what a bed got of the plan's water that is used by the day [L].
func used(w *winter.Answer, bed string) float64 {
	sum := 0.0
	for _, bay := range w.Result.Water.Bays {
		sum += bay.OutL["use, onto "+bed]
	}
	return sum
}

// begin is midnight of the calendar day in which day d of the run has its noon: a run of a whole year begins with its weather, which may keep another clock.
func (d draws) begin(day int) time.Time {
	noon := standard(d.w, d.w.Result.Time(24*day+11))
	return time.Date(noon.Year(), noon.Month(), noon.Day(), 0, 0, 0, 0, noon.Location())
}

// mm is what comes onto the bed in a day.
func (d draws) mm(day int) float64 { return d.wantedM3(day) * d.came * 1000 / d.area }

func (d draws) wantedM3(day int) float64 {
	at := d.begin(day)
	sum := d.use[at.Month()-1]
	for i, e := range d.events {
		if isDrawn(&e, at) {
			sum += *e.Volume * d.times[i]
		}
	}
	return sum
}

// isDrawn tells whether a draw is done on the day that begins then: once, or every day from one date to another, over the new year too.
func isDrawn(e *plan.StoreEvent, at time.Time) bool {
	key := func(month, day int) int { return 100*month + day }
	now, from := key(int(at.Month()), at.Day()), key(e.From.Month, e.From.Day)
	if e.Until == nil {
		return now == from
	}
	until := key(e.Until.Month, e.Until.Day)
	if from <= until {
		return now >= from && now <= until
	}
	return now >= from || now <= until
}
