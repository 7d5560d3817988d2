package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// Act is something that can be done to a part of the house at once, beside moving it.
type Act struct {
	Label   string // what it does: "Add a drum to this row"
	Changes []plan.Change
}

// Acts are what can be done to the part that a handle belongs to: a drum more or less, a layer or a board thicker or thinner, a night cover put on or
// taken off. What the plan's own limits forbid is left out; plan.Check has the last word.
func (t Teller) Acts(h *house.House, at drawing.Handle) []Act {
	list := t.thicker(h, at)
	switch at.Kind {
	case "row":
		list = append(list, drumActs(h, at.Part)...)
	case "cover":
		list = append(list, t.coverActs(h)...)
	}
	return list
}

// HouseActs are what can be done to the house as a whole.
func (t Teller) HouseActs(h *house.House) []Act {
	list := t.coverActs(h)
	if len(h.Rows) == 0 {
		list = append(list, firstRow(h)...)
	}
	return list
}

// drumActs are one drum more and one less of a row. Each bay keeps one in each tier: a row without drums is not drawn and cannot be taken hold of.
func drumActs(h *house.House, part string) []Act {
	var i int
	if _, err := fmt.Sscanf(part, "store.rows[%d]", &i); err != nil {
		panic("report: a row at " + part)
	}
	path, n := part+".drums", h.Plan.Store.Rows[i].Drums
	var list []Act
	if fits(h, i, n+1) {
		list = append(list, act("Add a drum to this row", path, fmt.Sprint(n+1)))
	}
	if r := h.Rows[i]; n > max(1, r.Tiers*r.Bays) {
		list = append(list, act("Take a drum away", path, fmt.Sprint(n-1)))
	}
	return list
}

// fits tells whether a row has room for so many drums along the house, and the plan allows them.
func fits(h *house.House, row, drums int) bool {
	_, most, _ := plan.Allowed("store.rows[0].drums")
	r := h.Rows[row]
	return float64(drums) <= most && math.Ceil(float64(drums)/float64(r.Tiers))*r.Diameter <= h.Length
}

// firstRow is a row of drums along the back wall, for a house that has none and room there.
func firstRow(h *house.House) []Act {
	const wide, gap = 0.58, 0.05 // of the usual drum, and off the wall [m]
	x0, x1 := span2(h)
	row := act("Put a row of four drums along the back wall", "store.rows[0]", fmt.Sprintf("{name: back drums, drums: 4, at: %.2f m, colour: black}", x1-x0-wide/2-gap))
	p, findings := h.Plan.Apply(row.Changes...)
	if plan.Failed(append(findings, plan.Check(p, house.Known())...)) {
		return nil
	}
	if _, bad := house.Resolve(p); plan.Failed(bad) {
		return nil
	}
	return []Act{row}
}

// coverActs put a night cover on the glazing or take it off, with all that the plan says of it.
func (t Teller) coverActs(h *house.House) []Act {
	switch {
	case h.Plan.Cover != nil:
		return []Act{act("Take the night cover off", "cover", "none")}
	case h.GlazedArea() == 0:
		return nil
	}
	value := "{r_value: 0.7 m2K/W}"
	if t.System == unit.US {
		value = "{r_value: R-4}"
	}
	return []Act{act("Put a night cover on the glazing", "cover", value)}
}

func act(label, path, value string) Act {
	return Act{label, []plan.Change{{Path: path, Value: value, Origin: plan.Changed}}}
}

// Steps of what is made thicker by a button, in each system what people there buy.
const (
	centimetre = 0.01   // [m]
	halfInch   = 0.0127 // [m]
	stepR      = 0.2    // [m²K/W]
)

// thicker are a thickness or a resistance a step up and a step down.
func (t Teller) thicker(h *house.House, at drawing.Handle) []Act {
	var list []Act
	for _, w := range at.Ways {
		for _, s := range w.Sets {
			if !s.Resistance && !strings.HasSuffix(s.Path, ".thickness") {
				continue
			}
			step, more, less := t.stepOf(s)
			for k, label := range []string{more, less} {
				v := s.Value + step*float64(1-2*k)
				if v < s.Lo-1e-9 || v > s.Hi+1e-9 {
					continue
				}
				if c, err := Changes(h.Plan, []drawing.Setting{{Path: s.Path, Value: v, Resistance: s.Resistance}}); err == nil {
					list = append(list, Act{label, c})
				}
			}
		}
	}
	return list
}

// stepOf is how much a button changes a value, and what the buttons are called.
func (t Teller) stepOf(s drawing.Set) (step float64, more, less string) {
	switch us := t.System == unit.US; {
	case s.Resistance && us:
		one, err := unit.Parse(unit.Resistance, "R-1")
		if err != nil {
			panic("report: " + err.Error())
		}
		return one.SI, "Add R-1", "Take R-1 away"
	case s.Resistance:
		return stepR, "Add 0.2 m² K/W", "Take 0.2 m² K/W away"
	case us:
		return halfInch, "½ in thicker", "½ in thinner"
	}
	return centimetre, "1 cm thicker", "1 cm thinner"
}
