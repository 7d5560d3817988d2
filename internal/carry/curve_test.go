package carry

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"suncellar/internal/plan"
)

const covered = `
cover: {r_value: 1 m2K/W}
`

// The point of a curve is the same answer as a spell of its own, whole, with water lost, a bay lost, and without the cover; a greater cold
// and less water never lengthen it; however many runs go at a time, the curve is the same.
func TestCurveIsTheAnswers(t *testing.T) {
	t.Parallel()
	p := load(t, pit+covered, plan.Change{Path: "store.rows[0].bays", Value: "3"})
	req := Request{Plan: p, StoreC: is(7), LimitC: is(1), Lose: 0.5, Curve: &CurveRequest{OutsideC: []float64{-24, -12, -18}, Workers: 1}}
	a := inPit(t, req)
	c := a.Curve
	if !reflect.DeepEqual(c.OutsideC, []float64{-12, -18, -24}) {
		t.Fatalf("outdoor airs %v", c.OutsideC)
	}
	want := map[string]Request{"full store": {}, "50 % of the store": {Lose: 0.5}, "drums, bay 1 lost": {BayLost: "drums, bay 1"}, "cover left off": {NoCover: true}}
	for _, k := range c.Cases {
		one, ok := want[k.Name]
		if !ok {
			t.Errorf("case %q", k.Name)
			continue
		}
		delete(want, k.Name)
		one.Plan, one.StoreC, one.LimitC, one.Spell = p, req.StoreC, req.LimitC, Spell{OutsideC: is(-18)}
		single := inPit(t, one)
		at := k.Points[1]
		if at.Beyond || math.Abs(at.Hours+at.OnIce-single.Hours) > 1e-9 || at.Place != single.Place {
			t.Errorf("%s: %.4f h and %.4f on ice at %s in the curve, %.4f at %s alone", k.Name, at.Hours, at.OnIce, at.Place, single.Hours, single.Place)
		}
		if math.Abs(k.ReserveJ-single.ReserveJ) > 1 || math.Abs(k.WaterM3-single.WaterM3) > 1e-12 {
			t.Errorf("%s: %g J in %g m³ in the curve, %g in %g alone", k.Name, k.ReserveJ, k.WaterM3, single.ReserveJ, single.WaterM3)
		}
		for i := range k.Points {
			if i > 0 && k.Points[i].Hours > k.Points[i-1].Hours {
				t.Errorf("%s: %.2f h at %g °C, milder %.2f", k.Name, k.Points[i].Hours, c.OutsideC[i], k.Points[i-1].Hours)
			}
			if k.Points[i].Hours > c.Cases[0].Points[i].Hours {
				t.Errorf("%s at %g °C: %.2f h, whole %.2f", k.Name, c.OutsideC[i], k.Points[i].Hours, c.Cases[0].Points[i].Hours)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("cases that are not there: %v", want)
	}
	req.Curve.Workers = 3
	if b := inPit(t, req); !reflect.DeepEqual(b.Curve, c) {
		t.Error("with three workers another curve")
	}
}

// Time with ice in the drums is apart: of a limit far below freezing only what comes before the ice counts.
func TestIceIsNoTime(t *testing.T) {
	t.Parallel()
	a := inPit(t, Request{StoreC: is(3), LimitC: is(-5), Spell: Spell{OutsideC: is(-20)}, Curve: &CurveRequest{OutsideC: []float64{-20, -25}}})
	at := a.Curve.Cases[0].Points[0]
	if !(at.OnIce > 1) {
		t.Fatalf("%+v: the drums of this test did not freeze before the limit", at)
	}
	if math.Abs(at.Hours-a.IceAfterHours) > 1e-9 {
		t.Errorf("%.2f h count, ice begins after %.2f", at.Hours, a.IceAfterHours)
	}
	if i := int(a.IceAfterHours); a.Lines.IceShare[i] > iceBegins || a.Lines.IceShare[i+1] <= iceBegins {
		t.Errorf("ice is %.4f and %.4f at hours %d and %d", a.Lines.IceShare[i], a.Lines.IceShare[i+1], i, i+1)
	}
	if at.StillIceJ <= 0 || at.StillIceJ >= a.Curve.Cases[0].FreezeJ {
		t.Errorf("freezing the rest gives %g J, all gives %g", at.StillIceJ, a.Curve.Cases[0].FreezeJ)
	}
}

// What is beyond the longest run at one cold is told so at milder ones without a run, and it is so.
func TestBeyondByLaw(t *testing.T) {
	t.Parallel()
	a := inPit(t, Request{LimitC: is(-15), Curve: &CurveRequest{OutsideC: []float64{2, 4, 8}}})
	ps := a.Curve.Cases[0].Points
	if !ps[2].Beyond || ps[2].ByLaw || !ps[0].Beyond || !ps[0].ByLaw || ps[0].Hours != MaxDays*24 {
		t.Errorf("%+v", ps)
	}
}

func TestCurveRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		req  Request
		want string
	}{
		{Request{Curve: &CurveRequest{OutsideC: []float64{-5}}}, "curve has 1 outdoor temperatures, must be 2 to 24"},
		{Request{Curve: &CurveRequest{OutsideC: []float64{-5, -90}}}, "curve: outdoor air is -90 °C, must be -60 to 30 °C"},
		{Request{BayLost: "drums, bay 4"}, `there is no bay or row "drums, bay 4" in this house`},
		{Request{BayLost: "drums", Place: "drums, top"}, "no place of this house without its water"},
	} {
		_, err := Run(context.Background(), boxRequest(t, c.req), nil)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.req, err, c.want)
		}
	}
}

// Progress never goes back, and ends at the whole.
func TestCurveProgress(t *testing.T) {
	t.Parallel()
	last, share := -1.0, 0.0
	_, err := Run(context.Background(), pitRequest(t, Request{LimitC: is(3), Curve: &CurveRequest{OutsideC: []float64{-20, -25}}}), func(done, total int) {
		share = float64(done) / float64(total)
		if share < last {
			t.Errorf("progress goes back from %.3f to %.3f", last, share)
		}
		last = share
	})
	if err != nil || share != 1 {
		t.Errorf("ends at %.3f, %v", share, err)
	}
}

// Water that was lost on a date before the spell is not there in it.
func TestEventsBeforeTheSpell(t *testing.T) {
	t.Parallel()
	whole := inPit(t, Request{From: &plan.Date{Month: 1, Day: 8}})
	p := load(t, pit, plan.Change{Path: "store.events", Value: "[{kind: drain, bay: drums, from: 01-05, share: 60 %}]"})
	less := inPit(t, Request{Plan: p, From: &plan.Date{Month: 1, Day: 8}})
	if math.Abs(less.WaterM3-0.4*whole.WaterM3) > 1e-9 {
		t.Errorf("%.4f m³ in the spell, want 0.4 of %.4f", less.WaterM3, whole.WaterM3)
	}
	if less.Hours > whole.Hours {
		t.Errorf("%.2f h with less water, %.2f with all", less.Hours, whole.Hours)
	}
}

// What was taken away is held against all of the store at the same cold: the time of a run that has it all.
func TestFullIsTheWholeStore(t *testing.T) {
	less := inPit(t, Request{StoreC: is(7), LimitC: is(1), Spell: Spell{OutsideC: is(-15)}, Lose: 0.6})
	all := inPit(t, Request{StoreC: is(7), LimitC: is(1), Spell: Spell{OutsideC: is(-15)}})
	if all.Full != nil || less.Full == nil || less.Full.Hours != all.Hours || less.Full.Hours < less.Hours {
		t.Errorf("with 40 %% of the store %g h, with all %+v, a run with all %g h", less.Hours, less.Full, all.Hours)
	}
}
