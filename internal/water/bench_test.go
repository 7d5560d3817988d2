package water

import "testing"

// The gravity solve: heights, limits, flow in each pipe, and drip lines at three levels.
func BenchmarkGravity(b *testing.B) {
	for b.Loop() {
		run(b, wet)
	}
}

// The balance of thirty years, with ten sizes of store.
func BenchmarkYears(b *testing.B) {
	a := run(b, wet)
	days := steady(30*365, 1)
	for b.Loop() {
		a.balance(days)
	}
}
