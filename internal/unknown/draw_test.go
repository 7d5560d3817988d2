package unknown

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

func dice(stream uint64) *rand.Rand { return rand.New(rand.NewPCG(20261125, stream)) }

// normal is the distribution of the standard normal.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// What is drawn has the moments and quantiles of a standard normal cut at 3, in closed form, within five standard errors:
//
//	variance = 1 - 2 c φ(c) / (2 Φ(c) - 1)      share below z = (Φ(z) - Φ(-c)) / (2 Φ(c) - 1)
//
// so the median of every log-normal is the plan's value, and a part in ten lies beyond each end but for what the cut takes (0.02 %).
func TestMomentsOfDraws(t *testing.T) {
	const n = 100_000
	_, list := of(t, pit, set("unknown.soil_moisture=40 to 70 %", "unknown.leakage=20 to 100 cm2")...)
	random := dice(1)
	z := make([][]float64, len(list))
	for range n {
		for i, v := range Draw(list, random) {
			if !(math.Abs(v) <= Cut) {
				t.Fatalf("%s drawn at %g", list[i].ID, v)
			}
			z[i] = append(z[i], v)
		}
	}
	whole := 2*normal(Cut) - 1
	variance := 1 - 2*Cut*math.Exp(-Cut*Cut/2)/math.Sqrt(2*math.Pi)/whole
	below := (normal(-EightInTen) - normal(-Cut)) / whole
	for i := range list {
		in := &list[i]
		sum, square, last, low, high, under := 0.0, 0.0, 0.0, 0, 0, 0
		for k, v := range z[i] {
			sum, square, last = sum+v, square+v*v, last+v*z[(i+1)%len(list)][k]
			x := in.Value(v)
			if x < in.Value(-EightInTen) {
				low++
			}
			if x > in.Value(EightInTen) {
				high++
			}
			if x < in.At {
				under++
			}
		}
		near := func(what string, got, want, deviation float64) {
			if math.Abs(got-want) > 5*deviation/math.Sqrt(n) {
				t.Errorf("%s: %s %.5f, want %.5f", in.ID, what, got, want)
			}
		}
		near("mean", sum/n, 0, 1)
		near("variance", square/n, variance, math.Sqrt2)
		near("product with the next", last/n, 0, 1)
		near("share below the lower end", float64(low)/n, below, 0.3)
		near("share above the upper end", float64(high)/n, below, 0.3)
		near("share below the plan", float64(under)/n, 0.5, 0.5)
	}
	if math.Abs(below-0.1) > 0.002 {
		t.Errorf("the cut leaves %.4f beyond an end", below)
	}
}

// The same dice give the same house, whatever is switched off and whatever the house does not have.
func TestDrawsAreTheSame(t *testing.T) {
	_, list := of(t, pit)
	all := Draw(list, dice(2))
	if slices.Equal(all, Draw(list, dice(3))) || len(all) != len(priors) {
		t.Errorf("other dice, and the same %v", all)
	}
	for _, change := range []string{"unknown.soil_moisture=off", "cover=none", "store=none", "leakage={air_changes: 1 ach}"} {
		_, fewer := of(t, pit, set(change)...)
		for i, z := range Draw(fewer, dice(2)) {
			if k := slices.IndexFunc(list, func(in Input) bool { return in.ID == fewer[i].ID }); all[k] != z {
				t.Errorf("with %s %s is drawn at %g, without at %g", change, fewer[i].ID, z, all[k])
			}
		}
	}
}

// Moved all at once: every value is where its input alone says, in whatever order; conductivity is about what it is at the moisture drawn.
func TestApply(t *testing.T) {
	p, list := of(t, pit, set("unknown.dirt=2 to 15 %")...)
	z := []float64{0.8, -1.1, 0.7, 1.3, -0.4, 0.9, -1.7, -0.6, 1.2}
	q, err := Apply(p, list, z)
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		in := &list[i]
		v, _ := q.Origins.At(in.Path)
		want := in.Value(z[i])
		switch in.ID {
		case "soil_conductivity":
			m, err := greenhouse.SoilMedium(plan.Soil{Texture: "loam", Moisture: 0.5 - 1.1*0.15})
			if err != nil {
				t.Fatal(err)
			}
			want = m.K * math.Pow(1.35, 0.7)
		case "snowfall":
			want *= 0.1
		}
		if math.Abs(v.Quantity.SI-want) > 1e-9*want {
			t.Errorf("%s: %s is %g, want %g", in.ID, in.Path, v.Quantity.SI, want)
		}
	}
	if q.Unknown != (plan.Unknown{}) || p.Unknown == (plan.Unknown{}) {
		t.Error("the drawn house has a key unknown, or the plan has lost its own")
	}
	for seed := range uint64(5) {
		order := dice(3 + seed).Perm(len(list))
		mixed, moved := make([]Input, len(list)), make([]float64, len(list))
		for i, k := range order {
			mixed[i], moved[i] = list[k], z[k]
		}
		again, err := Apply(p, mixed, moved)
		if err != nil || told(again) != told(q) {
			t.Errorf("in the order %v another plan comes of it: %v", order, err)
		}
	}
	if same, err := Apply(p, list, make([]float64, len(list))); err != nil || same.Frame.Dirt != p.Frame.Dirt || same.Site.Soil.Conductivity != nil {
		t.Errorf("no move, and another house: %v", err)
	}
}

// told is every value of a plan.
func told(p *plan.Plan) string {
	s := ""
	for v := range p.Origins.All() {
		s += fmt.Sprintf("%s=%s\n", v.Path, v.Text)
	}
	return s
}

// What would leave the plan's limits is held at them, and that is told.
func TestClamps(t *testing.T) {
	p, list := of(t, pit, set("frame.dirt=15 %", "site.soil.moisture=90 %", "site.soil_layers[0].moisture=10 %")...)
	for _, c := range []struct {
		id, path     string
		z            float64
		wanted, held float64
	}{
		{"dirt", "frame.dirt", 2, 0.6, 0.4},
		{"soil_moisture", "site.soil.moisture", 1, 1.05, 1},
		{"soil_moisture", "site.soil_layers[0].moisture", -1, -0.05, 0.05},
	} {
		z := make([]float64, len(list))
		z[slices.IndexFunc(list, func(in Input) bool { return in.ID == c.id })] = c.z
		q, clamps, err := Settle(p, list, z)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(clamps, func(k Clamp) bool { return k.ID == c.id && k.Path == c.path })
		if v, _ := q.Origins.At(c.path); i < 0 || math.Abs(clamps[i].Wanted-c.wanted) > 1e-9 || clamps[i].Held != c.held || math.Abs(v.Quantity.SI-c.held) > 1e-9 || len(clamps) != 1 {
			t.Errorf("%s at %g: %g in the plan, told %v", c.id, c.z, v.Quantity.SI, clamps)
		}
	}
	if _, clamps, _ := Settle(p, list, make([]float64, len(list))); clamps != nil {
		t.Errorf("no move, and held: %v", clamps)
	}
}

// Whatever is drawn for whatever the plan says makes a good plan of one house, all values within what a plan may hold.
func TestDrawnPlansAreGood(t *testing.T) {
	variants := [][]string{
		{"leakage={air_changes: 0.6 ach}", "leakage={per_area: 3 cm2/m2}", "leakage={area: 1.9 m2}", "unknown.leakage=5 to 300 cm2"},
		{"site.soil.moisture=6 %", "site.soil.moisture=99 %", "site.soil.conductivity=4 W/mK", "site.soil_layers=none", "unknown.soil_moisture=20 to 90 %"},
		{"frame.dirt=38 %", "unknown.dirt=0.01 to 100 times", "frame.ageing=9 %", "unknown.ageing=off"},
		{"snow=" + fallen, "snow={list: [{date: 01-02, depth: 2.9 m}]}", "unknown.snowfall=0.1 to 9 times", "snow=none"},
		{"cover.fit=100 %", "cover={r_value: 0.7 m2K/W, edge_gap: 5 mm}", "cover=none", "unknown.cover_fit=10 to 95 %"},
		{"surfaces.drum_factor=4.5", "surfaces.inside_factor=0.21", "surfaces.inside=8 W/m2K", "unknown.drum_factor=0.02 to 50 times"},
	}
	rapid.Check(t, func(t *rapid.T) {
		var changes []plan.Change
		for i, list := range variants {
			if k := rapid.IntRange(-1, len(list)-1).Draw(t, fmt.Sprint("variant ", i)); k >= 0 {
				changes = append(changes, set(list[k])...)
			}
		}
		p, list := of(t, pit, changes...)
		z := Draw(list, dice(rapid.Uint64().Draw(t, "dice")))
		for i := range z { // now and then an end of the cut
			z[i] = rapid.SampledFrom([]float64{z[i], z[i], z[i], Cut, -Cut, 0}).Draw(t, list[i].ID)
		}
		q, clamps, err := Settle(p, list, z)
		if err != nil {
			t.Fatal(err)
		}
		if findings := plan.Check(q, house.Known()); plan.Failed(findings) {
			t.Fatalf("%v: %v", clamps, plan.AsError(findings))
		}
		if _, findings := house.Resolve(q); plan.Failed(findings) {
			t.Fatal(plan.AsError(findings))
		}
		if q.Unknown != (plan.Unknown{}) {
			t.Error("a drawn house has a key unknown")
		}
		for v := range q.Origins.All() {
			if low, high, ok := plan.Allowed(v.Path); ok && !(v.Quantity.SI >= low && v.Quantity.SI <= high) {
				t.Errorf("%s is %g, allowed %g to %g", v.Path, v.Quantity.SI, low, high)
			}
		}
		for _, c := range clamps {
			if low, high, _ := plan.Allowed(c.Path); c.Held != low && c.Held != high || c.Held == c.Wanted {
				t.Errorf("told that %v, which is no limit", c)
			}
		}
	})
}

// A law: on the worst night a house that leaks more is never warmer.
func TestMoreLeakageIsNeverWarmer(t *testing.T) {
	p, list := of(t, pit)
	at := slices.IndexFunc(list, func(in Input) bool { return in.ID == "leakage" })
	before := math.Inf(1)
	for _, z := range []float64{-2, -1, 0, 1, 2} {
		moves := make([]float64, len(list))
		moves[at] = z
		q, err := Apply(p, list, moves)
		if err != nil {
			t.Fatal(err)
		}
		a, err := winter.Run(context.Background(), winter.Request{Plan: q}, nil)
		if err != nil {
			t.Fatal(err)
		}
		low := a.Places[a.Watched].LowestC
		t.Logf("leakage at %+g: lowest %.3f °C at %s", z, low, a.Places[a.Watched].Name)
		if low > before {
			t.Errorf("leakage at %+g: the lowest is %.3f °C, with less it was %.3f °C", z, low, before)
		}
		before = low
	}
}
