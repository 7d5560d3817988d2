package catchment

import (
	"math"
	"testing"
)

// Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 4: Dallas, 2,500 ft², share 0.85, January 1.97 in: 2,595 gal, with its 0.62 gal for a square foot and inch;
// exactly it is 144/231 = 0.6234, so that a litre for a square metre and millimetre gives 0.55 % more.
func TestYieldOfTheManual(t *testing.T) {
	const ft, in, gal = 0.3048, 25.4, 231 * 0.0254 * 0.0254 * 0.0254
	got := Yield(2500*ft*ft, 1.97*in, 0.85) / gal
	near(t, "with the manual's rounding, gal", got*0.62/(144.0/231), 2595, 1)
	near(t, "gal", got, 2595, 0.006*2595)
	near(t, "a square metre and a millimetre, L", 1000*Yield(1, 1, 1), 1, 1e-15)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}
