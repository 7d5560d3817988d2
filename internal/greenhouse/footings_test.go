package greenhouse

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Concrete lies where the footings are, the floor's layers over them and the room untouched; board gives way to what conducts more.
func TestFootingsInTheMesh(t *testing.T) {
	slab := strings.NewReplacer("builds:\n", "builds:\n  slab: {layers: [{material: brick, thickness: 100 mm}]}\n", "back_roof: roof}", "back_roof: roof, floor: slab}").Replace(smallPit)
	changes := []string{"ground.finest_cell=5 cm", "beds=none",
		"ground.boards=[{at: front, thickness: 50 mm, reach: 1.6 m}]"}
	footings := "ground.footings=[{under: front wall, material: concrete_dense, width: 64 cm, thickness: 30 cm}, {under: drums, material: sandstone, width: 65 cm, thickness: 15 cm}]"
	conducts := func(x, z float64, more ...string) float64 {
		g, err := New(mustHouse(t, slab, append(changes, more...)...), Setup{StartC: 5, Earth: FullMesh})
		if err != nil {
			t.Fatal(err)
		}
		m := g.ground.mesh
		return m.Cells[m.CellAt(x, z)].Medium.K
	}
	const concrete, stone, xps, brick = 2.3, 2.0, 0.033, 0.7
	soil, err := SoilMedium(mustHouse(t, smallPit).Plan.Site.Soil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name         string
		x, z         float64
		bare, stands float64
	}{
		{"under the wall", -0.12, -1.05, soil.K, concrete},
		{"outer toe, where the board was", -0.26, -1.15, xps, concrete},
		{"outer toe beyond", -0.42, -1.15, soil.K, concrete},
		{"beyond the toe", -0.48, -1.15, soil.K, soil.K},
		{"inner toe, in the floor's layers", 0.1, -1.05, brick, brick},
		{"inner toe, under them", 0.1, -1.2, soil.K, concrete},
		{"under it", -0.12, -1.35, soil.K, soil.K},
		{"under the drums, in the floor's layers", 3.25, -1.05, brick, brick},
		{"under the drums", 3.25, -1.2, soil.K, stone},
		{"below that", 3.25, -1.3, soil.K, soil.K},
	} {
		if got := conducts(c.x, c.z); math.Abs(got/c.bare-1) > 1e-9 {
			t.Errorf("%s, without footings: conducts %g W/mK, want %g", c.name, got, c.bare)
		}
		if got := conducts(c.x, c.z, footings); math.Abs(got/c.stands-1) > 1e-9 {
			t.Errorf("%s: conducts %g W/mK, want %g", c.name, got, c.stands)
		}
	}
}

// A winter with footings closes its books, and a footing of a material like the soil moves nothing but by its lines in the mesh.
func TestFootingsOfSoilAreNotThere(t *testing.T) {
	soil := mustHouse(t, smallPit)
	m, err := SoilMedium(soil.Plan.Site.Soil)
	if err != nil {
		t.Fatal(err)
	}
	text := smallPit + fmt.Sprintf("materials: {like: {conductivity: %.4f W/mK, density: 1000 kg/m3, specific_heat: %.1f J/kgK}}\n", m.K, m.C/1000)
	strips := "ground.footings=[{under: front wall, material: like, width: 60 cm, thickness: 30 cm}, {under: back wall, material: like, width: 60 cm, thickness: 30 cm}, {under: drums, material: like, width: 60 cm, thickness: 20 cm}]"
	w, u := drawnWinter(t, soil, 3, 30)
	s := Setup{StartC: 5, Ground: u.Profile(11, 1), FrostM: &u.FrostM, Snow: SnowFalls}
	_, a := mustRun(t, mustHouse(t, text, "ground.finest_cell=6 cm"), s, &w)
	_, b := mustRun(t, mustHouse(t, text, "ground.finest_cell=6 cm", strips), s, &w)
	d := compared(a, b)
	t.Logf("rms %.3f K (%s), lowest %.3f K (%s)", d.rms, d.rmsAt, d.low, d.lowAt)
	if d.rms > 0.05 || d.low > 0.1 {
		t.Errorf("footings like the soil move %s by %.3f K, the lowest of %s by %.3f K", d.rmsAt, d.rms, d.lowAt, d.low)
	}
	closes(t, b)
}
