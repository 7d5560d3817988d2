package greenhouse

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/weather"
)

// drawnPit is plan k of those on which engines of the ground and lengths of step are compared: a pit with beds, drums, boards and what else falls to it. The
// figures are drawn, the same for a k each time.
func drawnPit(k int) []string {
	r := rand.New(rand.NewPCG(uint64(k), 4711))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	of := func(list ...string) string { return list[r.IntN(len(list))] }
	depth := between(0.6, 1.5)
	changes := []string{
		fmt.Sprintf("shape.depth=%.2f m", depth), fmt.Sprintf("shape.length=%.1f m", between(5, 14)),
		fmt.Sprintf("shape.glazing_slope=%.0f deg", between(38, 62)), fmt.Sprintf("store.rows[0].drums=%d", max(4, r.IntN(9)*2)),
		"site.soil.texture=" + of("sand", "sandy loam", "loam", "silt loam", "clay"), fmt.Sprintf("site.soil.moisture=%.0f %%", between(20, 80)),
		"shape.glazing=" + of("twin_wall_8mm", "twin_wall_10mm", "triple_wall_16mm"),
		fmt.Sprintf("builds.wall.layers[1].thickness=%.0f mm", between(20, 100)), fmt.Sprintf("leakage.area=%.0f cm2", between(60, 300)),
		fmt.Sprintf("beds[0].level=%.2f m", between(0.15, 0.5)), "ground.finest_cell=4 cm", "ground.reach=6 m", // the cell that the program chooses
	}
	if r.IntN(2) == 0 {
		changes = append(changes, fmt.Sprintf("ground.boards=[{at: front, lay: %s, thickness: 50 mm, reach: %.1f m, depth: 20 cm}]", of("lying", "upright"), between(0.4, 1)))
	}
	if r.IntN(2) == 0 {
		changes = append(changes, `cover={r_value: 0.6 m2K/W, hours: "17:00-08:00"}`)
	}
	if r.IntN(3) == 0 {
		changes = append(changes, fmt.Sprintf("site.water_table=%.1f m", depth+between(0.5, 3)))
	}
	if r.IntN(3) == 0 {
		changes = append(changes, "cold_sink={from: 1.7 m, to: 2.2 m, depth: 0.3 m}")
	}
	return changes
}

// drawnLayers are two layers of soil for plan k, drawn by themselves.
func drawnLayers(k int) string {
	r := rand.New(rand.NewPCG(uint64(k), 31))
	texture := func() string { return []string{"sand", "sandy loam", "loam", "silt loam", "clay"}[r.IntN(5)] }
	upper, thick := 0.15+0.7*r.Float64(), 0.1+1.5*r.Float64()
	return fmt.Sprintf("site.soil_layers=[{to: %.2f m, texture: %s, moisture: %.0f %%}, {to: %.2f m, texture: %s, moisture: %.0f %%}]",
		upper, texture(), 10+80*r.Float64(), upper+thick, texture(), 10+80*r.Float64())
}

// drawnWinter is the weather of plan k: some weeks of a winter, colder or milder than the usual, and the ground before it.
func drawnWinter(t testing.TB, h *house.House, k, days int) (weather.Series, *Undisturbed) {
	r := rand.New(rand.NewPCG(uint64(k), 815))
	y := typicalYear(t, h).Warmer(-5 + 9*r.Float64())
	u, err := UndisturbedGround(h.Plan, &y)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Date(y.Start.Year(), 11, 1, 0, 0, 0, 0, y.Start.Location())
	return y.Between(begin, begin.AddDate(0, 0, days)), u
}

// compareRuns runs a house twice and compares, from the fourth day on: no answer tells of the first days of a house just set into the ground.
func compareRuns(t *testing.T, h *house.House, w *weather.Series, usual, other Setup) (apart, *Result, *Result) {
	t.Helper()
	run := func(s Setup) *Result {
		var r *Result
		g, err := New(h, s)
		if err == nil && s.Earth == FrostInside { // as it is, frost that goes beyond it with it
			r, err = g.Run(context.Background(), w, Options{Skip: 72})
		} else if err == nil { // as every use case runs it
			_, r, err = Simulate(context.Background(), h, s, w, Options{Skip: 72})
		}
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	a, b := run(usual), run(other)
	return compared(a, b), a, b
}

// The ground as regions and modes gives what its full mesh gives: places within 0.05 K in the root of the mean square and 0.2 K at worst, six drawn
// plans and a winter that freezes the store; thirty with SUNCELLAR_LONG.
func TestReducedGroundIsTheMesh(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	plans := drawnPlans()
	t.Log("| plan | cells | nodes and modes | thawed °C | rms K | where | rms of faces K | where | lowest K | where |")
	for k := range plans + 1 {
		changes, name := drawnPit(k), fmt.Sprint(k+1)
		if k == plans {
			name = "store freezes"
		}
		h := mustHouse(t, smallPit, changes...)
		w, u := drawnWinter(t, h, k, 60)
		if k == plans {
			w = w.Warmer(-14)
			u.FrostM = 1.8
		}
		s := Setup{StartC: 5, Ground: u.Profile(11, 1), FrostM: &u.FrostM, Snow: SnowFalls}
		if k == plans {
			s.Earth = FrostInside
		}
		full := s
		full.Earth = FullMesh
		d, a, b := compareRuns(t, h, &w, full, s)
		t.Logf("| %s | %d | %d | %.1f | %.3f | %s | %.3f | %s | %.3f | %s |", name, a.Work.Cells, b.Work.Nodes+b.Work.Cells, b.Work.ThawedC, d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt)
		if k == plans && b.IceShare[len(b.IceShare)-1] < 0.05 {
			t.Errorf("the store was to freeze: %s", strings.Join(changes, " "))
		}
		if d.rms > 0.05 || d.faces > 0.05 || d.low > 0.2 {
			t.Errorf("plan %s: more than is allowed", name)
		}
		closes(t, b)
	}
}

// The same in soil of two layers upon a third, with the same tolerances; two of three with footings.
func TestReducedGroundOfLayersIsTheMesh(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	for k := range drawnPlans() / 2 {
		changes := append(drawnPit(k), drawnLayers(k))
		if k > 0 { // and with what walls and drums stand on
			changes = append(changes, "ground.footings=[{under: front wall, material: concrete_dense, width: 60 cm, thickness: 30 cm}, {under: back wall, material: sandstone, width: 50 cm, thickness: 40 cm}, "+
				"{under: drums, material: concrete_dense, width: 65 cm, thickness: 15 cm}]")
		}
		h := mustHouse(t, smallPit, changes...)
		w, u := drawnWinter(t, h, k, 60)
		s := Setup{StartC: 5, Ground: u.Profile(11, 1), FrostM: &u.FrostM, Snow: SnowFalls}
		full := s
		full.Earth = FullMesh
		d, a, b := compareRuns(t, h, &w, full, s)
		t.Logf("| %d | %d | %d | %.1f | %.3f | %s | %.3f | %s | %.3f | %s |", k+1, a.Work.Cells, b.Work.Nodes+b.Work.Cells, b.Work.ThawedC, d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt)
		if d.rms > 0.05 || d.faces > 0.05 || d.low > 0.2 {
			t.Errorf("plan %d, %s: more than is allowed", k+1, drawnLayers(k))
		}
		closes(t, a)
		closes(t, b)
	}
}

// drawnPlans is how many plans are drawn: six, thirty with SUNCELLAR_LONG.
func drawnPlans() int {
	if os.Getenv("SUNCELLAR_LONG") != "" {
		return 30
	}
	return 6
}

// Every step taken in eight parts moves no place by more than 0.1 K in the root of the mean square nor its lowest by more than 0.1 K; every cell of the ground
// cut into four moves no lowest by more than 0.1 K. Faces leap with the sun at full hours: in the root of the mean square they are told, and held to
// 0.15 K.
func TestStepsAndCellsOnDrawnPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	t.Log("| plan | steps/hour | an eighth: rms K | where | faces K | where | lowest K | where | cells halved: rms K | where | lowest K | where |")
	for k := range drawnPlans() {
		h := mustHouse(t, smallPit, drawnPit(k)...)
		w, u := drawnWinter(t, h, k, 45)
		s := Setup{StartC: 5, Ground: u.Profile(11, 1), FrostM: &u.FrostM, Snow: SnowFalls}
		fine, cut := s, s
		fine.Control.Finer, cut.Parts = 3, 2
		d, a, _ := compareRuns(t, h, &w, s, fine)
		c, _, _ := compareRuns(t, h, &w, s, cut)
		t.Logf("| %d | %.2f | %.3f | %s | %.3f | %s | %.3f | %s | %.3f | %s | %.3f | %s |", k+1, float64(a.Work.Steps)/float64(a.Work.Hours), d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt,
			c.rms, c.rmsAt, c.low, c.lowAt)
		if d.rms > 0.1 || d.faces > 0.15 || d.low > 0.1 || c.low > 0.1 {
			t.Errorf("plan %d: more than is allowed", k+1)
		}
	}
}
