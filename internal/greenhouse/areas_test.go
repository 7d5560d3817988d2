package greenhouse

import (
	"math"
	"testing"
)

// What looks up in the room is as large as the plan of the house, beds, floors and sink together: no part of it is there twice.
func TestFacesThatLookUpAddUpToTheFloor(t *testing.T) {
	sink := []string{"cold_sink.from=1.7 m", "cold_sink.to=2.1 m", "cold_sink.depth=30 cm"}
	for _, c := range []struct {
		name    string
		changes []string
	}{
		{"a bed", nil},
		{"a bed and a sink", sink},
		{"a bed clear of both and a sink", append([]string{"beds[0].from=0.3 m"}, sink...)},
		{"a bed from the front wall on", []string{"beds[0].from=0 m"}},
		{"a bed from wall to wall", []string{"beds[0].from=0 m", "beds[0].to=3.6 m", "store=none"}},
		{"no bed", []string{"beds=none"}},
		{"a floor at grade", []string{"beds=none", "shape.depth=0 m", "store=none"}},
		{"a bed above grade", []string{"shape.depth=0 m", "store=none"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := mustHouse(t, smallPit, c.changes...)
			g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
			if err != nil {
				t.Fatal(err)
			}
			sum := 0.0
			for _, s := range g.inside {
				if s.tilt < 0.1 && s.film == plane {
					sum += s.seen
				}
			}
			if want := 3.6 * 6.0; math.Abs(sum-want) > 1e-9 {
				t.Errorf("%.3f m² look up, want %.3f", sum, want)
			}
		})
	}
}

// A row stands on the piece of floor under it.
func TestDrumsStandOnTheFloorUnderThem(t *testing.T) {
	for _, c := range []struct{ at, floor string }{{"0.7 m", "floor"}, {"3.25 m", "floor behind sink"}} {
		h := mustHouse(t, smallPit, "beds=none", "cold_sink.from=1.6 m", "cold_sink.to=2 m", "cold_sink.depth=30 cm", "store.rows[0].at="+c.at)
		g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
		if err != nil {
			t.Fatal(err)
		}
		if got := g.Net.Name(g.store.bays[0].floor); got != c.floor {
			t.Errorf("drums at %s stand on %q, want %q", c.at, got, c.floor)
		}
	}
}
