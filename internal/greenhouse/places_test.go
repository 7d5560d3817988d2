package greenhouse

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/house"
)

// summed is the view factor of a small level face to a line, by summing cos over the angles from straight up that it covers: df = cos(a) da/2.
func summed(p, a, b house.Point) float64 {
	const n = 20000
	sum := 0.0
	for i := range n {
		angle := -math.Pi/2 + math.Pi*(float64(i)+0.5)/n
		dx, dz := math.Sin(angle), math.Cos(angle)
		// the ray p + s d meets a + u (b - a)
		ex, ez := b.X-a.X, b.Z-a.Z
		det := dx*-ez + dz*ex
		if math.Abs(det) < 1e-15 {
			continue
		}
		s := ((a.X-p.X)*-ez + (a.Z-p.Z)*ex) / det
		u := (dx*(a.Z-p.Z) - dz*(a.X-p.X)) / det
		if s > 0 && u >= 0 && u <= 1 {
			sum += math.Cos(angle) * math.Pi / n / 2
		}
	}
	return sum
}

func TestUpViewIsTheIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		p := house.Point{X: f("x", -2, 2), Z: f("z", -1, 1)}
		a := house.Point{X: f("ax", -3, 3), Z: f("az", -2, 3)}
		b := house.Point{X: f("bx", -3, 3), Z: f("bz", -2, 3)}
		if math.Hypot(a.X-b.X, a.Z-b.Z) < 0.05 || math.Hypot(a.X-p.X, a.Z-p.Z) < 0.05 || math.Hypot(b.X-p.X, b.Z-p.Z) < 0.05 || through(p, a, b) {
			t.Skip("a line through the point has no view of it")
		}
		const rounding = 3e-4 // of 20000 angles at the two ends
		if got, want := upView(p, a, b), summed(p, a, b); math.Abs(got-want) > rounding {
			t.Errorf("%.5f, integral %.5f", got, want)
		}
	})
}

// through tells whether a line passes within 2 cm of a point's level beside it, where the integral has no value to compare.
func through(p, a, b house.Point) bool {
	l := math.Hypot(b.X-a.X, b.Z-a.Z)
	u := math.Max(0, math.Min(1, ((p.X-a.X)*(b.X-a.X)+(p.Z-a.Z)*(b.Z-a.Z))/l/l))
	return math.Hypot(a.X+u*(b.X-a.X)-p.X, a.Z+u*(b.Z-a.Z)-p.Z) < 0.02
}

func TestUpViewOfKnownLines(t *testing.T) {
	at := house.Point{}
	for _, c := range []struct {
		name string
		a, b house.Point
		want float64
	}{
		{"a ceiling without end", house.Point{X: -1e6, Z: 1}, house.Point{X: 1e6, Z: 1}, 1},
		{"its half", house.Point{X: 0, Z: 1}, house.Point{X: 1e6, Z: 1}, 0.5},
		{"45° to either side", house.Point{X: -1, Z: 1}, house.Point{X: 1, Z: 1}, math.Sqrt2 / 2},
		{"a wall from the level up to 45°", house.Point{X: 1, Z: 0}, house.Point{X: 1, Z: 1}, (1 - math.Sqrt2/2) / 2},
		{"the same wall begun below", house.Point{X: 1, Z: -2}, house.Point{X: 1, Z: 1}, (1 - math.Sqrt2/2) / 2},
		{"below the level", house.Point{X: 1, Z: -2}, house.Point{X: 2, Z: 0}, 0},
	} {
		if got := upView(at, c.a, c.b); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: %.6f, want %.6f", c.name, got, c.want)
		}
	}
}

// What a leaf sees above it adds up to the whole half space, whatever is below its level or belongs to the ends.
func TestLeafSeesOne(t *testing.T) {
	h := mustHouse(t, smallPit, sinkAndCover...)
	g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, s := range g.leafAt(0).sees {
		sum += s.f
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("%.6f", sum)
	}
	// before it is brought to one, the section alone must give it: the room is closed above the leaf
	raw := 0.0
	b := &h.Beds[0]
	for i := range h.Faces {
		if f := &h.Faces[i]; f.End == 0 && !f.Door {
			raw += upView(house.Point{X: (b.X0 + b.X1) / 2, Z: b.LeafZ}, f.A, f.B)
		}
	}
	if math.Abs(raw-1) > 1e-9 {
		t.Errorf("faces of the section above the leaf add up to %.6f", raw)
	}
}

// A leaf among faces and air of one temperature has it too, and under a colder glazing alone it is between the two.
func TestLeafTemperature(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, err := New(h, Setup{StartC: 4, Ground: flat(4)})
	if err != nil {
		t.Fatal(err)
	}
	l := g.leafAt(0)
	if c := l.temperature(); math.Abs(c-4) > 1e-4 {
		t.Errorf("%.5f °C among faces at 4 °C", c)
	}
	g.Net.SetTemperature(g.panes[0].room, -6)
	if c := l.temperature(); !(c < 3.5 && c > 0) {
		t.Errorf("%.2f °C in air of 4 °C under glazing at -6 °C", c)
	}
}

// The exchange factors of the room's longwave solve their own equations, and the flows to all faces add up to nothing.
func TestLongwaveClosesAndIsReciprocal(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, err := New(h, Setup{StartC: 4, Ground: flat(4)})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	f := make([]float64, len(g.inside))
	for i, s := range g.inside {
		f[i] = 1 / (s.seen/s.factor - (1-s.emittance)/s.emittance)
		sum += s.seen * f[i]
	}
	for i, s := range g.inside {
		if want := 1 / (1 - s.seen*f[i]/sum); math.Abs(f[i]-want) > 1e-9 {
			t.Errorf("%s: F = %.6f, want %.6f (Carroll 1980)", s.name, f[i], want)
		}
	}
	_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6)}, spellAt(t, h, cold(1, -10), 1, 10))
	for hour := range r.Hours() {
		net, gross := 0.0, 0.0
		for _, fl := range r.Flows {
			if len(fl.Name) > 9 && fl.Name[:9] == "longwave " {
				net += fl.J[hour]
				gross += math.Abs(fl.J[hour])
			}
		}
		if gross == 0 || math.Abs(net) > 1e-9*gross {
			t.Fatalf("hour %d: %.3g J of %.3g J exchanged are left over", hour, net, gross)
		}
	}
}

// Two faces that see only each other exchange what the textbook says: A sigma (T1^4 - T2^4)/(1/e1 + 1/e2 - 1).
func TestLongwaveOfTwoPlates(t *testing.T) {
	factor := func(e float64) float64 { return 1 / ((1-e)/e + 0.5) } // F = 2 for each of two equal faces
	for _, e := range [][2]float64{{0.9, 0.9}, {0.9, 0.3}, {0.1, 0.8}} {
		series := 1 / (1/factor(e[0]) + 1/factor(e[1]))
		if want := 1 / (1/e[0] + 1/e[1] - 1); math.Abs(series-want) > 1e-12 {
			t.Errorf("emittances %v: %.6f, want %.6f", e, series, want)
		}
	}
}
