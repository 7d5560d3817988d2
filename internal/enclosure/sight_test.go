package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A box of 4 by 2 m with a front of glass: a spot on the floor sees the sun where its beam has passed the front, by hand.
func TestSightThroughAFront(t *testing.T) {
	s, err := box(4, 2, 10).Sight()
	if err != nil {
		t.Fatal(err)
	}
	const front, top, left, right = 3, 2, 4, 5
	for _, row := range []struct {
		x, y, degrees, along float64
		piece                int
	}{
		{1, 5, 45, 0, front},      // 1 m up over 1 m
		{3, 5, 45, 0, top},        // 3 m up over 3 m: the roof is in the way
		{3, 5, 30, 0, front},      // 1.73 m up
		{1, 1, 45, 0.5, front},    // 0.71 m to the left on 1.41 m of way
		{1, 0.5, 45, 0.5, left},   // the left end is nearer
		{1, 9.5, 45, -0.5, right}, // and the right one
	} {
		in, ok := s.From(Point{row.x, 1e-6}, row.y, Sun{Degrees(row.degrees), row.along})
		if !ok || len(in.Parts) != 1 || in.Parts[0].Piece != row.piece || in.Let != 1 {
			t.Errorf("%+v: %+v, %v", row, in, ok)
		}
	}
}

// What falls on the floor by the table of beams is what the spots of the floor see, whatever the sun and whatever stands in the room.
func TestSightAgreesWithBeams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const w, h, l = 4.0, 2.0, 8.0
		e := box(w, h, l)
		x0, fill := rapid.Float64Range(0.5, 2.5).Draw(t, "x"), rapid.Float64Range(0, 1).Draw(t, "fill")
		own := Whole(1)
		e.Obstacles = []Obstacle{{Corners: []Point{{x0, 0.2}, {x0 + 0.6, 0.2}, {x0 + 0.6, 1.1}, {x0, 1.1}}, Sides: [][]Part{own, own, own, own}, Fill: fill, BeamFill: fill}}
		sun := Sun{Degrees(float64(rapid.IntRange(10, 75).Draw(t, "degrees"))), rapid.Float64Range(-1, 1).Draw(t, "along")}
		b, err := e.Beams([]int{3}, nil, []int{0})
		if err != nil {
			t.Fatal(err)
		}
		first, patches := make([]float64, 6), make([]float64, Stretches)
		b.Add(3, sun, 1, first, patches)
		s, err := e.Sight()
		if err != nil {
			t.Fatal(err)
		}
		const n, m = 100, 32 // an edge of light is known to half a spot
		lit := 0.0
		for i := range n {
			for k := range m {
				in, ok := s.From(Point{(float64(i) + 0.5) * w / n, 1e-9}, (float64(k)+0.5)*l/m, sun)
				if ok && in.Parts[0].Piece == 3 {
					lit += in.Let / (n * m)
				}
			}
		}
		// a beam of one watt through the front has 1/(h l cos P) in its own section, of which sin P falls on level ground
		steep := w / h * math.Tan(float64(sun.Profile))
		if want := lit * steep; math.Abs(first[0]-want) > 0.01*steep+0.005 {
			t.Errorf("sun %v: the floor gets %.4f, seen from its spots %.4f", sun, first[0], want)
		}
	})
}
