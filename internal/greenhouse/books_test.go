package greenhouse

import (
	"math"
	"strings"
	"testing"
)

// A ledger that does not close, or of which that cannot be told, keeps an answer from being given, and says on which part it is.
func TestBooksHaveToClose(t *testing.T) {
	t.Parallel()
	for open, good := range map[float64]bool{0: true, 1e-12: true, 2e-6: false, math.NaN(): false, math.Inf(1): false} {
		r := &Result{}
		r.Heat.ImbalanceRel, r.Heat.WorstPart, r.Heat.WorstJ = open, "drums", 3
		err := r.CheckBooks()
		if (err == nil) != good || err != nil && !strings.Contains(err.Error(), "drums") {
			t.Errorf("open by %g: %v", open, err)
		}
	}
}
