package carry

import (
	"context"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"suncellar/internal/airflow"
	"suncellar/internal/exact"
	"suncellar/internal/house"
	"suncellar/internal/material"
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
store: {rows: [{name: drums, drums: 9, at: 3.6 m, fill: 95 %}]}
beds: [{name: bed, from: 0.2 m, to: 1.4 m}]
snow: {list: [{date: 01-01, depth: 10 cm}]}
ground: {built: 12-30, finest_cell: 20 cm, reach: 4 m}
run: {from: 01-02, until: 01-12}
`

// box is a room that loses heat through its roof alone.
const box = `
suncellar: 1
name: one way out
site: {latitude: 46 deg, longitude: -110 deg, elevation: 0 m, time_zone: UTC-7}
builds:
  tight: {layers: [{r_value: 1 m2K/W}]}
  roof: {layers: [{r_value: 4 m2K/W}]}
section:
  length: 2 m
  start: [0 m, 0 m]
  edges:
    - {name: floor, to: [3 m, 0 m], build: tight, behind: adiabatic}
    - {name: north wall, to: [3 m, 2 m], build: tight, behind: adiabatic}
    - {name: roof, to: [0 m, 2 m], build: roof, behind: air}
    - {name: south wall, to: [0 m, 0 m], build: tight, behind: adiabatic}
ends: {left: {build: tight, behind: adiabatic}, right: {build: tight, behind: adiabatic}}
store: {rows: [{name: drums, drums: 3, at: 1.5 m, fill: 100 %, diameter: 0.57 m, height: 0.85 m}]}
leakage: {air_changes: 0 ach}
surfaces: {inside: 8 W/m2K, outside: 25 W/m2K}
ground: {built: 12-28}
run: {from: 01-01, until: 01-14}
`

func load(t *testing.T, text string, changes ...plan.Change) *plan.Plan {
	t.Helper()
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load("plan.yaml", []byte(text), known, changes...)
	if p == nil {
		t.Fatal(plan.AsError(findings))
	}
	return p
}

// pitYear is the weather of the pit, made once.
var pitYear = sync.OnceValues(func() (weather.Series, error) {
	p, _ := plan.Load("pit.yaml", []byte(pit), house.Known())
	return winter.Make(p, 1)
})

func run(t *testing.T, req Request) *Answer {
	t.Helper()
	a, err := Run(context.Background(), req, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func inPit(t *testing.T, req Request) *Answer {
	t.Helper()
	req = pitRequest(t, req)
	return run(t, req)
}

func pitRequest(t *testing.T, req Request) Request {
	t.Helper()
	year, err := pitYear()
	if err != nil {
		t.Fatal(err)
	}
	if req.Plan == nil {
		req.Plan = load(t, pit)
	}
	req.Year = &year
	return req
}

func boxRequest(t *testing.T, req Request) Request {
	t.Helper()
	req.Plan = load(t, box)
	req.Year, _ = steady(t, req.Plan, weather.SpellSpec{MeanC: -10, Cloud: 1, WindMS: 2})
	return req
}

func is(v float64) *float64 { return &v }

// steady is a year of one spell, told as the spell of Request is.
func steady(t *testing.T, p *plan.Plan, spec weather.SpellSpec) (*weather.Series, Spell) {
	t.Helper()
	spec.Days = 365
	s, err := weather.Spell(spec, winter.PlaceOf(p), time.Date(2001, 1, 1, 0, 0, 0, 0, weather.Zone(-7*time.Hour)))
	if err != nil {
		t.Fatal(err)
	}
	return &s, Spell{&spec.MeanC, &spec.SwingK, &spec.Clearness, &spec.Cloud, &spec.WindMS, &spec.DewPointBelowK, &spec.SnowDepthM}
}

// TestLump holds the time against Newton's law of cooling: water is nearly all the heat that is there, and leaves through the
// roof alone. From the water to the room are the given film of air, the wall of the drums and the film of water, which follows
// from the flow of heat itself and is taken at the middle of the way. The room's air, cold when the water is put at its
// temperature, is warmed by it first. The mean of the water has to agree to 0.5 %; the middle of the drums, which is not
// quite the mean (they lose heat downward too, and the cold water stays below), to 3 %.
func TestLump(t *testing.T) {
	t.Parallel()
	const from, to, outside = 9.0, 6.0, -10.0
	p := load(t, box)
	year, spell := steady(t, p, weather.SpellSpec{MeanC: outside, Cloud: 1, WindMS: 2})
	a := run(t, Request{Plan: p, Year: year, Spell: spell, StoreC: is(from), LimitC: is(to), Place: "drums, middle"})
	row, water := a.House.Rows[0], a.House.Water()
	roof := a.House.Face("roof").Area / (1/8.0 + 4 + 1/25.0)
	stand := 1 / ((row.Wall.R+0.05)/row.TopArea() + 1/(8*a.House.Floor)) // through the floor's face to the air
	side := row.Side() + row.TopArea()
	middle, film, toRoom, total := (from+to)/2, 50.0, 0.0, 0.0
	for range 50 {
		shell := side / (1/8.0 + row.Wall.R + 1/film)
		toRoom = shell + stand
		total = 1 / (1/roof + 1/toRoom)
		q := total * (middle - outside) * shell / toRoom / side // [W/m²]
		film = (film + waterFilm(middle, middle-q/film, row.Height)) / 2
	}
	ofWater, ofAir := water*999.7*4192, a.House.Volume*1.2*1006
	warmed := from - total*(from-outside)/toRoom - a.Lines.AirC[0] // the air [K]
	l := exact.Lump{HeatCapacity: ofWater + ofAir, Conductance: total}
	want := l.TimeTo(to, from-ofAir*warmed/ofWater, outside) / 3600
	mean := math.NaN()
	for i, c := range a.Lines.StoreC[1:] {
		if share, crosses := crossing(a.Lines.StoreC[i], c, to); crosses {
			mean = float64(i) + share
			break
		}
	}
	t.Logf("mean %.2f h, middle %.2f h, Newton's law gives %.2f h (film of water %.0f W/m2K)", mean, a.Hours, want, film)
	if !(math.Abs(mean/want-1) < 0.005) || !(math.Abs(a.Hours/want-1) < 0.03) {
		t.Errorf("mean %.2f h, middle %.2f h, Newton's law gives %.2f h", mean, a.Hours, want)
	}
	if got := a.ReserveJ; math.Abs(got/(ofWater*from)-1) > 1e-9 {
		t.Errorf("reserve %g J, %g m³ at %g °C hold %g", got, water, from, ofWater*from)
	}
}

// waterFilm is free convection of water on an upright wall [W/m²K]: Churchill and Chu 1975 on the difference of density.
func waterFilm(waterC, wallC, height float64) float64 {
	p := material.Water((waterC + wallC) / 2)
	rho := material.WaterDensity(waterC)
	f := airflow.Fluid{ConductivityWMK: p.ConductivityWMK, KinematicM2S: p.KinematicM2S, Prandtl: p.Prandtl}
	return airflow.Upright(f, (rho-material.WaterDensity(wallC))/rho, height)
}

// TestTakeOver begins later in a winter that is itself the spell: the crossing comes at the same instant, since nothing is lost
// between the two houses.
func TestTakeOver(t *testing.T) {
	t.Parallel()
	p := load(t, box, plan.Change{Path: "store.rows[0].start", Value: "14 degC"})
	year, spell := steady(t, p, weather.SpellSpec{MeanC: -12, SwingK: 8, Cloud: 1, WindMS: 2})
	var first time.Time
	for i, day := range []int{2, 3, 5} {
		a := run(t, Request{Plan: p, Year: year, Spell: spell, From: &plan.Date{Month: 1, Day: day}, LimitC: is(3), Place: "air"})
		at := a.Begin.Add(time.Duration(a.Hours * float64(time.Hour)))
		if i == 0 {
			first = at
		}
		if d := at.Sub(first); d.Abs() > 3*time.Minute {
			t.Errorf("from 1 January + %d the limit is crossed at %s, %s off", day-1, at, d)
		}
		if a.Beyond || a.Hours < 24 {
			t.Errorf("from day %d: %g h says nothing of the passage", day, a.Hours)
		}
	}
}

// TestLaws: with a store warmer than the limit, less water and a colder outside never lengthen the time.
func TestLaws(t *testing.T) {
	t.Parallel()
	last := math.Inf(1)
	for _, lose := range []float64{0, 0.35, 1} {
		a := inPit(t, Request{StoreC: is(8), Spell: Spell{OutsideC: is(-12)}, LimitC: is(1), Lose: lose})
		if a.Beyond || a.Hours > last {
			t.Errorf("%.0f %% lost: %.2f h, with more water %.2f h", lose*100, a.Hours, last)
		}
		last = a.Hours
	}
	last = math.Inf(1)
	for _, c := range []float64{-6, -15, -30} {
		a := inPit(t, Request{Spell: Spell{OutsideC: is(c)}, Place: "bed, soil 10 cm", LimitC: is(1)})
		hours := a.Hours
		if a.Beyond {
			hours = MaxDays * 24
		}
		if hours > last {
			t.Errorf("outside at %g °C: %.2f h, milder %.2f h", c, hours, last)
		}
		last = hours
	}
	if last >= MaxDays*24 {
		t.Error("no limit was met: the law was not tried")
	}
}

// TestLost: the lost water takes its share of the reserve along, and all of it leaves empty drums.
func TestLost(t *testing.T) {
	t.Parallel()
	whole := inPit(t, Request{})
	part := inPit(t, Request{Lose: 0.35})
	none := inPit(t, Request{Lose: 1})
	if math.Abs(part.ReserveJ/(0.65*whole.ReserveJ)-1) > 1e-9 || math.Abs(part.LostJ/(0.35*whole.ReserveJ)-1) > 1e-9 {
		t.Errorf("of %g J are left %g, lost %g", whole.ReserveJ, part.ReserveJ, part.LostJ)
	}
	if math.Abs(part.WaterM3/(0.65*whole.WaterM3)-1) > 1e-12 || math.Abs(part.StoreC-whole.StoreC) > 1e-12 {
		t.Errorf("%g of %g m³, %g °C of %g °C", part.WaterM3, whole.WaterM3, part.StoreC, whole.StoreC)
	}
	if none.HasWater || none.ReserveJ != 0 || none.LostJ != whole.ReserveJ || none.Lines.StoreC != nil {
		t.Errorf("all lost: %+v", none)
	}
	if len(whole.Lines.StoreC) != whole.RanHours+1 || len(whole.Lines.PlaceC) != whole.RanHours+1 || len(whole.Lines.ReserveJ) != whole.RanHours+1 ||
		len(whole.Lines.OutsideC) != whole.RanHours+1 || len(whole.Lines.AirC) != whole.RanHours+1 {
		t.Error("lines are not of one length")
	}
	_, err := Run(context.Background(), boxRequest(t, Request{Lose: 1, Place: "drums, top"}), nil)
	if err == nil || !strings.Contains(err.Error(), "no place of this house without its water") {
		t.Errorf("a place that went with the water: %v", err)
	}
}

// TestBeyond: what is not met is told as such.
func TestBeyond(t *testing.T) {
	t.Parallel()
	p := load(t, box)
	year, spell := steady(t, p, weather.SpellSpec{MeanC: 7, Cloud: 1, WindMS: 2})
	a := run(t, Request{Plan: p, Year: year, Spell: spell, StoreC: is(9)})
	if !a.Beyond || a.Hours != -1 || a.RanHours != MaxDays*24 || a.Place != "air" || a.PlaceWhy != "the coldest of all air" {
		t.Errorf("beyond %v, %g h, ran %d h at %s, %s", a.Beyond, a.Hours, a.RanHours, a.Place, a.PlaceWhy)
	}
	if BeyondWords != "more than 60 days at this cold" || strings.Contains(strings.Join(a.Cautions, " "), "safe") {
		t.Error("words of safety")
	}
	at := run(t, Request{Plan: p, Year: year, Spell: spell, StoreC: is(9), LimitC: is(20)})
	if at.Beyond || at.Hours != 0 {
		t.Errorf("below from the start: %g h, beyond %v", at.Hours, at.Beyond)
	}
}

// TestBegin: the spell begins at the first whole hour after the sunset of the day asked for, else of the winter's coldest ten days, and
// says of each condition where it comes from.
func TestBegin(t *testing.T) {
	t.Parallel()
	a := inPit(t, Request{LimitC: is(20), Spell: Spell{Clearness: is(0)}})
	wait := a.Begin.Sub(a.Sunset)
	if wait < 0 || wait >= time.Hour || a.Begin.Minute() != 0 {
		t.Errorf("begins at %s, sunset %s", a.Begin, a.Sunset)
	}
	// sunset at 46° N on 2 January is about 4 h 20 min after the sun's noon, and that at 110° W near 12:24 of UTC-7
	if h := a.Sunset.Hour()*60 + a.Sunset.Minute(); h < 16*60+30 || h > 17*60 {
		t.Errorf("sunset %s", a.Sunset)
	}
	counted := a.Span.Hours[a.Skip:]
	if day, _, _ := (weather.Series{Start: a.Span.HourStart(a.Skip), Hours: counted}).Coldest(240); day.YearDay() != a.Begin.YearDay() {
		t.Errorf("begins on %s, the coldest ten days on %s", a.Begin, day)
	}
	low := math.Inf(1)
	for i := 0; i+72 <= len(counted); i++ {
		sum := 0.0
		for _, h := range counted[i : i+72] {
			sum += h.AirC / 72
		}
		low = math.Min(low, sum)
	}
	want := map[string]Condition{
		"outdoor air, mean": {Value: low}, "day-night swing": {Value: 8}, "clearness": {Given: true}, "share of sky under cloud": {Value: 1}, "wind": {Value: 2},
	}
	for _, c := range a.Conditions {
		w, ok := want[c.Name]
		delete(want, c.Name)
		if ok && (math.Abs(c.Value-w.Value) > 1e-9 || c.Given != w.Given) || c.Given == (c.Source != "") {
			t.Errorf("%+v, want %+v", c, w)
		}
	}
	if len(want) > 0 {
		t.Errorf("not told: %v", want)
	}
	if b := inPit(t, Request{From: &plan.Date{Month: 1, Day: 5}, LimitC: is(20)}); b.Begin.Day() != 5 {
		t.Errorf("from 5 January: %s", b.Begin)
	}
}

func TestRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		req  Request
		want string
	}{
		{Request{Lose: 1.2}, "share of the water lost is 1.2, must be 0 to 1"},
		{Request{LimitC: is(math.NaN())}, "limit is NaN °C, must be -40 to 40 °C"},
		{Request{StoreC: is(90)}, "store is 90 °C, must be -20 to 60 °C"},
		{Request{Spell: Spell{Clearness: is(2)}}, "clearness is 2, must be 0 to 0.8"},
		{Request{Place: "drums, tip"}, `did you mean "drums, top"?`},
		{Request{From: &plan.Date{Month: 7, Day: 1}}, "from: 07-01 is no day of the winter that is run"},
	} {
		_, err := Run(context.Background(), boxRequest(t, c.req), nil)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.req, err, c.want)
		}
	}
}

func TestCrossing(t *testing.T) {
	for _, c := range []struct {
		from, to, limit, share float64
		crosses                bool
	}{
		{2, 1, 0, 0, false}, {1, 0, 0, 0, false}, {1, -1, 0, 0.5, true}, {0, -4, 0, 0, true}, {-1, 3, 0, 0, true}, {4, 0, 1, 0.75, true},
	} {
		if share, crosses := crossing(c.from, c.to, c.limit); share != c.share || crosses != c.crosses {
			t.Errorf("%g to %g past %g: %g %v", c.from, c.to, c.limit, share, crosses)
		}
	}
}

func TestCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	_, err := Run(ctx, boxRequest(t, Request{}), func(done, total int) {
		if told++; done > 0 {
			cancel()
		}
	})
	if err == nil || told == 0 {
		t.Errorf("cancelled after %d reports: %v", told, err)
	}
}
