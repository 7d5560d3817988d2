package enclosure

import "math"

// Spot gives the shares of what a small level face at p, in the middle of the house, sees when it looks up: by piece, adding up to one.
//
// Source: J. R. Howell, A Catalog of Radiation Configuration Factors, differential element to infinite strip: half the difference of the
// sines; the length by fromMiddle.
func (e *Enclosure) Spot(p Point) []float64 {
	r := newRoom(e, false)
	w := &sweep{r: r, reach: fromMiddle(e.Length), row: make([]float64, r.surfaces())}
	w.around(view{p, 0, 1, -1}, -1, 1, 1)
	return r.toPieces(w.row)
}

// Diffuse gives the shares in which diffuse light that comes in through an edge lands first, by piece: light of the sky, which falls, and light
// of the ground, which rises. Each adds up to one, or is all zero where there is none of it.
func (e *Enclosure) Diffuse(edge, strips int) (sky, ground []float64) {
	r := newRoom(e, false)
	l := &r.lines[edge]
	// the level directions part the two; as sines from the normal
	level := -1.0
	if l.nx > 0 {
		level = 1
	}
	flat := math.Max(-1, math.Min(1, level*l.nz)) // sine of that level direction, c = |nx| >= 0
	down, up := [2]float64{-1, 1}, [2]float64{-1, 1}
	switch {
	case l.nx > 0: // the room is to the right: turning right of the normal is down
		down[0], up[1] = flat, flat
	default:
		down[1], up[0] = flat, flat
	}
	pass := func(between [2]float64) []float64 {
		w := &sweep{r: r, reach: fromAnywhere(e.Length), row: make([]float64, r.surfaces())}
		if between[1]-between[0] > 1e-9 {
			r.overLine(edge, max(4, strips), func(p Point, open float64) {
				w.around(view{p, l.nx, l.nz, edge}, between[0], between[1], open)
			})
		}
		return normal(r.toPieces(w.row))
	}
	return pass(down), pass(up)
}

func (r *room) toPieces(row []float64) []float64 {
	out := make([]float64, r.e.Pieces)
	for i, x := range row {
		for _, p := range r.partsOf(i) {
			out[p.Piece] += p.Share * x
		}
	}
	return normal(out)
}

// normal brings shares to a sum of one: what slipped through corners is made good.
func normal(x []float64) []float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	if sum > 0 {
		for i := range x {
			x[i] /= sum
		}
	}
	return x
}
