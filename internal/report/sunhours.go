package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/sunhours"
)

// sunRow is a point along the house with the sun it gets.
type sunRow struct {
	name  string
	share []float64
}

func (r sunRow) hours() float64 { return drawing.SunRow{Share: r.share}.Hours() }

// sunAlong is the sun of a place in the middle of the house and an eighth of its length from both ends, as seen from inside looking out.
func sunAlong(h *house.House, d *sunhours.Day, p sunhours.Place) []sunRow {
	var rows []sunRow
	for _, at := range []struct {
		name  string
		share float64
	}{{"in the middle of the house", 0.5}, {"near the left end", 0.125}, {"near the right end", 0.875}} {
		rows = append(rows, sunRow{at.name, d.At(sunhours.Spot{X: p.X, Z: p.Z, Along: at.share * h.Length})})
	}
	return rows
}

// SunAt tells how long the sun is seen from a place on a day: how long, when, where, and what is not in it.
func (t Teller) SunAt(h *house.House, d *sunhours.Day, p sunhours.Place) string {
	rows := sunAlong(h, d, p)
	day := d.Date.Format("2 January")
	said := "No direct sun on " + day + " here: " + t.sunPlace(p) + ", " + rows[0].name
	if hours := rows[0].hours(); hours > 0 {
		said = fmt.Sprintf("%s hours of direct sun on %s here: %s, %s, %s", number(hours, 1), day, t.sunPlace(p), rows[0].name, sunTimes(rows[0].share))
	}
	said += fmt.Sprintf(". %s %s h, %s %s h.", upper(rows[1].name), number(rows[1].hours(), 1), rows[2].name, number(rows[2].hours(), 1))
	for _, s := range rows[0].share {
		if s > 0 && s < 1 {
			said += " Where drums, or a wall with windows in it, stand before the sun, as much of the time counts as they let by."
			break
		}
	}
	return said
}

// SunHeard says what the hours of sun are of.
const SunHeard = "Where the sun can be, in a cloudless sky, past skyline, banks and the house itself: no snow, no night cover, frames not counted."

// sunPlace says what a place is and where it lies.
func (t Teller) sunPlace(p sunhours.Place) string {
	where := t.height(p.AboveM) + " above the floor"
	switch {
	case p.Drums:
		where = "front of the " + p.Of + ", " + where
	case p.Of != "" && p.AboveM < 0.005:
		where = p.Of + ", on the soil"
	case p.Of != "":
		where = p.Of + ", " + t.height(p.AboveM) + " above the soil"
	}
	if !math.IsNaN(p.GlassM) {
		where += ", " + t.height(p.GlassM) + " from the glazing"
	}
	return where
}

// sunTimes are the times between which sun is seen, at most three.
func sunTimes(share []float64) string {
	clock := func(k int) string {
		minutes := k * 24 * 60 / len(share)
		return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
	}
	var list []string
	for from := 0; from < len(share); from++ {
		if share[from] <= 0 {
			continue
		}
		until := from
		for until < len(share) && share[until] > 0 {
			until++
		}
		list = append(list, clock(from)+" to "+clock(until))
		from = until
	}
	if len(list) > 3 {
		return fmt.Sprintf("with %d breaks between %s and %s", len(list)-1, list[0][:5], list[len(list)-1][len(list[0])-5:])
	}
	return strings.Join(list, ", ")
}

// SunHours fills in the picture of the sun of a day at a place and, to compare, at the middle of each bed.
func (t Teller) SunHours(h *house.House, d *sunhours.Day, p sunhours.Place) drawing.SunHours {
	s := drawing.SunHours{Title: "Direct sun on " + d.Date.Format("2 January"), Sentence: SunHeard, Clock: "standard time, " + h.Plan.Site.TimeZone.Name, Rise: d.Rise, Set: d.Set}
	for _, r := range sunAlong(h, d, p) {
		s.Rows = append(s.Rows, drawing.SunRow{Name: "here, " + r.name, Share: r.share})
	}
	for _, b := range h.Beds {
		if at, err := d.Take((b.X0+b.X1)/2, b.Z-0.001); err == nil {
			s.Rows = append(s.Rows, drawing.SunRow{Name: b.Name + ", middle of its soil", Share: d.At(sunhours.Spot{X: at.X, Z: at.Z, Along: h.Length / 2})})
		}
	}
	return s
}

// Sentence is an error as a sentence.
func Sentence(err error) string { return upper(err.Error()) + "." }

// ShortestDay is the day with the least sun at a house: 21 December in the north, 21 June in the south.
func ShortestDay(h *house.House) (month, day int) {
	if h.Plan.Site.Latitude < 0 {
		return 6, 21
	}
	return 12, 21
}
