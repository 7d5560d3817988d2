package validation

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/material"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// tradeFixed is the commit in which the trade house and its inputs were written, before the first run of them.
const tradeFixed = "6a71a0718497a8e2769b0f92b812e9e0e9d37cca"

// tradeFiles are what was fixed, with their sums.
var tradeFiles = map[string]string{
	"plans/trade_house.yaml": "3d263265d9ec9303f663b0407b115311229a85fa2adb8548282641c7cf65ec42",
	"trade_inputs_test.go":   "365cfd70b2a750638e677ff2e744151da817bb74ecf068d92cfd827b88dafe71",
}

// The house is not changed after its first run: by the sums written here, and by git where it holds the commit.
func TestTradeHouseIsAsFirstWritten(t *testing.T) {
	for file, sum := range tradeFiles {
		asFirstWritten(t, file, sum, tradeFixed)
	}
}

// asFirstWritten holds a file to the sum it was committed with and, where git holds the commit, to that.
func asFirstWritten(t *testing.T, file, want, commit string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(text)
	if got := hex.EncodeToString(sum[:]); got != want {
		t.Errorf("%s has the sum %s, it was committed with %s", file, got, want)
	}
	if exec.Command("git", "cat-file", "-e", commit+"^{commit}").Run() != nil {
		t.Logf("git or the commit %s is not here: only the sum of %s was compared", commit, file)
		return
	}
	if out, err := exec.Command("git", "diff", "--stat", commit, "--", file).CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%s has changed since %s: %v\n%s", file, commit, err, out)
	}
}

func TestTrade(t *testing.T) {
	t.Parallel()
	s := begin(t, "Trade", "common practice, no source", "")
	p := load(t, "trade_house.yaml", "")
	year := typical(t, "724666TYA.CSV.gz", winter.PlaceOf(p))
	drum(t, s)
	whole := tradeRun(t, p, year, nil)
	s.inputs = tradeInputs(whole.p)
	litres := whole.p.House.Water() * 1000 / whole.p.House.GlazedArea()
	s.within(trade, "litres of water to a m2 of glazing", litres, tradeLitres.low, tradeLitres.high, " L/m2")
	lift(t, s, tradeRun(t, p, year, &clearDays))
	winterRows(s, whole)
	dull, clear := tradeRun(t, p, year, &dullSpell), tradeRun(t, p, year, &coldClearDays)
	dullRows(s, dull)
	coldSunny(s, clear)
	airRows(s, dull, clear)
	s.done(t)
}

func tradeInputs(p *winter.Prepared) string {
	spell := func(name string, c tradeSpell) string {
		glass := "snow on the glazing as it falls"
		if c.bare {
			glass = "glazing bare"
		}
		return fmt.Sprintf("| %s | %d days from %s %d: mean %g °C, swing %g K, clearness %g, cloud %g, wind %g m/s, dew point %g K below the lowest; %s |\n", name, c.spec.Days,
			c.month, c.day, c.spec.MeanC, c.spec.SwingK, c.spec.Clearness, c.spec.Cloud, c.spec.WindMS, c.spec.DewPointBelowK, glass)
	}
	h := p.House
	return "The house and its spells were written and committed before their first run, in " + tradeFixed + ", and are not changed since: [trade_house.yaml](../validation/plans/trade_house.yaml), " +
		"[trade_inputs_test.go](../validation/trade_inputs_test.go).\n\n| input | value |\n| --- | --- |\n" +
		fmt.Sprintf("| house | invented: %.1f m2 of twin-wall polycarbonate 10 mm at 50°, insulated back, no cover, no power, %.1f m3 of room, %.2f m3 of water in %d black drums |\n",
			h.GlazedArea(), h.Gross, h.Water(), h.Rows[0].Drums) +
		"| leakage | 260 cm2 effective at 4 Pa: 0.7 air changes at 10 K and 3 m/s |\n" +
		"| canopy | two beds, 80 % planted, leaf tips 0.25 m over the soil |\n" +
		"| snow | the plan's monthly sums and days by its seed, never brushed |\n" +
		"| weather | typical year of station 724666, its lowest -25.0 °C; run from 1 September in the house's first winter, full mesh (6 cm, 8 m) |\n" +
		spell("clear days", clearDays) + spell("twelve sunless days", dullSpell) + spell("cold clear days", coldClearDays) +
		"\nAir is the colder of bed air and canopy air; bed soil the colder bed at 10 cm; in a spell, the lowest within it. The ledgers are the room's: its air and the faces round it; what it gets is positive."
}

// drum is check (b): 55 US gal of water at 10 °C.
func drum(t *testing.T, s *section) {
	v, err := material.LookupVessel("drum_55gal_plastic")
	if err != nil {
		t.Fatal(err)
	}
	s.near(trade, "a full 55 US gal drum", v.VolumeM3*material.WaterDensity(10)/0.45359237, tradeDrumPounds.want, tradeDrumPounds.apart, " lb of water")
}

// tradeResult is a run and the hours of its spell.
type tradeResult struct {
	p        *winter.Prepared
	r        *greenhouse.Result
	from, to int // of the spell, recorded hours
	days     int
}

// tradeRun runs the house through the typical year, with a spell in place of its own weather where one is given; the run then ends with it.
func tradeRun(t *testing.T, p *plan.Plan, year weather.Series, spell *tradeSpell) tradeResult {
	t.Helper()
	req := winter.Request{Plan: p, Year: &year}
	if spell != nil {
		start := time.Date(year.Start.Year(), spell.month, spell.day, 0, 0, 0, 0, year.Start.Location())
		made, err := weather.Spell(spell.spec, winter.PlaceOf(p), start)
		if err != nil {
			t.Fatal(err)
		}
		with, err := year.Replace(made)
		if err != nil {
			t.Fatal(err)
		}
		last := start.AddDate(0, 0, spell.spec.Days-1)
		req.Year, req.Until = &with, &plan.Date{Month: int(last.Month()), Day: last.Day()}
	}
	prepared, err := winter.Prepare(req)
	if err != nil {
		t.Fatal(err)
	}
	snow := greenhouse.SnowFalls
	if spell != nil && spell.bare {
		snow = greenhouse.SnowNever
	}
	r, err := prepared.Simulate(context.Background(), snow, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !(r.Heat.ImbalanceRel < 1e-6) {
		t.Errorf("the heat ledger is open by %g", r.Heat.ImbalanceRel)
	}
	out := tradeResult{p: prepared, r: r, to: r.Hours()}
	if spell != nil {
		out.days = spell.spec.Days
		out.from = out.to - 24*out.days
	}
	return out
}

// coldest is the lowest of the traces that are wanted, within the spell, and when.
func (c tradeResult) coldest(want func(*greenhouse.Trace) bool) (low float64, when int) {
	low = math.Inf(1)
	for k := range c.r.Traces {
		tr := &c.r.Traces[k]
		if !want(tr) {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if tr.C[i] < low {
				low, when = tr.C[i], i
			}
		}
	}
	return low, when
}

func isAir(t *greenhouse.Trace) bool {
	return t.Kind == greenhouse.AirPlace && t.Name != "cold sink air"
}

func isBedSoil(t *greenhouse.Trace) bool {
	return t.Kind == greenhouse.SoilPlace && strings.HasSuffix(t.Name, "soil 10 cm")
}

func (c tradeResult) temperature(name string, i int) float64 { return c.r.Trace(name).C[i] }

// store is the mean of the water at the end of recorded hour i [°C].
func (c tradeResult) store(i int) float64 {
	sum, n := 0.0, 0
	for k := range c.r.Traces {
		if tr := &c.r.Traces[k]; tr.Kind == greenhouse.WaterPlace {
			sum += tr.C[i]
			n++
		}
	}
	return sum / float64(n)
}

// hour is the recorded hour that ends at a clock hour of the last day.
func (c tradeResult) hour(clock int) int { return c.to - 24 + clock - 1 }

// airRows set what the air's moisture and carbon dioxide come to beside what growers say; all from memory.
func airRows(s *section, dull, clear tradeResult) {
	s.within(remembered, "dull days: water given by beds and leaves", dull.given(), 0.05, 0.2, " mm a day")
	s.within(remembered, "cold clear days: water given by beds and leaves", clear.given(), 0.2, 0.8, " mm a day")
	least := math.Inf(1)
	for i := clear.from; i < clear.to; i++ {
		least = math.Min(least, clear.r.Air.CO2PPM[i])
	}
	s.within(remembered, "cold clear days: least carbon dioxide in a closed planted house", least, 150, 200, " ppm")
}

// given is the water that beds and leaves give, from the heat that it takes [mm a day over the beds].
func (c tradeResult) given() float64 {
	area, joules := 0.0, 0.0
	for _, b := range c.p.House.Beds {
		area += b.Area
	}
	for _, f := range c.r.Flows {
		if f.Name == "evaporation from beds" {
			for _, j := range f.J[c.from:c.to] {
				joules -= float64(j)
			}
		}
	}
	return joules / 2.48e6 / area / float64(c.to-c.from) * 24
}

// ledger is the heat of the room (its air and the faces round it) between two recorded hours [kWh]: what it gets positive, the
// greatest first. All but what air and thin faces hold is in it, so it sums to about nothing.
func (c tradeResult) ledger(from, to int) string {
	list := map[string]float64{}
	for _, f := range c.r.Flows {
		name, sign := roomFlow(f)
		if name == "" {
			continue
		}
		for _, j := range f.J[from:to] {
			list[name] += sign * float64(j) / 3.6e6
		}
	}
	names := slices.Sorted(maps.Keys(list))
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(math.Abs(list[b]), math.Abs(list[a])) })
	var words []string
	for _, n := range names {
		if math.Abs(list[n]) >= 0.05 {
			words = append(words, fmt.Sprintf("%s %+.1f", n, list[n]))
		}
	}
	return strings.Join(words, ", ") + " kWh"
}

// roomFlow names a flow that passes between the room and all else, and the sign with which it counts as heat into the room.
func roomFlow(f greenhouse.Flow) (name string, sign float64) {
	switch {
	case f.Name == "sun into the room", f.Name == "leakage", f.Name == "vents", f.Name == "doors", f.Name == "dew and frost", f.Name == "evaporation from beds":
		return f.Name, 1
	case f.Name == "into the ground":
		return "ground, beds and walls below grade", -1
	case strings.HasPrefix(f.Name, "shell to water of"):
		return "water of the store", -1
	case strings.HasSuffix(f.Name, "to what it stands on"):
		return "water of the store", 1
	case f.Name == "glazing through cover": // the room's face to the inner sheet, and with it all that sheets and frame lead on
		return "glazing and its frame", -1
	case strings.HasPrefix(f.Name, "into "), f.Name == "through door":
		return "walls, roof and door above grade", -1
	}
	return "", 0
}

// lift is check (a).
func lift(t *testing.T, s *section, c tradeResult) {
	i, k := c.hour(liftFromHour), c.hour(liftUntilHour)
	got := c.store(k) - c.store(i)
	entered := 0.0
	for _, w := range c.r.EnteredW[i+1 : k+1] {
		entered += w / 1000
	}
	r := s.within(trade, "three hours of clear winter sun lift the store", got, tradeLift.low, tradeLift.high, " K")
	r.note = fmt.Sprintf("%d to %d h, store %.1f to %.1f °C, %.1f kWh of sun entered, canopy air %.1f to %.1f °C", liftFromHour, liftUntilHour, c.store(i), c.store(k), entered,
		c.temperature("canopy air", i), c.temperature("canopy air", k))
	r.missed = "Ledger of the three hours: " + c.ledger(i+1, k+1) + "."
}

// winterRows is check (c).
func winterRows(s *section, c tradeResult) {
	soil, at := c.coldest(isBedSoil)
	r := s.add(row{name: "winter: lowest bed soil", published: "0.5 °C or above", computed: short(soil) + " °C", allowed: "at or above", mark: trade, met: soil >= tradeWinterSoil.low,
		note: c.when(at)})
	r.missed = c.week(at)
	low, at := c.coldest(isAir)
	r = s.within(trade, "winter: lowest air", low, tradeWinterAir.low, tradeWinterAir.high, " °C")
	r.note, r.missed = c.when(at), c.week(at)
	outdoors, k := c.coldest(func(t *greenhouse.Trace) bool { return t.Kind == greenhouse.OutPlace })
	s.tell("winter: lowest outdoors", "-", short(outdoors)+" °C", c.when(k))
	water, k := c.coldest(func(t *greenhouse.Trace) bool { return t.Kind == greenhouse.WaterPlace })
	ice := 0.0
	for _, x := range c.r.IceShare {
		ice = math.Max(ice, x)
	}
	s.tell("winter: lowest water", "-", short(water)+" °C", fmt.Sprintf("%s; most ice %.0f %% of the water", c.when(k), 100*ice))
}

// dullRows is check (d).
func dullRows(s *section, c tradeResult) {
	low, at := c.coldest(isAir)
	r := s.within(trade, "twelve sunless days: lowest air", low, tradeDullAir.low, tradeDullAir.high, " °C")
	r.note, r.missed = c.when(at), "Ledger of the twelve days: "+c.ledger(c.from, c.to)+"."
	soil, at := c.coldest(isBedSoil)
	r = s.within(trade, "twelve sunless days: lowest bed soil", soil, tradeDullSoil.low, tradeDullSoil.high, " °C")
	r.note, r.missed = c.when(at), "Ledger of the twelve days: "+c.ledger(c.from, c.to)+"."
	s.tell("twelve sunless days: store at begin and end", "-", fmt.Sprintf("%.1f and %.1f °C", c.store(c.from), c.store(c.to-1)), fmt.Sprintf("ice %.0f %% at the end", 100*c.r.IceShare[c.to-1]))
}

// coldSunny is check (e).
func coldSunny(s *section, c tradeResult) {
	i := c.hour(coldHour)
	r := s.within(trade, "sunny day at -15 °C outdoors: canopy air at 13 h", c.temperature("canopy air", i), tradeColdSunny.low, tradeColdSunny.high, " °C")
	r.note = fmt.Sprintf("outdoors %.1f, bed air %.1f, store %.1f °C", c.temperature("outdoor air", i), c.temperature("bed air", i), c.store(i))
	r.missed = "Ledger of 9 to 13 h: " + c.ledger(c.hour(9)+1, i+1) + "."
}

func (c tradeResult) when(i int) string {
	return fmt.Sprintf("%s, outdoors %.1f °C, store %.1f °C, snow on the glazing %.0f mm", c.r.Time(i).Format("2 January 15 h"), c.temperature("outdoor air", i), c.store(i), 1000*c.r.SnowM[i])
}

// week is the ledger of the seven days before an hour.
func (c tradeResult) week(i int) string {
	return "Ledger of the seven days before: " + c.ledger(max(0, i+1-168), i+1) + "."
}
