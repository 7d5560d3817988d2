package unit

import "testing"

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse(Length, "12 ft 6 in"); err != nil {
			b.Fatal(err)
		}
	}
}
