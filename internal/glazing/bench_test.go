package glazing_test

import (
	"testing"

	"suncellar/internal/glazing"
)

func product(b *testing.B, key string) glazing.Stack {
	b.Helper()
	p, err := glazing.Lookup(key)
	if err != nil {
		b.Fatal(err)
	}
	return p.Stack
}

func BenchmarkLump(b *testing.B) {
	for _, key := range []string{"twin_wall_8mm", "five_wall_16mm"} {
		s := product(b, key)
		at := glazing.Place{Slope: glazing.Degrees(50), HeightM: 2}
		b.Run(key, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Lump(-8, 3, at)
			}
		})
	}
}

func BenchmarkTable(b *testing.B) {
	s := product(b, "twin_wall_8mm")
	b.Run("made", func(b *testing.B) {
		for b.Loop() {
			if _, err := glazing.NewTable(s, glazing.Degrees(50)); err != nil {
				b.Fatal(err)
			}
		}
	})
	table, err := glazing.NewTable(s, glazing.Degrees(50))
	if err != nil {
		b.Fatal(err)
	}
	b.Run("read", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			table.FromOutside(0.63)
		}
	})
}
