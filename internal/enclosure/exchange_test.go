package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Two plates face to face, so near that they see nothing else: A/(1/e1 + 1/e2 - 1).
func TestTwoGreyPlates(t *testing.T) {
	f := mustFactors(t, box(100, 0.001, 100), 40)
	for _, c := range [][2]float64{{0.9, 0.9}, {0.9, 0.3}, {0.1, 0.8}} {
		x, err := f.Exchange([]Grey{{c[0], 0}, {1, 0}, {c[1], 0}, {1, 0}, {1, 0}, {1, 0}})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := x.Between[0][2]/f.Area[0], 1/(1/c[0]+1/c[1]-1); math.Abs(got-want) > 1e-4 {
			t.Errorf("emittances %v: %.6f, want %.6f", c, got, want)
		}
	}
}

// A small grey body in a large room: A e, whatever the room's emittance.
func TestSmallBodyInALargeRoom(t *testing.T) {
	e := box(100, 100, 1e6)
	e.Pieces = 7
	e.Obstacles = []Obstacle{rect(49.95, 50.05, 49.95, 50.05, 1, 6)}
	f := mustFactors(t, e, 24)
	grey := []Grey{{0.3, 0}, {0.3, 0}, {0.3, 0}, {0.3, 0}, {0.3, 0}, {0.3, 0}, {0.6, 0}}
	x, err := f.Exchange(grey)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for j := range 6 {
		sum += x.Between[6][j]
	}
	if got := sum / f.Area[6]; math.Abs(got-0.6) > 2e-3 { // 1/(1/0.6 + A/A' (1/0.3 - 1)), A/A' = 0.001
		t.Errorf("%.5f of its area, want 0.6", got)
	}
}

// A room of clear walls, all as thick as each other: what the only grey piece gives off ends outside or comes back; by hand for two plates, one of them a film
// of e 0.2, t 0.7, r 0.1 over a plate of e 0.9: through the film goes 0.9 0.7/(1 - 0.1 0.1).
func TestFilmOverAPlate(t *testing.T) {
	f := mustFactors(t, box(100, 0.001, 100), 40)
	x, err := f.Exchange([]Grey{{0.9, 0}, {1, 0}, {0.2, 0.7}, {1, 0}, {1, 0}, {1, 0}})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := x.Out[0][2]/f.Area[0], 0.9*0.7/(1-0.1*0.1); math.Abs(got-want) > 1e-4 {
		t.Errorf("through the film %.6f, want %.6f", got, want)
	}
	if got, want := x.Between[0][2]/f.Area[0], 0.9*0.2/(1-0.1*0.1); math.Abs(got-want) > 1e-4 {
		t.Errorf("to the film %.6f, want %.6f", got, want)
	}
}

// In any room: exchange is the same both ways and each piece gives off all that it can, to others, itself and the outside; folding
// the small couplings away keeps that.
func TestExchangeOfAnyRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyRoom(t)
		f, err := e.Factors(Options{Strips: 8})
		if err != nil {
			t.Fatal(err)
		}
		grey := make([]Grey, e.Pieces)
		for i := range grey {
			grey[i].Emittance = rapid.Float64Range(0.05, 1).Draw(t, "emittance")
		}
		grey[6] = Grey{0.2, rapid.Float64Range(0, 0.8).Draw(t, "clear")}
		x, err := f.Exchange(grey)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range [][][]float64{x.Between, Fold(x.Between, 0.002)} {
			for i := range g {
				sum, want := 0.0, f.Area[i]*grey[i].Emittance
				for j := range g {
					if g[i][j] != g[j][i] {
						t.Fatalf("%d to %d: %g and %g", i, j, g[i][j], g[j][i])
					}
					sum += g[i][j] + x.Out[i][j]
				}
				if math.Abs(sum-want) > 1e-10*(1+want) {
					t.Fatalf("piece %d gives off %.12f of %.12f m²", i, sum, want)
				}
			}
		}
	})
}

func TestExchangeRefuses(t *testing.T) {
	f := mustFactors(t, box(2, 2, 2), 8)
	grey := make([]Grey, 6)
	for _, g := range []Grey{{-0.1, 0}, {0.5, 0.6}, {math.NaN(), 0}, {0.5, -1}} {
		grey[3] = g
		if _, err := f.Exchange(grey); err == nil {
			t.Errorf("%v is taken", g)
		}
	}
	if _, err := f.Exchange(grey[:2]); err == nil {
		t.Error("two emittances for six pieces are taken")
	}
	if _, err := f.Exchange(make([]Grey, 6)); err == nil { // nothing takes anything up: no end to it
		t.Error("a room of mirrors is taken")
	}
}
