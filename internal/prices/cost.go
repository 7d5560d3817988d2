package prices

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/unit"
)

// Cost is what one house costs more than another by a list.
type Cost struct {
	Money   float64 // of all that has a price; less than 0 where less is needed than before
	Lines   []Line
	Missing []Missing // what differs and has no price: it is not in Money
}

// Known tells whether all that differs has a price.
func (c Cost) Known() bool { return len(c.Missing) == 0 }

// Line is one thing that is more or less.
type Line struct {
	Item   string
	Amount float64 // in the measure of the price [each, m, m², m³]
	Price  *Price
	Money  float64
}

// Missing is one thing that has no price.
type Missing struct{ Item, Why string }

// None is why a thing that the list does not name has no price.
const None = "no price"

// Of is what everything of a house costs, as a change from nothing would.
func (l *List) Of(h *house.House) Cost { return l.between(nil, quantities.Bill(h)) }

// Between is what a changed house costs more than the first. A change that moves no quantity has a cost only where the list prices it by its path.
func (l *List) Between(first, changed *house.House, changes []plan.Change) Cost {
	base, bill := quantities.Bill(first), quantities.Bill(changed)
	c := l.between(base, bill)
	for i, change := range changes {
		if p := l.ofChange(change.Path); p != nil {
			c.Lines = append(c.Lines, Line{"the change of " + change.Path, 1, p, p.Money})
			c.Money += p.Money
			continue
		}
		without := append(append([]plan.Change{}, changes[:i]...), changes[i+1:]...)
		if l.idle(first, bill, without) {
			c.Missing = append(c.Missing, Missing{"the change of " + change.Path, "it moves no quantity; a price for it is written '" + change.Path + ": 90 per change'"})
		}
	}
	return c
}

// idle tells whether a house has the same quantities with fewer changes. Where it cannot be built so, the change that is left out is not idle.
func (l *List) idle(first *house.House, bill []quantities.Item, fewer []plan.Change) bool {
	h := first
	if len(fewer) > 0 {
		p, findings := first.Plan.Apply(fewer...)
		known := house.Known()
		known.Weather = true
		findings = append(findings, plan.Check(p, known)...)
		if plan.Failed(findings) {
			return false
		}
		var bad []plan.Finding
		if h, bad = house.Resolve(p); plan.Failed(bad) {
			return false
		}
	}
	return len(differences(quantities.Bill(h), bill)) == 0
}

// ofChange is the price of a change by its path, or by that of a part that holds it.
func (l *List) ofChange(path string) *Price {
	for i := range l.Prices {
		p := &l.Prices[i]
		rest, under := strings.CutPrefix(path, p.Name)
		if p.Per == Change && under && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return p
		}
	}
	return nil
}

// tiny is a difference that is rounding.
const tiny = 1e-9

// differences is what the second bill has more than the first, by name and sort.
func differences(first, other []quantities.Item) []quantities.Item {
	var list []quantities.Item
	find := func(in []quantities.Item, of quantities.Item) quantities.Item {
		for _, i := range in {
			if i.Name == of.Name && i.Sort == of.Sort {
				return i
			}
		}
		return quantities.Item{}
	}
	add := func(i, less quantities.Item) {
		i.Count, i.M, i.M2, i.M3 = i.Count-less.Count, i.M-less.M, i.M2-less.M2, i.M3-less.M3
		if math.Abs(i.Count)+math.Abs(i.M)+math.Abs(i.M2)+math.Abs(i.M3) > tiny {
			list = append(list, i)
		}
	}
	for _, i := range other {
		add(i, find(first, i))
	}
	for _, i := range first {
		if find(other, i).Name == "" {
			add(quantities.Item{Name: i.Name, Sort: i.Sort, Kind: i.Kind, SI: i.SI}, i)
		}
	}
	return list
}

func (l *List) between(first, other []quantities.Item) Cost {
	var c Cost
	list := differences(first, other)
	more, less := map[string]bool{}, map[string]bool{}
	for _, i := range list {
		grows := i.Count+i.M+i.M2+i.M3 > 0
		more[i.Name], less[i.Name] = more[i.Name] || grows, less[i.Name] || !grows
	}
	for _, i := range list {
		p, why := l.price(i, more[i.Name] && less[i.Name])
		if p == nil {
			c.Missing = append(c.Missing, Missing{i.String(), why})
			continue
		}
		line := Line{Item: i.String(), Amount: amount(i, p.Per), Price: p}
		line.Money = line.Amount / p.SI * p.Money
		c.Lines = append(c.Lines, line)
		c.Money += line.Money
	}
	return c
}

// price finds that of a thing: of its sort, else of its name where that tells enough. swapped says that one sort of that name is there for another.
func (l *List) price(i quantities.Item, swapped bool) (*Price, string) {
	var general *Price
	for k := range l.Prices {
		p := &l.Prices[k]
		switch {
		case p.Per == Change || !p.same(i.Name):
		case p.Sort == "":
			general = p
		case sameSort(p.Sort, i):
			return fitting(p, i)
		}
	}
	switch {
	case general == nil:
		return nil, None
	case general.Per == SquareMetre && i.Kind == unit.Length && i.M3 != 0:
		return nil, fmt.Sprintf("its price per %s does not say for what thickness; write '%s: ... per %s'", general.Unit, i, general.Unit)
	case amount(i, general.Per) == 0:
	case swapped && general.Per != CubicMetre:
		return nil, fmt.Sprintf("the price of %s does not tell its sorts apart; write '%s: ... per %s'", i.Name, i, general.Unit)
	}
	return fitting(general, i)
}

// fitting holds a price against the measures that a thing has.
func fitting(p *Price, i quantities.Item) (*Price, string) {
	if amount(i, p.Per) == 0 {
		return nil, fmt.Sprintf("it is not sold per %s; it has %s", p.Unit, strings.Join(measures(i), ", "))
	}
	return p, ""
}

// measures are those that a thing has, in words.
func measures(i quantities.Item) []string {
	var list []string
	for _, m := range []struct {
		v    float64
		name string
	}{{i.Count, "pieces"}, {i.M, "a length"}, {i.M2, "an area"}, {i.M3, "a volume"}} {
		if m.v != 0 {
			list = append(list, m.name)
		}
	}
	return list
}

// sameSort tells whether a price's sort is the thing's, in whatever unit it is written.
func sameSort(written string, i quantities.Item) bool {
	if written == i.Sort {
		return true
	}
	if i.Kind == 0 {
		return false
	}
	q, err := unit.Parse(i.Kind, written)
	return err == nil && math.Abs(q.SI-i.SI) <= 0.005*i.SI
}

func amount(i quantities.Item, per Per) float64 {
	switch per {
	case Metre:
		return i.M
	case SquareMetre:
		return i.M2
	case CubicMetre:
		return i.M3
	}
	return i.Count
}
