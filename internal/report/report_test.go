package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"suncellar/internal/draw"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/weather"
	"suncellar/internal/winter"

	"pgregory.net/rapid"
)

// pit is a small invented house that is computed in a second.
const pit = `suncellar: 1
name: Small pit
site: {latitude: 46 deg, longitude: -110 deg, elevation: 1200 m, time_zone: UTC-6:30}
climate:
  mean_low: [-11 degC, -9 degC, -5 degC, -1 degC, 3 degC, 7 degC, 10 degC, 9 degC, 4 degC, -1 degC, -6 degC, -10 degC]
  mean_high: [-1 degC, 2 degC, 7 degC, 13 degC, 18 degC, 23 degC, 29 degC, 28 degC, 22 degC, 14 degC, 5 degC, 0 degC]
  sun: [1.7 kWh/m2d, 2.6 kWh/m2d, 3.9 kWh/m2d, 5.0 kWh/m2d, 5.9 kWh/m2d, 6.6 kWh/m2d, 6.9 kWh/m2d, 5.9 kWh/m2d, 4.6 kWh/m2d, 3.1 kWh/m2d, 1.9 kWh/m2d, 1.4 kWh/m2d]
  precipitation: [18 mm, 15 mm, 24 mm, 36 mm, 58 mm, 64 mm, 35 mm, 32 mm, 30 mm, 25 mm, 19 mm, 18 mm]
  wet_days: [8, 7, 8, 9, 11, 11, 7, 7, 7, 7, 7, 8]
  wind: [3.6 m/s, 3.5 m/s, 3.7 m/s, 3.9 m/s, 3.6 m/s, 3.3 m/s, 3.0 m/s, 2.9 m/s, 3.1 m/s, 3.4 m/s, 3.5 m/s, 3.5 m/s]
shape: {kind: pit, length: 5 m, width: 3.6 m, depth: 1 m, back_height: 1.2 m, glazing_slope: 48 deg, glazing: twin_wall_10mm, front_wall: wall, back_wall: wall, back_roof: roof}
builds:
  wall: {layers: [{material: concrete_block_hollow, thickness: 190 mm}, {material: xps, thickness: 50 mm}]}
  roof: {layers: [{material: plywood, thickness: 15 mm}, {material: mineral_wool, thickness: 150 mm}, {material: plywood, thickness: 15 mm}]}
ends: {build: roof}
store: {rows: [{name: drums, drums: 8, at: 3.2 m}]}
beds: [{name: bed, from: 0.2 m, to: 1.4 m}]
ground: {built: 11-25, finest_cell: 30 cm, reach: 3 m}
run: {from: 12-01, until: 12-14}
`

// small is its winter, computed once for all tests. Snow is not known, so both cases are run; the year's lowest is not given, so the
// weather is doubtful.
var small = sync.OnceValues(func() (*winter.Answer, error) {
	p, findings := plan.Load("pit.yaml", []byte(pit), house.Known())
	if err := plan.AsError(findings); err != nil {
		return nil, err
	}
	return winter.Run(context.Background(), winter.Request{Plan: p}, nil)
})

func answer(t *testing.T) *winter.Answer {
	t.Helper()
	a, err := small()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestTextIsFitForPeople(t *testing.T) {
	a := answer(t)
	for _, system := range []unit.System{unit.SI, unit.US} {
		text := Teller{System: system}.Winter(a, OfHouse{})
		for i, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > Width {
				t.Errorf("line %d has %d columns: %s", i+1, n, line)
			}
			if strings.ContainsRune(line, '\x1b') || strings.HasSuffix(line, " ") {
				t.Errorf("line %d ends in spaces or holds colour: %q", i+1, line)
			}
		}
		for _, p := range []string{"stays above freezing", "rost is unlikely", "NaN", "Inf", "%!"} {
			if strings.Contains(text, p) {
				t.Errorf("the text holds %q", p)
			}
		}
		for _, want := range []string{oneWinter, "Why: outdoors it was", "Before you rely on it", "The weather is doubtful in its air temperature", "What to try first",
			"bed, soil 10 cm", "drums, top", "light at beds", "in less out less stored", "Snowfall is not known", "carbon dioxide: one mixed room", "site.albedo: 0.2; ", "Prata"} {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
				t.Errorf("the text does not hold %q", want)
			}
		}
	}
}

func TestEverySimplificationAndAssumptionIsTold(t *testing.T) {
	a := answer(t)
	flat := strings.Join(strings.Fields(Teller{}.Winter(a, OfHouse{})), " ")
	for _, s := range a.Simplified {
		if !strings.Contains(flat, s.Item+": "+s.How) {
			t.Errorf("not told: %s", s.Item)
		}
	}
	for _, v := range a.Assumed {
		if !strings.Contains(flat, v.Path+": "+v.Text) {
			t.Errorf("not told: %s", v.Path)
		}
	}
	for _, c := range a.Cautions {
		if !strings.Contains(flat, strings.Join(strings.Fields(c), " ")) {
			t.Errorf("not told: %s", c)
		}
	}
}

// What is said first about a lowest temperature: never that it is safe.
func TestFirstSentence(t *testing.T) {
	for _, c := range []struct {
		lowest, limit float64
		want          string
	}{
		{-1.2, 0, "Frost reaches bed, leaf tips, in this one winter, with these assumptions."},
		{0.4, 0, "Bed, leaf tips, comes within 0.4 °C of freezing, in this one winter, with these assumptions: another winter can cross it."},
		{1.99, 0, "Bed, leaf tips, comes within 2.0 °C of freezing, in this one winter, with these assumptions: another winter can cross it."},
		{2.5, 0, "Bed, leaf tips, comes down to 2.5 °C, in this one winter, with these assumptions; another winter can be colder."},
		{2.5, 3, "Bed, leaf tips, falls below its limit of 3.0 °C, in this one winter, with these assumptions."},
		{3.5, 3, "Bed, leaf tips, comes within 0.5 °C of its limit of 3.0 °C, in this one winter, with these assumptions: another winter can cross it."},
		{-0.5, -2, "Bed, leaf tips, comes within 1.5 °C of its limit of -2.0 °C, in this one winter, with these assumptions: another winter can cross it."},
	} {
		p := winter.Place{Name: "bed, leaf tips", LowestC: c.lowest}
		if c.lowest < c.limit {
			p.HoursBelowLimit = 1
		}
		a := &winter.Answer{Places: []winter.Place{p}, LimitC: c.limit}
		if got := (Teller{}).firstSentence(a, OfHouse{}); got != c.want {
			t.Errorf("lowest %g, limit %g:\n got %s\nwant %s", c.lowest, c.limit, got, c.want)
		}
	}
}

func TestJSONAgreesWithTheAnswer(t *testing.T) {
	a := answer(t)
	var b, again bytes.Buffer
	if err := WinterJSON(&b, a, OfHouse{}); err != nil {
		t.Fatal(err)
	}
	if err := WinterJSON(&again, a, OfHouse{}); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Errorf("the same answer gave other bytes: %v", err)
	}
	var got winterJSON
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Schema != (Schema{"suncellar.winter", 1}) || got.Hours != 14*24 || len(got.Places) != len(a.Places) {
		t.Errorf("schema %v, %d hours, %d places, want version 1, 336 and %d", got.Schema, got.Hours, len(got.Places), len(a.Places))
	}
	for i, p := range got.Places {
		want := a.Places[i]
		if p.Name != want.Name || p.LowestC != want.LowestC || p.HoursBelowFreezing != want.HoursBelowZero || p.MeanC != want.MeanC {
			t.Errorf("place %d is %+v, want %+v", i, p, want)
		}
		at, err := time.Parse(time.RFC3339, p.LowestAt)
		if err != nil || !at.Equal(want.LowestAt) || !strings.HasSuffix(p.LowestAt, "-06:30") {
			t.Errorf("%s: lowest at %s, want the instant %s at the site's offset", p.Name, p.LowestAt, want.LowestAt)
		}
		if (p.DepthM != nil) != want.InSoil || (p.HeightM != nil) == want.InSoil {
			t.Errorf("%s: height %v, depth %v, want one of them", p.Name, p.HeightM, p.DepthM)
		}
		if p.LowestWithOtherSnowC == nil {
			t.Errorf("%s: both snow cases were run, the other is not told", p.Name)
		}
	}
	in, out, stored := 0.0, 0.0, 0.0
	for _, v := range got.Heat.InJ {
		in += v
	}
	for _, v := range got.Heat.OutJ {
		out += v
	}
	for _, v := range got.Heat.StoredJ {
		stored += v
	}
	if rel := math.Abs(in-out-stored) / in; rel > 1e-6 {
		t.Errorf("the heat as sent does not close: %g of what came in", rel)
	}
}

// Every flow across the boundary belongs to a cause, and the house's own books close without the earth's.
func TestCausesCloseForTheHouseAlone(t *testing.T) { causesClose(t, answer(t).Result) }

func causesClose(t *testing.T, r *greenhouse.Result) {
	t.Helper()
	for i := range r.Flows {
		if f := &r.Flows[i]; f.Crosses {
			if name, _ := causeOf(r.House, f.Name); name == causeOther {
				t.Errorf("flow %q has no cause", f.Name)
			}
		}
	}
	own, earth := sides(causes(r, 0, r.Hours()))
	in, out := sum(own)
	held := 0.0
	for _, name := range heldParts {
		if name != earthPart {
			held += r.Heat.StoredJ[name]
		}
	}
	if open := math.Abs(in-out-held) / in; open > 1e-6 {
		t.Errorf("the house's own books are open by %g of what came in", open)
	}
	in, out = sum(earth)
	if open := math.Abs(in-out-r.Heat.StoredJ[earthPart]) / in; open > 1e-6 {
		t.Errorf("the earth's books are open by %g of what came in", open)
	}
}

// A flow that is left out is seen as heat left over.
func TestADroppedFlowIsSeen(t *testing.T) {
	a := *answer(t)
	r := *a.Result
	r.Flows = slices.DeleteFunc(slices.Clone(r.Flows), func(f greenhouse.Flow) bool { return f.Name == "leakage" })
	a.Result = &r
	p := &page{}
	(Teller{}).ledger(p, &a)
	if strings.Contains(strings.SplitN(p.String(), "Heat of the earth", 2)[0], "in less out less stored    0.0") || !strings.Contains(p.String(), "in less out less stored") {
		t.Errorf("the house's ledger closes without its leakage:\n%s", p.String())
	}
}

func TestHoursHoldTheAnswer(t *testing.T) {
	a := answer(t)
	var b bytes.Buffer
	if err := Hours(&b, a); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+a.Result.Hours() {
		t.Fatalf("%d rows, want a head and %d hours", len(rows), a.Result.Hours())
	}
	for k, head := range rows[0][1:] {
		if !strings.HasSuffix(head, "]") || !strings.Contains(head, " [") {
			t.Errorf("column %d, %q, has no unit", k+1, head)
		}
	}
	for i := range a.Places {
		k := slices.Index(rows[0], a.Places[i].Name+" [degC]")
		if k < 0 {
			t.Errorf("no column for %s", a.Places[i].Name)
			continue
		}
		low := math.Inf(1)
		for _, row := range rows[1:] {
			var v float64
			if _, err := fmt.Sscan(row[k], &v); err != nil {
				t.Fatal(err)
			}
			low = math.Min(low, v)
		}
		if math.Abs(low-a.Places[i].LowestC) > 1e-4 {
			t.Errorf("%s: lowest of the column is %g, of the answer %g", a.Places[i].Name, low, a.Places[i].LowestC)
		}
	}
}

func TestPicturesAreDrawn(t *testing.T) {
	a := answer(t)
	for _, system := range []unit.System{unit.SI, unit.US} {
		list, err := Teller{System: system}.Pictures(a)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, p := range list {
			names = append(names, p.Name)
			var b bytes.Buffer
			if err := draw.SVG(&b, p.List, draw.SVGOptions{}); err != nil {
				t.Errorf("%s: %v", p.Name, err)
			}
		}
		if want := []string{"section.svg", "worst-ten-days.svg", "winter-sheet.svg", "ledger.svg"}; !slices.Equal(names, want) {
			t.Errorf("pictures %v, want %v", names, want)
		}
	}
}

func TestSectionFacesJoin(t *testing.T) {
	faces := Teller{}.sectionFaces(answer(t).House)
	for i, f := range faces {
		next := faces[(i+1)%len(faces)]
		if math.Hypot(f.B.X-next.A.X, f.B.Z-next.A.Z) > 1e-9 {
			t.Errorf("%s ends at %v, %s begins at %v", f.Name, f.B, next.Name, next.A)
		}
	}
}

func TestApportionKeepsTheSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-500, 500), 1, 12).Draw(t, "values")
		total := int(math.Round(sumOf(values)))
		sum := 0
		for i, n := range apportion(values, total) {
			sum += n
			if math.Abs(float64(n)-values[i]) > 1.0000001 {
				t.Fatalf("%g became %d", values[i], n)
			}
		}
		if sum != total {
			t.Fatalf("parts add up to %d, want %d", sum, total)
		}
	})
}

func TestWrapKeepsWordsAndWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zé°²]{1,12}`)).Draw(t, "words")
		width := rapid.IntRange(12, 80).Draw(t, "width")
		lines := Wrap(strings.Join(words, "  "), width)
		if got := strings.Fields(strings.Join(lines, " ")); !slices.Equal(got, words) && len(words) > 0 {
			t.Fatalf("words %q became %q", words, got)
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
	})
}

func TestTellerUnits(t *testing.T) {
	si, us := Teller{System: unit.SI}, Teller{System: unit.US}
	for _, c := range []struct{ got, want string }{
		{si.temp(-0.04), "0.0 °C"}, {us.temp(-0.04), "31.9 °F"}, {si.temp(-40), "-40.0 °C"}, {us.temp(-40), "-40.0 °F"},
		{si.difference(2.5), "+2.5 °C"}, {us.difference(-2.5), "-4.5 °F"}, {si.difference(0.04), "0.0 °C"},
		{si.degreeHours(10), "10"}, {us.degreeHours(10), "18"},
		{si.height(1.2), "1.20 m"}, {us.height(3.6576), "12 ft"}, {si.depth(0.1), "10 cm"}, {us.depth(0.1), "4 in"},
		{si.water(0.208), "208 L"}, {us.water(0.208197649), "55 gal"}, {us.elevation(1240), "4068 ft"},
		{us.waterOver(130), "3.2 gal"}, // 130 L/m² is 34.3 gal per 10.76 ft²
		{number(-0.0001, 2), "0.00"}, {signed(0, 1), "0.0"}, {count(1, "hour"), "1 hour"}, {count(2, "hour"), "2 hours"},
		{list([]string{"a"}), "a"}, {list([]string{"a", "b", "c"}), "a, b and c"},
		{daysHours(0.5), "less than an hour"}, {daysHours(25.9), "1 day and 1 hour"}, {daysHours(48), "2 days"}, {daysHours(7.99), "7 hours"},
		{compass(0), "north"}, {compass(-0.1), "north"}, {compass(math.Pi), "south"}, {compass(1.25 * math.Pi), "south-west"}, {compass(2 * math.Pi), "north"},
	} {
		if c.got != c.want {
			t.Errorf("told %q, want %q", c.got, c.want)
		}
	}
	if _, err := NewTeller("metric"); err == nil {
		t.Error("units metric are taken")
	}
}

func TestWeatherWithGapsIsTold(t *testing.T) {
	s := weather.Series{Name: "gappy", Start: time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)}
	for i := range 72 {
		h := weather.Hour{AirC: float64(i%24) - 10, GlobalWM2: math.NaN(), RainMM: math.NaN(), WindMS: math.NaN()}
		s.Hours = append(s.Hours, h)
	}
	text := Teller{}.Weather(s)
	if !strings.Contains(text, "gappy: 72 hours from 1 January 2020 to 3 January 2020.") {
		t.Errorf("told:\n%s", text)
	}
	if strings.Contains(text, "NaN") || !strings.Contains(text, "?") {
		t.Errorf("values that are not known are not told as such:\n%s", text)
	}
	var b bytes.Buffer
	if err := WeatherJSON(&b, s); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"wind_m_s": null`) {
		t.Errorf("an unknown wind is not null:\n%s", b.String())
	}
}
