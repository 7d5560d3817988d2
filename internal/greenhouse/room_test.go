package greenhouse

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

func mustGreenhouse(t testing.TB, h *house.House) *Greenhouse {
	t.Helper()
	g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// outlineArea is the area that the room's edges go round [m²].
func outlineArea(g *Greenhouse) float64 {
	sum := 0.0
	for _, d := range g.room.e.Edges {
		sum += d.A.X*d.B.Z - d.B.X*d.A.Z
	}
	return sum / 2
}

// The room is the section less its beds, each surface has as much of it as the house says, and all that it sees adds up; for plans of random parts.
func TestRoomOfRandomPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := anyPlan(t)
		known := house.Known()
		known.Weather = true
		p, findings := plan.Load("drawn.yaml", []byte(text), known)
		if err := plan.AsError(findings); err != nil {
			t.Fatal(err)
		}
		h, bad := house.Resolve(p)
		if len(bad) > 0 {
			t.Skip("does not fit")
		}
		g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
		if err != nil {
			t.Fatal(err)
		}
		want := h.Gross / h.Length
		for _, b := range h.Beds {
			want -= (b.X1 - b.X0) * (b.Z - h.FloorZ)
		}
		if got := outlineArea(g); math.Abs(got-want) > 1e-6 {
			t.Fatalf("the room is %.4f m² across, the section less its beds %.4f m²", got, want)
		}
		area := make([]float64, len(g.inside))
		for i, p := range g.room.pieces {
			area[p] += g.room.factors.Area[i]
			row := 0.0
			for j := range g.room.pieces {
				row += g.room.factors.View[i][j]
			}
			if math.Abs(row-g.room.factors.Area[i]) > 1e-9 {
				t.Fatalf("%s sees %.9f of %.9f m²", g.inside[p].name, row, g.room.factors.Area[i])
			}
		}
		for i, s := range g.inside {
			if s.glassBack > 0 && math.Abs(area[i]-s.seen) > 1e-6 {
				t.Fatalf("%s has %.3f m², the house %.3f m²", s.name, area[i], s.seen)
			}
			if area[i] <= 0 {
				t.Fatalf("%s is nowhere in the room", s.name)
			}
		}
	})
}

// Beds of every kind leave the room closed: on walls, side by side, of two heights, from wall to wall, sunk into the floor.
func TestRoomWithBeds(t *testing.T) {
	for _, c := range []struct {
		name string
		beds string
	}{
		{"on the front wall", "[{name: a, from: 0 m, to: 1 m, level: 0.3 m}]"},
		{"on both walls", "[{name: a, from: 0 m, to: 1 m, level: 0.3 m}, {name: b, from: 2 m, to: 3.6 m, level: 0.5 m}]"},
		{"wall to wall", "[{name: a, from: 0 m, to: 3.6 m, level: 0.3 m}]"},
		{"side by side, rising", "[{name: a, from: 0.2 m, to: 1 m, level: 0.2 m}, {name: b, from: 1 m, to: 1.5 m, level: 0.6 m}]"},
		{"side by side, falling", "[{name: a, from: 0.2 m, to: 1 m, level: 0.6 m}, {name: b, from: 1 m, to: 1.5 m, level: 0.2 m}]"},
		{"level with the floor", "[{name: a, from: 0 m, to: 1 m, level: 0 m}]"},
		{"written from the back", "[{name: b, from: 2 m, to: 3 m, level: 0.5 m}, {name: a, from: 0.3 m, to: 1 m, level: 0.3 m}]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := mustHouse(t, strings.Replace(smallPit, "beds: [{name: bed, from: 0.3 m, to: 1.5 m, level: 0.3 m}]", "beds: "+c.beds, 1), "store=none")
			g := mustGreenhouse(t, h)
			want := h.Gross / h.Length
			for i, b := range h.Beds {
				want -= (b.X1 - b.X0) * (b.Z - h.FloorZ)
				top := 0.0
				for _, s := range g.room.strips {
					if s.bed == i {
						top += g.room.factors.Area[s.piece]
					}
				}
				if math.Abs(top-b.Area) > 1e-6 {
					t.Errorf("%s has %.3f m² of strips, %.3f m² of bed", b.Name, top, b.Area)
				}
			}
			if got := outlineArea(g); math.Abs(got-want) > 1e-6 {
				t.Errorf("the room is %.4f m² across, the section less its beds %.4f m²", got, want)
			}
		})
	}
}

// Drums that reach through a roof or a wall are cut off there.
func TestDrumsAreCutAtTheRoof(t *testing.T) {
	h := mustHouse(t, smallPit, "store.rows[0].tiers=2", "store.rows[0].at=3.45 m", "store.rows[0].base=35 cm")
	g := mustGreenhouse(t, h)
	if len(g.room.e.Obstacles) != 1 {
		t.Fatalf("%d rows of drums", len(g.room.e.Obstacles))
	}
	for _, p := range g.room.e.Obstacles[0].Corners {
		if p.X > 3.6+1e-6 {
			t.Errorf("a corner of the drums is at %.3f m, the wall at 3.6 m", p.X)
		}
	}
}

// In a room of one temperature nothing is exchanged; exchange areas of a surface add up to its area times emittance less what it sees of itself.
func TestLongwaveOfOneTemperature(t *testing.T) {
	h := mustHouse(t, smallPit)
	g := mustGreenhouse(t, h)
	var l *longwave
	for _, p := range g.parts {
		if q, ok := p.(*longwave); ok {
			l = q
		}
	}
	got, want := make([]float64, len(g.inside)), make([]float64, len(g.inside))
	x := g.exchange(1)
	for i, p := range g.room.pieces {
		want[p] += g.room.factors.Area[i] * g.inside[p].emittance
		for j, q := range g.room.pieces {
			if p == q {
				want[p] -= x.Between[i][j]
			}
		}
	}
	for i := range g.inside {
		for j := range i {
			area := l.areas[i][j].mixed(l.mix)
			got[i] += area
			got[j] += area
		}
	}
	for i, s := range g.inside {
		if math.Abs(got[i]/want[i]-1) > 0.01 { // small pairs are folded, what a surface sees of itself with them
			t.Errorf("%s exchanges over %.4f m², must be %.4f m²", s.name, got[i], want[i])
		}
	}
}

// A film that is clear to longwave lets the beds see the sky: colder on a clear night than an opaque one; what passes is booked; and nothing passes
// under a drawn cover.
func TestFilmLetsLongwaveOut(t *testing.T) {
	clearNight := weather.SpellSpec{Days: 3, MeanC: -5, WindMS: 2, DewPointBelowK: 8}
	passed := func(r *Result) float64 {
		sum := 0.0
		for _, f := range r.Flows {
			if strings.Contains(f.Name, throughFilm) {
				for _, j := range f.J {
					sum -= float64(j) / 3.6e6
				}
			}
		}
		return sum
	}
	run := func(changes ...string) *Result {
		h := mustHouse(t, smallPit, append([]string{"leakage.area=900 cm2"}, changes...)...)
		_, r := mustRun(t, h, Setup{StartC: 5, Ground: flat(6), Snow: SnowNever}, spellAt(t, h, clearNight, time.January, 10))
		closes(t, r)
		return r
	}
	film, stops, glass := run("shape.glazing=single_film"), run("shape.glazing=single_film_ir"), run("shape.glazing=single_glass_4mm")
	covered := run("shape.glazing=single_film", "cover.r_value=0.5 m2K/W", "cover.hours=00:00-23:59", "cover.from=10-01", "cover.until=04-30")
	t.Logf("kWh that pass: film %.2f, film that stops longwave %.2f, under a cover %.2f", passed(film), passed(stops), passed(covered))
	if !(passed(film) > passed(stops) && passed(stops) > 0) {
		t.Errorf("film lets %.3f kWh pass, one that stops longwave %.3f", passed(film), passed(stops))
	}
	if passed(glass) != 0 {
		t.Errorf("glass lets %.3f kWh pass", passed(glass))
	}
	if p := passed(covered); math.Abs(p) > 0.05*passed(film) {
		t.Errorf("a drawn cover lets %.3f kWh pass, bare film %.3f", p, passed(film))
	}
}

// Light on the strips: their mean is the bed's; by stretch they add up to it; a morning sun lights the end it shines to.
func TestStripsOfLight(t *testing.T) {
	h := mustHouse(t, smallPit)
	w := spellAt(t, h, bright(2, -5), time.March, 10)
	g, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, w)
	if len(r.Strips) != 3 || r.Strips[0].Name() != "bed, glazing side" {
		t.Fatalf("%d strips", len(r.Strips))
	}
	for i := range r.Hours() {
		mean := 0.0
		for k := range r.Strips {
			mean += float64(r.Strips[k].Mol[i]) / 3
		}
		if math.Abs(mean-r.BedMol[i]) > 1e-6*(1+r.BedMol[i]) {
			t.Fatalf("hour %d: strips have %.6f mol/m², the bed %.6f", i, mean, r.BedMol[i])
		}
	}
	for k := range r.Strips {
		s := &r.Strips[k]
		along := s.DayMol(0, 2)
		day, mean := 0.0, 0.0
		for _, m := range s.Mol {
			day += float64(m) / 2
		}
		for _, a := range along {
			mean += a / Stretches
		}
		if math.Abs(day-mean) > 1e-4*day || day <= 0 {
			t.Errorf("%s: %.4f mol/m² a day by hours, %.4f by stretches", s.Name(), day, mean)
		}
	}
	// the house looks south: the sun in the south-east, which is to the left of one who looks out, shines to the right end
	shared(t, g, 140, 40)
	left, right := 0.0, 0.0
	for k := range r.Strips {
		left += g.light.strips[k*Stretches]
		right += g.light.strips[k*Stretches+Stretches-1]
	}
	if left >= right {
		t.Errorf("sun from the left: left quarter %.1f W/m², right quarter %.1f W/m²", left, right)
	}
}

// Sections of other shapes: a tent, sloping walls in the soil, a step in the floor, a window in a sloping roof, drums by the
// glazing. The room is the section less its beds, and light stays whole.
func TestRoomOfOddSections(t *testing.T) {
	const head = "suncellar: 1\nname: odd\nsite: {latitude: 46 deg, longitude: -105 deg, elevation: 1000 m, time_zone: UTC-7}\n" +
		"builds:\n  wall: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 80 mm}, {material: plywood, thickness: 12 mm}]}\n" +
		"ends: {build: wall}\nground: {finest_cell: 25 cm, reach: 3 m}\n"
	for _, c := range []struct{ name, text string }{
		{"tent", "section:\n  length: 6 m\n  start: [0 m, 0 m]\n  edges:\n    - {name: floor, to: [4 m, 0 m], build: bare earth}\n    - {name: back roof, to: [2 m, 2.6 m], build: wall}\n" +
			"    - {name: front roof, to: [0 m, 0 m], glazing: twin_wall_10mm}\nbeds: [{name: bed, from: 0.6 m, to: 1.5 m, level: 0.2 m}]\n"},
		{"sloping walls in the soil", "section:\n  length: 6 m\n  start: [0 m, -1 m]\n  edges:\n    - {name: floor, to: [3 m, -1 m], build: bare earth}\n    - {name: back slope, to: [3.8 m, 0 m], build: bare earth}\n" +
			"    - {name: back wall, to: [3.8 m, 1.5 m], build: wall}\n    - {name: roof, to: [2.5 m, 2.2 m], build: wall}\n    - {name: glass, to: [-0.6 m, 0 m], glazing: twin_wall_10mm}\n" +
			"    - {name: front slope, to: [0 m, -1 m], build: bare earth}\nbeds: [{name: bed, from: 0.2 m, to: 1 m, level: 0.2 m}]\nstore: {rows: [{name: drums, drums: 4, at: 2.6 m, diameter: 0.5 m, height: 0.8 m}]}\n"},
		{"step in the floor", "section:\n  length: 6 m\n  start: [0 m, -1 m]\n  edges:\n    - {name: path, to: [1.5 m, -1 m], build: bare earth}\n    - {name: step, to: [1.5 m, -0.4 m], build: bare earth}\n" +
			"    - {name: bench, to: [3.5 m, -0.4 m], build: bare earth}\n    - {name: back wall, to: [3.5 m, 2 m], build: wall}\n    - {name: glass, to: [0 m, 0.3 m], glazing: twin_wall_10mm}\n    - {name: front wall, to: [0 m, -1 m], build: wall}\n" +
			"store: {rows: [{name: drums, drums: 4, at: 0.3 m, diameter: 0.5 m, height: 0.8 m, tiers: 1}]}\n"},
		{"window in the roof", "section:\n  length: 6 m\n  start: [0 m, 0 m]\n  edges:\n    - {name: floor, to: [3 m, 0 m], build: wall}\n    - {name: back wall, to: [3 m, 2.4 m], build: wall}\n" +
			"    - {name: roof, to: [0 m, 1.2 m], build: wall}\n    - {name: front wall, to: [0 m, 0 m], build: wall}\nwindows: [{name: skylight, in: roof, width: 3 m, height: 1 m, glazing: twin_wall_10mm}, {name: pole window, in: back wall, width: 2 m, height: 1 m, glazing: twin_wall_10mm}]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := mustHouse(t, head+c.text)
			g := mustGreenhouse(t, h)
			want := h.Gross / h.Length
			for _, b := range h.Beds {
				want -= (b.X1 - b.X0) * (b.Z - h.FloorZ)
			}
			if got := outlineArea(g); math.Abs(got-want) > 1e-6 {
				t.Errorf("the room is %.4f m² across, the section less its beds %.4f m²", got, want)
			}
			if a := g.room.factors.Adjusted; a > 0.1 {
				t.Errorf("factors were adjusted by %g", a)
			}
			for _, azimuth := range []float64{100, 180, 250} {
				sum := 0.0
				for _, q := range shared(t, g, azimuth, 25) {
					sum += q
				}
				if sum += g.light.LostW; math.Abs(sum-1500*float64(len(g.panes))) > 1e-9 {
					t.Errorf("sun at %g°: %.6f W of 1500 W a pane", azimuth, sum)
				}
			}
			_, r := mustRun(t, h, Setup{StartC: 4, Ground: flat(5)}, spellAt(t, h, bright(2, -6), time.February, 10))
			closes(t, r)
		})
	}
}
