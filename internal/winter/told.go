package winter

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// Simplification is one thing that the physics treats more simply than it should, or leaves out.
type Simplification struct {
	Item string // what
	How  string // what is done instead, or that it is left out, and which way it errs where that is known
}

// Simplifications are all of them, told with every run of any kind.
func Simplifications() []Simplification { return simplifications() }

// simplifications are all of them.
func simplifications() []Simplification {
	return []Simplification{
		{"sky and sun", "what the plan does not name (site.horizon, site.banks) casts no shade: the sun is a little too strong in a deep pit or a valley; shade is looked for at five heights of a face, half-way along the house, and dims the whole face alike; end walls are flush with the glazing and shade nothing outdoors; hills and banks send back no light, and banks do not shade the ground"},
		{"panels taken off", "an open face is black to sky and terrain; each exchanges air by itself, as one large opening with gusts, which is the warm side; rain that falls in is left out, and panels come back as warm as they went"},
		{"sun inside", "beams are traced through the section and along the house to beds, floor, drums and ends; reflection is diffuse, sheet that spreads a beam passes it straight, beams through windows of the ends by fifty points, and leaves cast no shade"},
		{"diffuse light inside", "followed through all reflections between pieces of even light; sky and ground are each of even brightness as seen from inside"},
		{"longwave inside", "grey surfaces that throw back evenly, view factors in the section with beds and drums before them, closed for the ends; drums of a row stand evenly spaced along the house and count as the outline of their stack; walls in the soil see with one temperature, those of the ends with theirs"},
		{"film clear to longwave", "single film passes its share to sky and terrain, a third of it when wet, nothing under snow or a cover; double film is opaque, what passes between its sheets is within its matched conductance"},
		{"leaves", "one leaf temperature for each strip of a bed, at the tips, in the middle of the house; what it sees is taken as black, below it sees the bed alone; leaves do not act back on the room beyond the bed itself"},
		{"light at bed level", "by strip and by quarter of the house, at the soil, without the shade of the leaves"},
		{"air layers", "three at most, each well mixed; draughts down the glazing and up the drums carry what their films take (Eckert and Jackson 1950), end where they are no longer heavier or lighter, and take nothing along on their way; those of all other faces are within one small exchange of layers that lie still"},
		{"cold air from outdoors", "falls to the lowest layer that it is heavier than, with four times as much air of the room; that figure is judgement"},
		{"humidity", "leaves have the stomata of a greenhouse tomato at any temperature above freezing, and are always watered; dew on leaf tips is counted but not taken out of the air; frost on glazing neither insulates nor shades; puddles and open water give nothing"},
		{"carbon dioxide", "one mixed room, a tomato's canopy, soil of cropland: no compost, no breath of people; it acts back on nothing"},
		{"night cover", "its heat is at its middle; air round its edge goes straight to the pane, by buoyancy and for an outer cover by wind; its face to the room has the glazing's emittance; snow that fell on an outer one lies on the pane when it is rolled up; it acts to the quarter of an hour, vents, fans and heaters by the middle of each hour"},
		{"snow", "one layer on glazing and roof, bare or white as a whole, that settles and slides by rule and melts by the heat it meets; the pile at the foot is a straight heap that wind and rain leave alone, and lies on the pane as one resistance beside the free part; level snow outdoors melts by degree days, whatever the heat that reaches it"},
		{"store", "three layers a bay; bays share no water, but for rain and use; what leaves is taken of all layers alike, of liquid water alone; water filled in is mixed through the bay; drums let air in freely, so a leak is never held by a vacuum"},
		{"rain and use", "a day's rain and melt water come at the next midnight, at the wet-bulb temperature, melt water at 0 °C: roof, gutter, settling drum and pipe neither warm nor cool it; it comes first to the drums that stand lowest, or drives the mixed water of all out over the overflow; roofs melt by degree days; what is used leaves at 9 in the morning, and beds are as wet as before"},
		{"water that leaks", "gives the floor or sink the heat between its temperature and the face's, never below freezing: its own freezing there, and what evaporates of it, are left out; in the soil under the footing all its heat is counted as lost; wet soil conducts as before"},
		{"ground", "one slice, its ends scaled by a steady trial in three dimensions; layers of soil are level and run up to the walls, so that backfill is as the soil beside it, and beds above the floor are of site.soil; footings conduct, do not freeze, and drums on one give to the whole floor as they do without; moisture is constant, rain and melt water bring the ground no heat; end walls below grade have the front and back walls' build; the house's shade on the ground is left out"},
		{"vents", "by hand little by little above their threshold, in their hours, or by wax along a straight line; no wind direction; vents, joints and doors do not shift each other's pressure"},
		{"leakage", "one effective leakage area by stack and wind (Sherman and Grimsrud 1980), spread over the faces to outdoor air by area; gaps and inlets count as part of it, without friction in the pipe"},
		{"buried tubes", "one flow for tubes that lie near one another, solved from draft against friction; the soil along them has no ends; water that condenses does not dry up again; with an end outdoors no water condenses; " +
			"a flow that has begun does not hold on by itself, which is the cold side"},
		{"old houses", "the ground begins undisturbed on the day the house is built, which is the cold side; an old house stands in warmer ground, which is shown beside when it is asked for (--old), and taken only when ground.age says how old it is"},
	}
}

// cautions belong to the answer and stand with it.
func cautions(a *Answer) []string {
	list := []string{
		"This is one winter, with these assumptions. Another winter can be colder and duller; the house as built leaks and insulates otherwise than as drawn.",
		"First checks only, never a permit: local codes and licensed people decide on digging, walls, roofs and snow.",
	}
	if a.AwayKm > 30 || a.HigherM > 100 || a.HigherM < -100 {
		list = append(list, fmt.Sprintf("The weather is that of a place %.0f km away; the site lies %.0f m %s. A hollow, a north slope or height can be colder by several degrees.",
			a.AwayKm, math.Abs(a.HigherM), map[bool]string{true: "higher", false: "lower"}[a.HigherM >= 0]))
	}
	if !a.SnowKnown && a.Other == nil {
		list = append(list, "Snowfall is not known: roof and ground are taken as bare all winter.")
	}
	list = append(list, heatCautions(&a.Heat)...)
	list = append(list, a.outOfDate()...)
	if a.House.FloorZ < -1.2 {
		list = append(list, "The pit is deeper than 1.2 m: walls of earth can fall without warning. Slope or shore them and keep spoil back from the edge before anybody goes in.")
	}
	if len(a.House.Rows) > 0 {
		list = append(list, fmt.Sprintf("Full drums and totes are heavy (%.0f kg each of water alone): on ground that may settle, no digging beside them. Drums are never to be let freeze: they split.", heaviest(a.House)))
	}
	list = append(list, FootingCautions(a.House)...)
	list = append(list, lostWaterCautions(a.Result)...)
	if waxed(a.House) {
		list = append(list, "Openers with wax: never force one by hand, and take it off before hard frost or where ice may hold the vent, if its maker says so; the vent then stays shut, or is propped by hand.")
	}
	if len(a.House.Tubes) > 0 {
		list = append(list, TubeCautions(a.House)...)
	}
	list = append(list, "No unvented burner for heat: it kills in a closed house. Electric heaters and lamps only with a residual-current device and away from water.")
	if a.SnowCase == "snow lying" || a.OtherCase == "snow lying" {
		list = append(list, "Whether the roof carries lying snow is not checked here. Brush snow from the ground with a soft rake, never from a ladder under the zone where it slides.")
	}
	return list
}

// waxed tells whether any vent has an opener with wax.
func waxed(h *house.House) bool {
	return slices.ContainsFunc(h.Plan.Vents, func(v plan.Vent) bool { return v.Wax != nil })
}

// outOfDate tells of parts whose dates have a year that the run does not reach: weather that is typical or made has no year of its own.
func (a *Answer) outOfDate() []string {
	var list []string
	first, last := a.Span.HourStart(a.Skip), a.Span.End()
	check := func(what string, from, until plan.Date) {
		day := func(d plan.Date) time.Time {
			return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, first.Location())
		}
		if from.Year > 0 && (!day(from).Before(last) || day(until).AddDate(0, 0, 1).Before(first)) {
			list = append(list, fmt.Sprintf("%s counts from %d-%02d-%02d to %d-%02d-%02d, the hours of this run lie from %s to %s: it is left out. Dates without a year hold in every year.", what,
				from.Year, from.Month, from.Day, until.Year, until.Month, until.Day, first.Format("2006-01-02"), last.Format("2006-01-02")))
		}
	}
	if c := a.Plan.Cover; c != nil {
		check("The cover", c.From, c.Until)
	}
	for _, o := range a.Plan.TakenOff {
		check("What is taken off of "+o.Face, o.From, o.Until)
	}
	return list
}

// TubeCautions stand wherever buried tubes are told.
func TubeCautions(h *house.House) []string {
	list := []string{
		"Buried tubes: what grows or lies in them is breathed in the house. Lay them to fall 2 to 3 % to a drain that can be reached, with screens at both ends, and look into them every year; tubes with standing water or mould are to be shut.",
		"Tubes with loose joints draw in the soil's air, radon with it. Keep them tight, and measure radon before anybody works long or sleeps in the house.",
		"A trench for tubes can fall in without warning and bury who is in it: nobody alone or unshored in one deeper than 1.2 m, no digging under footings or beside full drums, and have cables and pipes in the ground marked first.",
	}
	for i := range h.Tubes {
		if p := h.Tubes[i].Plan; p.Drain == "no" {
			list = append(list, fmt.Sprintf("The tubes %s have no drain: what condenses in them stays there.", p.Name))
		}
		if p := h.Tubes[i].Plan; p.Fan != nil {
			list = append(list, fmt.Sprintf("The fan of the tubes %s sits in wet air: only on a circuit with a residual-current device, clear of standing water.", p.Name))
		}
		if t := &h.Tubes[i]; t.Inlet.Outdoors || t.Outlet.Outdoors {
			list = append(list, fmt.Sprintf("The tubes %s have an end outdoors: unless it is shut they let outdoor air into the house or warm air out of it, and snow or ice can close it.", t.Plan.Name))
		}
	}
	return list
}

// FootingCautions stand wherever footings are told; none without them.
func FootingCautions(h *house.House) []string {
	if len(h.Footings) == 0 {
		return nil
	}
	return []string{"Footings: what they conduct is reckoned here, nothing else. Whether one carries its wall, roof, snow or full drums on this ground, and lies below its frost, " +
		"is for local codes and a licensed engineer to decide. No digging for one under or beside a standing wall or full drums."}
}

// heaviest is the water in the fullest vessel of the store [kg].
func heaviest(h *house.House) float64 {
	most := 0.0
	for _, r := range h.Rows {
		most = math.Max(most, r.Volume*r.Fill*1000)
	}
	return most
}

// lostWaterCautions belong to water that ran where people work.
func lostWaterCautions(r *greenhouse.Result) []string {
	inside, soil := false, false
	for _, b := range r.Water.Bays {
		for cause := range b.OutL {
			inside = inside || strings.HasSuffix(cause, "floor") || strings.HasSuffix(cause, "cold sink")
			soil = soil || strings.HasSuffix(cause, "soil") || strings.HasSuffix(cause, "floor")
		}
	}
	var list []string
	if inside {
		list = append(list, "Water on the floor: switch electricity off outside the house before anybody wades in; where it is cold it turns to ice underfoot.")
	}
	if soil {
		list = append(list, "Wet ground carries less: no digging or compacting beside full drums or behind a wall after a leak, and a row that leans is to be emptied, not propped.")
	}
	return list
}
