package validation

import (
	"math"
	"testing"

	"suncellar/internal/enclosure"
)

// hollow is an empty room w wide, h high and l long: floor 0, back 1, ceiling 2, front 3, ends 4 and 5; things in it are 6 and 7.
func hollow(w, h, l float64) *enclosure.Enclosure {
	c := []enclosure.Point{{X: 0, Z: 0}, {X: w, Z: 0}, {X: w, Z: h}, {X: 0, Z: h}}
	e := &enclosure.Enclosure{Length: l, Pieces: 8, Ends: [2][][]enclosure.Part{{enclosure.Whole(4)}, {enclosure.Whole(5)}}}
	for i := range c {
		e.Edges = append(e.Edges, enclosure.Edge{A: c[i], B: c[(i+1)%4], Parts: enclosure.Whole(i)})
	}
	return e
}

// tube is a cylinder along the room, as a polygon whose outline is as long as the circle's.
func tube(x, z, radius float64, sides, piece int) enclosure.Obstacle {
	o := enclosure.Obstacle{Fill: 1, BeamFill: 1}
	r := radius * math.Pi / float64(sides) / math.Sin(math.Pi/float64(sides))
	for i := range sides {
		a := 2 * math.Pi * float64(i) / float64(sides)
		o.Corners = append(o.Corners, enclosure.Point{X: x + r*math.Cos(a), Z: z + r*math.Sin(a)})
		o.Sides = append(o.Sides, enclosure.Whole(piece))
	}
	return o
}

func seen3(t *testing.T, e *enclosure.Enclosure, i, j int) float64 {
	t.Helper()
	f, err := e.Factors(enclosure.Options{Strips: 40})
	if err != nil {
		t.Fatal(err)
	}
	return f.F(i, j)
}

const endless = 1e7

func TestViewFactors(t *testing.T) {
	const howell = "J. R. Howell, A Catalog of Radiation Configuration Factors"
	s := begin(t, "View factors", howell+"; H. C. Hottel, A. F. Sarofim, Radiative Transfer, 1967",
		"A long room with ends, section swept corner by corner from 40 strips to the longest line, factors reconciled. Formulas of the catalogue from memory, figures recomputed from them.")
	for _, c := range []struct {
		name    string
		w, h, l float64
		i, j    int
		want    float64
		source  string
	}{
		{"cube, face to face", 1, 1, 1, 0, 2, 0.19982, "C-11"},
		{"cube, round a corner", 1, 1, 1, 0, 1, 0.20004, "C-14"},
		{"cube, end to end", 1, 1, 1, 4, 5, 0.19982, "C-11"},
		{"squares 2 by 2 at distance 1", 2, 1, 2, 0, 2, 0.41525, "C-11"},
		{"squares 4 by 4 at distance 1", 4, 1, 4, 0, 2, 0.63204, "C-11"},
		{"4 by 9 at distance 2.5", 4, 2.5, 9, 0, 2, 0.44884, "C-11"},
		{"floor 4 wide to a wall 2.5 high, 9 long", 4, 2.5, 9, 0, 1, 0.19451, "C-14"},
		{"floor 1 wide to a wall 3 high, 2 long", 1, 3, 2, 0, 1, 0.30814, "C-14"},
		{"plates without end, as far apart as wide", 1, 1, endless, 0, 2, 0.41421, "C-1"},
		{"plates without end, twice as far apart", 1, 2, endless, 0, 2, 0.23607, "C-1"},
		{"corner without end, equal sides", 1, 1, endless, 0, 1, 0.29289, "C-3"},
		{"corner without end, wall twice the floor", 1, 2, endless, 0, 1, 0.38197, "C-3"},
	} {
		s.near(recomputed, c.name, seen3(t, hollow(c.w, c.h, c.l), c.i, c.j), c.want, 0.0001, "").source = "Howell, " + c.source
	}
	for _, c := range []struct{ x, want float64 }{{1.5, 0.11070}, {2, 0.08138}} {
		e := hollow(40, 40, endless)
		gap := 2 * (c.x - 1) * 0.5
		e.Obstacles = []enclosure.Obstacle{tube(20-0.5-gap/2, 20, 0.5, 60, 6), tube(20+0.5+gap/2, 20, 0.5, 60, 7)}
		s.near(recomputed, "two cylinders, 1 + gap/diameter = "+short(c.x), seen3(t, e, 6, 7), c.want, 0.001, "").source = "Hottel's crossed strings; Howell, C-63"
	}
	for _, c := range []struct{ share, want float64 }{{0.25, 0.36128}, {0.5, 0.65757}, {0.8, 0.91480}} {
		s.near(recomputed, "plane to a row of cylinders, diameter over spacing "+short(c.share), plainToRow(c.share), c.want, 0.002, "").source = "Hottel 1931; Hottel and Sarofim 1967"
	}
	s.done(t)
}

// plainToRow is what a plane sees of a long row of cylinders one apart, from many points along one spacing in its middle.
func plainToRow(diameter float64) float64 {
	const n = 61
	e := hollow(n, 3, endless)
	for k := range n {
		e.Obstacles = append(e.Obstacles, tube(float64(k)+0.5, 1.5, diameter/2, 24, 6))
	}
	sum := 0.0
	const points = 16
	for k := range points {
		sum += e.Spot(enclosure.Point{X: n/2 + (float64(k)+0.5)/points, Z: 1e-6})[6]
	}
	return sum / points
}
