package report

import (
	"fmt"
	"math"
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
	in, out := make([]float64, len(own)), make([]float64, len(own))
	for i, c := range own {
		in[i], out[i] = c.in/3.6e6, c.out/3.6e6
	}
	stored := wholes(in) - wholes(out)
	for i, c := range own {
		if in[i] > 0.05 {
			l.In = append(l.In, drawing.Share{Name: c.name, Kind: c.kind, KWh: in[i]})
		}
		if out[i] > 0.05 {
			l.Out = append(l.Out, drawing.Share{Name: c.name, Kind: c.kind, KWh: out[i]})
		}
	}
	l.ByDifference = true
	l.Stored = []drawing.Share{{Name: "water, walls and air", Kind: drawing.Store, KWh: stored}}
	return l, nil
}

// wholes rounds amounts from 100 kWh together so that the figures of a picture add up as they stand there, and returns their sum; smaller ones are
// left as they are.
func wholes(kWh []float64) float64 {
	total := sumOf(kWh)
	if total < 100 {
		return total
	}
	for i, n := range apportion(kWh, int(math.Round(total))) {
		kWh[i] = float64(n)
	}
	return math.Round(total)
}
