package report

import (
	"encoding/csv"
	"fmt"
	"math"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// BookRow is one line of a heat ledger: heat in and out [J], and as told [kWh].
type BookRow struct {
	Name            string
	InJ, OutJ       float64
	ToldIn, ToldOut string
	kind            drawing.Kind
}

// Books is the heat of the house over some hours, as a ledger whose sums close in sight.
type Books struct {
	Title  string
	Rows   []BookRow // by cause, netted by hour
	Sum    BookRow
	Stored []BookRow // more at the end, in OutJ; less is negative
	Left   BookRow   // in less out less stored, in OutJ
	Words  string    // how stored was found, and what that says of the books

	drawn    drawing.Ledger // the same as told
	decimals int            // of what is told
}

// Books are those of some hours. A run keeps what its parts hold for its whole only: over fewer hours what is stored is what in and out leave.
func (t Teller) Books(a *winter.Answer, of winter.Span) (*Books, error) {
	in, err := t.Flows(a, of.From, of.To)
	if err != nil {
		return nil, err
	}
	r := a.Result
	out := &Books{Title: in.Title, drawn: drawing.Ledger{Title: in.Title, ByDifference: in.ByDifference}}
	own, _ := sides(causes(r, of.From, of.To))
	for _, c := range own {
		out.Rows = append(out.Rows, BookRow{Name: c.name, InJ: c.in, OutJ: c.out, kind: c.kind})
		out.Sum.InJ, out.Sum.OutJ = out.Sum.InJ+c.in, out.Sum.OutJ+c.out
	}
	out.Sum.Name = "sum"
	out.Left = BookRow{Name: "in less out less stored", OutJ: out.Sum.InJ - out.Sum.OutJ}
	if in.ByDifference {
		out.Stored = []BookRow{{Name: in.Stored[0].Name, OutJ: out.Left.OutJ, kind: drawing.Store}}
		out.Left.OutJ = 0
		out.Words = fmt.Sprintf("Over less than the whole run, stored is the difference of in and out, so these sides meet by their making. That the books close of themselves is shown by the whole run: all its heat, earth and beds with it, is accounted for but for %s of what came in.", tiny(r.Heat.ImbalanceRel))
	} else {
		for _, name := range heldParts {
			if name != earthPart {
				out.Stored = append(out.Stored, BookRow{Name: name, OutJ: r.Heat.StoredJ[name], kind: map[string]drawing.Kind{"water": drawing.Store}[name]})
				out.Left.OutJ -= r.Heat.StoredJ[name]
			}
		}
		out.Words = fmt.Sprintf("Stored is found from the state of each part, not by difference. In less out less stored of all, earth and beds with it, is %s of the heat that came in.", tiny(r.Heat.ImbalanceRel))
	}
	out.tell()
	return out, nil
}

// tell rounds so that each column, and each side of the picture, adds up as it is told: to whole kWh from a hundred on, to tenths below.
func (b *Books) tell() {
	scale := 1.0
	if b.Sum.InJ+b.Sum.OutJ < 200*3.6e6 {
		b.decimals, scale = 1, 10
	}
	var in, out, stored []float64
	for _, r := range b.Rows {
		in, out = append(in, r.InJ/3.6e6*scale), append(out, r.OutJ/3.6e6*scale)
	}
	for _, r := range b.Stored {
		stored = append(stored, r.OutJ/3.6e6*scale)
	}
	sumIn, sumOut := int(math.Round(sumOf(in))), int(math.Round(sumOf(out)))
	sumStored, left := sumIn-sumOut, 0
	if open := b.Left.OutJ / 3.6e6 * scale; math.Abs(open) > 0.5 {
		sumStored = int(math.Round(sumOf(stored)))
		left = sumIn - sumOut - sumStored
	}
	say := func(n int) string { return minus(number(float64(n)/scale, b.decimals)) }
	ins, outs, helds := apportion(in, sumIn), apportion(out, sumOut), apportion(stored, sumStored)
	some := func(n int) string {
		if n == 0 {
			return ""
		}
		return say(n)
	}
	draw := func(side *[]drawing.Share, r BookRow, n int) {
		if n != 0 {
			*side = append(*side, drawing.Share{Name: r.Name, Kind: r.kind, KWh: float64(n) / scale})
		}
	}
	for i := range b.Rows {
		r := &b.Rows[i]
		r.ToldIn, r.ToldOut = some(ins[i]), some(outs[i])
		draw(&b.drawn.In, *r, ins[i])
		draw(&b.drawn.Out, *r, outs[i])
	}
	for i := range b.Stored {
		b.Stored[i].ToldOut = say(helds[i])
		draw(&b.drawn.Stored, b.Stored[i], helds[i])
	}
	b.Sum.ToldIn, b.Sum.ToldOut, b.Left.ToldOut = say(sumIn), say(sumOut), say(left)
}

// BooksPicture draws a ledger as streams, or as columns, with the figures that are told of it. Errors: nothing to draw, see Books.Empty.
func (t Teller) BooksPicture(b *Books, columns bool) (Picture, error) {
	f := t.Frame()
	f.Units.Energy = func(kWh float64) string { return minus(number(kWh, b.decimals)) + " kWh" }
	if columns {
		l, err := drawing.DrawLedger(b.drawn, f)
		return Picture{"heat-columns.svg", l}, err
	}
	l, err := drawing.DrawFlows(b.drawn, f)
	return Picture{"heat-streams.svg", l}, err
}

// Empty tells whether no heat is told of, so that there is no picture.
func (b *Books) Empty() bool { return len(b.drawn.In)+len(b.drawn.Out)+len(b.drawn.Stored) == 0 }

// Table is a table ready to be set: its first column names, the others figures.
type Table struct {
	Title string
	Heads []string
	Rows  [][]string
	Note  string
	File  string     // what it is called as a file, such as months.csv; "": it has none
	SI    [][]string // the same for that file, in SI, heads first with their units
}

// CSV is the file of a table; "" where it has none.
func (t Table) CSV() string { return csvOf(t.SI) }

func csvOf(rows [][]string) string {
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		panic("report: a table is not written to memory: " + err.Error())
	}
	return b.String()
}

// LightTable is the light on every strip by month, and along the house in the darkest; nil where light is given by the plan or there is no bed.
func (t Teller) LightTable(a *winter.Answer) *Table {
	r := a.Result
	months, dark := monthsOfStrips(a)
	if months == nil {
		return nil
	}
	name := months[0][dark].begin.Format("January")
	out := &Table{Title: "Light at the beds", Heads: []string{"mol/m² a day", "all days"},
		Note: "Photosynthetic light on level ground at the height of the soil, no leaves above it, mean of the days. The last three columns go along the house in " + name + ", the darkest month; left and right as seen from inside, looking out."}
	for _, m := range months[0] {
		out.Heads = append(out.Heads, m.begin.Format("January"))
	}
	out.Heads = append(out.Heads, "left quarter", "middle half", "right quarter")
	for i := range r.Strips {
		s := &r.Strips[i]
		all := 0.0
		for _, v := range s.DayMol(0, len(s.Mol)/24) {
			all += v / greenhouse.Stretches
		}
		cells := []string{s.Name(), number(all, 1)}
		for k := range months[i] {
			cells = append(cells, number(months[i][k].mean(), 1))
		}
		m := &months[i][dark]
		out.Rows = append(out.Rows, append(cells, number(m.along[0], 1), number((m.along[1]+m.along[2])/2, 1), number(m.along[3], 1)))
	}
	return out
}

// NotKnown is one thing that is not known of a house, alone.
type NotKnown struct {
	Name, Spread, Source string
	ColderK, WarmerK     float64 // what one deviation to either side does to the watched place's lowest
}

// NotKnown are the things of the band to first order; those that could not be run are left out.
func (o OfHouse) NotKnown() []NotKnown {
	var list []NotKnown
	if o.Order == nil {
		return nil
	}
	for i := range o.Order.Rows {
		w := &o.Order.Rows[i]
		if w.Err != nil {
			continue
		}
		more, less := w.Move()
		list = append(list, NotKnown{w.Label, w.One.In, w.Prior, min(more.LeafC, less.LeafC), max(more.LeafC, less.LeafC)})
	}
	return list
}
