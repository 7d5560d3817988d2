package winter

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

// Each is done once, never more at once than there are seats; after the end of ctx none is begun.
func TestAtOnce(t *testing.T) {
	for _, seats := range []int{0, 1, 3, 50} {
		var now, most atomic.Int32
		done := make([]int, 20)
		err := AtOnce(context.Background(), len(done), seats, func(i int) {
			if n := now.Add(1); n > most.Load() {
				most.Store(n)
			}
			done[i]++
			now.Add(-1)
		})
		if err != nil || seats > 0 && int(most.Load()) > seats {
			t.Errorf("%d seats: %v, %d at once", seats, err, most.Load())
		}
		for i, n := range done {
			if n != 1 {
				t.Errorf("%d seats: %d was done %d times", seats, i, n)
			}
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	begun := 0
	err := AtOnce(ctx, 20, 1, func(int) { begun++; cancel() })
	if !errors.Is(err, context.Canceled) || begun > 2 { // one may wait at the seat already
		t.Errorf("%v, %d were begun after the end", err, begun)
	}
}
