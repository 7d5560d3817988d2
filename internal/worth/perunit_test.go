package worth

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

const snowLogged = greenhouse.SnowLogged

func perUnitOf(t *testing.T, req UnitRequest) *UnitAnswer {
	t.Helper()
	a, err := PerUnit(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func rowOf(t *testing.T, a *UnitAnswer, id string) *Worth {
	t.Helper()
	i := slices.IndexFunc(a.Rows, func(w Worth) bool { return w.ID == id })
	if i < 0 {
		t.Fatalf("no row %s", id)
	}
	return &a.Rows[i]
}

// TestParameters: every parameter of every example gives back the plan at its own value, and a plan without a finding at its step or
// at a part of it, more or less.
func TestParameters(t *testing.T) {
	t.Parallel()
	bare := examples.Example{Name: "bare pit", Plan: []byte(strings.Replace(pit, "leakage: {area: 60 cm2}\n", "", 1))} // all that can be is assumed
	layers := examples.Example{Name: "pit in layers of soil",                                                          // one almost dry, one full of water: each has a side that is no plan's
		Plan: []byte(strings.Replace(pit, "  time_zone: UTC-7\n", "  time_zone: UTC-7\n  soil_layers: [{to: 50 cm, texture: sand, moisture: 6 %}, {to: 1.5 m, texture: clay, moisture: 98 %}]\n", 1))}
	for _, e := range append(examples.All(), bare, layers) {
		p, findings := plan.Load(e.Name, e.Plan, house.Known())
		if p == nil {
			t.Fatal(plan.AsError(findings))
		}
		h, _ := house.Resolve(p)
		seen := map[string]bool{}
		for _, q := range Parameters(p, h) {
			if seen[q.ID] || seen[q.Label+string(q.Kind)] {
				t.Errorf("%s: %s (%s) is there twice", e.Name, q.ID, q.Label)
			}
			seen[q.ID], seen[q.Label+string(q.Kind)] = true, true
			if !q.Switch && (q.One.SI <= 0 || q.One.US <= 0 || q.Step <= 0 || q.One.In == "" || q.One.Us == "") {
				t.Errorf("%s: %s has no unit or step: %+v", e.Name, q.ID, q.One)
			}
			if q.Kind == Unknown && q.Prior == "" {
				t.Errorf("%s: %s is not known and has no source of its spread", e.Name, q.ID)
			}
			if !q.Switch {
				same, _ := (Request{Plan: p}).read(Variant{Changes: q.Set(q.At)})
				if g, err := house.Resolve(same); err != nil || math.Abs(g.Water()-h.Water()) > 1e-12 || math.Abs(g.GlazedArea()-h.GlazedArea()) > 1e-9 || math.Abs(g.Gross-h.Gross) > 1e-9 {
					t.Errorf("%s: %s at its own value is another house", e.Name, q.ID)
				}
			}
			u := &perUnit{req: UnitRequest{Plan: p}, params: []Parameter{q}}
			if s := u.stepsOf(0); s.err != nil || len(u.trials) == 0 {
				t.Errorf("%s: %s cannot be moved: %v", e.Name, q.ID, s.err)
			}
		}
		if len(seen) < 20 {
			t.Errorf("%s: %d parameters", e.Name, len(seen)/2)
		}
	}
}

// TestSteps: a step that the plan's rules forbid is halved, then taken on one side only, and both are told.
func TestSteps(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		set, id  string
		h        float64
		runs     int
		told     string
		sideMore bool
	}{
		{"leakage.area=60 cm2", "leakage.area", 0.0024, 4, "", true},
		{"store.rows.drums.drums=10", "store.rows[0].drums", 1, 2, "half the usual step", true}, // 12 drums find no room, 11 and 9 do; there is no half of 1
		{"store.rows.drums.fill=100 %", "store.rows[0].fill", 0.05, 2, "towards less only", false},
		{"frame.share=50 %", "frame.share", 0.075, 2, "towards less only", false},
		{"frame.dirt=38 %", "frame.dirt", 0.01425, 4, "half the usual step", true},
	} {
		c, err := plan.ParseChange(row.set)
		if err != nil {
			t.Fatal(err)
		}
		p, findings := plan.Load("pit.yaml", []byte(strings.Replace(pit, "length: 6 m", "length: 6.5 m", 1)), house.Known(), c)
		if p == nil {
			t.Fatal(plan.AsError(findings))
		}
		h, _ := house.Resolve(p)
		u := &perUnit{req: UnitRequest{Plan: p}}
		for _, q := range Parameters(p, h) {
			if q.ID == row.id {
				u.params = append(u.params, q)
			}
		}
		if len(u.params) != 1 {
			t.Fatalf("%s: %d parameters of that name", row.id, len(u.params))
		}
		s := u.stepsOf(0)
		told := strings.Join(s.notes, "; ")
		more := slices.ContainsFunc(u.trials, func(x trial) bool { return x.dx > 0 })
		if s.err != nil || math.Abs(s.h-row.h) > 1e-9 || len(u.trials) != row.runs || !strings.Contains(told, row.told) || row.told == "" && told != "" || more != row.sideMore {
			t.Errorf("%s: step %g, %d runs, more %v, %q, %v; want %g, %d, %v, %q", row.set, s.h, len(u.trials), more, told, s.err, row.h, row.runs, row.sideMore, row.told)
		}
	}
}

// TestPerUnit: the laws. Leaks and dirt cool, insulation and water warm; how many runs are at once changes nothing; what is not
// computed is told.
func TestPerUnit(t *testing.T) {
	t.Parallel()
	req := request(t, pit)
	one := perUnitOf(t, UnitRequest{Plan: req.Plan, Year: req.Year, AtOnce: 1})
	many := perUnitOf(t, UnitRequest{Plan: req.Plan, Year: req.Year, AtOnce: 3, First: one.First})
	for i := range one.Rows {
		if a, b := one.Rows[i], many.Rows[i]; a.Per != b.Per || a.Half != b.Half || a.ID != b.ID {
			t.Errorf("%s: %+v alone, %+v beside others", a.ID, a.Per, b.Per)
		}
		if one.Rows[i].Err != nil {
			t.Errorf("%s: %v", one.Rows[i].ID, one.Rows[i].Err)
		}
	}
	if !reflect.DeepEqual(one.Band, many.Band) || one.Base != many.Base || !one.Whole {
		t.Error("band or base depend on how many run at once")
	}
	for id, sign := range map[string]float64{"leakage.area": -1, "frame.dirt": -1, "builds.wall.layers[1].thickness": 1, "store.rows[0].drums": 1, "store.rows[0].fill": 1, "cover": 1, "leakage.area, not known": -1,
		"outdoors.air": 1, "outdoors.sky": 1, "outdoors.wind": -1} {
		if w := rowOf(t, one, id); w.Per.LeafC*sign <= 0 || w.Per.AirC*sign <= 0 {
			t.Errorf("%s: %+.4f K a unit at the leaves, %+.4f in the air", id, w.Per.LeafC, w.Per.AirC)
		}
	}
	if l := rowOf(t, one, "frame.dirt"); l.Per.LightMol >= 0 {
		t.Errorf("dirt gives light: %g", l.Per.LightMol)
	}
	b := one.Band
	if b == nil || b.Lo.LeafC >= b.Middle.LeafC || b.Hi.LeafC <= b.Middle.LeafC || b.Middle.LeafC != one.First.Places[one.First.Watched].LowestC {
		t.Fatalf("band %+v", b)
	}
	// by hand: the colder moves of all that is not known
	sum := 0.0
	for _, w := range one.Rows {
		if w.Kind == Unknown {
			sum += math.Pow(math.Min(0, math.Min(w.More.LeafC, w.Less.LeafC)), 2)
		}
	}
	if want := b.Middle.LeafC - eightInTen*math.Sqrt(sum); math.Abs(b.Lo.LeafC-want) > 1e-12 {
		t.Errorf("lower end %g, want %g", b.Lo.LeafC, want)
	}
}

// TestAway: a switch whose planned side is asked after is worth what the plan has by it.
func TestAway(t *testing.T) {
	t.Parallel()
	req := request(t, strings.Replace(pit, "leakage:", "cover: {r_value: 0.7 m2K/W}\nleakage:", 1))
	a := perUnitOf(t, UnitRequest{Plan: req.Plan, Year: req.Year, Kinds: []Kind{Build}, NoHalves: true})
	for _, id := range []string{"cover", "cover.r_value", "cover.fit"} {
		if w := rowOf(t, a, id); w.Err != nil || w.Per.LeafC <= 0 || w.HasHalf {
			t.Errorf("%s: %+v %v", id, w.Per, w.Err)
		}
	}
	if a.Band != nil {
		t.Error("a band without anything that is not known")
	}
}

func TestPerUnitCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	req := request(t, box)
	runs := 0
	a, err := PerUnit(ctx, UnitRequest{Plan: req.Plan, Year: req.Year, AtOnce: 1}, func(done, total int) {
		if runs++; done*4 > total {
			cancel()
		}
	})
	if a != nil || !errors.Is(err, context.Canceled) || runs == 0 {
		t.Errorf("answer %v, error %v", a, err)
	}
}
