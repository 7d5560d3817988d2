package drill

import (
	"context"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/catchment"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// coarse is Larch Hollow from late November to early January on a ground that computes quickly: enough for what a fault does, not for how cold it is.
var coarse = []string{"ground.finest_cell=20 cm", "ground.reach=4 m", "run.from=11-20", "run.until=01-10", "ground.built=10-10"}

func load(t testing.TB, changes ...string) *plan.Plan {
	t.Helper()
	var list []plan.Change
	for _, c := range append(append([]string{}, coarse...), changes...) {
		change, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, change)
	}
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), list...)
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	return p
}

func winterOf(t testing.TB, changes ...string) *winter.Answer {
	t.Helper()
	w, err := winter.Run(context.Background(), winter.Request{Plan: load(t, changes...)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// larchWinter is its winter as it is in the example, which most tests try their faults in.
var larchWinter = sync.OnceValues(func() (*winter.Answer, error) {
	var list []plan.Change
	for _, c := range coarse {
		change, err := plan.ParseChange(c)
		if err != nil {
			return nil, err
		}
		list = append(list, change)
	}
	p, findings := plan.Load(examples.LarchHollowName, examples.LarchHollow, house.Known(), list...)
	if p == nil {
		return nil, plan.AsError(findings)
	}
	return winter.Run(context.Background(), winter.Request{Plan: p}, nil)
})

func try(t testing.TB, w *winter.Answer, req Request) *Answer {
	t.Helper()
	req.Plan, req.Winter = w.Plan, w
	a, err := Run(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !(a.OpenL < 1e-6 && a.HeatOpen < 1e-6) {
		t.Errorf("%s: books open by %g L, %g of the heat", req.Kind, a.OpenL, a.HeatOpen)
	}
	return a
}

func mustLarch(t testing.TB) *winter.Answer {
	t.Helper()
	w, err := larchWinter()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func (a *Answer) place(t testing.TB, name string) *Place {
	t.Helper()
	for i := range a.Places {
		if a.Places[i].Name == name {
			return &a.Places[i]
		}
	}
	t.Fatalf("no place %q", name)
	return nil
}

// Every fault makes the coldest night colder, brings the limit no later, and is over when it is mended; one that lasts longer costs no less.
func TestFaultsCostWarmth(t *testing.T) {
	w := mustLarch(t)
	covered := winterOf(t, "cover={r_value: 0.7 m2K/W}")
	flapped := winterOf(t, "water.inlet.mouth=flap", "water.inlet.diameter=100 mm")
	watched := "front bed, leaf tips, back side"
	for _, c := range []struct {
		w    *winter.Answer
		kind Kind
		at   string
		by   float64 // at least [K]
	}{
		{w, VentStuck, "high vent", 1}, {w, PaneBroken, "", 2}, {w, DoorOpen, "", 2}, {w, InletOpen, "", 0.005}, {flapped, FlapFrozen, "", 0.02}, {covered, CoverOff, "", 1},
	} {
		a := try(t, c.w, Request{Kind: c.kind, At: c.at})
		p := a.place(t, watched)
		if d := p.LowestC[0] - p.LowestC[1]; !(d >= c.by) {
			t.Errorf("%s: %.3f K at %s, at least %g", c.kind, d, watched, c.by)
		}
		if p.UntilH[0] >= 0 && !(p.UntilH[1] >= 0 && p.UntilH[1] <= p.UntilH[0]+1e-9) {
			t.Errorf("%s: below its limit after %g h, as planned after %g", c.kind, p.UntilH[1], p.UntilH[0])
		}
		if a.Begin.Hour() != evening || !(a.Begin.Before(c.w.Places[c.w.Watched].LowestAt)) || a.Forever {
			t.Errorf("%s: from %v to %v", c.kind, a.Begin, a.End)
		}
	}
	short, long := try(t, w, Request{Kind: VentStuck, LastsH: 6}), try(t, w, Request{Kind: VentStuck, LastsH: 30})
	if a, b := short.place(t, watched), long.place(t, watched); !(b.BelowH[1] >= a.BelowH[1] && b.LowestC[1] <= a.LowestC[1]+0.02) {
		t.Errorf("thirty hours: %d h below, %.2f °C; six: %d h, %.2f °C", b.BelowH[1], b.LowestC[1], a.BelowH[1], a.LowestC[1])
	}
}

// A leak takes what its joint lets out, and the books of the run have it; ten times the hole empties sooner; a bay that is shut off keeps its water.
func TestLeakRuns(t *testing.T) {
	w := winterOf(t, "water.inlet.shut_from=11-01", "water.inlet.shut_until=03-01") // rain would run out too
	day := &plan.Date{Month: 12, Day: 5}
	slow := try(t, w, Request{Kind: Leak, At: "joint at back drums, drum 3", On: day, To: "floor"})
	l := slow.Leak
	if len(l.Bays) != 2 || math.Abs(l.OutM3-l.M3) > 0.02*l.M3 || !(l.DrainH > 5 && l.DrainH < 60) {
		t.Errorf("%d bays, %.3f m3 run out of %.3f, nine tenths after %g h", len(l.Bays), l.OutM3, l.M3, l.DrainH)
	}
	near(t, "with the valve shut", l.Held.M3, l.M3/2, 0.01)
	fast := try(t, w, Request{Kind: Leak, At: "joint at back drums, drum 3", On: day, HoleM: 0.05})
	if !(fast.Leak.DrainH <= 2) || slow.Begin != fast.Begin || slow.Begin.Hour() != midday {
		t.Errorf("a hole of 5 cm empties it after %g h, from %v", fast.Leak.DrainH, fast.Begin)
	}
	// Torricelli: t = (A/(C a)) sqrt(2/g) (sqrt h - sqrt(h/10)), both bays as one vessel; 0.61, 5 mm
	h := w.House
	row := h.Rows[0]
	area := row.Volume * float64(row.Drums) / (row.Top - row.Base)
	head := l.M3 / area
	hours := area / (0.61 * math.Pi / 4 * 0.005 * 0.005) * math.Sqrt(2/9.80665) * (math.Sqrt(head) - math.Sqrt(head/10)) / 3600
	near(t, "hours to nine tenths", l.DrainH, hours, 2)
	bay := try(t, w, Request{Kind: Leak, At: "back drums, bay 2", On: day})
	if b := bay.Leak; len(b.Bays) != 1 || b.Joint != nil || b.Mend != nil || !(b.LostShare() > 0.99) {
		t.Errorf("%+v", b)
	}
}

// LostShare is the share of the bays' water that runs out.
func (l *LeakAnswer) LostShare() float64 {
	held, lost := 0.0, 0.0
	for _, b := range l.Bays {
		held, lost = held+b.HeldM3, lost+b.LostM3
	}
	return lost / held
}

// A leak that is seen late has cost more than one seen early; what is kept behind the valve, saved and gone adds up; mended is never colder than ridden out by more than snow can make it.
func TestMendOrRideOut(t *testing.T) {
	w := mustLarch(t)
	var rain []catchment.Day
	for i := range 800 {
		at := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, i)
		rain = append(rain, catchment.Day{Month: at.Month(), Day: at.Day(), RainMM: 10})
	}
	req := Request{Kind: Leak, At: "joint at back drums, drum 3", On: &plan.Date{Month: 11, Day: 25}, HoleM: 0.002, SpareM3: 0.4, Rain: rain}
	early := try(t, w, req)
	req.NoticedD = 4
	late := try(t, w, req)
	for _, a := range []*Answer{early, late} {
		m := a.Leak.Mend
		if m == nil {
			t.Fatal("nothing is mended")
		}
		near(t, "gone, kept and let out", m.GoneM3+m.KeptM3+m.DrainM3, a.Leak.M3, 0.02*a.Leak.M3)
		if !(m.LetOutH > 0.05 && m.LetOutH < 2) { // 32 mm, 6 m² and some 0.1 to 1 m of water
			t.Errorf("let out in %g h", m.LetOutH)
		}
		near(t, "saved", m.SavedM3, math.Min(0.4, m.DrainM3), 1e-9)
		if !(m.Reserve[1] > m.Reserve[0]) {
			t.Errorf("the reserve is %g J mended, %g ridden out", m.Reserve[1], m.Reserve[0])
		}
		// 10 mm a day on the roof
		each := 0.0
		for _, c := range w.House.Scheme.Catchments {
			each += c.Area * 0.01 * c.Runoff
		}
		days := a.Leak.Again.At(0.5)
		near(t, "days of rain", days, a.Leak.M3/each, 2)
	}
	if e, l := early.Leak.Mend, late.Leak.Mend; !(e.GoneM3 < l.GoneM3 && e.KeptM3 > l.KeptM3) {
		t.Errorf("early: %.2f m3 gone, %.2f kept; late: %.2f, %.2f", e.GoneM3, e.KeptM3, l.GoneM3, l.KeptM3)
	}
	if !math.IsInf(setting(0), 1) || setting(3) != setColdH || setting(5) != setWarmH {
		t.Errorf("glue sets in %g, %g, %g h at 0, 3, 5 °C", setting(0), setting(3), setting(5))
	}
}

// A split drum loses its own water to the bottom and that of its neighbours to their pipes.
func TestSplitDrum(t *testing.T) {
	w := mustLarch(t)
	a := try(t, w, Request{Kind: DrumFrozen, At: "back drums, drum 3"})
	for _, f := range a.Leak.Falls {
		v := &w.House.Scheme.Vessels[f.Vessel]
		want := v.Bottom + 0.05
		if v.Name == "back drums, drum 3" {
			want = v.Bottom
		}
		near(t, v.Name, f.ToZ, want, 1e-9)
	}
	if len(a.Leak.Falls) != 10 {
		t.Errorf("%d of 10 fall", len(a.Leak.Falls))
	}
}

// A bay stands empty on mild days, and not in the coldest week.
func TestFooting(t *testing.T) {
	w := mustLarch(t)
	a, err := Footing(context.Background(), FootingRequest{Plan: w.Plan, Winter: w, Bay: "back drums, bay 2", Days: 2, Every: 5}, nil)
	if err != nil {
		t.Fatal(err)
	}
	open := 0
	for _, b := range a.Begins {
		if b.Open {
			open++
			if !(b.LowestC[1] >= w.LimitC+marginK) {
				t.Errorf("%v is open at %.2f °C", b.Begin, b.LowestC[1])
			}
		}
	}
	if open == 0 || open == len(a.Begins) || !(a.WaterM3 > 1.8 && a.WaterM3 < 2) {
		t.Errorf("%d of %d begins are open, %.2f m3", open, len(a.Begins), a.WaterM3)
	}
	if _, err := Footing(context.Background(), FootingRequest{Plan: w.Plan, Winter: w, Bay: "bay 9"}, nil); err == nil || !strings.Contains(err.Error(), "bays: ") {
		t.Error(err)
	}
}

// What cannot be tried is refused with what can.
func TestRefusedDrills(t *testing.T) {
	w := mustLarch(t)
	dry := winterOf(t, "water=none", "store=none", "cold_sink=none")
	for _, c := range []struct {
		w    *winter.Answer
		req  Request
		says string
	}{
		{w, Request{Kind: "flood"}, "drills are leak"},
		{w, Request{Kind: CoverOff}, "no cover"},
		{w, Request{Kind: FlapFrozen}, "a one-way valve"},
		{w, Request{Kind: VentStuck, At: "low vnt"}, `did you mean "low vent"`},
		{w, Request{Kind: PaneBroken, PaneM2: 90}, "larger than glazing"},
		{w, Request{Kind: Leak, At: "joint at nowhere"}, "no joint is called"},
		{w, Request{Kind: Leak, To: "the moon"}, "must be one of floor"},
		{dry, Request{Kind: Leak, To: "cold sink"}, "has no cold sink"},
		{w, Request{Kind: DoorOpen, On: &plan.Date{Month: 7, Day: 1}}, "07-01, is no day of the winter"},
		{dry, Request{Kind: Leak}, "has no drums"},
		{dry, Request{Kind: InletOpen}, "has no inlet"},
	} {
		c.req.Plan, c.req.Winter = c.w.Plan, c.w
		if _, err := Run(context.Background(), c.req, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s at %q: %v, must say %q", c.req.Kind, c.req.At, err, c.says)
		}
	}
	if coldestLeaf(&greenhouse.Result{}) == coldestLeaf(&greenhouse.Result{}) {
		t.Error("a house without places has a coldest leaf")
	}
}

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}
