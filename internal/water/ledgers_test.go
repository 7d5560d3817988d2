package water

import (
	"context"
	"math"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/plan"
)

// larch is Larch Hollow from December to February on a coarse ground: enough for what water does, not for how cold it is.
func larch(t *testing.T, req Request, changes ...string) (*Answer, error) {
	t.Helper()
	req.Years = 4
	req.Plan = read(t, string(examples.LarchHollow), append([]string{"ground.finest_cell=20 cm", "ground.reach=4 m", "run.from=12-01", "run.until=02-28", "ground.built=10-20"}, changes...)...)
	return Run(context.Background(), req, nil)
}

// A draw takes the heat of its water, and costs degrees and hours; twice as much costs about twice as much; the rain gives the smaller one back sooner. Where a thaw
// fills the drums again before the coldest night, it costs next to nothing then.
func TestDraw(t *testing.T) {
	of := func(litres float64, more ...string) *DrawAnswer {
		a, err := larch(t, Request{Draw: &Draw{VolumeM3: litres / 1000, On: plan.Date{Month: 1, Day: 5}, Bed: "front bed"}}, more...)
		if err != nil {
			t.Fatal(err)
		}
		if l := a.Ledgers; !(l.OpenL < 1e-9 && l.HeatOpen < 1e-6) {
			t.Errorf("books open by %g L, %g of the heat", l.OpenL, l.HeatOpen)
		}
		d := a.Ledgers.Draw
		near(t, "taken", d.TakenM3, litres/1000, 1e-9)
		begin := 0.0
		for i := range a.Winter.Result.Traces {
			if tr := &a.Winter.Result.Traces[i]; tr.Name == "back drums, bay 1, middle" {
				begin = tr.C[d.hour-1]
			}
		}
		near(t, "heat, kJ", d.HeatJ/1000, litres*0.9997*4.192*begin, 0.1*litres*4.192*begin) // layers differ by some tenths of a degree
		return d
	}
	shut := []string{"water.inlet.shut_from=12-01", "water.inlet.shut_until=03-01"} // no thaw fills them again before the next frost
	one, two := of(300, shut...), of(600, shut...)
	cost := func(d *DrawAnswer) float64 {
		for _, c := range d.Places { // the bed that gets it is warmed by it first
			if c.Name == "middle bed, leaf tips, back side" {
				return c.BeforeC - c.AfterC
			}
		}
		return math.NaN()
	}
	if a, b := cost(one), cost(two); !(a > 0.01 && b > 1.5*a && b < 3*a) {
		t.Errorf("300 L cost %.3f K, 600 L %.3f", a, b)
	}
	if a, b := one.CarryBefore.Hours-one.Carry.Hours, two.CarryBefore.Hours-two.Carry.Hours; !(a > 0 && b > a) {
		t.Errorf("300 L cost %.2f h, 600 L %.2f", a, b)
	}
	if soon := of(300); !(soon.InWinterH > 0 && soon.InWinterH < 40*24) || one.InWinterH >= 0 || math.Abs(cost(soon)) > 0.02 {
		t.Errorf("given back in the winter after %g h at a cost of %.3f K; with the inlet shut after %g h", soon.InWinterH, cost(soon), one.InWinterH)
	}
	if len(one.BackDays) != 3 { // of four years, the last ends within a year
		t.Fatalf("%d years", len(one.BackDays))
	}
	for i := range one.BackDays {
		if one.BackDays[i] > two.BackDays[i] {
			t.Errorf("the rain gives 300 L back after %g days, 600 L after %g", one.BackDays[i], two.BackDays[i])
		}
	}
}

// More than there is takes what there is; what is not in the plan or the winter is refused.
func TestDrawOfTooMuch(t *testing.T) {
	a, err := larch(t, Request{Draw: &Draw{VolumeM3: 20, On: plan.Date{Month: 2, Day: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	if d := a.Ledgers.Draw; !(d.TakenM3 > 0.9*d.HeldM3 && d.TakenM3 <= d.HeldM3) || d.Bed != "middle bed" {
		t.Errorf("of %g m3 %g were taken, onto %s", d.HeldM3, d.TakenM3, d.Bed)
	}
	for _, c := range []struct {
		draw Draw
		says string
	}{
		{Draw{VolumeM3: 0.1, On: plan.Date{Month: 7, Day: 1}}, "07-01, is no day of the winter that is run"},
		{Draw{VolumeM3: 0.1, On: plan.Date{Month: 1, Day: 5}, Bed: "frontbed"}, `no bed "frontbed"`},
	} {
		if _, err := larch(t, Request{Draw: &c.draw}); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, must say %q", c.draw, err, c.says)
		}
	}
}

// What is kept leaves the beds less and the house warmer; a winter whose water stands still is the warmest.
func TestKept(t *testing.T) {
	a, err := larch(t, Request{}, "water.use_a_day=[60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L, 60 L]", "water.keep=[{volume: 3.4 m3, from: 11-01, until: 03-15}]")
	if err != nil {
		t.Fatal(err)
	}
	l := a.Ledgers
	if !(l.Kept && l.FreeM3 > l.Rain.UsedM3+0.5 && l.FreeC < l.LowestC && l.LowestC < l.StillC && l.Rain.KeptDays > 30) {
		t.Errorf("kept %v: %.2f m3 used, %.2f with nothing kept; lowest %.3f, %.3f with nothing kept, %.3f at rest; %d days kept", l.Kept, l.Rain.UsedM3, l.FreeM3, l.LowestC, l.FreeC, l.StillC, l.Rain.KeptDays)
	}
}
