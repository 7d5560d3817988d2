package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// aligned is the factor between two equal rectangles a by b at distance c, face to face.
//
// Source: J. R. Howell, A Catalog of Radiation Configuration Factors, C-11.
func aligned(a, b, c float64) float64 {
	x, y := a/c, b/c
	u, v := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return 2 / (math.Pi * x * y) * (math.Log(u*v/math.Sqrt(1+x*x+y*y)) + x*v*math.Atan(x/v) + y*u*math.Atan(y/u) - x*math.Atan(x) - y*math.Atan(y))
}

// corner is the factor from a rectangle w by l to one h by l that stands upright on its edge l.
//
// Source: J. R. Howell, A Catalog of Radiation Configuration Factors, C-14.
func corner(w, h, l float64) float64 {
	w, h = w/l, h/l
	p, q, s := w*w, h*h, w*w+h*h
	logs := math.Log((1+p)*(1+q)/(1+s)) + p*math.Log(p*(1+s)/((1+p)*s)) + q*math.Log(q*(1+s)/((1+q)*s))
	return (w*math.Atan(1/w) + h*math.Atan(1/h) - math.Sqrt(s)*math.Atan(1/math.Sqrt(s)) + logs/4) / (math.Pi * w)
}

// A box of any shape has the factors of the catalogue between all six of its faces.
func TestBoxIsThatOfTheCatalogue(t *testing.T) {
	for _, c := range []struct{ w, h, l float64 }{{1, 1, 1}, {4, 2.5, 9}, {3, 0.4, 6}, {1, 5, 0.8}, {2, 2, 40}} {
		f := mustFactors(t, box(c.w, c.h, c.l), 24)
		whole(t, f)
		for _, p := range []struct {
			name string
			i, j int
			want float64
		}{
			{"floor to ceiling", 0, 2, aligned(c.w, c.l, c.h)},
			{"front to back", 3, 1, aligned(c.h, c.l, c.w)},
			{"end to end", 4, 5, aligned(c.w, c.h, c.l)},
			{"floor to back", 0, 1, corner(c.w, c.h, c.l)},
			{"front to ceiling", 3, 2, corner(c.h, c.w, c.l)},
			{"floor to end", 0, 4, corner(c.l, c.h, c.w)},
			{"back to end", 1, 5, corner(c.l, c.w, c.h)},
		} {
			if got := f.F(p.i, p.j); math.Abs(got-p.want) > 2e-5 { // strips
				t.Errorf("%g by %g by %g, %s: %.6f, catalogue %.6f", c.w, c.h, c.l, p.name, got, p.want)
			}
		}
		if f.Adjusted > 2e-4 {
			t.Errorf("%g by %g by %g: adjusted by %g", c.w, c.h, c.l, f.Adjusted)
		}
	}
}

// The catalogue's cube: 0.19982 straight across and 0.20004 round a corner, five digits as printed in many books.
func TestCube(t *testing.T) {
	f := mustFactors(t, box(1, 1, 1), 40)
	if a, b := f.F(0, 2), f.F(0, 1); math.Abs(a-0.19982) > 1e-5 || math.Abs(b-0.20004) > 1e-5 {
		t.Errorf("%.6f across, %.6f round a corner", a, b)
	}
}

// Without ends the factors of three lines are Hottel's: (L1 + L2 - L3)/(2 L1).
func TestThreeLinesWithoutEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		p := []Point{{0, 0}, {f("x1", 1, 3), f("z1", -0.5, 0.5)}, {f("x2", -1, 3), f("z2", 1, 3)}}
		e := &Enclosure{Length: 1e7, Pieces: 5, Ends: [2][][]Part{{Whole(3)}, {Whole(4)}}}
		for i := range p {
			e.Edges = append(e.Edges, Edge{p[i], p[(i+1)%3], Whole(i)})
		}
		got, err := e.Factors(Options{Strips: 40})
		if err != nil {
			t.Fatal(err)
		}
		l := [3]float64{e.Edges[0].length(), e.Edges[1].length(), e.Edges[2].length()}
		for i := range 3 {
			j, k := (i+1)%3, (i+2)%3
			if want := (l[i] + l[j] - l[k]) / (2 * l[i]); math.Abs(got.F(i, j)-want) > 1e-5 {
				t.Errorf("%d to %d: %.6f, strings %.6f", i, j, got.F(i, j), want)
			}
		}
	})
}

// Strings drawn round an obstacle: two plates 2 wide, 2 apart, with a plate 1 wide (0.02 thick) half way between. Straight strings that the plate cuts
// go round it: A F = (crossed - uncrossed)/2 for each side on which they pass.
func TestStringsRoundAnObstacle(t *testing.T) {
	e := box(2, 2, 1e7)
	e.Pieces = 7
	const half = 0.5
	e.Obstacles = []Obstacle{rect(1-half, 1+half, 0.99, 1.01, 1, 6)}
	f := mustFactors(t, e, 80)
	// through the gap on the left, from floor to ceiling: uncrossed strings are the wall (2) and the one round the obstacle's side, crossed ones run from
	// the near end of one plate past the farther corner of the obstacle's side to the far end of the other
	near, far := math.Hypot(half, 1.01), math.Hypot(1.5, 0.99)
	crossed, uncrossed := 2*(near+far), 2+2*far+0.02
	want := 2 * (crossed - uncrossed) / 2 / 2 // two gaps; the plate is 2 wide
	if got := f.F(0, 2); math.Abs(got-want) > 5e-4 {
		t.Errorf("floor to ceiling round the plate: %.5f, strings %.5f", got, want)
	}
	whole(t, f)
}

// Two cylinders: the catalogue's factor by strings, with polygons of 60 sides for circles.
func TestTwoCylinders(t *testing.T) {
	const r, gap = 0.5, 0.4
	e := box(30, 30, 1e7)
	e.Pieces = 8
	e.Obstacles = []Obstacle{cylinder(15-r-gap/2, 15, r, 60, 6), cylinder(15+r+gap/2, 15, r, 60, 7)}
	f := mustFactors(t, e, 40)
	x := 1 + gap/(2*r)
	want := (math.Sqrt(x*x-1) + math.Asin(1/x) - x) / math.Pi // Howell's catalogue, C-63
	if got := f.F(6, 7); math.Abs(got-want) > 1e-3 {
		t.Errorf("%.5f, catalogue %.5f", got, want)
	}
}

func cylinder(x, z, r float64, sides, piece int) Obstacle {
	o := Obstacle{Fill: 1, BeamFill: 1}
	for i := range sides {
		a := 2 * math.Pi * float64(i) / float64(sides)
		o.Corners = append(o.Corners, Point{x + r*math.Cos(a), z + r*math.Sin(a)})
		o.Sides = append(o.Sides, Whole(piece))
	}
	return o
}

// Reciprocity and closure hold for any room, and what the strips missed is small.
func TestFactorsOfAnyRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyRoom(t)
		f, err := e.Factors(Options{})
		if err != nil {
			t.Fatal(err)
		}
		whole(t, f)
		if f.Adjusted > 0.03 {
			t.Fatalf("adjusted by %g", f.Adjusted)
		}
	})
}

// The error told at Factors: 24 strips against 200.
func TestStripsConverge(t *testing.T) {
	for _, fill := range []float64{0, 0.65, 1} {
		e := pit(9, fill)
		coarse, fine := mustFactors(t, e, 0), mustFactors(t, e, 200)
		worst := 0.0
		for i := range fine.Area {
			for j := range fine.Area {
				worst = math.Max(worst, math.Abs(coarse.F(i, j)-fine.F(i, j)))
			}
		}
		t.Logf("fill %g: 24 strips are off by %.2g at most, adjusted by %.2g (200: %.2g)", fill, worst, coarse.Adjusted, fine.Adjusted)
		if worst > 2e-3 {
			t.Errorf("fill %g: a factor of 24 strips is off by %g", fill, worst)
		}
	}
}

// Half of a line split in two sees what the two halves see together.
func TestSplitLinesAddUp(t *testing.T) {
	e := pit(7, 0.5)
	one := mustFactors(t, e, 60)
	g := e.Edges[9]
	m := Point{(g.A.X + g.B.X) / 2, (g.A.Z + g.B.Z) / 2}
	e.Edges = append(append(append([]Edge{}, e.Edges[:9]...), Edge{g.A, m, Whole(6)}, Edge{m, g.B, Whole(6)}), e.Edges[10:]...)
	two := mustFactors(t, e, 60)
	for i := range one.Area {
		for j := range one.Area {
			if math.Abs(one.F(i, j)-two.F(i, j)) > 1e-3 {
				t.Errorf("%d to %d: %.5f whole, %.5f in two", i, j, one.F(i, j), two.F(i, j))
			}
		}
	}
}

// A longer house loses less to its ends; without obstacles nothing sees the drums.
func TestLawsOfLengthAndFill(t *testing.T) {
	before := 2.0
	for _, l := range []float64{2, 5, 10, 40} {
		f := mustFactors(t, pit(l, 1), 0)
		ends := 0.0
		for _, k := range []int{10, 11, 12, 13} {
			ends += f.F(0, k)
		}
		if ends >= before {
			t.Errorf("%g m long: the bed sees %g of ends, %g in a shorter house", l, ends, before)
		}
		before = ends
	}
	seen := -1.0
	for _, fill := range []float64{0, 0.3, 0.7, 1} {
		f := mustFactors(t, pit(6, fill), 0)
		if s := f.F(6, 9); s <= seen {
			t.Errorf("drums fill %g: glazing sees %g of them, no more than with fewer", fill, s)
		} else {
			seen = s
		}
	}
}

func TestCheckTellsWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		spoil func(e *Enclosure)
		want  string
	}{
		{func(e *Enclosure) { e.Length = 0 }, "enclosure is 0 m long, must be longer than 0 m"},
		{func(e *Enclosure) { e.Length = math.NaN() }, "enclosure is NaN m long, must be longer than 0 m"},
		{func(e *Enclosure) { e.Edges = e.Edges[:2] }, "enclosure has 2 edges, must have at least 3"},
		{func(e *Enclosure) { e.Edges[3].A.X += 0.5 }, "edge 3 begins 0.5 m from the end of the one before, must begin there"},
		{func(e *Enclosure) { e.Edges[2].Parts = []Part{{3, 0.5}} }, "edge 2: shares of its pieces add up to 0.5, must be 1"},
		{func(e *Enclosure) { e.Edges[2].Parts = Whole(14) }, "edge 2: piece is number 14, must be 0 to 13"},
		{func(e *Enclosure) { e.Obstacles[0].Fill = 1.5 }, "obstacle 0: it fills 1.5 of the length, and 1 for a beam, must be 0 to 1"},
		{func(e *Enclosure) {
			e.Obstacles[0].Corners[1], e.Obstacles[0].Corners[3] = e.Obstacles[0].Corners[3], e.Obstacles[0].Corners[1]
		},
			"obstacle 0: corner 1 turns the wrong way, corners must run anticlockwise round a convex shape"},
		{func(e *Enclosure) { e.Levels = []float64{0, 0} }, "level 1 is 0 m after 0 m, must rise"},
		{func(e *Enclosure) { e.Ends[1] = nil }, "end 1 has 0 cells, must have 2"},
	} {
		e := pit(6, 1)
		c.spoil(e)
		if err := e.Check(); err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
	if err := pit(6, 1).Check(); err != nil {
		t.Error(err)
	}
}

// A row of cylinders looked at along its length stops what a plane sees of it: here seen from above, in the section of the room.
func TestRowFill(t *testing.T) {
	e := box(41, 3, 1e7)
	e.Pieces = 7
	const diameter = 0.65
	for k := range 41 {
		e.Obstacles = append(e.Obstacles, cylinder(float64(k)+0.5, 1.5, diameter/2, 40, 6))
	}
	sum := 0.0
	for k := range 10 {
		sum += e.Spot(Point{20 + (float64(k)+0.5)/10, 1e-6})[6] / 10
	}
	if got := RowFill(diameter); math.Abs(got-sum) > 0.005 { // 40 sides, 41 cylinders, ten points
		t.Errorf("%.4f, seen %.4f", got, sum)
	}
	if RowFill(0) != 0 || RowFill(1) != 1 || RowFill(2) != 1 {
		t.Errorf("no cylinders stop %g, cylinders that touch %g", RowFill(0), RowFill(1))
	}
}
