package unknown

import (
	"strings"
	"testing"

	"suncellar/internal/drawn"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

func TestMain(m *testing.M) { drawn.Main(m) }

// pit is a small sunken house on a coarse mesh, run for a few days, that has all that can be not known: invented.
const pit = `
suncellar: 1
name: small pit
site:
  latitude: 46 deg
  longitude: -110 deg
  elevation: 1200 m
  time_zone: UTC-7
  soil: {texture: loam, moisture: 50 %}
  soil_layers: [{to: 30 cm, moisture: 20 %}, {to: 1 m, texture: sand, conductivity: 1.2 W/mK}]
climate:
  mean_low: [-11 degC, -9 degC, -5 degC, -1 degC, 3 degC, 7 degC, 10 degC, 9 degC, 4 degC, -1 degC, -6 degC, -10 degC]
  mean_high: [-1 degC, 2 degC, 7 degC, 13 degC, 18 degC, 23 degC, 29 degC, 28 degC, 22 degC, 14 degC, 5 degC, 0 degC]
  sun: [1.7 kWh/m2d, 2.6 kWh/m2d, 3.9 kWh/m2d, 5.0 kWh/m2d, 5.9 kWh/m2d, 6.6 kWh/m2d, 6.9 kWh/m2d, 5.9 kWh/m2d, 4.6 kWh/m2d, 3.1 kWh/m2d, 1.9 kWh/m2d, 1.4 kWh/m2d]
  precipitation: [18 mm, 15 mm, 24 mm, 36 mm, 58 mm, 64 mm, 35 mm, 32 mm, 30 mm, 25 mm, 19 mm, 18 mm]
  wet_days: [8, 7, 8, 9, 11, 11, 7, 7, 7, 7, 7, 8]
  wind: [3.6 m/s, 3.5 m/s, 3.7 m/s, 3.9 m/s, 3.6 m/s, 3.3 m/s, 3.0 m/s, 2.9 m/s, 3.1 m/s, 3.4 m/s, 3.5 m/s, 3.5 m/s]
shape:
  kind: pit
  length: 6 m
  width: 4 m
  depth: 1 m
  back_height: 1.2 m
  glazing_slope: 45 deg
  glazing: twin_wall_10mm
  front_wall: wall
  back_wall: wall
  back_roof: wall
builds:
  wall: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 150 mm}, {material: plywood, thickness: 12 mm}]}
ends: {build: wall}
frame: {age: 4 yr}
cover: {r_value: 0.7 m2K/W, fit: 70 %}
leakage: {area: 60 cm2}
snow: {list: [{date: 01-02, depth: 10 cm}, {date: 01-03, depth: 5 cm}]}
store: {rows: [{name: drums, drums: 9, at: 3.6 m, fill: 95 %}]}
beds: [{name: bed, from: 0.2 m, to: 1.4 m}]
ground: {built: 12-31, finest_cell: 20 cm, reach: 4 m}
run: {from: 01-01, until: 01-04}
`

// fallen is its snow by months.
const fallen = "{fall: [20 cm, 20 cm, 10 cm, 0 cm, 0 cm, 0 cm, 0 cm, 0 cm, 0 cm, 0 cm, 15 cm, 20 cm], days: [5, 5, 3, 0, 0, 0, 0, 0, 0, 0, 4, 5]}"

// of loads a text with changes, and what is not known of it.
func of(t interface {
	Helper()
	Fatal(...any)
}, text string, changes ...plan.Change) (*plan.Plan, []Input) {
	t.Helper()
	p, findings := plan.Load("pit.yaml", []byte(text), house.Known(), changes...)
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	h, more := house.Resolve(p)
	if plan.Failed(more) {
		t.Fatal(plan.AsError(more))
	}
	return p, Of(p, h)
}

// set makes changes of path=value texts.
func set(texts ...string) []plan.Change {
	var list []plan.Change
	for _, text := range texts {
		path, value, _ := strings.Cut(text, "=")
		list = append(list, plan.Change{Path: path, Value: value, Origin: plan.Changed})
	}
	return list
}

// input is one of a list.
func input(t *testing.T, list []Input, id string) *Input {
	t.Helper()
	for i := range list {
		if list[i].ID == id {
			return &list[i]
		}
	}
	t.Fatalf("no input %s", id)
	return nil
}
