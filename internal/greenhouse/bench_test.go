package greenhouse

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// demo is the house of the demo on its full mesh, in a made cold week.
func demo(b *testing.B) (*house.House, *weather.Series) {
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", "larch-hollow.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	h := mustHouse(b, string(text))
	y := typicalYear(b, h)
	begin := time.Date(y.Start.Year(), 1, 15, 0, 0, 0, 0, y.Start.Location())
	week := y.Between(begin, begin.AddDate(0, 0, 7))
	return h, &week
}

// winterOfDemo is the demo's house from September to the end of the year, with everything that all runs of it share made beforehand.
type winterOfDemo struct {
	h     *house.House
	w     weather.Series
	u     *Undisturbed
	spans []sun.Span
}

func newWinterOfDemo(b *testing.B, changes ...string) *winterOfDemo {
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", "larch-hollow.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	h := mustHouse(b, string(text), changes...)
	y := typicalYear(b, h)
	u, err := UndisturbedGround(h.Plan, y)
	if err != nil {
		b.Fatal(err)
	}
	begin := time.Date(y.Start.Year(), 9, 1, 0, 0, 0, 0, y.Start.Location())
	d := &winterOfDemo{h: h, w: y.Between(begin, begin.AddDate(0, 4, 0)), u: u}
	d.spans = Spans(h.Plan, &d.w)
	return d
}

func (d *winterOfDemo) make(b *testing.B, earth Earth, c thermal.Control) *Greenhouse {
	g, err := New(d.h, Setup{StartC: 14, Ground: d.u.Profile(9, 1), FrostM: &d.u.FrostM, Snow: SnowFalls, Earth: earth, Control: c})
	if err != nil {
		b.Fatal(err)
	}
	return g
}

func (d *winterOfDemo) run(b *testing.B, g *Greenhouse) *Result {
	r, err := g.Run(context.Background(), &d.w, Options{Skip: 72, Spans: d.spans})
	if err != nil {
		b.Fatal(err)
	}
	return r
}

// BenchmarkWinter is an hour of the demo's winter, averaged over all of it, with the sun's path made beforehand: on the reduced ground, and on a full mesh of
// at least 1,500 cells. Hours with a new factor of the ground are told, and the error of the steps: the place that differs most from steps of an eighth, and the
// lowest that does [K].
func BenchmarkWinter(b *testing.B) {
	for _, c := range []struct {
		name    string
		earth   Earth
		changes []string
	}{{"reduced", FrostOutdoors, nil}, {"full_mesh", FullMesh, nil}} {
		b.Run(c.name, func(b *testing.B) {
			d := newWinterOfDemo(b, c.changes...)
			var r *Result
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				g := d.make(b, c.earth, thermal.Control{})
				b.StartTimer()
				r = d.run(b, g)
			}
			hours := float64(r.Work.Hours)
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/(float64(b.N)*hours), "ns/hour")
			b.ReportMetric(r.Work.SolvesPerHour, "solves/hour")
			b.ReportMetric(float64(r.Work.Steps)/hours, "steps/hour")
			b.ReportMetric(float64(r.Work.Refactors)/hours, "refactors/hour")
			b.ReportMetric(float64(r.Work.Nodes), "nodes")
			b.ReportMetric(float64(r.Work.Ports), "ports")
			b.ReportMetric(float64(r.Work.Cells), "cells")
			fine := d.run(b, d.make(b, c.earth, thermal.Control{Finer: 3}))
			e := compared(r, fine)
			b.ReportMetric(max(e.rms, e.faces), "K-rms-of-steps")
			b.ReportMetric(e.low, "K-lowest-of-steps")
		})
	}
}

// BenchmarkTwoWorkers is two winters at once over twice one after the other: the median of seven.
func BenchmarkTwoWorkers(b *testing.B) {
	d := newWinterOfDemo(b)
	both := func() (*Greenhouse, *Greenhouse) {
		return d.make(b, FrostOutdoors, thermal.Control{}), d.make(b, FrostOutdoors, thermal.Control{})
	}
	var ratios []float64
	for b.Loop() {
		ratios = ratios[:0]
		for range 7 {
			one, two := both()
			begin := time.Now()
			d.run(b, one)
			d.run(b, two)
			alone := time.Since(begin)
			one, two = both()
			begin = time.Now()
			done := make(chan *Result)
			go func() { done <- d.run(b, one) }()
			d.run(b, two)
			<-done
			ratios = append(ratios, float64(alone)/float64(time.Since(begin)))
		}
	}
	slices.Sort(ratios)
	b.ReportMetric(ratios[len(ratios)/2], "times-one")
}

// BenchmarkNew is the making of the demo's network: mesh, ends of the house, tables of the glazing.
func BenchmarkNew(b *testing.B) {
	h, _ := demo(b)
	for b.Loop() {
		if _, err := New(h, Setup{StartC: 6, Ground: flat(6)}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkUndisturbed is the ground without a house, run until it is periodic.
func BenchmarkUndisturbed(b *testing.B) {
	h, _ := demo(b)
	y := typicalYear(b, h)
	for b.Loop() {
		u, err := UndisturbedGround(h.Plan, y)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(u.Turns), "years")
	}
}

// BenchmarkPartsOfAnHour splits an hour: what holds for the whole of it (sun, snow, glazing's optics), one set of coefficients, and the solving.
func BenchmarkPartsOfAnHour(b *testing.B) {
	h, week := demo(b)
	g, _ := mustRun(b, h, Setup{StartC: 6, Ground: flat(6)}, week)
	const noon = 4*24 + 12
	b.Run("sun", func(b *testing.B) {
		for b.Loop() {
			hour := g.site.hourAt(week, noon, week.Hours[noon-1], spanOf(g, week, noon))
			for _, p := range g.parts {
				p.hour(&hour)
			}
		}
	})
	b.Run("coefficients and solving", func(b *testing.B) {
		b.ReportAllocs()
		hour := g.site.hourAt(week, noon, week.Hours[noon-1], spanOf(g, week, noon))
		for _, p := range g.parts {
			p.hour(&hour)
		}
		for b.Loop() {
			if err := g.Net.Advance(g.step); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("solving alone", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := g.Net.Advance(func(thermal.Moment) {}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
