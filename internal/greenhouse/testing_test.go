package greenhouse

import (
	"context"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// smallPit is a house that computes quickly: coarse cells, four metres of ground round it.
const smallPit = `
suncellar: 1
name: small pit
site: {latitude: 46 deg, longitude: -105 deg, elevation: 1000 m, time_zone: UTC-7, soil: {texture: loam, moisture: 40 %}}
shape:
  {kind: pit, length: 6 m, width: 3.6 m, depth: 1 m, front_height: 0.3 m, back_height: 1.2 m, glazing_slope: 50 deg,
   back_roof_slope: 30 deg, glazing: twin_wall_10mm, front_wall: wall, back_wall: wall, back_roof: roof}
builds:
  wall: {layers: [{material: concrete_block_hollow, thickness: 190 mm}, {material: xps, thickness: 50 mm}]}
  roof: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 150 mm}, {material: plywood, thickness: 15 mm}]}
  end wall: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 100 mm}, {material: plywood, thickness: 12 mm}]}
ends: {build: end wall}
leakage: {area: 100 cm2}
store: {rows: [{name: drums, drums: 8, tiers: 2, bays: 2, at: 3.25 m}]}
beds: [{name: bed, from: 0.3 m, to: 1.5 m, level: 0.3 m}]
ground: {finest_cell: 20 cm, reach: 4 m}
`

// litBox is a box above ground on stilts with a window to the sun and computed coefficients.
const litBox = `
suncellar: 1
name: lit box
site: {latitude: 46 deg, longitude: -105 deg, elevation: 1000 m, time_zone: UTC-7, exposure: open}
builds:
  wall: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 100 mm}, {material: plywood, thickness: 12 mm}]}
section:
  length: 5 m
  start: [0 m, 1 m]
  edges:
    - {name: floor, to: [3 m, 1 m], build: wall, behind: air}
    - {name: back, to: [3 m, 3.5 m], build: wall}
    - {name: roof, to: [0 m, 3.5 m], build: wall}
    - {name: front, to: [0 m, 1 m], build: wall}
ends: {build: wall}
windows: [{name: window, in: front, width: 3 m, height: 1.5 m, glazing: twin_wall_10mm}]
leakage: {air_changes: 0.4 ach}
heat: [{name: things, power: 0 W, radiant: 30 %}]
`

// mustHouse resolves a plan with changes made, such as "beds[0].level=40 cm".
func mustHouse(t testing.TB, text string, changes ...string) *house.House {
	t.Helper()
	known := house.Known()
	known.Weather = true
	var list []plan.Change
	for _, c := range changes {
		change, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, change)
	}
	p, findings := plan.Load("test.yaml", []byte(text), known, list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	return h
}

func placeOf(h *house.House) weather.Place {
	const degrees = 57.29577951308232
	s := h.Plan.Site
	return weather.KnownPlace(s.Latitude*degrees, s.Longitude*degrees, s.Elevation)
}

// spellAt is a spell of steady weather at a house from a date on.
func spellAt(t testing.TB, h *house.House, spec weather.SpellSpec, month time.Month, day int) *weather.Series {
	t.Helper()
	start := time.Date(2023, month, day, 0, 0, 0, 0, time.FixedZone("", -7*3600))
	s, err := weather.Spell(spec, placeOf(h), start)
	if err != nil {
		t.Fatal(err)
	}
	return &s
}

// cold is steady weather without sun: every node of a house that starts above it cools towards it and to the sky.
func cold(days int, meanC float64) weather.SpellSpec {
	return weather.SpellSpec{Days: days, MeanC: meanC, Cloud: 0.5, WindMS: 3, DewPointBelowK: 3}
}

// flat is ground at one temperature.
func flat(c float64) func(float64) float64 { return func(float64) float64 { return c } }

// mustRun runs a house from a setup through weather.
func mustRun(t testing.TB, h *house.House, s Setup, w *weather.Series) (*Greenhouse, *Result) {
	t.Helper()
	g, err := New(h, s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := g.Run(context.Background(), w, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return g, r
}

// lows are the lowest temperatures of all places but outdoors [°C].
func lows(r *Result) map[string]float64 {
	m := map[string]float64{}
	for i := range r.Traces {
		if tr := &r.Traces[i]; tr.Kind != OutPlace {
			m[tr.Name], _ = tr.Lowest()
		}
	}
	return m
}

// typicalYear is a made year of a cold, dry upland valley; the figures are invented.
func typicalYear(t testing.TB, h *house.House) *weather.Series {
	t.Helper()
	n := weather.Normals{
		MeanLowC:      [12]float64{-11, -9, -5, -1, 3, 7, 10, 9, 4, -1, -6, -10},
		MeanHighC:     [12]float64{-1, 2, 7, 13, 18, 23, 29, 28, 22, 14, 5, 0},
		DailySunKWhM2: [12]float64{1.7, 2.6, 3.9, 5.0, 5.9, 6.6, 6.9, 5.9, 4.6, 3.1, 1.9, 1.4},
		PrecipMM:      [12]float64{18, 15, 24, 36, 58, 64, 35, 32, 30, 25, 19, 18},
		WetDays:       [12]float64{8, 7, 8, 9, 11, 11, 7, 7, 7, 7, 7, 8},
		WindMS:        [12]float64{3.6, 3.5, 3.7, 3.9, 3.6, 3.3, 3.0, 2.9, 3.1, 3.4, 3.5, 3.5},
	}
	s, err := weather.Typical(n, placeOf(h), 7)
	if err != nil {
		t.Fatal(err)
	}
	if s, err = weather.Complete(s, placeOf(h)); err != nil {
		t.Fatal(err)
	}
	return &s
}

// spanOf is the sun over one hour of a series.
func spanOf(g *Greenhouse, s *weather.Series, i int) sun.Span {
	return sun.OverHour(g.site.place, s.HourStart(i).Add(time.Hour))
}
