package worth

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// pit is a small sunken house on a coarse mesh, run for a few days: invented.
const pit = `
suncellar: 1
name: small pit
site:
  latitude: 46 deg
  longitude: -110 deg
  elevation: 1200 m
  time_zone: UTC-7
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
leakage: {area: 60 cm2}
snow: {list: [{date: 01-02, depth: 10 cm}]}
store: {rows: [{name: drums, drums: 9, at: 3.6 m, fill: 95 %}]}
beds: [{name: bed, from: 0.2 m, to: 1.4 m}]
ground: {built: 12-31, finest_cell: 20 cm, reach: 4 m}
run: {from: 01-01, until: 01-04}
`

// box is a room on no soil in the same weather, quick to run: invented.
var box = pit[:strings.Index(pit, "shape:")] + `
builds:
  board: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 100 mm}]}
section:
  length: 4 m
  start: [0 m, 0 m]
  edges:
    - {name: floor, to: [3 m, 0 m], build: board, behind: adiabatic}
    - {name: north wall, to: [3 m, 2 m], build: board}
    - {name: roof, to: [0 m, 2 m], build: board}
    - {name: south wall, to: [0 m, 0 m], build: board}
ends: {build: board}
leakage: {area: 60 cm2}
store: {rows: [{name: drums, drums: 4, at: 2 m, fill: 95 %}]}
ground: {built: 12-31}
run: {from: 01-01, until: 01-04}
`

func load(t *testing.T, text string) *plan.Plan {
	t.Helper()
	p, findings := plan.Load("pit.yaml", []byte(text), house.Known())
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	return p
}

// year is the weather of the pit, made once.
var year = sync.OnceValues(func() (weather.Series, error) {
	p, _ := plan.Load("pit.yaml", []byte(pit), house.Known())
	return winter.Make(p, 1)
})

func request(t *testing.T, text string, variants ...Variant) Request {
	t.Helper()
	y, err := year()
	if err != nil {
		t.Fatal(err)
	}
	return Request{Plan: load(t, text), Year: &y, Variants: variants}
}

func set(pairs ...string) Variant {
	var v Variant
	for i := 0; i < len(pairs); i += 2 {
		v.Changes = append(v.Changes, plan.Change{Path: pairs[i], Value: pairs[i+1], Origin: plan.Changed})
	}
	return v
}

func compare(t *testing.T, req Request) *Answer {
	t.Helper()
	a, err := Compare(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// numbers is what has to agree bit for bit.
func numbers(r Row) []any {
	return []any{r.Variant, r.HasPlace, r.HasNight, r.Figures, r.By, r.Notes}
}

// TestIdentity: a plan beside itself differs by exactly nothing.
func TestIdentity(t *testing.T) {
	t.Parallel()
	a := compare(t, request(t, pit, set("leakage.area", "60 cm2")))
	for _, row := range a.Rows {
		if row.By != (Difference{}) || !row.HasPlace || !row.HasNight || len(row.Notes) > 0 || row.Figures != a.Base {
			t.Errorf("%s: %+v %v", row.Variant.Name(), row.By, row.Notes)
		}
	}
	if a.Place != "bed, leaf tips, back side" || a.Base.LowestC != a.First.Places[a.First.Watched].LowestC || a.Base.NightC != a.Base.LowestC {
		t.Errorf("%s: lowest %g, night %g", a.Place, a.Base.LowestC, a.Base.NightC)
	}
	if a.Night[0].Hour() != 12 || a.Night[1].Sub(a.Night[0]) != 24*time.Hour || !a.Base.LowestAt.After(a.Night[0]) || a.Base.LowestAt.After(a.Night[1]) {
		t.Errorf("night %v, lowest at %v", a.Night, a.Base.LowestAt)
	}
}

// TestOrder: neither the order of the variants nor how many run at once changes a bit.
func TestOrder(t *testing.T) {
	t.Parallel()
	variants := []Variant{set("leakage.area", "400 cm2"), set("store.rows.drums.drums", "3")}
	one := request(t, pit, variants...)
	one.AtOnce = 1
	turned := slices.Clone(variants)
	slices.Reverse(turned)
	many := request(t, pit, turned...)
	many.AtOnce = 2
	a, b := compare(t, one), compare(t, many)
	slices.Reverse(b.Rows)
	for i := range variants {
		if !reflect.DeepEqual(numbers(a.Rows[i]), numbers(b.Rows[i])) {
			t.Errorf("%s: %+v and %+v", variants[i].Name(), a.Rows[i].By, b.Rows[i].By)
		}
	}
	if a.Base != b.Base || a.Night != b.Night {
		t.Errorf("first plan: %+v and %+v", a.Base, b.Base)
	}
	leaky, dry := a.Rows[0], a.Rows[1]
	if leaky.By.LowestK >= 0 || leaky.By.MeanK >= 0 || leaky.By.NightK < leaky.By.LowestK || leaky.By.WaterM3 != 0 {
		t.Errorf("more leakage: %+v", leaky.By)
	}
	if want := -6.0 / 9 * a.First.House.Water(); math.Abs(dry.By.WaterM3-want) > 1e-12 {
		t.Errorf("six of nine drums less: %g m³, want %g", dry.By.WaterM3, want)
	}
	if a.Base.LightMol <= 0 || dry.By.LightMol < 0 { // drums take light from the beds
		t.Errorf("light at the beds %g, %+g with fewer drums", a.Base.LightMol, dry.By.LightMol)
	}
}

// TestBadChange: its findings come by name, and nothing else is lost.
func TestBadChange(t *testing.T) {
	t.Parallel()
	req := request(t, box, set("leakage.area", "60 cm"), set("leakage.area", "30 cm2"), Variant{Label: "too many drums", Changes: set("store.rows.drums.drums", "90").Changes})
	bad := req.Check()
	if len(bad) != 2 || bad[0].Name != "leakage.area=60 cm" || bad[1].Name != "too many drums" {
		t.Fatalf("found %v", bad)
	}
	a, err := Compare(context.Background(), req, nil)
	if a == nil || err == nil {
		t.Fatalf("answer %v, error %v", a, err)
	}
	var ce *ChangeError
	var f plan.Finding
	if !errors.As(err, &ce) || !errors.As(err, &f) || f.Path != "leakage.area" {
		t.Errorf("no finding in %v", err)
	}
	for _, want := range []string{`change "leakage.area=60 cm"`, `change "too many drums"`, "the house is 4.00 m long"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in %v", want, err)
		}
	}
	if good := a.Rows[1]; good.Err != nil || !good.HasPlace || good.By.MeanK <= 0 {
		t.Errorf("the good change: %+v", good.By)
	}
	if a.Rows[0].Err == nil || a.Rows[2].Err == nil {
		t.Error("a bad change has no error of its own")
	}
}

// TestPlace: a place that a variant lacks is told, one that the first plan lacks is refused; so is a night that is not run.
func TestPlace(t *testing.T) {
	t.Parallel()
	req := request(t, pit, set("beds.bed.name", "long bed"), set("run.from", "01-03"))
	req.Place = "bed, soil 10 cm"
	a := compare(t, req)
	renamed, short := a.Rows[0], a.Rows[1]
	if renamed.HasPlace || renamed.By.LowestK != 0 || !strings.Contains(strings.Join(renamed.Notes, "; "), `"bed, soil 10 cm" is no place of the house with this change`) {
		t.Errorf("renamed: %+v %v", renamed.By, renamed.Notes)
	}
	if !short.HasPlace || !strings.Contains(strings.Join(short.Notes, "; "), "it counts 48 h from 01-03, the first plan 96 h from 01-01") {
		t.Errorf("shorter: %+v", short.Notes)
	}
	if a.Night[1].After(short.Winter.Result.Start) == !short.HasNight || !short.HasNight && short.By.NightK != 0 {
		t.Errorf("night %v in a run from %s: %+v", a.Night, short.Winter.Result.Start, short)
	}
	req.Place = "bed, soil 11 cm"
	if _, err := Compare(context.Background(), req, nil); err == nil || !strings.Contains(err.Error(), "did you mean") {
		t.Errorf("a place that is not there: %v", err)
	}
}

// TestWeather: all share the winter made from the first plan, unless the change is of what it is made from.
func TestWeather(t *testing.T) {
	t.Parallel()
	req := request(t, box, set("leakage.area", "60 cm2"), set("run.seed", "2"))
	req.Year = nil
	last, total := 0, 0
	a, err := Compare(context.Background(), req, func(done, of int) {
		if done < last {
			t.Errorf("progress goes back from %d to %d", last, done)
		}
		last, total = done, of
	})
	if err != nil {
		t.Fatal(err)
	}
	if last != total || total == 0 {
		t.Errorf("progress ends at %d of %d", last, total)
	}
	if !a.First.Made || !a.Rows[0].Winter.Made || a.Rows[0].By != (Difference{}) || len(a.Rows[0].Notes) > 0 {
		t.Errorf("same winter: %+v %v", a.Rows[0].By, a.Rows[0].Notes)
	}
	if a.Rows[1].By.LowestK == 0 || len(a.Rows[1].Notes) == 0 {
		t.Errorf("another winter: %+v %v", a.Rows[1].By, a.Rows[1].Notes)
	}
}

func TestCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if a, err := Compare(ctx, request(t, box, set()), nil); a != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("answer %v, error %v", a, err)
	}
}

func TestNight(t *testing.T) {
	at := func(day, hour int) time.Time { return time.Date(2002, 1, day, hour, 0, 0, 0, time.UTC) }
	for _, c := range []struct{ at, from time.Time }{
		{at(5, 7), at(4, 12)}, {at(5, 12), at(4, 12)}, {at(5, 13), at(5, 12)}, {at(1, 0), time.Date(2001, 12, 31, 12, 0, 0, 0, time.UTC)},
	} {
		if n := nightOf(c.at); n[0] != c.from || n[1] != c.from.AddDate(0, 0, 1) {
			t.Errorf("%v lies in the night %v, want from %v", c.at, n, c.from)
		}
	}
}
