package report

import (
	"fmt"
	"time"

	"suncellar/internal/drawing"
	"suncellar/internal/winter"
)

// Flows fills in the heat of the house over the recorded hours from..to-1 (a day, a spell, the whole): what came in, what went out, and what
// its parts hold more or less at the end, by difference, since a run keeps what is stored for its whole only. So the sides close by their
// making; whether the books close of themselves is told by the ledger of the whole run.
func (t Teller) Flows(a *winter.Answer, from, to int) (drawing.Ledger, error) {
	r := a.Result
	if !(0 <= from && from < to && to <= r.Hours()) {
		return drawing.Ledger{}, fmt.Errorf("flows of hours %d to %d, must lie within 0 to %d", from, to, r.Hours())
	}
	if from == 0 && to == r.Hours() {
		return ledgerOf(a), nil
	}
	first, last := local(a, r.Time(from)), local(a, r.Time(to-1)).Add(-time.Minute)
	l := drawing.Ledger{Title: "Heat of the house, " + first.Format("2 January") + " to " + last.Format("2 January")}
	if to-from <= 24 {
		l.Title = "Heat of the house, " + first.Format("2 January")
	}
	own, _ := sides(causes(r, from, to))
	stored := 0.0
	for _, c := range own {
		if c.in > 0.05*3.6e6 {
			l.In = append(l.In, drawing.Share{Name: c.name, Kind: c.kind, KWh: c.in / 3.6e6})
			stored += c.in / 3.6e6
		}
		if c.out > 0.05*3.6e6 {
			l.Out = append(l.Out, drawing.Share{Name: c.name, Kind: c.kind, KWh: c.out / 3.6e6})
			stored -= c.out / 3.6e6
		}
	}
	l.ByDifference = true
	l.Stored = []drawing.Share{{Name: "water, walls and air", Kind: drawing.Store, KWh: stored}}
	return l, nil
}
