package drill

import (
	"math"
	"slices"
	"strings"
	"testing"

	"suncellar/internal/house"
)

// Two drums full to 1 m on a manifold at 0.05 m with a tee at 0: each falls to where its branch meets it, and by its own branch no drum falls lower than by the other's.
func TestDrumsFallToTheirBranches(t *testing.T) {
	s := made()
	a, b := s.vessel(0), s.vessel(0)
	tee := s.point("tee", 0)
	atA, atB := s.meet(a, 0.05), s.meet(b, 0.4)
	s.pipe(tee, atA)
	s.pipe(tee, atB)
	for _, c := range []struct {
		at   int
		want []float64
	}{{tee, []float64{0.05, 0.4}}, {atA, []float64{0.05, 0.4}}, {atB, []float64{0.4, 0.4}}} {
		if got := s.to(t, c.at, 1, 1); !same(got, c.want) {
			t.Errorf("joint at %g: fall to %v, want %v", s.w.Points[c.at].Z, got, c.want)
		}
	}
	f := Falls(&s.w, s.at(t, atB), []float64{0.9, 0.5}, s.open)
	if len(f) != 2 || math.Abs(f[0].LostM3-0.05) > 1e-12 || math.Abs(f[1].LostM3-0.01) > 1e-12 {
		t.Errorf("from 0.9 and 0.5 m of drums of 100 L and a metre: %+v", f)
	}
	// A shut valve parts, an open one does not.
	v := s.valve(1, false)
	if got := s.to(t, tee, 1, 1); !same(got, []float64{0.05, 0.4}) {
		t.Errorf("with an open valve %v", got)
	}
	s.w.Valves[v].Shut, s.w.Pipes[1].Shut = true, true
	if got := s.to(t, tee, 1, 1); !same(got, []float64{0.05, none}) {
		t.Errorf("with a shut valve %v", got)
	}
	if got := s.to(t, tee, 0.05, math.NaN()); !same(got, []float64{none, none}) {
		t.Errorf("water no higher than its branch: %v", got)
	}
}

// A pipe that climbs to 0.8 m under water at 1 m is full and goes on as a siphon; with the water at 0.7 m it has air in it and passes nothing. A crest that itself fails lets the
// water down to the crest.
func TestCrests(t *testing.T) {
	s := made()
	a := s.vessel(0)
	crest, low := s.point("crest", 0.8), s.point("low", -0.2)
	s.pipe(s.meet(a, 0.1), crest)
	s.pipe(crest, low)
	for _, c := range []struct {
		at         int
		from, want float64
	}{{low, 1, 0.1}, {low, 0.81, 0.1}, {low, 0.8, none}, {low, 0.7, none}, {crest, 1, 0.8}, {crest, 0.8, none}} {
		if got := s.to(t, c.at, c.from); !same(got, []float64{c.want}) {
			t.Errorf("%s, water at %g: falls to %v, want %g", s.w.Points[c.at].Name, c.from, got, c.want)
		}
	}
}

// A drum between two others hands on the water of the far one, which stops where it is no longer higher than the pipes that meet the middle one.
func TestWaterComesThroughDrums(t *testing.T) {
	s := made()
	a, b := s.vessel(0), s.vessel(0)
	end := s.point("end", 0)
	s.pipe(s.meet(a, 0.1), s.meet(b, 0.6))
	s.pipe(s.meet(b, 0.3), end)
	if got := s.to(t, end, 1, 1); !same(got, []float64{0.6, 0.3}) {
		t.Errorf("fall to %v, want 0.6 where air comes into the pipe, and 0.3", got)
	}
	s.w.Pipes[0].OneWay = true
	if got := s.to(t, end, 1, 1); !same(got, []float64{0.6, 0.3}) {
		t.Errorf("one way toward the joint: %v", got)
	}
	s.w.Pipes[0].From, s.w.Pipes[0].To = s.w.Pipes[0].To, s.w.Pipes[0].From
	if got := s.to(t, end, 1, 1); !same(got, []float64{none, 0.3}) {
		t.Errorf("one way from the joint: %v", got)
	}
}

// A drum joined by two pipes at different heights falls to the lower one; with a valve in that, shut, to the higher.
func TestTwoPipesAtDifferentHeights(t *testing.T) {
	s := made()
	a, b := s.vessel(0), s.vessel(0)
	low := s.pipe(s.meet(a, 0.05), s.meet(b, 0.05))
	s.pipe(s.meet(a, 0.5), s.meet(b, 0.5))
	end := s.point("end", 0)
	s.pipe(s.meet(b, 0.02), end)
	s.valve(low, false)
	if got := s.to(t, end, 1, 1); !same(got, []float64{0.05, 0.02}) {
		t.Errorf("fall to %v", got)
	}
	r, err := RepairOf(s.house(), s.at(t, end), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Shut) != 1 || math.Abs(r.Shut[0].SavesM3-0.045) > 1e-12 || len(r.Part) != 2 || len(r.Drains) != 1 || math.Abs(r.Drains[0].M3-(0.05+0.098)) > 1e-12 {
		t.Errorf("the valve in the lower pipe saves 45 L of the far drum: %+v", r)
	}
}

// In a ring one valve saves nothing, and two part it: they are found, though the first alone is worth nothing.
func TestRing(t *testing.T) {
	s := made()
	var tees []int
	for i := range 4 {
		tee := s.point(string(rune('a'+i))+" tee", 0)
		s.pipe(tee, s.meet(s.vessel(0), 0))
		tees = append(tees, tee)
	}
	for i := range tees {
		s.pipe(tees[i], tees[(i+1)%4])
	}
	for i := range 4 { // every branch has its valve, so that only the ring is left
		s.valve(i, false)
		s.w.Pipes[i].Shut = false
	}
	if got := s.to(t, tees[0], 1, 1, 1, 1); !same(got, []float64{0, 0, 0, 0}) {
		t.Errorf("all fall: %v", got)
	}
	table, err := Joints(s.house(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Joints) != 8+1 || table.Joints[0].Name != "end of the inlet" {
		t.Fatalf("joints %+v", table.Joints)
	}
	for _, j := range table.Joints[1:] {
		want := 0.0 // a tee loses nothing with the valve of every branch shut, a branch's end its own drum
		if s.w.Points[j.Point].Vessel >= 0 {
			want = 0.1
		}
		if math.Abs(j.Now.M3-0.4) > 1e-12 || math.Abs(j.Shut.M3-want) > 1e-12 {
			t.Errorf("%s: %g m³, with valves shut %g", j.Name, j.Now.M3, j.Shut.M3)
		}
	}
	bare := made()
	tees = nil
	for range 4 {
		tees = append(tees, bare.meet(bare.vessel(0), 0))
	}
	for i := range tees {
		bare.pipe(tees[i], tees[(i+1)%4])
	}
	if table, err = Joints(bare.house(), nil, nil); err != nil {
		t.Fatal(err)
	}
	// 4 joints at 2 % that lose 400 L: 32 L; one valve in the ring saves none of it, two opposite ones half.
	for more, want := range []float64{0.032, 0.032, 0.016} {
		if got := table.Places[more].ExpectedM3; math.Abs(got-want) > 1e-12 {
			t.Errorf("%d valves: %g m³ a winter, want %g", more, got, want)
		}
	}
}

// A valve on the inlet alone parts no drums: it keeps rain out of the part that is mended. Drums without a pipe lose nothing.
func TestValveOnTheInletOnly(t *testing.T) {
	s := made()
	a, b := s.vessel(0), s.vessel(0)
	s.vessel(0)
	s.pipe(s.meet(a, 0.05), s.meet(b, 0.05))
	s.feed(a, b)
	inlet := s.valve(house.OnInlet, false)
	table, err := Joints(s.house(), func(int) float64 { return 10 }, nil)
	if err != nil {
		t.Fatal(err)
	}
	j := table.Joints[0]
	if math.Abs(j.Now.M3-0.19) > 1e-12 || math.Abs(j.Shut.M3-0.19) > 1e-12 || !table.Warm {
		t.Errorf("%+v", j)
	}
	// 190 L from 10 to 0 °C: 0.19 m³ 999.7 kg/m³ 4.20 kJ/kgK 10 K, steam tables.
	if want := 0.19 * 999.7 * 4202 * 10; math.Abs(j.Now.HeatJ-want) > 2e-3*want {
		t.Errorf("heat %g J, want %g", j.Now.HeatJ, want)
	}
	r, err := RepairOf(s.house(), j.Joint, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Shut) != 1 || r.Shut[0].Valve != inlet || r.Rain || !slices.Equal(r.Part, []int{a, b}) || r.Service.Inlet || r.Service.Overflow || !slices.Equal(r.Service.Vessels, []int{2}) || len(r.Service.Fed) != 0 {
		t.Errorf("repair %+v", r)
	}
	s.w.Valves = nil
	if r, _ = RepairOf(s.house(), j.Joint, nil); !r.Rain || len(r.Shut) != 0 {
		t.Errorf("without the valve rain comes in: %+v", r)
	}
}

func TestNamesOfJoints(t *testing.T) {
	w := larch(t).Scheme
	var names []string
	for _, j := range All(w) {
		names = append(names, j.Name)
		if j.Path == "" || strings.HasPrefix(j.Name, "branch") == j.Rigid { // its couplings are flexible, those along the row rigid
			t.Errorf("%+v", j)
		}
	}
	for _, want := range []string{"inlet at back drums, drum 1", "joint at back drums, drum 1", "branch at back drums, drum 1", "joint at back drums, drum 3"} {
		if !slices.Contains(names, want) {
			t.Errorf("%q is missing in %q", want, names)
		}
	}
	slices.Sort(names)
	if len(slices.Compact(names)) != len(All(w)) {
		t.Errorf("names stand twice: %q", names)
	}
	if j, err := FindJoint(w, " Branch at Back Drums, drum 3"); err != nil || w.Points[j.Point].Vessel != 2 {
		t.Errorf("%+v, %v", j, err)
	}
	for name, want := range map[string]string{"brunch at back drums, drum 3": `did you mean "branch at back drums, drum 3"?`, "sink": `called such as "inlet at`, "": "called such as"} {
		if _, err := FindJoint(w, name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", name, err)
		}
	}
	if _, err := FindJoint(&house.Water{InletEnd: -1}, "x"); err == nil {
		t.Error("a joint is found in no pipes")
	}
	twice := made()
	v := twice.vessel(0)
	m := twice.meet(v, 0)
	twice.pipe(m, twice.meet(v, 0.5))
	if all := All(&twice.w); all[1].Name != "pipe 0 at row, drum 1" || all[2].Name != "pipe 0 at row, drum 1 (2)" {
		t.Errorf("two ends of one name: %+v", all)
	}
}
