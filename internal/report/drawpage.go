package report

import "suncellar/internal/water"

// DrawTable is the lowest of each place from a draw to the end of the winter.
func (t Teller) DrawTable(a *water.Answer) Table {
	tab := Table{Title: "Lowest from the draw to the end of the winter, " + t.degree(), Heads: []string{"Place", "without", "with the draw", "less by"}, Note: ledgerNote(a.Ledgers), File: "draw-places.csv",
		SI: [][]string{{"place", "lowest without [degC]", "lowest with the draw [degC]"}}}
	for _, c := range a.Ledgers.Draw.Places {
		tab.Rows = append(tab.Rows, []string{c.Name, t.hundredths(c.BeforeC), t.hundredths(c.AfterC), t.fine(c.BeforeC - c.AfterC)})
		tab.SI = append(tab.SI, []string{c.Name, figureSI(c.BeforeC), figureSI(c.AfterC)})
	}
	return tab
}

// DrawCautions are those of a draw.
func DrawCautions() []string {
	return []string{
		"One winter, as it was computed, on the house as planned: in a colder one the same draw costs more. Look at the forecast before you water.",
		"Water off a roof is not drinking water: drip it to the soil rather than onto leaves that are eaten, and never wash food with it.",
	}
}
