package validation

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// load reads a plan of this folder, with text appended and changes made.
func load(t *testing.T, file, more string, changes ...string) *plan.Plan {
	t.Helper()
	text, err := os.ReadFile("plans/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var list []plan.Change
	for _, c := range changes {
		parsed, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, parsed)
	}
	known := house.Known()
	known.Weather = true
	p, findings := plan.Load(file, append(text, more...), known, list...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	return p
}

// simulate runs a plan as the program's own command does.
func simulate(t *testing.T, p *plan.Plan, year weather.Series) *winter.Answer {
	t.Helper()
	a, err := winter.Run(context.Background(), winter.Request{Plan: p, Year: &year}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if rel := a.Result.Heat.ImbalanceRel; !(rel < 1e-6) {
		t.Errorf("%s: the heat ledger is open by %g", p.Name, rel)
	}
	return a
}

func placeOf(t *testing.T, a *winter.Answer, name string) winter.Place {
	t.Helper()
	for _, p := range a.Places {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("%s has no place %q", a.Plan.Name, name)
	return winter.Place{}
}

// ownPhysics takes the standard's coefficients out of a box's plan: the program's own convection, longwave and inside sun are left.
var ownPhysics = []string{"surfaces.inside=none", "surfaces.outside=none", "surfaces.outside_glazing=none", "sun_shares=none"}

const nightFan = "fans:\n  - {name: night fan, flow: 1703.16 m3/h, hours: 18:00-07:00}\n"

const boxSource = "ANSI/ASHRAE Standard 140, editions 2004 to 2017, ranges of its participants; specification IEA BESTEST, NREL/TP-472-6231, 1995; layers as in EN ISO 52016-1"

const boxInputs = "" + `Plans: [light_box.yaml](../validation/plans/light_box.yaml) (600FF), [heavy_box.yaml](../validation/plans/heavy_box.yaml) (900FF), run by the use case that the command simulate runs, a whole year, its last 20 days first.
"Own" is the same plan with --set surfaces.inside=none surfaces.outside=none surfaces.outside_glazing=none sun_shares=none.

| input | value |
| --- | --- |
| box | 8 m (east-west) by 6 m by 2.7 m, 129.6 m3, floor on ground level, 39.76 N 104.86 W, 1609 m, UTC-7 |
| windows | south, two of 3 by 2 m: panes 3.175 mm, gap 13 mm with 6.297 W/m2K, n 1.526, extinction 19.6 1/m, 1.06 W/mK, emittance 0.84; no frame, no dirt, no shade |
| light walls (inside out) | plasterboard 12 mm 0.16 W/mK 950 kg/m3 840 J/kgK; fibreglass 66 mm 0.04 12 840; siding 9 mm 0.14 530 900 |
| heavy walls | concrete block 100 mm 0.51 1400 1000; foam 61.5 mm 0.04 10 1400; siding 9 mm 0.14 530 900 |
| roof of both | plasterboard 10 mm 0.16 950 840; fibreglass 111.8 mm 0.04 12 840; deck 19 mm 0.14 530 900 |
| floor, light; heavy | timber 25 mm 0.14 650 1200, then 25.075 m2K/W; slab 80 mm 1.13 1400 1000, then 25.175 m2K/W; ground 10 °C |
| surfaces | absorptance 0.6, emittance 0.9 inside and outside |
| air | 0.5 air changes of air of 20 °C at the site's own pressure, which is 0.41 of air at sea-level pressure; 200 W inside all the time, 60 % radiant; no heating, no cooling |
| combined | inside 8.29, outside 29.3, glass outside 21.0 W/m2K; sun inside: floor 0.642, roof 0.168, east and west 0.0385 each, north 0.0525, south 0.0265, rest lost |
| own | none of these: natural convection by Walton 1983 and longwave by view factors inside; wind film by ISO 6946 at the height of the roof in open country, sky and terrain longwave outside (sky by Prata with cloud, the file has none); sun inside by beams traced and all reflections |
| weather | drycold_hourly.csv behind a plain header (day, hour, air, humidity ratio, beam, diffuse, wind): hour ends, local standard time; ground albedo 0.2 |
`

func TestBoxesSun(t *testing.T) {
	t.Parallel()
	s := begin(t, "Whole boxes: sun", boxSource+", tables B8.13 and B8.14", "Plane irradiance after Perez 1990, the sun's path averaged over each hour, ground albedo 0.2, drycold_hourly.csv.")
	year := drycold(t)
	upright := func(facing float64) sun.Plane { return sun.Plane{Tilt: sun.Degrees(90), Azimuth: sun.Degrees(facing)} }
	envelope := table(t, "c06_std140_drycold_hourly_incident_envelope.csv")
	days := map[float64][2][]float64{} // by facing: 27 July, 5 March
	for _, c := range []struct {
		name              string
		facing, low, high float64
	}{{"north", 0, 367, 457}, {"east", 90, 959, 1217}, {"west", 270, 857, 1090}, {"south", 180, 1456, 1566}} {
		var july, march []float64
		sum := incident(year, upright(c.facing), func(i int, w float64) {
			switch i / 24 {
			case 207:
				july = append(july, w)
			case 63:
				march = append(march, w)
			}
		})
		days[c.facing] = [2][]float64{july, march}
		s.within(seen, "incident in the year, "+c.name, sum, c.low, c.high, " kWh/m2")
	}
	s.tell("incident in the year, level", "1797 to 1832 kWh/m2", short(incident(year, sun.Plane{}, nil))+" kWh/m2", "not judged: the file's own beam and diffuse sum to 1849 on the level")
	a := simulate(t, load(t, "light_box.yaml", ""), year)
	entered := 0.0
	for _, w := range a.Result.EnteredW {
		entered += w / 1000 / a.House.GlazedArea()
	}
	s.within(seen, "through the south windows in the year", entered, 914, 1051, " kWh/m2")
	for _, c := range []struct {
		name        string
		facing      float64
		day, column int
		low, high   float64
	}{{"south, 27 July", 180, 0, 1, 3044, 3426}, {"west, 27 July", 270, 0, 4, 2975, 3876}, {"south, 5 March", 180, 1, 7, 444, 512}, {"west, 5 March", 270, 1, 10, 437, 504}} {
		got := days[c.facing][c.day]
		sum := 0.0
		for _, w := range got {
			sum += w
		}
		s.within(seen, "incident of the day, "+c.name, sum, c.low, c.high, " Wh/m2")
		hours(t, s, c.name, got, envelope, c.column)
	}
	s.done(t)
}

// hours holds a day's hours against the envelope of the participants.
func hours(t *testing.T, s *section, name string, got []float64, envelope [][]string, column int) {
	outside, worst, words := 0, 0.0, ""
	for h, w := range got {
		low, high := number(t, envelope[h][column]), number(t, envelope[h][column+2])
		off := math.Max(low-w, w-high)
		if off > 0.05 { // the envelope is printed to a tenth
			outside++
			worst = math.Max(worst, off)
			words += fmt.Sprintf(" hour %d: %.1f (%.1f to %.1f);", h+1, w, low, high)
		}
	}
	r := s.add(row{name: "hours inside the envelope, " + name, published: "24 of 24", computed: fmt.Sprintf("%d of 24", 24-outside), allowed: "all", mark: seen, met: outside == 0})
	if outside > 0 {
		r.missed = fmt.Sprintf("Outside by at most %.1f W/m2:%s the day's sum is inside. No shift of the sun's time mends it: the south face of 27 July comes nearest with the sun 15 minutes earlier, the west face 7 minutes later. It is the file's light: beam by geometry, half its diffuse and a tenth of its global, the plainest sky there is, are outside the south envelope in the same six hours (141, 244, 360, 439, 85 and 68 W/m2), and the sheet of ISO 52010-1 too computes more than the envelope from it. The file has 188 W/m2 of diffuse in hour 9 and 42 in hour 16 of this clear day; its sum on the level is outside the published range as well.", worst, words)
	}
}

func TestBoxesFree(t *testing.T) {
	t.Parallel()
	s := begin(t, "Whole boxes: free floating", boxSource, boxInputs)
	year := drycold(t)
	type rangeOf struct{ low, high float64 }
	for _, c := range []struct {
		name, file     string
		max, min, mean rangeOf
	}{
		{"light box", "light_box.yaml", rangeOf{64.9, 75.1}, rangeOf{-18.8, -15.6}, rangeOf{24.2, 27.4}},
		{"heavy box", "heavy_box.yaml", rangeOf{41.8, 46.4}, rangeOf{-6.4, -1.6}, rangeOf{24.5, 27.5}},
	} {
		for _, v := range []struct {
			name    string
			changes []string
		}{{"combined coefficients", nil}, {"own convection, longwave, inside sun", ownPhysics}} {
			a := simulate(t, load(t, c.file, "", v.changes...), year)
			p := placeOf(t, a, "air")
			name := c.name + ", " + v.name + ": "
			s.within(seen, name+"highest", p.HighestC, c.max.low, c.max.high, " °C").note = at(a, highest)
			s.within(seen, name+"lowest", p.LowestC, c.min.low, c.min.high, " °C").note = at(a, lowest)
			s.within(seen, name+"mean", p.MeanC, c.mean.low, c.mean.high, " °C")
		}
	}
	newerEdition(t, s)
	for _, box := range []struct{ name, published string }{{"light box", "64.9 to 75.1 / -18.8 to -15.6 / 24.2 to 27.4 °C"}, {"heavy box", "41.8 to 46.4 / -6.4 to -1.6 / 24.5 to 27.5 °C"}} {
		own := box.name + ", own convection, longwave, inside sun: "
		s.head(box.name, box.name+", own physics: highest / lowest / mean", box.published, s.computed(t, own+"highest")+" / "+s.computed(t, own+"lowest")+" / "+s.computed(t, own+"mean"), "inside the range")
	}
	s.done(t)
}

func lowest(a, b float64) bool  { return a < b }
func highest(a, b float64) bool { return a > b }

// at tells when the air of a box is at an extreme.
func at(a *winter.Answer, before func(x, y float64) bool) string {
	tr := a.Result.Trace("air")
	k := 0
	for i, c := range tr.C {
		if before(c, tr.C[k]) {
			k = i
		}
	}
	return a.Result.Time(k).Format("2 January 15 h")
}

// newerEdition shows the boxes in the weather of the 2020 edition. Its window and coefficients are others, so nothing is judged.
func newerEdition(t *testing.T, s *section) {
	for _, c := range []struct{ name, file, published string }{
		{"light box", "light_box.yaml", "62.4 to 68.4 / -13.8 to -9.9 / 24.3 to 26.1 °C"},
		{"heavy box", "heavy_box.yaml", "43.3 to 46 / 0.6 to 2.2 / 24.5 to 25.7 °C"},
	} {
		changes := append([]string{"site.latitude=39.83 deg", "site.longitude=-104.65 deg", "site.elevation=1650 m"}, ownPhysics...)
		pl := load(t, c.file, "", changes...)
		p := placeOf(t, simulate(t, pl, typical(t, "725650TYA.CSV.gz", winter.PlaceOf(pl))), "air")
		r := s.tell(c.name+", own physics, weather of the 2020 edition: highest / lowest / mean", c.published,
			fmt.Sprintf("%.1f / %.1f / %.1f °C", p.HighestC, p.LowestC, p.MeanC), "not counted: the 2020 edition has another window and other coefficients than these plans")
		r.source = "ANSI/ASHRAE Standard 140-2020, station 725650"
	}
}

func TestBoxesNightFan(t *testing.T) {
	t.Parallel()
	s := begin(t, "Whole boxes: night fan", "IEA BESTEST, NREL/TP-472-6231 (cases 650FF, 950FF); no published range is at hand",
		"The same boxes with a fan of 1703.16 m3/h of air of 20 °C at the site's own pressure from 18:00 to 07:00, beside infiltration, no heat of its own.")
	year := drycold(t)
	for _, c := range []struct{ name, file string }{{"light box with a night fan", "light_box.yaml"}, {"heavy box with a night fan", "heavy_box.yaml"}} {
		for _, v := range []struct {
			name    string
			changes []string
		}{{"combined", nil}, {"own", ownPhysics}} {
			p := placeOf(t, simulate(t, load(t, c.file, nightFan, v.changes...), year), "air")
			s.tell(c.name+", "+v.name+": highest / lowest / mean", "-", fmt.Sprintf("%.1f / %.1f / %.1f °C", p.HighestC, p.LowestC, p.MeanC), "")
		}
	}
	s.done(t)
}
