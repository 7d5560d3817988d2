package water

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/catchment"

	"pgregory.net/rapid"
)

// steady is so many days with the same rain in mild air, from 1 January on.
func steady(n int, mm float64) []catchment.Day {
	var list []catchment.Day
	for i := range n {
		at := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, i)
		list = append(list, catchment.Day{Month: at.Month(), Day: at.Day(), RainMM: mm, MeltKD: 10})
	}
	return list
}

// A millimetre a day off 12 m² is 10.8 L: 5 L are used, the rest spills; nothing else happens.
func TestSteadyRain(t *testing.T) {
	a := run(t, wet)
	b := a.balance(steady(730, 1))
	near(t, "caught", b.Caught, 730*0.0108, 1e-9)
	near(t, "given", b.Given, 730*0.005, 1e-9)
	near(t, "spilled", b.Spilled, 730*0.0058, 1e-9)
	near(t, "reliability", b.Reliability(), 1, 0)
	near(t, "January's, L a year", 1000*b.Months[0].Caught*b.Years, 62*10.8, 1e-6)
	if b.Drums != 6 || len(b.Curve) == 0 || b.DaysShort != 0 {
		t.Errorf("%+v", b)
	}
}

// Without rain the store lasts its usable water and no day more; what is kept is not used.
func TestNoRain(t *testing.T) {
	a := run(t, wet)
	days := steady(365, 0)
	full := tank{full: a.Levels.FullM3, dead: a.Levels.FullM3 - a.Levels.UsableM3}
	for m := range full.use {
		full.use[m] = 0.005
	}
	r := fromFull(a, full, days)
	near(t, "days that it lasts", float64(r.DaysWanted-r.DaysShort), math.Floor(a.Levels.UsableM3/0.005), 0)
	near(t, "given", r.Given, a.Levels.UsableM3, 1e-12)
	kept := run(t, wet, "water.keep=[{volume: 800 L, from: 12-01, until: 11-30}]")
	r = fromFull(kept, full, days)
	near(t, "given above what is kept", r.Given, a.Levels.FullM3-0.8, 1e-12)
	if r.DaysKept == 0 || r.DaysKept > r.DaysShort {
		t.Errorf("%d days short for what is kept, of %d", r.DaysKept, r.DaysShort)
	}
}

// fromFull runs days from a full store.
func fromFull(a *Answer, full tank, days []catchment.Day) *Balance {
	b := &Balance{}
	r := &passage{tank: full, a: a, share: 1, held: full.full, roofs: a.Scheme.Roofs(), b: b}
	for _, d := range days {
		r.day(d)
	}
	return b
}

// Snow lies while it is cold and comes when it melts; where it slides off, it never comes.
func TestSnow(t *testing.T) {
	for _, sheds := range []string{"melts", "slides off"} {
		a := run(t, wet, "water.catchments[0].snow="+sheds)
		r := a.Scheme.Roofs()
		cold := r.Day(catchment.Day{Month: 1, Day: 1, SnowMM: 20})
		if cold.Off[0] != 0 {
			t.Errorf("%g m³ of snow ran off in the cold", cold.Off[0])
		}
		sum := 0.0
		for range 10 {
			out := r.Day(catchment.Day{Month: 1, Day: 2, MeltKD: 2})
			if out.Off[0] > catchment.Yield(12, 2*3.3, 0.9)+1e-12 {
				t.Errorf("%g m³ melted in a day", out.Off[0])
			}
			sum += out.Off[0]
		}
		want := catchment.Yield(12, 20, 0.9)
		if sheds == "slides off" {
			near(t, "slid off", cold.Shed, want, 1e-12)
			want = 0
		}
		near(t, sheds, sum, want, 1e-12)
	}
}

// The first flush takes its volume off each rain, once; after dry days it takes it again.
func TestFirstFlush(t *testing.T) {
	a := run(t, wet, "water.first_flush={depth: 2 mm, dry_days: 2}")
	r := a.Scheme.Roofs()
	rain, dry := catchment.Day{Month: 5, Day: 1, RainMM: 5}, catchment.Day{Month: 5, Day: 2}
	all, flush := catchment.Yield(12, 5, 0.9), 12*0.002
	for _, c := range []struct {
		d    catchment.Day
		want float64
	}{{rain, flush}, {rain, 0}, {dry, 0}, {rain, 0}, {dry, 0}, {dry, 0}, {rain, flush}} {
		out := r.Day(c.d)
		near(t, "flushed", out.Flushed, c.want, 1e-12)
		if c.d.RainMM > 0 {
			near(t, "comes on", out.Off[0], all-c.want, 1e-12)
		}
	}
	small := a.Scheme.Roofs()
	near(t, "a drizzle goes into it whole", small.Day(catchment.Day{Month: 5, RainMM: 1}).Off[0], 0, 1e-15)
}

// Mean of air above freezing, spread evenly between its lowest and highest.
func TestAbove(t *testing.T) {
	near(t, "warm", above(2, 6), 4, 0)
	near(t, "cold", above(-6, -2), 0, 0)
	near(t, "half", above(-4, 4), 1, 0)
	near(t, "unknown", above(math.NaN(), math.NaN()), 0, 0)
}

// Whatever the rain, the water's books close, the store stays between empty and full, and more drums or more roof never give less.
func TestAnyRainCloses(t *testing.T) {
	a := run(t, wet, "water.first_flush={volume: 15 L}", "water.keep=[{volume: 300 L, from: 11-01, until: 02-28}]")
	larger := run(t, wet, "water.first_flush={volume: 15 L}", "water.keep=[{volume: 300 L, from: 11-01, until: 02-28}]", "water.catchments[0].runoff=100 %")
	rapid.Check(t, func(r *rapid.T) {
		days := steady(rapid.IntRange(365, 800).Draw(r, "days"), 0)
		for i := range days {
			d := &days[i]
			switch rapid.IntRange(0, 5).Draw(r, "kind") {
			case 0:
				d.RainMM = rapid.Float64Range(0, 40).Draw(r, "rain")
			case 1:
				d.SnowMM, d.MeltKD = rapid.Float64Range(0, 20).Draw(r, "snow"), 0
			}
		}
		b := a.balance(days)
		if math.Abs(b.Open) > 1e-6*max(1e-3, b.Caught) {
			r.Errorf("%g m³ are open of %g", b.Open, b.Caught)
		}
		if b.Change > a.Levels.FullM3 || b.Given > b.Wanted+1e-9 || b.DaysNone > b.DaysShort {
			r.Errorf("%+v", b)
		}
		for i := 1; i < len(b.Curve); i++ {
			if b.Curve[i].Reliability < b.Curve[i-1].Reliability-1e-9 {
				r.Errorf("%d drums: %g, %d drums: %g", b.Curve[i].Drums, b.Curve[i].Reliability, b.Curve[i-1].Drums, b.Curve[i-1].Reliability)
			}
		}
		if more := larger.balance(days); more.Given < b.Given-1e-9 {
			r.Errorf("given %g, with more roof %g", b.Given, more.Given)
		}
	})
}
