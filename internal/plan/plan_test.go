package plan

import (
	"math"
	"strings"
	"testing"
)

// pit is a good plan in the short form, with most parts. All of it is invented.
const pit = `suncellar: 1
name: Kale pit   # the old one
notes: |
  Dug by hand: two weeks.
  - mind the "stone"
site:
  place: Hollow Farm
  latitude: 44.2 deg
  longitude: -105.5 deg
  elevation: 4500 ft
  time_zone: America/Denver
  soil: {texture: sandy loam, moisture: 40 %}
climate:
  source: invented
  mean_low: [-12 degC, -10 degC, -6 degC, -1 degC, 4 degC, 9 degC, 13 degC, 12 degC, 6 degC, 0 degC, -6 degC, -11 degC]
  mean_high: [1 degC, 3 degC, 8 degC, 14 degC, 19 degC, 25 degC, 31 degC, 30 degC, 23 degC, 15 degC, 7 degC, 1 degC]
  sun: [1.9 kWh/m2, 2.8 kWh/m2, 4.2 kWh/m2, 5.2 kWh/m2, 6.1 kWh/m2, 6.9 kWh/m2, 7.1 kWh/m2, 6.1 kWh/m2, 4.8 kWh/m2, 3.2 kWh/m2, 2.1 kWh/m2, 1.6 kWh/m2]
  precipitation: [13 mm, 14 mm, 25 mm, 45 mm, 65 mm, 60 mm, 35 mm, 28 mm, 32 mm, 30 mm, 17 mm, 14 mm]
  wet_days: [6, 6, 8, 9.5, 11, 10, 8, 7, 7, 7, 6, 6]
  wind: [5 m/s, 5 m/s, 5 m/s, 5 m/s, 4.5 m/s, 4 m/s, 4 m/s, 4 m/s, 4 m/s, 4.5 m/s, 5 m/s, 5 m/s]
snow:
  list:
    - {date: 12-24, depth: 6 in}
    - date: 2025-01-10
      depth: 20 cm
materials:
  straw clay: {conductivity: 0.2 W/mK, density: 600 kg/m3, specific_heat: 1000 J/kgK}
glazings:
  old windows: {transmittance: 70 %, u_value: 2.8 W/m2K}
  two sheets:
    panes:
      - {thickness: 4 mm, extinction: 20 1/m}
      - {thickness: 4 mm, extinction: 20 1/m, emittance: 0.2}
    gaps: [{thickness: 12 mm}]
builds:
  earth wall:
    layers:
      - {material: concrete, thickness: 8 in}
      - {material: xps, thickness: 2 in}
      - {r_value: R-1}
  insulated roof:
    r_value: R-30
shape:
  kind: pit
  length: 24 ft
  width: 12 ft
  depth: 4 ft
  back_height: 3 ft
  glazing_slope: 55 deg
  glazing: twin wall 16 mm
  front_wall: earth wall
  back_wall: earth wall
  back_roof: insulated roof
ends: {build: earth wall}
windows:
  - {name: little one, in: left end, width: 60 cm, height: 60 cm, glazing: old windows}
doors:
  - in: right end
cover:
  r_value: R-4
  hours: 17:00-08:00
vents:
  - {name: high, in: back roof, area: 2 ft2, height: 7 ft, open_above: 75 degF}
leakage:
  per_area: 2 cm2/m2
store:
  rows:
    - {name: back, drums: 12, at: 10.5 ft}
    - name: front
      drums: 4
      diameter: 38 cm
      height: 60 cm
      at: 0.5 m
beds:
  - {name: south, from: 3 ft, to: 6 ft}
  - {name: north, from: 6 ft, to: 9 ft, level: 1 ft}
cold_sink: {from: 0 ft, to: 2 ft, depth: 1 ft}
tubes:
  - name: four
    count: 4
    diameter: 4 in
    length: 20 ft
    depth: 45 in
    inlet: {height: -8 in}
    outlet: {height: 6 ft}
    fan: {flow: 120 cfm, power: 20 W, below: 45 degF, above: 77 degF}
run: whole year
`

// box is a good plan in the long form: a light box on stilts. All of it is invented.
const box = `suncellar: 1
name: 'Test box'
units: US
site: {latitude: 40 deg, longitude: 105 deg, elevation: 0 m, time_zone: UTC+7}
builds:
  light: {layers: [{material: wood, thickness: 9 mm}, {r_value: 2 m2K/W}], inside: {absorptance: 0.6}}
section:
  length: 8 m
  start: [0 m, 0.5 m]
  edges:
    - {name: sun side, to: [0 m, 3.2 m], build: light, behind: air}
    - {name: roof, to: [6 m, 3.2 m], build: light}
    - {name: back, to: [6 m, 0.5 m], build: light, behind: fixed 10 degC}
    - {name: boards, to: [0 m, 0.5 m], build: light, behind: adiabatic}
ends:
  left: {build: light}
  right: {behind: adiabatic}
windows:
  - {name: pair, in: sun side, width: 3 m, height: 2 m, count: 2, glazing: clear double}
leakage: {air_changes: 0.5 ach}
heat:
  - {name: lamp, power: 200 W, radiant: 60 %, hours: always}
surfaces: {inside: 8.3 W/m2K}
sun_shares: {boards: 64 %, roof: 0.17}
run: {span: winter, from: 2024-10-01, until: 2025-04-30, limit: 32 degF}
`

func library() Known {
	return Known{
		Materials: []string{"concrete", "xps", "wood", "concrete poured"},
		Glazings:  []string{"twin wall 16 mm", "clear double", "triple wall 16mm"},
		Drums:     []string{"drum 55 gal", "drum 30 gal", "tote 275 gal"},
	}
}

func withWeather() Known { k := library(); k.Weather = true; return k }

func mustLoad(t *testing.T, text string, changes ...Change) *Plan {
	t.Helper()
	p, findings := Load("plan.yaml", []byte(text), withWeather(), changes...)
	for _, f := range findings {
		t.Error(f)
	}
	if p == nil {
		t.FailNow()
	}
	return p
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(1, math.Abs(b)) }

func TestReadGoodPlans(t *testing.T) {
	p, b := mustLoad(t, pit), mustLoad(t, box)
	for _, row := range []struct {
		what      string
		got, want float64 // exact by the definitions of the units
	}{
		{"latitude", p.Site.Latitude, 44.2 * math.Pi / 180},
		{"elevation", p.Site.Elevation, 4500 * 0.3048},
		{"zone", float64(p.Site.TimeZone.OffsetS), -7 * 3600},
		{"depth", p.Shape.Depth, 4 * 0.3048},
		{"front height, assumed", p.Shape.FrontHeight, 0.3},
		{"slope", *p.Shape.GlazingSlope, 55 * math.Pi / 180},
		{"low of December", p.Climate.MeanLow[11], -11},
		{"sun of June", p.Climate.Sun[5], 6.9},
		{"wet days", p.Climate.WetDays[3], 9.5},
		{"first snow", p.Snow.List[0].Depth, 6 * 0.0254},
		{"year of the second snow", float64(p.Snow.List[1].Date.Year), 2025},
		{"R-30", *p.Builds["insulated roof"].RValue, 30 * 3600 * 0.3048 * 0.3048 * 5 / (1055.05585262 * 9)},
		{"pane index, assumed", p.Glazings["two sheets"].Panes[1].Index, 1.526},
		{"open above", *p.Vents[0].Above, (75. - 32) * 5 / 9},
		{"leakage", p.Leakage.PerArea, 2e-4},
		{"drums", float64(p.Store.Rows[0].Drums), 12},
		{"level, assumed", p.Beds[0].Level, 0.2},
		{"level", p.Beds[1].Level, 0.3048},
		{"cover hours", p.Cover.Hours.From, 17},
		{"cover until, assumed", float64(p.Cover.Until.Month), 4},
		{"corner", b.Section.Edges[1].To[0], 6},
		{"fixed", b.Section.Edges[2].Behind.FixedC, 10},
		{"share", b.SunShares["boards"], 0.64},
		{"always", b.Heat[0].Hours.Until, 24},
		{"limit", b.Run.Limit, 0},
		{"air changes", *b.Leakage.AirChanges, 0.5},
	} {
		if !near(row.got, row.want) {
			t.Errorf("%s is %v, want %v", row.what, row.got, row.want)
		}
	}
	if p.Run.Span != "whole year" || p.Shape.Floor != BareEarth || p.Site.Facing != nil || b.Ends.Right.Behind.What != "adiabatic" {
		t.Errorf("words: run %q, floor %q, facing %v, right end %v", p.Run.Span, p.Shape.Floor, p.Site.Facing, b.Ends.Right)
	}
	if want := "Dug by hand: two weeks.\n- mind the \"stone\""; p.Notes != want {
		t.Errorf("notes are %q, want %q", p.Notes, want)
	}
	if _, findings := Load("plan.yaml", []byte(strings.ReplaceAll(pit, "\n", "\r\n")), library()); len(findings) > 0 {
		t.Errorf("with the line ends of Windows: %v", findings[0])
	}
}

// An empty list of snowfalls says that none falls; no list says nothing.
func TestSnowNeverFalls(t *testing.T) {
	monthly := "{fall: [1 cm, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m], days: [1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]}"
	for _, row := range []struct {
		what string
		plan *Plan
		want bool
	}{
		{"no snow written", mustLoad(t, box), false},
		{"an empty list", mustLoad(t, box+"snow: {list: []}\n"), true},
		{"an empty list on lines of its own", mustLoad(t, box+"snow:\n  brushed: morning after\n  list:\n    []\n"), true},
		{"months", mustLoad(t, box+"snow: "+monthly+"\n"), false},
		{"dated snowfalls", mustLoad(t, pit), false},
		{"an empty list by a change", mustLoad(t, pit, change(t, "snow.list=[]")), true},
		{"every snowfall taken out", mustLoad(t, pit, change(t, "snow.list[1]=none"), change(t, "snow.list[0]=none")), true},
		{"snow taken out", mustLoad(t, pit, change(t, "snow=none")), false},
	} {
		if row.plan.Snow.Never() != row.want {
			t.Errorf("%s: never is %v", row.what, !row.want)
		}
	}
	for _, text := range []string{"snow: {list: none}", "snow: {list: }", "snow:\n  list:\n"} {
		if _, findings := Load("plan.yaml", []byte(box+text+"\n"), withWeather()); !Failed(findings) {
			t.Errorf("%q was taken", text)
		}
	}
}
