package prices_test

import (
	"math"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/prices"
)

// Invented prices in the example, and all of its names are known.
func TestExampleIsRead(t *testing.T) {
	t.Parallel()
	l, findings := prices.Read("prices.yaml", examples.Prices)
	if len(findings) > 0 {
		t.Fatal(plan.AsError(findings))
	}
	if !strings.HasPrefix(string(examples.Prices), "# Invented prices") || l.Currency == "" || len(l.Prices) < 10 {
		t.Errorf("the example of prices has %d, in %q", len(l.Prices), l.Currency)
	}
	h := larch(t)
	if warned := l.Check(h.Plan); len(warned) > 0 {
		t.Errorf("unknown names in the example: %v", warned)
	}
	if c := l.Of(h); !c.Known() || c.Money <= 0 {
		t.Errorf("the house costs %g, without %v", c.Money, c.Missing)
	}
}

// By hand, of Larch Hollow: 10 drums more at 35; a cover of its glazing at 24 a m²; 25 mm of board more by volume.
func TestCostsByHand(t *testing.T) {
	t.Parallel()
	h := larch(t)
	front := 0.0
	for i := range h.Faces {
		if b := h.Faces[i].Build; b != nil && b.Name == "block wall" {
			front += h.Faces[i].Area
		}
	}
	for _, c := range []struct {
		prices, changes string
		want            float64
		missing         string // part of what is told to have no price
	}{
		{"drum 55 gal: 35 per drum, water: 0 per L", "store.rows[0].drums=30", 350, ""},
		{"drum 55 gal: 35 each", "store.rows[0].drums=30", 350, "water: no price"},
		{"drum 55 gal: 35 each, water: 1 per m3", "store.rows[0].drums=10", -10*35 - 1.9136, ""},
		{"cover: 24 per m2", "cover={r_value: R-4}", 24 * h.GlazedArea(), ""},
		{`"cover, R-4": 24 per m2`, "cover={r_value: 0.7044 m2K/W}", 24 * h.GlazedArea(), ""},
		{`"cover, R-2": 24 per m2`, "cover={r_value: R-4}", 0, "cover, 0.7044 m2K/W: no price"},
		{"xps: 260 per m3", "builds.block wall.layers[1].thickness=100 mm", 260 * 0.025 * front, ""},
		{"xps: 260 per ft3", "builds.block wall.layers[1].thickness=100 mm", 260 / 0.028316846592 * 0.025 * front, ""},
		{"xps: 20 per m2", "builds.block wall.layers[1].thickness=100 mm", 0, "does not say for what thickness"},
		{`"xps, 75 mm": 20 per m2, "xps, 4 in": 30 per m2`, "builds.block wall.layers[1].thickness=101.6 mm", 10 * front, ""},
		{"xps: 3 per m", "builds.block wall.layers[1].thickness=100 mm", 0, "is not sold per m; it has an area, a volume"},
		{"water: 0 per m3, drum 55 gal: 35 each", "store.rows[0].size=tote 275 gal; store.rows[0].drums=4; store.rows[0].tiers=1", -20 * 35, "tote 275 gal: no price"},
		{"drum of your own: 35 each, drum 55 gal: 1 each, water: 0 per m3", "store.rows[0].diameter=0.5 m; store.rows[0].height=0.8 m", 20*35 - 20, ""},
		{"vent: 85 each", "vents[0]=none", -85, ""},
		{"vent: 85 each", "vents[0].area=0.5 m2", 0, "the price of vent does not tell its sorts apart"},
		{"water: 1 per m3", "leakage.area=60 cm2", 0, "leakage.area: it moves no quantity"},
		{"leakage: 90 per change", "leakage.area=60 cm2", 90, ""},
		{"leakage.area: 90 per change, cover: 1 per m2", "leakage.area=60 cm2; cover={r_value: R-4}", 90 + h.GlazedArea(), ""},
		{"cover: 1 per m2", "leakage.area=60 cm2; cover={r_value: R-4}", h.GlazedArea(), "leakage.area: it moves no quantity"},
		{"cover: 1 per m2", "shape.depth=1.1 m", 0, "shape.depth: it moves no quantity"},
	} {
		l := list(t, c.prices)
		changes := parsed(t, c.changes)
		cost := l.Between(h, changed(t, h, changes), changes)
		if math.Abs(cost.Money-c.want) > 2e-3*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s at %s costs %g, wanted %g: %+v", c.changes, c.prices, cost.Money, c.want, cost.Lines)
		}
		told := ""
		for _, m := range cost.Missing {
			told += m.Item + ": " + m.Why + "\n"
		}
		if c.missing == "" != cost.Known() || !strings.Contains(told, c.missing) {
			t.Errorf("%s at %s: without %q, wanted %q", c.changes, c.prices, told, c.missing)
		}
	}
}

// A change there and back costs as much as it brings, whatever is priced.
func TestThereAndBackCostsNothing(t *testing.T) {
	t.Parallel()
	l, _ := prices.Read("prices.yaml", examples.Prices)
	h := larch(t)
	for _, change := range []string{"shape.depth=1.5 m", "shape.length=12 m", "shape.glazing=triple_wall_16mm", "store=none", "builds.roof.layers[1].thickness=250 mm"} {
		other := changed(t, h, parsed(t, change))
		if there, back := l.Between(h, other, nil), l.Between(other, h, nil); math.Abs(there.Money+back.Money) > 1e-6 || there.Money == 0 {
			t.Errorf("%s costs %g and back %g", change, there.Money, back.Money)
		}
	}
}

func TestFaultsAreTold(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"prices: {a: 1}", `p.yaml:1:13: prices.a: "1" is no price`},
		{"suncellar_prices: 2", "p.yaml:1:19: suncellar_prices: the version is \"2\", allowed: 1"},
		{"prices: {xps: 3 per m2}", "no list of prices"},
		{"suncellar_prices: 1\nprices:\n  xps: $3 per m2", `p.yaml:3:8: prices.xps: "$3" is not a number`},
		{"suncellar_prices: 1\nprices:\n  xps: -3 per m2", "-3 is out of range, allowed: 0 to"},
		{"suncellar_prices: 1\nprices:\n  xps: NaN per m2", "NaN is out of range"},
		{"suncellar_prices: 1\nprices:\n  xps: 3 per stone", `"stone" is no unit that things are sold in, allowed: m, ft`},
		{"suncellar_prices: 1\nprices:\n  xps: 3 per m2\n  xps: 4 per m2", "p.yaml:4:3: prices.xps: stands here again, first in line 3"},
		{"suncellar_prices: 1\nprices:\n  xps:\n    a: {b: 1 per m}", "is deeper than a price"},
		{"suncellar_prices: 1\nprice:\n  xps: 3 per m2", "allowed: suncellar_prices, currency, prices"},
		{"suncellar_prices: 1\nprices: [1, 2]", "a list stands here"},
		{"suncellar_prices: 1\nprices:\n  xps: 3 per ", "is no price"},
		{"\tx", "p.yaml:1:1"},
		{"a: [", "not YAML"},
	} {
		_, findings := prices.Read("p.yaml", []byte(c.text))
		if err := plan.AsError(findings); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, wanted %s", c.text, err, c.want)
		}
	}
	for _, text := range []string{"", "# nothing yet\n", "\ufeff"} {
		if l, findings := prices.Read("p.yaml", []byte(text)); len(findings) > 0 || len(l.Prices) > 0 {
			t.Errorf("%q: %v", text, findings)
		}
	}
	for _, text := range []string{"~", "hello", "3"} {
		if _, findings := prices.Read("p.yaml", []byte(text)); len(findings) != 1 || findings[0].Line != 1 {
			t.Errorf("%q: %v", text, findings)
		}
	}
	l := list(t, "plywod: 3 per m2, leekage.area: 3 per change")
	warned := l.Check(larch(t).Plan)
	if len(warned) != 2 || warned[0].Hint != "did you mean plywood?" || !strings.Contains(warned[1].Message, `no part "leekage"`) {
		t.Errorf("warned %v", warned)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(examples.Prices)
	f.Add([]byte("suncellar_prices: 1\nprices: {xps: 3 per m2}"))
	h, _ := house.Resolve(example())
	f.Fuzz(func(t *testing.T, text []byte) {
		l, findings := prices.Read("p.yaml", text)
		if c := l.Of(h); math.IsNaN(c.Money) || c.Money < 0 {
			t.Errorf("costs %g, %v", c.Money, findings)
		}
	})
}

// list reads prices parted by commas.
func list(t *testing.T, text string) *prices.List {
	t.Helper()
	l, findings := prices.Read("p.yaml", []byte("suncellar_prices: 1\nprices: {"+text+"}"))
	if len(findings) > 0 {
		t.Fatal(plan.AsError(findings))
	}
	return l
}

func parsed(t *testing.T, text string) []plan.Change {
	t.Helper()
	var list []plan.Change
	for part := range strings.SplitSeq(text, ";") {
		c, err := plan.ParseChange(part)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, c)
	}
	return list
}

func example() *plan.Plan {
	p, findings := plan.Load("larch-hollow.yaml", examples.LarchHollow, house.Known())
	if p == nil {
		panic(plan.AsError(findings))
	}
	return p
}

func larch(t *testing.T) *house.House {
	t.Helper()
	h, bad := house.Resolve(example())
	if plan.Failed(bad) {
		t.Fatal(plan.AsError(bad))
	}
	return h
}

func changed(t *testing.T, h *house.House, changes []plan.Change) *house.House {
	t.Helper()
	p, findings := h.Plan.Apply(changes...)
	if plan.Failed(findings) {
		t.Fatal(plan.AsError(findings))
	}
	other, bad := house.Resolve(p)
	if plan.Failed(bad) {
		t.Fatal(plan.AsError(bad))
	}
	return other
}

// A list that is begun prices everything once its signs are taken away.
func TestBlankNamesEverything(t *testing.T) {
	t.Parallel()
	h := larch(t)
	text := strings.ReplaceAll(strings.ReplaceAll(prices.Blank(h), "  # ", "  "), "...", "2")
	l, findings := prices.Read("p.yaml", []byte(text))
	if len(findings) > 0 {
		t.Fatalf("%v in\n%s", plan.AsError(findings), text)
	}
	if c := l.Of(h); !c.Known() || c.Money <= 0 {
		t.Errorf("without %v", c.Missing)
	}
	empty, findings := prices.Read("p.yaml", []byte(prices.Blank(h)))
	if len(empty.Prices) > 0 || len(findings) > 0 {
		t.Errorf("the blank list has %v, %v", empty.Prices, findings)
	}
}
