package ensemble

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"

	"suncellar/examples"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// shifted are winters of one year, each some kelvin warmer than the one before.
type shifted struct {
	year   weather.Series
	n      int
	byK    float64
	broken int // the winter that cannot be made; -1: none
}

func (s shifted) Len() int          { return s.n }
func (s shifted) Name(k int) string { return fmt.Sprintf("winter %d", k) }
func (s shifted) Weather(k int) (weather.Series, error) {
	if k == s.broken {
		return weather.Series{}, errors.New("the record has a hole")
	}
	return s.year.Warmer(s.byK * float64(k)), nil
}

// demo is two weeks of the demo house's January, prepared, and winters for it.
func demo(t testing.TB, n int) (*winter.Prepared, shifted) {
	t.Helper()
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow,
		plan.Change{Path: "ground.built", Value: "01-05", Origin: plan.Changed},
		plan.Change{Path: "run.from", Value: "01-10", Origin: plan.Changed},
		plan.Change{Path: "run.until", Value: "01-17", Origin: plan.Changed})
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	base, err := winter.Prepare(winter.Request{Plan: p})
	if err != nil {
		t.Fatal(err)
	}
	return base, shifted{base.Year, n, 2, -1}
}

// with is the plan with a change.
func with(base *winter.Prepared, path, value string) Plan {
	return Changed(base.Plan, plan.Change{Path: path, Value: value, Origin: plan.Changed})
}

// covered is the plan with a night cover.
func covered(base *winter.Prepared) Plan { return with(base, "cover", "{r_value: 0.7 m2K/W}") }

// The same summaries, bit for bit, on one seat and on many, whatever the order of the runs.
func TestWorkersDoNotMatter(t *testing.T) {
	base, winters := demo(t, 3)
	req := Request{Base: base, Winters: winters, Plans: []Plan{nil, covered(base)}, AtOnce: 1}
	one, err := Simulate(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	req.AtOnce = 5
	many, err := Simulate(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Runs = []Run{{1, 2}, {0, 0}, {1, 0}, {0, 1}, {1, 1}, {0, 2}}
	turned, err := Simulate(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(one) != 6 {
		t.Fatalf("%d summaries, want 6", len(one))
	}
	same := func(a, b Summary) bool { return fmt.Sprintf("%+v", a) == fmt.Sprintf("%+v", b) } // NaN is NaN there
	for i := range one {
		if !same(one[i], many[i]) {
			t.Errorf("run %+v differs between one seat and five", one[i].Run)
		}
	}
	for _, s := range turned {
		if !same(s, one[s.Plan*3+s.Winter]) {
			t.Errorf("run %+v differs when the order does", s.Run)
		}
	}
}

// A winter alone is what the use case of one winter makes of it, and a warmer one is warmer, covered or not.
func TestRunsAreWinters(t *testing.T) {
	base, winters := demo(t, 3)
	out, err := Simulate(context.Background(), Request{Base: base, Winters: winters, Plans: []Plan{nil, covered(base)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range out {
		if out[i].Err != nil {
			t.Fatal(out[i].Err)
		}
	}
	alone, err := base.Answer(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range alone.Places {
		got := out[0].Place(p.Name)
		if got == nil || got.LowestC != p.LowestC || !got.LowestAt.Equal(p.LowestAt) || got.Below != [2]int{p.HoursBelowZero, p.HoursBelowLimit} {
			t.Errorf("%s: %+v, the winter alone has %.3f °C at %s", p.Name, got, p.LowestC, p.LowestAt)
		}
		if m := got.MonthC[0]; float64(m) != float64(float32(p.LowestC)) || !math.IsNaN(float64(got.MonthC[6])) {
			t.Errorf("%s: January %.3f, July %.3f °C; lowest %.3f °C in January, nothing in July", p.Name, m, got.MonthC[6], p.LowestC)
		}
	}
	for k := 1; k < 3; k++ {
		if out[k].coldestC() <= out[k-1].coldestC() || out[3+k].coldestC() <= out[2+k].coldestC() {
			t.Errorf("winter %d is warmer outdoors, inside %.2f after %.2f, covered %.2f after %.2f °C", k, out[k].coldestC(), out[k-1].coldestC(), out[3+k].coldestC(), out[2+k].coldestC())
		}
	}
	if out[3].coldestC() <= out[0].coldestC() {
		t.Errorf("covered %.2f °C, uncovered %.2f", out[3].coldestC(), out[0].coldestC())
	}
}

// What cannot be run has its reason by name; all else is there.
func TestFailuresAreNamed(t *testing.T) {
	base, winters := demo(t, 2)
	winters.broken = 1
	far, wrong := with(base, "site.latitude", "40 deg"), with(base, "glazing_of_gold", "1")
	out, err := Simulate(context.Background(), Request{Base: base, Winters: winters, Plans: []Plan{nil, far, wrong}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"", "winter 1: the record has a hole", "other winters", "other winters", "glazing_of_gold", "glazing_of_gold"} {
		switch got := out[i].Err; {
		case want == "" && got != nil:
			t.Errorf("run %d: %v", i, got)
		case want != "" && (got == nil || !strings.Contains(got.Error(), want)):
			t.Errorf("run %d: %v, want %q in it", i, got, want)
		}
	}
	if _, err := Simulate(context.Background(), Request{Base: base, Winters: winters, Runs: []Run{{0, 7}}}, nil); err == nil {
		t.Error("a winter that is not there was run")
	}
}

// Cancelled, it ends with the reason and leaves no worker behind; progress counts every run once.
func TestCancelAndProgress(t *testing.T) {
	base, winters := demo(t, 4)
	before := runtime.NumGoroutine()
	ctx, cancel := context.WithCancel(context.Background())
	var told atomic.Int32
	_, err := Simulate(ctx, Request{Base: base, Winters: winters, AtOnce: 2}, func(done, total int) {
		if told.Add(1); done > total || total != 4 {
			t.Errorf("%d of %d runs done", done, total)
		}
		cancel()
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want cancelled", err)
	}
	if n := told.Load(); n == 0 || n > 4 {
		t.Errorf("progress was told %d times", n)
	}
	if after := runtime.NumGoroutine(); after > before {
		t.Errorf("%d goroutines before, %d after", before, after)
	}
}

func TestEach(t *testing.T) {
	if got := Each(2, 3); !reflect.DeepEqual(got, []Run{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}}) {
		t.Errorf("%v", got)
	}
}
