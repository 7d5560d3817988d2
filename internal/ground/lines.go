package ground

import (
	"math"
	"slices"
)

// near is how close two lines may be before they are one [m].
const near = 1e-9

// sizing is the wanted size of a cell by its place on one axis:
//
//	h(x) = min(coarsest, finest + growth d),  d the distance to the nearest fine line
type sizing struct {
	finest, growth, coarsest float64
	fine                     []float64 // sorted
	parts                    int
}

func (s *sizing) at(x float64) float64 {
	d := math.Inf(1)
	for _, f := range s.fine {
		d = min(d, math.Abs(x-f))
	}
	return min(s.coarsest, s.finest+s.growth*d)
}

// breaks are the places in x0..x1 between which h is linear.
func (s *sizing) breaks(x0, x1 float64) []float64 {
	reach := (s.coarsest - s.finest) / s.growth
	all := []float64{x0, x1}
	for i, f := range s.fine {
		all = append(all, f, f-reach, f+reach)
		if i > 0 {
			all = append(all, (f+s.fine[i-1])/2)
		}
	}
	return distinct(all, x0, x1)
}

// cells is the number of cells of size h(x) that x0..x1 would hold, the integral of dx/h over a stretch of linear h.
func cells(x0, x1, h0, h1 float64) float64 {
	if math.Abs(h1-h0) < 1e-9*h0 {
		return (x1 - x0) / h0
	}
	return (x1 - x0) / (h1 - h0) * math.Log(h1/h0)
}

// cut divides x0..x1 at equal steps of the integral of dx/h; it returns the lines after x0 up to and with x1.
func (s *sizing) cut(x0, x1 float64) []float64 {
	at := s.breaks(x0, x1)
	total := 0.0
	for i := 1; i < len(at); i++ {
		total += cells(at[i-1], at[i], s.at(at[i-1]), s.at(at[i]))
	}
	n := max(1, int(math.Ceil(total-1e-6))) * s.parts
	step := total / float64(n)
	lines := make([]float64, 0, n)
	before, i := 0.0, 1 // integral up to at[i-1]
	for k := 1; k < n; k++ {
		want := step * float64(k)
		h0, h1 := s.at(at[i-1]), s.at(at[i])
		piece := cells(at[i-1], at[i], h0, h1)
		for i < len(at)-1 && before+piece < want {
			before += piece
			i++
			h0, h1 = s.at(at[i-1]), s.at(at[i])
			piece = cells(at[i-1], at[i], h0, h1)
		}
		lines = append(lines, along(at[i-1], at[i], h0, h1, want-before))
	}
	return append(lines, x1)
}

// along is the place that n cells reach from x0 on, on a stretch of linear h.
func along(x0, x1, h0, h1, n float64) float64 {
	if math.Abs(h1-h0) < 1e-9*h0 {
		return x0 + n*h0
	}
	slope := (h1 - h0) / (x1 - x0)
	return x0 + h0/slope*math.Expm1(n*slope)
}

// lines are all mesh lines of one axis: the fixed ones and those that cut the stretches between them.
func (s *sizing) lines(fixed []float64) []float64 {
	out := []float64{fixed[0]}
	for i := 1; i < len(fixed); i++ {
		out = append(out, s.cut(fixed[i-1], fixed[i])...)
	}
	return out
}

// distinct sorts the places that lie in x0..x1 and drops those that are near the one before; x0 and x1 stay.
func distinct(all []float64, x0, x1 float64) []float64 {
	all = slices.Clone(all)
	slices.Sort(all)
	out := []float64{x0}
	for _, x := range all {
		if x > out[len(out)-1]+near && x < x1-near {
			out = append(out, x)
		}
	}
	return append(out, x1)
}
