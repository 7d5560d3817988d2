package greenhouse

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"suncellar/internal/house"
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

// BenchmarkWinter is an hour of the demo's winter, averaged over all of it: the ground reduced, and cell by cell.
func BenchmarkWinter(b *testing.B) {
	h, _ := demo(b)
	y := typicalYear(b, h)
	u, err := UndisturbedGround(h.Plan, y)
	if err != nil {
		b.Fatal(err)
	}
	begin := time.Date(y.Start.Year(), 9, 1, 0, 0, 0, 0, y.Start.Location())
	w := y.Between(begin, begin.AddDate(0, 4, 0))
	for _, full := range []Earth{FrostOutdoors, FullMesh} {
		b.Run(map[Earth]string{FrostOutdoors: "reduced", FullMesh: "full mesh"}[full], func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				g, err := New(h, Setup{StartC: 14, Ground: u.Profile(9, 1), FrostM: &u.FrostM, Snow: SnowFalls, Earth: full})
				if err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				r, err := g.Run(context.Background(), &w, Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(r.Work.SolvesPerHour, "solves/hour")
				b.ReportMetric(float64(r.Work.Refactors)/float64(r.Work.Hours), "refactors/hour")
				b.ReportMetric(float64(r.Work.Steps)/float64(r.Work.Hours), "steps/hour")
				b.ReportMetric(float64(r.Work.Nodes), "nodes")
				b.ReportMetric(float64(r.Work.Cells), "cells")
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(w.Hours)), "ns/hour")
		})
	}
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
