// Package thirst answers what the beds of a finished winter need to drink: by bed and day the water that crop and soil give off, what the root
// zone lacks, and when and how much to water.
//
// What it promises: the need is that of FAO paper 56 with the house's own air, light and longwave, by the hour; a bed is watered on the
// morning of the day in whose course more than the easily drawn water would be gone, up to field capacity, unless its soil is frozen;
// water that the plan draws for a bed counts. What the winter itself booked as vapour of leaves and soil stands beside it, for
// the two are reckoned by different laws and neither was measured.
package thirst

import (
	"context"
	"fmt"
	"strings"
	"time"

	"suncellar/internal/cropwater"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// Request is what is asked.
type Request struct {
	Winter *winter.Answer // finished
}

// Progress is told how many beds are done; nil is allowed.
type Progress func(done, total int)

// Answer is what the beds need. A day is a calendar day of the winter's run in the site's standard time; what is left at its end and is
// no whole day is left out.
type Answer struct {
	Winter   *winter.Answer
	Beds     []Bed
	Days     int
	Booked   Booked
	Assumed  []plan.Value // of the beds and their soil
	Choices  []Choice     // what the need rests on
	Cautions []string
}

// Booked is what the winter itself took from leaves and soil as vapour [L].
type Booked struct{ LeavesL, SoilL float64 }

// L is both.
func (b Booked) L() float64 { return b.LeavesL + b.SoilL }

// Choice is one thing that the answer rests on.
type Choice struct{ Item, How string }

// Bed is one bed.
type Bed struct {
	Name      string
	AreaM2    float64
	Planted   float64 // share that is covered by leaves
	Crop      cropwater.Crop
	Soil      cropwater.Soil
	RootsM    float64 // of the grown crop
	RootsOwn  bool    // the plan says so
	Sown      *time.Time
	Days      []Day
	Waterings []Watering
	NeedMM    float64
	LeavesMM  float64 // of that, what leaves alone give, by the basal coefficient
	PlannedMM float64 // what the plan draws for it, as it came
	LostMM    float64 // need that was met
	DrainedMM float64 // of water that the plan draws, what the soil could not hold
	Booked    Booked
}

// Day is one day of a bed.
type Day struct {
	Begin       time.Time
	ReferenceMM float64 // of grass, in the house's air
	Coefficient float64 // of the crop
	NeedMM      float64
	LostMM      float64 // of the need, what the soil gave
	PlannedMM   float64 // what the plan draws for the bed
	WateredMM   float64 // what is advised
	LacksMM     float64 // to field capacity, at its end
	AvailableMM float64 // all that roots can draw
	EasyMM      float64 // of that, what they draw without want
	AirC        float64 // mean at bed level
	SoilC       float64 // lowest, 5 cm down
	LightMol    float64
	Booked      Booked
}

// Watering is one watering that is advised.
type Watering struct {
	Begin  time.Time // of the day
	MM     float64
	Litres float64
	SoilC  float64 // lowest of that day, 5 cm down
	LateD  int     // for how many days it was put off because the soil was frozen
}

// NeedL is the need of all beds [L].
func (a *Answer) NeedL() float64 {
	return a.sum(func(b *Bed) float64 { return b.NeedMM })
}

// LeavesL is what leaves alone would give of it [L].
func (a *Answer) LeavesL() float64 {
	return a.sum(func(b *Bed) float64 { return b.LeavesMM })
}

// WateredL is what all waterings come to [L].
func (a *Answer) WateredL() float64 {
	total := 0.0
	for i := range a.Beds {
		for _, w := range a.Beds[i].Waterings {
			total += w.Litres
		}
	}
	return total
}

// PlannedL is what the plan draws for all beds, as it came [L].
func (a *Answer) PlannedL() float64 {
	return a.sum(func(b *Bed) float64 { return b.PlannedMM })
}

// sum adds mm of each bed, which are litres on a square metre.
func (a *Answer) sum(mm func(*Bed) float64) float64 {
	total := 0.0
	for i := range a.Beds {
		total += mm(&a.Beds[i]) * a.Beds[i].AreaM2
	}
	return total
}

// Run answers. Errors: a winter of a house without beds, shorter than a day, or in which no light at the beds is known; an end by ctx.
func Run(ctx context.Context, req Request, progress Progress) (*Answer, error) {
	w := req.Winter
	p, r := w.Plan, w.Result
	if err := Check(p); err != nil {
		return nil, err
	}
	if r.Hours() < 24 {
		return nil, fmt.Errorf("the winter has %d hours, must have 24 at least", r.Hours())
	}
	a := &Answer{Winter: w, Days: r.Hours() / 24, Assumed: assumed(p), Choices: choices, Cautions: cautions}
	for i := range w.House.Beds {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		b, err := bedOf(w, i)
		if err != nil {
			return nil, err
		}
		b.reckon(airOf(w, b.Name), drawsOf(w, &b))
		a.Booked.LeavesL += b.Booked.LeavesL
		a.Booked.SoilL += b.Booked.SoilL
		a.Beds = append(a.Beds, b)
		if progress != nil {
			progress(i+1, len(w.House.Beds))
		}
	}
	return a, nil
}

// Check tells what in a plan leaves its beds without an answer, before any winter: there are none, or no light on them is computed.
func Check(p *plan.Plan) error {
	switch {
	case len(p.Beds) == 0:
		return fmt.Errorf("%s has no beds\nhint: write them under beds:, each with name, from and to", p.Name)
	case len(p.SunShares) > 0:
		return fmt.Errorf("sun_shares are given: no light at the beds is computed then, and no need without it\nhint: leave sun_shares out")
	}
	return nil
}

// bedOf is bed i before its days.
func bedOf(w *winter.Answer, i int) (Bed, error) {
	of, at := &w.Plan.Beds[i], &w.House.Beds[i]
	b := Bed{Name: at.Name, AreaM2: at.Area, Planted: at.Planted}
	var ok, ok2 bool
	b.Crop, ok = cropwater.CropOf(of.Crop)
	b.Soil, ok2 = cropwater.SoilOf(w.Plan.Site.Soil.Texture)
	if !ok || !ok2 {
		panic("thirst: crop " + of.Crop + " or soil " + w.Plan.Site.Soil.Texture + " has no row") // both were checked
	}
	b.RootsM = b.Crop.Roots
	if of.Roots != nil {
		b.RootsM, b.RootsOwn = *of.Roots, true
	}
	if of.Sown != nil {
		sown, err := sownOn(*of.Sown, w)
		if err != nil {
			return b, fmt.Errorf("beds[%d].sown: %w", i, err)
		}
		b.Sown = &sown
	}
	return b, nil
}

// sownOn is the day of a date: the last such day that lies before the end of the run.
func sownOn(d plan.Date, w *winter.Answer) (time.Time, error) {
	end := standard(w, w.Result.Time(w.Result.Hours()-1))
	year := d.Year
	if year == 0 {
		year = end.Year()
	}
	at := time.Date(year, time.Month(d.Month), d.Day, 0, 0, 0, 0, end.Location())
	if d.Year == 0 && at.After(end) {
		at = at.AddDate(-1, 0, 0)
	}
	if at.After(end) {
		return at, fmt.Errorf("%s lies after the last hour of the winter, %s\nhint: leave the year out where the weather has another", at.Format("2006-01-02"), end.Format("2006-01-02 15:04"))
	}
	return at, nil
}

// standard is an instant in the site's standard time.
func standard(w *winter.Answer, at time.Time) time.Time {
	return at.In(time.FixedZone(w.Plan.Site.TimeZone.Name, w.Plan.Site.TimeZone.OffsetS))
}

// assumed are the values about beds and their soil that the plan leaves out.
func assumed(p *plan.Plan) []plan.Value {
	var list []plan.Value
	for _, v := range p.Assumed() {
		if v.Path == "site.soil.texture" || strings.HasPrefix(v.Path, "beds[") && (strings.HasSuffix(v.Path, ".crop") || strings.HasSuffix(v.Path, ".planted")) {
			list = append(list, v)
		}
	}
	return list
}
