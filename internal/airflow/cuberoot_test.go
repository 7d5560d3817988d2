package airflow

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The quick cube root is the library's, over all that a film may ask.
func TestCubeRoot(t *testing.T) {
	if cubeRoot(0) != 0 {
		t.Error("of 0")
	}
	rapid.Check(t, func(t *rapid.T) {
		x := math.Pow(10, rapid.Float64Range(-30, 30).Draw(t, "exponent"))
		if got, want := cubeRoot(x), math.Cbrt(x); math.Abs(got-want) > 1e-12*want {
			t.Errorf("of %g: %g, want %g", x, got, want)
		}
	})
}
