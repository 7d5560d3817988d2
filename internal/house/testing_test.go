package house

import (
	"math"
	"testing"

	"suncellar/internal/plan"
)

// builds are what every plan of these tests may name.
const builds = `
builds:
  wall: {layers: [{material: concrete poured, thickness: 200 mm}, {material: xps, thickness: 50 mm}]}
  thin: {r_value: 2 m2K/W}
`

const head = `
suncellar: 1
name: test
site: {latitude: %LAT deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC+0}
`

// pit is 6 by 4 m, 1.2 m deep: its glazing rises at 45° from 0.3 m, its back roof at the angle whose tangent is 0.5 from 1.3 m, so that
// they meet where 0.3 + x = 1.3 + (4-x)/2: x = 2, z = 2.3.
const pit = head + builds + `
shape: {kind: pit, length: 6 m, width: 4 m, depth: 1.2 m, front_height: 0.3 m, back_height: 1.3 m, glazing_slope: 45 deg, back_roof_slope: 26.565051177077990 deg,
  glazing: twin_wall_10mm, front_wall: wall, back_wall: wall, back_roof: thin, floor: thin}
ends: {build: thin}
`

func read(t testing.TB, text string, changes ...string) *plan.Plan {
	t.Helper()
	known := Known()
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
	return p
}

func resolved(t testing.TB, text string, changes ...string) *House {
	t.Helper()
	h, bad := Resolve(read(t, text, changes...))
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	return h
}

// reporter is a test or a draw of one.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

func near(t reporter, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

const degrees = math.Pi / 180
