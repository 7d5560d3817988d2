package winter

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
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
		{"sky and sun", "the horizon is level, and pit edges, banks and neighbours cast no shade: the sun is a little too strong in a deep pit or a valley"},
		{"sun inside", "a beam is shared among faces by their lit area towards the sun, looked for at twelve points of each in the section; shade that end walls, drums and beds cast, and patches within a face, are left out"},
		{"diffuse light inside", "shared by area, one reflection closed over all faces, in place of exchange between each pair of faces"},
		{"longwave inside", "each face exchanges with one mean radiant temperature weighted by area (Carroll 1980), in place of view factors with occlusion"},
		{"film clear to longwave", "all glazing is opaque to longwave; single film is matched to its wet figure"},
		{"leaves", "one leaf temperature a bed, in the middle, at the tips; it sees the faces of the section, not drums or other beds; leaves do not act back on the room beyond the bed itself"},
		{"light at bed level", "one mean for all beds, not by strip"},
		{"air layers", "cold air that runs down the glazing is not followed; layers exchange by overturning when unstable and by a fixed small draught when stable"},
		{"humidity", "one well-mixed balance for the room; wet-leaf hours are not counted"},
		{"carbon dioxide", "left out"},
		{"night cover", "a resistance with a fit; it holds no heat, and leakage round its edge is within the fit"},
		{"snow", "one layer on glazing and roof that settles, slides and melts by rule; no pile at the foot; level snow outdoors melts by degree days, whatever the heat that reaches it"},
		{"store", "three layers a bay; bays share no water; what leaves is taken of all layers alike, of liquid water alone; water filled in is mixed through the bay; drums let air in freely, so a leak is never held by a vacuum"},
		{"water that leaks", "gives the floor or sink the heat between its temperature and the face's, never below freezing: its own freezing there, and what evaporates of it, are left out; in the soil under the footing all its heat is counted as lost; wet soil conducts as before"},
		{"ground", "one slice, its ends scaled by a steady trial in three dimensions; moisture is constant, rain and melt water bring the ground no heat; end walls below grade have the front and back walls' build; the house's shade on the ground is left out"},
		{"vents", "opened little by little above their threshold, by rule, in their hours; no wax openers, no wind direction"},
		{"leakage", "one effective leakage area by stack and wind (Sherman and Grimsrud 1980), in low and out high"},
		{"buried tubes, open inlet pipes, gusts through a door", "left out"},
		{"old houses", "the ground begins undisturbed on the day the house is built, which is the cold side; an old house stands in warmer ground, which is shown only when ground.age says how old it is"},
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
	if a.House.FloorZ < -1.2 {
		list = append(list, "The pit is deeper than 1.2 m: walls of earth can fall without warning. Slope or shore them and keep spoil back from the edge before anybody goes in.")
	}
	if len(a.House.Rows) > 0 {
		list = append(list, fmt.Sprintf("Full drums and totes are heavy (%.0f kg each of water alone): on ground that may settle, no digging beside them. Drums are never to be let freeze: they split.", heaviest(a.House)))
	}
	list = append(list, lostWaterCautions(a.Result)...)
	list = append(list, "No unvented burner for heat: it kills in a closed house. Electric heaters and lamps only with a residual-current device and away from water.")
	if a.SnowCase == "snow lying" || a.OtherCase == "snow lying" {
		list = append(list, "Whether the roof carries lying snow is not checked here. Brush snow from the ground with a soft rake, never from a ladder under the zone where it slides.")
	}
	return list
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
