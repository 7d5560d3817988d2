package ensemble

import (
	"context"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// years are made winters of the demo's climate.
type years struct {
	y *weather.Years
	n int
}

func (y years) Len() int                              { return y.n }
func (y years) Name(int) string                       { return "made" }
func (y years) Weather(k int) (weather.Series, error) { return y.y.Year(k) }

// BenchmarkWinters is made winters of the demo house, October to April, weather made with them, on one core: winters a second and core, and how much faster two
// workers are than one.
func BenchmarkWinters(b *testing.B) {
	p, findings := plan.Apply(examples.LarchHollowName, examples.LarchHollow)
	if err := plan.AsError(findings); err != nil {
		b.Fatal(err)
	}
	base, err := winter.Prepare(winter.Request{Plan: p})
	if err != nil {
		b.Fatal(err)
	}
	y, err := winter.Years(p)
	if err != nil {
		b.Fatal(err)
	}
	const n = 16
	run := func(atOnce int) float64 {
		begin := time.Now()
		out, err := Simulate(context.Background(), Request{Base: base, Winters: years{y, n}, AtOnce: atOnce}, nil)
		if err != nil {
			b.Fatal(err)
		}
		for _, s := range out {
			if s.Err != nil {
				b.Fatal(s.Err)
			}
		}
		return time.Since(begin).Seconds()
	}
	var one, two float64
	for b.Loop() {
		one, two = run(1), run(2)
	}
	b.ReportMetric(n/one, "winters/s")
	b.ReportMetric(one/two, "times-one")
}
