package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// box is an empty room w wide, h high, l long: floor 0, back 1, ceiling 2, front 3, left end 4, right end 5.
func box(w, h, l float64) *Enclosure {
	c := []Point{{0, 0}, {w, 0}, {w, h}, {0, h}}
	e := &Enclosure{Length: l, Pieces: 6, Ends: [2][][]Part{{Whole(4)}, {Whole(5)}}}
	for i := range c {
		e.Edges = append(e.Edges, Edge{c[i], c[(i+1)%4], Whole(i)})
	}
	return e
}

// rect is an obstacle all of whose sides are one piece.
func rect(x0, x1, z0, z1, fill float64, piece int) Obstacle {
	o := Obstacle{Corners: []Point{{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}}, Fill: fill, BeamFill: fill}
	for range o.Corners {
		o.Sides = append(o.Sides, Whole(piece))
	}
	return o
}

// pit is a room like those that are lived in by plants: a sunken floor with a bed and a trench, glazing on a slope, an opaque back roof, a row of drums.
// Pieces: 0 bed top, 1 bed side, 2 floor, 3 trench, 4 back wall, 5 back roof, 6 glazing, 7 front wall, 8 window in the back wall, 9 drums,
// 10/11 left end low/high, 12/13 right end low/high.
func pit(length, fill float64) *Enclosure {
	e := &Enclosure{Length: length, Pieces: 14, Levels: []float64{0}}
	at := Point{0, -0.7}
	to := func(x, z float64, parts []Part) {
		e.Edges = append(e.Edges, Edge{at, Point{x, z}, parts})
		at = Point{x, z}
	}
	to(1.3, -0.7, Whole(0))
	to(1.3, -1.1, Whole(1))
	to(1.5, -1.1, Whole(2))
	to(1.5, -1.4, Whole(3))
	to(2, -1.4, Whole(3))
	to(2, -1.1, Whole(3))
	to(4.6, -1.1, Whole(2))
	to(4.6, 1.3, []Part{{4, 0.8}, {8, 0.2}})
	to(2.7, 2.4, Whole(5))
	to(0, 0.3, Whole(6))
	to(0, -0.7, Whole(7))
	e.Obstacles = []Obstacle{rect(3.9, 4.5, -1.1, 0.7, fill, 9)}
	e.Ends = [2][][]Part{{Whole(10), Whole(11)}, {Whole(12), Whole(13)}}
	return e
}

// anyRoom draws a room of the kind of pit.
func anyRoom(t *rapid.T) *Enclosure {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	e := pit(f("length", 1, 30), rapid.SampledFrom([]float64{0, 0.4, 0.9, 1}).Draw(t, "fill"))
	// the bed's height, the ridge, the eaves
	rise := f("bed", -0.9, -0.2)
	e.Edges[0].A.Z, e.Edges[0].B.Z, e.Edges[1].A.Z, e.Edges[10].B.Z = rise, rise, rise, rise
	ridge := Point{f("ridge x", 1.5, 4), f("ridge z", 1.5, 3)}
	e.Edges[8].B, e.Edges[9].A = ridge, ridge
	x0 := f("drums", 2.3, 3.2)
	e.Obstacles = append(e.Obstacles, rect(x0, x0+f("wide", 0.2, 0.6), -1.1, f("high", -0.9, 0.3), f("second fill", 0, 1), 9))
	return e
}

func mustFactors(t testing.TB, e *Enclosure, strips int) *Factors {
	t.Helper()
	f, err := e.Factors(Options{Strips: strips})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// fatal is what testing and rapid have in common.
type fatal interface {
	Helper()
	Fatalf(format string, args ...any)
}

// whole holds the two laws of view factors.
func whole(t fatal, f *Factors) {
	t.Helper()
	for i := range f.Area {
		sum := 0.0
		for j := range f.Area {
			if f.View[i][j] < 0 || math.Abs(f.View[i][j]-f.View[j][i]) > 1e-12*(1+f.Area[i]) {
				t.Fatalf("pieces %d and %d: %g and %g m²", i, j, f.View[i][j], f.View[j][i])
			}
			sum += f.F(i, j)
		}
		if f.Area[i] > 0 && math.Abs(sum-1) > 1e-12 {
			t.Fatalf("piece %d sees %.15f of what is round it", i, sum)
		}
	}
}
