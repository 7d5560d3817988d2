package report

import (
	"encoding/csv"
	"io"
	"strconv"

	"suncellar/internal/winter"
)

// Tables of an answer as CSV: SI, with units in the heads, and instants in RFC 3339 with the site's offset. Errors are failed writes.

// PlacesCSV writes the table of places as CSV, in SI with units in the heads. Errors: a failed write.
func PlacesCSV(w io.Writer, a *winter.Answer) error {
	rows := [][]string{{"place", "kind", "lowest [degC]", "lowest at", "mean [degC]", "highest [degC]", "below freezing [h]", "below freezing [K h]", "below the limit of " + figureSI(a.LimitC) + " degC [h]", "below the limit [K h]"}}
	for i := range a.Places {
		p := &a.Places[i]
		rows = append(rows, []string{p.Name, string(p.Kind), figureSI(p.LowestC), stamp(local(a, p.LowestAt)), figureSI(p.MeanC), figureSI(p.HighestC),
			strconv.Itoa(p.HoursBelowZero), figureSI(p.KhBelowZero), strconv.Itoa(p.HoursBelowLimit), figureSI(p.KhBelowLimit)})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// BooksCSV writes the heat ledger of some hours as CSV.
func BooksCSV(w io.Writer, a *winter.Answer, of winter.Span, b *Books) error {
	from, until := stamp(local(a, a.Result.Time(of.From-1))), stamp(local(a, a.Result.Time(of.To-1)))
	rows := [][]string{{"from", "until", "cause", "in [J]", "out [J]", "stored [J]"}}
	for _, r := range b.Rows {
		rows = append(rows, []string{from, until, r.Name, figureSI(r.InJ), figureSI(r.OutJ), ""})
	}
	for _, r := range b.Stored {
		rows = append(rows, []string{from, until, r.Name, "", "", figureSI(r.OutJ)})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// LightCSV writes the light on every strip by month as CSV: heads only where there is none to tell.
func LightCSV(w io.Writer, a *winter.Answer) error {
	rows := [][]string{{"strip", "month", "days", "light [mol/m2d]", "left quarter [mol/m2d]", "left of the middle [mol/m2d]", "right of the middle [mol/m2d]", "right quarter [mol/m2d]"}}
	for i := range a.Result.Strips {
		if len(a.Plan.SunShares) > 0 { // where light falls is given there, not found
			break
		}
		s := &a.Result.Strips[i]
		for _, m := range monthsOfStrip(a, s) {
			rows = append(rows, []string{s.Name(), m.begin.Format("2006-01"), strconv.Itoa(m.days), figureSI(m.mean()), figureSI(m.along[0]), figureSI(m.along[1]), figureSI(m.along[2]), figureSI(m.along[3])})
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// NotKnownCSV writes what is not known of a house as CSV.
func NotKnownCSV(w io.Writer, of OfHouse) error {
	rows := [][]string{{"not known", "one deviation", "colder [K]", "warmer [K]", "source"}}
	for _, n := range of.NotKnown() {
		rows = append(rows, []string{n.Name, n.Spread, figureSI(n.ColderK), figureSI(n.WarmerK), n.Source})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// AssumedCSV writes the values that the plan leaves out as CSV.
func AssumedCSV(w io.Writer, a *winter.Answer) error {
	rows := [][]string{{"path", "value", "source"}}
	for _, v := range a.Assumed {
		rows = append(rows, []string{v.Path, v.Text, v.Source})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// figureSI is a number of six significant digits.
func figureSI(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
