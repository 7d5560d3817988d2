package winter

import (
	"context"
	"runtime"
	"sync"
)

// AtOnce does do(0) to do(n-1), begun in that order, so many at once; 0 is as many as there are cores. When ctx ends no more are begun, and its error comes back once
// those under way are done.
func AtOnce(ctx context.Context, n, seats int, do func(i int)) error {
	if seats <= 0 {
		seats = runtime.GOMAXPROCS(0)
	}
	next := make(chan int)
	var all sync.WaitGroup
	for range min(seats, n) {
		all.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := 0; i < n && ctx.Err() == nil; i++ {
		next <- i
	}
	close(next)
	all.Wait()
	return ctx.Err()
}
