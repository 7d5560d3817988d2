package worth

import (
	"fmt"
	"math"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// sameCase is the run of a winter under a snow case, and whether the winter was run under it; else its own colder run.
func sameCase(w *winter.Answer, snowCase string) (*greenhouse.Result, bool) {
	switch snowCase {
	case w.SnowCase:
		return w.Result, true
	case w.OtherCase:
		return w.Other, true
	}
	return w.Result, false
}

// base takes the figures of the first plan, and the night round its lowest.
func (a *Answer) base() {
	r := a.First.Result
	_, at := r.Trace(a.Place).Lowest()
	a.Night = nightOf(r.Time(at))
	a.Base, _ = a.figures(a.First, r)
}

// nightOf is the noons before and after an instant; noon itself ends a night.
func nightOf(t time.Time) [2]time.Time {
	noon := time.Date(t.Year(), t.Month(), t.Day(), 12, 0, 0, 0, t.Location())
	if t.After(noon) {
		return [2]time.Time{noon, noon.AddDate(0, 0, 1)}
	}
	return [2]time.Time{noon.AddDate(0, 0, -1), noon}
}

// figures of a winter at the place; r is its run in the first plan's snow case. The flag tells whether r runs through the night.
func (a *Answer) figures(w *winter.Answer, r *greenhouse.Result) (Figures, bool) {
	f := Figures{WaterM3: w.House.Water(), LightMol: lightOf(r), SnowCase: w.SnowCase}
	t := r.Trace(a.Place)
	if t == nil {
		return f, false
	}
	low, at := w.Result.Trace(a.Place).Lowest()
	f.LowestC, f.LowestAt = low, w.Result.Time(at)
	night, hours := math.Inf(1), 0
	for i, c := range t.C {
		f.MeanC += c / float64(len(t.C))
		if c < a.LimitC {
			f.HoursBelow++
		}
		if at := r.Time(i); at.After(a.Night[0]) && !at.After(a.Night[1]) {
			night, hours = math.Min(night, c), hours+1
		}
	}
	if hours == 0 {
		return f, false
	}
	f.NightC = night
	return f, true
}

// lightOf is the light at the beds, mean of a day [mol/m²].
func lightOf(r *greenhouse.Result) float64 {
	sum := 0.0
	for _, m := range r.BedMol {
		sum += m
	}
	return sum / (float64(len(r.BedMol)) / 24)
}

// compare puts a row beside the first plan.
func (a *Answer) compare(row *Row) {
	r, same := sameCase(row.Winter, a.First.SnowCase)
	f, night := a.figures(row.Winter, r)
	row.Figures = f
	row.By.WaterM3 = f.WaterM3 - a.Base.WaterM3
	row.By.LightMol = f.LightMol - a.Base.LightMol
	note := func(format string, args ...any) { row.Notes = append(row.Notes, fmt.Sprintf(format, args...)) }
	switch {
	case !same:
		note("the first plan is told with %s, this one was run with %s only", a.First.SnowCase, row.Winter.SnowCase)
	case row.Winter.SnowCase != a.First.SnowCase:
		note("its lowest comes with %s, the first plan's with %s; all but the lowest is compared with %s", row.Winter.SnowCase, a.First.SnowCase, a.First.SnowCase)
	}
	if !r.Start.Equal(a.First.Result.Start) || r.Hours() != a.First.Result.Hours() {
		note("it counts %d h from %s, the first plan %d h from %s", r.Hours(), r.Start.Format("01-02"), a.First.Result.Hours(), a.First.Result.Start.Format("01-02"))
	}
	if row.HasPlace = r.Trace(a.Place) != nil; !row.HasPlace {
		note("%q is no place of the house with this change: its temperatures are not compared", a.Place)
		return
	}
	row.By.LowestK = f.LowestC - a.Base.LowestC
	row.By.MeanK = f.MeanC - a.Base.MeanC
	row.By.HoursBelow = f.HoursBelow - a.Base.HoursBelow
	if row.HasNight = night; !night {
		note("it does not run through the first plan's worst night")
		return
	}
	row.By.NightK = f.NightC - a.Base.NightC
}
