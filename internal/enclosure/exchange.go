package enclosure

import (
	"errors"
	"fmt"
	"math"
)

// Exchange is what grey pieces exchange: piece i gives piece j
//
//	Between[i][j] sigma (T_i^4 - T_j^4)  [W]
//
// and what it gives to the outside through clear piece k is Out[i][k] sigma (T_i^4 - T_out^4), T_out what k sees outside. Both are areas [m²]; Between is
// symmetric, and Between and Out of a piece add up to its area times emittance, so that a room of one temperature exchanges nothing.
type Exchange struct {
	Between [][]float64
	Out     [][]float64
}

// Grey says how a piece answers longwave: what it takes up (and gives off), what it lets through to the outside; the rest it throws back
// evenly to all sides. Each is 0 to 1, together at most 1.
type Grey struct{ Emittance, Transmittance float64 }

// Exchange computes the exchange of grey pieces that throw back evenly:
//
//	P = (I - F R)^-1 F,   G_ij = A_i e_i P_ij e_j,   G_i,out(k) = A_i e_i P_ik t_k
//
// with F the view factors and R the diagonal of 1 - e - t: all reflections summed up.
//
// Source: B. Gebhart, Surface temperature calculations in radiant surroundings of arbitrary complexity, Int. J. Heat Mass Transfer 3:341, 1961; a
// clear piece is one whose t goes to a sink behind it.
func (f *Factors) Exchange(grey []Grey) (*Exchange, error) {
	n := len(f.Area)
	if len(grey) != n {
		return nil, fmt.Errorf("%d emittances for %d pieces, must be as many", len(grey), n)
	}
	reflectance := make([]float64, n)
	for i, g := range grey {
		if !(g.Emittance >= 0 && g.Transmittance >= 0 && g.Emittance+g.Transmittance <= 1+1e-12) {
			return nil, fmt.Errorf("piece %d takes up %g and passes %g of longwave, must be 0 to 1 and at most 1 together", i, g.Emittance, g.Transmittance)
		}
		reflectance[i] = math.Max(0, 1-g.Emittance-g.Transmittance)
	}
	p, err := f.reflected(reflectance)
	if err != nil {
		return nil, err
	}
	x := &Exchange{Between: square(n), Out: square(n)}
	for i := range n {
		for j := range n {
			x.Between[i][j] = grey[i].Emittance * grey[j].Emittance * (p[i][j] + p[j][i]) / 2
			x.Out[i][j] = grey[i].Emittance * grey[j].Transmittance * (p[i][j] + p[j][i]) / 2
		}
	}
	return x, nil
}

// reflected is area times share of what leaves a piece that arrives at another, straight or after any number of reflections [m²]; symmetric
// but for rounding.
func (f *Factors) reflected(reflectance []float64) ([][]float64, error) {
	n := len(f.Area)
	if err := f.endless(reflectance); err != nil {
		return nil, err
	}
	a := square(n)
	for i := range n {
		for j := range n {
			a[i][j] = -f.F(i, j) * reflectance[j]
		}
		a[i][i]++
	}
	inv, ok := inverse(a)
	if !ok {
		return nil, errEndless
	}
	p := square(n)
	for i := range n {
		for k := range n {
			if inv[i][k] == 0 {
				continue
			}
			for j := range n {
				p[i][j] += inv[i][k] * f.F(k, j)
			}
		}
		for j := range n {
			p[i][j] *= f.Area[i]
		}
	}
	return p, nil
}

var errEndless = errors.New("radiation is thrown to and fro without end: some piece must take up part of it")

// endless refuses a room in which no piece takes anything up.
func (f *Factors) endless(reflectance []float64) error {
	for i, r := range reflectance {
		if f.Area[i] > 0 && r < 1-1e-9 {
			return nil
		}
	}
	return errEndless
}

func square(n int) [][]float64 {
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
	}
	return a
}

// Fold takes out of a symmetric matrix of exchange areas all couplings between different rows that are below a share of the smaller row's sum, and
// gives what they carried to those that stay, so that every row adds up to what it did. A row of which nothing would be left keeps its
// largest.
func Fold(g [][]float64, share float64) [][]float64 {
	n := len(g)
	sum, kept, largest := make([]float64, n), square(n), make([]int, n)
	for i := range g {
		largest[i] = -1
		for j, x := range g[i] {
			sum[i] += x
			if j != i && (largest[i] < 0 || x > g[i][largest[i]]) {
				largest[i] = j
			}
		}
	}
	for i := range g {
		for j, x := range g[i] {
			if i == j || x >= share*math.Min(sum[i], sum[j]) || largest[i] == j || largest[j] == i {
				kept[i][j] = x
			}
		}
	}
	balance(kept, sum)
	return kept
}
