package drill

import (
	"math"
	"slices"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// row is four drums on a manifold at 0.05 m, a valve between each two bays of two, a drip line at the end with its emitters at 0.3 m, and a tap at 0.1 m.
func row() (s *scheme, tees, branches []int, valve int) {
	s = made()
	for i := range 4 {
		tees = append(tees, s.point([]string{"tee 1", "tee 2", "tee 3", "tee 4"}[i], 0.05))
		if i > 0 {
			p := s.pipe(tees[i-1], tees[i])
			if i == 2 {
				valve = s.valve(p, false)
			}
		}
		branches = append(branches, s.meet(s.vessel(0), 0.05))
		s.pipe(tees[i], branches[i])
	}
	s.feed(0, 1, 2, 3)
	s.w.DrawOff = 0.1
	s.w.Drips = []house.DripLine{{Plan: &plan.DripLine{Name: "line", Emitter: plan.Emitter{LeastHead: 0.05}}, From: tees[3], Z: 0.3}}
	return s, tees, branches, valve
}

// The far bay fails: the valve between the bays saves the near one, which goes on; the drip line takes the water down to 35 cm, the joint the rest.
func TestRepairOfABay(t *testing.T) {
	s, tees, branches, valve := row()
	r, err := RepairOf(s.house(), s.at(t, tees[2]), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Shut) != 1 || r.Shut[0].Valve != valve || math.Abs(r.Shut[0].SavesM3-0.19) > 1e-12 {
		t.Errorf("shut %+v", r.Shut)
	}
	if !slices.Equal(r.Part, []int{2, 3}) || len(r.Drains) != 2 || r.Drains[0].By != ByDrip || r.Drains[1].By != ByJoint {
		t.Fatalf("part %v, drains %+v", r.Part, r.Drains)
	}
	if math.Abs(r.Drains[0].M3-2*0.065) > 1e-12 || math.Abs(r.Drains[1].M3-2*0.03) > 1e-12 || r.Drains[0].Opens {
		t.Errorf("drains %+v", r.Drains)
	}
	// Where the tap sits is not told: it may be on this part, and would then take it down to 10 cm.
	if r.Tap == nil || math.Abs(r.Tap.M3-2*0.09) > 1e-12 {
		t.Errorf("tap %+v", r.Tap)
	}
	if v := r.Service; !slices.Equal(v.Vessels, []int{0, 1}) || !slices.Equal(v.Fed, []int{0, 1}) || !v.Inlet || v.Overflow || len(v.Drips) != 0 || r.Rain {
		t.Errorf("in service %+v, rain %v", v, r.Rain)
	}
	// The near bay fails: its inlet brings rain, the drip line goes on from the far one.
	if r, err = RepairOf(s.house(), s.at(t, branches[0]), nil); err != nil {
		t.Fatal(err)
	}
	if v := r.Service; !r.Rain || v.Inlet || !slices.Equal(v.Vessels, []int{2, 3}) || len(v.Fed) != 0 || !slices.Equal(v.Drips, []int{0}) || r.Drains[0].By != ByJoint {
		t.Errorf("in service %+v, rain %v, drains %+v", v, r.Rain, r.Drains)
	}
}

// Without a valve all drums are the part, the tap is on it for sure, and lies lower than the drip line.
func TestRepairOfTheWhole(t *testing.T) {
	s, tees, _, _ := row()
	s.w.Valves = nil
	r, err := RepairOf(s.house(), s.at(t, tees[2]), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Shut) != 0 || len(r.Part) != 4 || r.Tap != nil || len(r.Drains) != 2 || r.Drains[0].By != ByTap || math.Abs(r.Drains[0].M3-4*0.09) > 1e-12 || math.Abs(r.Drains[1].M3-4*0.005) > 1e-12 {
		t.Errorf("%+v", r)
	}
	// The drip line behind a shut valve of its own can be opened; a joint over the water needs nothing.
	s.w.DrawOff = math.Inf(1)
	s.w.Drips[0].Shut = true
	if r, _ = RepairOf(s.house(), s.at(t, tees[2]), nil); r.Drains[0].By != ByDrip || !r.Drains[0].Opens {
		t.Errorf("%+v", r.Drains)
	}
	if r, _ = RepairOf(s.house(), s.at(t, s.w.InletEnd), nil); len(r.Drains) != 0 {
		t.Errorf("the inlet ends over the water: %+v", r.Drains)
	}
}

// Larch Hollow's drums stand full, and the joint of a plan without water is an error.
func TestJointsOfAPlan(t *testing.T) {
	h := larch(t)
	table, err := Joints(h, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := h.Scheme
	l := w.Levels()
	per := l.FullM3 - w.Holds(w.Vessels[0].Bottom+0.05)
	for _, j := range table.Joints {
		j := j
		if j.Name == "inlet at back drums, drum 1" {
			if j.Now.M3 != 0 {
				t.Errorf("the inlet ends over the water and loses %g m³", j.Now.M3)
			}
			continue
		}
		if math.Abs(j.Now.M3-per) > 1e-9 {
			t.Errorf("%s: loses %g m³, all of them hold %g over their branches", j.Name, j.Now.M3, per)
		}
		if want := map[bool]float64{true: 0.02, false: 0.005}[j.Rigid]; j.Odds != want {
			t.Errorf("%s: odds %g", j.Name, j.Odds)
		}
	}
	if table.At(table.Joints[1].Point) != &table.Joints[1] || table.At(-1) != nil {
		t.Error("a joint is not found by its point")
	}
	h.Scheme = nil
	if _, err := Joints(h, nil, nil); err == nil {
		t.Error("joints without water")
	}
	if _, err := RepairOf(h, Joint{}, nil); err == nil {
		t.Error("a repair without water")
	}
	if heat(-3) != 0 || heat(math.NaN()) != 0 {
		t.Error("ice has heat above freezing")
	}
}

// The joints of one manifold of two bays are all alike with its valve open; shut, each bay is lost for itself; valves more part it further.
func TestValvesOfABayedRow(t *testing.T) {
	s, _, _, _ := row()
	table, err := Joints(s.house(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	// 8 joints at 2 %, each loses 4 drums of 95 L or, with the valve shut, 2.
	if math.Abs(table.DrawnM3-8*0.02*0.38) > 1e-12 || math.Abs(table.Places[0].ExpectedM3-8*0.02*0.19) > 1e-12 {
		t.Errorf("drawn %g, shut %g", table.DrawnM3, table.Places[0].ExpectedM3)
	}
	// One more, between the drums of a bay or in a branch: each of the bay's 4 joints loses one drum.
	if math.Abs(table.Places[1].ExpectedM3-0.02*(4*0.19+4*0.095)) > 1e-12 {
		t.Errorf("one more %+v", table.Places[1])
	}
	if len(table.Places) != 4 {
		t.Errorf("%+v", table.Places)
	}
}
