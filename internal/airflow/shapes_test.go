package airflow

import (
	"math"
	"testing"
)

// The table of shapes against the formula it was made from: within 1e-6 inside, the formula itself outside.
func TestShapesAreTheFormula(t *testing.T) {
	for root := 0.801; root < 2; root += 0.00037 {
		pr := math.Pow(root, 4)
		want := uprightShape(pr)
		if got := uprightShapes.at(pr); math.Abs(got/want-1) > 1e-6 {
			t.Errorf("Prandtl %.4g: %.9g, must be %.9g", pr, got, want)
		}
	}
	for _, pr := range []float64{0.02, 0.3, 16, 17, 900} {
		if got, want := uprightShapes.at(pr), uprightShape(pr); math.Abs(got/want-1) > 1e-6 {
			t.Errorf("Prandtl %.4g, outside the table: %.9g, must be %.9g", pr, got, want)
		}
	}
}
