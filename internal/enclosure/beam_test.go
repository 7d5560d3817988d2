package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func mustBeams(t fatal, e *Enclosure, edges, windows, lit []int) *Beams {
	t.Helper()
	b, err := e.Beams(edges, windows, lit)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return b
}

// A box with a glazed front, the sun straight before it: by hand.
func TestBeamThroughAFront(t *testing.T) {
	const w, h, l = 4.0, 2.0, 10.0
	b := mustBeams(t, box(w, h, l), []int{3}, nil, []int{0})
	for _, degrees := range []float64{10, 26, 45, 70} {
		for _, along := range []float64{0, 0.5, -1.25} {
			first, patches := make([]float64, 6), make([]float64, Stretches)
			b.Add(3, Sun{Degrees(degrees), along}, 1000, first, patches)
			tan := math.Tan(degrees * math.Pi / 180)
			path := math.Hypot(1, tan)         // way in the section per metre across
			onFloor := math.Min(1, w*tan/h)    // of the front's height, from the foot up to where the beam meets the back wall
			meanFloor := onFloor * h / 2 / tan // how far across it goes, on the mean
			floor := onFloor * (1 - math.Abs(along)*meanFloor*path/l)
			back := (1 - onFloor) * (1 - math.Abs(along)*w*path/l)
			end := 1 - floor - back
			near, far := 0.0, end
			if along < 0 {
				near, far = end, 0
			}
			for i, want := range []float64{floor, back, 0, 0, near, far} {
				if math.Abs(first[i]-1000*want) > 1e-6*1000 {
					t.Errorf("sun %g° high, %g along: piece %d gets %.4f W, by hand %.4f W", degrees, along, i, first[i], 1000*want)
				}
			}
		}
	}
}

// The patch on the floor begins where the beam from the near end comes down.
func TestPatchAlongTheRoom(t *testing.T) {
	b := mustBeams(t, box(4, 2, 8), []int{3}, nil, []int{0})
	for _, along := range []float64{0, 1, -1} {
		first, patches := make([]float64, 6), make([]float64, Stretches)
		b.Add(3, Sun{Degrees(45), along}, 100, first, patches)
		way := math.Sqrt2 // mean way in the section of a beam that falls 2 m at 45°, the mean of 0..2 times sqrt 2
		want := [4]float64{25, 25, 25, 25}
		if along != 0 {
			lit := 8 - way
			on := 100 * lit / 8
			want = [4]float64{on * (2 - way) / lit, on * 2 / lit, on * 2 / lit, on * 2 / lit}
			if along < 0 {
				want[0], want[3] = want[3], want[0]
			}
		}
		for s := range want {
			if math.Abs(patches[s]-want[s]) > 1e-9*100 {
				t.Errorf("%g along, stretch %d: %.4f W, by hand %.4f W", along, s, patches[s], want[s])
			}
		}
	}
}

// Nothing is lost or made, and a room seen in a mirror catches the mirror's light.
func TestBeamOfAnyRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyRoom(t)
		b := mustBeams(t, e, []int{7, 9}, []int{1}, []int{0, 2})
		sun := Sun{Degrees(rapid.Float64Range(1, 179).Draw(t, "profile")), rapid.Float64Range(-20, 20).Draw(t, "along")}
		there := make([]float64, e.Pieces)
		back := make([]float64, e.Pieces)
		patches, mirrored := make([]float64, 2*Stretches), make([]float64, 2*Stretches)
		edge := 9
		if sun.Profile > Degrees(120) {
			edge = 7
		}
		b.Add(edge, sun, 500, there, patches)
		b.AddWindow(0, 1, sun, 300, there, patches)
		sun.Along = -sun.Along
		b.Add(edge, sun, 500, back, mirrored)
		b.AddWindow(1, 1, sun, 300, back, mirrored)
		sum := 0.0
		for i, q := range there {
			if q < 0 {
				t.Fatalf("piece %d catches %g W", i, q)
			}
			sum += q
			j := i
			switch i {
			case 10, 11:
				j = i + 2
			case 12, 13:
				j = i - 2
			}
			if math.Abs(q-back[j]) > 1e-9 {
				t.Fatalf("piece %d: %g W, in the mirror %g W", i, q, back[j])
			}
		}
		if math.Abs(sum-800) > 1e-9 {
			t.Fatalf("%.12f W of 800 W", sum)
		}
		for slot, piece := range []int{0, 2} {
			sum := 0.0
			for s := range Stretches {
				sum += patches[slot*Stretches+s]
				if d := patches[slot*Stretches+s] - mirrored[slot*Stretches+Stretches-1-s]; math.Abs(d) > 1e-9 {
					t.Fatalf("piece %d, stretch %d differs from its mirror by %g W", piece, s, d)
				}
			}
			if math.Abs(sum-there[piece]) > 1e-9 {
				t.Fatalf("piece %d: patches add up to %g W of %g W", piece, sum, there[piece])
			}
		}
	})
}

// The table against a fan of many rays, each followed by itself in three dimensions, at angles between its steps.
func TestBeamIsThatOfManyRays(t *testing.T) {
	for _, fill := range []float64{0, 0.6, 1} {
		e := pit(7, fill)
		b := mustBeams(t, e, []int{9}, nil, nil)
		for _, sun := range []Sun{{Degrees(20.5), 0.3}, {Degrees(33.5), -0.9}, {Degrees(61.5), 0}, {Degrees(100.5), 2}} {
			first := make([]float64, e.Pieces)
			b.Add(9, sun, 1, first, nil)
			rays := fan(e, 9, sun, 500)
			for i := range first {
				if math.Abs(first[i]-rays[i]) > 0.005 { // between the steps of one degree; a patch that leaves the room in part is taken by its mean way
					t.Errorf("fill %g, %+v: piece %d gets %.4f, of many rays %.4f", fill, sun, i, first[i], rays[i])
				}
			}
		}
	}
}

// fan follows n rays that enter an edge evenly, each at every place along the room, to what they meet: over the section by brute force.
func fan(e *Enclosure, edge int, sun Sun, n int) []float64 {
	out := make([]float64, e.Pieces)
	dx, dz := math.Cos(float64(sun.Profile)), -math.Sin(float64(sun.Profile))
	end := 0
	if sun.Along > 0 {
		end = 1
	}
	give := func(parts []Part, q float64) {
		for _, p := range parts {
			out[p.Piece] += q * p.Share
		}
	}
	in := func(o *Obstacle, p Point) bool {
		for i, a := range o.Corners {
			b := o.Corners[(i+1)%len(o.Corners)]
			if (b.X-a.X)*(p.Z-a.Z)-(b.Z-a.Z)*(p.X-a.X) < 0 {
				return false
			}
		}
		return true
	}
	const step = 0.004
	for k := range n {
		g := e.Edges[edge]
		u := (float64(k) + 0.5) / float64(n)
		p := Point{g.A.X + u*(g.B.X-g.A.X) + 1e-6*dx, g.A.Z + u*(g.B.Z-g.A.Z) + 1e-6*dz}
		energy, inObstacle := 1/float64(n), false
		for way := step; ; way += step {
			q := Point{p.X + way*dx, p.Z + way*dz}
			passed := math.Min(1, math.Abs(sun.Along)*step/(e.Length-math.Abs(sun.Along)*(way-step)))
			if e.Length <= math.Abs(sun.Along)*(way-step) {
				passed = 1
			}
			give(e.Ends[end][e.cellOf(q)], energy*passed)
			energy *= 1 - passed
			if energy <= 0 {
				break
			}
			if now := in(&e.Obstacles[0], q); now && !inObstacle {
				give(e.Obstacles[0].Sides[0], energy*e.Obstacles[0].BeamFill)
				energy *= 1 - e.Obstacles[0].BeamFill
				inObstacle = true
			}
			if !inside(e.outline(), q) {
				best, which := math.Inf(1), 0
				for i, d := range e.Edges {
					l := makeLine(d.A, d.B, -1, nil)
					off := math.Abs((q.X-l.a.X)*l.nx + (q.Z-l.a.Z)*l.nz)
					along := ((q.X-l.a.X)*l.dx + (q.Z-l.a.Z)*l.dz) / l.length / l.length
					if along > -0.01 && along < 1.01 && off < best {
						best, which = off, i
					}
				}
				give(e.Edges[which].Parts, energy)
				break
			}
		}
	}
	return out
}

func TestBeamAllocatesNothing(t *testing.T) {
	e := pit(7, 0.6)
	b := mustBeams(t, e, []int{9}, []int{1}, []int{0})
	first, patches := make([]float64, e.Pieces), make([]float64, Stretches)
	if n := testing.AllocsPerRun(10, func() {
		b.Add(9, Sun{0.6, 0.3}, 1, first, patches)
		b.AddWindow(0, 1, Sun{0.6, 0.3}, 1, first, patches)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkFactors(b *testing.B) {
	e := pit(9, 0.65)
	for b.Loop() {
		if _, err := e.Factors(Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBeamTable(b *testing.B) {
	e := pit(9, 0.65)
	for b.Loop() {
		if _, err := e.Beams([]int{9}, nil, []int{0}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBeamHour(b *testing.B) {
	e := pit(9, 0.65)
	t, err := e.Beams([]int{9}, nil, []int{0})
	if err != nil {
		b.Fatal(err)
	}
	first, patches := make([]float64, e.Pieces), make([]float64, Stretches)
	for b.Loop() {
		t.Add(9, Sun{0.6, 0.3}, 1, first, patches)
	}
}
