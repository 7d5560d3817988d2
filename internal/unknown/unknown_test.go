package unknown

import (
	"math"
	"slices"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// Every key of the plan has a row and every row a key; a row says its spread, what that stands on, and what it acts on.
func TestTheTableIsWhole(t *testing.T) {
	var ids []string
	for _, r := range priors {
		ids = append(ids, r.id)
		if r.label == "" || r.words == "" || r.source == "" || needs[r.id] == "" {
			t.Errorf("%s lacks a word: %+v", r.id, r)
		}
		if r.basis == Judgement != strings.HasPrefix(r.source, "own judgement") || r.basis == Trade != strings.HasPrefix(r.source, "trade") {
			t.Errorf("%s stands on %q, its source says %q", r.id, r.basis, r.source)
		}
		if s := r.spread; !(s.under > 1 && s.over > 1 && s.down == 0 && s.up == 0 || s.down > 0 && s.up > 0 && s.under == 0 && s.over == 0) {
			t.Errorf("%s: spread %+v is neither a factor nor a distance", r.id, s)
		}
	}
	if keys := plan.UnknownKeys(); !slices.Equal(ids, keys) {
		t.Errorf("rows %v, keys of the plan %v", ids, keys)
	}
	if _, list := of(t, pit); len(list) != len(priors) {
		t.Errorf("the pit has %d of %d inputs", len(list), len(priors))
	}
}

// What a house does not have is not among what is not known of it, and a word about it in the plan is told.
func TestOnlyWhatTheHouseHas(t *testing.T) {
	for _, c := range []struct{ id, change string }{
		{"leakage", "leakage.area=0 cm2"}, {"dirt", "frame.dirt=0 %"}, {"ageing", "frame.age=0 yr"}, {"ageing", "frame.ageing=0 %"},
		{"drum_factor", "store=none"}, {"drum_factor", "surfaces.inside=8 W/m2K"}, {"inside_factor", "surfaces.inside=8 W/m2K"},
		{"cover_fit", "cover=none"}, {"cover_fit", "cover={r_value: 0.7 m2K/W, edge_gap: 5 mm}"}, {"snowfall", "snow=none"}, {"snowfall", "snow={list: []}"},
	} {
		p, list := of(t, pit, set(c.change, "unknown."+c.id+"=0.5 to 2 times")...)
		if slices.ContainsFunc(list, func(in Input) bool { return in.ID == c.id }) {
			t.Errorf("%s is not known though %s", c.id, c.change)
		}
		h, _ := house.Resolve(p)
		idle := Idle(p, h)
		if !slices.ContainsFunc(idle, func(f plan.Finding) bool { return f.Path == "unknown."+c.id && f.Severity == plan.Warning }) {
			t.Errorf("unknown.%s with %s is not told to do nothing: %v", c.id, c.change, idle)
		}
	}
	p, _ := of(t, pit, set("unknown.dirt=off", "unknown.snowfall=0.5 to 2 times")...)
	h, _ := house.Resolve(p)
	if idle := Idle(p, h); len(idle) != 0 {
		t.Errorf("told to do nothing: %v", idle)
	}
	loft := examples.All()[slices.IndexFunc(examples.All(), func(e examples.Example) bool { return strings.Contains(e.Name, "crow") })]
	for _, in := range second(of(t, string(loft.Plan))) {
		if strings.HasPrefix(in.ID, "soil") {
			t.Errorf("a box on stilts has %s", in.ID)
		}
	}
}

func second(_ *plan.Plan, list []Input) []Input { return list }

// The plan's own value stands at 0, where nothing is changed, and every change leads to a value that Value names.
func TestChanges(t *testing.T) {
	p, list := of(t, pit)
	for _, in := range list {
		if got := in.Changes(0); got != nil {
			t.Errorf("%s: %v for no move", in.ID, got)
		}
		if in.Value(0) != in.At {
			t.Errorf("%s: %g at 0, planned %g", in.ID, in.Value(0), in.At)
		}
		for _, z := range []float64{-1.5, -1, -0.3, 0.4, 1, 1.7} {
			q, findings := p.Apply(in.Changes(z)...)
			if plan.Failed(append(findings, plan.Check(q, house.Known())...)) {
				t.Fatalf("%s at %g: %v", in.ID, z, findings)
			}
			v, _ := q.Origins.At(in.Path)
			got := v.Quantity.SI
			if in.Snow {
				got /= p.Snow.List[0].Depth
			}
			if want := in.Value(z); math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s at %g: the plan says %g, want %g", in.ID, z, got, want)
			}
		}
	}
	wet := input(t, list, "soil_moisture")
	q, _ := p.Apply(wet.Changes(-1.4)...)
	if l := q.Site.SoilLayers; l[0].Moisture != 0.05 || math.Abs(l[1].Moisture-0.29) > 1e-9 {
		t.Errorf("layers of soil at -1.4: %g and %g, want 0.05 and 0.29", l[0].Moisture, l[1].Moisture)
	}
	q, _ = p.Apply(input(t, list, "snowfall").Changes(1)...)
	if s := q.Snow.List; math.Abs(s[0].Depth-0.14) > 1e-9 || math.Abs(s[1].Depth-0.07) > 1e-9 {
		t.Errorf("snow falls at +1: %v", s)
	}
}

// A grower's ends hold 8 in 10 with the plan's own value in the middle, however unevenly they lie about it.
func TestWrittenEnds(t *testing.T) {
	for _, c := range []struct {
		id, text  string
		low, high float64
		words     string
	}{
		{"leakage", "0.5 to 2 times", 30e-4, 120e-4, "times or over 1.72"},
		{"leakage", "20 to 100 cm2", 20e-4, 100e-4, "times 1.49 or over 2.36"},
		{"soil_moisture", "40 to 70 %", 0.4, 0.7, "16 % more or 7.8 % less"},
		{"soil_moisture", "0.8 to 1.2 times", 0.4, 0.6, "7.8 %"},
		{"cover_fit", "50 % to 90 %", 0.5, 0.9, "16 %"},
		{"dirt", "2 to 15 %", 0.02, 0.15, "times 2.36 or over 2.04"},
		{"snowfall", "0.7 to 1.8 times", 0.7, 1.8, ""},
	} {
		_, list := of(t, pit, set("unknown."+c.id+"="+c.text)...)
		in := input(t, list, c.id)
		low, high := in.Value(-EightInTen), in.Value(EightInTen)
		if math.Abs(low-c.low) > 1e-12 || math.Abs(high-c.high) > 1e-12 || in.Value(0) != in.At || !in.On {
			t.Errorf("%s %s: %.15g to %.15g about %g, want %g to %g", c.id, c.text, low, high, in.Value(0), c.low, c.high)
		}
		if in.Basis != Written || !strings.Contains(in.Source, c.text) || c.words != "" && in.Words != c.words {
			t.Errorf("%s %s: %q, %q from %q", c.id, c.text, in.Words, in.Basis, in.Source)
		}
	}
	_, list := of(t, pit, set("unknown.dirt=off")...)
	if in := input(t, list, "dirt"); in.On || in.Changes(1) != nil {
		t.Errorf("switched off, and still moved: %+v", in.Changes(1))
	}
}
