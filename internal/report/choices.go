package report

import (
	"fmt"
	"slices"
	"strings"

	"suncellar/internal/plan"
	"suncellar/internal/prices"
	"suncellar/internal/worth"
)

// Choice is one change beside others, as it is told: what it buys and what it costs. What cannot be told is "".
type Choice struct {
	Name     string
	Error    string // why it could not be computed
	Night    string // "+5.8 °C" on the plan's worst night
	Band     string // "+3.4 to +7.6 °C" in 8 of 10 houses
	Lowest   string // its own lowest
	Below    string // hours below the limit, more or less
	Light    string // "-0.3 mol/m²" a day
	Water    string // "+1914 L"
	Cost     string
	PerMoney string
	Notes    []string // what has to be known with it
	Costs    []string // how the cost came about

	NightK, PerK, Money *float64 // to rank by; nil where not known
}

// Choices are the rows of a comparison, in its order. of and costs may have nothing.
func (t Teller) Choices(a *worth.Answer, of OfPairs, costs *Costs) []Choice {
	list := make([]Choice, len(a.Rows))
	for i := range a.Rows {
		r, c := &a.Rows[i], &list[i]
		c.Name = r.Variant.Name()
		if r.Err != nil {
			c.Error = reasonOf(r)
			continue
		}
		c.Light = signed(r.By.LightMol, 1) + " mol/m²"
		c.Water = plus(t.waterFigure(r.By.WaterM3)) + " " + t.waterUnit()
		if r.HasPlace {
			c.Lowest = t.temp(r.Figures.LowestC)
			c.Below = fmt.Sprintf("%s h", signed(float64(r.By.HoursBelow), 0))
		}
		if r.HasNight {
			c.Night, c.NightK = t.difference(r.By.NightK), &r.By.NightK
			if b := of.best(); b != nil && b.Rows[i].HasNight {
				c.Band = fmt.Sprintf("%s to %s", t.step(b.Rows[i].Night.Lo), t.difference(b.Rows[i].Night.Hi))
			}
		}
		c.Notes = t.choiceNotes(a, of, i)
		t.choiceCost(c, r, costs, i)
	}
	return list
}

func (t Teller) choiceCost(c *Choice, r *worth.Row, costs *Costs, i int) {
	cost := costs.of(i)
	if cost == nil {
		return
	}
	c.Cost, c.Costs = costWords(costs.List, cost), t.costLines(costs, i)
	if cost.Known() {
		c.Money = &cost.Money
	}
	if k, ok := perHundred(r, cost); ok {
		c.PerMoney, c.PerK = t.perMoney(k)+" "+t.degree()+" for "+money(costs.List, costHundred), &k
	}
}

// choiceNotes are what has to be known with one change: of its run, its band, its plan, and cautions that the plan itself does not have.
func (t Teller) choiceNotes(a *worth.Answer, of OfPairs, i int) []string {
	r := &a.Rows[i]
	list := append([]string{}, r.Notes...)
	for k := range r.Winter.Tubes {
		list = append(list, t.tubesNote(&r.Winter.Tubes[k]))
	}
	if b := of.best(); b != nil && b.Rows[i].Why != "" {
		list = append(list, "no band: "+b.Rows[i].Why)
	}
	for _, f := range r.Findings {
		if f.Severity == plan.Warning {
			list = append(list, f.Message)
		}
	}
	for _, c := range r.Winter.Cautions {
		if !slices.Contains(a.First.Cautions, c) {
			list = append(list, c)
		}
	}
	return list
}

// reasonOf is why a change could not be computed, without its name.
func reasonOf(r *worth.Row) string {
	var list []string
	for _, f := range r.Findings {
		if f.Severity == plan.Error {
			s := f.Message
			if f.Path != "" {
				s = f.Path + ": " + s
			}
			list = append(list, s)
		}
	}
	if len(list) > 0 {
		return strings.Join(list, "; ")
	}
	return strings.TrimPrefix(r.Err.Error(), fmt.Sprintf("change %q: ", r.Variant.Name()))
}

// ChoicesSentences tell what stands above the rows: which does most, how sure, which gives most for its money, and what the plan is without any.
func (t Teller) ChoicesSentences(a *worth.Answer, of OfPairs, costs *Costs) []string {
	list := []string{t.mostWorth(a)}
	for _, s := range []string{t.pairSentence(a, of), t.costSentence(a, costs)} {
		if s != "" {
			list = append(list, s)
		}
	}
	return append(list, fmt.Sprintf("Without any of them the lowest of %s is %s, on %s. How sure: %s", within(a.Place), t.temp(a.Base.LowestC), when(local(a.First, a.Base.LowestAt)), strings.TrimSpace(t.sureOfLowest(a, of))))
}

// ChoiceCost is what a change costs before any winter is computed, and how it comes about.
func (t Teller) ChoiceCost(l *prices.List, c prices.Cost) (string, []string) {
	costs := &Costs{List: l, Rows: []*prices.Cost{&c}}
	return costWords(l, &c), t.costLines(costs, 0)
}

// CostMeans tells what costs hold and what they do not.
func (t Teller) CostMeans() string { return costMeans }
