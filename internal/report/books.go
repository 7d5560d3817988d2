package report

import (
	"fmt"
	"math"
	"slices"

	"suncellar/internal/winter"
)

// ledger tells the heat of the house, and apart from it that of the earth round it.
func (t Teller) ledger(p *page, a *winter.Answer) {
	r := a.Result
	own, earth := sides(causes(r, 0, r.Hours()))
	stored := r.Heat.StoredJ
	p.head("Heat of the house, kWh")
	var held []cause
	for _, name := range heldParts {
		if name != earthPart {
			held = append(held, cause{name: name, in: stored[name]})
		}
	}
	books(p, own, held)
	if len(earth) > 0 {
		p.head("Heat of the earth round the house, beds with it, kWh")
		books(p, earth, []cause{{name: earthPart, in: stored[earthPart]}})
	}
	p.say(fmt.Sprintf("In less out less stored of all is %s of the heat that came in; the part whose own books were most open on any day is %s, by %s J.",
		tiny(r.Heat.ImbalanceRel), r.Heat.WorstPart, tiny(r.Heat.WorstJ)))
}

func tiny(v float64) string { return fmt.Sprintf("%.1g", v) }

// books is one ledger: causes in and out, and what the parts hold more at the end than at the begin (in cause.in). Figures are rounded
// so that each column adds up as printed; what is truly left over is told in a line of its own.
func books(p *page, list, held []cause) {
	var in, out, stored []float64
	for _, c := range list {
		in, out = append(in, c.in/3.6e6), append(out, c.out/3.6e6)
	}
	for _, c := range held {
		stored = append(stored, c.in/3.6e6)
	}
	left := sumOf(in) - sumOf(out) - sumOf(stored)
	sumIn, sumOut := int(math.Round(sumOf(in))), int(math.Round(sumOf(out)))
	sumStored := sumIn - sumOut
	if math.Abs(left) > 0.5 {
		sumStored = int(math.Round(sumOf(stored)))
	}
	tab := newTable([]string{"cause", "in", "out"})
	ins, outs := apportion(in, sumIn), apportion(out, sumOut)
	for i, c := range list {
		tab.row(c.name, blank(ins[i]), blank(outs[i]))
	}
	tab.sum("sum", fmt.Sprint(sumIn), fmt.Sprint(sumOut))
	for i, n := range apportion(stored, sumStored) {
		tab.row("stored more at the end: "+held[i].name, "", fmt.Sprint(n))
	}
	tab.sum("in less out less stored", "", number(left, 1))
	p.table(tab)
}

func blank(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// apportion rounds values so that they add up to total: all down first, then up by one where most was cut off.
func apportion(values []float64, total int) []int {
	out := make([]int, len(values))
	order := make([]int, len(values))
	rest := total
	for i, v := range values {
		out[i], order[i] = int(math.Floor(v)), i
		rest -= out[i]
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := values[i]-math.Floor(values[i]), values[j]-math.Floor(values[j])
		switch {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	for k := 0; k < rest && k < len(order); k++ {
		out[order[k]]++
	}
	return out
}
