package enclosure

import "fmt"

// Light is what becomes of light that has fallen on the pieces: part is taken up, the rest thrown back evenly to all sides, again and again.
type Light struct {
	arrives [][]float64 // light that arrives at i in all for what falls first on j [W/W]
	takes   []float64   // share that each takes up
}

// Light prepares the sums of all reflections:
//
//	E = first + F^T R E,   taken up = (1 - R) E
//
// with E what arrives at each piece [W] and R the diffuse reflectance of each, 0 to 1: 1 less what it takes up and lets out. All that falls first
// is taken up by some piece. The light on each piece is taken as even: pieces are best no longer than a quarter of the room's width.
//
// Source: radiosity of diffuse surfaces, as in Hottel and Sarofim, Radiative Transfer, 1967, chapter 3.
func (f *Factors) Light(reflectance []float64) (*Light, error) {
	n := len(f.Area)
	if len(reflectance) != n {
		return nil, fmt.Errorf("%d reflectances for %d pieces, must be as many", len(reflectance), n)
	}
	a := square(n)
	l := &Light{}
	for i := range n {
		if !(reflectance[i] >= 0 && reflectance[i] <= 1) {
			return nil, fmt.Errorf("piece %d throws back %g of light, must be 0 to 1", i, reflectance[i])
		}
		for j := range n {
			a[i][j] = -f.F(j, i) * reflectance[j]
		}
		a[i][i]++
		l.takes = append(l.takes, 1-reflectance[i])
	}
	if err := f.endless(reflectance); err != nil {
		return nil, err
	}
	var ok bool
	if l.arrives, ok = inverse(a); !ok {
		return nil, errEndless
	}
	return l, nil
}

// Sums is figures that go with what falls first on the pieces, made beforehand: each costs one row of products.
type Sums struct {
	rows   [][]float64
	pieces int
}

// Taken is what groups of pieces take up [W]: of tells the group of each piece, 0..groups-1.
func (l *Light) Taken(of []int, groups int) *Sums {
	s := &Sums{rows: make([][]float64, groups), pieces: len(l.takes)}
	for g := range s.rows {
		s.rows[g] = make([]float64, s.pieces)
	}
	for i, g := range of {
		axpy(s.rows[g], l.takes[i], l.arrives[i])
	}
	return s
}

// Arriving is what arrives at some pieces [W].
func (l *Light) Arriving(at []int) *Sums {
	s := &Sums{pieces: len(l.takes)}
	for _, i := range at {
		s.rows = append(s.rows, l.arrives[i])
	}
	return s
}

// Of puts into out the figures of light that falls first on the pieces [W]. It allocates nothing.
func (s *Sums) Of(first, out []float64) {
	for g, row := range s.rows {
		sum := 0.0
		for j, x := range row {
			sum += x * first[j]
		}
		out[g] = sum
	}
}
