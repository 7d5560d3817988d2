// Package prices reads a list of prices that somebody wrote down, and reckons what a change of a plan costs by it.
//
// What it promises: only what is written has a price; a thing that has none is told by name and is in no sum; a price that does not tell two sorts of a thing apart is not
// used between them.
package prices

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// Per is what a price is for.
type Per int

// The measures that things are sold in.
const (
	Each Per = iota
	Metre
	SquareMetre
	CubicMetre
	Change // of the plan, whatever it changes
)

// Price is what one unit of a thing costs.
type Price struct {
	Path  string // in the file
	Name  string // of the thing, or the path of a value of the plan
	Sort  string // "": whatever sort
	Money float64
	Per   Per
	SI    float64 // how much of the measure it is for: 0.0929 of a price per ft2
	Unit  string  // as written: "m2", "drum"
	Line  int
}

// List is a list of prices.
type List struct {
	File     string
	Currency string // as written, free text; "" where none is
	Prices   []Price
}

// format is the version of the file.
const format = "1"

// Read reads a list. Findings are errors: the list then holds what could be read.
//
//	suncellar_prices: 1
//	currency: dollars
//	prices:
//	  xps: 280 per m3
//	  xps, 50 mm: 15.50 per m2
//	  drum 55 gal: 40 per drum
//	  leakage.area: 90 per change
func Read(name string, text []byte) (*List, []plan.Finding) {
	l := &List{File: name}
	texts, findings := plan.Texts(name, text)
	if len(texts) == 0 && len(findings) == 0 {
		return l, nil
	}
	fail := func(t plan.Text, hint, format string, args ...any) {
		findings = append(findings, plan.Finding{File: name, Line: t.Line, Column: t.Column, Path: t.Path, Message: fmt.Sprintf(format, args...), Hint: hint})
	}
	known := false
	for _, t := range texts {
		switch {
		case len(t.Names) == 0: // the whole document is one value
			fail(t, "begin with 'suncellar_prices: "+format+"'", "is no list of prices")
			known = true
		case t.Path == "suncellar_prices":
			known = true
			if strings.TrimSpace(t.Value) != format {
				fail(t, "", "the version is %q, allowed: %s", t.Value, format)
			}
		case t.Path == "currency":
			l.Currency = strings.TrimSpace(t.Value)
		case t.Path == "prices" && t.Value == "": // begun
		case t.Names[0] == "prices" && len(t.Names) == 2:
			p, what, hint := read(t)
			if what != "" {
				fail(t, hint, "%s", what)
				continue
			}
			l.Prices = append(l.Prices, p)
		case t.Names[0] == "prices":
			fail(t, "write 'thing: price per unit' in one line", "is deeper than a price")
		default:
			fail(t, "prices stand below 'prices:'", "no key of a list of prices, allowed: suncellar_prices, currency, prices")
		}
	}
	if !known && !plan.Failed(findings) {
		findings = append(findings, plan.Finding{File: name, Line: 1, Column: 1, Message: "this is no list of prices", Hint: "begin with 'suncellar_prices: " + format + "'"})
	}
	return l, findings
}

// howTo is the hint for a price that cannot be read.
const howTo = "write a number and what it is for, such as 12.50 per m2, 40 per drum, 90 per change"

// read reads one price; what is wrong with it is "" where nothing is.
func read(t plan.Text) (p Price, what, hint string) {
	p = Price{Path: t.Path, Line: t.Line}
	name, sort, _ := strings.Cut(t.Names[1], ",")
	p.Name, p.Sort = strings.TrimSpace(name), strings.TrimSpace(sort)
	number, per, ok := strings.Cut(t.Value, " per ")
	if body, each := strings.CutSuffix(strings.TrimSpace(t.Value), " each"); each {
		number, per, ok = body, "piece", true
	}
	number, per = strings.TrimSpace(number), strings.TrimSpace(per)
	if !ok || per == "" {
		return p, fmt.Sprintf("%q is no price", t.Value), howTo
	}
	money, err := strconv.ParseFloat(number, 64)
	switch {
	case err != nil:
		return p, fmt.Sprintf("%q is not a number", number), howTo + "; the currency stands once, under 'currency:'"
	case !(money >= 0 && money <= most):
		return p, fmt.Sprintf("%s is out of range, allowed: 0 to %.0f", number, float64(most)), "what costs nothing is 0"
	}
	p.Money, p.Unit = money, per
	if p.Per, p.SI, ok = measure(per); !ok {
		return p, fmt.Sprintf("%q is no unit that things are sold in, allowed: %s", per, strings.Join(Units(), ", ")), howTo
	}
	return p, "", ""
}

// most is the highest price that is read.
const most = 1e9

// pieces are the words for one thing.
var pieces = []string{"piece", "drum", "tote", "door", "vent", "opener", "inlet", "fan", "heater", "tube"}

// Units are what a price may be for.
func Units() []string {
	return append([]string{"m", "ft", "m2", "ft2", "m3", "ft3", "L", "gal", "change"}, pieces...)
}

// measure reads the unit of a price: any of length, area or volume, or a word for one thing.
func measure(per string) (Per, float64, bool) {
	if per == "change" {
		return Change, 1, true
	}
	for _, p := range pieces {
		if per == p {
			return Each, 1, true
		}
	}
	for _, k := range []struct {
		kind unit.Kind
		per  Per
	}{{unit.Length, Metre}, {unit.Area, SquareMetre}, {unit.Volume, CubicMetre}} {
		amount := per
		if per[0] < '0' || per[0] > '9' {
			amount = "1 " + per
		}
		if q, err := unit.Parse(k.kind, amount); err == nil && q.SI > 0 && !math.IsInf(q.SI, 0) {
			return k.per, q.SI, true
		}
	}
	return 0, 0, false
}

// same tells whether a price is of a thing by its name.
func (p *Price) same(name string) bool { return house.Key(p.Name) == house.Key(name) }
