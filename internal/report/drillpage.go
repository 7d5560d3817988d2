package report

import (
	"fmt"
	"strings"

	"suncellar/internal/drill"
	"suncellar/internal/house"
)

// What a page shows of drills by itself.

// DrillFault is a fault that a plan can have, as it is chosen.
type DrillFault struct {
	Kind  drill.Kind
	Told  string
	Ask   string   // what the names are of; "": it can be in one place alone
	First string   // which one is taken where none is named
	Where []string // names
}

// DrillFaults are the faults that a house can have, in the order of drill.Kinds.
func DrillFaults(h *house.House) []DrillFault {
	var list []DrillFault
	for _, k := range drill.Kinds {
		where, can := drill.Can(h, k)
		if !can {
			continue
		}
		f := DrillFault{Kind: k, Where: where, First: "the first of them"}
		switch k {
		case drill.Leak:
			f.Told, f.Ask = "A joint or a bay leaks", "Joint or bay"
			if h.Scheme != nil {
				f.First = "the joint that costs most"
			}
		case drill.DrumFrozen:
			f.Told, f.Ask = "A drum has split by frost", "Drum"
		case drill.InletOpen:
			f.Told, f.Ask = "The inlet stands open to the cold", "Inlet"
		case drill.FlapFrozen:
			f.Told = "The flap of the inlet is frozen ajar"
		case drill.VentStuck:
			f.Told, f.Ask = "A vent stays open", "Vent"
		case drill.PaneBroken:
			f.Told, f.Ask = "A pane is gone", "Glazed face"
		case drill.CoverOff:
			f.Told = "The cover is left off for a night"
		case drill.DoorOpen:
			f.Told, f.Ask = "A door is left open for a night", "Door"
		default:
			panic("report: no words for a drill: " + string(k))
		}
		if len(where) == 0 {
			f.Ask, f.First = "", ""
		}
		list = append(list, f)
	}
	return list
}

// DrillName is a drill in a few words.
func DrillName(a *drill.Answer) string { return upper(drillName(a)) }

// DrillTables are the places as planned and with the fault; of a leak that is seen and mended, ridden out and mended as well.
func (t Teller) DrillTables(a *drill.Answer) []Table {
	list := []Table{t.drillTable("From "+when(local(a.Winter, a.Begin))+" to the end of the winter", "planned", "with the fault", a.Places)}
	list[0].Note, list[0].File = t.drillNote(a), "drill-places.csv"
	if a.Leak != nil && a.Leak.Mend != nil {
		m := a.Leak.Mend
		mended := t.drillTable("Ridden out, or seen and mended", "ridden out", "mended", m.Places)
		mended.Note, mended.File = strings.Join(t.mendedSentences(m), " "), "drill-mended.csv"
		list = append(list, mended)
	}
	return list
}

func (t Teller) drillTable(title, without, with string, places []drill.Place) Table {
	tab := Table{Title: title, Heads: []string{"Place"}}
	si := []string{"place", "limit [degC]"}
	for _, what := range []struct{ told, si string }{{"lowest, " + t.degree(), "lowest [degC]"}, {"below its limit after", "below the limit after [h]"}, {"hours below it", "below the limit [h]"}} {
		tab.Heads = append(tab.Heads, what.told+", "+without, what.told+", "+with)
		si = append(si, what.si+", "+without, what.si+", "+with)
	}
	tab.SI = [][]string{si}
	never := func(v float64, never bool) string {
		if never {
			return ""
		}
		return figureSI(v)
	}
	for i := range places {
		p := &places[i]
		tab.Rows = append(tab.Rows, t.drillRow(p))
		row := []string{p.Name, figureSI(p.LimitC)}
		for k := range 2 {
			row = append(row, never(p.LowestC[k], t.lowestOf(p, k) == "dry"))
		}
		for k := range 2 {
			row = append(row, never(p.UntilH[k], p.UntilH[k] < 0))
		}
		tab.SI = append(tab.SI, append(row, fmt.Sprint(p.BelowH[0]), fmt.Sprint(p.BelowH[1])))
	}
	return tab
}

// JointTables are what each joint loses, the costliest first, and where valves more are worth most. The heat of water whose temperature is not known is left open.
func (t Teller) JointTables(a *drill.Table) []Table {
	list := []Table{t.lossTable(a)}
	if len(a.Places) > 1 {
		list = append(list, t.valvesTable(a))
	}
	return list
}

func (t Teller) lossTable(a *drill.Table) Table {
	tab := Table{Title: "What each joint loses", Heads: []string{"Joint", "odds a winter", "runs out, valves as they stand", "heat, kWh", "drums", "all valves shut", "drums"}, File: "joints.csv",
		SI: [][]string{{"joint", "path", "odds a winter", "runs out, valves as they stand [m3]", "heat [J]", "drums", "runs out, all valves shut [m3]", "heat [J]", "drums"}}}
	heat := func(j float64, told func(float64) string) string {
		if !a.Warm {
			return ""
		}
		return told(j)
	}
	var wet []*drill.JointLoss
	for _, j := range costliest(a) {
		if j.Now.M3 > 0 {
			wet = append(wet, j)
		}
		tab.SI = append(tab.SI, []string{j.Name, j.Path, figureSI(j.Odds), figureSI(j.Now.M3), heat(j.Now.HeatJ, figureSI), fmt.Sprint(len(j.Now.Falls)), figureSI(j.Shut.M3), heat(j.Shut.HeatJ, figureSI), fmt.Sprint(len(j.Shut.Falls))})
	}
	tab.Rows = alike(wet, func(j *drill.JointLoss) []string {
		warm := heat(j.Now.HeatJ, kWh)
		if !a.Warm {
			warm = "…"
		}
		return []string{j.Name, percent(j.Odds) + " %", t.water(j.Now.M3), warm, fmt.Sprint(len(j.Now.Falls)), t.water(j.Shut.M3), fmt.Sprint(len(j.Shut.Falls))}
	})
	tab.Note = strings.TrimSpace(dryJoints(len(a.Joints)-len(wet)) + " " + fallsNote + " Heat is that above 0 °C, in the days in which the winter's reserve is least; it comes with the winter of the plan.")
	return tab
}

func (t Teller) valvesTable(a *drill.Table) Table {
	tab := Table{Title: "Where one, two, three more valves are worth most", Heads: []string{"More valves", "run out in the mean of winters", "saved"}, Note: valvesNote, File: "more-valves.csv",
		SI: [][]string{{"more valves", "between", "run out in the mean of winters [m3]"}}}
	none := a.Places[0].ExpectedM3
	for i, place := range a.Places {
		name := "none more"
		var at []string
		for _, pipe := range place.Pipes {
			at = append(at, valvePlace(a, pipe))
		}
		if i > 0 {
			name = moreValves(i) + ": " + strings.Join(at, "; ")
			if place.ExpectedM3 > a.Places[i-1].ExpectedM3-1e-9 {
				name = moreValves(i) + ": saves nothing more"
			}
		}
		tab.Rows = append(tab.Rows, []string{upper(name), t.meanWater(place.ExpectedM3), t.meanWater(none - place.ExpectedM3)})
		tab.SI = append(tab.SI, []string{fmt.Sprint(i), strings.Join(at, "; "), figureSI(place.ExpectedM3)})
	}
	return tab
}
