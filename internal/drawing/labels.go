package drawing

import (
	"math"
	"sort"
	"strings"

	"suncellar/internal/draw"
)

// wrap breaks a text at spaces so that no line is wider than width; a single
// word that is wider stands alone.
func wrap(text string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if line != "" && draw.TextWidth(try, size, bold) > width {
			lines = append(lines, line)
			try = word
		}
		line = try
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// widest returns the width of the widest of some texts.
func widest(texts []string, size float64) float64 {
	w := 0.0
	for _, t := range texts {
		w = max(w, draw.TextWidth(t, size, false))
	}
	return w
}

// spread moves centres as little as it can (in the sense of least squares
// within each heap) so that bars of the given heights do not overlap and stay
// within lo..hi. The order by wanted position is kept. Where they cannot all
// fit, they are stacked from lo and run beyond hi.
func spread(want, height []float64, lo, hi float64) []float64 {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return want[order[a]] < want[order[b]] })
	var heaps []heap
	for _, i := range order {
		h := heap{members: []int{i}, height: height[i], sum: want[i] - height[i]/2, lo: lo, hi: hi}
		for len(heaps) > 0 && heaps[len(heaps)-1].top()+heaps[len(heaps)-1].height > h.top() {
			h = heaps[len(heaps)-1].join(h)
			heaps = heaps[:len(heaps)-1]
		}
		heaps = append(heaps, h)
	}
	got := make([]float64, len(want))
	for _, h := range heaps {
		y := h.top()
		for _, i := range h.members {
			got[i] = y + height[i]/2
			y += height[i]
		}
	}
	return got
}

// heap is a run of bars that touch; sum adds up, over its members, the top
// the heap would have if that member stood where it wants.
type heap struct {
	members     []int
	height, sum float64
	lo, hi      float64
}

func (h heap) top() float64 {
	return max(h.lo, min(h.sum/float64(len(h.members)), h.hi-h.height))
}

func (h heap) join(below heap) heap {
	return heap{
		members: append(append([]int{}, h.members...), below.members...),
		height:  h.height + below.height,
		sum:     h.sum + below.sum - h.height*float64(len(below.members)),
		lo:      h.lo, hi: h.hi,
	}
}

// placer finds room for labels on a sheet where some is taken.
type placer struct {
	room  draw.Rect // labels stay inside [px]
	taken []draw.Rect
}

func (p *placer) take(r draw.Rect) { p.taken = append(p.taken, r) }

// free tells whether a rectangle is inside the room and clear of what is taken.
func (p *placer) free(r draw.Rect) bool {
	if !p.room.Holds(r) {
		return false
	}
	for _, t := range p.taken {
		if t.Overlaps(r) {
			return false
		}
	}
	return true
}

// find returns where a label of w by h may stand near a mark of radius r at
// (x, y): right, left, above, below, then further out in sixteen directions.
// It takes the room it returns. False: there is none within reach.
func (p *placer) find(x, y, r, w, h, reach float64) (draw.Rect, bool) {
	for d := r + 4; d <= reach; d += 6 {
		for _, turn := range []int{0, 8, 14, 2, 10, 6, 12, 4, 15, 1, 9, 7, 13, 3, 11, 5} {
			sin, cos := math.Sincos(float64(turn) * math.Pi / 8)
			cx, cy := x+cos*(d+w/2), y+sin*(d+h/2)
			box := draw.Rect{Min: draw.Point{X: cx - w/2, Y: cy - h/2}, Max: draw.Point{X: cx + w/2, Y: cy + h/2}}
			if p.free(box) {
				p.take(box)
				return box, true
			}
		}
	}
	return draw.Rect{}, false
}
