package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"suncellar/internal/prices"
	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// Costs are what the changes of a comparison cost by a list of prices.
type Costs struct {
	List *prices.List
	Rows []*prices.Cost // one a change, in their order; nil where the change makes no house
}

// CostsOf reckons them.
func CostsOf(l *prices.List, a *worth.Answer) *Costs {
	c := &Costs{List: l, Rows: make([]*prices.Cost, len(a.Rows))}
	for i := range a.Rows {
		if r := &a.Rows[i]; r.Err == nil {
			cost := l.Between(a.First.House, r.Winter.House, r.Variant.Changes)
			c.Rows[i] = &cost
		}
	}
	return c
}

// of is the cost of a change, nil where there is none to tell.
func (c *Costs) of(i int) *prices.Cost {
	if c == nil {
		return nil
	}
	return c.Rows[i]
}

// money is an amount of it with its currency, whole from a hundred on.
func money(l *prices.List, v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if math.Abs(v) >= 100 {
		s = number(v, 0)
	}
	return strings.TrimSpace(strings.TrimSuffix(s, ".00") + " " + l.Currency)
}

// costWords is a cost in a cell. A sum that is not whole is none: without the price of what comes, what goes would seem to be saved.
func costWords(l *prices.List, c *prices.Cost) string {
	switch {
	case c == nil:
		return ""
	case !c.Known() && len(c.Lines) == 0:
		return "no price"
	case !c.Known():
		return "not all priced"
	case len(c.Lines) == 0:
		return "nothing"
	case c.Money < 0:
		return "saves " + money(l, -c.Money)
	}
	return money(l, c.Money)
}

// costHundred is the money that degrees are told for.
const costHundred = 100

// perHundred is the warmth of the worst night for a hundred of money [K], and whether it can be told: all is priced, it costs something and makes it warmer.
func perHundred(r *worth.Row, c *prices.Cost) (float64, bool) {
	if c == nil || !c.Known() || !(c.Money > 0) || r.Err != nil || !r.HasNight || r.By.NightK <= 0 {
		return 0, false
	}
	return r.By.NightK / c.Money * costHundred, true
}

// perMoney is warmth for a hundred of money, to two figures.
func (t Teller) perMoney(k float64) string {
	return strconv.FormatFloat(unit.InMain(unit.TemperatureDifference, k, t.System), 'g', 2, 64)
}

// costs is the table of what the changes cost, and what of it has no price.
func (t Teller) costs(p *page, a *worth.Answer, c *Costs) {
	if c == nil {
		return
	}
	p.head("What each change costs, by " + c.List.File)
	hundred := money(c.List, costHundred)
	tab := newTable([]string{"", "cost", t.degree() + " on the worst night"}, []string{"change", "", "for " + hundred})
	for i := range a.Rows {
		r, cost := &a.Rows[i], c.of(i)
		cells := []string{r.Variant.Name(), costWords(c.List, cost), ""}
		if k, ok := perHundred(r, cost); ok {
			cells[2] = t.perMoney(k)
		}
		tab.row(cells...)
	}
	p.table(tab)
	for i := range a.Rows {
		for _, s := range t.costLines(c, i) {
			p.item(a.Rows[i].Variant.Name() + ": " + s)
		}
	}
	p.say(costMeans)
}

// costMeans is what costs hold and what they do not.
const costMeans = "A cost is the difference of what both houses are made of, times the prices of the list: areas of faces net of openings, without offcuts, fastenings, transport and work, unless a price has them in it. What has no price is in no sum."

// costLines tell how a cost came about, and what has no price.
func (t Teller) costLines(c *Costs, i int) []string {
	cost := c.of(i)
	if cost == nil {
		return nil
	}
	var list []string
	for _, l := range cost.Lines {
		if l.Money == 0 && l.Price.Money == 0 {
			continue
		}
		list = append(list, t.costLine(c.List, l))
	}
	var plain []string
	for _, m := range cost.Missing {
		if m.Why == prices.None {
			plain = append(plain, m.Item)
			continue
		}
		list = append(list, fmt.Sprintf("no price for %s: %s", m.Item, m.Why))
	}
	if len(plain) > 0 {
		list = append(list, "no price for "+strings.Join(plain, "; "))
	}
	return list
}

// costLine is one thing's part: 10 drums more at 35 each, 350.
func (t Teller) costLine(l *prices.List, of prices.Line) string {
	at := fmt.Sprintf("at %s per %s, %s", money(&prices.List{}, of.Price.Money), of.Price.Unit, money(l, of.Money))
	if of.Price.Per == prices.Change {
		return of.Item + ", " + money(l, of.Money)
	}
	more, amount := "more", of.Amount
	if amount < 0 {
		more, amount = "less", -amount
	}
	return fmt.Sprintf("%s %s %s %s", t.amount(of.Price.Per, amount), more, "of "+of.Item, at)
}

// amount is how much of a thing, in the reader's units.
func (t Teller) amount(per prices.Per, v float64) string {
	switch per {
	case prices.Metre:
		return unit.Format(unit.Length, v, t.System, 1)
	case prices.SquareMetre:
		return t.area(v)
	case prices.CubicMetre:
		return t.room(v)
	}
	return number(v, 0)
}

// costSentence is the change that gives most warmth for the money, "" where none can be told.
func (t Teller) costSentence(a *worth.Answer, c *Costs) string {
	if c == nil {
		return ""
	}
	best, most := -1, 0.0
	for i := range a.Rows {
		if k, ok := perHundred(&a.Rows[i], c.of(i)); ok && k > most {
			best, most = i, k
		}
	}
	if best < 0 {
		return "No change here makes the worst night warmer and has a price for all of it: none can be told by its money."
	}
	s := fmt.Sprintf("%s gives most for its money: %s %s for %s, %s in all.", a.Rows[best].Variant.Name(), t.perMoney(most), t.degree(), money(c.List, costHundred), money(c.List, c.of(best).Money))
	left := 0
	for i := range a.Rows {
		if cost := c.of(i); cost != nil && !cost.Known() {
			left++
		}
	}
	if left > 0 {
		s += fmt.Sprintf(" %s not all priced and cannot be ranked so.", isAre(left))
	}
	return s
}

func isAre(n int) string {
	if n == 1 {
		return "1 change is"
	}
	return fmt.Sprintf("%d changes are", n)
}

// The cost of a change in JSON.
type costJSON struct {
	Money    float64        `json:"money"`
	Currency string         `json:"currency"`
	Known    bool           `json:"all_priced"`
	PerK     *float64       `json:"worst_night_k_per_100,omitempty"`
	Lines    []costLineJSON `json:"lines"`
	Missing  []missingJSON  `json:"no_price_for"`
}

type costLineJSON struct {
	Item   string  `json:"item"`
	Amount float64 `json:"amount_si"`
	Price  float64 `json:"price"`
	Per    string  `json:"per"`
	Money  float64 `json:"money"`
}

type missingJSON struct {
	Item string `json:"item"`
	Why  string `json:"why"`
}

func costAsJSON(r *worth.Row, c *Costs, i int) *costJSON {
	cost := c.of(i)
	if cost == nil {
		return nil
	}
	out := &costJSON{Money: cost.Money, Currency: c.List.Currency, Known: cost.Known(), Lines: []costLineJSON{}, Missing: []missingJSON{}}
	if k, ok := perHundred(r, cost); ok {
		out.PerK = &k
	}
	for _, l := range cost.Lines {
		out.Lines = append(out.Lines, costLineJSON{l.Item, l.Amount, l.Price.Money, l.Price.Unit, l.Money})
	}
	for _, m := range cost.Missing {
		out.Missing = append(out.Missing, missingJSON(m))
	}
	return out
}
