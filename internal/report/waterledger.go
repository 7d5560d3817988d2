package report

import (
	"fmt"
	"slices"
	"strings"

	"suncellar/internal/greenhouse"
)

// waterLedger tells what water came and went, by bay and cause; nothing where none did.
func (t Teller) waterLedger(p *page, r *greenhouse.Result) {
	w := r.Water
	if !w.Moved() {
		return
	}
	p.head("Water of the store")
	tab := newTable([]string{"", "at the", "", "", "at the", "level"}, []string{"", "begin", "in", "out", "end", ""})
	for _, b := range w.Bays {
		in, out := 0.0, 0.0
		for _, l := range b.InL {
			in += l
		}
		for _, l := range b.OutL {
			out += l
		}
		tab.row(b.Name, t.water(b.StartL/1000), t.some(in), t.some(out), t.water(b.EndL/1000), t.depth(b.LevelM))
	}
	p.table(tab)
	for _, b := range w.Bays {
		for _, side := range []map[string]float64{b.InL, b.OutL} {
			for _, cause := range sortedCauses(side) {
				p.item(fmt.Sprintf("%s: %s, %s", b.Name, cause, t.water(side[cause]/1000)))
			}
		}
		if b.ShortL > 0 {
			p.item(fmt.Sprintf("%s: %s wanted and not there, or without room", b.Name, t.water(b.ShortL/1000)))
		}
	}
	p.say(fmt.Sprintf("In less out less stored is %s L at most in any bay. A drum that has run empty keeps its dregs, a five-hundredth of what it holds.", tiny(w.OpenL)))
	for _, caution := range lostWaterCautions(r) {
		p.item(caution)
	}
}

// some is an amount of water, blank where there is none [L].
func (t Teller) some(litres float64) string {
	if litres == 0 {
		return ""
	}
	return t.water(litres / 1000)
}

func sortedCauses(m map[string]float64) []string {
	list := make([]string, 0, len(m))
	for cause := range m {
		list = append(list, cause)
	}
	slices.Sort(list)
	return list
}

// lostWaterCautions stand with water that ran where people work.
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
