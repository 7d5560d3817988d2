package drill

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// byWays finds by each way that comes through no vessel and no point twice how far a vessel falls: the same by another road.
func byWays(s *scheme, to, vessel int, height float64) float64 {
	best := height
	seen, been := map[int]bool{}, map[int]bool{}
	var leave func(vessel int, worst float64)
	var walk func(p int, worst float64)
	walk = func(p int, worst float64) { // the water has come to p by a pipe
		at := s.w.Points[p]
		if seen[p] || at.Z >= height {
			return
		}
		if at.Vessel >= 0 || p == to {
			worst = math.Max(worst, at.Z)
		}
		if p == to {
			best = math.Min(best, worst)
			return
		}
		if at.Vessel >= 0 {
			leave(at.Vessel, worst)
			return
		}
		seen[p] = true
		pipesOf(s, p, func(q int) { walk(q, worst) })
		seen[p] = false
	}
	leave = func(v int, worst float64) {
		if been[v] {
			return
		}
		been[v] = true
		for q, o := range s.w.Points {
			if o.Vessel != v || o.Z >= height {
				continue
			}
			by := math.Max(worst, o.Z)
			if q == to {
				best = math.Min(best, by)
			}
			pipesOf(s, q, func(r int) { walk(r, by) })
		}
		been[v] = false
	}
	leave(vessel, math.Inf(-1))
	return best
}

// pipesOf calls for each point that an open pipe leads to.
func pipesOf(s *scheme, p int, to func(int)) {
	for i, pipe := range s.w.Pipes {
		if pipe.From == p && s.open(i) {
			to(pipe.To)
		}
		if pipe.To == p && s.open(i) && !pipe.OneWay {
			to(pipe.From)
		}
	}
}

// Whatever the pipework: a vessel falls as far as the best of all ways lets it, loses what stood above, and no more than it held.
func TestFallsAreThoseOfTheLowestWay(t *testing.T) {
	fell := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScheme(t, 7)
		heights := drawHeights(t, s)
		for _, j := range All(&s.w) {
			want := make([]float64, len(heights))
			for v, h := range heights {
				want[v] = math.Max(s.w.Vessels[v].Bottom, byWays(s, j.Point, v, h))
			}
			got := append([]float64{}, heights...)
			for _, f := range Falls(&s.w, j, heights, s.open) {
				vessel := s.w.Vessels[f.Vessel]
				if f.ToZ < j.Z {
					t.Errorf("%s: vessel %d falls to %g, below the joint at %g", j.Name, f.Vessel, f.ToZ, j.Z)
				}
				if held := vessel.Holds(heights[f.Vessel]) - vessel.Holds(f.ToZ); math.Abs(f.LostM3-held) > 1e-12 || f.LostM3 <= 0 {
					t.Errorf("%s: vessel %d loses %g m³ and held %g above its fall", j.Name, f.Vessel, f.LostM3, held)
				}
				got[f.Vessel] = f.ToZ
				fell++
			}
			if !same(got, want) {
				t.Errorf("%s: fall to %v, want %v", j.Name, got, want)
			}
		}
	})
	if fell < 50 {
		t.Errorf("only %d vessels fell at all", fell)
	}
}

// Shutting one pipe more never loses more, at no joint and from no vessel.
func TestShuttingNeverLosesMore(t *testing.T) {
	saved := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScheme(t, 7)
		heights := drawHeights(t, s)
		shut := rapid.IntRange(0, len(s.w.Pipes)-1).Draw(t, "shut")
		for _, j := range All(&s.w) {
			before := map[int]float64{}
			for _, f := range Falls(&s.w, j, heights, s.open) {
				before[f.Vessel] = f.LostM3
			}
			after := Falls(&s.w, j, heights, func(p int) bool { return p != shut && s.open(p) })
			for _, f := range after {
				if f.LostM3 > before[f.Vessel] {
					t.Errorf("%s: vessel %d loses %g with a valve shut, %g without", j.Name, f.Vessel, f.LostM3, before[f.Vessel])
				}
			}
			saved += len(before) - len(after)
		}
	})
	if saved < 20 {
		t.Errorf("shutting saved only %d vessels", saved)
	}
}

// More valves never raise the expected loss; one and two stand where they save most of all places, and three too on pipework so small.
func TestPlacesAgainstAllPlaces(t *testing.T) {
	helped := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScheme(t, 8)
		heights := drawHeights(t, s)
		table, err := Joints(s.house(), nil, heights)
		if err != nil {
			t.Fatal(err)
		}
		for more, p := range table.Places {
			if len(p.Pipes) != more {
				t.Errorf("%d more are %v", more, p.Pipes)
			}
			want := leastOf(s, table, more, 0, nil)
			if math.Abs(p.ExpectedM3-want) > 1e-9 {
				t.Errorf("%d more in %v: %g m³ a winter, the least of all places is %g", more, p.Pipes, p.ExpectedM3, want)
			}
			if more > 0 && p.ExpectedM3 > table.Places[more-1].ExpectedM3+1e-12 {
				t.Errorf("%d valves more lose %g, fewer %g", more, p.ExpectedM3, table.Places[more-1].ExpectedM3)
			}
			if more > 1 && p.ExpectedM3 < table.Places[more-1].ExpectedM3-1e-9 {
				helped++
			}
		}
		if table.DrawnM3 < table.Places[0].ExpectedM3-1e-12 {
			t.Errorf("as drawn %g m³ a winter, with all valves shut %g", table.DrawnM3, table.Places[0].ExpectedM3)
		}
	})
	if helped < 10 {
		t.Errorf("a second or third valve helped only %d times", helped)
	}
}

// leastOf tries every set of so many pipes without a valve, and reckons the loss of each joint from the beginning.
func leastOf(s *scheme, table *Table, more, from int, pipes []int) float64 {
	valved := Valved(&s.w)
	if more == 0 {
		for _, p := range pipes {
			valved[p] = true
		}
		sum := 0.0
		for _, j := range table.Joints {
			sum += j.Odds * lost(Falls(&s.w, j.Joint, table.HeightsZ, func(p int) bool { return !valved[p] }))
		}
		return sum
	}
	least := math.Inf(1)
	for p := from; p < len(s.w.Pipes); p++ {
		if !valved[p] {
			least = math.Min(least, leastOf(s, table, more-1, p+1, append(pipes[:len(pipes):len(pipes)], p)))
		}
	}
	return least
}

// Whatever is mended: what has to run out is what the joint would lose with the valves shut, each vessel by one outlet after another; the valves save the rest; and every vessel
// stands on one side.
func TestRepairsAddUp(t *testing.T) {
	drained, cut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScheme(t, 7)
		heights := drawHeights(t, s)
		table, err := Joints(s.house(), nil, heights)
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range table.Joints {
			r, err := RepairOf(s.house(), j.Joint, heights)
			if err != nil {
				t.Fatal(err)
			}
			out, saved := 0.0, 0.0
			for _, d := range r.Drains {
				out += d.M3
				drained++
			}
			for _, c := range r.Shut {
				if c.SavesM3 < -1e-12 || s.w.Valves[c.Valve].Shut {
					t.Errorf("%s: cut %+v", j.Name, c)
				}
				saved += c.SavesM3
				cut++
			}
			// One that is not beside the joint changes nothing: no way leads past those that are.
			if math.Abs(out-j.Shut.M3) > 1e-9 || math.Abs(saved-(j.Now.M3-j.Shut.M3)) > 1e-9 {
				t.Errorf("%s: %g m³ drained and %g saved, of %g lost now and %g with all shut", j.Name, out, saved, j.Now.M3, j.Shut.M3)
			}
			if len(r.Part)+len(r.Service.Vessels) != len(s.w.Vessels) {
				t.Errorf("%s: %v in the part, %v in service", j.Name, r.Part, r.Service.Vessels)
			}
		}
	})
	if drained < 50 || cut < 50 {
		t.Errorf("%d drains, %d cuts", drained, cut)
	}
}
