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
