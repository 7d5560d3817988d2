package sunhours

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"suncellar/examples"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

func houseOf(t *testing.T, text []byte, changes ...string) *house.House {
	t.Helper()
	var list []plan.Change
	for _, c := range changes {
		one, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, one)
	}
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load("plan.yaml", text, known, list...)
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	return h
}

func on(t *testing.T, h *house.House, month time.Month, day int) *Day {
	t.Helper()
	d, err := On(h, month, day)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func hours(share []float64) float64 {
	sum := 0.0
	for _, s := range share {
		sum += s * 24 / Steps
	}
	return sum
}

// glassBox is a box of 4 by 2 m whose front is glass, 60 m long so that its ends do not matter, at 40° north, facing south.
const glassBox = `
suncellar: 1
name: glass box
site: {latitude: 40 deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC+0}
builds: {wall: {r_value: R-10}}
section:
  length: 60 m
  start: [0 m, 0 m]
  edges:
    - {name: floor, to: [4 m, 0 m], build: wall}
    - {name: back, to: [4 m, 2 m], build: wall}
    - {name: top, to: [0 m, 2 m], build: wall}
    - {name: front, to: [0 m, 0 m], glazing: twin_wall_8mm}
ends: {build: wall}
`

// Wanted: by hand. With the hour angle H and c = cos H the sun has the height sin 40° sin d + cos 40° cos d c and goes to the south by sin 40° cos d c - cos 40° sin d; a spot of the
// floor x behind the front sees it while height/south < 2/x. On 21 December (d = -23.44°) that is all day, 2 acos(-tan 40° tan d)/15° = 9.16 h, up to x = 3; at the equinox 11.6 h at x = 1
// (0.766/0.643 = 1.19 all day, but within 1.9° of east and west, two times 12 minutes, an end wall stands before it) and none at x = 3; on 21 June the sun in the south is too high for both.
func TestHoursByHand(t *testing.T) {
	h := houseOf(t, []byte(glassBox))
	for _, row := range []struct {
		month time.Month
		day   int
		x     float64
		want  float64
	}{{12, 21, 1, 9.16}, {12, 21, 3, 9.16}, {3, 20, 1, 11.6}, {3, 20, 3, 0}, {6, 21, 1, 0}} {
		if got := hours(on(t, h, row.month, row.day).At(Spot{row.x, near, 30})); math.Abs(got-row.want) > 0.2 {
			t.Errorf("%d %s at %g m: %.2f h, want %.2f", row.day, row.month, row.x, got, row.want)
		}
	}
	if d := on(t, h, 12, 21); math.Abs(d.Set-d.Rise-9.33) > 0.1 { // with refraction and the disc's radius, 20 minutes more
		t.Errorf("from %g to %g h", d.Rise, d.Set)
	}
	if got := hours(on(t, houseOf(t, []byte(glassBox), "site.banks=[{name: hill, distance: 10 m, height: 11 m}]"), 12, 21).At(Spot{1, near, 30})); got != 0 {
		t.Errorf("behind a bank of 45°: %g h", got)
	}
	if _, err := On(h, 2, 30); err == nil {
		t.Error("30 February is a day")
	}
}

// What stands in the way takes its share: a row of drums along half the house takes half, a bed all.
func TestWhatStandsInTheWay(t *testing.T) {
	rows := "store={rows: [{name: drums, drums: 50, at: 1.5 m, diameter: 60 cm, height: 1.9 m, tiers: 1}]}" // 30 m of 60
	behind := Spot{2.5, near, 30}
	free, half := hours(on(t, houseOf(t, []byte(glassBox)), 12, 21).At(behind)), hours(on(t, houseOf(t, []byte(glassBox), rows), 12, 21).At(behind))
	if math.Abs(half-free/2) > 0.05 {
		t.Errorf("behind drums that fill half: %.2f h of %.2f", half, free)
	}
	d := on(t, houseOf(t, []byte(glassBox), rows, "beds=[{name: bed, from: 3 m, to: 3.8 m, level: 0.5 m, leaf_height: 20 cm}]"), 12, 21)
	for _, row := range []struct {
		x, z float64
		want Place
	}{
		{3.4, 0.2, Place{X: 3.4, Z: 0.501, Of: "bed", AboveM: 0.001, GlassM: 3.4}},
		{3.4, 0.6, Place{X: 3.4, Z: 0.6, Of: "bed", AboveM: 0.1, GlassM: 3.4}},
		{3.4, 1.6, Place{X: 3.4, Z: 1.6, AboveM: 1.6, GlassM: 3.4}},
		{1.5, 1, Place{X: 1.199, Z: 1, Of: "drums", Drums: true, AboveM: 1, GlassM: 1.199}},
	} {
		got, err := d.Take(row.x, row.z)
		if err != nil || got.Of != row.want.Of || got.Drums != row.want.Drums || math.Abs(got.X-row.want.X)+math.Abs(got.Z-row.want.Z)+math.Abs(got.AboveM-row.want.AboveM)+math.Abs(got.GlassM-row.want.GlassM) > 1e-6 {
			t.Errorf("(%g, %g): %+v, %v, want %+v", row.x, row.z, got, err, row.want)
		}
	}
	for _, out := range [][2]float64{{-1, 1}, {5, 1}, {2, 3}, {2, -1}} {
		if _, err := d.Take(out[0], out[1]); err == nil {
			t.Errorf("%v is in the room", out)
		}
	}
}

// Whatever the plan, day and spot: shares from 0 to 1, none before the sun is up, no more in the shade of a bank than without.
func TestAnySpotAnyDay(t *testing.T) {
	type pair struct{ free, shaded *house.House }
	var houses []pair
	for _, e := range examples.All() {
		houses = append(houses, pair{houseOf(t, e.Plan), houseOf(t, e.Plan, "site.banks=[{name: berm, distance: 6 m, height: 4 m}]")})
	}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(houses).Draw(t, "house")
		month, day := time.Month(rapid.IntRange(1, 12).Draw(t, "month")), rapid.IntRange(1, 28).Draw(t, "day")
		d, err := On(p.free, month, day)
		if err != nil {
			t.Fatal(err)
		}
		place, err := d.Take(rapid.Float64Range(0, 4.6).Draw(t, "x"), rapid.Float64Range(-1.4, 4).Draw(t, "z"))
		if err != nil {
			return
		}
		at := Spot{place.X, place.Z, rapid.Float64Range(0.01, p.free.Length-0.01).Draw(t, "along")}
		free := d.At(at)
		dark, err := On(p.shaded, month, day)
		if err != nil {
			t.Fatal(err)
		}
		for k, s := range dark.At(at) {
			hour := (float64(k) + 0.5) * 24 / Steps
			if !(free[k] >= 0 && free[k] <= 1) || free[k] > 0 && (hour < d.Rise || hour > d.Set) || s > free[k]+1e-12 {
				t.Fatalf("at %.2f h: %g, with a bank %g, sun from %g to %g h", hour, free[k], s, d.Rise, d.Set)
			}
		}
	})
}
