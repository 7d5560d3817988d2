package report

import (
	"fmt"
	"slices"

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
