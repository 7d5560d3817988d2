package worth

import (
	"sync"

	"suncellar/internal/winter"
)

// share is the parts that one winter's progress is told in.
const share = 1000

// counter adds the progress of winters that run side by side into one.
type counter struct {
	mu     sync.Mutex
	done   []int
	weight []int // of each winter, where they are of unlike length; nil: all alike
	tell   winter.Progress
}

func newCounter(winters int, tell winter.Progress) *counter {
	return &counter{done: make([]int, winters), tell: tell}
}

// of is the progress of winter i, nil where nobody listens.
func (c *counter) of(i int) winter.Progress {
	if c.tell == nil {
		return nil
	}
	return func(done, total int) {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.done[i] = done * share / max(1, total)
		sum, all := 0, 0
		for k, d := range c.done {
			w := 1
			if c.weight != nil {
				w = c.weight[k]
			}
			sum, all = sum+w*d, all+w*share
		}
		c.tell(sum, all)
	}
}
