package report

import (
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// WorthRow is one more unit of a thing, with what it does and the changes of the plan that are it.
type WorthRow struct {
	Name    string
	Night   string // "+1.29 °C" on the worst night
	Light   string // "+0.1 mol/m²" at the beds, a day
	Changes []plan.Change
}

// WorthRows are the things that can be built, the one that does most first; those that are not known or outdoors are no choice of anybody.
func (t Teller) WorthRows(a *worth.UnitAnswer) []WorthRow {
	built, _, _, _ := t.unitRows(a)
	list := []WorthRow{}
	for _, r := range built {
		list = append(list, WorthRow{r.name, signed(unit.InMain(unit.TemperatureDifference, r.per.LeafC, t.System), 2) + " " + unit.Main(unit.TemperatureDifference, t.System), signed(r.per.LightMol, 1) + " mol/m²", t.unitChanges(r)})
	}
	return list
}

// unitChanges are the changes of one unit, towards the side that the row is told for.
func (t Teller) unitChanges(r unitRow) []plan.Change {
	if r.Switch {
		return r.Set(1)
	}
	by := r.One.SI
	if t.System == unit.US {
		by = r.One.US
	}
	if r.Per.LeafC < 0 {
		by = -by
	}
	return r.Set(r.At + by)
}

// WorthReads tell how the pictures of worth are read.
func WorthReads() []string {
	return []string{
		"A bar is the worst night warmer by one unit more of that thing alone, or of less of it where more would be colder; hatched and to the left is colder. The largest stand first, whichever way they go.",
		"The thin line on a bar is what half the step would make of it. Where it is as long as the bar, the bar tells little: snow that slides an hour later does as much.",
		"Worths do not add up, and ten units are not ten times one: what is to be done together is computed together, as a choice.",
		"In the picture of what is not known nothing can be chosen: its bar is the colder side of what the house may be, its line both sides.",
	}
}
