package report

import (
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"suncellar/internal/chance"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// manyWinters is an invented answer: forty winters, two places, a house that is not known.
func manyWinters(middle, lo float64, frost int) *chance.Answer {
	start := time.Date(2001, 10, 1, 0, 0, 0, 0, weather.Zone(-7*time.Hour))
	a := &chance.Answer{Prepared: &winter.Prepared{Plan: &plan.Plan{Name: "Invented pit"}, House: &house.House{}, Span: weather.Series{Start: start, Hours: make([]weather.Hour, 24*61)}},
		Made: true, Months: []time.Month{10, 11}, Watched: 0}
	share := func(of int) chance.Share { return chance.Share{Of: of, Winters: 40, Lo: 0.02, Hi: 0.12} }
	for k := range 40 {
		a.Names = append(a.Names, "made winter "+string(rune('A'+k%26)))
	}
	for _, p := range []struct {
		name string
		kind greenhouse.PlaceKind
	}{{"front bed with a name that is longer than others, leaf tips, glazing side", greenhouse.LeafPlace}, {"outdoor air", greenhouse.OutPlace}} {
		a.Places = append(a.Places, chance.Place{Name: p.name, Kind: p.kind, Frost: share(frost), Limit: share(frost), Month: []chance.Share{share(0), share(frost)},
			Band:    chance.Band{Lo: lo, Middle: middle, Hi: middle + 2},
			Returns: []chance.Return{{Years: 2, C: middle, Lo: middle - 1, Hi: middle + 1}, {Years: 20, C: lo, Lo: math.NaN(), Hi: lo + 1}, {Years: 50, C: math.NaN(), Lo: math.NaN(), Hi: math.NaN()}},
			BelowH:  [2]chance.Hours{{Mean: 12.4, Most: 88}, {Mean: 12.4, Most: 88}}})
	}
	a.Worst = []chance.Night{{Winter: 2, LowestC: lo - 1, At: start.AddDate(0, 1, 3)}}
	a.House = &chance.House{Draws: 60, Shift: chance.Band{Lo: -1.2, Middle: -0.1, Hi: 1}, Both: chance.Band{Lo: lo - 0.5, Middle: middle, Hi: middle + 2.5}, WinterShare: 0.7,
		Inputs: []chance.Input{{Label: "leakage", Spread: "double or half", Source: "invented", PerDeviation: -0.8, Share: 0.64}}}
	return a
}

func TestChanceIsTold(t *testing.T) {
	for _, system := range []string{"SI", "US"} {
		teller, _ := NewTeller(system)
		text := teller.Chance(manyWinters(-1, -4, 30))
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > Width {
				t.Errorf("%s: a line of %d columns: %q", system, utf8.RuneCountInString(line), line)
			}
		}
		for _, want := range []string{"30 of 40 winters", "Two bands, apart", "< .. ", "?", "leakage", "64 %", "70 % is the winter and 30 % the house", "outdoor air", "made from monthly means"} {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
				t.Errorf("%s: %q is not told:\n%s", system, want, text)
			}
		}
	}
}

// "Unlikely" is said by the rule alone: not where no winter of the sample reached frost but the lowests lie near, and never without the house's band.
func TestUnlikelyByTheRule(t *testing.T) {
	teller, _ := NewTeller("SI")
	near := manyWinters(1.5, 0.4, 0)
	unknown := manyWinters(4, 3, 0)
	unknown.House = nil
	for _, c := range []struct {
		name string
		a    *chance.Answer
		want string
	}{
		{"well above", manyWinters(4, 3, 0), "is unlikely: it comes in 0 of 40 winters"},
		{"too near", near, "comes in none of these 40 winters, but"},
		{"house not known", unknown, "comes in none of these 40 winters, but"},
		{"seldom", manyWinters(1, -0.5, 3), "comes seldom, in 3 of 40"},
		{"can come", manyWinters(1, -0.5, 12), "can come, in 12 of 40"},
		{"sure", manyWinters(-3, -5, 40), "is all but sure: it comes in 40 of 40"},
	} {
		if got := teller.chanceSentences(c.a)[0]; !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q in it", c.name, got, c.want)
		}
	}
}

func TestChanceAsJSON(t *testing.T) {
	var b strings.Builder
	teller, _ := NewTeller("US")
	a := manyWinters(-1, -4, 30)
	a.Places[0].LowestC = []float64{-2, math.Inf(-1)}
	if err := teller.ChanceJSON(&b, a); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"name": "suncellar.chance"`, `"lowest_c": null`, `"from_c": null`, `"share_of_winters": 0.7`, `"lowest_by_one_deviation_k": -0.8`} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%s is not in the JSON", want)
		}
	}
}
