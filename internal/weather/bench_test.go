package weather

import "testing"

func BenchmarkTypical(b *testing.B) {
	n := hillNormals()
	n.YearLowestKnown, n.YearLowestC = true, -29
	for b.Loop() {
		if _, err := Typical(n, KnownPlace(40, -105, 1600), 1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYear(b *testing.B) {
	n := hillNormals()
	n.YearLowestKnown, n.YearLowestC = true, -29
	y, err := NewYears(n, Spread{}, KnownPlace(40, -105, 1600), 1)
	if err != nil {
		b.Fatal(err)
	}
	for k := 0; b.Loop(); k++ {
		if _, err := y.Year(k); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewYears(b *testing.B) {
	n := hillNormals()
	n.YearLowestKnown, n.YearLowestC = true, -29
	for b.Loop() {
		if _, err := NewYears(n, Spread{}, KnownPlace(40, -105, 1600), 1); err != nil {
			b.Fatal(err)
		}
	}
}
